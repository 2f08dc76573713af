//! Whatever is written comes back as it was.

use notebook::{Log as _, Moment, NewChange};
use notebook_sqlite::Studio;
use proptest::prelude::*;

use super::entry;

/// Any characters at all, NUL among them.
fn any_text() -> impl Strategy<Value = String> {
    prop::collection::vec(prop_oneof![any::<char>(), Just('\0'), Just('\''), Just('\u{feff}'), Just('é')], 0..40)
        .prop_map(|letters| letters.into_iter().collect())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn any_entries_come_back(
        texts in prop::collection::vec((any_text(), any_text(), any_text(), any_text()), 1..6),
        seconds: i64, offset_minutes: i32, version: u16, expects: Option<u64>, strikes: Option<u64>,
    ) {
        let place = tempfile::tempdir().unwrap();
        let entries: Vec<NewChange> = texts
            .into_iter()
            .zip(0..)
            .map(|((id, device, subject, body), n)| NewChange {
                // The same texts may come twice; the number keeps ids apart.
                id: format!("{id}\0{n}"),
                at: Moment { seconds, offset_minutes },
                kind: body.clone(),
                device, version, subject, expects, strikes, body,
            })
            .collect();
        let (mut log, _) = Studio::open(place.path()).unwrap();
        let stored = log.append(&entries, 0).unwrap();
        drop(log);
        let (log, _) = Studio::open(place.path()).unwrap();
        let back = log.since(0).unwrap();
        prop_assert_eq!(&back, &stored);
        prop_assert_eq!(back.into_iter().map(|change| change.entry).collect::<Vec<_>>(), entries);
        prop_assert_eq!(log.check(&[]).unwrap().damaged, Vec::<String>::new());
    }
}

#[test]
fn a_body_of_a_million_letters_comes_back() {
    let place = tempfile::tempdir().unwrap();
    let (mut log, _) = Studio::open(place.path()).unwrap();
    let long = NewChange { body: "ß\0".repeat(350_000), ..entry("long") };
    log.append(std::slice::from_ref(&long), 0).unwrap();
    assert!(log.since(0).unwrap()[0].entry == long);
    assert_eq!(log.check(&[]).unwrap().damaged, Vec::<String>::new());
}
