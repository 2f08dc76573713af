//! Where the board lies in the photo.

use rayon::prelude::*;
use thiserror::Error;

use crate::decode::{Light, Photo};
use crate::flatten::LEAST_LIGHT;
use crate::graph::Point;
use crate::mask::Mask;
use crate::plane::{Plane, floor, share_below};

/// Four corners in pixels of the upright photo: top left, top right, bottom right, bottom left.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Corners([Point; 4]);

/// Why corners can't be used or found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum CornersError {
    /// A corner lies off the photo.
    #[error("a corner lies outside the photo: give pixels of the upright photo, top left, top right, bottom right, bottom left")]
    Outside,
    /// Sides cross, or the order is wrong.
    #[error("the corners are crossed or out of order: give top left, top right, bottom right, bottom left")]
    Crossed,
    /// Three on a line, or next to nothing.
    #[error("three of the corners lie nearly on a line: give the four corners of the board")]
    Flat,
    /// No bright board on something darker.
    #[error("no board stands out from what it lies on: lay it on something dark and plain, or give its corners")]
    NoBoard,
    /// Hardly any light.
    #[error("the photo is too dark to see the board in it: more light, or a longer exposure")]
    Dark,
    /// Several boards of like size.
    #[error("more than one board or sheet lies in the photo: take one photo of each, or give the corners of one of them")]
    Several,
    /// Part of the board is off the photo.
    #[error("the board touches the edge of the photo: leave a little table all around, or give its corners")]
    CutOff,
    /// What is bright has no four straight sides.
    #[error("what is bright here has no four straight sides: take away what lies on or beside the board, or give its corners")]
    Shape,
}

impl Corners {
    /// Checks corners against the photo's size.
    ///
    /// # Errors
    /// Outside (by more than two pixels), crossed, or nearly on a line (a triangle of three below a hundredth of the whole).
    ///
    /// ```
    /// use cracks::{Corners, CornersError};
    /// let good = [(10.0, 10.0), (90.0, 12.0), (88.0, 70.0), (9.0, 71.0)];
    /// assert!(Corners::new(good, 100, 80).is_ok());
    /// let [a, b, c, d] = good;
    /// assert_eq!(Corners::new([a, c, b, d], 100, 80), Err(CornersError::Crossed));
    /// ```
    pub fn new(points: [(f64, f64); 4], width: usize, height: usize) -> Result<Self, CornersError> {
        let inside = |v: f64, end: usize| v.is_finite() && v >= -2.5 && v <= end as f64 + 1.5;
        if !points.iter().all(|&(x, y)| inside(x, width) && inside(y, height)) {
            return Err(CornersError::Outside);
        }
        let [a, b, c, d] = points;
        let turn = |p: (f64, f64), q: (f64, f64), r: (f64, f64)| (q.0 - p.0) * (r.1 - p.1) - (q.1 - p.1) * (r.0 - p.0);
        let turns = [turn(a, b, c), turn(b, c, d), turn(c, d, a), turn(d, a, b)];
        let whole: f64 = turns.iter().sum::<f64>().abs() / 2.0;
        if whole < 100.0 || turns.iter().any(|t| t.abs() < 0.01 * whole) {
            return Err(CornersError::Flat);
        }
        if turns.iter().any(|&t| t < 0.0) {
            return Err(CornersError::Crossed);
        }
        Ok(Self(points.map(|(x, y)| Point { x, y })))
    }

    /// The four points.
    pub const fn points(&self) -> [Point; 4] {
        self.0
    }
}

/// Looks for a bright board on something darker and fits its four edges.
///
/// # Errors
/// See [`CornersError`].
pub fn find_corners(photo: &Photo) -> Result<Corners, CornersError> {
    let (groups, step) = bright_groups(photo).ok_or_else(|| if is_dark(photo) { CornersError::Dark } else { CornersError::NoBoard })?;
    let (width, height) = (photo.width() / step, photo.height() / step);
    let largest = groups.iter().max_by_key(|group| group.len()).ok_or(CornersError::NoBoard)?;
    let size = largest.len() as f64;
    let whole = (width * height) as f64;
    if size > SEVERAL_FROM * whole && groups.iter().filter(|group| group.len() as f64 > ALIKE * size).count() > 1 {
        return Err(CornersError::Several);
    }
    if size < 0.08 * whole {
        return Err(CornersError::NoBoard);
    }
    let touches = largest.iter().filter(|&&(x, y)| x == 0 || y == 0 || x as usize + 1 == width || y as usize + 1 == height).count();
    if touches as f64 > 0.02 * (width + height) as f64 {
        return Err(CornersError::CutOff);
    }
    four_sided(photo, largest, step)
}

