//! What is no line: pinholes and islands between cracks.

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
    let margin = (MARGIN_MM * flat.px_per_mm) as i64;
    let level = 1.0 - (0.5 * depth) as f32;
    let mut dark = Mask::empty(width, height);
    for y in margin..height as i64 - margin {
        for (x, &value) in (0_i64..).zip(flat.picture.row(y as usize)) {
            if value < level && x >= margin && x < width as i64 - margin {
                dark.put(x, y, true);
            }
        }
    }
    let near = lines.mask.grown(2);
    dark.groups(true)
        .into_iter()
        .filter(|group| group.iter().all(|&(x, y)| !near.has(i64::from(x), i64::from(y))))
        .filter_map(|group| {
            let count = group.len() as f64;
            let (sx, sy) = group.iter().fold((0.0, 0.0), |(sx, sy), &(x, y)| (sx + f64::from(x), sy + f64::from(y)));
            let (x, y) = (sx / count, sy / count);
            let across = 2.0 * (count / std::f64::consts::PI).sqrt();
            let far = group.iter().map(|&(px, py)| (f64::from(px) - x).hypot(f64::from(py) - y)).fold(0.0, f64::max);
            (across >= LEAST_ACROSS_PX && far <= 0.5 * across * 1.5 + 0.5).then_some(Pinhole { x, y, across_mm: across / flat.px_per_mm })
        })
        .collect()
}

/// Areas in mm2 of the pieces of ground that cracks part, inside of the margin; below 1 mm2 nothing is counted.
pub(crate) fn islands(flat: &Flat, lines: &Lines) -> Vec<f64> {
    let (width, height) = (flat.picture.width() as i64, flat.picture.height() as i64);
    let margin = (MARGIN_MM * flat.px_per_mm).round() as i64;
    // The dark places themselves: middle lines end before the margin and would leave a way round.
    let crack = lines.mask.grown(1);
    let mut ground = Mask::empty(width as usize, height as usize);
    for y in margin..height - margin {
        for x in margin..width - margin {
            ground.put(x, y, !crack.has(x, y));
        }
    }
    let per = flat.px_per_mm * flat.px_per_mm;
    ground.groups(false).into_iter().map(|group| group.len() as f64 / per).filter(|&area| area >= 1.0).collect()
}
