//! The board seen straight on, in even light.
#![expect(clippy::inline_always, reason = "only what is taken into a caller uses the widest instructions that this machine has")]

use fearless_simd::prelude::*;
use fearless_simd::{Level, f32x16, i32x16};
use rayon::prelude::*;
use thiserror::Error;

use crate::corners::Corners;
use crate::decode::{Light, Photo};
use crate::edge::blur;
use crate::homography::Homography;
use crate::plane::{Plane, share_below};
use crate::ridge::LANES;
use crate::rooms::Rooms;

/// How large the board is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BoardSize {
    /// Millimetres along its upper edge.
    pub width_mm: f64,
    /// Millimetres along its left edge.
    pub height_mm: f64,
}

/// Why the board could not be laid flat.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum FlatError {
    /// A size that no board has.
    #[error("say the size of the board as it lies in the photo, across first, such as `200x250mm`; between 10 and 3000 mm")]
    Size,
    /// Sides that don't fit the size.
    #[error(
        "in the photo the board is {photo} times as wide as high, by its size {typed} times: say its size across first, or check the corners"
    )]
    Shape {
        /// Width over height in the photo, two digits.
        photo: String,
        /// Width over height as typed.
        typed: String,
    },
    /// Fewer pixels than a crack needs.
    #[error("the board is too small in the photo: go nearer, so that it fills the frame")]
    Far,
    /// No light.
    #[error("the board is too dark in the photo: more light, or a longer exposure")]
    Dark,
    /// Too much light.
    #[error("more than a fifth of the board is burnt out to white: turn the board or the lamp so that nothing shines, and expose less")]
    Glare,
}

/// The board straight on: its ground is near 1, its cracks are darker.
#[derive(Debug, Clone)]
pub struct Flat {
    /// Light, evened out.
    pub picture: Plane,
    /// Pixels a millimetre.
    pub px_per_mm: f64,
    /// From millimetres on the board to pixels of the photo.
    pub map: Homography,
    /// Least and most photo pixels a millimetre, over the board.
    pub local_px_per_mm: (f64, f64),
    /// Deviation of the blur, in pixels of `picture`; `None` if no edge of the board could be used.
    pub blur_px: Option<f64>,
    /// Share of the board's pixels with a channel at its end.
    pub clipped: f64,
    /// Median light of the board, 0 to 1.
    pub light: f64,
}

const LEAST_PX_PER_MM: f64 = 2.0;
/// Memory that a photo and its measuring may take together, in bytes: what a desk of ten years has to spare (judgement, no source). A
/// photo with more pixels than this leaves room for is laid straight more coarsely.
const MOST_BYTES: f64 = 540.0e6;
/// Bytes that measuring takes for each pixel of the straightened picture (measured, with a little to spare).
const BYTES_A_PIXEL: f64 = 23.0;
/// Light below which camera noise drowns everything (common practice, no source).
pub(crate) const LEAST_LIGHT: f64 = 0.02;
const MOST_CLIPPED: f64 = 0.2;

/// Lays the board flat, at the photo's own scale, and divides by the light on its ground.
///
/// # Errors
/// See [`FlatError`].
pub fn flatten(photo: &Photo, size: BoardSize, corners: &Corners) -> Result<Flat, FlatError> {
    let usual = |mm: f64| (10.0..=3000.0).contains(&mm);
    if !usual(size.width_mm) || !usual(size.height_mm) {
        return Err(FlatError::Size);
    }
    let [a, b, c, d] = corners.points();
    let (across, down) = (f64::midpoint(a.to(b), d.to(c)), f64::midpoint(a.to(d), b.to(c)));
    let (seen, typed) = (across / down, size.width_mm / size.height_mm);
    if !(0.7..=1.43).contains(&(seen / typed)) {
        let two = |value: f64| ((value * 100.0).round() / 100.0).to_string();
        return Err(FlatError::Shape { photo: two(seen), typed: two(typed) });
    }
    let finest = (across / size.width_mm).max(down / size.height_mm);
    if finest < LEAST_PX_PER_MM {
        return Err(FlatError::Far);
    }
    let most_pixels = (MOST_BYTES - photo.rgb().len() as f64) / BYTES_A_PIXEL;
    let most = (most_pixels / (size.width_mm * size.height_mm)).sqrt();
    let px_per_mm = ((finest * 2.0).floor() / 2.0).min(most);
    let board = [(0.0, 0.0), (size.width_mm, 0.0), (size.width_mm, size.height_mm), (0.0, size.height_mm)];
    let map = Homography::of(board, corners.points().map(|p| (p.x, p.y))).ok_or(FlatError::Size)?;
    let mut local = (f64::INFINITY, 0.0_f64);
    for (x, y) in board {
        let (least, most) = map.stretch(x, y);
        local = (local.0.min(least), local.1.max(most));
    }
    let (width, height) = ((size.width_mm * px_per_mm).round() as usize, (size.height_mm * px_per_mm).round() as usize);
    let light_table = Light::table();
    let ((mut picture, clipped), blur_px) = rayon::join(
        || straightened(photo, &light_table, &map, (width, height), px_per_mm),
        || blur(photo, &light_table, &map, size, px_per_mm),
    );
    let clipped = clipped as f64 / (width * height) as f64;
    let mut some: Vec<f32> = picture.values().iter().copied().step_by(97).collect();
    let light = f64::from(share_below(&mut some, 0.5).unwrap_or(0.0));
    if light < LEAST_LIGHT {
        return Err(FlatError::Dark);
    }
    if clipped > MOST_CLIPPED {
        return Err(FlatError::Glare);
    }
    even_out(&mut picture, px_per_mm);
    Ok(Flat { picture, px_per_mm, map, local_px_per_mm: local, blur_px, clipped, light })
}

