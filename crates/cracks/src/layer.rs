//! One size of the picture: how strong each place is as a dark line and as a bright one.
#![expect(clippy::inline_always, reason = "only what is taken into a caller uses the widest instructions that this machine has")]

use fearless_simd::prelude::*;
use fearless_simd::{Level, f32x16, i32x16};
use rayon::prelude::*;

use crate::plane::Plane;
use crate::ridge::{Along, DIRECTIONS, LANES};
use crate::rooms::Rooms;
use crate::strength::{SIGMA, STEPS};
use crate::texture::Texture;

/// Responses without their measure, dark and bright, at half the size that they were found at.
pub(crate) struct Raw {
    pub(crate) dark: Plane,
    pub(crate) bright: Plane,
}

impl Raw {
    fn empty(width: usize, height: usize) -> Self {
        Self { dark: Plane::filled(width, height, 0.0), bright: Plane::filled(width, height, 0.0) }
    }

    fn most_around(&self) -> Self {
        Self { dark: most_around(&self.dark), bright: most_around(&self.bright) }
    }
}

/// One size of the picture.
pub(crate) struct Layer {
    pub(crate) width: usize,
    /// Strengths in [`STEPS`].
    pub(crate) dark: Vec<u8>,
    pub(crate) bright: Vec<u8>,
    /// The strongest of this size and all before.
    pub(crate) raw: Raw,
    /// What was found at this size alone: a line close by at another size lends it nothing.
    pub(crate) own: Raw,
}

const TILE_W: usize = 512;
const TILE_H: usize = 128;

impl Layer {
    /// A wide filter answers to a narrow line too, only less than a narrow filter does; so it counts only where it says more than they.
    pub(crate) fn of(picture: &Plane, texture: &Texture, finer: Option<&Raw>, rooms: &Rooms<Room>) -> Self {
        let (width, height) = (picture.width(), picture.height());
        let (half_w, half_h) = (width.div_ceil(2), height.div_ceil(2));
        let (mut dark, mut bright) = (vec![0; width * height], vec![0; width * height]);
        let finer = finer.map(Raw::most_around);
        let (mut raw, mut own) = (Raw::empty(half_w, half_h), Raw::empty(half_w, half_h));
        let instructions = Level::new();
        let half = half_w * TILE_H / 2;
        let dark_halves = raw.dark.values_mut().par_chunks_mut(half).zip(own.dark.values_mut().par_chunks_mut(half));
        let bright_halves = raw.bright.values_mut().par_chunks_mut(half).zip(own.bright.values_mut().par_chunks_mut(half));
        let dark_sides = dark.par_chunks_mut(width * TILE_H).zip(dark_halves);
        let bright_sides = bright.par_chunks_mut(width * TILE_H).zip(bright_halves);
        dark_sides.zip(bright_sides).enumerate().for_each(|(strip, ((dark, dark_halves), (bright, bright_halves)))| {
            rooms.with(|room| {
                let (top, rows) = (strip * TILE_H, dark.len() / width.max(1));
                let (dark_finer, bright_finer) = (finer.as_ref().map(|raw| &raw.dark), finer.as_ref().map(|raw| &raw.bright));
                let mut dark = Side { width, out: dark, raw: dark_halves.0, own: dark_halves.1, finer: dark_finer, top };
                let mut bright = Side { width, out: bright, raw: bright_halves.0, own: bright_halves.1, finer: bright_finer, top };
                for left in (0..width).step_by(TILE_W) {
                    let columns = TILE_W.min(width - left);
                    let part = Part { picture, left, top, columns, rows };
                    fearless_simd::dispatch!(instructions, simd => tile(simd, room, &part, texture, (&mut dark, &mut bright)));
                }
            });
        });
        Self { width, dark, bright, raw, own }
    }
}

/// What one tile after another is worked out in.
#[derive(Default)]
pub(crate) struct Room {
    along: Along,
    darker: Rows,
    brighter: Rows,
}

/// The dark or the bright side of a strip of rows.
struct Side<'a> {
    width: usize,
    out: &'a mut [u8],
    raw: &'a mut [f32],
    own: &'a mut [f32],
    finer: Option<&'a Plane>,
    top: usize,
}

/// One row of a side within a tile: by the texture's measure and raw; and two rows of what becomes one place of the halves.
#[derive(Default)]
struct Rows {
    strong: Vec<f32>,
    raw: Vec<f32>,
    narrow: Vec<f32>,
    own_two: Vec<f32>,
    raw_two: Vec<f32>,
}

impl Rows {
    fn begin(&mut self, columns: usize) {
        let Self { strong, raw, narrow, own_two, raw_two } = self;
        for row in [strong, raw, narrow, own_two, raw_two] {
            row.clear();
            row.resize(columns.next_multiple_of(2 * LANES), 0.0);
        }
    }
}

