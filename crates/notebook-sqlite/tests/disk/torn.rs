//! The computer stops in the middle of writing.

use std::fs;

use notebook::Log as _;

use super::{copy_folder, fill};

/// Cuts what waits beside the log at every hundredth byte: what is left is a beginning of what was acknowledged.
#[test]
fn a_torn_tail_leaves_a_beginning() {
    let place = tempfile::tempdir().unwrap();
    let (live, copy) = (place.path().join("live"), place.path().join("copy"));
    let (mut log, _) = notebook_sqlite::open(&live).unwrap();
    let acknowledged = fill(&mut log, 8);
    // Still open, as at the moment when the power goes.
    copy_folder(&live, &copy);
    fs::remove_file(copy.join("studio.db-shm")).unwrap();
    let (main, tail) = (fs::read(copy.join("studio.db")).unwrap(), fs::read(copy.join("studio.db-wal")).unwrap());
    let mut before = 0;
    for length in (0..tail.len()).step_by(100).chain([tail.len()]) {
        fs::write(copy.join("studio.db"), &main).unwrap();
        fs::write(copy.join("studio.db-wal"), &tail[..length]).unwrap();
        let (log, _) = notebook_sqlite::open(&copy).unwrap_or_else(|error| panic!("cut at {length}: {error}"));
        let left = log.since(0).unwrap();
        assert!(acknowledged.starts_with(&left), "cut at {length}");
        assert!(left.len() >= before, "cut at {length}");
        before = left.len();
    }
    assert_eq!(before, acknowledged.len());
}

/// After a torn tail the studio goes on.
#[test]
fn writing_goes_on_after_a_torn_tail() {
    let place = tempfile::tempdir().unwrap();
    let (live, copy) = (place.path().join("live"), place.path().join("copy"));
    let (mut log, _) = notebook_sqlite::open(&live).unwrap();
    fill(&mut log, 3);
    copy_folder(&live, &copy);
    let tail = fs::read(copy.join("studio.db-wal")).unwrap();
    fs::write(copy.join("studio.db-wal"), &tail[..tail.len() - 10]).unwrap();
    let (mut log, _) = notebook_sqlite::open(&copy).unwrap();
    assert_eq!(log.info().unwrap().changes, 2);
    fill(&mut log, 2);
    drop(log);
    let (log, _) = notebook_sqlite::open(&copy).unwrap();
    assert_eq!(log.since(0).unwrap().len(), 4);
    assert_eq!(log.check(&[]).unwrap().damaged, Vec::<String>::new());
}
