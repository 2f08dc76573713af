//! Crack patterns in millimetres.

use crate::chance::Chance;

/// One crack.
#[derive(Debug, Clone, PartialEq)]
pub struct Crack {
    /// Places along it, in mm.
    pub points: Vec<(f64, f64)>,
    /// Full width in mm.
    pub width_mm: f64,
}

impl Crack {
    /// Millimetres along it.
    pub fn length_mm(&self) -> f64 {
        self.points.windows(2).map(|two| if let &[p, q] = two { f64::hypot(q.0 - p.0, q.1 - p.1) } else { 0.0 }).sum()
    }
}

/// How cracks lie.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Pattern {
    /// None at all.
    Whole,
    /// Cells around this many points, evened out once (Voronoi with one step of Lloyd).
    Cells(usize),
    /// Lines that grow from this many points both ways until they meet another (Gilbert 1967, from memory).
    Growing(usize),
    /// A board divided again and again by lines, this many times (after STIT, Nagel and Weiss 2005, from memory).
    Divided(usize),
}

type Place = (f64, f64);

/// Straight pieces of a pattern and the places where they meet.
pub(crate) fn straight(pattern: Pattern, width: f64, height: f64, chance: &mut Chance) -> (Vec<(Place, Place)>, Vec<Place>) {
    match pattern {
        Pattern::Whole => (Vec::new(), Vec::new()),
        Pattern::Cells(count) => cells(count, width, height, chance),
        Pattern::Growing(count) => growing(count, width, height, chance),
        Pattern::Divided(count) => divided(count, width, height, chance),
    }
}

/// The cell of one point: corners, each with the neighbour behind the side that begins there.
fn cell(points: &[Place], of: usize, width: f64, height: f64) -> Vec<(Place, Option<usize>)> {
    let mut shape = vec![((0.0, 0.0), None), ((width, 0.0), None), ((width, height), None), ((0.0, height), None)];
    let Some(&(px, py)) = points.get(of) else { return shape };
    for (other, &(qx, qy)) in points.iter().enumerate() {
        if other == of {
            continue;
        }
        let (nx, ny) = (qx - px, qy - py);
        let limit = nx * f64::midpoint(px, qx) + ny * f64::midpoint(py, qy);
        let side = |p: Place| nx * p.0 + ny * p.1 - limit;
        if shape.iter().all(|&(p, _)| side(p) <= 0.0) {
            continue;
        }
        let mut cut = Vec::with_capacity(shape.len() + 1);
        let next = shape.iter().cycle().skip(1);
        for (&(p, behind), &(q, _)) in shape.iter().zip(next) {
            let (a, b) = (side(p), side(q));
            let meet = || {
                let t = a / (a - b);
                (p.0 + (q.0 - p.0) * t, p.1 + (q.1 - p.1) * t)
            };
            if a <= 0.0 {
                cut.push((p, behind));
                if b > 0.0 {
                    cut.push((meet(), Some(other)));
                }
            } else if b <= 0.0 {
                cut.push((meet(), behind));
            }
        }
        shape = cut;
    }
    shape
}

fn cells(count: usize, width: f64, height: f64, chance: &mut Chance) -> (Vec<(Place, Place)>, Vec<Place>) {
    let mut points: Vec<Place> = (0..count).map(|_| (chance.between(0.0, width), chance.between(0.0, height))).collect();
    points = (0..count)
        .map(|k| {
            let shape = cell(&points, k, width, height);
            let n = shape.len().max(1) as f64;
            shape.iter().fold((0.0, 0.0), |(x, y), (p, _)| (x + p.0 / n, y + p.1 / n))
        })
        .collect();
    let mut lines = Vec::new();
    let mut meetings: Vec<Place> = Vec::new();
    for k in 0..count {
        let shape = cell(&points, k, width, height);
        let next = shape.iter().cycle().skip(1);
        for (&(p, behind), &(q, _)) in shape.iter().zip(next) {
            if behind.is_some_and(|other| other > k) {
                lines.push((p, q));
            }
            let inside = p.0 > 1e-6 && p.1 > 1e-6 && p.0 < width - 1e-6 && p.1 < height - 1e-6;
            if inside && !meetings.iter().any(|m| (m.0 - p.0).hypot(m.1 - p.1) < 1e-6) {
                meetings.push(p);
            }
        }
    }
    (lines, meetings)
}

