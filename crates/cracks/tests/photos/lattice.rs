//! Made lattices whose every cut and every lost square is known: the truth is the drawing.

use boardmaker::{Crack, Lattice as Drawn, Marks, Pattern, Recipe, make_marked};
use cracks::{BoardSize, Corners, Lattice, LatticeError, LatticeNote, find_lattice, flatten, open_photo};

/// A board of 40 x 34 mm at 19 pixels a millimetre.
fn board(seed: u64) -> Recipe {
    Recipe { board_mm: (40.0, 34.0), photo_px: (830, 710), ..Recipe::usual(seed, Pattern::Whole) }
}

const fn drawn(degrees: f64, spacing_mm: f64) -> Drawn {
    Drawn { middle: (20.8, 16.6), degrees, spacing_mm, width_mm: 0.15, past_mm: 1.5 * spacing_mm }
}

#[expect(clippy::expect_used, reason = "only called by tests")]
fn found(recipe: &Recipe, marks: &Marks, gap_mm: Option<f64>) -> Result<Lattice, LatticeError> {
    let made = make_marked(recipe, &[], marks);
    let photo = open_photo(&made.jpeg).expect("a photo");
    let size = BoardSize { width_mm: recipe.board_mm.0, height_mm: recipe.board_mm.1 };
    let corners = Corners::new(made.corners, photo.width(), photo.height()).expect("corners");
    let flat = flatten(&photo, size, &corners).expect("a board");
    find_lattice(&photo, &flat, gap_mm)
}

/// Some squares of a lattice, scattered.
fn scattered(lattice: &Drawn, count: usize) -> Vec<Vec<(f64, f64)>> {
    (0..count).map(|k| lattice.square(k * 7 % 5, k * 7 / 5 % 5)).collect()
}

// Whole squares: 0, 3, 10 and 20 of 25 are 0, 12, 40 and 80 % by hand. Within 1.5 % of the area; pitch within 1 %, direction within 0.2 degrees.
#[test]
fn whole_squares_that_came_away() {
    for (seed, degrees, spacing, lost, told) in
        [(1, 12.0, 1.0, 0, None), (2, -30.0, 2.0, 3, Some(2.0)), (3, 44.0, 2.0, 10, None), (4, 3.0, 3.0, 20, Some(3.0))]
    {
        let lattice = drawn(degrees, spacing);
        let marks = Marks { cuts: lattice.cuts(), bare: scattered(&lattice, lost), ..Marks::default() };
        let found = found(&board(seed), &marks, told).unwrap_or_else(|why| panic!("{seed}: {why}"));
        let truth = lost as f64 / 25.0;
        assert!((found.gone.value - truth).abs() < 0.015, "{seed}: {:?}", found.gone);
        assert!(found.gone.low <= truth && truth <= found.gone.high, "{seed}: {:?}", found.gone);
        assert!((found.squares_gone.value - lost as f64).abs() < 0.5, "{seed}: {:?}", found.squares_gone);
        assert!((found.gap_mm.value / spacing - 1.0).abs() < 0.01, "{seed}: {:?}", found.gap_mm);
        assert!((found.direction_deg - degrees).abs() < 0.2 && found.off_square_deg < 0.3, "{seed}: {}", found.direction_deg);
        assert_eq!(found.notes.contains(&LatticeNote::Nothing), lost == 0, "{:?}", found.notes);
    }
}

// Strips of a fifth of a square along one cut, all five squares long, twice: of each of ten squares the part from 0.075 mm (half a cut) to
// 0.4 mm of 1.85 mm, 0.1757, by hand; so 10 / 25 of that, 0.0703. The bands beside cuts are left out, which the program takes wider by
// the blur: within 0.012. Held at a slant, in uneven light, blurred and noisy.
#[test]
fn strips_along_cuts_in_a_bad_photo() {
    let lattice = drawn(21.0, 2.0);
    let bare = vec![lattice.part((1.0, 1.2), (0.0, 5.0)), lattice.part((0.0, 5.0), (3.0, 3.2))];
    let marks = Marks { cuts: lattice.cuts(), bare, ..Marks::default() };
    let recipe = Recipe { blur_px: 1.3, noise: 0.015, tilt: 0.03, brush: 0.03, ..board(5) };
    let found = found(&recipe, &marks, Some(2.0)).expect("a lattice");
    assert!((found.gone.value - 0.0703).abs() < 0.012, "{:?}", found.gone);
    assert!((found.along.value - found.gone.value).abs() < 1e-9 && found.squares_gone.value < 0.5);
    assert!((found.gap_mm.value / 2.0 - 1.0).abs() < 0.01);
}

