//! The map that makes two pictures most alike, from a map that is nearly right.

use nalgebra::{DMatrix, DVector, Matrix4, Vector4};
use rayon::prelude::*;

use super::texture::{Layer, inside, pixels};
use crate::homography::Homography;
use crate::plane::{Plane, share_below};

/// How free a map is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Shape {
    /// Straight lines stay straight, parallel ones parallel.
    Affine,
    /// Straight lines stay straight.
    Perspective,
}

impl Shape {
    /// Numbers of the map, with gain and offset.
    const fn unknowns(self) -> usize {
        match self {
            Self::Affine => 8,
            Self::Perspective => ALL,
        }
    }
}

pub(super) struct Fitted {
    /// Millimetres of the newer board to those of the older one.
    pub(super) map: Homography,
    /// Correlation.
    pub(super) likeness: f64,
}

/// Gain, offset and eight numbers of a map.
const ALL: usize = 10;
const ROUNDS: usize = 20;
/// Done when no corner moves by more pixels than this.
const STILL_PX: f64 = 5e-3;
/// A step further than this leads nowhere.
const MOST_STEP_PX: f64 = 30.0;

/// What corners are usually off by, in halves of a side: numbers of a map but its shift are held to that (judgement, no source).
const OFF: f64 = 0.01;
/// Pixels that have their noise in common, since the marks are smoothed (model choice).
const PATCH: f64 = 6.0;
/// The first number that is held: before it come gain, offset and the shift.
const FIRST_HELD: usize = 4;

/// Places from -1 to 1 across the picture and down: numbers of a map are then of like size.
#[derive(Clone, Copy)]
struct Measure {
    half: (f64, f64),
}

impl Measure {
    fn of(picture: &Plane) -> Self {
        let half = |side: usize| (side as f64 - 1.0).max(1.0) / 2.0;
        Self { half: (half(picture.width()), half(picture.height())) }
    }

    const fn of_pixels(self) -> Homography {
        let (a, b) = self.half;
        Homography::from_entries([1.0 / a, 0.0, -1.0, 0.0, 1.0 / b, -1.0, 0.0, 0.0, 1.0])
    }

    const fn to_pixels(self) -> Homography {
        let (a, b) = self.half;
        Homography::from_entries([a, 0.0, a, 0.0, b, b, 0.0, 0.0, 1.0])
    }

    /// What a place tells: its value, 1, and how the value changes with each number of a map.
    fn basis(self, picture: &Plane, x: usize, y: usize) -> [f64; ALL] {
        let (value, gx, gy) = slope(picture, x, y);
        let (gx, gy) = (gx * self.half.0, gy * self.half.1);
        let (u, v) = (x as f64 / self.half.0 - 1.0, y as f64 / self.half.1 - 1.0);
        let along = u * gx + v * gy;
        [value, 1.0, gx, gy, u * gx, v * gx, u * gy, v * gy, -u * along, -v * along]
    }

    /// A small movement in pixels from its eight numbers.
    fn step(self, numbers: &[f64]) -> Option<Homography> {
        let at = |k: usize| numbers.get(k).copied().unwrap_or(0.0);
        let small = Homography::from_entries([1.0 + at(2), at(3), at(0), at(4), 1.0 + at(5), at(1), at(6), at(7), 1.0]);
        let step = self.of_pixels().then(&small).then(&self.to_pixels());
        step.entries().iter().all(|entry| entry.is_finite()).then_some(step)
    }

    /// The eight numbers of a movement in pixels.
    fn numbers(self, movement: &Homography) -> [f64; 8] {
        let [a, b, c, d, e, f, g, h, _] = self.to_pixels().then(movement).then(&self.of_pixels()).entries();
        [c, f, a - 1.0, b, d, e - 1.0, g, h]
    }

    /// How far a movement takes the corners, in pixels.
    fn moves(self, step: &Homography) -> f64 {
        let (w, h) = (2.0 * self.half.0, 2.0 * self.half.1);
        let by = |(x, y): (f64, f64)| {
            let (u, v) = step.map(x, y);
            (u - x).hypot(v - y)
        };
        [(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)].map(by).into_iter().fold(0.0, f64::max)
    }
}

