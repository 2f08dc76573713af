//! Square codes of boards' labels, found in a photo and fitted to a part of a pixel.

use rqrr::{BitGrid, PreparedImage};

use crate::corners::Corners;
use crate::decode::Photo;
use crate::graph::Point;
use crate::homography::Homography;
use crate::plane::{Plane, share_below};

/// A square code that was read.
#[derive(Debug, Clone, PartialEq)]
pub struct Label {
    /// What it reads.
    pub text: String,
    /// Corners of the code, without the white around it, in pixels of the upright photo: clockwise from the code's own top left.
    pub corners: [Point; 4],
    /// Dark and light squares along a side.
    pub modules: usize,
}

/// A label's picture is printed this wide, white rim and all, in mm.
pub const LABEL_PRINT_MM: f64 = 26.0;
/// Squares of white on each side (ISO/IEC 18004 asks for four).
const RIM: usize = 4;

impl Label {
    /// Side of the code as this program prints it, in mm: the white rim is no part of it.
    ///
    /// ```
    /// let label = cracks::Label { text: String::new(), corners: [cracks::Point { x: 0.0, y: 0.0 }; 4], modules: 21 };
    /// assert!((label.side_mm() - 26.0 * 21.0 / 29.0).abs() < 1e-12);
    /// ```
    pub fn side_mm(&self) -> f64 {
        LABEL_PRINT_MM * self.modules as f64 / (self.modules + 2 * RIM) as f64
    }

    /// Mean side in pixels.
    pub fn side_px(&self) -> f64 {
        let [a, b, c, d] = self.corners;
        (a.to(b) + b.to(c) + c.to(d) + d.to(a)) / 4.0
    }

    /// Its middle.
    pub fn middle(&self) -> Point {
        let [a, b, c, d] = self.corners;
        Point { x: (a.x + b.x + c.x + d.x) / 4.0, y: (a.y + b.y + c.y + d.y) / 4.0 }
    }
}

/// Long sides in pixels to which the photo is reduced, one after another. The last is only taken if codes are still missing: the full
/// size of a large photo takes too long, and its noise hides the squares.
const SIZES: [usize; 3] = [1000, 2000, 4000];

/// All square codes in a photo that can be read, in the order in which they lie from top to bottom.
///
/// ```
/// let wall = cracks::Photo::from_rgb(300, 200, vec![180; 300 * 200 * 3]).expect("three bytes a pixel");
/// assert!(cracks::find_labels(&wall).is_empty());
/// ```
pub fn find_labels(photo: &Photo) -> Vec<Label> {
    let mut found: Vec<Label> = Vec::new();
    let mut last = usize::MAX;
    for size in SIZES {
        let step = photo.width().max(photo.height()).div_ceil(size);
        if step == last {
            continue;
        }
        last = step;
        let all_read = read_at(photo, step, &mut found);
        if all_read && !found.is_empty() && size > 1000 {
            break;
        }
    }
    found.sort_by(|a, b| a.middle().y.total_cmp(&b.middle().y));
    found
}

/// Reads the photo reduced so many times; whether every code that was seen could be read.
fn read_at(photo: &Photo, step: usize, found: &mut Vec<Label>) -> bool {
    let (width, height) = (photo.width() / step, photo.height() / step);
    let grey = reduced(photo, step, width, height);
    let mut picture = PreparedImage::prepare_from_greyscale(width, height, |x, y| grey.get(y * width + x).copied().unwrap_or(255));
    let mut all = true;
    for grid in picture.detect_grids() {
        let Ok((_, text)) = grid.decode() else {
            all = false;
            continue;
        };
        let place = |v: i32| (f64::from(v) + 0.5) * step as f64 - 0.5;
        let rough = grid.bounds.map(|point| Point { x: place(point.x), y: place(point.y) });
        let modules = grid.grid.size();
        let dark: Vec<bool> = (0..modules * modules).map(|at| grid.grid.bit(at / modules, at % modules)).collect();
        let label = Label { text, corners: settled(photo, rough, &dark, modules), modules };
        let known = found.iter().any(|other| other.text == label.text && other.middle().to(label.middle()) < 0.5 * label.side_px());
        if !known {
            found.push(label);
        }
    }
    all
}

