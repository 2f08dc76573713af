//! A studio that was written when its format was new. It is never written again, and can be read for ever.

use std::path::{Path, PathBuf};

use notebook::{Blobs as _, Log as _, Moment, NewChange};
use notebook_sqlite::Studio;

use super::copy_folder;

fn kept(format: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/samples").join(format)
}

/// The smallest picture: one white point as PPM.
const PHOTO: &[u8] = b"P6 1 1 255\n\xff\xff\xff";

fn entries() -> Vec<NewChange> {
    let first = NewChange {
        id: "5f1c9a".into(),
        at: Moment { seconds: 1_764_064_800, offset_minutes: 60 },
        device: "desk".into(),
        kind: "sample".into(),
        version: 1,
        subject: "panel 1".into(),
        expects: None,
        strikes: None,
        body: r#"{"told":"½ cup of chalk, two coats – Möwe"}"#.into(),
    };
    let second = NewChange { id: "5f1c9b".into(), expects: Some(1), body: r#"{"told":"three coats"}"#.into(), ..first.clone() };
    let third = NewChange { id: "5f1c9c".into(), device: "phone".into(), strikes: Some(2), body: "{}".into(), ..first.clone() };
    vec![first, second, third]
}

#[test]
fn format_1_is_read() {
    let place = tempfile::tempdir().unwrap();
    let folder = place.path().join("copy");
    copy_folder(&kept("format-1"), &folder);
    assert_eq!(Studio::examine(&folder).unwrap().damaged, Vec::<String>::new());
    let (log, photos) = Studio::open(&folder).unwrap();
    let all = log.since(0).unwrap();
    assert_eq!(all.iter().map(|change| change.n).collect::<Vec<_>>(), [1, 2, 3]);
    assert_eq!(all.into_iter().map(|change| change.entry).collect::<Vec<_>>(), entries());
    let name = notebook::name_of(PHOTO);
    assert_eq!(photos.get(&name).unwrap().as_deref(), Some(PHOTO));
    let report = log.check(&[name]).unwrap();
    assert_eq!((report.changes, report.photos, report.format), (3, 1, 1));
    assert_eq!([report.damaged, report.missing, report.orphans], [const { Vec::<String>::new() }; 3]);
}

#[test]
#[ignore = "writes the sample of the newest format, once, before its release"]
fn write_the_sample() {
    let place = tempfile::tempdir().unwrap();
    let (mut log, photos) = Studio::open(place.path()).unwrap();
    log.append(&entries(), 0).unwrap();
    photos.put(PHOTO).unwrap();
    log.backup(&kept(&format!("format-{}", notebook::FORMAT))).unwrap();
}
