//! The disk turns bytes into other bytes.

use std::fs;

use notebook::{Blobs as _, Change, Log as _, NewChange};
use notebook_sqlite::Studio;
use proptest::prelude::*;

use super::{copy_folder, entry, fill};

/// If it opens and a check finds nothing, then every entry is what it was.
fn refused_or_found(folder: &std::path::Path, written: &[Change], hurt: &str) {
    let log = match Studio::open(folder) {
        Ok((log, _)) => log,
        Err(error) => {
            assert!(error.to_string().len() > 40, "{error}");
            let _ = Studio::examine(folder);
            return;
        }
    };
    let read = log.since(0);
    let report = log.check(&[]).unwrap_or_else(|error| panic!("{hurt}: the check ended with {error}"));
    if report.damaged.is_empty() {
        assert!(read.as_deref() == Ok(written), "{hurt}: the check found nothing");
    }
}

#[test]
fn random_bytes_in_random_places() {
    let place = tempfile::tempdir().unwrap();
    let (whole, hurt) = (place.path().join("whole"), place.path().join("hurt"));
    let (mut log, _) = Studio::open(&whole).unwrap();
    let written = fill(&mut log, 60);
    drop(log);
    let bytes = fs::read(whole.join("studio.db")).unwrap();
    copy_folder(&whole, &hurt);
    // One of its own, so that the same bytes are hurt in every run of this seed and a failure can be found again.
    let mut runner = proptest::test_runner::TestRunner::new_with_rng(
        ProptestConfig::with_cases(300),
        proptest::test_runner::TestRng::deterministic_rng(proptest::test_runner::RngAlgorithm::ChaCha),
    );
    let places = prop::collection::vec((0..bytes.len(), prop::collection::vec(any::<u8>(), 1..64)), 1..4);
    runner
        .run(&places, |places| {
            let mut bytes = bytes.clone();
            for (at, garbage) in &places {
                for (byte, new) in bytes.iter_mut().skip(*at).zip(garbage) {
                    *byte = *new;
                }
            }
            fs::write(hurt.join("studio.db"), &bytes).unwrap();
            refused_or_found(&hurt, &written, &format!("{places:?}"));
            Ok(())
        })
        .unwrap();
}

#[test]
fn each_letter_of_an_entry_is_under_seal() {
    let place = tempfile::tempdir().unwrap();
    let (mut log, _) = Studio::open(place.path()).unwrap();
    log.append(&[entry("a"), NewChange { body: r#"{"g":250}"#.into(), ..entry("b") }], 0).unwrap();
    drop(log);
    let file = place.path().join("studio.db");
    let mut bytes = fs::read(&file).unwrap();
    let at = bytes.windows(9).position(|window| window == br#"{"g":250}"#).unwrap();
    bytes[at + 5] = b'9';
    fs::write(&file, bytes).unwrap();
    let (log, _) = Studio::open(place.path()).unwrap();
    assert_eq!(log.check(&[]).unwrap().damaged, ["entry 2 no longer says what was written"]);
    let error = log.backup(&place.path().join("copy")).unwrap_err();
    assert!(error.to_string().contains("entry 2"), "{error}");
}

#[test]
fn a_check_names_what_is_missing_hurt_and_left_over() {
    let place = tempfile::tempdir().unwrap();
    let (mut log, photos) = Studio::open(place.path()).unwrap();
    fill(&mut log, 2);
    let [good, hurt, nameless] = [b"1", b"2", b"3"].map(|bytes| photos.put(bytes).unwrap());
    let gone = notebook::name_of(b"4");
    fs::write(place.path().join("photos").join(&hurt[..2]).join(&hurt), "other").unwrap();
    fs::write(place.path().join("photos").join("left.new-1-0"), "").unwrap();
    let report = log.check(&[good, hurt.clone(), gone.clone()]).unwrap();
    assert_eq!((report.changes, report.photos), (2, 3));
    assert_eq!(report.missing, [gone]);
    assert_eq!(report.orphans, [nameless, "left.new-1-0".to_owned()]);
    assert!(report.damaged.len() == 1 && report.damaged[0].contains(&hurt), "{:?}", report.damaged);
}
