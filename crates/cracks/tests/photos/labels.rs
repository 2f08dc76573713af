//! Labels and cards in made photos: the codes are drawn by `qrcode`, which shares no code with the reader.

use boardmaker::{Chance, Pattern, Recipe, Sheet, make_with};
use cracks::{CARD_MM, Corners, find_card, find_corners, find_labels, open_photo, size_by};
use qrcode::{Color, EcLevel, QrCode};

/// The squares of a label as the program prints it.
fn squares(text: &str) -> Vec<Vec<bool>> {
    let code = QrCode::with_error_correction_level(text, EcLevel::M).expect("a short text");
    code.to_colors().chunks(code.width()).map(|row| row.iter().map(|color| *color == Color::Dark).collect()).collect()
}

/// A board of 60 x 45 mm at 16 px/mm: a label's code is 26 x 21 / 29 = 18.8 mm, about 300 px.
fn small(seed: u64, pattern: Pattern) -> Recipe {
    Recipe { board_mm: (60.0, 45.0), photo_px: (1050, 790), tilt: 0.03, ..Recipe::usual(seed, pattern) }
}

#[test]
fn labels_are_read_and_lie_where_they_were_drawn() {
    let (mut read, mut worst) = (0, 0.0_f64);
    let count = 50;
    for seed in 0..count {
        let mut chance = Chance::new(seed + 7000);
        let mut recipe = small(seed + 7000, if seed % 2 == 0 { Pattern::Whole } else { Pattern::Cells(30) });
        recipe.blur_px = chance.between(0.5, 1.8);
        recipe.noise = chance.between(0.003, 0.02);
        let text = format!("GP-7K3M-{:03}", seed + 100);
        let middle = (chance.between(14.0, 46.0), chance.between(14.0, 31.0));
        let made = make_with(&recipe, &[Sheet::label(squares(&text), middle, chance.between(0.0, 360.0))]);
        let photo = open_photo(&made.jpeg).expect("a photo");
        let labels = find_labels(&photo);
        let Some(label) = labels.iter().find(|label| label.text == text) else { continue };
        assert_eq!(labels.len(), 1, "one label is read once");
        read += 1;
        for (found, true_at) in label.corners.iter().zip(made.sheets[0]) {
            worst = worst.max((found.x - true_at.0).hypot(found.y - true_at.1));
        }
    }
    println!("read {read} of {count}, corners off by up to {worst:.2} px");
    assert!(read * 100 >= count * 98, "{read} of {count}");
    assert!(worst < 1.0, "{worst}");
}

#[test]
fn a_label_tells_the_size_of_its_board() {
    for seed in 0..6 {
        let mut chance = Chance::new(seed + 7100);
        let recipe = small(seed + 7100, Pattern::Cells(20));
        let sheet = Sheet::label(squares("GP-7K3M-Q2X"), (chance.between(15.0, 45.0), 22.0), chance.between(0.0, 90.0));
        let made = make_with(&recipe, &[sheet]);
        let photo = open_photo(&made.jpeg).expect("a photo");
        let label = find_labels(&photo).into_iter().next().expect("a label");
        let board = Corners::new(made.corners, photo.width(), photo.height()).expect("corners");
        let found = size_by(&board, label.corners, (label.side_mm(), label.side_mm())).expect("a size");
        let off = [(found.size.width_mm, 60.0), (found.size.height_mm, 45.0)].map(|(a, b)| (a / b - 1.0_f64).abs());
        assert!(off.iter().all(|&off| off < 0.01), "{seed}: {found:?}");
    }
}

#[test]
fn a_card_beside_the_board_tells_its_size() {
    let recipe = Recipe { board_mm: (100.0, 100.0), photo_px: (1700, 900), ..Recipe::usual(7200, Pattern::Cells(20)) };
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
    // 12 million pixels: the label's code is 500 px wide, another one 130 px.
    let recipe = Recipe { board_mm: (140.0, 100.0), photo_px: (4000, 3000), ..Recipe::usual(7300, Pattern::Whole) };
    let second = Sheet { size_mm: (7.0, 7.0), ..Sheet::label(squares("GP-1R7V-P3D"), (110.0, 70.0), 200.0) };
    let made = make_with(&recipe, &[Sheet::label(squares("GP-7K3M-Q2X"), (30.0, 30.0), 15.0), second]);
    let photo = open_photo(&made.jpeg).expect("a photo");
    let texts: Vec<String> = find_labels(&photo).into_iter().map(|label| label.text).collect();
    assert_eq!(texts, ["GP-7K3M-Q2X", "GP-1R7V-P3D"]);
}
