//! Holes in dark places that are no ground.

use rayon::prelude::*;

use crate::mask::Mask;
use crate::runs::Run;

/// Holes up to this many pixels are filled: they would thin to rings.
const SPECK: usize = 12;
/// A hole in the light is looked at where it is narrower than this many pixels: somewhere every small one is.
const NARROW: usize = 15;

/// What is known of a place beside dark ones.
const NEW: u8 = 0;
const HERE: u8 = 1;
const JUDGED: u8 = 2;

/// What counts as a hole.
pub(crate) struct Holes<D> {
    /// Pixels along the picture's border where nothing counts.
    pub(crate) margin: usize,
    /// Whether a place is dark as a crack is.
    pub(crate) dark: D,
    /// A dark hole may touch the margin over this many pixels: a crack runs out of the picture, a dark edge runs along it.
    pub(crate) open: usize,
}

impl<D: Fn(i64, i64) -> bool + Sync> Holes<D> {
    /// Fills holes that are no ground: small ones, and those that are dark all over, which the filters leave amid wide cracks and where they
    /// meet.
    pub(crate) fn fill(&self, mask: &mut Mask) {
        let mut fill = Vec::new();
        let mut marks = vec![NEW; mask.pixels().len()];
        let starts: Vec<Vec<i64>> = mask.runs().par_iter().enumerate().map(|(y, runs)| self.starts(runs, y as i64)).collect();
        for (starts, y) in starts.into_iter().zip(0_i64..) {
            for x in starts {
                fill.extend(self.hole(mask, &mut marks, (x, y)));
            }
        }
        for (x, y) in fill {
            mask.put(x, y, true);
        }
    }

    /// Places of a row beside its dark runs where a hole may begin.
    fn starts(&self, runs: &[Run], y: i64) -> Vec<i64> {
        let mut out = Vec::new();
        let mut before = None;
        for run in runs {
            let left = run.left as i64 - 1;
            if before.is_some_and(|right| run.left - right < NARROW) || (self.dark)(left, y) {
                out.push(left);
            }
            before = Some(run.right);
        }
        // A hole may be open to the right.
        out.extend(before.map(|right| right as i64).filter(|&right| (self.dark)(right, y)));
        out
    }

    /// The places of a hole that is met for the first time and is small or dark; none if it is neither, or was judged.
    fn hole(&self, mask: &Mask, marks: &mut [u8], start: (i64, i64)) -> Vec<(i64, i64)> {
        let (width, height, margin) = (mask.width() as i64, mask.height() as i64, self.margin as i64);
        let index = |(x, y): (i64, i64)| (y * width + x) as usize;
        let mut out = Vec::new();
        let mut mark =
            |place: (i64, i64), as_now: u8| marks.get_mut(index(place)).map_or(JUDGED, |mark| std::mem::replace(mark, (*mark).max(as_now)));
        let beyond = |(x, y): (i64, i64)| x < margin || y < margin || x + margin >= width || y + margin >= height;
        if !beyond(start) && mark(start, HERE) == NEW {
            out.push(start);
        }
        let (mut at, mut met_ground, mut all_dark, mut open) = (0, false, true, 0);
        let is_ground = |size: usize, all_dark: bool, open: usize| open > self.open || (!all_dark && (size > SPECK || open > 0));
        'all: while let Some(&(x, y)) = out.get(at) {
            at += 1;
            all_dark &= (self.dark)(x, y);
            if is_ground(out.len(), all_dark, open) {
                break;
            }
            for (x, y) in [(x, y - 1), (x + 1, y), (x, y + 1), (x - 1, y)] {
                if mask.has(x, y) {
                    continue;
                }
                if beyond((x, y)) {
                    open += 1;
                    continue;
                }
                match mark((x, y), HERE) {
                    NEW => out.push((x, y)),
                    HERE => {}
                    // A hole is judged whole: what meets ground that was judged is ground.
                    _ => {
                        mark((x, y), JUDGED);
                        met_ground = true;
                        break 'all;
                    }
                }
            }
        }
        for &place in &out {
            mark(place, JUDGED);
        }
        if met_ground || is_ground(out.len(), all_dark, open) { Vec::new() } else { out }
    }
}

#[cfg(test)]
mod tests {
    use super::{Holes, SPECK};
    use crate::mask::Mask;

    // A black field with holes of known sizes, drawn by hand: up to 12 places are filled in any light, all where it is dark all over.
    #[test]
    fn small_holes_and_dark_ones_are_filled() {
        for (wide, high, light_at, filled) in [
            (3, 4, Some(11), true),
            (13, 1, Some(11), false),
            (13, 1, None, true),
            (6, 10, None, true),
            (50, 20, None, true),
            (50, 20, Some(10), false),
            (50, 20, Some(59), false),
        ] {
            let mut mask = Mask::from_rows(80, 40, vec![true; 3200]).expect("a field");
            for y in 10..10 + high {
                for x in 10..10 + wide {
                    mask.put(x, y, false);
                }
            }
            Holes { margin: 0, dark: |x, _| Some(x) != light_at, open: 0 }.fill(&mut mask);
            assert_eq!(mask.has(12, 10), filled, "{wide} by {high}, light at {light_at:?}, of at most {SPECK}");
            assert_eq!(mask.count(), if filled { 3200 } else { 3200 - (wide * high) as usize });
        }
    }

    // A dark strip 5 pixels high that runs out of the picture on one side is filled up to the margin; one that opens wider is no hole, and
    // neither is light.
    #[test]
    fn a_crack_may_run_out_of_the_picture() {
        for (margin, open, dark, filled) in [(0, 5, true, 35), (4, 5, true, 31), (0, 4, true, 0), (0, 5, false, 0)] {
            let mut mask = Mask::from_rows(40, 20, vec![true; 800]).expect("a field");
            for (x, y) in (5..40).flat_map(|x| (8..13).map(move |y| (x, y))) {
                mask.put(x, y, false);
            }
            // In the margin nothing is a line.
            for (x, y) in (0..40).flat_map(|x| (0..20).map(move |y| (x, y))) {
                if x < margin || y < margin || x + margin >= 40 || y + margin >= 20 {
                    mask.put(x, y, false);
                }
            }
            let before = mask.count();
            Holes { margin: margin as usize, dark: |_, _| dark, open }.fill(&mut mask);
            assert_eq!(mask.count() - before, filled * 5, "margin {margin}, open {open}, dark {dark}");
        }
    }
}
