//! What a picture's own texture does by itself: the strongest of its light side, for each direction.
#![expect(clippy::inline_always, reason = "only what is taken into a caller uses the widest instructions that this machine has")]

use fearless_simd::prelude::*;
use fearless_simd::{Level, f32x16};
use rayon::prelude::*;

use crate::mask::Mask;
use crate::plane::{Plane, share_below};
use crate::ridge::{Along, DIRECTIONS, LANES};
use crate::rooms::Rooms;
use crate::strength::SIGMA;
use crate::words::{self, PLACES, ones};

/// Strongest of the texture for each direction, at one size of the picture.
pub(crate) type Texture = [f32; DIRECTIONS];

/// Response below which nothing is a line: one step of eight bits near white is 0.009 of linear light (worked out), and averages go below it.
pub(crate) const LEAST_RESPONSE: f32 = 0.004;
/// Share of the light side that counts as the strongest of the texture.
const STRONGEST: f64 = 0.999;
/// Most pieces across and down that the texture is taken from, and their side in pixels.
const PIECES: (usize, usize) = (6, 4);
const PIECE: usize = 224;
/// A line stands out by itself above this many times the middle of the light side.
const OUT: f32 = 7.0;
/// Pixels around such a line that are left out: the light beside a dark line is no texture.
const AWAY: usize = 6;
/// Places that a strongest thousandth is taken of, at least.
const LEAST_PLACES: usize = 4000;
/// Wide bands are few on a board, so that their strongest thousandth is poorly known: it counts this many times (model choice).
pub(crate) const FEW: f32 = 1.5;

/// Strongest thousandth of a bell over the middle of its own size: 3.09 / 0.674 (worked out).
const BELL: f32 = 4.6;

/// The light side of one piece in one direction: how many places, and the strongest of them.
struct Light {
    places: usize,
    middle: f32,
    strongest: Vec<f32>,
}

/// The strongest thousandth of the light side for each direction, from pieces spread over the board.
pub(crate) fn texture_of(picture: &Plane, margin: usize, level: usize, rooms: &Rooms<Room>) -> Texture {
    let inner = |whole: usize| whole.saturating_sub(2 * margin);
    let (wide, high) = (PIECE.min(inner(picture.width())), PIECE.min(inner(picture.height())));
    let count = |whole: usize, most: usize| (inner(whole) / PIECE).clamp(1, most);
    let (columns, rows) = (count(picture.width(), PIECES.0), count(picture.height(), PIECES.1));
    let place = |k: usize, count: usize, whole: usize, piece: usize| {
        margin + (inner(whole) - piece) * (2 * k + usize::from(count == 1)) / (2 * count.max(2) - 2)
    };
    let instructions = Level::new();
    let found: Vec<Vec<Light>> = (0..columns * rows)
        .into_par_iter()
        .map(|at| {
            let left = place(at % columns, columns, picture.width(), wide);
            let top = place(at / columns, rows, picture.height(), high);
            rooms.with(|room| fearless_simd::dispatch!(instructions, simd => light_of(simd, picture, (left, top), (wide, high), room)))
        })
        .collect();
    let mut texture = [f32::INFINITY; DIRECTIONS];
    texture.par_iter_mut().enumerate().for_each(|(direction, noise)| {
        let all = || found.iter().filter_map(|piece| piece.get(direction));
        let places: usize = all().map(|light| light.places).sum();
        let mut strongest: Vec<f32> = all().flat_map(|light| &light.strongest).copied().collect();
        let above = (places as f64 * (1.0 - STRONGEST)) as usize;
        // Too crowded to tell texture from the light beside cracks: then a wide filter is not used, and the narrow one goes by the middle.
        if places > LEAST_PLACES {
            let share = 1.0 - above as f64 / strongest.len().max(1) as f64;
            let value = share_below(&mut strongest, share.max(0.0)).unwrap_or(0.0);
            *noise = (value * if level == 0 { 1.0 } else { FEW }).max(LEAST_RESPONSE);
        } else if level == 0 {
            let mut middles: Vec<f32> = all().map(|light| light.middle).collect();
            *noise = (BELL * share_below(&mut middles, 0.5).unwrap_or(0.0)).max(LEAST_RESPONSE);
        }
    });
    texture
}

/// What one piece after another is worked out in.
#[derive(Default)]
pub(crate) struct Room {
    along: Along,
    strongest: Vec<f32>,
    means: [Vec<f32>; DIRECTIONS],
}

