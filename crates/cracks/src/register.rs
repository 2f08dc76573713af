//! Laying an older photo of a board over a newer one.
//!
//! Both are flat by their corners already, so what is left is which way up the board lay, and what the corners were off by. The start is the
//! best of all shifts within a reach, for each turn that fits the proportions, on a coarse picture; from there a map of eight numbers is
//! fitted to all pixels at once, coarse to fine, together with the gain and the offset of the light, which is the enhanced correlation
//! coefficient (Evangelidis and Psarakis, IEEE PAMI 30(10), 2008) in its inverse compositional form (Baker and Matthews, International
//! Journal of Computer Vision 56(3), 2004).

use rayon::prelude::*;
use thiserror::Error;

use crate::homography::Homography;
use crate::look::Look;
use crate::plane::Plane;

mod fit;
mod texture;

use fit::{blocks_off, fit};
use texture::{Layer, layers};

/// How an older photo lies on a newer one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Registered {
    /// From millimetres on the board as it lay in the older photo to those of the newer one.
    pub map: Homography,
    /// Quarters clockwise that the board was turned from the older photo to the newer.
    pub quarters: u8,
    /// What nine of ten pieces of the board still lie off by at most, mm.
    pub residual_mm: f64,
    /// Correlation of both pictures' marks where they lie on each other, 0 to 1.
    pub likeness: f64,
    /// How many times the usual likeness of pictures that are laid anyhow the likeness at the best place was.
    pub times_chance: f64,
}

/// Why two photos could not be laid over each other.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum RegisterError {
    /// Proportions that fit no turn.
    #[error(
        "the board in the older photo is {old} times as wide as high, in the newer one {new} times, and no turn makes them fit: check that both show the same board, and its size and corners"
    )]
    Sides {
        /// Width over height, two digits.
        old: String,
        /// Width over height, two digits.
        new: String,
    },
    /// Next to no marks in common, and too few cracks in one of them.
    #[error(
        "the two photos show no marks in common by which one could be laid over the other: take both from near, in sharp light from one side, or draw two small crosses in the board's corners for next time"
    )]
    NothingShared,
    /// Cracks in both that nowhere lie on each other.
    #[error(
        "these do not look like the same board: the cracks and marks of the one lie nowhere on those of the other, whichever way it is turned. Check that you took the right photo, and the corners"
    )]
    OtherBoard,
    /// They lie on each other in the main and not in all places.
    #[error(
        "the two photos fit each other only to {off} mm: the board is bent, or was photographed at a slant or with a wide lens. Lay it flat and take the newer photo again from straight above"
    )]
    Loose {
        /// Millimetres, two digits.
        off: String,
    },
}

/// Proportions may differ by this share (judgement, no source).
const SIDES_DIFFER: f64 = 0.12;
/// The start is looked for so far, as a share of the longer side (judgement, no source: a corner that was tapped is good to some millimetres).
const REACH: f64 = 0.05;
/// Longest side of the picture that the start is looked for on, in pixels.
const COARSE: usize = 300;
/// Starts that are tried for each turn.
const STARTS: usize = 3;
/// Starts that are left at the second size, and at all further ones.
const LEFT: [usize; 2] = [2, 1];
/// Likeness from which two boards are one (model choice: made boards of one kind and two seeds stay below 0.1, one board twice is above 0.5).
const LEAST_LIKENESS: f64 = 0.2;
/// Times the likeness of the same pictures lying anyhow: a weave or straight brush marks are alike at many places (model choice).
const LEAST_TIMES: f64 = 2.0;
/// Millimetres from which two photos don't fit (judgement, no source).
const LOOSE_MM: f64 = 0.5;
/// Crack length an area from which a photo counts as one with cracks, mm/mm2 (as the class "few cracks").
const SOME_CRACKS: f64 = 0.005;

