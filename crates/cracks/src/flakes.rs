//! Flakes: compact places where the ground is gone and something darker or of another colour lies bare.
//!
//! They are wider than cracks and larger than pinholes. The straightened picture is evened out over a few millimetres and would wash a large
//! flake out, so this looks at the photo's own colours, coarsely.

use rayon::prelude::*;

use crate::decode::{Photo, linear};
use crate::flatten::Flat;
use crate::homography::Homography;
use crate::lines::MARGIN_MM;
use crate::look::Range;
use crate::mask::Mask;
use crate::plane::{Plane, floor, share_below};

/// A place where the ground is gone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flake {
    /// Its middle, mm from the board's left edge.
    pub x_mm: f64,
    /// And from its upper edge.
    pub y_mm: f64,
    /// How large it is.
    pub area_mm2: f64,
}

/// All flakes of a board.
#[derive(Debug, Clone, PartialEq)]
pub struct Flakes {
    /// Each of them, largest first.
    pub all: Vec<Flake>,
    /// How many.
    pub count: Range,
    /// Share of the measured area.
    pub area: Range,
    /// The largest, mm2; 0 without any.
    pub largest_mm2: Range,
    mask: Mask,
    light: [Plane; 3],
    step_mm: f64,
}

/// Steps a millimetre in which flakes are looked for.
const STEPS: f64 = 6.0;
/// Steps to each side that have to be bare as well: a flake is nine steps wide somewhere, 1.5 mm, where cracks are not (model choice).
const REACH: usize = 4;
/// Side of the fields in which the ground's light is taken, mm; a field twice as wide has to be ground for a third at least (model choice).
const FIELD_MM: f64 = 8.0;
/// Share of a field's light that is taken for its ground's.
const GROUND: f64 = 0.75;
/// Least difference from the ground, as a share of its light (model choice).
const LEAST: f64 = 0.2;
/// And as a multiple of what nine tenths of the board have (model choice).
const TIMES: f64 = 3.0;
/// Half-way to what lies bare, and the neighbours that tell the doubt (model choice).
const LEVELS: [f64; 3] = [0.5, 0.65, 0.35];
/// Least share of the circle around it that a flake fills: longer ones are cracks or scratches (model choice).
const COMPACT: f64 = 0.3;

/// Most that the ground two and three steps outside of a flake differs, as a share of what the flake does (model choice): its edge is sharp.
const EDGED: f32 = 0.4;

/// Bare places at one level, and the flakes among them.
type Bare = (Mask, Vec<Flake>);

