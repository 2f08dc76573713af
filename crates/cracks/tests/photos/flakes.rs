//! Made flakes with torn outlines: their areas by the surveyors' formula, from the drawing.

use boardmaker::{Marks, Pattern, Recipe, area_mm2, make_marked, torn};
use cracks::{BoardSize, Look, look, open_photo};

#[expect(clippy::expect_used, reason = "only called by tests")]
fn looked(recipe: &Recipe, marks: &Marks) -> Look {
    let size = BoardSize { width_mm: recipe.board_mm.0, height_mm: recipe.board_mm.1 };
    look(&open_photo(&make_marked(recipe, &[], marks).jpeg).expect("a photo"), size, None).expect("a board")
}

fn board(seed: u64, pattern: Pattern) -> Recipe {
    Recipe { board_mm: (60.0, 44.0), photo_px: (1020, 760), ..Recipe::usual(seed, pattern) }
}

// Four flakes of 1.5 to 5 mm radius on a whole board. Areas within 6 %, and no crack from their rims.
#[test]
fn flakes_are_flakes_and_no_cracks() {
    let bare: Vec<Vec<(f64, f64)>> = [((12.0, 12.0), 5.0), ((40.0, 10.0), 3.0), ((45.0, 32.0), 2.0), ((20.0, 34.0), 1.5)]
        .into_iter()
        .zip(40..)
        .map(|((at, r), seed)| torn(at, r, seed))
        .collect();
    let areas: Vec<f64> = bare.iter().map(|outline| area_mm2(outline)).collect();
    let found = looked(&board(1, Pattern::Whole), &Marks { bare, ..Marks::default() });
    let told: Vec<f64> = found.flakes.all.iter().map(|flake| flake.area_mm2).collect();
    assert_eq!(told.len(), 4, "{told:?}");
    for (told, truth) in told.iter().zip(&areas) {
        assert!((told / truth - 1.0).abs() < 0.06, "{told} {truth}");
    }
    assert!((found.flakes.area.value * 58.0 * 42.0 / areas.iter().sum::<f64>() - 1.0).abs() < 0.05);
    assert!(found.length.value < 0.002, "{:?}", found.length);
    assert!(found.pinholes.is_empty() && found.islands.value < 1.5, "{:?}", found.islands);
}

// Wide dark cracks alone are no flakes; with two flakes on them, 33 of 2436 mm2 and their rims, the rest of the cracks is as long within 5 %.
#[test]
fn cracks_are_no_flakes() {
    let recipe = Recipe { width_mm: 0.35, width_spread: 0.3, ..board(2, Pattern::Cells(30)) };
    let alone = looked(&recipe, &Marks::default());
    assert!(alone.flakes.all.is_empty(), "{:?}", alone.flakes.all);
    let marks = Marks { bare: vec![torn((15.0, 15.0), 2.0, 7), torn((44.0, 28.0), 2.5, 8)], ..Marks::default() };
    let flaked = looked(&recipe, &marks);
    assert!(flaked.flakes.all.len() == 2, "{:?}", flaked.flakes.all);
    assert!((flaked.length.value / alone.length.value - 1.0).abs() < 0.05, "{:?} {:?}", flaked.length, alone.length);
}