/// A part of a picture.
struct Part<'a> {
    picture: &'a Plane,
    left: usize,
    top: usize,
    columns: usize,
    rows: usize,
}

/// Strengths of one tile, into both sides.
#[inline(always)]
fn tile<S: Simd>(simd: S, room: &mut Room, part: &Part, texture: &Texture, (dark, bright): (&mut Side, &mut Side)) {
    let Room { along, darker, brighter } = room;
    let &Part { picture, left, top, columns, rows } = part;
    darker.begin(columns);
    brighter.begin(columns);
    let per = texture.map(|texture| 1.0 / texture);
    along.lines(
        simd,
        (picture, SIGMA),
        (left, top),
        (columns, rows),
        #[inline(always)]
        |y, means| {
            strongest(simd, means, per, darker, brighter);
            dark.keep(simd, darker, (left, columns), y);
            bright.keep(simd, brighter, (left, columns), y);
            if y % 2 == 1 || y + 1 == rows {
                dark.halve(simd, darker, (left, columns), y / 2);
                bright.halve(simd, brighter, (left, columns), y / 2);
            }
        },
    );
}

#[inline(always)]
fn more(a: f32, b: f32) -> f32 {
    if a > b { a } else { b }
}

/// The strongest direction at each place of a row.
#[inline(always)]
fn strongest<S: Simd>(simd: S, means: &[Vec<f32>; DIRECTIONS], per: [f32; DIRECTIONS], dark: &mut Rows, bright: &mut Rows) {
    let (dark_outs, bright_outs) =
        (blocks(&mut dark.strong).zip(blocks(&mut dark.raw)), blocks(&mut bright.strong).zip(blocks(&mut bright.raw)));
    let means = means.each_ref().map(|mean| mean.as_chunks::<LANES>().0);
    for (block, ((dark, dark_raw), (bright, bright_raw))) in dark_outs.zip(bright_outs).enumerate() {
        let [mut high, mut low, mut high_raw, mut low_raw] = [f32x16::splat(simd, 0.0); 4];
        for (mean, per) in means.iter().zip(per) {
            let value = mean.get(block).map_or(f32x16::splat(simd, 0.0), |part| f32x16::simd_from(simd, *part));
            let measured = value * per;
            high = measured.max(high);
            low = measured.min(low);
            high_raw = value.max(high_raw);
            low_raw = value.min(low_raw);
        }
        (*dark, *bright) = (high.into(), (-low).into());
        (*dark_raw, *bright_raw) = (high_raw.into(), (-low_raw).into());
    }
}

/// A row in whole blocks.
#[inline(always)]
fn blocks(row: &mut [f32]) -> impl Iterator<Item = &mut [f32; LANES]> {
    row.as_chunks_mut::<LANES>().0.iter_mut()
}

/// Writes as much of a block as there is room for.
#[inline(always)]
fn put<T: Copy>(to: &mut [T], block: [T; LANES]) {
    if let Some(whole) = to.first_chunk_mut::<LANES>() {
        *whole = block;
    } else {
        for (to, from) in to.iter_mut().zip(block) {
            *to = from;
        }
    }
}

impl Side<'_> {
    /// Writes a row of strengths and takes it into the two rows that are halved.
    #[inline(always)]
    fn keep<S: Simd>(&mut self, simd: S, rows: &mut Rows, (left, columns): (usize, usize), y: usize) {
        let Rows { strong, raw, narrow, own_two, raw_two } = rows;
        if let Some(part) = self.finer.and_then(|finer| finer.row(self.top + y).get(left..left + columns)) {
            narrow.get_mut(..columns).unwrap_or_default().copy_from_slice(part);
        }
        let from = y * self.width + left;
        let outs = self.out.get_mut(from..from + columns).unwrap_or_default().chunks_mut(LANES);
        let found = blocks(strong).zip(blocks(raw)).zip(blocks(narrow));
        for ((to, ((strong, raw), narrow)), (own, two)) in outs.zip(found).zip(blocks(own_two).zip(blocks(raw_two))) {
            let [strong, raw, narrow, own_here, two_here] = [strong, raw, narrow, &*own, &*two].map(|part| f32x16::simd_from(simd, *part));
            let (counts, none) = (raw.simd_gt(narrow), f32x16::splat(simd, 0.0));
            let steps: [i32; LANES] = counts.select(strong * STEPS, none).min(255.0).to_int::<i32x16<S>>().into();
            put(to, steps.map(|steps| steps as u8));
            *own = counts.select(raw, none).max(own_here).into();
            *two = raw.max(narrow).max(two_here).into();
        }
        // What lies beyond the part is none of its own.
        for row in [own_two, raw_two] {
            row.get_mut(columns..).unwrap_or_default().fill(0.0);
        }
    }

    /// Two rows become one, two places one.
    #[inline(always)]
    fn halve<S: Simd>(&mut self, simd: S, rows: &mut Rows, (left, columns): (usize, usize), y: usize) {
        let from = y * self.width.div_ceil(2) + left / 2;
        for (to, rows) in [(&mut *self.own, &mut rows.own_two), (&mut *self.raw, &mut rows.raw_two)] {
            let outs = to.get_mut(from..from + columns.div_ceil(2)).unwrap_or_default().chunks_mut(LANES);
            for (to, [a, b]) in outs.zip(rows.as_chunks::<LANES>().0.as_chunks::<2>().0) {
                let [a, b] = [a, b].map(|part| f32x16::simd_from(simd, *part));
                put(to, a.unzip_low(b).max(a.unzip_high(b)).into());
            }
            rows.fill(0.0);
        }
    }
}

