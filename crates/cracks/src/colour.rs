//! How white the ground is: lightness, colour, whiteness, against a grey or white patch that lies in the same light.

use thiserror::Error;

use crate::corners::Corners;
use crate::decode::{Photo, linear};
use crate::homography::Homography;
use crate::plane::share_below;

/// A patch of known reflectance in the photo.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Patch {
    /// Pixels from the left and from the top, then across and down, in the upright photo.
    pub place: [u32; 4],
    /// Share of the light that it throws back: 0.18 for the usual grey card, about 0.9 for white.
    pub reflects: f64,
}

/// The colour of a ground.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Colour {
    /// CIE L*, 0 black to 100 white.
    pub lightness: f64,
    /// CIE a*: green below nought, red above.
    pub a: f64,
    /// CIE b*: blue below nought, yellow above.
    pub b: f64,
    /// CIE whiteness W and tint; `None` without a patch, and for what is no near-white.
    pub whiteness: Option<(f64, f64)>,
    /// Whether it hangs on how the camera exposed, since no patch was there.
    pub relative: bool,
}

/// Why no colour can be told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum ColourError {
    /// The patch lies off the photo, or is next to nothing.
    #[error("the grey patch lies outside the photo or is smaller than 8 x 8 pixels: give x, y, width and height in the upright photo")]
    Outside,
    /// A reflectance that no patch has.
    #[error("a patch throws back between 0.02 and 1 of the light: 0.18 for the usual grey card, about 0.9 for white")]
    Reflects,
    /// The patch is burnt out or black.
    #[error("the patch is burnt out to white or too dark: expose so that it is neither")]
    Clipped,
    /// Too much of the board is burnt out.
    #[error("the board is burnt out to white in places, so its colour can't be told: expose less")]
    Burnt,
}

/// Rows to X, Y, Z from linear red, green, blue: the primaries of ITU-R BT.709 and the white D65 (worked out; the same digits stand in
/// scikit-image).
const TO_XYZ: [[f64; 3]; 3] = [[0.412_453, 0.357_580, 0.180_423], [0.212_671, 0.715_160, 0.072_169], [0.019_334, 0.119_193, 0.950_227]];
/// White of D65 for 2 degrees (CIE 15, from memory).
const WHITE: [f64; 3] = [0.950_47, 1.0, 1.088_83];
/// Chromaticity of the same white in the formula of whiteness (CIE 15:2004, ASTM E313).
const WHITE_XY: (f64, f64) = (0.3127, 0.3290);
/// Below this Y, in hundredths, nothing is a white (ASTM E313).
const LEAST_WHITE: f64 = 65.0;
/// A tint beyond this is no white either (CIE 15, from memory).
const MOST_TINT: f64 = 3.0;
/// Clipped pixels from which colour is not told (common practice, no source).
const MOST_CLIPPED: f64 = 0.005;

/// X, Y, Z with white at Y = 1, from linear red, green, blue.
pub fn xyz(rgb: [f64; 3]) -> [f64; 3] {
    TO_XYZ.map(|row| row.iter().zip(rgb).map(|(m, v)| m * v).sum())
}

/// CIE L*a*b* (ISO/CIE 11664-4) under D65.
///
/// ```
/// let grey = cracks::lab(cracks::xyz([0.5; 3]));
/// assert!((grey[0] - 76.07).abs() < 0.01 && grey[1].abs() < 0.01 && grey[2].abs() < 0.01);
/// ```
pub fn lab(xyz: [f64; 3]) -> [f64; 3] {
    let f = |t: f64| if t > 0.008_856 { t.cbrt() } else { 7.787 * t + 16.0 / 116.0 };
    let [x, y, z] = xyz;
    let [xn, yn, zn] = WHITE;
    let (fx, fy, fz) = (f(x / xn), f(y / yn), f(z / zn));
    [116.0 * fy - 16.0, 500.0 * (fx - fy), 200.0 * (fy - fz)]
}

/// CIE whiteness and tint for 2 degrees and D65 (CIE 15:2004): W = Y + 800 (xn - x) + 1700 (yn - y), T = 1000 (xn - x) - 650 (yn - y).
pub fn whiteness(xyz: [f64; 3]) -> (f64, f64) {
    let [x, y, z] = xyz;
    let sum = (x + y + z).max(1e-9);
    let (dx, dy) = (WHITE_XY.0 - x / sum, WHITE_XY.1 - y / sum);
    (100.0 * y + 800.0 * dx + 1700.0 * dy, 1000.0 * dx - 650.0 * dy)
}