/// Finds them.
pub(crate) fn flakes(photo: &Photo, flat: &Flat) -> Option<Flakes> {
    let step = flat.px_per_mm / STEPS;
    let (width, height) = ((flat.picture.width() as f64 / step) as usize, (flat.picture.height() as f64 / step) as usize);
    let channels = coarse(photo, flat, step, (width, height));
    let [red, green, blue] = &channels;
    let (red, (green, blue)) = rayon::join(|| grounds(red), || (grounds(green), grounds(blue)));
    let light = [red, green, blue];
    let margin = (MARGIN_MM * STEPS).ceil() as usize;
    let mut differs = Plane::filled(width, height, 0.0);
    differs.values_mut().par_chunks_mut(width.max(1)).enumerate().for_each(|(y, row)| {
        let inner = margin..width.saturating_sub(margin).max(margin);
        if !(margin..height.saturating_sub(margin)).contains(&y) {
            return;
        }
        let [red, green, blue] = channels.each_ref().map(|channel| channel.row(y).get(inner.clone()).unwrap_or_default());
        let row = row.get_mut(inner.clone()).unwrap_or_default();
        let fields = light.each_ref().map(|light| row_of(light, in_fields(y)));
        for (x, ((value, red), (green, blue))) in inner.zip(row.iter_mut().zip(red).zip(green.iter().zip(blue))) {
            let at = in_fields(x).max(0.0);
            let (column, aside) = (at as usize, at.fract() as f32);
            let [r, g, b] = fields.each_ref().map(|row| match row.get(column..) {
                Some(&[one, next, ..]) => one + (next - one) * aside,
                Some(&[one]) => one,
                _ => 1.0,
            });
            let off = [red / r - 1.0, green / g - 1.0, blue / b - 1.0];
            // What is only lighter is shine, or a bristle.
            *value = if off.iter().sum::<f32>() > 0.15 { 0.0 } else { (off.iter().map(|off| off * off).sum::<f32>() / 3.0).sqrt() };
        }
    });
    let mut some: Vec<f32> = differs.values().iter().copied().step_by(7).collect();
    let usual = f64::from(share_below(&mut some, 0.5)?);
    let least = LEAST.max(TIMES * usual);
    let (first, _) = compact(&differs, least, None);
    let mut bare: Vec<f32> = first.places().map(|(x, y)| differs.at(x, y)).collect();
    let full = share_below(&mut bare, 0.6).map_or(0.0, f64::from);
    let [level, more, less] = LEVELS.map(|level| (level * full).max(least));
    // What more evidence does away with altogether is shade.
    let strict = compact(&differs, more, None);
    let (middle, loose) = rayon::join(|| compact(&differs, level, Some(&strict.0)), || compact(&differs, less, Some(&strict.0)));
    let levels = [middle, loose, strict];
    let per_mm2 = STEPS * STEPS;
    let all_mm2 = (width.saturating_sub(2 * margin) * height.saturating_sub(2 * margin)) as f64 / per_mm2;
    let ranged = |of: &dyn Fn(&Bare) -> f64| {
        let values = levels.each_ref().map(of);
        let [value, ..] = values;
        Range { value, low: values.into_iter().fold(value, f64::min), high: values.into_iter().fold(value, f64::max) }
    };
    let count = ranged(&|(_, all)| all.len() as f64);
    let area = ranged(&|(mask, _)| mask.count() as f64 / per_mm2 / all_mm2.max(1e-9));
    let largest_mm2 = ranged(&|(_, all)| all.first().map_or(0.0, |flake| flake.area_mm2));
    let [(mask, all), ..] = levels;
    Some(Flakes { all, count, area, largest_mm2, mask, light, step_mm: 1.0 / STEPS })
}

/// Red, green and blue light in coarse steps, each the mean of four places.
fn coarse(photo: &Photo, flat: &Flat, step: f64, (width, height): (usize, usize)) -> [Plane; 3] {
    let table: Vec<f32> = (0..=255).map(|byte| linear(byte) as f32).collect();
    let mm = step / flat.px_per_mm;
    let mut planes = [(); 3].map(|()| Plane::filled(width, height, 0.0));
    let [red, green, blue] = &mut planes;
    let row = width.max(1);
    let rows = red.values_mut().par_chunks_mut(row).zip(green.values_mut().par_chunks_mut(row)).zip(blue.values_mut().par_chunks_mut(row));
    rows.enumerate().for_each(|(y, ((red, green), blue))| {
        for (x, ((red, green), blue)) in red.iter_mut().zip(green).zip(blue).enumerate() {
            let mut sum = [0.0_f32; 3];
            for (dx, dy) in [(0.25, 0.25), (0.75, 0.25), (0.25, 0.75), (0.75, 0.75)] {
                let (u, v) = flat.map.map((x as f64 + dx) * mm, (y as f64 + dy) * mm);
                for (sum, byte) in sum.iter_mut().zip(photo.pixel(floor(u + 0.5), floor(v + 0.5))) {
                    *sum += 0.25 * table.get(usize::from(byte)).copied().unwrap_or(0.0);
                }
            }
            [*red, *green, *blue] = sum;
        }
    });
    planes
}

/// Steps of a field.
fn side() -> usize {
    (FIELD_MM * STEPS) as usize
}