/// A value, and how it changes across and down.
fn slope(picture: &Plane, x: usize, y: usize) -> (f64, f64, f64) {
    let (i, j) = (x as i64, y as i64);
    let at = |dx: i64, dy: i64| f64::from(picture.at(i + dx, j + dy));
    (at(0, 0), (at(1, 0) - at(-1, 0)) / 2.0, (at(0, 1) - at(0, -1)) / 2.0)
}

/// Adds what each row of the picture gives, always in the same order, so that any number of threads sums the same.
fn over_rows<const N: usize>(picture: &Plane, row: impl Fn(usize, &mut [f64; N]) + Sync) -> [f64; N] {
    let rows: Vec<[f64; N]> = (0..picture.height())
        .into_par_iter()
        .map(|y| {
            let mut sums = [0.0; N];
            row(y, &mut sums);
            sums
        })
        .collect();
    rows.iter().fold([0.0; N], |mut all, row| {
        for (sum, value) in all.iter_mut().zip(row) {
            *sum += value;
        }
        all
    })
}

/// The upper half of a square of ten, row by row.
const HALF: usize = ALL * (ALL + 1) / 2;

/// What each pair of numbers has in common, over the places that both pictures have.
fn normal(onto: &Layer, from: &Layer, at: &Homography, measure: Measure) -> DMatrix<f64> {
    let half = over_rows::<HALF>(&onto.picture, |y, sums| {
        for x in 0..onto.picture.width() {
            let (u, v) = at.map(x as f64, y as f64);
            if inside(from, u, v).is_none() {
                continue;
            }
            let basis = measure.basis(&onto.picture, x, y);
            let mut sums = sums.iter_mut();
            for (k, a) in basis.iter().enumerate() {
                for (b, sum) in basis.iter().skip(k).zip(&mut sums) {
                    *sum += a * b;
                }
            }
        }
    });
    let mut half = half.into_iter();
    let mut out = DMatrix::zeros(ALL, ALL);
    for i in 0..ALL {
        for j in i..ALL {
            let value = half.next().unwrap_or(0.0);
            for place in [(i, j), (j, i)] {
                if let Some(entry) = out.get_mut(place) {
                    *entry = value;
                }
            }
        }
    }
    out
}

/// What each number has in common with the older picture as it lies; then that picture's own sum of squares.
fn right(onto: &Layer, from: &Layer, at: &Homography, measure: Measure) -> [f64; ALL + 1] {
    over_rows(&onto.picture, |y, sums| {
        for x in 0..onto.picture.width() {
            let (u, v) = at.map(x as f64, y as f64);
            let Some(value) = inside(from, u, v).map(f64::from) else { continue };
            let basis = measure.basis(&onto.picture, x, y);
            for (sum, a) in sums.iter_mut().zip(basis.into_iter().chain([value])) {
                *sum += a * value;
            }
        }
    })
}

