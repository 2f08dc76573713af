//! How long opening a studio of many years takes, and writing one entry to it; printed by `cargo xtask bench`, judged by nobody.

#![expect(clippy::unwrap_used, reason = "a bench that can't start has nothing to say")]

use divan::Bencher;
use notebook::{Blobs as _, Log as _, Moment, NewChange};
use notebook_sqlite::Studio;
use tempfile::TempDir;

const CHANGES: u64 = 20_000;

fn main() {
    divan::main();
}

/// Invented, for the lighthouse's panels; about as long as a recipe with its notes.
fn entry(n: u64) -> NewChange {
    let told = "250 g chalk, 14 g hide glue, 200 ml water; brushed on, second coat across the first, left by the window; ".repeat(2);
    NewChange {
        id: format!("5f1c9a04e2b7486d{n:016}"),
        at: Moment { seconds: 1_764_064_800 + n.cast_signed() * 600, offset_minutes: 60 },
        device: "desk".into(),
        kind: "reading".into(),
        version: 1,
        subject: format!("panel {n}"),
        expects: Some(n),
        strikes: None,
        body: format!(r#"{{"told":"{told}","measure":"cracks","value":{n}}}"#),
    }
}

fn studio(changes: u64) -> TempDir {
    let place = tempfile::tempdir().unwrap();
    let (mut log, _) = Studio::open(place.path()).unwrap();
    log.append(&(0..changes).map(entry).collect::<Vec<_>>(), 0).unwrap();
    place
}

#[divan::bench]
fn open_and_read_20_000(bencher: Bencher<'_, '_>) {
    let place = studio(CHANGES);
    bencher.bench_local(|| Studio::open(place.path()).unwrap().0.since(0).unwrap().len());
}

#[divan::bench]
fn open_20_000(bencher: Bencher<'_, '_>) {
    let place = studio(CHANGES);
    bencher.bench_local(|| Studio::open(place.path()).unwrap());
}

#[divan::bench]
fn read_20_000(bencher: Bencher<'_, '_>) {
    let place = studio(CHANGES);
    let (log, _) = Studio::open(place.path()).unwrap();
    bencher.bench_local(|| log.since(0).unwrap().len());
}

#[divan::bench]
fn check_20_000(bencher: Bencher<'_, '_>) {
    let place = studio(CHANGES);
    let (log, _) = Studio::open(place.path()).unwrap();
    bencher.bench_local(|| log.check(&[]).unwrap());
}

#[divan::bench(sample_count = 10)]
fn append_20_000_at_once(bencher: Bencher<'_, '_>) {
    let entries: Vec<_> = (0..CHANGES).map(entry).collect();
    bencher.with_inputs(|| studio(0)).bench_local_values(|place| {
        let (mut log, _) = Studio::open(place.path()).unwrap();
        log.append(&entries, 0).unwrap();
        place
    });
}

#[divan::bench]
fn append_one(bencher: Bencher<'_, '_>) {
    let place = studio(CHANGES);
    let (mut log, _) = Studio::open(place.path()).unwrap();
    let mut n = CHANGES;
    bencher.bench_local(|| {
        log.append(&[entry(n)], n).unwrap();
        n += 1;
    });
}

/// Four million bytes, as of a photo from a phone; other bytes each time.
#[divan::bench]
fn put_photo(bencher: Bencher<'_, '_>) {
    let place = studio(0);
    let (_, photos) = Studio::open(place.path()).unwrap();
    let mut bytes = vec![7; 4_000_000];
    let mut n = 0u64;
    bencher.bench_local(|| {
        n += 1;
        for (byte, new) in bytes.iter_mut().zip(n.to_le_bytes()) {
            *byte = new;
        }
        photos.put(&bytes).unwrap()
    });
}
