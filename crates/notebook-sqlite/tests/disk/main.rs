//! Studios on a real disk: what they keep, what they refuse, what they survive.
#![expect(clippy::disallowed_methods, reason = "these tests look at the files of a studio, and hurt them")]
#![expect(clippy::unwrap_used, clippy::indexing_slicing, reason = "in a test a panic is the report")]

mod contract;
mod copies;
mod garbage;
mod refusals;
mod sample;
mod text;
mod together;
mod torn;

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use notebook::{Change, Log, Moment, NewChange};

/// An invented entry of the lighthouse workshop.
fn entry(id: &str) -> NewChange {
    NewChange {
        id: id.to_owned(),
        at: Moment { seconds: 1_764_064_800, offset_minutes: 60 },
        device: "desk".to_owned(),
        kind: "sample".to_owned(),
        version: 1,
        subject: format!("panel {id}"),
        expects: None,
        strikes: None,
        body: format!(r#"{{"told":"two coats on panel {id}"}}"#),
    }
}

/// Adds entries one by one.
fn fill(log: &mut dyn Log, count: usize) -> Vec<Change> {
    let before = log.info().unwrap().changes;
    (before..).take(count).flat_map(|n| log.append(&[entry(&format!("{n}"))], n).unwrap()).collect()
}

/// Each file of a folder with its bytes.
fn picture(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut files = BTreeMap::new();
    for found in fs::read_dir(folder).unwrap() {
        let path = found.unwrap().path();
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        if path.is_dir() {
            files.insert(name.clone(), Vec::new());
            files.extend(picture(&path).into_iter().map(|(below, bytes)| (format!("{name}/{below}"), bytes)));
        } else {
            files.insert(name, fs::read(&path).unwrap());
        }
    }
    files
}

/// Copies a folder as a file manager would.
fn copy_folder(from: &Path, to: &Path) {
    fs::create_dir(to).unwrap();
    for found in fs::read_dir(from).unwrap() {
        let path = found.unwrap().path();
        let target = to.join(path.file_name().unwrap());
        if path.is_dir() {
            copy_folder(&path, &target);
        } else {
            fs::copy(&path, &target).unwrap();
        }
    }
}
