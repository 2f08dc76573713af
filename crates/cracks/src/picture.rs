//! Pictures of what was found.

use std::io::Cursor;

use image::{GrayImage, ImageFormat, RgbImage};

use crate::look::Look;
use crate::mask::Mask;

/// The mask as a PNG: 255 is crack.
pub fn mask_png(mask: &Mask) -> Option<Vec<u8>> {
    let bytes = mask.pixels().iter().map(|&set| if set { 255 } else { 0 }).collect();
    let picture = GrayImage::from_raw(mask.width() as u32, mask.height() as u32, bytes)?;
    let mut out = Cursor::new(Vec::new());
    picture.write_to(&mut out, ImageFormat::Png).ok()?;
    Some(out.into_inner())
}

/// The straightened board as a PNG with the middle lines of cracks on it, and dotted what was looked at and left out.
pub fn overlay_png(look: &Look) -> Option<Vec<u8>> {
    let picture = &look.flat.picture;
    let (width, height) = (picture.width() as u32, picture.height() as u32);
    let mut rgb = Vec::with_capacity(picture.values().len() * 3);
    for &value in picture.values() {
        let byte = (value.clamp(0.0, 1.2).sqrt() * 225.0) as u8;
        rgb.extend([byte; 3]);
    }
    let mut out = RgbImage::from_raw(width, height, rgb)?;
    let mut dot = |x: i64, y: i64, colour: [u8; 3]| {
        if let (Ok(x), Ok(y)) = (u32::try_from(x), u32::try_from(y))
            && let Some(pixel) = out.get_pixel_mut_checked(x, y)
        {
            pixel.0 = colour;
        }
    };
    for (x, y) in look.lines.thin.places() {
        dot(x, y, [176, 58, 10]);
        dot(x + 1, y, [176, 58, 10]);
    }
    for &(x, y) in look.lines.left_out.iter().flatten() {
        if (x + y) % 4 == 0 {
            dot(i64::from(x), i64::from(y), [20, 90, 160]);
        }
    }
    let mut bytes = Cursor::new(Vec::new());
    out.write_to(&mut bytes, ImageFormat::Png).ok()?;
    Some(bytes.into_inner())
}
