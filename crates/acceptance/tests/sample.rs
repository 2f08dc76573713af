//! Studios of earlier versions open for ever. Each sample was written by the version that its folder names and is never changed.

#![expect(clippy::unwrap_used, clippy::disallowed_methods, reason = "in a test a panic is the report; the samples lie in folders")]

use std::path::{Path, PathBuf};

use notebook::{Blobs, Log, NewChange};
use notebook_sqlite::Studio as Disk;
use workbench::{Moment, Studio, Workbench};

fn sample(version: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests").join("samples").join(version)
}

/// Noon of a day when the sample was written.
const THEN: Moment = Moment { seconds: 1_795_611_600, offset_minutes: 0 };

/// Writes the example studio to disk as the sample of this version. Run once when a version is given out:
/// `cargo test -p acceptance --test sample -- --ignored`.
#[test]
#[ignore = "writes the sample of a new version"]
fn write_the_sample_of_this_version() {
    let example = Workbench::open().unwrap().example(THEN).unwrap();
    let folder = sample(workbench::VERSION);
    assert!(!folder.exists(), "a sample that was given out is never changed");
    std::fs::create_dir_all(&folder).unwrap();
    let (mut log, blobs) = Disk::open(&folder).unwrap();
    blobs.put(b"no photo, only bytes that must come back").unwrap();
    let changes: Vec<NewChange> = example
        .state()
        .entries()
        .iter()
        .map(|entry| NewChange {
            id: entry.id.clone(),
            at: entry.at,
            device: entry.device.clone(),
            kind: entry.deed.kind().to_owned(),
            version: entry.deed.version(),
            subject: entry.subject.clone(),
            expects: None,
            strikes: entry.strikes,
            body: entry.deed.body(),
        })
        .collect();
    log.append(&changes, 0).unwrap();
}

#[test]
fn a_studio_of_version_0_1_0_opens_and_says_what_it_said() {
    let folder = tempfile::tempdir().unwrap();
    copy(&sample("0.1.0"), folder.path());
    let (log, blobs) = Disk::open(folder.path()).unwrap();
    let studio = Studio::open(Box::new(log), Box::new(blobs), true).unwrap();
    let state = studio.state();
    // Counted once by hand in the tables of the sample.
    let counted = [state.trials.len(), state.plans.len(), state.jars.len(), state.weighings.len(), state.recipes.len(), state.failed.len()];
    assert_eq!(counted, [4, 3, 6, 3, 4, 1]);
    assert!(state.entries().iter().any(|entry| entry.strikes.is_some()), "one reading was taken back");
    let report = studio.keeper().check().unwrap();
    assert!(report.missing.is_empty() && report.damaged.is_empty(), "{report:?}");
    let bench = Workbench::open().unwrap();
    let told = state
        .trials
        .keys()
        .filter(|trial| state.plan_of(trial).is_some())
        .filter_map(|trial| bench.trial_answer(&state, trial).ok())
        .filter_map(|answer| answer.measures.into_iter().next())
        .map(|measure| measure.headline)
        .collect::<Vec<_>>();
    assert!(told.iter().any(|headline| headline.contains("can't be told")), "{told:?}");
    assert!(told.iter().any(|headline| headline.contains("larger than the doubt")), "{told:?}");
}

fn copy(from: &Path, to: &Path) {
    for entry in std::fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let target = to.join(entry.file_name());
        if entry.file_type().unwrap().is_dir() {
            std::fs::create_dir_all(&target).unwrap();
            copy(&entry.path(), &target);
        } else {
            std::fs::copy(entry.path(), target).unwrap();
        }
    }
}
