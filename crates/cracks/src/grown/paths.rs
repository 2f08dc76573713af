//! Middle lines of two nets on the same millimetres, and which lie on which.

use std::collections::BTreeMap;

use crate::graph::Point;
use crate::homography::Homography;
use crate::lines::MARGIN_MM;
use crate::look::{Look, taken_blur_px};
use crate::width::trace;

/// A crack from node to node.
#[derive(Debug, Clone)]
pub(super) struct Path {
    /// Places, in millimetres on the newer board.
    pub(super) mm: Vec<Point>,
    /// Whether its first and its last end meet nothing.
    pub(super) free: (bool, bool),
}

/// Cracks of a photo, laid by a map from its own millimetres to those of the newer board.
pub(super) fn paths(look: &Look, map: &Homography) -> Vec<Path> {
    let traced = trace(&look.flat, &look.lines, taken_blur_px(&look.flat));
    traced
        .into_iter()
        .zip(&look.lines.graph.branches)
        .map(|(traced, branch)| {
            let mm = traced.points.iter().map(|p| laid(look, map, *p)).collect();
            Path { mm, free: (branch.from.is_none(), branch.to.is_none()) }
        })
        .collect()
}

/// From a place in the straightened picture.
fn laid(look: &Look, map: &Homography, p: Point) -> Point {
    let mm = |px: f64| (px + 0.5) / look.flat.px_per_mm;
    let (x, y) = map.map(mm(p.x), mm(p.y));
    Point { x, y }
}

/// Whether a place of the board, by a map to a photo's own millimetres, lies where that photo was measured, and so far from its border.
pub(super) fn measured(look: &Look, to_own: &Homography, p: Point, far: f64) -> bool {
    let mm = |px: usize| px as f64 / look.flat.px_per_mm;
    let (x, y) = to_own.map(p.x, p.y);
    let least = MARGIN_MM + far;
    x >= least && y >= least && x <= mm(look.flat.picture.width()) - least && y <= mm(look.flat.picture.height()) - least
}

/// By squares of the board: places, each with its path and its number along it.
type Cells = BTreeMap<(i64, i64), Vec<(Point, usize, usize)>>;

/// Places of a net, found by where they lie.
pub(super) struct Near {
    cells: Cells,
    reach: f64,
}

impl Near {
    /// All places of these paths, for questions within a reach in mm.
    pub(super) fn of(paths: &[Path], reach: f64) -> Self {
        let mut cells = Cells::new();
        for (number, path) in paths.iter().enumerate() {
            for (at, &p) in path.mm.iter().enumerate() {
                cells.entry(cell(p, reach)).or_default().push((p, number, at));
            }
        }
        Self { cells, reach }
    }

    /// The nearest place within reach: its path, and the number of the place along it.
    pub(super) fn nearest(&self, p: Point) -> Option<(usize, usize)> {
        let (i, j) = cell(p, self.reach);
        (-1..=1)
            .flat_map(|dy| (-1..=1).map(move |dx| (i + dx, j + dy)))
            .filter_map(|cell| self.cells.get(&cell))
            .flatten()
            .map(|&(q, path, at)| (q.to(p), path, at))
            .filter(|(off, ..)| *off <= self.reach)
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .map(|(_, path, at)| (path, at))
    }
}

fn cell(p: Point, reach: f64) -> (i64, i64) {
    ((p.x / reach).floor() as i64, (p.y / reach).floor() as i64)
}

/// A stretch of a path, as numbers of its places, and whether the other net has it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Stretch {
    pub(super) path: usize,
    pub(super) places: std::ops::Range<usize>,
    pub(super) shared: bool,
}

/// Parts a path into stretches that lie on the other net and such that don't; what is not compared is left out.
///
/// `known` says for each place whether it lies on the other net, `None` where nothing is compared. Stretches that don't, and are shorter than
/// `least` mm, are the play of a middle line: they go with what they hang on.
pub(super) fn stretches(number: usize, path: &Path, known: &[Option<bool>], least: f64) -> Vec<Stretch> {
    let mut out: Vec<Stretch> = Vec::new();
    for (at, shared) in known.iter().enumerate() {
        let Some(shared) = *shared else { continue };
        match out.last_mut() {
            Some(last) if last.places.end == at && last.shared == shared => last.places.end = at + 1,
            _ => out.push(Stretch { path: number, places: at..at + 1, shared }),
        }
    }
    // Gaps in what is known first, then crumbs of what is known inside of what is new.
    let merged = |from: Vec<Stretch>, shared: bool, lone: bool| {
        let count = from.len();
        let mut out: Vec<Stretch> = Vec::new();
        for mut stretch in from {
            if stretch.shared != shared && (lone || count > 1) && length(path, &stretch.places) < least {
                stretch.shared = shared;
            }
            match out.last_mut() {
                Some(last) if last.places.end == stretch.places.start && last.shared == stretch.shared => {
                    last.places.end = stretch.places.end;
                }
                _ => out.push(stretch),
            }
        }
        out
    };
    merged(merged(out, true, true), false, false)
}

/// Millimetres along part of a path.
pub(super) fn length(path: &Path, places: &std::ops::Range<usize>) -> f64 {
    // A stretch begins half-way from the place before it, but for the ends.
    let all = path.mm.get(places.start.saturating_sub(1)..places.end).unwrap_or_default();
    all.windows(2).map(|two| if let &[p, q] = two { p.to(q) } else { 0.0 }).sum()
}
