//! Two photos of one board laid over each other. The truth comes from the drawing, not from this crate.

use boardmaker::{Made, Pattern, Recipe, Stage, make_at};
use cracks::{BoardSize, Fate, Grown, Look, RegisterError, Registered, Widening, grown, look, open_photo, register};

fn recipe(seed: u64) -> Recipe {
    Recipe { board_mm: (50.0, 36.0), photo_px: (900, 650), ..Recipe::usual(seed, Pattern::Growing(9)) }
}

#[expect(clippy::expect_used, reason = "only called by tests")]
fn seen(made: &Made, (width_mm, height_mm): (f64, f64)) -> Look {
    look(&open_photo(&made.jpeg).expect("a photo"), BoardSize { width_mm, height_mm }, None).expect("a board")
}

/// True crack length an area inside of a border, mm/mm2.
fn length(made: &Made, (w, h): (f64, f64), border: f64) -> f64 {
    let inside = |x: f64, y: f64| x > border && y > border && x < w - border && y < h - border;
    let all: f64 =
        boardmaker::places(&made.cracks, 1.0).into_iter().filter(|((x, y), _)| inside(x + 0.5, y + 0.5)).map(|(_, share)| share).sum();
    all / ((w - 2.0 * border) * (h - 2.0 * border))
}

#[expect(clippy::expect_used, reason = "only called by tests")]
fn compared(recipe: &Recipe, before: Stage, now: Stage) -> (Registered, Grown, f64, f64) {
    let (old, new) = (make_at(recipe, before), make_at(recipe, now));
    let (old_look, new_look) = (seen(&old, recipe.board_mm), seen(&new, recipe.board_mm));
    let laid = register(&old_look, &new_look).expect("one board");
    let told = grown(&old_look, &new_look, &laid);
    let border = 1.0 + told.near_mm;
    (laid, told, length(&old, recipe.board_mm, border), length(&new, recipe.board_mm, border))
}

// A map from a board to itself; corners found to a tenth of a pixel leave some micrometres.
#[test]
fn nothing_grows_between_two_photos_of_one_board() {
    let recipe = recipe(3);
    let (laid, told, ..) = compared(&recipe, Stage::whole(41), Stage::whole(42));
    for (x, y) in [(0.0, 0.0), (50.0, 0.0), (50.0, 36.0), (0.0, 36.0)] {
        let (u, v) = laid.map.map(x, y);
        assert!((u - x).hypot(v - y) < 0.05, "{x} {y} lies at {u} {v}");
    }
    assert!(laid.residual_mm < 0.03, "{}", laid.residual_mm);
    assert!(told.added.value < 0.001 && told.added.low <= 0.0, "{:?}", told.added);
    assert!(told.gone.value < 0.001, "{:?}", told.gone);
    assert!(matches!(told.widening, Widening::InDoubt(_)), "{:?}", told.widening);
}

#[test]
fn cracks_that_grew_at_their_tips_and_became_wider() {
    let recipe = recipe(3);
    let now = Stage { wider_mm: 0.08, ..Stage::whole(44) };
    let (_, told, before, after) = compared(&recipe, Stage { reach: 0.5, ..Stage::whole(43) }, now);
    let added = after - before;
    // A tip fades out, and a brush mark that runs on from it is taken for crack: up to a seventh of the growth on a board with nine tips.
    assert!((told.added.value / added - 1.0).abs() < 0.15, "{:?} of {added}", told.added);
    assert!(told.added.low < added && added < told.added.high, "{:?} of {added}", told.added);
    assert!((told.known.value / before - 1.0).abs() < 0.15, "{:?} of {before}", told.known);
    // All of it grew from tips; what lies behind a crossing with another new piece is not known for that.
    assert!(told.longer.value > 0.6 * told.added.value && told.longer.value <= told.added.value, "{:?}", told.longer);
    let Widening::Told(wider) = told.widening else { panic!("{:?}", told.widening) };
    assert!((wider.value - 0.08).abs() < 0.015 && wider.low < 0.08 && wider.high > 0.08, "{wider:?}");
}