/// Paints over the labels that lie on the board, with the light around each, so that their squares are not taken for cracks. Gives back the share
/// of the board that was covered, 0 to 1.
pub fn cover_labels(photo: &mut Photo, board: &Corners, labels: &[Label]) -> f64 {
    let unit = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
    let Some(to_board) = Homography::of(board.points().map(|p| (p.x, p.y)), unit) else { return 0.0 };
    let mut share = 0.0;
    for label in labels {
        let (x, y) = to_board.map(label.middle().x, label.middle().y);
        if !((0.0..=1.0).contains(&x) && (0.0..=1.0).contains(&y)) {
            continue;
        }
        // The white rim, and a little more for the paper's edge.
        let n = label.modules as f64;
        let code = [(0.0, 0.0), (n, 0.0), (n, n), (0.0, n)];
        let Some(map) = Homography::of(code, label.corners.map(|p| (p.x, p.y))) else { continue };
        let rim = RIM as f64 + 1.5;
        let sheet = [(-rim, -rim), (n + rim, -rim), (n + rim, n + rim), (-rim, n + rim)].map(|(x, y)| map.map(x, y));
        paint(photo, sheet);
        let [a, b, c, d] = sheet.map(|(x, y)| to_board.map(x, y));
        let cross = |p: (f64, f64), q: (f64, f64)| p.0 * q.1 - q.0 * p.1;
        share += (cross(a, b) + cross(b, c) + cross(c, d) + cross(d, a)).abs() / 2.0;
    }
    share.min(1.0)
}

/// Fills four corners with light that goes evenly from one to the next; each corner's is the median along the half sides that meet there.
pub(crate) fn paint(photo: &mut Photo, sheet: [(f64, f64); 4]) {
    let unit = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
    let (Some(out), Some(back)) = (Homography::of(unit, sheet), Homography::of(sheet, unit)) else { return };
    let median = |x: f64, y: f64| {
        let mut channels: [Vec<f32>; 3] = Default::default();
        for k in 0..40 {
            let t = 0.5 * f64::from(k) / 40.0;
            for (u, v) in [((x - t).abs(), y), (x, (y - t).abs())] {
                let (px, py) = out.map(u, v);
                for (channel, byte) in channels.iter_mut().zip(photo.pixel(px.round() as i64, py.round() as i64)) {
                    channel.push(f32::from(byte));
                }
            }
        }
        channels.map(|mut channel| f64::from(share_below(&mut channel, 0.5).unwrap_or(0.0)))
    };
    let corners = unit.map(|(x, y)| median(x, y));
    let ends = |of: fn(&(f64, f64)) -> f64| {
        let all = sheet.iter().map(of);
        (all.clone().fold(f64::INFINITY, f64::min).floor() as i64, all.fold(f64::NEG_INFINITY, f64::max).ceil() as i64)
    };
    let ((left, right), (top, bottom)) = (ends(|p| p.0), ends(|p| p.1));
    for y in top.max(0)..=bottom.min(photo.height() as i64 - 1) {
        for x in left.max(0)..=right.min(photo.width() as i64 - 1) {
            let (u, v) = back.map(x as f64, y as f64);
            if !((0.0..=1.0).contains(&u) && (0.0..=1.0).contains(&v)) {
                continue;
            }
            let [a, b, c, d] = corners;
            let weights = [(a, (1.0 - u) * (1.0 - v)), (b, u * (1.0 - v)), (c, u * v), (d, (1.0 - u) * v)];
            let mut light = [0.0_f64; 3];
            for (corner, weight) in weights {
                for (sum, value) in light.iter_mut().zip(corner) {
                    *sum += weight * value;
                }
            }
            photo.put(x as usize, y as usize, light.map(|value| value.round().clamp(0.0, 255.0) as u8));
        }
    }
}

/// Weights of red, green and blue in the brightness of coded bytes (ITU-R BT.601, from memory).
fn brightness([r, g, b]: [u8; 3]) -> u32 {
    (299 * u32::from(r) + 587 * u32::from(g) + 114 * u32::from(b)) / 1000
}

fn reduced(photo: &Photo, step: usize, width: usize, height: usize) -> Vec<u8> {
    let mut out = Vec::with_capacity(width * height);
    for y in 0..height {
        for x in 0..width {
            let mut sum = 0;
            for dy in 0..step {
                for dx in 0..step {
                    sum += brightness(photo.pixel((x * step + dx) as i64, (y * step + dy) as i64));
                }
            }
            out.push((sum / (step * step) as u32).min(255) as u8);
        }
    }
    out
}

