//! Whether cracks and flakes go through the ground, as far as one photo can tell.
//!
//! A photo shows no depth. Shade inside of a crack looks the same however deep it is, and is of the ground's own colour, since the light in it
//! came from the ground's own walls. Only where wood shows in it, browner than any such shade, does it go through. All else can't be told.

use crate::decode::{Photo, linear};
use crate::flatten::Flat;
use crate::graph::Point;
use crate::look::{Look, taken_blur_px};
use crate::paths::on_photo;

/// What shows inside of cracks, or of flakes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Inside {
    /// There are none.
    None,
    /// They are too narrow: the blur mixes them with the ground beside.
    Narrow,
    /// They are darker than the ground and no more: any depth looks like that.
    Dark,
    /// Wood shows, in this share of what is wide enough to be seen into.
    Wood(f64),
}

/// What one photo tells of the depth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Depth {
    /// Cracks.
    pub cracks: Inside,
    /// Flakes.
    pub flakes: Inside,
    /// Narrowest crack that can be seen into, mm.
    pub least_mm: f64,
}

/// Blurs that a crack has to be wide: its middle is then darkened by the ground beside by less than a twentieth (worked out from a bar under
/// a bell). What is mixed in makes wood paler, never shade brown.
const BLURS: f64 = 4.0;
/// And pixels: JPEG keeps colour for every other pixel only (ITU-T T.81 with the usual 4:2:0; from memory).
const PIXELS: f64 = 4.0;
/// Places along a crack whose colour is taken together.
const RUN: usize = 9;
/// Runs that have to show wood before it is said (model choice).
const LEAST_RUNS: usize = 5;
/// And the share of all that are wide enough (model choice).
const LEAST_SHARE: f64 = 0.1;
/// Light, as a share of the ground's, in which a colour can be told (judgement, no source).
const READABLE: std::ops::RangeInclusive<f64> = 0.06..=0.8;
/// Red over blue, beside the ground's own, from which it is wood. A creamy white of L* 97, b* 6 throws back 1.15 times as much red as blue; light
/// that met it three times before leaving a crack is 1.32 times redder than light that met it once. Pale wood of L* 80, a* 6, b* 22 gives
/// about 2 (judgement, no source).
const BROWN: f64 = 1.5;
/// Least red over green, and green over blue: rust and blue-grey are no wood (model choice).
const ORDER: f64 = 1.08;

/// Looks into cracks and flakes.
///
/// ```
/// # use cracks::{BoardSize, Inside, Photo, depth, find_corners, look};
/// // A board without cracks has no depth to tell.
/// let bare = |x: usize, y: usize| if (40..360).contains(&x) && (40..260).contains(&y) { 225 + ((x * 7 + y * 13) % 5) as u8 } else { 60 };
/// let rgb = (0..400 * 300).flat_map(|at| [bare(at % 400, at / 400); 3]).collect();
/// let photo = Photo::from_rgb(400, 300, rgb).expect("three bytes a pixel");
/// let size = BoardSize { width_mm: 80.0, height_mm: 55.0 };
/// if let Ok(seen) = look(&photo, size, find_corners(&photo).ok()) {
///     assert_eq!(depth(&photo, &seen).cracks, Inside::None);
/// }
/// ```
pub fn depth(photo: &Photo, look: &Look) -> Depth {
    let least_px = (BLURS * taken_blur_px(&look.flat)).max(PIXELS);
    Depth { cracks: cracks(photo, look, least_px), flakes: flakes(photo, look), least_mm: least_px / look.flat.px_per_mm }
}

fn cracks(photo: &Photo, look: &Look, least_px: f64) -> Inside {
    if look.lines.graph.branches.is_empty() {
        return Inside::None;
    }
    let reach = (least_px / 2.0).ceil() as i64;
    // A disc as wide as asked for has to lie in the dark.
    let ring = [(1.0, 0.0), (0.7, 0.7), (0.0, 1.0), (-0.7, 0.7), (-1.0, 0.0), (-0.7, -0.7), (0.0, -1.0), (0.7, -0.7)]
        .map(|(x, y): (f64, f64)| ((x * reach as f64).round() as i64, (y * reach as f64).round() as i64));
    let wide = |&(x, y): &(i64, i64)| ring.iter().all(|(dx, dy)| look.lines.mask.has(x + dx, y + dy));
    let (mut all, mut wood) = (0_usize, 0_usize);
    for branch in &look.lines.graph.branches {
        for run in branch.chain.chunks(RUN).filter(|run| run.len() == RUN && run.iter().all(wide)) {
            let places = run.iter().flat_map(|&(x, y)| [(x, y), (x + 1, y), (x - 1, y), (x, y + 1), (x, y - 1)]);
            let inside = mean(places.map(|(x, y)| light_at(photo, &look.flat, Point { x: x as f64, y: y as f64 })));
            let middle = run.get(RUN / 2).copied().unwrap_or_default();
            all += 1;
            let mm = |px: i64| (px as f64 + 0.5) / look.flat.px_per_mm;
            wood += usize::from(is_wood(inside, look.flakes.ground(mm(middle.0), mm(middle.1))));
        }
    }
    let share = wood as f64 / all.max(1) as f64;
    match all {
        0..LEAST_RUNS => Inside::Narrow,
        _ if wood >= LEAST_RUNS && share >= LEAST_SHARE => Inside::Wood(share),
        _ => Inside::Dark,
    }
}