/// Lays the older photo over the newer one.
///
/// Which millimetres are right is decided by the newer photo: a board whose size was told otherwise for the older one is taken to be of the
/// newer one's size.
///
/// # Errors
/// See [`RegisterError`].
pub fn register(old: &Look, new: &Look) -> Result<Registered, RegisterError> {
    let turns = turns(old, new);
    if turns.is_empty() {
        let two = |look: &Look| ((sides(look).0 / sides(look).1 * 100.0).round() / 100.0).to_string();
        return Err(RegisterError::Sides { old: two(old), new: two(new) });
    }
    let some = |look: &Look| look.length.value >= SOME_CRACKS;
    let strangers = if some(old) && some(new) { RegisterError::OtherBoard } else { RegisterError::NothingShared };
    let by = |cracks: bool| {
        let (old, new) = rayon::join(|| layers(old, cracks), || layers(new, cracks));
        laid(&old, &new, &turns)
    };
    // Cracks are the best marks where both have them; cracks that only one of them has drown what the ground shows.
    let mut found = by(true);
    if found.is_none() {
        found = by(false);
    }
    let laid = found.ok_or_else(|| strangers.clone())?;
    if laid.residual_mm > LOOSE_MM {
        return Err(RegisterError::Loose { off: ((laid.residual_mm * 100.0).round() / 100.0).to_string() });
    }
    let map = laid.at.map.back().ok_or(strangers)?;
    Ok(Registered {
        map,
        quarters: laid.at.quarters,
        residual_mm: laid.residual_mm,
        likeness: laid.at.likeness,
        times_chance: laid.times_chance,
    })
}

/// The best way of all, with what is told of it.
struct Found {
    at: Laid,
    residual_mm: f64,
    times_chance: f64,
}

fn laid(old_layers: &[Layer], new_layers: &[Layer], turns: &[(u8, Homography)]) -> Option<Found> {
    let first = new_layers.iter().rposition(|layer| layer.picture.width().max(layer.picture.height()) <= COARSE).unwrap_or(0);
    let mut at: Vec<Laid> = turns.iter().flat_map(|(quarters, map)| starts(old_layers, new_layers.get(first), *quarters, map)).collect();
    let mut last = None;
    for (number, layer) in new_layers.iter().enumerate().skip(first) {
        let shape = if number == first { fit::Shape::Affine } else { fit::Shape::Perspective };
        let mut fitted: Vec<Laid> = at
            .iter()
            .filter_map(|laid| {
                let fitted = fit(layer, nearest(old_layers, layer, &laid.map)?, &laid.map, &laid.held, shape)?;
                Some(Laid { map: fitted.map, likeness: fitted.likeness, ..*laid })
            })
            .collect();
        fitted.sort_by(|a, b| b.likeness.total_cmp(&a.likeness));
        fitted.truncate(LEFT.get(number - first).copied().unwrap_or(1));
        at = fitted;
        if number == first + 1 && at.first().is_none_or(|laid| laid.likeness < LEAST_LIKENESS / 2.0) {
            return None;
        }
        if let Some(laid) = at.first() {
            last = Some((*laid, layer));
        }
    }
    let (at, layer) = last?;
    let from = nearest(old_layers, layer, &at.map)?;
    let times_chance = times_chance(layer, &texture::warped(from, layer, &at.map));
    if times_chance < LEAST_TIMES || at.likeness < LEAST_LIKENESS {
        return None;
    }
    // A fit is not believed below a tenth of a pixel (judgement, no source).
    let residual_mm = blocks_off(layer, from, &at.map).unwrap_or(f64::INFINITY).max(0.1 / layer.px_per_mm);
    Some(Found { at, residual_mm, times_chance })
}

/// Laid over each other by their corners alone, as if nothing had turned: for a board that shows no marks. Nothing is known of how well.
pub fn by_corners(old: &Look, new: &Look) -> Option<Homography> {
    turned(sides(old), sides(new), 0)?.back()
}

/// Millimetres across and down.
fn sides(look: &Look) -> (f64, f64) {
    let mm = |px: usize| px as f64 / look.flat.px_per_mm;
    (mm(look.flat.picture.width()), mm(look.flat.picture.height()))
}

/// Maps from the newer board to the older one for all turns that fit the proportions, each with its quarters.
fn turns(old: &Look, new: &Look) -> Vec<(u8, Homography)> {
    let (old, new) = (sides(old), sides(new));
    (0..4)
        .filter(|quarters| {
            let old = if quarters % 2 == 1 { old.1 / old.0 } else { old.0 / old.1 };
            (old / (new.0 / new.1)).ln().abs() < SIDES_DIFFER
        })
        .filter_map(|quarters| Some((quarters, turned(old, new, quarters)?)))
        .collect()
}

/// From the newer board to the older one, which was turned by so many quarters clockwise in between.
fn turned((ow, oh): (f64, f64), (nw, nh): (f64, f64), quarters: u8) -> Option<Homography> {
    let mut to = [(0.0, 0.0), (ow, 0.0), (ow, oh), (0.0, oh)];
    // Turned once, the older board's lower left corner lies at the upper left.
    to.rotate_right(usize::from(quarters));
    Homography::of([(0.0, 0.0), (nw, 0.0), (nw, nh), (0.0, nh)], to)
}

