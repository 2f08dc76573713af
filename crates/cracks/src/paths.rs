//! Cracks as lines over the photo that they were found in.

use crate::flatten::Flat;
use crate::graph::Point;
use crate::look::{Look, USUAL_BLUR_PX};
use crate::width::trace;

/// Photo pixels that a drawn line may lie beside the crack's middle: less than a screen shows (judgement, no source).
const STRAY_PX: f64 = 0.6;

/// Middle lines of all cracks in pixels of the upright photo, each with as few places as its bends ask for.
///
/// ```
/// # use cracks::{BoardSize, Photo, crack_paths, find_corners, look};
/// // A board of one light has no lines; most such pictures are refused before.
/// let bare = |x: usize, y: usize| if (40..360).contains(&x) && (40..260).contains(&y) { 225 + ((x * 7 + y * 13) % 5) as u8 } else { 60 };
/// let rgb = (0..400 * 300).flat_map(|at| [bare(at % 400, at / 400); 3]).collect();
/// let photo = Photo::from_rgb(400, 300, rgb).expect("three bytes a pixel");
/// let size = BoardSize { width_mm: 80.0, height_mm: 55.0 };
/// if let Ok(seen) = look(&photo, size, find_corners(&photo).ok()) {
///     assert!(crack_paths(&seen).is_empty());
/// }
/// ```
pub fn crack_paths(look: &Look) -> Vec<Vec<Point>> {
    let traced = trace(&look.flat, &look.lines, look.flat.blur_px.unwrap_or(USUAL_BLUR_PX));
    let to_photo = |p: &Point| on_photo(&look.flat, *p);
    traced
        .iter()
        .map(|line| straightened(&line.points.iter().map(to_photo).collect::<Vec<_>>(), STRAY_PX))
        .filter(|line| line.len() > 1)
        .collect()
}

/// A place of the straightened picture in the photo.
pub(crate) fn on_photo(flat: &Flat, p: Point) -> Point {
    let (x, y) = flat.map.map((p.x + 0.5) / flat.px_per_mm, (p.y + 0.5) / flat.px_per_mm);
    Point { x, y }
}

/// The map from places of the photo to the straightened picture.
pub(crate) fn from_photo(flat: &Flat) -> Option<impl Fn(Point) -> Point + use<>> {
    let back = flat.map.back()?;
    let px_per_mm = flat.px_per_mm;
    Some(move |p: Point| {
        let (x, y) = back.map(p.x, p.y);
        Point { x: x * px_per_mm - 0.5, y: y * px_per_mm - 0.5 }
    })
}

/// A line with only those places that lie further than `stray` beside the rest (Douglas and Peucker 1973, from memory).
fn straightened(line: &[Point], stray: f64) -> Vec<Point> {
    let Some(last) = line.len().checked_sub(1) else { return Vec::new() };
    let mut keep = vec![false; line.len()];
    let mut parts = vec![(0, last)];
    while let Some((from, to)) = parts.pop() {
        for end in [from, to] {
            if let Some(keep) = keep.get_mut(end) {
                *keep = true;
            }
        }
        let (Some(&a), Some(&b)) = (line.get(from), line.get(to)) else { continue };
        let inside = line.iter().enumerate().take(to).skip(from + 1);
        let furthest = inside.map(|(at, &p)| (at, beside(p, a, b))).max_by(|p, q| p.1.total_cmp(&q.1));
        if let Some((at, far)) = furthest
            && far > stray
        {
            parts.extend([(from, at), (at, to)]);
        }
    }
    line.iter().zip(keep).filter_map(|(p, keep)| keep.then_some(*p)).collect()
}

/// How far a place lies from the stroke between two others.
pub(crate) fn beside(p: Point, a: Point, b: Point) -> f64 {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let length2 = dx * dx + dy * dy;
    let along = if length2 > 0.0 { (((p.x - a.x) * dx + (p.y - a.y) * dy) / length2).clamp(0.0, 1.0) } else { 0.0 };
    p.to(Point { x: a.x + along * dx, y: a.y + along * dy })
}

#[cfg(test)]
mod tests {
    use super::{Point, beside, straightened};

    fn line(places: &[(f64, f64)]) -> Vec<Point> {
        places.iter().map(|&(x, y)| Point { x, y }).collect()
    }

    // By hand: of an angle with places along its sides only ends and corner are needed; a wobble of a tenth is none.
    #[test]
    fn only_bends_are_kept() {
        let angle = line(&[(0.0, 0.0), (1.0, 0.1), (2.0, 0.0), (3.0, 0.0), (3.0, 1.0), (3.1, 2.0), (3.0, 3.0)]);
        assert_eq!(straightened(&angle, 0.6), line(&[(0.0, 0.0), (3.0, 0.0), (3.0, 3.0)]));
        assert_eq!(straightened(&[], 0.6), []);
        let one = line(&[(2.0, 1.0)]);
        assert_eq!(straightened(&one, 0.6), one);
    }

    // By hand: a 3-4-5 triangle; beyond an end the end itself is nearest.
    #[test]
    fn far_from_a_stroke() {
        let (a, b) = (Point { x: 0.0, y: 0.0 }, Point { x: 10.0, y: 0.0 });
        assert!((beside(Point { x: 4.0, y: -2.0 }, a, b) - 2.0).abs() < 1e-12);
        assert!((beside(Point { x: 13.0, y: 4.0 }, a, b) - 5.0).abs() < 1e-12);
        assert!((beside(Point { x: 3.0, y: 4.0 }, a, a) - 5.0).abs() < 1e-12);
    }
}
