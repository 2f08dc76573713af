//! Brush ridges: how strong the texture that runs one way is, which way it runs, and how far its ridges are apart.

use std::borrow::Cow;

use rayon::prelude::*;

use crate::flatten::Flat;
use crate::lines::{Lines, MARGIN_MM};
use crate::look::Range;
use crate::mask::Mask;
use crate::plane::{Plane, share_below};
use crate::ridge::smoothed;

/// Texture that runs one way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Brush {
    /// Deviation of the light along a line square to the ridges, as a share of the ground's light.
    pub contrast: Range,
    /// Which way they run, degrees anticlockwise from the board's upper edge, 0 to 180; the range may go past either end.
    pub direction_deg: Range,
    /// Mean distance from one ridge to the next, mm; `None` if they have no one distance.
    pub spacing_mm: Option<Range>,
    /// 0 all ways, 1 all one way.
    pub one_way: f64,
}

/// Pixels a millimetre that are enough: ridges of 0.3 mm have two and more.
const FINE: f64 = 8.0;
/// Bell that takes noise away before slopes are taken, in pixels.
const BELL: f64 = 1.2;
/// Weight of the differences on both sides of a slope's own: a plain difference of neighbours makes a short wave's slope too small along x and y
/// each by itself, which turns its direction by up to 3 degrees (Scharr 2000, three to ten, from memory).
const BESIDE_SLOPE: f64 = 0.3;
/// Side of a tile, mm.
const TILE_MM: f64 = 10.0;
/// From here on a tile runs one way (model choice: made boards without brush marks stay below).
const ONE_WAY: f64 = 0.35;
/// Share of all tiles that have to (model choice).
const TILES: f64 = 0.5;
/// Height of the first hill of a profile beside itself, shifted, from which the ridges have one distance (model choice).
const HILL: f64 = 0.25;
/// Cracks and what lies as near to them, in mm, are left out.
const BESIDE_MM: f64 = 0.3;
/// Distances that are looked for, mm.
const SPACING_MM: (f64, f64) = (0.3, 4.0);

/// One tile of the board.
struct Tile {
    /// Direction square to the ridges, radians from the x axis towards y.
    across: f64,
    one_way: f64,
    contrast: f64,
    spacing: Option<f64>,
}

/// The board as coarse as ridges need it, without noise.
pub(crate) struct Coarse {
    smooth: Plane,
    /// How many pixels of the board make one.
    factor: usize,
}

impl Coarse {
    pub(crate) fn of(flat: &Flat) -> Self {
        let mut picture = Cow::Borrowed(&flat.picture);
        let mut factor = 1;
        while flat.px_per_mm / factor as f64 >= 2.0 * FINE {
            picture = Cow::Owned(picture.halved());
            factor *= 2;
        }
        Self { smooth: smoothed(&picture, BELL), factor }
    }
}

/// Measures the texture; `None` if it runs no one way.
pub(crate) fn brush(flat: &Flat, coarse: &Coarse, lines: &Lines) -> Option<Brush> {
    let Coarse { smooth, factor } = coarse;
    let factor = *factor;
    let per = flat.px_per_mm / factor as f64;
    let mut cracks = Mask::empty(smooth.width(), smooth.height());
    for (x, y) in lines.mask.places() {
        cracks.put(x / factor as i64, y / factor as i64, true);
    }
    let cracks = cracks.grown((BESIDE_MM * per).ceil() as usize);
    let margin = (MARGIN_MM * per).ceil() as usize + 1;
    let side = (TILE_MM * per) as usize;
    let count = |px: usize| px.saturating_sub(2 * margin) / side.max(1);
    let columns = count(smooth.width());
    let tiles: Vec<Tile> = (0..columns * count(smooth.height()))
        .into_par_iter()
        .filter_map(|at| Tile::of(smooth, &cracks, (margin + at % columns * side, margin + at / columns * side), side, per))
        .collect();
    let clear: Vec<&Tile> = tiles.iter().filter(|tile| tile.one_way >= ONE_WAY).collect();
    if tiles.is_empty() || (clear.len() as f64) < TILES * tiles.len() as f64 {
        return None;
    }
    let n = clear.len() as f64;
    // Angles are doubled, since a ridge has no front (Mardia and Jupp 2000, from memory).
    let (c, s) = clear.iter().fold((0.0, 0.0), |(c, s), tile| (c + (2.0 * tile.across).cos() / n, s + (2.0 * tile.across).sin() / n));
    let strength = c.hypot(s);
    if strength < ONE_WAY {
        return None;
    }
    let off = (((1.0 - strength * strength).max(0.0) / (2.0 * n)).sqrt() / strength / 2.0).to_degrees() + 0.5;
    // Ridges are square to the slope, and rows run down.
    let value = (-(s.atan2(c) / 2.0).to_degrees() + 90.0).rem_euclid(180.0);
    let quarters = |of: &dyn Fn(&Tile) -> Option<f64>| {
        let mut all: Vec<f32> = clear.iter().filter_map(|tile| of(tile)).map(|value| value as f32).collect();
        let enough = all.len() as f64 >= TILES * n;
        let mut at = |share: f64| share_below(&mut all, share).map(f64::from);
        let (value, low, high) = (at(0.5)?, at(0.1)?, at(0.9)?);
        enough.then_some(Range { value, low, high })
    };
    Some(Brush {
        contrast: quarters(&|tile| Some(tile.contrast))?,
        direction_deg: Range { value, low: value - off, high: value + off },
        spacing_mm: quarters(&|tile| tile.spacing),
        one_way: clear.iter().map(|tile| tile.one_way).sum::<f64>() / n,
    })
}