/// Moves the corners until dark and light squares part best; samples lie close to the edges of the squares, so a shift of a part of
/// a pixel counts.
fn settled(photo: &Photo, rough: [Point; 4], dark: &[bool], modules: usize) -> [Point; 4] {
    let (mut left, mut top, mut right, mut bottom) = (f64::INFINITY, f64::INFINITY, 0.0_f64, 0.0_f64);
    for point in rough {
        (left, top) = (left.min(point.x), top.min(point.y));
        (right, bottom) = (right.max(point.x), bottom.max(point.y));
    }
    let side = (right - left).max(bottom - top);
    let rim = 0.1 * side;
    let (left, top) = ((left - rim).floor().max(0.0), (top - rim).floor().max(0.0));
    let width = ((right + rim - left).ceil() as usize).clamp(1, photo.width());
    let height = ((bottom + rim - top).ceil() as usize).clamp(1, photo.height());
    let mut piece = Plane::filled(width, height, 0.0);
    for y in 0..height {
        for (x, value) in (0_i64..).zip(piece.row_mut(y)) {
            *value = brightness(photo.pixel(left as i64 + x, top as i64 + y as i64)) as f32;
        }
    }
    let mut corners = rough.map(|point| (point.x - left, point.y - top));
    for (reach, first, last) in [(0.2, 0.02, 0.005), (0.38, 0.01, 0.002), (0.47, 0.003, 0.0)] {
        climb(&piece, &mut corners, &Squares { dark, modules, reach }, first * side, (last * side).max(FINEST));
    }
    corners.map(|(x, y)| Point { x: x + left, y: y + top })
}

/// Finest move of a corner, in pixels.
const FINEST: f64 = 0.05;
/// Corners that move together: all, the two of a side, one.
const TOGETHER: [[bool; 4]; 9] = [
    [true, true, true, true],
    [true, true, false, false],
    [false, true, true, false],
    [false, false, true, true],
    [true, false, false, true],
    [true, false, false, false],
    [false, true, false, false],
    [false, false, true, false],
    [false, false, false, true],
];

/// What is looked for, and how far from the middle of a square.
struct Squares<'a> {
    dark: &'a [bool],
    modules: usize,
    reach: f64,
}

fn climb(piece: &Plane, corners: &mut [(f64, f64); 4], squares: &Squares<'_>, first: f64, last: f64) {
    let mut step = first;
    let mut best = parted(piece, corners, squares);
    let mut rounds = 0;
    while step >= last && rounds < 150 {
        rounds += 1;
        let mut moved = false;
        for moving in TOGETHER {
            for (dx, dy) in [(step, 0.0), (-step, 0.0), (0.0, step), (0.0, -step)] {
                let mut tried = *corners;
                for (point, _) in tried.iter_mut().zip(moving).filter(|(_, moves)| *moves) {
                    *point = (point.0 + dx, point.1 + dy);
                }
                let value = parted(piece, &tried, squares);
                if value > best {
                    best = value;
                    *corners = tried;
                    moved = true;
                }
            }
        }
        if !moved {
            step /= 2.0;
        }
    }
}

/// Light of the light squares less light of the dark ones, at four samples in each square, towards its sides. The first row of white
/// around the code counts as well: without it a smaller code would look darker.
fn parted(piece: &Plane, corners: &[(f64, f64); 4], &Squares { dark, modules, reach }: &Squares<'_>) -> f64 {
    let n = modules as f64;
    let Some(map) = Homography::of([(0.0, 0.0), (n, 0.0), (n, n), (0.0, n)], *corners) else { return f64::NEG_INFINITY };
    let mut sum = 0.0;
    let wide = modules + 2;
    for at in 0..wide * wide {
        let (column, row) = (at % wide, at / wide);
        let inside = (1..=modules).contains(&column) && (1..=modules).contains(&row);
        let dark = inside && dark.get((row - 1) * modules + column - 1).copied().unwrap_or(false);
        let (x, y) = (column as f64 - 0.5, row as f64 - 0.5);
        for (dx, dy) in [(-reach, 0.0), (reach, 0.0), (0.0, -reach), (0.0, reach)] {
            let (u, v) = map.map(x + dx, y + dy);
            let light = f64::from(piece.between(u, v));
            sum += if dark { -light } else { light };
        }
    }
    sum
}