fn growing(count: usize, width: f64, height: f64, chance: &mut Chance) -> (Vec<(Place, Place)>, Vec<Place>) {
    let mut tips: Vec<(Place, Place, f64)> = Vec::new();
    for _ in 0..count {
        let from = (chance.between(0.0, width), chance.between(0.0, height));
        let angle = chance.between(0.0, std::f64::consts::TAU);
        for turn in [0.0, std::f64::consts::PI] {
            let (sin, cos) = (angle + turn).sin_cos();
            let edge = |p: f64, d: f64, end: f64| {
                if d > 0.0 {
                    (end - p) / d
                } else if d < 0.0 {
                    -p / d
                } else {
                    f64::INFINITY
                }
            };
            tips.push((from, (cos, sin), edge(from.0, cos, width).min(edge(from.1, sin, height))));
        }
    }
    // All meetings in the order in which the later line reaches them; a line that was stopped before does not stop another.
    let mut events = Vec::new();
    for (i, (p, u, end)) in tips.iter().enumerate() {
        for (j, (q, v, other_end)) in tips.iter().enumerate() {
            let cross = u.0 * v.1 - u.1 * v.0;
            if i / 2 == j / 2 || cross.abs() < 1e-9 {
                continue;
            }
            let (dx, dy) = (q.0 - p.0, q.1 - p.1);
            let (t, s) = ((dx * v.1 - dy * v.0) / cross, (dx * u.1 - dy * u.0) / cross);
            if t > 0.0 && s > 0.0 && t < *end && s < *other_end && s < t {
                events.push((t, s, i, j));
            }
        }
    }
    events.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut stopped: Vec<Option<f64>> = vec![None; tips.len()];
    let mut meetings = Vec::new();
    for (t, s, i, j) in events {
        let free = |k: usize| stopped.get(k).copied().flatten();
        if free(i).is_none() && free(j).is_none_or(|until| until >= s) {
            if let Some(place) = stopped.get_mut(i) {
                *place = Some(t);
            }
            if let Some((p, u, _)) = tips.get(i) {
                meetings.push((p.0 + u.0 * t, p.1 + u.1 * t));
            }
        }
    }
    let end = |k: usize| {
        let (p, u, edge) = tips.get(k).copied().unwrap_or(((0.0, 0.0), (0.0, 0.0), 0.0));
        let t = stopped.get(k).copied().flatten().unwrap_or(edge);
        (p.0 + u.0 * t, p.1 + u.1 * t)
    };
    ((0..count).map(|k| (end(2 * k), end(2 * k + 1))).collect(), meetings)
}

fn divided(count: usize, width: f64, height: f64, chance: &mut Chance) -> (Vec<(Place, Place)>, Vec<Place>) {
    let mut shapes = vec![vec![(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]];
    let (mut lines, mut meetings) = (Vec::new(), Vec::new());
    let round = |shape: &[Place]| {
        let next = shape.iter().cycle().skip(1);
        shape.iter().zip(next).map(|(p, q)| (p.0 - q.0).hypot(p.1 - q.1)).sum::<f64>()
    };
    while lines.len() < count {
        // The shape with the shortest life goes first: life falls off with the way around.
        let Some(at) = shapes
            .iter()
            .map(|shape| -chance.even().max(1e-12).ln() / round(shape))
            .enumerate()
            .min_by(|a, b| a.1.total_cmp(&b.1))
            .map(|(at, _)| at)
        else {
            break;
        };
        let shape = shapes.swap_remove(at);
        let n = shape.len() as f64;
        let (cx, cy) = shape.iter().fold((0.0, 0.0), |(x, y), p| (x + p.0 / n, y + p.1 / n));
        let angle = chance.between(0.0, std::f64::consts::PI);
        let spread = round(&shape) / 12.0;
        let (nx, ny) = (angle.cos(), angle.sin());
        let offset = nx * cx + ny * cy + chance.between(-spread, spread);
        let side = |p: Place| nx * p.0 + ny * p.1 - offset;
        let (mut one, mut two, mut cut) = (Vec::new(), Vec::new(), Vec::new());
        let next = shape.iter().cycle().skip(1);
        for (&p, &q) in shape.iter().zip(next) {
            let (a, b) = (side(p), side(q));
            if a <= 0.0 {
                one.push(p);
            } else {
                two.push(p);
            }
            if (a <= 0.0) != (b <= 0.0) {
                let t = a / (a - b);
                let meet = (p.0 + (q.0 - p.0) * t, p.1 + (q.1 - p.1) * t);
                one.push(meet);
                two.push(meet);
                cut.push(meet);
            }
        }
        if let [p, q] = cut.as_slice() {
            lines.push((*p, *q));
            for &m in &cut {
                if m.0 > 1e-6 && m.1 > 1e-6 && m.0 < width - 1e-6 && m.1 < height - 1e-6 {
                    meetings.push(m);
                }
            }
            shapes.push(one);
            shapes.push(two);
        } else {
            shapes.push(shape);
        }
    }
    (lines, meetings)
}

/// Breaks a straight piece into short ones that sway a little; its ends stay.
pub(crate) fn swayed((p, q): (Place, Place), sway_mm: f64, chance: &mut Chance) -> Vec<Place> {
    let length = (q.0 - p.0).hypot(q.1 - p.1);
    let count = (length / 0.7).ceil().max(1.0) as usize;
    let (nx, ny) = (-(q.1 - p.1) / length.max(1e-9), (q.0 - p.0) / length.max(1e-9));
    (0..=count)
        .map(|k| {
            let t = k as f64 / count as f64;
            let off = if k == 0 || k == count { 0.0 } else { chance.between(-sway_mm, sway_mm) };
            (p.0 + (q.0 - p.0) * t + nx * off, p.1 + (q.1 - p.1) * t + ny * off)
        })
        .collect()
}