/// The colour of the ground: the median of the board's pixels in linear light, which cracks and dirt hardly move; scaled so that the patch, if
/// there is one, is neutral and as light as it is known to be.
///
/// # Errors
/// See [`ColourError`].
pub fn ground_colour(photo: &Photo, corners: &Corners, patch: Option<Patch>) -> Result<Colour, ColourError> {
    let gain = match patch {
        None => [1.0; 3],
        Some(patch) => gain(photo, patch)?,
    };
    let unit = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
    let map = Homography::of(unit, corners.points().map(|p| (p.x, p.y))).ok_or(ColourError::Outside)?;
    let mut channels: [Vec<f32>; 3] = Default::default();
    let mut clipped = 0_usize;
    let steps = 160;
    for j in 0..steps {
        for i in 0..steps {
            let at = |k: i32| 0.05 + 0.9 * (f64::from(k) + 0.5) / f64::from(steps);
            let (x, y) = map.map(at(i), at(j));
            let pixel = photo.pixel(x.round() as i64, y.round() as i64);
            clipped += usize::from(pixel.contains(&255));
            for (channel, byte) in channels.iter_mut().zip(pixel) {
                channel.push(linear(byte) as f32);
            }
        }
    }
    if clipped as f64 > MOST_CLIPPED * f64::from(steps * steps) {
        return Err(ColourError::Burnt);
    }
    let [r, g, b] = channels.map(|mut channel| f64::from(share_below(&mut channel, 0.5).unwrap_or(0.0)));
    let [gr, gg, gb] = gain;
    let xyz = xyz([r * gr, g * gg, b * gb]);
    let [lightness, a, b] = lab(xyz);
    let (white, tint) = whiteness(xyz);
    let [_, y, _] = xyz;
    let near_white = patch.is_some() && 100.0 * y > LEAST_WHITE && tint.abs() < MOST_TINT;
    Ok(Colour { lightness, a, b, whiteness: near_white.then_some((white, tint)), relative: patch.is_none() })
}

/// What each channel has to be multiplied by for the patch to come out right.
fn gain(photo: &Photo, patch: Patch) -> Result<[f64; 3], ColourError> {
    let [x, y, across, down] = patch.place;
    let fits = |from: u32, long: u32, end: usize| long >= 8 && u64::from(from) + u64::from(long) <= end as u64;
    if !fits(x, across, photo.width()) || !fits(y, down, photo.height()) {
        return Err(ColourError::Outside);
    }
    if !(0.02..=1.0).contains(&patch.reflects) {
        return Err(ColourError::Reflects);
    }
    let mut sums = [0.0_f64; 3];
    let mut clipped = 0_usize;
    let count = f64::from(across) * f64::from(down);
    for py in y..y + down {
        for px in x..x + across {
            let pixel = photo.pixel(i64::from(px), i64::from(py));
            clipped += usize::from(pixel.contains(&255));
            for (sum, byte) in sums.iter_mut().zip(pixel) {
                *sum += linear(byte);
            }
        }
    }
    // A patch darker than one part in a hundred of white is mostly noise (judgement, no source).
    if clipped as f64 > MOST_CLIPPED * count || sums.iter().any(|sum| sum / count < 0.01) {
        return Err(ColourError::Clipped);
    }
    Ok(sums.map(|sum| patch.reflects * count / sum))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of_bytes(bytes: [u8; 3]) -> [f64; 3] {
        xyz(bytes.map(linear))
    }

    // scikit-image 0.26.0 and CIE 15:2004 by hand; typed from their print.
    #[test]
    fn a_creamy_white_as_the_reference_has_it() {
        let cream = of_bytes([250, 246, 235]);
        for (found, known) in cream.into_iter().zip([0.873_723, 0.922_342, 0.917_749]) {
            assert!((found - known).abs() < 1e-5, "{cream:?}");
        }
        for (found, known) in lab(cream).into_iter().zip([96.9160, -0.5438, 5.7598]) {
            assert!((found - known).abs() < 1e-3, "{:?}", lab(cream));
        }
        // By hand: x 0.321954, y 0.339869: 92.2342 - 800 x 0.009254 - 1700 x 0.010869 = 66.353; -9.254 + 7.065 = -2.189.
        let (white, tint) = whiteness(cream);
        assert!((white - 66.353).abs() < 2e-3 && (tint + 2.189).abs() < 2e-3, "{white} {tint}");
    }

    #[test]
    fn a_patch_takes_the_lamp_out() {
        // A board of 0.5 and a patch of 0.25 under a yellow lamp (0.8, 0.7, 0.4): the patch makes the board neutral, L* 76.07 for Y = 0.5.
        let lamp = [0.8, 0.7, 0.4];
        let byte = |light: f64| {
            let coded = if light <= 0.003_130_8 { 12.92 * light } else { 1.055 * light.powf(1.0 / 2.4) - 0.055 };
            (coded * 255.0).round() as u8
        };
        let mut rgb = Vec::new();
        for _ in 0..100 {
            for x in 0..200 {
                rgb.extend(lamp.map(|l| byte(l * if x < 100 { 0.5 } else { 0.25 })));
            }
        }
        let photo = Photo::from_rgb(200, 100, rgb).expect("three bytes a pixel");
        let corners = Corners::new([(2.0, 2.0), (95.0, 2.0), (95.0, 95.0), (2.0, 95.0)], 200, 100).expect("inside");
        let patch = Patch { place: [120, 20, 50, 50], reflects: 0.25 };
        let colour = ground_colour(&photo, &corners, Some(patch)).expect("a colour");
        assert!((colour.lightness - 76.07).abs() < 0.4 && colour.a.abs() < 0.5 && colour.b.abs() < 0.5, "{colour:?}");
        assert!(!colour.relative && colour.whiteness.is_none());
        let bare = ground_colour(&photo, &corners, None).expect("a colour");
        assert!(bare.relative && bare.b > 10.0);
        let beside = Patch { place: [180, 20, 50, 50], reflects: 0.25 };
        assert_eq!(ground_colour(&photo, &corners, Some(beside)), Err(ColourError::Outside));
        let shiny = Patch { place: [120, 20, 50, 50], reflects: 3.0 };
        assert_eq!(ground_colour(&photo, &corners, Some(shiny)), Err(ColourError::Reflects));
    }
}