/// Pixels of the photo as light, laid straight, and how many of them have a channel at its end. The photo is turned to light once for each
/// tile, since every pixel is read four times.
fn straightened(photo: &Photo, table: &Light, map: &Homography, (width, height): (usize, usize), px_per_mm: f64) -> (Plane, usize) {
    let mut picture = Plane::filled(width, height, 0.0);
    let (instructions, rooms) = (Level::new(), Rooms::<Lit>::default());
    let mm = |k: usize| (k as f64 + 0.5) / px_per_mm;
    let clipped = picture
        .values_mut()
        .par_chunks_mut(width * STRIP)
        .enumerate()
        .map(|(strip, rows)| {
            rooms.with(|light| {
                let top = strip * STRIP;
                let bottom = top + rows.len() / width.max(1);
                let mut clipped = 0;
                for left in (0..width).step_by(TILE) {
                    let right = (left + TILE).min(width);
                    // The tile's corners bound what it reads.
                    let ends = [(left, top), (right - 1, top), (left, bottom - 1), (right - 1, bottom - 1)];
                    light.fill(photo, table, ends.map(|(x, y)| map.map(mm(x), mm(y))));
                    for (y, row) in rows.chunks_exact_mut(width.max(1)).enumerate() {
                        let part = row.get_mut(left..right).unwrap_or_default();
                        let from = (mm(left), mm(top + y));
                        clipped +=
                            fearless_simd::dispatch!(instructions, simd => light.lay(simd, part, map.entries(), from, 1.0 / px_per_mm));
                    }
                }
                clipped
            })
        })
        .sum();
    (picture, clipped)
}

/// Rows and columns of the straightened picture that are made in one go.
const STRIP: usize = 64;
const TILE: usize = 512;

/// A piece of a photo as light; a pixel with a channel at its end carries a minus.
#[derive(Default)]
struct Lit {
    left: f64,
    top: f64,
    width: usize,
    rows: usize,
    values: Vec<f32>,
}

impl Lit {
    /// Takes in what lies between these places, and a little around.
    fn fill(&mut self, photo: &Photo, table: &Light, ends: [(f64, f64); 4]) {
        let span = |get: fn(&(f64, f64)) -> f64, end: usize| {
            let most = end as i64 - 1;
            let first = ends.iter().map(get).fold(f64::INFINITY, f64::min).floor() as i64 - 1;
            let last = ends.iter().map(get).fold(f64::NEG_INFINITY, f64::max).ceil() as i64 + 2;
            (first.clamp(0, (most - 1).max(0)) as usize, last.clamp(1.min(most), most) as usize)
        };
        let ((left, right), (top, bottom)) = (span(|end| end.0, photo.width()), span(|end| end.1, photo.height()));
        (self.left, self.top, self.width, self.rows) = (left as f64, top as f64, right + 1 - left, bottom + 1 - top);
        self.values.clear();
        for y in top..=bottom {
            let from = y * photo.width();
            let part = photo.rgb().get((from + left) * 3..(from + right + 1) * 3).unwrap_or_default();
            let (pixels, _) = part.as_chunks::<3>();
            self.values
                .extend(pixels.iter().map(|&[r, g, b]| if r.max(g).max(b) == 255 { -table.of([r, g, b]) } else { table.of([r, g, b]) }));
        }
    }

