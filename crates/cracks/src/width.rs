//! Middle lines between pixels, and lengths.

use crate::across::Column;
use crate::flatten::Flat;
use crate::graph::{Branch, Graph, Point};
use crate::lines::Lines;

/// A branch laid along the middle of its dark line.
#[derive(Debug, Clone)]
pub(crate) struct Traced {
    /// Places along it, from node to node.
    pub(crate) points: Vec<Point>,
    /// Half the width of the mask at each, in pixels.
    pub(crate) half_width: Vec<f64>,
    /// Millimetres.
    pub(crate) length_mm: f64,
}

/// Lays each branch along its middle.
pub(crate) fn trace(flat: &Flat, lines: &Lines, blur_px: f64) -> Vec<Traced> {
    use rayon::prelude::*;
    lines.graph.branches.par_iter().map(|branch| one(flat, lines, branch, blur_px)).collect()
}

fn one(flat: &Flat, lines: &Lines, branch: &Branch, blur_px: f64) -> Traced {
    let node = |end: Option<usize>| end.and_then(|k| lines.graph.nodes.get(k)).copied();
    let mut chain: Vec<Point> = branch.chain.iter().map(|&(x, y)| Point { x: x as f64, y: y as f64 }).collect();
    if let Some(node) = node(branch.from) {
        chain.insert(0, node);
    }
    if let Some(node) = node(branch.to) {
        chain.push(node);
    }
    let ends = (node(branch.from), node(branch.to));
    let mut points = smoothed(&chain);
    let half_width: Vec<f64> = points.iter().zip(normals(&points, 4)).map(|(&p, n)| Column::at(p, n).half_width(lines)).collect();
    for every in [3, 2] {
        points = centred(flat, &points, &half_width, ends, (blur_px, every));
    }
    let length: f64 = points.windows(2).map(|two| if let &[p, q] = two { p.to(q) } else { 0.0 }).sum();
    Traced { points, half_width, length_mm: length / flat.px_per_mm }
}

/// The square of how far two places are apart: the library's careful length costs more than all else here.
pub(crate) fn apart2(p: Point, q: Point) -> f64 {
    (p.x - q.x) * (p.x - q.x) + (p.y - q.y) * (p.y - q.y)
}

/// Unit vectors across a chain, from places `reach` before and after.
pub(crate) fn normals(points: &[Point], reach: usize) -> Vec<(f64, f64)> {
    let last = points.len().saturating_sub(1);
    (0..points.len())
        .map(|k| {
            let (Some(p), Some(q)) = (points.get(k.saturating_sub(reach)), points.get((k + reach).min(last))) else { return (0.0, 1.0) };
            let length = apart2(*p, *q).sqrt().max(1e-9);
            (-(q.y - p.y) / length, (q.x - p.x) / length)
        })
        .collect()
}

/// Nearer than this to a node other cracks tell where the middle is, px.
const NODE_PX: f64 = 3.0;

/// Moves places across the line to the middle of its darkness: where a bell as wide as crack and blur together fits best on a slanting
/// ground, by least squares, with neighbours along the line helping by a bell of two places; one place of
/// `every` is read. A mean of darkness alone would follow every slant of the ground.
fn centred(
    flat: &Flat,
    points: &[Point],
    half_width: &[f64],
    ends: (Option<Point>, Option<Point>),
    (blur_px, every): (f64, usize),
) -> Vec<Point> {
    let normals = normals(points, 4);
    let found: Vec<(f64, f64)> = points
        .iter()
        .zip(&normals)
        .zip(half_width)
        .enumerate()
        .map(|(k, ((&p, &n), half_width))| {
            if !k.is_multiple_of(every) || [ends.0, ends.1].into_iter().flatten().any(|node| apart2(node, p) < NODE_PX * NODE_PX) {
                return (0.0, 0.0);
            }
            // The mask reaches about a blur further than the crack on each side.
            let wide = (2.0 * half_width - 2.0 * blur_px).max(0.5);
            aside(flat, Column::at(p, n), blur_px * blur_px + wide * wide / 12.0)
        })
        .collect();
    let last = points.len().saturating_sub(1);
    let mean = |k: usize, p: Point, (nx, ny): (f64, f64)| {
        // As many on both sides, or a bend would pull.
        let reach = k.min(last - k).min(NEAR.len() - 1);
        let near = (k - reach..=k + reach).filter_map(|j| Some((found.get(j)?, points.get(j)?, NEAR.get(j.abs_diff(k))?)));
        let (moved, dark) = near.fold((0.0, 0.0), |(moved, dark), (&(own, depth), q, weight)| {
            let across = (q.x - p.x) * nx + (q.y - p.y) * ny;
            (moved + weight * (own + depth * across), dark + weight * depth)
        });
        if dark > 1e-3 { (moved / dark).clamp(-1.5, 1.5) } else { 0.0 }
    };
    let pinned = |k: usize| (k == 0 && ends.0.is_some()) || (k == last && ends.1.is_some());
    let to = |(k, (&p, &(nx, ny))): (usize, (&Point, &(f64, f64)))| {
        let u = if pinned(k) { 0.0 } else { mean(k, p, (nx, ny)) };
        Point { x: p.x + nx * u, y: p.y + ny * u }
    };
    points.iter().zip(&normals).enumerate().map(to).collect()
}

/// Weights of a bell of two places, from its middle on.
const NEAR: [f64; 6] = [1.0, 0.882_497, 0.606_531, 0.324_652, 0.135_335, 0.043_937];