#[inline(always)]
fn light_of<S: Simd>(simd: S, picture: &Plane, place: (usize, usize), (wide, high): (usize, usize), room: &mut Room) -> Vec<Light> {
    let Room { along, strongest, means } = room;
    means.iter_mut().for_each(Vec::clear);
    along.lines(simd, (picture, SIGMA), place, (wide, high), |_, rows| {
        for (mean, row) in means.iter_mut().zip(rows) {
            mean.extend_from_slice(row.get(..wide).unwrap_or_default());
        }
    });
    let mut near = vec![0; (wide * high).div_ceil(LANES)];
    let middles: Vec<f32> = means
        .iter()
        .map(|mean| {
            let middle = middle_of_light(mean).max(LEAST_RESPONSE / OUT);
            for (near, block) in near.iter_mut().zip(blocks(simd, mean)) {
                *near |= block.simd_gt(OUT * middle).to_bitmask();
            }
            middle
        })
        .collect();
    let set = (0..wide * high).map(|at| near.get(at / LANES).is_some_and(|bits| bits >> (at % LANES) & 1 == 1)).collect();
    let near = Mask::from_rows(wide, high, set).unwrap_or_else(|| Mask::empty(wide, high)).grown(AWAY);
    let places = near.pixels().len() - near.count();
    let near = words::set(near.pixels());
    means
        .iter()
        .zip(middles)
        .map(|(mean, middle)| {
            // A bell has its strongest thousandth at 4.6 times its middle; twice that many places lie above three times the middle.
            let least = -3.0 * middle;
            strongest.clear();
            for (number, block) in blocks(simd, mean).enumerate() {
                let at = number * LANES;
                let beside = near.get(at / PLACES).map_or(0, |word| word >> (at % PLACES));
                let values: [f32; LANES] = (-block).into();
                strongest.extend(ones(block.simd_lt(least).to_bitmask() & !beside).filter_map(|k| values.get(k)));
            }
            Light { places, middle, strongest: strongest.clone() }
        })
        .collect()
}

/// All places in blocks; nought beyond the last.
#[inline(always)]
fn blocks<S: Simd>(simd: S, mean: &[f32]) -> impl Iterator<Item = f32x16<S>> {
    let (whole, rest) = mean.as_chunks::<LANES>();
    let mut last = [0.0; LANES];
    for (to, from) in last.iter_mut().zip(rest) {
        *to = *from;
    }
    let last = (!rest.is_empty()).then_some(last);
    whole.iter().copied().chain(last).map(move |block| f32x16::simd_from(simd, block))
}

/// Numbers are sorted by sign, exponent and three binary places first.
const FIRST_BITS: u32 = 20;
const SORTS: usize = 1 << (32 - FIRST_BITS);

/// The middle of the light side, from every third place; 0 without any.
fn middle_of_light(mean: &[f32]) -> f32 {
    let (threes, rest) = mean.as_chunks::<3>();
    let some = || threes.iter().map(|[first, ..]| *first).chain(rest.first().copied());
    let sort = |value: f32| (value.to_bits() >> FIRST_BITS) as usize;
    // Neighbours are alike: counted in turn in two lists, none waits for the one before.
    let (mut even, mut odd) = ([0_u32; SORTS], [0_u32; SORTS]);
    let count = |counts: &mut [u32; SORTS], value: f32| {
        if let Some(count) = counts.get_mut(sort(value)) {
            *count += 1;
        }
    };
    let (sixes, last) = threes.as_chunks::<2>();
    for [[one, ..], [other, ..]] in sixes {
        count(&mut even, *one);
        count(&mut odd, *other);
    }
    for value in last.iter().map(|[first, ..]| first).chain(rest.first()) {
        count(&mut even, *value);
    }
    for (even, odd) in even.iter_mut().zip(odd) {
        *even += odd;
    }
    // Numbers below zero have the sign's bit, so that theirs are the upper half, the strongest last.
    let light = even.get(SORTS / 2..).unwrap_or_default();
    let Some(last) = light.iter().sum::<u32>().checked_sub(1) else { return 0.0 };
    let mut rank = (0.5 * f64::from(last)).round() as u32;
    for (&count, number) in light.iter().zip(SORTS / 2..) {
        if rank < count {
            let mut alike: Vec<f32> = some().filter(|&value| sort(value) == number).map(|value| -value).collect();
            let rank = rank as usize;
            return if rank < alike.len() { *alike.select_nth_unstable_by(rank, f32::total_cmp).1 } else { 0.0 };
        }
        rank -= count;
    }
    0.0
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::middle_of_light;

    proptest! {
        // By sorting: the middle one of all that are below zero, without their sign.
        #[test]
        fn the_middle_is_the_middle(values in proptest::collection::vec(-1.0_f32..1.0, 1..400)) {
            let mut light: Vec<f32> = values.iter().step_by(3).filter(|value| **value < 0.0).map(|value| -value).collect();
            light.sort_by(f32::total_cmp);
            let known = light.get((0.5 * (light.len().max(1) - 1) as f64).round() as usize).copied().unwrap_or(0.0);
            prop_assert!((middle_of_light(&values) - known).abs() < 1e-9);
        }
    }
}