impl Tile {
    fn of(smooth: &Plane, cracks: &Mask, (left, top): (usize, usize), side: usize, per: f64) -> Option<Self> {
        let (mut xx, mut xy, mut yy, mut count) = (0.0, 0.0, 0.0, 0_usize);
        for y in top..top + side {
            let [above, here, below] =
                [y - 1, y, y + 1].map(|y| smooth.row(y).get(left - 1..left + side + 1).unwrap_or_default().windows(3));
            let free = cracks.pixels().get(y * cracks.width() + left..).unwrap_or_default();
            for ((above, (here, below)), _) in above.zip(here.zip(below)).zip(free).filter(|(_, crack)| !**crack) {
                let (&[a, b, c], &[d, _, f], &[g, h, i]) = (above, here, below) else { continue };
                let gx = BESIDE_SLOPE * (f64::from(c - a) + f64::from(i - g)) + f64::from(f - d);
                let gy = BESIDE_SLOPE * (f64::from(g - a) + f64::from(i - c)) + f64::from(h - b);
                xx += gx * gx;
                xy += gx * gy;
                yy += gy * gy;
                count += 1;
            }
        }
        if count < side * side / 3 || xx + yy <= 0.0 {
            return None;
        }
        // The structure tensor's direction of most slope, and how much more than square to it (Bigun and Granlund 1987, from memory).
        let across = 0.5 * (2.0 * xy).atan2(xx - yy);
        let one_way = (xx - yy).hypot(2.0 * xy) / (xx + yy);
        let (sin, cos) = across.sin_cos();
        let half = side as f64 / 2.0;
        let mut bins = vec![(0.0_f64, 0.0_f64); side];
        for y in top..top + side {
            let lights = smooth.row(y).get(left..left + side).unwrap_or_default();
            let free = cracks.pixels().get(y * cracks.width() + left..).unwrap_or_default();
            let down = (y as f64 - top as f64 - half) * sin + half;
            for ((light, _), x) in lights.iter().zip(free).zip(0_u32..).filter(|((_, crack), _)| !**crack) {
                let at = (f64::from(x) - half) * cos + down;
                if at >= 0.0
                    && let Some((sum, weight)) = bins.get_mut(at as usize)
                {
                    *sum += f64::from(*light);
                    *weight += 1.0;
                }
            }
        }
        let least = side as f64 / 4.0;
        let profile: Vec<Option<f64>> = bins.into_iter().map(|(sum, weight)| (weight >= least).then(|| sum / weight)).collect();
        let there = profile.iter().flatten().count().max(1) as f64;
        let mean = profile.iter().flatten().sum::<f64>() / there;
        let variance = profile.iter().flatten().map(|value| (value - mean).powi(2)).sum::<f64>() / there;
        let profile: Vec<Option<f64>> = profile.into_iter().map(|value| value.map(|value| value - mean)).collect();
        // The bell took part of a wave of this length: exp(-2 pi^2 s^2 / l^2), worked out.
        let spacing = spacing(&profile, variance, per);
        let kept = spacing.map_or(1.0, |mm| (-2.0 * (std::f64::consts::PI * BELL / (mm * per)).powi(2)).exp());
        Some(Self { across, one_way, contrast: variance.sqrt() / kept.max(0.2), spacing })
    }
}

/// Distance to the first hill of a profile laid beside itself and shifted, in mm.
fn spacing(profile: &[Option<f64>], variance: f64, per: f64) -> Option<f64> {
    let most = ((SPACING_MM.1 * per) as usize).min(profile.len() / 2);
    let alike: Vec<f64> = (0..=most)
        .map(|shift| {
            let both = profile.iter().zip(profile.get(shift..).unwrap_or_default());
            let (sum, count) =
                both.filter_map(|(a, b)| Some((*a)? * (*b)?)).fold((0.0, 0.0_f64), |(sum, count), product| (sum + product, count + 1.0));
            sum / count.max(1.0) / variance.max(1e-12)
        })
        .collect();
    // Past the first valley, the highest hill that has lower ground on both sides.
    let valley = alike.iter().position(|&alike| alike < 0.0)?;
    let first = valley.max((SPACING_MM.0 * per) as usize);
    let hill = (first..alike.len().saturating_sub(1)).find_map(|k| match alike.get(k.checked_sub(1)?..k + 2) {
        Some(&[a, b, c]) if b >= HILL && b >= a && b >= c => Some(k as f64 + 0.5 * (a - c) / (a - 2.0 * b + c).min(-1e-12)),
        _ => None,
    })?;
    Some(hill / per)
}