// Earth-red boards as light as the ground: only the colour tells. By luminance 0.2126 r + 0.7152 g + 0.0722 b of both is 0.85 within 1 %.
#[test]
fn colour_alone_tells() {
    let lattice = drawn(-8.0, 2.0);
    let bare = scattered(&lattice, 5);
    let marks = Marks { cuts: lattice.cuts(), bare, under: 0.85, under_tint: [1.17, 0.98, 0.65], ..Marks::default() };
    let told = found(&board(6), &marks, Some(2.0)).expect("a lattice");
    assert!((told.gone.value - 0.2).abs() < 0.015, "{:?}", told.gone);
    // White on white: hardly anything is seen, and it is said that this is no finding.
    let white = Marks { under: 0.85, under_tint: [1.0, 0.985, 0.95], ..marks };
    let told = found(&board(6), &white, Some(2.0)).expect("a lattice");
    let doubted = [LatticeNote::Nothing, LatticeNote::Faint].iter().any(|note| told.notes.contains(note));
    assert!(told.gone.value < 0.03 && told.gone.low <= 0.0 && doubted, "{:?} {:?}", told.gone, told.notes);
}

#[test]
fn what_is_no_lattice() {
    let brushed = Recipe { brush: 0.05, grain: 0.03, ..board(7) };
    assert_eq!(found(&brushed, &Marks::default(), None).map(|_| ()), Err(LatticeError::None));
    let cracked = Recipe { pattern: Pattern::Cells(60), width_mm: 0.2, ..board(8) };
    assert_eq!(found(&cracked, &Marks::default(), None).map(|_| ()), Err(LatticeError::None));
}

// A lattice of 1.5 mm whose second family is turned by 3 degrees more, about its middle: it lies half of that further round and is 3 degrees off
// square. Cuts of 0.15 mm are 2.9 pixels wide, which a blur of 0.9 hardly widens at half height; within half a pixel, 0.03 mm. Its outermost
// cuts cross where the drawing has them; with two gaps more on each side it takes (9 x 1.5)^2 / cos 3 of 40 x 34 mm, 0.134.
#[test]
fn how_a_lattice_lies() {
    let one = Drawn { past_mm: 3.5, ..drawn(7.0, 1.5) };
    let other = Drawn { degrees: 10.0, ..one };
    let cuts: Vec<Crack> = one.cuts().into_iter().take(6).chain(other.cuts().into_iter().skip(6)).collect();
    let cross = |p: (f64, f64), q: (f64, f64)| p.0 * q.1 - p.1 * q.0;
    let ends = |cut: &Crack| (cut.points[0], (cut.points[1].0 - cut.points[0].0, cut.points[1].1 - cut.points[0].1));
    let meets = |first: &Crack, second: &Crack| {
        let ((from, along), (to, across)) = (ends(first), ends(second));
        let share = cross((to.0 - from.0, to.1 - from.1), across) / cross(along, across);
        (from.0 + share * along.0, from.1 + share * along.1)
    };
    let wanted = [(0, 6), (0, 11), (5, 6), (5, 11)].map(|(k, j)| meets(&cuts[k], &cuts[j]));
    let recipe = board(12);
    let made = make_marked(&recipe, &[], &Marks { cuts, ..Marks::default() });
    let mut photo = open_photo(&made.jpeg).expect("a photo");
    let corners = Corners::new(made.corners, photo.width(), photo.height()).expect("corners");
    let flat = flatten(&photo, BoardSize { width_mm: 40.0, height_mm: 34.0 }, &corners).expect("a board");
    let told = find_lattice(&photo, &flat, Some(1.5)).expect("a lattice");
    assert!(
        (told.direction_deg - 8.5).abs() < 0.2 && (told.off_square_deg - 3.0).abs() < 0.3,
        "{} {}",
        told.direction_deg,
        told.off_square_deg
    );
    assert!(told.gap_mm.low <= 1.5 && 1.5 <= told.gap_mm.high && told.gap_mm.high - told.gap_mm.low < 0.03, "{:?}", told.gap_mm);
    assert!(told.cut_mm.is_some_and(|mm| (mm - 0.15).abs() < 0.03), "{:?}", told.cut_mm);
    for (x, y) in wanted {
        let (u, v) = flat.map.map(x, y);
        let off = told.corners.iter().map(|p| (p.x - u).hypot(p.y - v)).fold(f64::INFINITY, f64::min);
        assert!(off < 1.0, "{x} {y}: {off} px off");
    }
    let taken = told.cover(&mut photo, &flat);
    assert!((taken - 0.134).abs() < 0.003, "{taken}");
}

