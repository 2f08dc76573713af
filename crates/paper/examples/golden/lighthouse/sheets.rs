//! Card for the wall, picture to post, labels and sheets.
#![allow(clippy::indexing_slicing, reason = "three pots, three codes")]

use show::paper::{
    BatchSheet, BoardLabel, BoardSheetView, CardAmount, CardStep, LayingRow, PictureCardLine, PictureCardView, RecipeCardView, SheetAmount,
};

use super::{BOARDS, MADE_WITH, day, words};

fn steps() -> Vec<CardStep> {
    let step = |text: &str, caution: &str| CardStep { text: text.into(), caution: caution.into() };
    vec![
        step("Soak the glue in half of the water overnight, in the cool.", ""),
        step("Warm it in a water bath until it is clear; never above 55 °C.", "Hot glue scalds. Keep children and pets away from the pot."),
        step(
            "Sift the chalk into the rest of the water and let it drink for an hour.",
            "Dust. Ventilate, and use the respirator, gloves and eye protection that the safety data sheet and local rules ask for.",
        ),
        step("Stir the warm glue in, pass it through a tea sieve, let it stand for ten minutes, lay it warm.", ""),
    ]
}

fn cups(grams: f64, density: f64) -> String {
    let packing = measure::Packing::Loose(measure::GramsPerMillilitre::new(density));
    measure::measures(measure::Grams::new(grams), packing, &measure::VesselSet::US, measure::Share::new(0.01))
        .map_or_else(|_| String::new(), |told| show::measures(&told))
}

/// A card for the kitchen wall.
pub(crate) fn recipe_card() -> RecipeCardView {
    let amount = |name: &str, grams: f64, written: &str, density: f64| CardAmount {
        name: name.into(),
        grams: format!("{written}\u{a0}g"),
        kitchen: cups(grams, density),
    };
    RecipeCardView {
        title: "Lamp room white".into(),
        language: "en".into(),
        date: day(),
        made_with: MADE_WITH.into(),
        invented: true,
        makes: "for 5 panels of 20 x 25 cm, two coats".into(),
        amounts: vec![
            amount("natural chalk", 300.0, "300", 0.9),
            amount("hide glue, grains", 30.0, "30", 0.65),
            amount("rain water", 280.0, "280", 1.0),
        ],
        steps: steps(),
        allergens: "Hide glue comes from animals and may be an allergen.".into(),
    }
}

/// Labels and sheets for the twelve boards.
pub(crate) fn board_sheet() -> BoardSheetView {
    let amount = |name: &str, grams: f64, written: &str, density: f64| SheetAmount {
        name: name.into(),
        grams: written.into(),
        kitchen: cups(grams, density),
    };
    BoardSheetView {
        title: "Panels for the tide calendar".into(),
        language: "en".into(),
        date: day(),
        made_with: MADE_WITH.into(),
        invented: true,
        labels: BOARDS
            .iter()
            .map(|(board, ..)| BoardLabel {
                board: (*board).into(),
                recipe: format!("blind code {}", board.chars().skip(3).take(2).collect::<String>()),
                date: "13 January 2026".into(),
                coats: "2 coats".into(),
                hazards: "Dust when rubbed down. Hide glue: may be an allergen.".into(),
            })
            .collect(),
        batches: (1..=3)
            .map(|pot| BatchSheet {
                batch: pot.to_string(),
                recipe: format!("blind code {}", ["7K", "4T", "2W"][pot - 1]),
                boards: BOARDS.iter().skip((pot - 1) * 4).take(4).map(|(board, ..)| *board).collect::<Vec<_>>().join(", "),
                amounts: vec![
                    amount("natural chalk", 300.0, "300", 0.9),
                    amount("hide glue, grains", 30.0, "30", 0.65),
                    amount("rain water", 280.0, "280", 1.0),
                ],
                steps: steps(),
                allergens: "Hide glue comes from animals and may be an allergen.".into(),
            })
            .collect(),
        laying: BOARDS
            .iter()
            .enumerate()
            .map(|(place, (board, ..))| LayingRow {
                order: (place + 1).to_string(),
                board: (*board).into(),
                day: format!("{} January", 13 + place / 4),
                batch: format!("pot {}", 1 + place / 4),
                sheet: if place % 2 == 0 { "sheet A".into() } else { "sheet B".into() },
                what: "two coats, crossed".into(),
            })
            .collect(),
    }
}

/// A picture to post.
pub(crate) fn picture_card() -> PictureCardView {
    let line = |name: &str, grams: f64, written: &str, density: f64| PictureCardLine {
        name: name.into(),
        grams: format!("{written}\u{a0}g"),
        kitchen: cups(grams, density),
    };
    PictureCardView {
        title: "Lamp room white".into(),
        made_with: "made with groundproof 0.1.0".into(),
        invented: true,
        lines: vec![
            line("natural chalk", 300.0, "300", 0.9),
            line("hide glue, grains", 30.0, "30", 0.65),
            line("rain water", 280.0, "280", 1.0),
        ],
        boards: "12 boards laid, 2 lost, 10 counted.".into(),
        failed: words(&["With 20 g of glue: rubs off on 3 of 3 boards, 2 let go at an edge.", "With 40 g: hair cracks on 2 of 4 boards."]),
        not_known: words(&["Whether the cracks come from the glue or from a thicker coat.", "How any of it stands after a summer."]),
    }
}
