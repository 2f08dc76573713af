//! Cracks put right by hand on a made board, where all of them are known.

#![expect(clippy::expect_used, reason = "in a test a panic is the report")]

use boardmaker::{Crack, Made, Pattern, Recipe, make};
use cracks::{BoardSize, Corners, Correction, Look, MARGIN_MM, Point, corrected, look, open_photo};

/// A board of 44 x 40 mm seen from straight above.
const BOARD_MM: (f64, f64) = (44.0, 40.0);
const PHOTO_PX: (usize, usize) = (770, 700);

fn board() -> (Made, Look) {
    let recipe = Recipe { board_mm: BOARD_MM, photo_px: PHOTO_PX, tilt: 0.0, ..Recipe::usual(11, Pattern::Cells(8)) };
    let made = make(&recipe);
    let photo = open_photo(&made.jpeg).expect("a photo");
    let corners = Corners::new(made.corners, photo.width(), photo.height()).expect("corners");
    let size = BoardSize { width_mm: BOARD_MM.0, height_mm: BOARD_MM.1 };
    let look = look(&photo, size, Some(corners)).expect("a board");
    (made, look)
}

/// The longest crack of those that lie inside of the margin altogether.
fn longest(made: &Made) -> &Crack {
    let inside = |&(x, y): &(f64, f64)| {
        x > MARGIN_MM + 0.5 && x < BOARD_MM.0 - MARGIN_MM - 0.5 && y > MARGIN_MM + 0.5 && y < BOARD_MM.1 - MARGIN_MM - 0.5
    };
    let whole = made.cracks.iter().filter(|crack| crack.points.iter().all(inside));
    whole.max_by(|a, b| a.length_mm().total_cmp(&b.length_mm())).expect("a crack away from the rim")
}

/// Places of a crack in the photo: seen from straight above, a millimetre is as many pixels everywhere.
fn in_photo(made: &Made, crack: &Crack) -> Vec<Point> {
    let [(left, top), (right, _), ..] = made.corners;
    let px = (right - left) / BOARD_MM.0;
    crack.points.iter().map(|(x, y)| Point { x: left + x * px, y: top + y * px }).collect()
}

/// All crack that the look has, in mm.
fn length_mm(look: &Look) -> f64 {
    look.length.value * look.measured_mm2
}

#[test]
fn a_crack_rubbed_out_is_gone_and_drawn_in_it_is_back() {
    let (made, look) = board();
    let (crack, by_itself) = (longest(&made), length_mm(&look));
    let places = in_photo(&made, crack);
    let rubbed = Correction { rubbed: vec![(places.clone(), 6.0)], ..Correction::default() };
    let without = corrected(look.clone(), &rubbed);
    // What is gone is that crack and, where it met others, at most the rubber's reach of each of them: 6 px are 0.4 mm.
    let gone = by_itself - length_mm(&without);
    assert!(gone > 0.85 * crack.length_mm() && gone < crack.length_mm() + 4.0, "{gone} mm of {} mm", crack.length_mm());

    let ends = [places.first(), places.last()].into_iter().flatten().copied().collect();
    let again = corrected(look.clone(), &Correction { drawn: vec![ends], ..rubbed });
    let back = length_mm(&again) - length_mm(&without);
    assert!((back / crack.length_mm() - 1.0).abs() < 0.15, "{back} mm of {} mm", crack.length_mm());
    // The doubt grows by a millimetre for the two ends of what was drawn.
    assert!(again.length.low < again.length.value && again.length.high > again.length.value);
    let same = length_mm(&corrected(look, &Correction::default()));
    assert!((same - by_itself).abs() < 1e-12, "nothing put right is nothing changed");
}
