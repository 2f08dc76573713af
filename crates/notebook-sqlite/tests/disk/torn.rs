//! The computer stops in the middle of writing.

use std::fs;

use notebook::Log as _;
use notebook_sqlite::Studio;

use super::{copy_folder, fill};

const ENTRIES: usize = 6;

/// Opens copies of a live studio, each with another tail beside its log: what can be read is a beginning of what was acknowledged.
/// Gives how many entries each has.
fn lengths(tails: impl Fn(&[u8]) -> Vec<Vec<u8>>) -> Vec<usize> {
    let place = tempfile::tempdir().unwrap();
    let (live, copy) = (place.path().join("live"), place.path().join("copy"));
    let (mut log, _) = Studio::open(&live).unwrap();
    let acknowledged = fill(&mut log, ENTRIES);
    // Still open, as at the moment when the power goes.
    copy_folder(&live, &copy);
    fs::remove_file(copy.join("studio.db-shm")).unwrap();
    let (main, tail) = (fs::read(copy.join("studio.db")).unwrap(), fs::read(copy.join("studio.db-wal")).unwrap());
    let each = tails(&tail).into_iter().enumerate().map(|(at, tail)| {
        fs::write(copy.join("studio.db"), &main).unwrap();
        fs::write(copy.join("studio.db-wal"), &tail).unwrap();
        let (log, _) = Studio::open(&copy).unwrap_or_else(|error| panic!("tail {at}: {error}"));
        let left = log.since(0).unwrap();
        assert!(acknowledged.starts_with(&left), "tail {at}");
        left.len()
    });
    each.collect()
}

#[test]
fn a_tail_cut_anywhere_leaves_a_beginning() {
    let lengths = lengths(|tail| (0..tail.len()).step_by(100).chain([tail.len()]).map(|length| tail[..length].to_vec()).collect());
    assert!(lengths.is_sorted());
    assert_eq!((lengths.first(), lengths.last()), (Some(&0), Some(&ENTRIES)));
}

#[test]
fn a_tail_with_one_wrong_byte_leaves_a_beginning() {
    let lengths = lengths(|tail| {
        let wrong = |at: usize| tail.iter().enumerate().map(|(n, byte)| if n == at { byte ^ 1 } else { *byte }).collect();
        (0..tail.len()).step_by(401).map(wrong).collect()
    });
    assert!(lengths.iter().all(|length| *length < ENTRIES), "each byte is under a checksum");
}

/// After a torn tail the studio goes on.
#[test]
fn writing_goes_on_after_a_torn_tail() {
    let place = tempfile::tempdir().unwrap();
    let (live, copy) = (place.path().join("live"), place.path().join("copy"));
    let (mut log, _) = Studio::open(&live).unwrap();
    fill(&mut log, 3);
    copy_folder(&live, &copy);
    let tail = fs::read(copy.join("studio.db-wal")).unwrap();
    fs::write(copy.join("studio.db-wal"), &tail[..tail.len() - 10]).unwrap();
    let (mut log, _) = Studio::open(&copy).unwrap();
    assert_eq!(log.info().unwrap().changes, 2);
    fill(&mut log, 2);
    drop(log);
    let (log, _) = Studio::open(&copy).unwrap();
    assert_eq!(log.since(0).unwrap().len(), 4);
    assert_eq!(log.check(&[]).unwrap().damaged, Vec::<String>::new());
}
