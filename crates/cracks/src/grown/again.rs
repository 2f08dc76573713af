//! A second look along a line that only one of two photos shows: what the other one has at the same place.

use super::paths::Path;
use crate::graph::Point;
use crate::homography::Homography;
use crate::look::Look;
use crate::plane::share_below;

/// A photo with the way from the newer board's millimetres to its own.
#[derive(Clone, Copy)]
pub(super) struct Side<'a> {
    pub(super) look: &'a Look,
    pub(super) to_own: Homography,
}

impl Side<'_> {
    fn px(&self, p: Point) -> Point {
        let (x, y) = self.to_own.map(p.x, p.y);
        let scale = self.look.flat.px_per_mm;
        Point { x: x * scale - 0.5, y: y * scale - 0.5 }
    }

    /// Light taken across a line at a place, as millimetres of pure black; the ground is a line between the medians of both sides.
    fn taken(&self, p: Point, (nx, ny): (f64, f64), half_mm: f64) -> Option<f64> {
        // Two places half a window apart give direction and scale in this photo's own pixels.
        let at = |t: f64| self.px(Point { x: p.x + nx * t, y: p.y + ny * t });
        let (one, other) = (at(-half_mm), at(half_mm));
        let per_mm = one.to(other) / (2.0 * half_mm);
        let step = 0.5 / per_mm;
        let light = |t: f64| {
            let q = at(t);
            f64::from(self.look.flat.picture.between(q.x, q.y))
        };
        let side = |sign: f64| {
            let mut values: Vec<f32> = (1..=SIDE_STEPS).map(|k| light(sign * (half_mm + f64::from(k) * step)) as f32).collect();
            share_below(&mut values, 0.5).map(f64::from)
        };
        let (plus, minus) = (side(1.0)?, side(-1.0)?);
        let ground = f64::midpoint(plus, minus);
        if ground <= 0.0 {
            return None;
        }
        let out = half_mm + f64::from(SIDE_STEPS) * step / 2.0;
        let steps = (half_mm / step).round() as i32;
        let sum: f64 =
            (-steps..=steps).map(|k| f64::from(k) * step).map(|t| (ground + (plus - minus) * t / (2.0 * out) - light(t)) * step).sum();
        Some(sum / ground)
    }
}

/// Half pixels of ground that are asked on each side.
const SIDE_STEPS: i32 = 10;
/// Places a millimetre that are asked.
const PER_MM: f64 = 8.0;
/// Millimetres along a line that are one sample: what lies nearer has its texture in common (judgement, no source).
const SAMPLE_MM: f64 = 1.0;

/// Light taken by the same pieces of a line in two photos, mm of pure black, older first.
pub(super) struct Taken {
    pub(super) pairs: Vec<(f64, f64)>,
}

impl Taken {
    /// Along part of a path; `half_mm` is how far to each side the line may reach in either photo.
    pub(super) fn along(path: &Path, places: &std::ops::Range<usize>, old: Side, new: Side, half_mm: f64) -> Self {
        let part = path.mm.get(places.clone()).unwrap_or_default();
        let mut pairs = Vec::new();
        let (mut sums, mut count, mut since, mut next) = ((0.0, 0.0), 0.0, 0.0, 0.0);
        let mut before: Option<Point> = None;
        for (k, &p) in part.iter().enumerate() {
            since += before.map_or(0.0, |q| q.to(p));
            before = Some(p);
            if since < next {
                continue;
            }
            next += 1.0 / PER_MM;
            if let Some(normal) = normal(part, k)
                && let (Some(a), Some(b)) = (old.taken(p, normal, half_mm), new.taken(p, normal, half_mm))
            {
                sums = (sums.0 + a, sums.1 + b);
                count += 1.0;
            }
            if since >= SAMPLE_MM && count > 0.0 {
                pairs.push((sums.0 / count, sums.1 / count));
                (sums, count, since, next) = ((0.0, 0.0), 0.0, 0.0, 0.0);
            }
        }
        if pairs.is_empty() && count > 0.0 {
            pairs.push((sums.0 / count, sums.1 / count));
        }
        Self { pairs }
    }

    /// Means of the older and the newer photo, and the doubt of each: two standard errors.
    pub(super) fn means(&self) -> Option<[(f64, f64); 2]> {
        let n = self.pairs.len() as f64;
        if self.pairs.is_empty() {
            return None;
        }
        let told = |values: &dyn Fn(&(f64, f64)) -> f64| {
            let mean = self.pairs.iter().map(values).sum::<f64>() / n;
            let spread = self.pairs.iter().map(|pair| (values(pair) - mean).powi(2)).sum::<f64>() / (n - 1.0).max(1.0);
            // A single sample tells nothing of its own doubt: then it is as large as itself.
            let off = if n < 1.5 { mean.abs() } else { 2.0 * (spread / n).sqrt() };
            (mean, off)
        };
        Some([told(&|pair| pair.0), told(&|pair| pair.1)])
    }
}

/// Across a line, from places some way before and after.
fn normal(part: &[Point], k: usize) -> Option<(f64, f64)> {
    let (p, q) = (part.get(k.saturating_sub(4))?, part.get((k + 4).min(part.len() - 1))?);
    let length = p.to(*q);
    (length > 1e-9).then(|| (-(q.y - p.y) / length, (q.x - p.x) / length))
}
