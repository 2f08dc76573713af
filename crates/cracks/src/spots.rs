//! What is no line: pinholes and islands between cracks.

use rayon::prelude::*;

use crate::flatten::Flat;
use crate::lines::{Lines, MARGIN_MM};
use crate::mask::Mask;

/// A round dark spot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pinhole {
    /// Pixels from the left.
    pub x: f64,
    /// Pixels from the top.
    pub y: f64,
    /// Across, in mm.
    pub across_mm: f64,
}

/// Smallest pinhole that is counted, in pixels across.
const LEAST_ACROSS_PX: f64 = 2.5;

/// Round places darker than half-way to the darkest near them, away from cracks.
pub(crate) fn pinholes(flat: &Flat, lines: &Lines, depth: f64) -> Vec<Pinhole> {
    let (width, height) = (flat.picture.width(), flat.picture.height());
    let margin = (MARGIN_MM * flat.px_per_mm) as usize;
    let level = 1.0 - (0.5 * depth) as f32;
    let mut set = vec![false; width * height];
    let rows = set.par_chunks_exact_mut(width.max(1)).zip(lines.mask.pixels().par_chunks_exact(width.max(1))).enumerate();
    rows.filter(|(y, _)| (margin..height.saturating_sub(margin)).contains(y)).for_each(|(y, (dark, line))| {
        let inside = margin..width.saturating_sub(margin).max(margin);
        let row = flat.picture.row(y).iter().zip(line).skip(margin);
        for (dark, (&value, &line)) in dark.get_mut(inside).unwrap_or_default().iter_mut().zip(row) {
            *dark = value < level && !line;
        }
    });
    let dark = Mask::from_rows(width, height, set).unwrap_or_else(|| Mask::empty(0, 0));
    let near = |x: i64, y: i64| (-2..=2).any(|dy| (-2..=2).any(|dx| lines.mask.has(x + dx, y + dy)));
    dark.groups(true)
        .into_iter()
        .filter_map(|group| {
            let count = group.len() as f64;
            let (sx, sy) = group.iter().fold((0.0, 0.0), |(sx, sy), &(x, y)| (sx + f64::from(x), sy + f64::from(y)));
            let (x, y) = (sx / count, sy / count);
            let across = 2.0 * (count / std::f64::consts::PI).sqrt();
            let far = group.iter().map(|&(px, py)| (f64::from(px) - x).hypot(f64::from(py) - y)).fold(0.0, f64::max);
            let round = across >= LEAST_ACROSS_PX && far <= 0.5 * across * 1.5 + 0.5;
            (round && !group.iter().any(|&(x, y)| near(i64::from(x), i64::from(y)))).then_some(Pinhole {
                x,
                y,
                across_mm: across / flat.px_per_mm,
            })
        })
        .collect()
}

/// Steps a millimetre in which islands are counted.
const ISLAND_STEPS: f64 = 6.0;

/// Areas in mm2 of the pieces of ground that cracks part, inside of the margin; below 1 mm2 nothing is counted.
pub(crate) fn islands(flat: &Flat, lines: &Lines) -> Vec<f64> {
    let step = (flat.px_per_mm / ISLAND_STEPS).floor().max(1.0) as usize;
    let (width, height) = (flat.picture.width() / step, flat.picture.height() / step);
    let margin = (MARGIN_MM * flat.px_per_mm / step as f64).round() as usize;
    let mut ground = Mask::empty(width, height);
    for y in margin..height.saturating_sub(margin) {
        for x in margin..width.saturating_sub(margin) {
            ground.put(x as i64, y as i64, true);
        }
    }
    // The dark places themselves: middle lines end before the margin and would leave a way round.
    for (x, y) in lines.mask.places() {
        ground.put(x / step as i64, y / step as i64, false);
    }
    let per = (flat.px_per_mm / step as f64).powi(2);
    ground.groups(false).into_iter().map(|group| group.len() as f64 / per).filter(|&area| area >= 1.0).collect()
}