/// How far aside the middle is, times how dark it is, and how dark it is: amounts of a bell of this variance and of its move across that, with a
/// straight ground, fit the light best.
fn aside(flat: &Flat, column: Column, variance: f64) -> (f64, f64) {
    let reach = 3.0 * variance.sqrt() + 1.5;
    let (mut u, step, lights) = column.lights(&flat.picture, -reach, reach);
    // A bell from place to place: each ratio is the one before times the same number.
    let mut bell = (-0.5 * u * u / variance).exp();
    let mut ratio = (-(u + 0.5 * step) * step / variance).exp();
    let bend = (-step * step / variance).exp();
    // Sums of products of 1, u, bell, u bell and darkness.
    let (mut n, mut u1, mut u2) = (0.0, 0.0, 0.0);
    let (mut b, mut ub, mut u2b, mut b2, mut ub2, mut u2b2) = (0.0, 0.0, 0.0, 0.0, 0.0, 0.0);
    let (mut d, mut ud, mut bd, mut ubd) = (0.0, 0.0, 0.0, 0.0);
    for light in lights {
        let dark = 1.0 - f64::from(light);
        let by = u * bell;
        n += 1.0;
        u1 += u;
        u2 += u * u;
        b += bell;
        ub += by;
        u2b += u * by;
        b2 += bell * bell;
        ub2 += by * bell;
        u2b2 += by * by;
        d += dark;
        ud += u * dark;
        bd += bell * dark;
        ubd += by * dark;
        u += step;
        bell *= ratio;
        ratio *= bend;
    }
    // What a straight ground takes of each is taken off, and the two that are left are solved.
    let whole = n * u2 - u1 * u1;
    let taken = |p: (f64, f64), q: (f64, f64)| (u2 * p.0 * q.0 - u1 * (p.0 * q.1 + p.1 * q.0) + n * p.1 * q.1) / whole;
    let (of_bell, of_move, of_dark) = ((b, ub), (ub, u2b), (d, ud));
    let (pp, pq, qq) = (b2 - taken(of_bell, of_bell), ub2 - taken(of_bell, of_move), u2b2 - taken(of_move, of_move));
    let (pd, qd) = (bd - taken(of_bell, of_dark), ubd - taken(of_move, of_dark));
    let whole = pp * qq - pq * pq;
    if whole.is_nan() || whole <= 1e-9 {
        return (0.0, 0.0);
    }
    ((qd * pp - pd * pq) / whole * variance, (pd * qq - qd * pq) / whole)
}

/// Smoothed along the line with a bell of two places; ends stay.
fn smoothed(points: &[Point]) -> Vec<Point> {
    let last = points.len().saturating_sub(1);
    (0..points.len())
        .map(|k| {
            let reach = k.min(last - k).min(NEAR.len() - 1);
            let (mut x, mut y, mut sum) = (0.0, 0.0, 0.0);
            for (j, point) in points.iter().enumerate().skip(k - reach).take(2 * reach + 1) {
                let weight = NEAR.get(j.abs_diff(k)).copied().unwrap_or(0.0);
                x += weight * point.x;
                y += weight * point.y;
                sum += weight;
            }
            Point { x: x / sum, y: y / sum }
        })
        .collect()
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
    use super::trace;
    use crate::flatten::Flat;
    use crate::graph::Graph;
    use crate::homography::Homography;
    use crate::lines::Lines;
    use crate::mask::Mask;
    use crate::plane::Plane;

    // By hand: a bell of deviation 1.2 px along y = 30.3 + 0.2 x, on a ground that darkens by a hundredth a pixel downwards. The chain that is given
    // is half a pixel off at most and goes by whole steps; the middle of the darkness is the line, and its length sqrt(1.04) a pixel across.
    #[test]
    fn the_middle_lies_between_pixels_and_follows_no_slant() {
        let line = |x: f64| 30.3 + 0.2 * x;
        let (width, height) = (120, 80);
        let light = |x: usize, y: usize| {
            let off = (y as f64 - line(x as f64)) / 1.04_f64.sqrt();
            (1.0 - 0.01 * (y as f64 - 40.0) - 0.3 * (-0.5 * off * off / 1.44).exp()) as f32
        };
        let rows = (0..width * height).map(|at| light(at % width, at / width)).collect();
        let corners = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
        let map = Homography::of(corners, corners).expect("a square");
        let picture = Plane::from_rows(width, height, rows).expect("rows");
        let flat = Flat { picture, px_per_mm: 10.0, map, local_px_per_mm: (10.0, 10.0), blur_px: Some(1.2), clipped: 0.0, light: 0.6 };
        let (mut mask, mut thin) = (Mask::empty(width, height), Mask::empty(width, height));
        for x in 10..110 {
            let y = line(x as f64).round() as i64;
            thin.put(x, y, true);
            for off in -2..=2 {
                mask.put(x, y + off, true);
            }
        }
        let graph = Graph::of(&thin);
        let traced = trace(&flat, &Lines { mask, thin, graph, left_out: Vec::new() }, 1.2);
        assert_eq!(traced.len(), 1);
        for p in traced.iter().flat_map(|line| &line.points) {
            assert!((p.y - line(p.x)).abs() < 0.03, "{p:?}");
        }
        let length: f64 = traced.iter().map(|line| line.length_mm).sum();
        assert!((length - 9.9 * 1.04_f64.sqrt()).abs() < 0.1, "{length}");
    }
}