/// The ground's light in fields.
fn grounds(channel: &Plane) -> Plane {
    let side = side();
    let (columns, rows) = (channel.width().div_ceil(side).max(1), channel.height().div_ceil(side).max(1));
    let values = (0..columns * rows)
        .map(|at| {
            let (left, top) = ((at % columns * side) as i64 - side as i64 / 2, (at / columns * side) as i64 - side as i64 / 2);
            let mut values = Vec::new();
            for y in (top..top + 2 * side as i64).step_by(3).filter(|y| (0..channel.height() as i64).contains(y)) {
                let row = channel.row(y as usize);
                values.extend((left..left + 2 * side as i64).step_by(3).filter_map(|x| row.get(usize::try_from(x).ok()?)));
            }
            share_below(&mut values, GROUND).unwrap_or(1.0)
        })
        .collect();
    Plane::from_rows(columns, rows, values).unwrap_or_else(|| Plane::filled(1, 1, 1.0))
}

/// Where a step lies between the middles of fields.
fn in_fields(step: usize) -> f64 {
    (step as f64 + 0.5) * (1.0 / (FIELD_MM * STEPS)) - 0.5
}

/// The ground's light along a line between two rows of fields.
fn row_of(light: &Plane, down: f64) -> Vec<f32> {
    (0..light.width()).map(|column| light.between(column as f64, down).max(1e-4)).collect()
}

/// The ground's light at a step.
fn field(light: &Plane, x: usize, y: usize) -> f32 {
    light.between(in_fields(x), in_fields(y))
}

/// Places above a level that are wide and compact, and each of them, largest first; only those that hold something sure.
fn compact(differs: &Plane, level: f64, sure: Option<&Mask>) -> Bare {
    let (width, height) = (differs.width(), differs.height());
    let over = |value: &f32| f64::from(*value) > level;
    let empty = || Mask::empty(width, height);
    let dark = Mask::from_rows(width, height, differs.values().iter().map(over).collect()).unwrap_or_else(empty);
    let rest = Mask::from_rows(width, height, dark.pixels().iter().map(|set| !set).collect()).unwrap_or_else(empty).grown(REACH);
    let wide = Mask::from_rows(width, height, rest.pixels().iter().map(|set| !set).collect()).unwrap_or_else(empty).grown(REACH + 3);
    let both = wide.pixels().iter().zip(dark.pixels()).map(|(a, b)| *a && *b).collect();
    let open = Mask::from_rows(width, height, both).unwrap_or_else(empty);
    let mut mask = empty();
    let mut all = Vec::new();
    for group in open.groups(true) {
        let count = group.len() as f64;
        let (sx, sy) = group.iter().fold((0.0, 0.0), |(sx, sy), &(x, y)| (sx + f64::from(x), sy + f64::from(y)));
        let (x, y) = (sx / count, sy / count);
        let far = group.iter().map(|&(px, py)| (f64::from(px) - x).hypot(f64::from(py) - y)).fold(0.5, f64::max);
        // What the opening lets through may still be a shred.
        if count < COMPACT * std::f64::consts::PI * far * far || count < ((2 * REACH + 1) * (2 * REACH + 1)) as f64 {
            continue;
        }
        let known = sure.is_none_or(|sure| group.iter().any(|&(x, y)| sure.has(i64::from(x), i64::from(y))));
        if !known || !edged(differs, &group) {
            continue;
        }
        for &(x, y) in &group {
            mask.put(i64::from(x), i64::from(y), true);
        }
        all.push(Flake { x_mm: (x + 0.5) / STEPS, y_mm: (y + 0.5) / STEPS, area_mm2: count / (STEPS * STEPS) });
    }
    all.sort_by(|a, b| b.area_mm2.total_cmp(&a.area_mm2));
    (mask, all)
}