    /// A row of light that begins at a place in mm and goes on by a step; how many of its pixels have a channel at its end.
    #[inline(always)]
    fn lay<S: Simd>(&self, simd: S, row: &mut [f32], [a, b, c, d, e, f, g, h, i]: [f64; 9], (x, y): (f64, f64), step: f64) -> usize {
        let (most_x, most_y) = (self.width as f32 - 1.001, (self.rows as f32 - 1.001).max(0.0));
        let (mut right, mut down, mut at) = ([0.0_f32; BLOCK], [0.0_f32; BLOCK], [0_i32; BLOCK]);
        let [mut p, mut q, mut r, mut s] = [[0.0_f32; BLOCK]; 4];
        let mut clipped = 0_i32;
        for (block, out) in row.chunks_mut(BLOCK).enumerate() {
            let x = x + (block * BLOCK) as f64 * step;
            let (u, v, w) = (a * x + b * y + c, d * x + e * y + f, g * x + h * y + i);
            for (k, (right, down)) in (0_i32..).zip(right.iter_mut().zip(&mut down)) {
                let along = f64::from(k) * step;
                let w = 1.0 / (w + g * along);
                *right = clamped(((u + a * along) * w - self.left) as f32, most_x);
                *down = clamped(((v + d * along) * w - self.top) as f32, most_y);
            }
            let sixteens = right.as_chunks_mut::<LANES>().0.iter_mut().zip(down.as_chunks_mut::<LANES>().0);
            for ((right, down), at) in sixteens.zip(at.as_chunks_mut::<LANES>().0) {
                let [across, below] = [&*right, &*down].map(|part| f32x16::simd_from(simd, *part));
                let (column, line): (i32x16<S>, i32x16<S>) = (across.to_int(), below.to_int());
                *right = (across - column.to_float::<f32x16<S>>()).into();
                *down = (below - line.to_float::<f32x16<S>>()).into();
                *at = (line * self.width as i32 + column).into();
            }
            for (((at, (p, q)), r), s) in at.iter().zip(p.iter_mut().zip(&mut q)).zip(&mut r).zip(&mut s) {
                let two = |from: usize| self.values.get(from..).and_then(<[f32]>::first_chunk::<2>).copied().unwrap_or_default();
                ([*p, *q], [*r, *s]) = (two(*at as usize), two(*at as usize + self.width));
            }
            let fours = p.iter().zip(&q).zip(r.iter().zip(&s));
            for ((out, ((p, q), (r, s))), (right, down)) in out.iter_mut().zip(fours).zip(right.iter().zip(&down)) {
                clipped += i32::from(*p < 0.0);
                let [p, q, r, s] = [p, q, r, s].map(|light| light.abs());
                *out = (p + (q - p) * right) * (1.0 - down) + (r + (s - r) * right) * down;
            }
        }
        clipped as usize
    }
}

#[inline(always)]
fn clamped(value: f32, most: f32) -> f32 {
    let value = if value > 0.0 { value } else { 0.0 };
    if value < most { value } else { most }
}

/// Places that are worked out before they are read.
const BLOCK: usize = 64;

/// Divides by the ground's own light: a high share of the pixels around, smoothed, drawn large again.
fn even_out(picture: &mut Plane, px_per_mm: f64) {
    let cell = (1.5 * px_per_mm).round().max(4.0) as usize;
    let (width, height) = (picture.width(), picture.height());
    let (columns, rows) = (width.div_ceil(cell).max(1), height.div_ceil(cell).max(1));
    let coarse: Vec<f32> = (0..rows * columns)
        .into_par_iter()
        .map(|at| {
            let (cx, cy) = ((at % columns * cell) as i64, (at / columns * cell) as i64);
            let half = cell as i64 / 2;
            let step = (cell / 8).max(1);
            let mut values = Vec::new();
            for y in (cy - half..cy + cell as i64 + half).step_by(step) {
                for x in (cx - half..cx + cell as i64 + half).step_by(step) {
                    values.push(picture.at(x, y));
                }
            }
            share_below(&mut values, 0.7).unwrap_or(1.0)
        })
        .collect();
    let Some(mut coarse) = Plane::from_rows(columns, rows, coarse) else { return };
    for _ in 0..2 {
        let from = coarse.clone();
        for y in 0..rows as i64 {
            for (x, value) in (0_i64..).zip(coarse.row_mut(y as usize)) {
                let mut sum = 0.0;
                for dy in -1..=1 {
                    for dx in -1..=1 {
                        sum += from.at(x + dx, y + dy);
                    }
                }
                *value = sum / 9.0;
            }
        }
    }
    let per = 1.0 / cell as f64;
    picture.values_mut().par_chunks_mut(width).enumerate().for_each(|(y, row)| {
        let cy = (y as f64 + 0.5) * per - 0.5;
        // From the middle of one cell to the next the light is a straight line.
        let at = |column: i64| coarse.between(column as f64, cy).max(1e-4);
        let (first, rest) = row.split_at_mut((cell / 2).min(row.len()));
        let (edge, per) = (at(0), per as f32);
        for value in first {
            *value /= edge;
        }
        let shift = (cell as f32 / 2.0).fract();
        for (column, run) in (0_i64..).zip(rest.chunks_mut(cell)) {
            let (left, right) = (at(column), at(column + 1));
            for (k, value) in (0_u16..).zip(run) {
                *value /= left + (right - left) * (f32::from(k) + 0.5 - shift) * per;
            }
        }
    });
}
