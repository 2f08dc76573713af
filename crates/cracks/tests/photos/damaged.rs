//! Files that were damaged on purpose: an answer or a refusal, never a panic.

#![expect(clippy::expect_used, clippy::indexing_slicing, reason = "in a test a panic is the report")]
#![expect(clippy::disallowed_methods, reason = "the fuzzer's first files lie on the disk, and a long run is timed")]

use std::fs;
use std::path::{Path, PathBuf};

use boardmaker::{Chance, Lattice, Marks, Pattern, Recipe, make_at, make_marked, torn};
use image::{DynamicImage, ImageFormat, Rgb, RgbImage};
use proptest::prelude::*;

use crate::any_bytes::answered;
use crate::bytes;

/// A small board with one crack, as a file.
fn small_file(format: ImageFormat) -> Vec<u8> {
    let picture = RgbImage::from_fn(120, 90, |x, y| match (x, y) {
        (10..110, 8..82) if x.abs_diff(60) < 2 => Rgb([60, 60, 60]),
        (10..110, 8..82) => Rgb([220, 220, 214]),
        _ => Rgb([40, 38, 36]),
    });
    bytes(&picture.into(), format)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 16, failure_persistence: None, ..ProptestConfig::default() })]

    // Whatever came over a bad cable: an answer or a refusal.
    #[test]
    fn cut_and_flipped_bytes_never_panic(
        jpeg in any::<bool>(),
        keep in 0.0..1.2_f64,
        flips in proptest::collection::vec((0.0..1.0_f64, any::<u8>()), 0..6),
        told in any::<[u8; 3]>(),
    ) {
        let mut file = small_file(if jpeg { ImageFormat::Jpeg } else { ImageFormat::Png });
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a place in a short file")]
        let at = |share: f64, length: usize| ((share * length as f64) as usize).min(length);
        file.truncate(at(keep, file.len()));
        for (place, bits) in flips {
            let place = at(place, file.len());
            if let Some(byte) = file.get_mut(place) {
                *byte ^= bits;
            }
        }
        file.extend(told);
        answered(&file);
    }
}

/// Where the fuzzer's first files lie.
fn seeds() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../fuzz/seeds/photo")
}

/// The fuzzer's first files: made boards, small ones, with what is told of them behind; some damaged.
fn made() -> Vec<(&'static str, Vec<u8>)> {
    let small = |seed, pattern| Recipe { board_mm: (26.0, 22.0), photo_px: (290, 250), ..Recipe::usual(seed, pattern) };
    let whole = small(1, Pattern::Whole);
    let lattice = Lattice { middle: (13.2, 10.8), degrees: 4.0, spacing_mm: 1.8, width_mm: 0.25, past_mm: 0.6 };
    let cut = Marks { cuts: lattice.cuts(), bare: vec![lattice.square(1, 3)], ..Marks::default() };
    let flakes = Marks { bare: vec![torn((9.0, 9.0), 2.5, 3), torn((18.0, 14.0), 1.8, 4)], ..Marks::default() };
    let cracked = Recipe { width_mm: 0.3, ..small(2, Pattern::Cells(9)) };
    let with = |file: &[u8], told: [u8; 3]| [file, &told].concat();
    let jpeg = make_marked(&cracked, &[], &Marks::default()).jpeg;
    let turned = make_at(&cracked, boardmaker::Stage { quarters: 1, ..boardmaker::Stage::whole(3) }).jpeg;
    let png = |picture: DynamicImage| bytes(&picture, ImageFormat::Png);
    let opened = image::load_from_memory(&jpeg).expect("a picture").thumbnail(120, 104);
    vec![
        ("cracked.jpg", with(&jpeg, [16, 0, 0])),
        ("turned.jpg", with(&turned, [12, 0, 0])),
        ("cut.jpg", with(&make_marked(&whole, &[], &cut).jpeg, [16, 2, 0])),
        ("flakes.jpg", with(&make_marked(&whole, &[], &flakes).jpeg, [16, 0, 1])),
        ("broken_off.jpg", with(&jpeg[..jpeg.len() / 3], [16, 0, 1])),
        ("grey.png", with(&png(opened.to_luma8().into()), [16, 1, 1])),
        ("deep.png", with(&png(DynamicImage::ImageLuma16(opened.thumbnail(80, 70).to_luma16())), [0, 0, 1])),
        ("see_through.png", with(&png(DynamicImage::ImageLumaA8(opened.thumbnail(80, 70).to_luma_alpha8())), [0, 0, 1])),
        ("plain.png", with(&small_file(ImageFormat::Png), [10, 0, 0])),
    ]
}

#[test]
#[ignore = "writes the fuzzer's first files"]
fn write_the_seeds() {
    fs::create_dir_all(seeds()).expect("a folder");
    for (name, file) in made() {
        fs::write(seeds().join(name), file).expect("a file");
    }
}

// The same files and the same damage on every machine, without the fuzzer.
#[test]
fn the_seeds_and_some_damage() {
    let mut all: Vec<PathBuf> = fs::read_dir(seeds()).expect("the seeds").map(|entry| entry.expect("an entry").path()).collect();
    all.sort();
    assert!(all.len() >= 9, "{all:?}");
    let mut chance = Chance::new(11);
    for path in all {
        let whole = fs::read(&path).expect("a file");
        answered(&whole);
        for _ in 0..RUNS {
            answered(&damaged(&whole, &mut chance));
        }
    }
}

/// Damaged files of each seed.
const RUNS: usize = 3;

/// Bytes changed, cut out or doubled at one to four places.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "places in a short file")]
fn damaged(file: &[u8], chance: &mut Chance) -> Vec<u8> {
    let mut out = file.to_vec();
    for _ in 0..chance.between(1.0, 5.0) as usize {
        let at = chance.between(0.0, out.len() as f64) as usize;
        let end = (at + chance.between(1.0, 40.0) as usize).min(out.len());
        let byte = chance.between(0.0, 256.0) as u8;
        match chance.between(0.0, 5.0) as usize {
            0 => out[at..end].fill(byte),
            1 => drop(out.drain(at..end)),
            2 => {
                let again = out[at..end].to_vec();
                out.splice(at..at, again);
            }
            _ => out.get_mut(at..=at).unwrap_or_default().iter_mut().for_each(|one| *one ^= byte),
        }
    }
    out
}

#[test]
#[ignore = "minutes: two thousand damaged files"]
fn two_thousand_damaged_files() {
    let seeds: Vec<Vec<u8>> = made().into_iter().map(|(_, file)| file).collect();
    let mut chance = Chance::new(12);
    let (mut slowest, mut opened) = (std::time::Duration::ZERO, 0);
    for k in 0..2000 {
        let file = damaged(&seeds[k % seeds.len()], &mut chance);
        opened += usize::from(cracks::open_photo(&file[..file.len().saturating_sub(3)]).is_ok());
        let began = std::time::Instant::now();
        answered(&file);
        slowest = slowest.max(began.elapsed());
    }
    println!("{opened} of 2000 opened; the slowest took {slowest:?}");
    assert!(opened > 200);
}