/// Whether even the brightest fiftieth is darker than a board may be.
fn is_dark(photo: &Photo) -> bool {
    let mut roots = reduced(photo, &Light::table(), step_of(photo));
    share_below(roots.values_mut(), 0.98).is_none_or(|root| f64::from(root).powi(2) < LEAST_LIGHT)
}

/// Share of the photo from which a second one of like size is a board (judgement, no source).
const SEVERAL_FROM: f64 = 0.01;
/// Share of the largest from which another is of like size (judgement, no source).
const ALIKE: f64 = 0.6;

/// Pixels of one piece.
type Group = Vec<(u32, u32)>;

/// How many times a photo is reduced to look for boards in it.
fn step_of(photo: &Photo) -> usize {
    (photo.width().max(photo.height()) / 900).max(1)
}

/// Bright pieces of the photo reduced so many times; `None` if dark and bright hardly differ.
pub(crate) fn bright_groups(photo: &Photo) -> Option<(Vec<Group>, usize)> {
    let step = step_of(photo);
    let small = reduced(photo, &Light::table(), step);
    let (width, height) = (small.width(), small.height());
    let level = otsu(&small)?;
    let bright = Mask::from_rows(width, height, small.values().iter().map(|&value| value > level).collect())?;
    // Cracks part a board into pieces: gaps are bridged first.
    let bright = opposite(&opposite(&bright.grown(BRIDGE)).grown(BRIDGE));
    Some((bright.groups(false), step))
}

/// The four sides of a bright piece, fitted in the photo itself.
pub(crate) fn four_sided(photo: &Photo, group: &[(u32, u32)], step: usize) -> Result<Corners, CornersError> {
    let table = Light::table();
    let hull = hull(group);
    let quad = widest_four(&hull).ok_or(CornersError::Shape)?;
    let quad_area = area(&quad);
    if area(&hull) > 1.08 * quad_area || (group.len() as f64) < 0.5 * quad_area {
        return Err(CornersError::Shape);
    }
    let place = |v: f64| (v + 0.5) * step as f64 - 0.5;
    let mut rough = quad.map(|(x, y)| (place(x), place(y)));
    order(&mut rough);
    let first = refine(photo, &table, rough, 3.0 * step as f64 + 4.0)?;
    let fine = refine(photo, &table, first, 6.0)?;
    Corners::new(fine, photo.width(), photo.height())
}

/// Half the widest gap that is bridged, in steps of the reduced photo.
const BRIDGE: usize = 4;

fn opposite(mask: &Mask) -> Mask {
    let set = mask.pixels().iter().map(|set| !set).collect();
    Mask::from_rows(mask.width(), mask.height(), set).unwrap_or_else(|| Mask::empty(0, 0))
}

fn reduced(photo: &Photo, table: &Light, step: usize) -> Plane {
    let (width, height) = (photo.width() / step, photo.height() / step);
    let mut out = Plane::filled(width, height, 0.0);
    let inner = (step / 2).max(1);
    out.values_mut().par_chunks_mut(width.max(1)).enumerate().for_each(|(y, row)| {
        for (x, value) in row.iter_mut().enumerate() {
            let mut sum = 0.0;
            for dy in (0..step).step_by(inner) {
                for dx in (0..step).step_by(inner) {
                    sum += table.of(photo.pixel((x * step + dx) as i64, (y * step + dy) as i64));
                }
            }
            *value = (sum / (step.div_ceil(inner).pow(2)) as f32).sqrt();
        }
    });
    out
}

/// The level that parts dark from bright best (Otsu 1979, from memory); `None` if the two hardly differ.
fn otsu(picture: &Plane) -> Option<f32> {
    let mut counts = [0.0_f64; 256];
    for &value in picture.values() {
        if let Some(count) = counts.get_mut((value * 255.0).clamp(0.0, 255.0) as usize) {
            *count += 1.0;
        }
    }
    let total: f64 = counts.iter().sum();
    let sum: f64 = counts.iter().enumerate().map(|(k, n)| k as f64 * n).sum();
    let (mut below, mut below_sum, mut best) = (0.0, 0.0, (0.0, 0.0, 0.0));
    for (k, n) in counts.iter().enumerate() {
        below += n;
        below_sum += k as f64 * n;
        if below == 0.0 || below >= total {
            continue;
        }
        let (low, high) = (below_sum / below, (sum - below_sum) / (total - below));
        let between = below * (total - below) * (high - low).powi(2);
        if between > best.0 {
            best = (between, f64::midpoint(low, high), high - low);
        }
    }
    // Square roots of light, in 255ths: less than this is one plain surface (judgement, no source).
    (best.2 > 25.0).then_some((best.1 / 255.0) as f32)
}

