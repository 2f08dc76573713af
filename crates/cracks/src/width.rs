//! Middle lines between pixels, lengths, and widths from how much light a crack takes away.

use crate::flatten::Flat;
use crate::graph::{Branch, Graph, Point};
use crate::lines::Lines;
use crate::plane::{floor, share_below};

/// A branch laid along the middle of its dark line.
#[derive(Debug, Clone)]
pub(crate) struct Traced {
    /// Places along it, from node to node.
    pub(crate) points: Vec<Point>,
    /// Millimetres.
    pub(crate) length_mm: f64,
    /// Darkness across it, summed, in pixels of pure black; one for each sample away from nodes.
    pub(crate) taken_px: Vec<f64>,
    /// Darkness at its middle, beside each of the above.
    pub(crate) depth: Vec<f64>,
}

/// Lays each branch along its middle and samples what lies across.
pub(crate) fn trace(flat: &Flat, lines: &Lines, blur_px: f64) -> Vec<Traced> {
    use rayon::prelude::*;
    lines.graph.branches.par_iter().map(|branch| one(flat, lines, branch, blur_px)).collect()
}

fn one(flat: &Flat, lines: &Lines, branch: &Branch, blur_px: f64) -> Traced {
    let chain: Vec<Point> = branch.chain.iter().map(|&(x, y)| Point { x: x as f64, y: y as f64 }).collect();
    let normals = normals(&chain, 4);
    let mut middle: Vec<Point> = chain.iter().zip(&normals).map(|(&p, &n)| centred(flat, lines, p, n)).collect();
    let node = |end: Option<usize>| end.and_then(|k| lines.graph.nodes.get(k)).copied();
    if let Some(node) = node(branch.from) {
        middle.insert(0, node);
    }
    if let Some(node) = node(branch.to) {
        middle.push(node);
    }
    let points = smoothed(&middle);
    let length: f64 = points.windows(2).map(|two| if let &[p, q] = two { p.to(q) } else { 0.0 }).sum();
    let normals = self::normals(&points, 4);
    let away = |p: Point| [branch.from, branch.to].into_iter().filter_map(node).map(|n| n.to(p)).fold(f64::INFINITY, f64::min);
    let (mut taken, mut depth) = (Vec::new(), Vec::new());
    for (&p, &n) in points.iter().zip(&normals) {
        let wide = half_width(lines, p, n);
        if away(p) < (2.5 * wide).max(5.0) {
            continue;
        }
        if let Some((sum, deep)) = across(flat, lines, p, n, wide, blur_px) {
            taken.push(sum);
            depth.push(deep);
        }
    }
    Traced { points, length_mm: length / flat.px_per_mm, taken_px: averaged(&taken, 5), depth: averaged(&depth, 5) }
}

/// Unit vectors across a chain, from places `reach` before and after.
fn normals(points: &[Point], reach: usize) -> Vec<(f64, f64)> {
    let last = points.len().saturating_sub(1);
    (0..points.len())
        .map(|k| {
            let (Some(p), Some(q)) = (points.get(k.saturating_sub(reach)), points.get((k + reach).min(last))) else { return (0.0, 1.0) };
            let length = p.to(*q).max(1e-9);
            (-(q.y - p.y) / length, (q.x - p.x) / length)
        })
        .collect()
}

/// Moves a place across the line to the middle of the darkness near it.
fn centred(flat: &Flat, lines: &Lines, p: Point, (nx, ny): (f64, f64)) -> Point {
    let reach = half_width(lines, p, (nx, ny)).clamp(1.5, 12.0);
    let steps = (reach * 2.0) as i32;
    let dark: Vec<(f64, f64)> = (-steps..=steps)
        .map(|k| {
            let u = f64::from(k) / 2.0;
            (u, 1.0 - f64::from(flat.picture.between(p.x + nx * u, p.y + ny * u)))
        })
        .collect();
    let least = dark.iter().map(|d| d.1).fold(f64::INFINITY, f64::min);
    let (sum, moment) = dark.iter().fold((0.0, 0.0), |(sum, moment), &(u, d)| (sum + d - least, moment + u * (d - least)));
    let u = if sum > 1e-6 { (moment / sum).clamp(-1.5, 1.5) } else { 0.0 };
    Point { x: p.x + nx * u, y: p.y + ny * u }
}