/// The most of each place and its eight neighbours.
pub(crate) fn most_around(plane: &Plane) -> Plane {
    let (width, last) = (plane.width(), plane.height().saturating_sub(1));
    let mut out = Plane::filled(width, plane.height(), 0.0);
    out.values_mut().par_chunks_mut(width.max(1)).enumerate().for_each_init(
        || vec![0.0_f32; width],
        |upright, (y, row)| {
            let (above, here, below) = (plane.row(y.saturating_sub(1)), plane.row(y), plane.row((y + 1).min(last)));
            for (most, (a, (b, c))) in upright.iter_mut().zip(above.iter().zip(here.iter().zip(below))) {
                *most = more(more(*a, *b), *c);
            }
            row.copy_from_slice(upright);
            let (first, rest) = (upright.iter(), upright.iter().skip(1));
            for (out, before) in row.iter_mut().skip(1).zip(first) {
                *out = more(*before, *out);
            }
            for (out, after) in row.iter_mut().zip(rest) {
                *out = more(*after, *out);
            }
        },
    );
    out
}

#[cfg(test)]
mod tests {
    use fearless_simd::Level;

    use super::{Layer, Raw};
    use crate::plane::{Plane, grain};
    use crate::ridge::{Along, DIRECTIONS};
    use crate::rooms::Rooms;
    use crate::strength::{SIGMA, STEPS};

    /// Odd sizes, more than one tile each way.
    const SIZE: (usize, usize) = (531, 141);

    // By definition, place by place, from the averages of the whole picture in one piece: the strongest direction by its texture in steps,
    // nothing where a finer filter says more, and the most of two by two places.
    #[test]
    fn tiles_and_blocks_leave_no_seam() {
        let (width, height) = SIZE;
        let picture = grain(width, height);
        let mut means = vec![Vec::new(); DIRECTIONS];
        let mut along = Along::default();
        fearless_simd::dispatch!(Level::new(), simd => along.lines(simd, (&picture, SIGMA), (0, 0), SIZE, |_, rows| {
            for (all, row) in means.iter_mut().zip(rows) {
                all.extend_from_slice(&row[..width]);
            }
        }));
        let texture: [f32; DIRECTIONS] = std::array::from_fn(|k| 0.01 + 0.002 * k as f32);
        let finer = Raw { dark: Plane::filled(width, height, 0.05), bright: Plane::filled(width, height, 0.02) };
        let layer = Layer::of(&picture, &texture, Some(&finer), &Rooms::default());
        for (sign, narrow, out, raw, own) in [
            (1.0, 0.05_f32, &layer.dark, &layer.raw.dark, &layer.own.dark),
            (-1.0, 0.02, &layer.bright, &layer.raw.bright, &layer.own.bright),
        ] {
            let strongest = |at: usize, measured: bool| {
                let values = means.iter().zip(texture).map(|(mean, texture)| sign * mean[at] * if measured { 1.0 / texture } else { 1.0 });
                values.fold(0.0, f32::max)
            };
            for (at, &out) in out.iter().enumerate() {
                let counts = strongest(at, false) > narrow;
                let known = if counts { (strongest(at, true) * STEPS) as u8 } else { 0 };
                assert_eq!(out, known, "{sign} {at}");
            }
            for (y, x) in (0..height.div_ceil(2)).flat_map(|y| (0..width.div_ceil(2)).map(move |x| (y, x))) {
                let four = [(0, 0), (1, 0), (0, 1), (1, 1)].map(|(dx, dy)| (2 * x + dx, 2 * y + dy));
                let there = || four.into_iter().filter(|&(x, y)| x < width && y < height).map(|(x, y)| strongest(y * width + x, false));
                let known = there().filter(|&value| value > narrow).fold(0.0, f32::max);
                let alike = |plane: &Plane, known: f32| (plane.at(x as i64, y as i64) - known).abs() < 1e-9;
                assert!(alike(own, known), "{sign} own {x} {y}");
                assert!(alike(raw, there().fold(narrow, f32::max)), "{sign} {x} {y}");
            }
        }
    }
}