/// The convex hull, clockwise in picture coordinates (Andrew's chain, from memory).
fn hull(places: &[(u32, u32)]) -> Vec<(f64, f64)> {
    // Only the ends of a row can be on it.
    let rows = places.iter().map(|place| place.1 as usize + 1).max().unwrap_or(0);
    let mut ends: Vec<Option<(u32, u32)>> = vec![None; rows];
    for &(x, y) in places {
        if let Some(ends) = ends.get_mut(y as usize) {
            let (first, last) = ends.unwrap_or((x, x));
            *ends = Some((first.min(x), last.max(x)));
        }
    }
    let rows = (0_i64..).zip(ends).filter_map(|(y, ends)| ends.map(|(first, last)| [(i64::from(first), y), (i64::from(last), y)]));
    let mut points: Vec<(i64, i64)> = rows.flatten().collect();
    points.sort_unstable();
    points.dedup();
    let turn = |p: (i64, i64), q: (i64, i64), r: (i64, i64)| (q.0 - p.0) * (r.1 - p.1) - (q.1 - p.1) * (r.0 - p.0);
    let chain = |points: &mut dyn Iterator<Item = (i64, i64)>| {
        let mut out: Vec<(i64, i64)> = Vec::new();
        for point in points {
            while let [.., p, q] = out.as_slice()
                && turn(*p, *q, point) <= 0
            {
                out.pop();
            }
            out.push(point);
        }
        out.pop();
        out
    };
    let mut out = chain(&mut points.iter().copied());
    out.extend(chain(&mut points.iter().rev().copied()));
    out.into_iter().map(|(x, y)| (x as f64, y as f64)).collect()
}

fn area(points: &[(f64, f64)]) -> f64 {
    let next = points.iter().cycle().skip(1);
    points.iter().zip(next).map(|(p, q)| p.0 * q.1 - q.0 * p.1).sum::<f64>().abs() / 2.0
}

/// Four points of the hull that enclose the most.
fn widest_four(hull: &[(f64, f64)]) -> Option<[(f64, f64); 4]> {
    let thinned: Vec<(f64, f64)> =
        if hull.len() > 60 { hull.iter().step_by(hull.len().div_ceil(60)).copied().collect() } else { hull.to_vec() };
    let grow = |from: &[(f64, f64)]| {
        let mut best = (0.0, None);
        for (i, &a) in from.iter().enumerate() {
            for (j, &c) in from.iter().enumerate().skip(i + 2) {
                let away = |p: (f64, f64)| ((c.0 - a.0) * (p.1 - a.1) - (c.1 - a.1) * (p.0 - a.0)).abs();
                let far = |part: &[(f64, f64)]| part.iter().copied().max_by(|p, q| away(*p).total_cmp(&away(*q)));
                let between = far(from.get(i + 1..j).unwrap_or_default());
                let rest: Vec<(f64, f64)> = from.iter().skip(j + 1).chain(from.iter().take(i)).copied().collect();
                if let (Some(b), Some(d)) = (between, far(&rest)) {
                    let size = away(b) + away(d);
                    if size > best.0 {
                        best = (size, Some([a, b, c, d]));
                    }
                }
            }
        }
        best.1
    };
    grow(&thinned)
}

/// Clockwise from the top left: the corner with the least sum of its coordinates comes first.
fn order(points: &mut [(f64, f64); 4]) {
    let (cx, cy) = points.iter().fold((0.0, 0.0), |(x, y), p| (x + p.0 / 4.0, y + p.1 / 4.0));
    points.sort_by(|p, q| (p.1 - cy).atan2(p.0 - cx).total_cmp(&(q.1 - cy).atan2(q.0 - cx)));
    let first = points.iter().enumerate().min_by(|(_, p), (_, q)| (p.0 + p.1).total_cmp(&(q.0 + q.1))).map_or(0, |(k, _)| k);
    points.rotate_left(first);
}

/// A place and a direction.
type Line = ((f64, f64), (f64, f64));