/// Half the width of the mask across a line, in pixels.
fn half_width(lines: &Lines, p: Point, (nx, ny): (f64, f64)) -> f64 {
    let set = |u: f64| lines.mask.has(floor(p.x + nx * u + 0.5), floor(p.y + ny * u + 0.5));
    let out = |sign: f64| (1..80).map(|k| f64::from(k) / 2.0).find(|&u| !set(sign * u)).unwrap_or(40.0);
    f64::midpoint(out(1.0), out(-1.0))
}

/// Smoothed along the line with a bell of two places; ends stay.
fn smoothed(points: &[Point]) -> Vec<Point> {
    let weights: Vec<f64> = (-5..=5).map(|k| (-f64::from(k * k) / 8.0).exp()).collect();
    let last = points.len().saturating_sub(1);
    (0..points.len())
        .map(|k| {
            let reach = k.min(last - k).min(5);
            let (mut x, mut y, mut sum) = (0.0, 0.0, 0.0);
            for (j, point) in points.iter().enumerate().skip(k - reach).take(2 * reach + 1) {
                let weight = weights.get(j + 5 - k).copied().unwrap_or(0.0);
                x += weight * point.x;
                y += weight * point.y;
                sum += weight;
            }
            Point { x: x / sum, y: y / sum }
        })
        .collect()
}

/// Light taken away across a line (its integral is kept by any blur), and darkness at its middle. The ground beside is a line between the
/// medians of both sides; a neighbouring crack ends a side.
fn across(flat: &Flat, lines: &Lines, p: Point, (nx, ny): (f64, f64), wide: f64, blur_px: f64) -> Option<(f64, f64)> {
    let inner = wide.max(2.5 * blur_px) + 0.5;
    let reach = inner + 5.0;
    let light = |u: f64| {
        let (x, y) = (p.x + nx * u, p.y + ny * u);
        let beside = |t: f64| f64::from(flat.picture.between(x - ny * t, y + nx * t));
        (beside(-1.0) + beside(0.0) + beside(1.0)) / 3.0
    };
    let mask = |u: f64| lines.mask.has(floor(p.x + nx * u + 0.5), floor(p.y + ny * u + 0.5));
    let side = |sign: f64| {
        let mut values = Vec::new();
        let mut left_mask = false;
        let mut u = 0.0;
        while u < reach {
            u += 0.5;
            let on = mask(sign * u);
            left_mask |= !on && u >= wide;
            if left_mask && on {
                return None;
            }
            if u > inner {
                values.push(light(sign * u) as f32);
            }
        }
        share_below(&mut values, 0.5).map(f64::from)
    };
    let (plus, minus) = (side(1.0)?, side(-1.0)?);
    let at = f64::midpoint(inner, reach);
    let ground = |u: f64| f64::midpoint(plus, minus) + (plus - minus) * u / (2.0 * at);
    let steps = (inner * 2.0).round() as i32;
    let sum: f64 = (-steps..=steps).map(|k| f64::from(k) / 2.0).map(|u| (ground(u) - light(u)) * 0.5).sum();
    let deep = [-0.25, 0.0, 0.25].map(|u| ground(u) - light(u)).iter().sum::<f64>() / 3.0;
    Some((sum / f64::midpoint(plus, minus), deep / f64::midpoint(plus, minus)))
}

/// Mean over neighbours along the line.
fn averaged(values: &[f64], reach: usize) -> Vec<f64> {
    (0..values.len())
        .map(|k| {
            let part = values.get(k.saturating_sub(reach)..(k + reach + 1).min(values.len())).unwrap_or_default();
            part.iter().sum::<f64>() / part.len().max(1) as f64
        })
        .collect()
}

/// How dark the inside of a crack is, and whether that was seen or had to be worked out from the blur.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Darkness {
    /// 1 is black on white.
    pub(crate) depth: f64,
    /// Least and most.
    pub(crate) range: (f64, f64),
    /// Whether cracks are wide enough for it to be seen.
    pub(crate) seen: bool,
}

/// Blur that reading between pixels adds, in pixels: a straight line between two places has a variance of f (1 - f), 1/6 on the whole, the
/// mean over three places a quarter of a pixel apart 1/24 (worked out), and a middle line that is a fifth of a pixel off 1/25 (judgement, no
/// source).
const READING: f64 = 0.5;