/// Moves a map until both pictures are most alike; `None` if that leads nowhere.
///
/// The older picture as it lies is written as gain times the newer one, an offset, and the newer one's change under a small movement: one
/// linear problem, whose movement is taken back from the map, until it stands still. What the marks leave open stays near `held`.
pub(super) fn fit(onto: &Layer, from: &Layer, map: &Homography, held: &Homography, shape: Shape) -> Option<Fitted> {
    let measure = Measure::of(&onto.picture);
    let mut at = pixels(from, onto, map);
    let back = pixels(from, onto, held).back()?;
    let normal = normal(onto, from, &at, measure);
    let unknowns = shape.unknowns();
    let part = normal.view((0, 0), (unknowns, unknowns)).clone_owned();
    let mut hold = 0.0;
    for round in 0..ROUNDS {
        let right = right(onto, from, &at, measure);
        let own = right.last().copied().unwrap_or(0.0);
        let mut right = DVector::from_iterator(unknowns, right.into_iter().take(unknowns));
        if round == 0 {
            // What gain and offset alone leave over is the noise that the marks are seen through.
            let [both, ..] = right.as_slice() else { return None };
            let left = own - both * both / part.get((0, 0)).copied().unwrap_or(0.0).max(1e-12);
            hold = left.max(0.0) / part.get((1, 1)).copied().unwrap_or(1.0).max(1.0) * PATCH / (OFF * OFF);
        }
        let moved = measure.numbers(&at.then(&back));
        let mut held_part = part.clone();
        for (k, moved) in (FIRST_HELD..unknowns).zip(moved.into_iter().skip(FIRST_HELD - 2)) {
            if let (Some(entry), Some(value)) = (held_part.get_mut((k, k)), right.get_mut(k)) {
                *entry += hold;
                *value += hold * moved;
            }
        }
        let solved = held_part.cholesky()?.solve(&right);
        let (gain, numbers) = solved.as_slice().split_first()?;
        if *gain <= 0.0 {
            return None;
        }
        let numbers: Vec<f64> = numbers.iter().skip(1).map(|number| number / gain).collect();
        let step = measure.step(&numbers)?;
        let moves = measure.moves(&step);
        if moves.is_nan() || moves > MOST_STEP_PX {
            return None;
        }
        at = step.back()?.then(&at);
        if moves < STILL_PX {
            break;
        }
    }
    let entry = |i: usize, j: usize| normal.get((i, j)).copied().unwrap_or(0.0);
    let [both, offset, .., own] = right(onto, from, &at, measure);
    let n = entry(1, 1).max(1.0);
    let spread = (entry(0, 0) - entry(0, 1).powi(2) / n) * (own - offset * offset / n);
    let likeness = if spread > 0.0 { (both - entry(0, 1) * offset / n) / spread.sqrt() } else { 0.0 };
    Some(Fitted { map: onto.to_pixels().then(&at).then(&from.to_mm()), likeness })
}

/// Pieces that the board is parted into along its longer side.
const PIECES: usize = 12;
/// A piece counts when its own place is told to so many pixels (model choice).
const TOLD_PX: f64 = 0.35;
/// Fewest pieces that say anything.
const LEAST_PIECES: usize = 6;

/// What nine of ten pieces of the board lie off by at most, mm; `None` if too few tell it.
pub(super) fn blocks_off(onto: &Layer, from: &Layer, map: &Homography) -> Option<f64> {
    let at = pixels(from, onto, map);
    let (width, height) = (onto.picture.width(), onto.picture.height());
    let side = width.max(height).div_ceil(PIECES).max(24);
    let places: Vec<(usize, usize)> =
        (0..height.div_ceil(side)).flat_map(|row| (0..width.div_ceil(side)).map(move |column| (column * side, row * side))).collect();
    let mut off: Vec<f32> = places
        .into_par_iter()
        .filter_map(|(left, top)| piece_off(onto, from, &at, (left..(left + side).min(width), top..(top + side).min(height))))
        .map(|off| (off / onto.px_per_mm) as f32)
        .collect();
    if off.len() < LEAST_PIECES {
        return None;
    }
    share_below(&mut off, 0.9).map(f64::from)
}

/// How many pixels one piece lies off, if its marks tell it.
fn piece_off(onto: &Layer, from: &Layer, at: &Homography, (across, down): (std::ops::Range<usize>, std::ops::Range<usize>)) -> Option<f64> {
    let (mut normal, mut right, mut own, mut count) = (Matrix4::<f64>::zeros(), Vector4::<f64>::zeros(), 0.0, 0.0);
    for y in down {
        for x in across.clone() {
            let (u, v) = at.map(x as f64, y as f64);
            let Some(value) = inside(from, u, v).map(f64::from) else { continue };
            let (t, gx, gy) = slope(&onto.picture, x, y);
            let basis = Vector4::new(t, 1.0, gx, gy);
            normal += basis * basis.transpose();
            right += basis * value;
            own += value * value;
            count += 1.0;
        }
    }
    let back = normal.cholesky()?;
    let solved = back.solve(&right);
    let left = (own - solved.dot(&right)).max(0.0) / (count - 4.0_f64).max(1.0);
    let inverse = back.inverse();
    let [gain, _, dx, dy] = solved.into();
    let spread = |k: usize| left * inverse.get((k, k)).copied().unwrap_or(0.0);
    let told = ((spread(2) + spread(3)).sqrt() / gain).abs();
    (gain > 0.0 && told < TOLD_PX).then(|| dx.hypot(dy) / gain)
}
