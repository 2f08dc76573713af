//! Both boards at one scale, and what became of each crack drawn on the newer one.

use std::io::Cursor;

use image::codecs::jpeg::JpegEncoder;
use image::{ExtendedColorType, ImageFormat, RgbImage};
use rayon::prelude::*;

use super::{Fate, Stroke};
use crate::graph::Point;
use crate::homography::Homography;
use crate::look::Look;
use crate::plane::Plane;
use crate::register::Registered;

/// Two pictures of one size, the older board warped onto the newer.
#[derive(Debug, Clone, PartialEq)]
pub struct Pair {
    /// Pixels in a row.
    pub width: usize,
    /// Rows.
    pub height: usize,
    /// Pixels a millimetre on the newer board; `x_px = x_mm * px_per_mm - 0.5`.
    pub px_per_mm: f64,
    /// The older board as JPEG.
    pub old: Vec<u8>,
    /// The newer board as JPEG.
    pub new: Vec<u8>,
}

/// Longest side of a picture for the eye, in pixels.
const MOST_SIDE: f64 = 1600.0;
const QUALITY: u8 = 82;
/// What lies off the older photo's board is drawn as grey as this, of white.
const OFF_BOARD: f32 = 0.5;

/// Both boards at one scale for the eye; `None` if a picture could not be written.
pub fn grown_pair(old: &Look, new: &Look, laid: &Registered) -> Option<Pair> {
    let (width, height, px_per_mm) = common(new);
    let same = Homography::from_entries([1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 1.0]);
    let jpeg = |look: &Look, to_own: &Homography| {
        let grey = seen(look, to_own, (width, height), px_per_mm);
        let mut out = Vec::new();
        JpegEncoder::new_with_quality(&mut out, QUALITY)
            .encode(&grey, u32::try_from(width).ok()?, u32::try_from(height).ok()?, ExtendedColorType::L8)
            .ok()?;
        Some(out)
    };
    Some(Pair { width, height, px_per_mm, old: jpeg(old, &laid.map.back()?)?, new: jpeg(new, &same)? })
}

/// Size and scale of a picture for the eye.
fn common(new: &Look) -> (usize, usize, f64) {
    let (w, h) = (new.flat.picture.width() as f64, new.flat.picture.height() as f64);
    let part = (MOST_SIDE / w.max(h)).min(1.0);
    ((w * part).round().max(1.0) as usize, (h * part).round().max(1.0) as usize, new.flat.px_per_mm * part)
}

/// A board's light as grey, on the newer board's millimetres.
fn seen(look: &Look, to_own: &Homography, (width, height): (usize, usize), px_per_mm: f64) -> Vec<u8> {
    // Halved until a pixel of the picture is no more than two of the photo.
    let mut scale = look.flat.px_per_mm;
    let mut halved: Option<Plane> = None;
    while scale > 2.0 * px_per_mm {
        halved = Some(halved.as_ref().unwrap_or(&look.flat.picture).halved());
        scale /= 2.0;
    }
    let picture = halved.as_ref().unwrap_or(&look.flat.picture);
    let (w, h) = (picture.width() as f64, picture.height() as f64);
    let mut out = vec![0; width * height];
    out.par_chunks_mut(width.max(1)).enumerate().for_each(|(y, row)| {
        for (x, byte) in row.iter_mut().enumerate() {
            let (u, v) = to_own.map((x as f64 + 0.5) / px_per_mm, (y as f64 + 0.5) / px_per_mm);
            let (u, v) = (u * scale - 0.5, v * scale - 0.5);
            let inside = u >= -0.5 && v >= -0.5 && u <= w - 0.5 && v <= h - 0.5;
            let light = if inside { picture.between(u, v) } else { OFF_BOARD };
            *byte = (light.clamp(0.0, 1.2).sqrt() * 225.0) as u8;
        }
    });
    out
}

/// How a piece is drawn: colour, half its width in pixels, and dashes with their gaps. Styles differ without their colours.
const fn style(fate: Fate) -> ([u8; 3], i64, f64, f64) {
    match fate {
        Fate::Known => ([70, 70, 70], 0, 1.0, 0.0),
        Fate::Longer => ([176, 58, 10], 2, 1.0, 0.0),
        Fate::New => ([176, 58, 10], 2, 9.0, 4.0),
        Fate::Gone => ([20, 90, 160], 1, 2.0, 8.0),
        Fate::Unsure => ([120, 100, 0], 0, 2.0, 4.0),
    }
}

/// The newer board with all pieces drawn in, as PNG: known ones thin, what grew from tips thick, new ones thick and dashed, gone ones as short
/// dashes far apart, those that can't be told dotted.
pub fn grown_overlay(new: &Look, strokes: &[Stroke]) -> Option<Vec<u8>> {
    let (width, height, px_per_mm) = common(new);
    let same = Homography::from_entries([1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 1.0]);
    let rgb = seen(new, &same, (width, height), px_per_mm).into_iter().flat_map(|grey| [grey; 3]).collect();
    let mut out = RgbImage::from_raw(u32::try_from(width).ok()?, u32::try_from(height).ok()?, rgb)?;
    for stroke in strokes {
        let (colour, half, dash, gap) = style(stroke.fate);
        let mut along = 0.0;
        for two in stroke.points.windows(2) {
            let &[p, q] = two else { continue };
            let px = |p: Point| Point { x: p.x * px_per_mm - 0.5, y: p.y * px_per_mm - 0.5 };
            let (p, q) = (px(p), px(q));
            let steps = (p.to(q) * 2.0).ceil().max(1.0);
            for k in 0..steps as usize {
                let t = k as f64 / steps;
                along += p.to(q) / steps;
                if along.rem_euclid(dash + gap) > dash {
                    continue;
                }
                let (x, y) = ((p.x + (q.x - p.x) * t).round() as i64, (p.y + (q.y - p.y) * t).round() as i64);
                for (dx, dy) in (-half..=half).flat_map(|dy| (-half..=half).map(move |dx| (dx, dy))) {
                    if let (Ok(x), Ok(y)) = (u32::try_from(x + dx), u32::try_from(y + dy))
                        && let Some(pixel) = out.get_pixel_mut_checked(x, y)
                    {
                        pixel.0 = colour;
                    }
                }
            }
        }
    }
    let mut bytes = Cursor::new(Vec::new());
    out.write_to(&mut bytes, ImageFormat::Png).ok()?;
    Some(bytes.into_inner())
}
