//! Made cracks and flakes in which wood, shade or grey shows: what they show is known from the drawing.

use boardmaker::{Marks, Pattern, Recipe, make_marked, torn};
use cracks::{BoardSize, Depth, Inside, depth, look, open_photo};

/// 16 pixels a millimetre.
fn board(seed: u64, pattern: Pattern, width_mm: f64) -> Recipe {
    Recipe { board_mm: (40.0, 30.0), photo_px: (700, 530), width_mm, width_spread: 0.1, ..Recipe::usual(seed, pattern) }
}

#[expect(clippy::expect_used, reason = "only called by tests")]
fn told(recipe: &Recipe, marks: &Marks) -> Depth {
    let size = BoardSize { width_mm: recipe.board_mm.0, height_mm: recipe.board_mm.1 };
    let photo = open_photo(&make_marked(recipe, &[], marks).jpeg).expect("a photo");
    depth(&photo, &look(&photo, size, None).expect("a board"))
}

/// Cracks of 0.7 mm with something bare in them, from side to side.
fn open_cracks(tint: [f64; 3], under: f64) -> Marks {
    let bare = [6.0, 14.0, 22.0].map(|y| vec![(4.0, y), (36.0, y + 2.0), (36.0, y + 2.7), (4.0, y + 0.7)]);
    Marks { bare: bare.to_vec(), under, under_tint: tint, ..Marks::default() }
}

const WOOD: [f64; 3] = [1.2, 0.95, 0.65];

#[test]
fn only_where_wood_shows_in_them_do_cracks_go_through() {
    let whole = board(31, Pattern::Whole, 0.15);
    assert_eq!(told(&whole, &Marks::default()).cracks, Inside::None);
    // Pale wood, and wood in shade.
    for under in [0.35, 0.15] {
        let Inside::Wood(share) = told(&whole, &open_cracks(WOOD, under)).cracks else { panic!("wood in light {under}") };
        assert!(share > 0.7, "{share}");
    }
    // Grey, and the tint that light has after three walls of a creamy ground: 1.15 times 1.15 redder than blue.
    for tint in [[1.0, 1.0, 1.0], [1.15, 1.0, 0.87]] {
        assert_eq!(told(&whole, &open_cracks(tint, 0.3)).cracks, Inside::Dark, "{tint:?}");
    }
    // Wide cracks full of shade, and cracks of two pixels.
    assert_eq!(told(&board(32, Pattern::Cells(12), 0.6), &Marks::default()).cracks, Inside::Dark);
    let fine = told(&board(32, Pattern::Cells(12), 0.13), &Marks::default());
    assert_eq!(fine.cracks, Inside::Narrow);
    // Four deviations of 0.9 px, or four pixels, at 16 px a mm.
    assert!((0.2..0.3).contains(&fine.least_mm), "{}", fine.least_mm);
}

#[test]
fn flakes_go_to_the_wood_where_wood_shows() {
    let recipe = board(33, Pattern::Whole, 0.15);
    let flakes = |under_tint| {
        let bare = vec![torn((12.0, 11.0), 3.0, 7), torn((30.0, 20.0), 2.5, 8)];
        told(&recipe, &Marks { bare, under_tint, ..Marks::default() }).flakes
    };
    assert_eq!(flakes(WOOD), Inside::Wood(1.0));
    assert_eq!(flakes([1.0, 1.0, 1.0]), Inside::Dark, "grey dirt, a grey board, hard shade: all alike");
    assert_eq!(told(&recipe, &Marks::default()).flakes, Inside::None);
}