/// Fits each side to where light changes fastest across it, and meets neighbouring sides.
fn refine(photo: &Photo, table: &Light, corners: [(f64, f64); 4], reach: f64) -> Result<[(f64, f64); 4], CornersError> {
    let [a, b, c, d] = corners;
    let sides: Vec<Result<Line, CornersError>> =
        [(a, b), (b, c), (c, d), (d, a)].into_par_iter().map(|ends| side(photo, table, ends, reach)).collect();
    let lines: Vec<Line> = sides.into_iter().collect::<Result<_, _>>()?;
    let meet = |first: usize, second: usize| {
        let (&(p, u), &(q, v)) = (lines.get(first)?, lines.get(second)?);
        let cross = u.0 * v.1 - u.1 * v.0;
        let t = ((q.0 - p.0) * v.1 - (q.1 - p.1) * v.0) / cross;
        (cross.abs() > 0.05).then_some((p.0 + u.0 * t, p.1 + u.1 * t))
    };
    match (meet(3, 0), meet(0, 1), meet(1, 2), meet(2, 3)) {
        (Some(a), Some(b), Some(c), Some(d)) => Ok([a, b, c, d]),
        _ => Err(CornersError::Shape),
    }
}

/// Places along a side where the light across it is looked at.
const ALONG: u32 = 160;

/// The line along which light changes fastest near a side.
fn side(photo: &Photo, table: &Light, (p, q): ((f64, f64), (f64, f64)), reach: f64) -> Result<Line, CornersError> {
    let length = f64::hypot(q.0 - p.0, q.1 - p.1);
    let (tx, ty) = ((q.0 - p.0) / length, (q.1 - p.1) / length);
    let (nx, ny) = (-ty, tx); // inwards
    let mut points = Vec::new();
    for k in 0..ALONG {
        let t = length * (0.04 + 0.92 * f64::from(k) / f64::from(ALONG - 1));
        let steps = (reach * 2.0) as i32;
        let light: Vec<f64> = (-steps - 4..=steps + 4)
            .map(|s| {
                let u = f64::from(s) / 2.0;
                (-1..=1)
                    .map(|along| {
                        let t = t + f64::from(along);
                        bilinear(photo, table, p.0 + tx * t + nx * u, p.1 + ty * t + ny * u)
                    })
                    .sum::<f64>()
                    / 3.0
            })
            .collect();
        let rise: Vec<f64> = light.windows(5).map(|w| w.last().copied().unwrap_or(0.0) - w.first().copied().unwrap_or(0.0)).collect();
        let Some((at, &most)) = rise.iter().enumerate().max_by(|x, y| x.1.total_cmp(y.1)) else { continue };
        if most < 0.03 {
            continue;
        }
        // The middle of the rise around its peak, which a crooked peak moves less than a fitted curve.
        let near = at.saturating_sub(4)..(at + 5).min(rise.len());
        let (sum, moment) = rise.get(near.clone()).unwrap_or_default().iter().zip(near).fold((0.0, 0.0), |(sum, moment), (&r, k)| {
            let r = r.max(0.0);
            (sum + r, moment + r * k as f64)
        });
        let u = (moment / sum - f64::from(steps) - 2.0) / 2.0;
        points.push((t, u));
    }
    if points.len() < ALONG as usize / 3 {
        return Err(CornersError::NoBoard);
    }
    let (offset, slope) = line_through(&mut points).ok_or(CornersError::Shape)?;
    Ok(((p.0 + nx * offset, p.1 + ny * offset), (tx + nx * slope, ty + ny * slope)))
}

fn bilinear(photo: &Photo, table: &Light, x: f64, y: f64) -> f64 {
    let (left, top) = (floor(x), floor(y));
    let at = |i: i64, j: i64| f64::from(table.of(photo.pixel(left + i, top + j)));
    let (a, b) = (x - left as f64, y - top as f64);
    (at(0, 0) * (1.0 - a) + at(1, 0) * a) * (1.0 - b) + (at(0, 1) * (1.0 - a) + at(1, 1) * a) * b
}

/// Least squares of u = offset + slope t, with the worst left out in five rounds.
fn line_through(points: &mut Vec<(f64, f64)>) -> Option<(f64, f64)> {
    let mut fit = None;
    for _ in 0..5 {
        let n = points.len() as f64;
        let (mt, mu) = points.iter().fold((0.0, 0.0), |(t, u), p| (t + p.0 / n, u + p.1 / n));
        let (stt, stu) = points.iter().fold((0.0, 0.0), |(tt, tu), p| (tt + (p.0 - mt).powi(2), tu + (p.0 - mt) * (p.1 - mu)));
        if stt <= 0.0 {
            return None;
        }
        let slope = stu / stt;
        let offset = mu - slope * mt;
        fit = Some((offset, slope));
        let mut off: Vec<f32> = points.iter().map(|p| (p.1 - offset - slope * p.0).abs() as f32).collect();
        let limit = f64::from(share_below(&mut off, 0.5)?) * 3.0 + 0.2;
        points.retain(|p| (p.1 - offset - slope * p.0).abs() <= limit);
        if points.len() < 20 {
            break;
        }
    }
    fit
}
