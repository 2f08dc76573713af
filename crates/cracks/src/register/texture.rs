//! A board's marks, freed of the light that fell on them.

use rayon::prelude::*;

use crate::homography::Homography;
use crate::lines::MARGIN_MM;
use crate::look::Look;
use crate::plane::{Plane, share_below};
use crate::ridge::smoothed;

/// One size of a board's marks.
pub(super) struct Layer {
    /// About 0 on the whole; 0 where the board's edge is near.
    pub(super) picture: Plane,
    pub(super) px_per_mm: f64,
}

/// Largest picture that is fitted.
const MOST_PIXELS: usize = 600_000;
/// Smallest side of one.
const LEAST_SIDE: usize = 48;
/// Marks are kept between these scales, in pixels of each size (model choice).
const FINE_PX: f64 = 0.8;
const COARSE_PX: f64 = 5.0;
/// A mark counts no more than so many deviations of the ground: cracks are seen and don't outweigh all else (model choice).
const MOST_DEVIATIONS: f32 = 5.0;
/// What is closed beside a crack: its blurred rim.
const CLOSE_PX: usize = 3;

/// A board's marks at several sizes, the coarsest first; with its cracks, or with the ground closed over them.
pub(super) fn layers(look: &Look, cracks: bool) -> Vec<Layer> {
    let mut px_per_mm = look.flat.px_per_mm;
    let mut picture = look.flat.picture.clone();
    if !cracks {
        for (value, &crack) in picture.values_mut().iter_mut().zip(look.lines.mask.grown(CLOSE_PX).pixels()) {
            if crack {
                *value = 1.0;
            }
        }
    }
    let mut out = Vec::new();
    loop {
        if picture.values().len() <= MOST_PIXELS {
            out.push(Layer { picture: marks(&picture, (MARGIN_MM * px_per_mm + 2.0 * COARSE_PX).ceil() as usize), px_per_mm });
        }
        if picture.width().min(picture.height()) < 2 * LEAST_SIDE {
            break;
        }
        picture = picture.halved();
        px_per_mm /= 2.0;
    }
    out.reverse();
    out
}

fn marks(picture: &Plane, margin: usize) -> Plane {
    let (mut fine, coarse) = rayon::join(|| smoothed(picture, FINE_PX), || smoothed(picture, COARSE_PX));
    for (value, ground) in fine.values_mut().iter_mut().zip(coarse.values()) {
        *value -= ground;
    }
    let mut some: Vec<f32> = fine.values().iter().step_by(7).map(|value| value.abs()).collect();
    // The middle of absolute values of a bell is 0.6745 deviations.
    let most = MOST_DEVIATIONS * share_below(&mut some, 0.5).unwrap_or(0.0) / 0.6745;
    let (width, height) = (fine.width(), fine.height());
    for y in 0..height {
        let outside = y < margin || y + margin >= height;
        for (x, value) in fine.row_mut(y).iter_mut().enumerate() {
            *value = if outside || x < margin || x + margin >= width { 0.0 } else { value.clamp(-most, most) };
        }
    }
    fine
}

/// A layer as it looks on another board's pixels; 0 where it has none.
pub(super) fn warped(from: &Layer, onto: &Layer, map: &Homography) -> Plane {
    let map = pixels(from, onto, map);
    let (width, height) = (onto.picture.width(), onto.picture.height());
    let mut out = Plane::filled(width, height, 0.0);
    out.values_mut().par_chunks_mut(width.max(1)).enumerate().for_each(|(y, row)| {
        for (x, value) in row.iter_mut().enumerate() {
            let (u, v) = map.map(x as f64, y as f64);
            *value = inside(from, u, v).unwrap_or(0.0);
        }
    });
    out
}

/// The value between pixels, if the place lies in the picture.
pub(super) fn inside(from: &Layer, u: f64, v: f64) -> Option<f32> {
    let (w, h) = (from.picture.width() as f64, from.picture.height() as f64);
    (u >= 0.0 && v >= 0.0 && u <= w - 1.0 && v <= h - 1.0).then(|| from.picture.between(u, v))
}

impl Layer {
    /// From millimetres on the board: its corner lies at pixel (-0.5, -0.5).
    pub(super) const fn to_pixels(&self) -> Homography {
        Homography::from_entries([self.px_per_mm, 0.0, -0.5, 0.0, self.px_per_mm, -0.5, 0.0, 0.0, 1.0])
    }

    /// To millimetres on the board.
    pub(super) const fn to_mm(&self) -> Homography {
        let mm = 1.0 / self.px_per_mm;
        Homography::from_entries([mm, 0.0, 0.5 * mm, 0.0, mm, 0.5 * mm, 0.0, 0.0, 1.0])
    }
}

/// A map of millimetres as one of pixels.
pub(super) fn pixels(from: &Layer, onto: &Layer, map: &Homography) -> Homography {
    onto.to_mm().then(map).then(&from.to_pixels())
}