// By hand: six cuts of 16 mm whose ends are moved apart by 0.4 mm more each, so the outermost two differ by 2 mm in 16, 0.125 rad; more
// than 0.07 is no lattice.
#[test]
fn cuts_that_fan_out_are_uneven() {
    let mut fan = drawn(10.0, 2.0).cuts();
    for (k, cut) in fan.iter_mut().enumerate().take(6) {
        if let Some(end) = cut.points.last_mut() {
            end.1 += 0.4 * (k as f64 - 2.5);
        }
    }
    let marks = Marks { cuts: fan, ..Marks::default() };
    assert_eq!(found(&board(10), &marks, Some(2.0)).map(|_| ()), Err(LatticeError::Uneven));
}

/// A lattice of 2 mm whose cuts are all bowed by so many mm over their 13 mm.
fn bowed(by_mm: f64) -> Marks {
    let lattice = drawn(10.0, 2.0);
    let cut = |k: f64, other: bool| {
        let place = |t: f64| {
            let (along, across) = (-0.75 + 6.5 * t, k + by_mm / 2.0 * 4.0 * t * (1.0 - t));
            if other { lattice.place(across, along) } else { lattice.place(along, across) }
        };
        Crack { points: (0..=20).map(|step| place(f64::from(step) / 20.0)).collect(), width_mm: 0.15 }
    };
    let cuts = (0..12).map(|k| cut(f64::from(k % 6), k >= 6)).collect();
    Marks { cuts, ..Marks::default() }
}

// A bow of 1.2 mm over 13 is 0.71 mm over the lattice's 10, 0.36 of a gap: from a straight line a parabola of this height is off by 0.3 of
// it, 0.11 of a gap, by root mean square; more than 0.06 is no lattice. A bow of 0.5 mm is 0.044, and nothing has come away.
#[test]
fn cuts_that_are_bowed_are_uneven_or_leave_the_share_alone() {
    for by_mm in [1.2, 1.8] {
        assert_eq!(found(&board(10), &bowed(by_mm), Some(2.0)).map(|_| ()), Err(LatticeError::Uneven), "{by_mm}");
    }
    for by_mm in [0.2, 0.5] {
        let told = found(&board(10), &bowed(by_mm), Some(2.0)).expect("a lattice");
        assert!(told.gone.value < 0.005 && told.gone.low <= 0.0, "{by_mm}: {:?}", told.gone);
    }
}

// 15 mm of lattice on 20 mm of board: 2.5 mm of ground are left on each side, of which the outermost millimetre is not measured, and the
// nearest 0.75 gaps, 2.25 mm, are not asked.
#[test]
fn a_lattice_without_ground_around_it() {
    let lattice = Drawn { middle: (10.0, 10.0), past_mm: 0.3, ..drawn(2.0, 3.0) };
    let tight = Recipe { board_mm: (20.0, 20.0), photo_px: (440, 440), ..board(11) };
    let marks = Marks { cuts: lattice.cuts(), ..Marks::default() };
    assert_eq!(found(&tight, &marks, Some(3.0)).map(|_| ()), Err(LatticeError::Edge));
}

// At 10 pixels a millimetre a gap of 1 mm is 10 pixels, and 12 are needed; so it is whether the gap is told or tried.
#[test]
fn a_lattice_too_small_and_a_gap_that_none_has() {
    let marks = Marks { cuts: drawn(10.0, 1.0).cuts(), ..Marks::default() };
    let far = Recipe { photo_px: (440, 376), ..board(9) };
    assert_eq!(found(&far, &marks, Some(1.0)).map(|_| ()), Err(LatticeError::Small));
    assert_eq!(found(&far, &marks, None).map(|_| ()), Err(LatticeError::Small));
    for gap in [0.0, 0.49, 10.1, -2.0, f64::NAN] {
        assert_eq!(found(&far, &marks, Some(gap)).map(|_| ()), Err(LatticeError::Gap), "{gap}");
    }
}
