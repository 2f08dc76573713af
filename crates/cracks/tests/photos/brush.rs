//! Made brush ridges of one spacing: direction and distance from the drawing.

use boardmaker::{Marks, Pattern, Recipe, Ridges, make_marked};
use cracks::{BoardSize, Brush, look, open_photo};

#[expect(clippy::expect_used, reason = "only called by tests")]
fn brushed(recipe: &Recipe, ridges: Option<Ridges>) -> Option<Brush> {
    let size = BoardSize { width_mm: recipe.board_mm.0, height_mm: recipe.board_mm.1 };
    let made = make_marked(recipe, &[], &Marks { ridges, ..Marks::default() });
    look(&open_photo(&made.jpeg).expect("a photo"), size, None).expect("a board").brush
}

fn board(seed: u64, pattern: Pattern) -> Recipe {
    Recipe { board_mm: (60.0, 44.0), photo_px: (1020, 760), brush: 0.0, grain: 0.0, ..Recipe::usual(seed, pattern) }
}

// Direction within half a degree, spacing within 4 %, contrast within 22 % (evening out and the lens take some).
#[test]
fn ridges_of_a_known_way_and_distance() {
    for (seed, degrees, spacing_mm, pattern) in
        [(1, 20.0, 1.0, Pattern::Whole), (2, 110.0, 0.7, Pattern::Cells(12)), (3, 163.0, 1.6, Pattern::Whole)]
    {
        let found = brushed(&board(seed, pattern), Some(Ridges { degrees, spacing_mm, depth: 0.03 }));
        let found = found.unwrap_or_else(|| panic!("{seed}: nothing told"));
        assert!((found.direction_deg.value - degrees).abs() < 0.5, "{seed}: {found:?}");
        let spacing = found.spacing_mm.unwrap_or_else(|| panic!("{seed}: no spacing"));
        assert!((spacing.value / spacing_mm - 1.0).abs() < 0.04, "{seed}: {spacing:?}");
        assert!((found.contrast.value / 0.03 - 1.0).abs() < 0.22, "{seed}: {found:?}");
    }
}

#[test]
fn what_runs_no_one_way_is_not_told() {
    assert_eq!(brushed(&board(4, Pattern::Whole), None), None);
    assert_eq!(brushed(&board(5, Pattern::Cells(40)), None), None);
}
