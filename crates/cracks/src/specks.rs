//! Small holes in dark places.

use crate::mask::Mask;

/// Holes up to this many pixels are filled: they would thin to rings.
const SPECK: usize = 12;
/// Holes up to this many are filled where the picture is as dark as a crack: the filters may leave them where wide cracks meet.
const HOLLOW: usize = 60;
/// Light, of the ground's, below which a hole is dark.
pub(crate) const DARK: f32 = 0.6;

/// What is known of a place beside dark ones.
const NEW: u8 = 0;
const HERE: u8 = 1;
const JUDGED: u8 = 2;

/// Fills holes that are no ground.
pub(crate) fn fill_specks(mask: &mut Mask, dark: impl Fn(i64, i64) -> bool) {
    let mut fill = Vec::new();
    let mut marks = vec![NEW; mask.pixels().len()];
    for (runs, y) in mask.runs().iter().zip(0_i64..) {
        for two in runs.windows(2) {
            let [before, after] = two else { continue };
            // Somewhere a small hole is narrow.
            if after.left - before.right < HOLLOW / 4 {
                let hole = hole(mask, &mut marks, (after.left as i64 - 1, y));
                if hole.len() <= SPECK || hole.iter().all(|&(x, y)| dark(x, y)) {
                    fill.extend(hole);
                }
            }
        }
    }
    for (x, y) in fill {
        mask.put(x, y, true);
    }
}

/// The places of a small hole that is met for the first time; none if it is large or was judged.
fn hole(mask: &Mask, marks: &mut [u8], start: (i64, i64)) -> Vec<(i64, i64)> {
    let (width, height) = (mask.width() as i64, mask.height() as i64);
    let index = |(x, y): (i64, i64)| (y * width + x) as usize;
    let mut out = Vec::new();
    let mut mark =
        |place: (i64, i64), as_now: u8| marks.get_mut(index(place)).map_or(JUDGED, |mark| std::mem::replace(mark, (*mark).max(as_now)));
    if mark(start, HERE) == NEW {
        out.push(start);
    }
    let (mut at, mut large) = (0, false);
    'all: while let Some(&(x, y)) = out.get(at) {
        at += 1;
        for (x, y) in [(x, y - 1), (x + 1, y), (x, y + 1), (x - 1, y)] {
            if mask.has(x, y) {
                continue;
            }
            // A small hole is judged whole: one that meets what is judged, or the picture's border, is a large one.
            let inside = x >= 0 && y >= 0 && x < width && y < height;
            match if inside { mark((x, y), HERE) } else { JUDGED } {
                NEW if out.len() < HOLLOW => out.push((x, y)),
                HERE => {}
                _ => {
                    if inside {
                        mark((x, y), JUDGED);
                    }
                    large = true;
                    break 'all;
                }
            }
        }
    }
    for &place in &out {
        mark(place, JUDGED);
    }
    if large { Vec::new() } else { out }
}

#[cfg(test)]
mod tests {
    use super::{HOLLOW, SPECK, fill_specks};
    use crate::mask::Mask;

    // A black field with holes of known sizes, drawn by hand: up to 12 places are filled in any light, up to 60 where it is dark.
    #[test]
    fn small_holes_are_filled() {
        for (wide, high, dark, filled) in
            [(3, 4, false, true), (13, 1, false, false), (13, 1, true, true), (6, 10, true, true), (61, 1, true, false)]
        {
            let mut mask = Mask::from_rows(80, 40, vec![true; 3200]).expect("a field");
            for y in 10..10 + high {
                for x in 10..10 + wide {
                    mask.put(x, y, false);
                }
            }
            fill_specks(&mut mask, |_, _| dark);
            assert_eq!(mask.has(11, 10), filled, "{wide} by {high} of at most {SPECK} or {HOLLOW}");
            assert_eq!(mask.count(), if filled { 3200 } else { 3200 - (wide * high) as usize });
        }
    }
}