#[test]
fn new_cracks_and_none_from_before() {
    let recipe = recipe(5);
    let (laid, told, before, after) = compared(&recipe, Stage { there: 0.0, ..Stage::whole(45) }, Stage::whole(46));
    assert!(before <= 0.0 && laid.likeness > 0.5, "{}", laid.likeness);
    assert!((told.added.value / after - 1.0).abs() < 0.05, "{:?} of {after}", told.added);
    assert!(told.longer.value <= 0.0 && told.known.value < 0.002, "{told:?}");
    // Without the margin and what lines may lie apart, on each side.
    let border = 1.0 + told.near_mm;
    let area = (50.0 - 2.0 * border) * (36.0 - 2.0 * border);
    assert!((told.compared_mm2 / area - 1.0).abs() < 0.02, "{} of {area}", told.compared_mm2);
    // By the ends in the drawing: three cracks that are or end at the one from the right edge to the lower one; five that hang on the one
    // across the board; one that cuts off a corner.
    assert_eq!(told.new_places, 3);
}

#[test]
fn cracks_that_were_filled_are_gone() {
    let recipe = recipe(5);
    let (_, told, before, after) = compared(&recipe, Stage::whole(47), Stage { there: 0.6, ..Stage::whole(48) });
    assert!((told.gone.value / (before - after) - 1.0).abs() < 0.1, "{:?} of {}", told.gone, before - after);
    assert!(told.added.value < 0.001 && told.strokes.iter().any(|stroke| stroke.fate == Fate::Gone), "{:?}", told.added);
}

// At 4.8 pixels a millimetre a crack of 0.05 mm takes a quarter of a pixel, and less than a third is not promised.
#[test]
fn what_an_older_photo_could_not_show_is_not_new() {
    let fine = Recipe { width_mm: 0.05, width_spread: 0.0, ..recipe(6) };
    let far = Recipe { photo_px: (260, 188), ..fine.clone() };
    let (old, new) = (make_at(&far, Stage::whole(49)), make_at(&fine, Stage::whole(50)));
    let (old, new) = (seen(&old, fine.board_mm), seen(&new, fine.board_mm));
    assert!(new.length.value > 0.05, "{:?}", new.length);
    match register(&old, &new) {
        Ok(laid) => {
            let told = grown(&old, &new, &laid);
            assert!(told.added.value < 0.1 * new.length.value && told.added.low <= 0.0, "{:?}", told.added);
        }
        Err(why) => assert_eq!(why, RegisterError::NothingShared),
    }
}

#[test]
fn a_board_that_was_turned() {
    let recipe = recipe(7);
    let old = seen(&make_at(&recipe, Stage::whole(51)), (50.0, 36.0));
    let upside_down = seen(&make_at(&recipe, Stage { quarters: 2, ..Stage::whole(52) }), (50.0, 36.0));
    let laid = register(&old, &upside_down).expect("one board");
    let (x, y) = laid.map.map(10.0, 5.0);
    // Turned by a half, a place lies as far from the other corner.
    assert!(laid.quarters == 2 && (x - 40.0).hypot(y - 31.0) < 0.05, "{} {x} {y}", laid.quarters);
    let quarter = seen(&make_at(&recipe, Stage { quarters: 1, ..Stage::whole(53) }), (36.0, 50.0));
    let laid = register(&old, &quarter).expect("one board");
    // Turned clockwise, the left edge lies at the top: x is the height less y.
    let (x, y) = laid.map.map(10.0, 5.0);
    assert!(laid.quarters == 1 && (x - 31.0).hypot(y - 10.0) < 0.05, "{} {x} {y}", laid.quarters);
}

#[test]
fn what_can_t_be_laid_over_each_other() {
    let of = |recipe: &Recipe, photo: u64| seen(&make_at(recipe, Stage::whole(photo)), recipe.board_mm);
    let one = of(&recipe(3), 54);
    assert_eq!(register(&one, &of(&recipe(8), 55)), Err(RegisterError::OtherBoard));
    let white = |seed| Recipe { brush: 0.0, grain: 0.0, pattern: Pattern::Whole, ..recipe(seed) };
    assert_eq!(register(&of(&white(3), 56), &of(&white(3), 57)), Err(RegisterError::NothingShared));
    let long = Recipe { board_mm: (50.0, 25.0), ..recipe(3) };
    assert!(matches!(register(&one, &of(&long, 58)), Err(RegisterError::Sides { .. })));
}
