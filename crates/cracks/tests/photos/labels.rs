//! Labels and cards in made photos: the codes are drawn by `qrcode`, which shares no code with the reader.

#![expect(clippy::expect_used, clippy::indexing_slicing, reason = "in a test a panic is the report")]

use boardmaker::{Chance, Pattern, Recipe, Sheet, make_with};
use cracks::{CARD_MM, Corners, find_card, find_corners, find_labels, open_photo, size_by};
use qrcode::{Color, EcLevel, QrCode};
use rayon::prelude::*;

/// The squares of a label as the program prints it.
fn squares(text: &str) -> Vec<Vec<bool>> {
    let code = QrCode::with_error_correction_level(text, EcLevel::M).expect("a short text");
    code.to_colors().chunks(code.width()).map(|row| row.iter().map(|color| *color == Color::Dark).collect()).collect()
}

/// A board of 44 x 40 mm at 16 px/mm: a label's code is 26 x 21 / 29 = 18.8 mm, about 300 px.
fn small(seed: u64, pattern: Pattern) -> Recipe {
    Recipe { board_mm: (44.0, 40.0), photo_px: (770, 700), tilt: 0.03, brush: 0.0, grain: 0.0, ..Recipe::usual(seed, pattern) }
}

/// How far the worst corner of the label lies off; `None` if it was not read.
fn read(seed: u64) -> Option<f64> {
    let mut chance = Chance::new(seed);
    let mut recipe = small(seed, if seed.is_multiple_of(2) { Pattern::Whole } else { Pattern::Cells(20) });
    recipe.blur_px = chance.between(0.5, 1.8);
    recipe.noise = chance.between(0.003, 0.02);
    let text = format!("GP-7K3M-{:03}", seed % 1000);
    let middle = (chance.between(18.0, 26.0), chance.between(18.0, 22.0));
    let made = make_with(&recipe, &[Sheet::label(squares(&text), middle, chance.between(0.0, 360.0))]);
    let labels = find_labels(&open_photo(&made.jpeg).expect("a photo"));
    assert!(labels.len() < 2, "one label is read once");
    let label = labels.first().filter(|label| label.text == text)?;
    let off = label.corners.iter().zip(made.sheets[0]).map(|(found, known)| (found.x - known.0).hypot(found.y - known.1));
    Some(off.fold(0.0, f64::max))
}

#[test]
fn labels_are_read_and_lie_where_they_were_drawn() {
    let off: Vec<Option<f64>> = (7000..7005).into_par_iter().map(read).collect();
    assert!(off.iter().all(|off| off.is_some_and(|off| off < 1.0)), "{off:?}");
}

#[test]
#[ignore = "half a minute"]
fn of_200_labels_nearly_all_are_read() {
    let off: Vec<Option<f64>> = (8000..8200).into_par_iter().map(read).collect();
    let mut known: Vec<f64> = off.iter().copied().flatten().collect();
    known.sort_by(f64::total_cmp);
    println!(
        "read {} of 200; corners off by {:.2} px in the middle, {:.2} at most",
        known.len(),
        known[known.len() / 2],
        known[known.len() - 1]
    );
    println!("{:?}", off.iter().zip(8000..).filter(|(off, _)| off.is_none_or(|off| off > 1.0)).collect::<Vec<_>>());
    assert!(known.len() >= 196);
}

#[test]
fn a_label_tells_the_size_of_its_board() {
    for seed in 0..2 {
        let mut chance = Chance::new(seed + 7100);
        let recipe = small(seed + 7100, Pattern::Cells(20));
        let sheet = Sheet::label(squares("GP-7K3M-Q22"), (chance.between(18.0, 26.0), 20.0), chance.between(0.0, 90.0));
        let made = make_with(&recipe, &[sheet]);
        let photo = open_photo(&made.jpeg).expect("a photo");
        let label = find_labels(&photo).into_iter().next().expect("a label");
        let board = Corners::new(made.corners, photo.width(), photo.height()).expect("corners");
        let found = size_by(&board, label.corners, (label.side_mm(), label.side_mm())).expect("a size");
        let off = [(found.size.width_mm, 44.0), (found.size.height_mm, 40.0)].map(|(a, b)| (a / b - 1.0_f64).abs());
        assert!(off.iter().all(|&off| off < 0.01), "{seed}: {found:?}");
    }
}

#[test]
fn a_card_beside_the_board_tells_its_size() {
    let recipe = Recipe { board_mm: (100.0, 100.0), photo_px: (1270, 600), brush: 0.0, ..Recipe::usual(7200, Pattern::Cells(20)) };
    let made = make_with(&recipe, &[Sheet::card((-36.0, 50.0), 84.0)]);
    let photo = open_photo(&made.jpeg).expect("a photo");
    let board = find_corners(&photo).expect("the board");
    let card = find_card(&photo, &board).expect("the card");
    let found = size_by(&board, card, CARD_MM).expect("a size");
    assert!((found.size.width_mm - 100.0).abs() < 1.5 && (found.size.height_mm - 100.0).abs() < 1.5, "{found:?}");
    let bare = open_photo(&make_with(&recipe, &[]).jpeg).expect("a photo");
    assert_eq!(find_card(&bare, &board), None);
    assert_eq!(find_labels(&bare), []);
}

#[test]
fn a_large_photo_is_reduced_until_its_labels_can_be_read() {
    // The label's code is 260 px wide, another one 130 px.
    let recipe = Recipe { board_mm: (140.0, 100.0), photo_px: (2100, 1500), brush: 0.0, grain: 0.0, ..Recipe::usual(7300, Pattern::Whole) };
    let second = Sheet { size_mm: (13.0, 13.0), ..Sheet::label(squares("GP-1R7V-P36"), (110.0, 70.0), 200.0) };
    let made = make_with(&recipe, &[Sheet::label(squares("GP-7K3M-Q22"), (30.0, 30.0), 15.0), second]);
    let photo = open_photo(&made.jpeg).expect("a photo");
    let texts: Vec<String> = find_labels(&photo).into_iter().map(|label| label.text).collect();
    assert_eq!(texts, ["GP-7K3M-Q22", "GP-1R7V-P36"]);
}