/// Darkness inside: a bar of width w and darkness c under a blur t is c (2 Phi(w / 2t) - 1) dark at its middle and takes c w of light; the
/// two together give w and c. The wider quarter of all samples is asked, since a narrow line tells only the product.
pub(crate) fn darkness(traced: &[Traced], blur_px: f64) -> Option<Darkness> {
    let mut pairs: Vec<(f64, f64)> = traced
        .iter()
        .flat_map(|line| line.taken_px.iter().copied().zip(line.depth.iter().copied()))
        .filter(|(a, d)| *a > 0.0 && *d > 0.0)
        .collect();
    if pairs.len() < 30 {
        return None;
    }
    pairs.sort_by(|p, q| p.0.total_cmp(&q.0));
    let part = pairs.get(pairs.len() * 70 / 100..pairs.len() * 95 / 100)?;
    let middle = |values: &mut [f32]| share_below(values, 0.5).map(f64::from);
    let taken = middle(&mut part.iter().map(|pair| pair.0 as f32).collect::<Vec<_>>())?;
    let depth = middle(&mut part.iter().map(|pair| pair.1 as f32).collect::<Vec<_>>())?;
    let blur_px = blur_px.hypot(READING);
    let with = |blur: f64| taken / bar_width(depth / taken, blur).max(1e-3);
    let most = 1.0;
    let ends = (with(blur_px * 1.1).min(most), with(blur_px * 0.9).min(most));
    let c = with(blur_px).clamp(depth.min(most), most);
    let seen = taken / c >= 2.0 * blur_px;
    Some(Darkness { depth: c, range: (ends.0.min(ends.1).max(depth * 0.9).min(c), ends.0.max(ends.1).max(c)), seen })
}

/// Width of the bar whose darkness at the middle is this share of the light it takes, under a blur: solves (2 Phi(w / 2t) - 1) / w = ratio.
fn bar_width(ratio: f64, blur: f64) -> f64 {
    let at = |w: f64| bell_between(w / (2.0 * blur)) / w;
    let (mut low, mut high) = (0.02 * blur, 200.0 * blur);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if at(middle) > ratio {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

/// 2 Phi(x) - 1 (erf by Abramowitz and Stegun 7.1.26, from memory; good to 1.5e-7).
fn bell_between(x: f64) -> f64 {
    let z = x / std::f64::consts::SQRT_2;
    let t = 1.0 / (1.0 + 0.327_591_1 * z);
    let poly = t * (0.254_829_592 + t * (-0.284_496_736 + t * (1.421_413_741 + t * (-1.453_152_027 + t * 1.061_405_429))));
    1.0 - poly * (-z * z).exp()
}

/// Short links inside nodes are no branches; nodes nearer than this many pixels are one.
pub(crate) fn junctions(graph: &Graph, near_px: f64) -> Vec<Point> {
    let degrees = graph.degrees();
    let mut out: Vec<(Point, f64)> = Vec::new();
    let mut grid: std::collections::BTreeMap<(i64, i64), Vec<usize>> = std::collections::BTreeMap::new();
    for (&node, _) in graph.nodes.iter().zip(degrees).filter(|(_, degree)| *degree >= 3) {
        let cell = ((node.x / near_px).floor() as i64, (node.y / near_px).floor() as i64);
        let close = (-1..=1)
            .flat_map(|dy| (-1..=1).map(move |dx| (cell.0 + dx, cell.1 + dy)))
            .filter_map(|cell| grid.get(&cell))
            .flatten()
            .copied()
            .find(|&k| out.get(k).is_some_and(|(point, _)| point.to(node) < near_px));
        if let Some((point, count)) = close.and_then(|k| out.get_mut(k)) {
            point.x = (point.x * *count + node.x) / (*count + 1.0);
            point.y = (point.y * *count + node.y) / (*count + 1.0);
            *count += 1.0;
        } else {
            grid.entry(cell).or_default().push(out.len());
            out.push((node, 1.0));
        }
    }
    out.into_iter().map(|(point, _)| point).collect()
}

#[cfg(test)]
mod tests {
    use super::{bar_width, bell_between};

    // 2 Phi(w / 2t) - 1, worked out with scipy 1.17.1 norm.cdf.
    #[test]
    fn depth_of_a_blurred_bar() {
        for (w, known) in
            [(0.5, 0.1974), (1.0, 0.3829), (1.5, 0.5467), (2.0, 0.6827), (2.5, 0.7887), (3.0, 0.8664), (4.0, 0.9545), (6.0, 0.9973)]
        {
            assert!((bell_between(w / 2.0) - known).abs() < 1e-4, "{w}");
            assert!((bar_width(known / w, 1.0) - w).abs() < 0.01, "{w}");
        }
    }
}
