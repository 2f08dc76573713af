//! Several programs with the same studio at the same time.

use std::collections::BTreeSet;
use std::path::Path;
use std::process::Command;

use notebook::{Log, StoreError};
use notebook_sqlite::Studio;

use super::entry;

const EACH: usize = 200;
const FOLDER: &str = "GROUNDPROOF_TEST_FOLDER";
const NAME: &str = "GROUNDPROOF_TEST_NAME";

/// Adds entries one by one, reading what others wrote whenever they were faster.
fn write_along(folder: &Path, name: &str) {
    let (mut log, _) = Studio::open(folder).unwrap();
    let mut seen = log.since(0).unwrap().len() as u64;
    for n in 0..EACH {
        let entry = entry(&format!("{name} {n}"));
        loop {
            match log.append(std::slice::from_ref(&entry), seen) {
                Ok(stored) => {
                    seen = stored[0].n;
                    break;
                }
                Err(StoreError::Behind) => {
                    let news = log.since(seen).unwrap();
                    assert_eq!(news[0].n, seen + 1);
                    seen += news.len() as u64;
                }
                Err(error) => panic!("{error}"),
            }
        }
    }
}

fn all_there_once(folder: &Path, names: &[&str]) {
    let (log, _) = Studio::open(folder).unwrap();
    let all = log.since(0).unwrap();
    assert_eq!(all.len(), EACH * names.len());
    assert!(all.iter().zip(1..).all(|(change, n)| change.n == n));
    let ids: BTreeSet<&str> = all.iter().map(|change| change.entry.id.as_str()).collect();
    assert_eq!(ids.len(), all.len());
    for name in names {
        let own: Vec<&str> = all.iter().map(|change| change.entry.id.as_str()).filter(|id| id.starts_with(name)).collect();
        assert_eq!(own, (0..EACH).map(|n| format!("{name} {n}")).collect::<Vec<_>>(), "each keeps its own order");
    }
    assert_eq!(log.check(&[]).unwrap().damaged, Vec::<String>::new());
}

#[test]
fn two_threads() {
    let place = tempfile::tempdir().unwrap();
    std::thread::scope(|scope| {
        scope.spawn(|| write_along(place.path(), "page"));
        scope.spawn(|| write_along(place.path(), "desk"));
    });
    all_there_once(place.path(), &["page", "desk"]);
}

#[test]
fn two_processes_and_a_reader() {
    let place = tempfile::tempdir().unwrap();
    let program = std::env::current_exe().unwrap();
    let start = |name| {
        let mut command = Command::new(&program);
        command.args(["--exact", "together::one_of_two_processes", "--ignored"]).env(FOLDER, place.path()).env(NAME, name);
        command.stdout(std::process::Stdio::null()).spawn().unwrap()
    };
    let mut writers = [start("page"), start("desk")];
    // The reader sees a beginning that only grows, and looks at it in the ways that a page does.
    let (log, _) = Studio::open(place.path()).unwrap();
    let mut seen = Vec::new();
    while writers.iter_mut().any(|writer| writer.try_wait().unwrap().is_none()) {
        seen.extend(log.since(seen.len() as u64).unwrap());
        assert_eq!(log.check(&[]).unwrap().damaged, Vec::<String>::new());
        Studio::open(place.path()).unwrap();
        assert_eq!(Studio::examine(place.path()).unwrap().damaged, Vec::<String>::new());
    }
    seen.extend(log.since(seen.len() as u64).unwrap());
    assert!(writers.iter_mut().all(|writer| writer.wait().unwrap().success()));
    assert_eq!(seen, log.since(0).unwrap());
    all_there_once(place.path(), &["page", "desk"]);
}

#[test]
#[ignore = "run by the test above as a process of its own"]
fn one_of_two_processes() {
    let (Some(folder), Ok(name)) = (std::env::var_os(FOLDER), std::env::var(NAME)) else {
        return;
    };
    write_along(Path::new(&folder), &name);
}
