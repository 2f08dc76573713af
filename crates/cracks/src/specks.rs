//! Small holes in dark places.

use crate::mask::Mask;

/// Holes up to this many pixels are filled: they would thin to rings.
const SPECK: usize = 12;
/// Holes up to this many are filled where the picture is as dark as a crack: the filters may leave them where wide cracks meet.
const HOLLOW: usize = 60;
/// Light, of the ground's, below which a hole is dark.
pub(crate) const DARK: f32 = 0.6;

/// Fills holes that are no ground.
pub(crate) fn fill_specks(mask: &mut Mask, dark: impl Fn(i64, i64) -> bool) {
    let mut fill = Vec::new();
    let mut last = (-1, -1);
    for (x, y) in mask.places() {
        // Somewhere a small hole is narrow.
        if last.1 == y && x - last.0 > 1 && x - last.0 <= HOLLOW as i64 / 4 {
            let hole = hole(mask, (x - 1, y));
            if hole.len() <= SPECK || hole.iter().all(|&(x, y)| dark(x, y)) {
                fill.extend(hole);
            }
        }
        last = (x, y);
    }
    for (x, y) in fill {
        mask.put(x, y, true);
    }
}

/// Places that a small hole has at most beside its first, to each side.
const AWAY: i64 = HOLLOW as i64;

/// The places of a small hole; none if it is large.
fn hole(mask: &Mask, start: (i64, i64)) -> Vec<(i64, i64)> {
    let mut out = vec![start];
    // A hole that goes farther than this is large: one row of bits for each row of places around the first.
    let mut seen = [0_u128; 2 * HOLLOW + 1];
    let mut new = |x: i64, y: i64| {
        let bit = 1_u128 << (x - start.0 + AWAY);
        seen.get_mut((y - start.1 + AWAY) as usize).is_some_and(|row| {
            let new = *row & bit == 0;
            *row |= bit;
            new
        })
    };
    new(start.0, start.1);
    let mut at = 0;
    while let Some(&(x, y)) = out.get(at) {
        at += 1;
        for (x, y) in [(x, y - 1), (x + 1, y), (x, y + 1), (x - 1, y)] {
            if !mask.has(x, y) && new(x, y) {
                out.push((x, y));
            }
        }
        if out.len() > HOLLOW {
            return Vec::new();
        }
    }
    out
}
