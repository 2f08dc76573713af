//! What a picture's own texture does by itself: the strongest of its light side, for each direction.
#![expect(clippy::inline_always, reason = "only what is taken into a caller uses the widest instructions that this machine has")]

use fearless_simd::Level;
use rayon::prelude::*;

use crate::mask::Mask;
use crate::plane::{Plane, share_below};
use crate::ridge::{DIRECTIONS, Derived, HALO, Turned, along_lines, derivatives};
use crate::strength::SIGMA;

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
pub(crate) fn texture_of(picture: &Plane, margin: usize, level: usize) -> Texture {
    let inner = |whole: usize| whole.saturating_sub(2 * margin);
    let (wide, high) = (PIECE.min(inner(picture.width())), PIECE.min(inner(picture.height())));
    let count = |whole: usize, most: usize| (inner(whole) / PIECE).clamp(1, most);
    let (columns, rows) = (count(picture.width(), PIECES.0), count(picture.height(), PIECES.1));
    let place = |k: usize, count: usize, whole: usize, piece: usize| {
        (margin + (inner(whole) - piece) * (2 * k + usize::from(count == 1)) / (2 * count.max(2) - 2)) as i64
    };
    let instructions = Level::new();
    let found: Vec<Vec<Light>> = (0..columns * rows)
        .into_par_iter()
        .map_init(Room::default, |room, at| {
            let left = place(at % columns, columns, picture.width(), wide);
            let top = place(at / columns, rows, picture.height(), high);
            fearless_simd::dispatch!(instructions, _simd => light_of(picture, (left, top), (wide, high), room))
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
struct Room {
    piece: Plane,
    derived: Derived,
    turned: Turned,
    means: [Vec<f32>; DIRECTIONS],
}

#[inline(always)]
fn light_of(picture: &Plane, (left, top): (i64, i64), (wide, high): (usize, usize), room: &mut Room) -> Vec<Light> {
    let halo = HALO as i64;
    let Room { piece, derived, turned, means } = room;
    picture.piece((left - halo, top - halo), (wide + 2 * HALO, high + 2 * HALO), piece);
    derivatives(piece, SIGMA, derived);
    means.iter_mut().for_each(Vec::clear);
    along_lines(derived, turned, |_, rows| {
        for (mean, row) in means.iter_mut().zip(rows) {
            mean.extend_from_slice(row);
        }
    });
    let mut near = vec![false; wide * high];
    let middles: Vec<f32> = means
        .iter()
        .map(|mean| {
            let middle = middle_of_light(mean).max(LEAST_RESPONSE / OUT);
            for (run, out) in mean.chunks(STRETCH).zip(near.chunks_mut(STRETCH)) {
                if any(run, |value| value > OUT * middle) {
                    for (out, &value) in out.iter_mut().zip(run) {
                        *out |= value > OUT * middle;
                    }
                }
            }
            middle
        })
        .collect();
    let near = Mask::from_rows(wide, high, near).unwrap_or_else(|| Mask::empty(wide, high)).grown(AWAY);
    let places = near.pixels().len() - near.count();
    means
        .iter()
        .zip(middles)
        .map(|(mean, middle)| {
            // A bell has its strongest thousandth at 4.6 times its middle; twice that many places lie above three times the middle.
            let least = -3.0 * middle;
            let mut strongest = Vec::new();
            for (run, near) in mean.chunks(STRETCH).zip(near.pixels().chunks(STRETCH)) {
                if any(run, |value| value < least) {
                    strongest.extend(run.iter().zip(near).filter(|(value, near)| **value < least && !**near).map(|(value, _)| -value));
                }
            }
            Light { places, middle, strongest }
        })
        .collect()
}

/// Places that are passed over in one go where none of them is of use.
const STRETCH: usize = 32;

/// Whether any of them is so; all are asked, which is done for many at a time.
#[inline(always)]
fn any(run: &[f32], so: impl Fn(f32) -> bool) -> bool {
    run.iter().fold(0, |any, &value| any | u32::from(so(value))) != 0
}

/// The middle of the light side, from every third place; 0 without any.
fn middle_of_light(mean: &[f32]) -> f32 {
    let (threes, rest) = mean.as_chunks::<3>();
    let mut some: Vec<f32> = threes.iter().map(|[first, ..]| *first).chain(rest.first().copied()).collect();
    let light = some.iter().map(|&value| usize::from(value < 0.0)).sum::<usize>();
    // Light places are the first in order, the strongest before all: the middle one counted from their end.
    let rank = light.checked_sub(1).map(|last| last - (0.5 * last as f64).round() as usize);
    rank.and_then(|rank| (rank < some.len()).then(|| -*some.select_nth_unstable_by(rank, f32::total_cmp).1)).unwrap_or(0.0)
}