fn flakes(photo: &Photo, look: &Look) -> Inside {
    if look.flakes.all.is_empty() {
        return Inside::None;
    }
    let per = look.flat.px_per_mm;
    let shows = look.flakes.all.iter().filter(|flake| {
        // The inner part of its circle: rims are shade and blur.
        let reach = 0.5 * (flake.area_mm2 / std::f64::consts::PI).sqrt();
        let middle = Point { x: flake.x_mm * per - 0.5, y: flake.y_mm * per - 0.5 };
        let steps = || (-4_i32..=4).map(|k| f64::from(k) / 4.0 * reach * per);
        let places = steps().flat_map(|dx| steps().map(move |dy| Point { x: middle.x + dx, y: middle.y + dy }));
        let inside = mean(places.map(|p| light_at(photo, &look.flat, p)));
        is_wood(inside, look.flakes.ground(flake.x_mm, flake.y_mm))
    });
    match shows.count() {
        0 => Inside::Dark,
        count => Inside::Wood(count as f64 / look.flakes.all.len() as f64),
    }
}

/// Whether light is that of wood beside a ground of this light: readable, and brown.
fn is_wood(inside: [f64; 3], ground: [f64; 3]) -> bool {
    let beside: Vec<f64> = inside.iter().zip(ground).map(|(a, b)| a / b.max(1e-4)).collect();
    let &[red, green, blue] = beside.as_slice() else { return false };
    READABLE.contains(&((red + green + blue) / 3.0)) && red >= BROWN * blue && red >= ORDER * green && green >= ORDER * blue
}

/// Mean light of places.
fn mean(places: impl Iterator<Item = [f64; 3]>) -> [f64; 3] {
    let (sum, count) = places.fold(([0.0; 3], 0.0), |(sum, count), [r, g, b]| {
        let [sr, sg, sb] = sum;
        ([sr + r, sg + g, sb + b], count + 1.0)
    });
    sum.map(|value: f64| value / f64::max(count, 1.0))
}

/// Linear light of the photo at a place of the straightened picture.
fn light_at(photo: &Photo, flat: &Flat, p: Point) -> [f64; 3] {
    let p = on_photo(flat, p);
    photo.pixel(p.x.round() as i64, p.y.round() as i64).map(linear)
}

#[cfg(test)]
mod tests {
    use super::is_wood;

    // Linear light by IEC 61966-2-1, by hand, of sRGB 200, 165, 125 (a pale wood), in a third of the light of a white ground of 0.85:
    // 0.578, 0.376, 0.205; a third: 0.193, 0.125, 0.068; red over blue 2.8.
    #[test]
    fn wood_is_brown_and_shade_is_not() {
        let white = [0.85, 0.85, 0.85];
        assert!(is_wood([0.193, 0.125, 0.068], white));
        // Under a yellow lamp both are yellow.
        let lamp = [1.0, 0.8, 0.45];
        let under = |rgb: [f64; 3]| [rgb[0] * lamp[0], rgb[1] * lamp[1], rgb[2] * lamp[2]];
        assert!(is_wood(under([0.193, 0.125, 0.068]), under(white)));
        assert!(!is_wood(under([0.2, 0.2, 0.2]), under(white)), "shade under a yellow lamp");
        // Light that met a creamy ground (1.15 times more red than blue) three times: 0.85 x 0.3 x (1.32, 1.15, 1).
        assert!(!is_wood([0.337, 0.293, 0.255], white), "shade of a cream ground");
        assert!(!is_wood([0.02, 0.012, 0.007], white), "too dark for a colour");
        assert!(!is_wood([0.2, 0.06, 0.07], white), "red");
        assert!(!is_wood([0.1, 0.15, 0.3], white), "blue");
    }
}
