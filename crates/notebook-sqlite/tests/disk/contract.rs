//! The same story with both engines.

use notebook::{Blobs, Log, MemoryBlobs, MemoryLog, NewChange, StoreError, name_of};
use notebook_sqlite::Studio;

use super::entry;

fn numbers(changes: &[notebook::Change]) -> Vec<(u64, &str)> {
    changes.iter().map(|change| (change.n, change.entry.id.as_str())).collect()
}

fn the_log_keeps_its_word(log: &mut dyn Log) {
    assert_eq!(log.since(0).unwrap(), []);
    assert_eq!(log.info().unwrap().changes, 0);
    assert_eq!(log.append(&[], 0).unwrap(), []);

    let stored = log.append(&[entry("a"), entry("b")], 0).unwrap();
    assert_eq!(numbers(&stored), [(1, "a"), (2, "b")]);

    // Somebody who has not seen these two is told so, and nothing is written.
    assert_eq!(log.append(&[entry("c")], 0), Err(StoreError::Behind));
    assert_eq!(log.append(&[entry("c")], 3), Err(StoreError::Behind));
    assert_eq!(log.append(&[entry("a")], 0), Err(StoreError::Behind));
    assert_eq!(log.info().unwrap().changes, 2);

    // An id that is there keeps number and words, in one call too.
    let other_words = NewChange { body: "other".into(), ..entry("a") };
    let stored = log.append(&[other_words, entry("c"), entry("c"), entry("b")], 2).unwrap();
    assert_eq!(numbers(&stored), [(1, "a"), (3, "c"), (3, "c"), (2, "b")]);
    assert_eq!(stored[0].entry, entry("a"));

    // Every field comes back.
    let strange = NewChange {
        at: notebook::Moment { seconds: i64::MIN, offset_minutes: i32::MAX },
        version: u16::MAX,
        expects: Some(u64::MAX),
        strikes: Some(0),
        kind: String::new(),
        ..entry("d")
    };
    log.append(std::slice::from_ref(&strange), 3).unwrap();
    let all = log.since(0).unwrap();
    assert_eq!(numbers(&all), [(1, "a"), (2, "b"), (3, "c"), (4, "d")]);
    assert_eq!(all[3].entry, strange);
    assert_eq!(numbers(&log.since(2).unwrap()), [(3, "c"), (4, "d")]);
    assert_eq!(log.since(4).unwrap(), []);
    assert_eq!(log.since(u64::MAX).unwrap(), []);

    let report = log.check(&[]).unwrap();
    assert_eq!((report.changes, report.format), (4, 1));
    assert_eq!((report.damaged.len(), report.missing.len()), (0, 0));
    assert_eq!(log.info().unwrap().format, 1);
}

fn photos_keep_their_word(photos: &dyn Blobs) {
    assert_eq!(photos.get(&name_of(b"abc")).unwrap(), None);
    let name = photos.put(b"abc").unwrap();
    // FIPS 180-2, appendix B.1
    assert_eq!(name, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    assert_eq!(photos.put(b"abc").unwrap(), name);
    assert_eq!(photos.get(&name).unwrap().as_deref(), Some(b"abc".as_slice()));
    let empty = photos.put(b"").unwrap();
    assert_eq!(photos.get(&empty).unwrap().as_deref(), Some(b"".as_slice()));
    for odd in ["", "abc", "../studio.db", "/etc/passwd", &name.to_uppercase()] {
        assert_eq!(photos.get(odd).unwrap(), None, "{odd}");
    }
}

#[test]
fn in_memory() {
    the_log_keeps_its_word(&mut MemoryLog::default());
    photos_keep_their_word(&MemoryBlobs::default());
}

#[test]
fn on_disk() {
    let place = tempfile::tempdir().unwrap();
    let folder = place.path().join("not/yet/there?#%20é");
    let (mut log, photos) = Studio::open(&folder).unwrap();
    the_log_keeps_its_word(&mut log);
    photos_keep_their_word(&photos);
    let before = log.since(0).unwrap();
    drop(log);

    let (log, photos) = Studio::open(&folder).unwrap();
    assert_eq!(log.since(0).unwrap(), before);
    let info = log.info().unwrap();
    assert_eq!((info.changes, info.photos, info.place), (4, 2, folder.display().to_string()));
    assert!(photos.get(&name_of(b"abc")).unwrap().is_some());
}

#[test]
fn a_synchronised_folder_is_told_of() {
    let place = tempfile::tempdir().unwrap();
    let told = |name: &str| Studio::open(&place.path().join(name)).unwrap().0.info().unwrap().warnings;
    assert_eq!(told("boards"), Vec::<String>::new());
    let warnings = told("Dropbox");
    assert!(warnings.len() == 1 && warnings[0].contains("synchronised"), "{warnings:?}");
}
