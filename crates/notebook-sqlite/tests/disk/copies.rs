//! Backups, and studios from backups.

use std::fs;
use std::path::Path;

use notebook::{Blobs as _, Log as _, StoreError};
use notebook_sqlite::Studio;

use super::{copy_folder, fill, picture};

/// Names in a folder.
fn names(folder: &Path) -> Vec<String> {
    picture(folder).into_keys().filter(|name| !name.contains('/')).collect()
}

#[test]
fn there_and_back() {
    let place = tempfile::tempdir().unwrap();
    let at = |name: &str| place.path().join(name);
    let (mut log, photos) = Studio::open(&at("studio")).unwrap();
    let written = fill(&mut log, 30);
    let photo = photos.put(b"panel 3, raking light").unwrap();

    // While the studio is open and entries wait beside the log.
    let info = log.backup(&at("copies/monday")).unwrap();
    assert_eq!((info.changes, info.photos, info.format), (30, 1, 1));
    assert_eq!(info.place, at("copies/monday").display().to_string());
    let copy = picture(&at("copies/monday"));
    assert_eq!(copy.keys().filter(|name| !name.starts_with("photos")).collect::<Vec<_>>(), ["studio.db"]);
    fill(&mut log, 1);
    assert!(matches!(log.backup(&at("copies/monday")), Err(StoreError::Disk(text)) if text.contains("another name")));
    assert!(picture(&at("copies/monday")) == copy);

    let info = Studio::restore(&at("copies/monday"), &at("again")).unwrap();
    assert_eq!((info.changes, info.photos, info.warnings.len()), (30, 1, 0));
    assert!(picture(&at("copies/monday")) == copy, "the copy stays as it was");
    let (mut again, photos) = Studio::open(&at("again")).unwrap();
    assert_eq!(again.since(0).unwrap(), written);
    assert_eq!(photos.get(&photo).unwrap().as_deref(), Some(b"panel 3, raking light".as_slice()));
    assert_eq!(again.check(&[photo]).unwrap().damaged, Vec::<String>::new());
    assert_eq!(fill(&mut again, 1)[0].n, 31);
    assert_eq!(names(place.path()), ["again", "copies", "studio"]);
}

#[test]
fn a_folder_copied_by_hand_while_in_use() {
    let place = tempfile::tempdir().unwrap();
    let at = |name: &str| place.path().join(name);
    let (mut log, _) = Studio::open(&at("studio")).unwrap();
    let written = fill(&mut log, 5);
    copy_folder(&at("studio"), &at("by hand"));
    assert_eq!(Studio::restore(&at("by hand"), &at("again")).unwrap().changes, 5);
    assert_eq!(Studio::open(&at("again")).unwrap().0.since(0).unwrap(), written);
}

#[test]
fn nothing_is_written_over_and_nothing_half_restored() {
    let place = tempfile::tempdir().unwrap();
    let at = |name: &str| place.path().join(name);
    let (mut log, photos) = Studio::open(&at("studio")).unwrap();
    fill(&mut log, 30);
    photos.put(b"1").unwrap();
    log.backup(&at("copy")).unwrap();

    Studio::open(&at("other")).unwrap();
    let before = picture(&at("other"));
    assert!(matches!(Studio::restore(&at("copy"), &at("other")), Err(StoreError::Disk(_))));
    assert!(picture(&at("other")) == before);
    assert!(matches!(Studio::restore(&at("nothing"), &at("new")), Err(StoreError::Damaged(_))));

    // A hurt log is refused, also where only the seal can tell.
    let file = at("copy").join("studio.db");
    let whole = fs::read(&file).unwrap();
    let told = whole.windows(9).position(|window| window == b"two coats").unwrap();
    let mut hurt = whole.clone();
    hurt[told] = b'n';
    for bytes in [&hurt[..], &whole[..whole.len() / 2], b"", b"x"] {
        fs::write(&file, bytes).unwrap();
        let error = Studio::restore(&at("copy"), &at("new")).unwrap_err();
        assert!(matches!(error, StoreError::Damaged(_)), "{error}");
        assert_eq!(names(place.path()), ["copy", "other", "studio"], "{error}");
    }
}

#[test]
fn a_hurt_photo_is_left_out_and_told() {
    let place = tempfile::tempdir().unwrap();
    let at = |name: &str| place.path().join(name);
    let (_log, photos) = Studio::open(&at("studio")).unwrap();
    let [good, hurt] = [b"1", b"2"].map(|bytes| photos.put(bytes).unwrap());
    fs::write(at("studio").join("photos").join(&hurt[..2]).join(&hurt), "other").unwrap();
    let info = Studio::restore(&at("studio"), &at("new")).unwrap();
    assert_eq!(info.photos, 1);
    assert!(info.warnings.len() == 1 && info.warnings[0].contains(&hurt), "{:?}", info.warnings);
    let photos = Studio::open(&at("new")).unwrap().1;
    assert!(photos.get(&good).unwrap().is_some());
    assert_eq!(photos.get(&hurt).unwrap(), None);
}