/// Whether a group ends at an edge: shade and dirt fade out.
fn edged(differs: &Plane, group: &[(u32, u32)]) -> bool {
    let span = |of: fn(&(u32, u32)) -> u32| {
        let (first, last) = group.iter().map(of).fold((u32::MAX, 0), |(first, last), at| (first.min(at), last.max(at)));
        // With room for what lies around.
        (i64::from(first) - RING as i64, (i64::from(last) + 2 * RING as i64 + 1 - i64::from(first)).max(0) as usize)
    };
    let ((left, width), (top, height)) = (span(|place| place.0), span(|place| place.1));
    let mut own = Mask::empty(width, height);
    let mut inside = Vec::new();
    for &(x, y) in group {
        let (x, y) = (i64::from(x), i64::from(y));
        own.put(x - left, y - top, true);
        inside.push(differs.at(x, y));
    }
    let (near, far) = (own.grown(1), own.grown(RING));
    let whole = |x: i64, y: i64| x >= 0 && y >= 0 && x < differs.width() as i64 && y < differs.height() as i64;
    let ring = far.places().filter(|(x, y)| !near.has(*x, *y)).map(|(x, y)| (x + left, y + top)).filter(|(x, y)| whole(*x, *y));
    let mut outside: Vec<f32> = ring.map(|(x, y)| differs.at(x, y)).collect();
    match (share_below(&mut inside, 0.5), share_below(&mut outside, 0.5)) {
        (Some(inside), Some(outside)) => outside < EDGED * inside,
        _ => false,
    }
}

/// Steps around a flake in which its edge has to end.
const RING: usize = 3;

impl Flakes {
    /// The ground's own red, green and blue light around a place, in mm from the board's left and upper edge.
    pub(crate) fn ground(&self, x_mm: f64, y_mm: f64) -> [f64; 3] {
        let step = |mm: f64| (mm / self.step_mm).max(0.0) as usize;
        self.light.each_ref().map(|light| f64::from(field(light, step(x_mm), step(y_mm))))
    }

    /// The photo with the ground's own light where flakes and their rims are, so that no rim is taken for a crack; `None` without flakes.
    pub(crate) fn painted(&self, photo: &Photo, flat: &Flat) -> Option<Photo> {
        if self.all.is_empty() {
            return None;
        }
        let (w, h) = (flat.picture.width() as f64 / flat.px_per_mm, flat.picture.height() as f64 / flat.px_per_mm);
        let board = [(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)];
        let back = Homography::of(board.map(|(x, y)| flat.map.map(x, y)), board)?;
        let rim = self.mask.grown(RIM);
        let mut out = photo.clone();
        for group in rim.groups(true) {
            let ends = |of: fn(&(u32, u32)) -> u32| {
                let all = group.iter().map(of);
                (f64::from(all.clone().min().unwrap_or(0)) * self.step_mm, f64::from(all.max().unwrap_or(0) + 1) * self.step_mm)
            };
            let ((left, right), (top, bottom)) = (ends(|p| p.0), ends(|p| p.1));
            let corners = [(left, top), (right, top), (right, bottom), (left, bottom)].map(|(x, y)| flat.map.map(x, y));
            let span = |of: fn(&(f64, f64)) -> f64, most: usize| {
                let all = corners.iter().map(of);
                let (low, high) = (all.clone().fold(f64::INFINITY, f64::min), all.fold(f64::NEG_INFINITY, f64::max));
                low.max(0.0) as usize..((high + 2.0).max(0.0) as usize).min(most)
            };
            for y in span(|p| p.1, photo.height()) {
                for x in span(|p| p.0, photo.width()) {
                    let (u, v) = back.map(x as f64, y as f64);
                    let (i, j) = ((u / self.step_mm).floor(), (v / self.step_mm).floor());
                    if rim.has(i as i64, j as i64) {
                        let light = self.light.each_ref().map(|light| coded(field(light, i.max(0.0) as usize, j.max(0.0) as usize)));
                        out.put(x, y, light);
                    }
                }
            }
        }
        Some(out)
    }
}

/// Steps around a flake that its rim may reach.
const RIM: usize = 3;

/// Linear light as a byte, by IEC 61966-2-1 (from memory).
fn coded(light: f32) -> u8 {
    let v = f64::from(light).clamp(0.0, 1.0);
    let coded = if v <= 0.003_130_8 { 12.92 * v } else { 1.055 * v.powf(1.0 / 2.4) - 0.055 };
    (coded * 255.0).round() as u8
}