/// The layer of the older photo whose pixels are nearest in size to those of a layer of the newer one.
fn nearest<'a>(old: &'a [Layer], new: &Layer, map: &Homography) -> Option<&'a Layer> {
    let middle = |px: usize| px as f64 / new.px_per_mm / 2.0;
    let (least, most) = map.stretch(middle(new.picture.width()), middle(new.picture.height()));
    let wanted = new.px_per_mm / (least * most).sqrt().max(1e-6);
    let off = |layer: &Layer| (layer.px_per_mm / wanted).ln().abs();
    old.iter().min_by(|a, b| off(a).total_cmp(&off(b)))
}

/// A way to lay the newer board's millimetres on the older one's: that is the way in which pixels are asked for.
#[derive(Clone, Copy)]
struct Laid {
    map: Homography,
    /// By the corners and a shift alone.
    held: Homography,
    quarters: u8,
    likeness: f64,
}

/// The best shifts for a turn.
fn starts(old: &[Layer], layer: Option<&Layer>, quarters: u8, map: &Homography) -> Vec<Laid> {
    let Some(layer) = layer else { return Vec::new() };
    let Some(from) = nearest(old, layer, map) else { return Vec::new() };
    let reach = (REACH * layer.picture.width().max(layer.picture.height()) as f64).ceil() as i64;
    let other = texture::warped(from, layer, map);
    let mut all: Vec<(i64, i64, f64)> = (-reach..=reach)
        .into_par_iter()
        .flat_map_iter(|dy| (-reach..=reach).map(move |dx| (dx, dy)))
        .map(|(dx, dy)| (dx, dy, alike(&layer.picture, &other, dx, dy)))
        .collect();
    all.sort_by(|a, b| b.2.total_cmp(&a.2));
    let mut out: Vec<(i64, i64, f64)> = Vec::new();
    for one in all {
        // A peak is a few pixels wide.
        if out.len() < STARTS && out.iter().all(|(dx, dy, _)| (dx - one.0).abs() > 3 || (dy - one.1).abs() > 3) {
            out.push(one);
        }
    }
    let mm = |px: i64| px as f64 / layer.px_per_mm;
    let shifted = |dx: i64, dy: i64| Homography::from_entries([1.0, 0.0, mm(dx), 0.0, 1.0, mm(dy), 0.0, 0.0, 1.0]).then(map);
    out.into_iter().map(|(dx, dy, likeness)| Laid { map: shifted(dx, dy), held: shifted(dx, dy), quarters, likeness }).collect()
}

/// How many times the usual likeness of two pictures that lie anyhow their likeness as they lie is: shifted by so many pixels each way, the
/// root of the mean square is what chance does with these marks.
fn times_chance(layer: &Layer, other: &Plane) -> f64 {
    let shifts: Vec<(i64, i64)> = (-SHIFTS..=SHIFTS)
        .flat_map(|dy| (-SHIFTS..=SHIFTS).map(move |dx| (dx * SHIFT_PX, dy * SHIFT_PX)))
        .filter(|shift| *shift != (0, 0))
        .collect();
    let all: Vec<f64> = shifts.par_iter().map(|&(dx, dy)| alike(&layer.picture, other, dx, dy).powi(2)).collect();
    let usual = (all.iter().sum::<f64>() / all.len().max(1) as f64).sqrt();
    alike(&layer.picture, other, 0, 0) / usual.max(1e-9)
}

const SHIFTS: i64 = 4;
const SHIFT_PX: i64 = 7;

/// Correlation of a picture with another shifted by whole pixels, over what both have; both are about 0 on the whole.
fn alike(one: &Plane, other: &Plane, dx: i64, dy: i64) -> f64 {
    let (mut both, mut first, mut second) = (0.0, 0.0, 0.0);
    for y in dy.min(0).unsigned_abs() as usize..one.height() {
        let (a, b) = (one.row(y), other.row((y as i64 + dy) as usize));
        if b.is_empty() {
            continue;
        }
        let (a, b) = (a.get(dx.min(0).unsigned_abs() as usize..).unwrap_or_default(), b.get(dx.max(0) as usize..).unwrap_or_default());
        let (p, q, r) = a.iter().zip(b).fold((0.0_f32, 0.0_f32, 0.0_f32), |(p, q, r), (a, b)| (p + a * b, q + a * a, r + b * b));
        both += f64::from(p);
        first += f64::from(q);
        second += f64::from(r);
    }
    let energy = (first * second).sqrt();
    if energy > 0.0 { both / energy } else { 0.0 }
}
