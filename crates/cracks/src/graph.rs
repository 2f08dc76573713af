//! Thinned lines as a net: branches between nodes.

use std::collections::BTreeMap;

use crate::mask::{AROUND, Mask};
use crate::words::ones;

/// A place between pixels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Pixels from the left.
    pub x: f64,
    /// Pixels from the top.
    pub y: f64,
}

impl Point {
    /// How far it is.
    pub fn to(self, other: Self) -> f64 {
        (self.x - other.x).hypot(self.y - other.y)
    }
}

/// A line from one node or free end to the next.
#[derive(Debug, Clone, PartialEq)]
pub struct Branch {
    /// Pixels in order.
    pub chain: Vec<(i64, i64)>,
    /// Node at its beginning; `None` is a free end.
    pub from: Option<usize>,
    /// Node at its end.
    pub to: Option<usize>,
}

impl Branch {
    /// Whether both ends meet others.
    pub const fn linked(&self) -> bool {
        self.from.is_some() && self.to.is_some()
    }

    /// Whether exactly one end is free.
    pub const fn dangles(&self) -> bool {
        self.from.is_some() != self.to.is_some()
    }
}

/// Branches and the middles of the nodes where three or more meet.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Graph {
    /// Middles of nodes.
    pub nodes: Vec<Point>,
    /// Branches.
    pub branches: Vec<Branch>,
}

/// What is known of a pixel: a path not yet walked, a path already walked, a node.
const PATH: u8 = 0;
const SEEN: u8 = 1;
const NODE: u8 = 2;

impl Graph {
    /// The net of lines one pixel wide (see [`crate::thin_twice`]).
    ///
    /// ```
    /// let mut lines = cracks::Mask::empty(21, 21);
    /// for k in 0..21 { lines.put(k, 10, true); if k < 10 { lines.put(10, k, true); } }
    /// let net = cracks::Graph::of(&lines);
    /// assert_eq!((net.nodes.len(), net.branches.len()), (1, 3));
    /// ```
    pub fn of(lines: &Mask) -> Self {
        let (width, height) = (lines.width(), lines.height());
        let index = |x: i64, y: i64| y as usize * width + x as usize;
        let places_of =
            |bits: u8, (x, y): (i64, i64)| ones(u64::from(bits)).filter_map(|k| AROUND.get(k)).map(move |(dx, dy)| (x + dx, y + dy));
        let neighbours = |x: i64, y: i64| places_of(lines.around(x, y), (x, y));
        let mut joints = Mask::empty(width, height);
        let places: Vec<(i64, i64)> = lines.places().collect();
        for &(x, y) in &places {
            if lines.around(x, y).count_ones() >= 3 {
                joints.put(x, y, true);
            }
        }
        let mut marks = vec![PATH; width * height];
        let mut numbers = BTreeMap::new();
        let mut nodes = Vec::new();
        let mut members = Vec::new();
        for group in joints.groups(true) {
            let count = group.len() as f64;
            let (sx, sy) = group.iter().fold((0.0, 0.0), |(sx, sy), &(x, y)| (sx + f64::from(x), sy + f64::from(y)));
            for &(x, y) in &group {
                let at = index(i64::from(x), i64::from(y));
                numbers.insert(at, nodes.len());
                if let Some(mark) = marks.get_mut(at) {
                    *mark = NODE;
                }
            }
            nodes.push(Point { x: sx / count, y: sy / count });
            members.push(group);
        }
        let unseen = |marks: &[u8], x: i64, y: i64| marks.get(index(x, y)) == Some(&PATH);
        let mut branches = Vec::new();
        let walk = |marks: &mut Vec<u8>, start: (i64, i64), from: Option<usize>| {
            let mut chain = vec![start];
            let mut at = start;
            let mut to = None;
            let mark = |marks: &mut Vec<u8>, (x, y): (i64, i64)| {
                if let Some(mark) = marks.get_mut(index(x, y)) {
                    *mark = SEEN;
                }
            };
            mark(marks, start);
            loop {
                // A way on goes first, along a side before over a corner; else a node, another than the one left unless that is all there is.
                let (mut beside, mut over_corner) = (None, None);
                for (x, y) in places_of(lines.around(at.0, at.1), at) {
                    match marks.get(index(x, y)) {
                        Some(&NODE) if to.is_none() => {
                            let end = numbers.get(&index(x, y)).copied();
                            to = end.filter(|_| end != from || chain.len() > 3);
                        }
                        Some(&PATH) => {
                            let first = if x == at.0 || y == at.1 { &mut beside } else { &mut over_corner };
                            first.get_or_insert((x, y));
                        }
                        _ => {}
                    }
                }
                let Some(step) = beside.or(over_corner).filter(|_| to.is_none()) else { break };
                mark(marks, step);
                chain.push(step);
                at = step;
            }
            Branch { chain, from, to }
        };
        for (number, group) in members.iter().enumerate() {
            for &(x, y) in group {
                for start in neighbours(i64::from(x), i64::from(y)).collect::<Vec<_>>() {
                    if unseen(&marks, start.0, start.1) {
                        branches.push(walk(&mut marks, start, Some(number)));
                    }
                }
            }
        }
        for &(x, y) in &places {
            if unseen(&marks, x, y) && lines.around(x, y).count_ones() <= 1 {
                branches.push(walk(&mut marks, (x, y), None));
            }
        }
        // What is left are closed rings.
        for &(x, y) in &places {
            if unseen(&marks, x, y) {
                let mut ring = walk(&mut marks, (x, y), None);
                ring.chain.push((x, y));
                branches.push(ring);
            }
        }
        Self { nodes, branches }
    }

    /// How many rounds the net closes.
    pub(crate) fn rounds(&self) -> usize {
        let mut piece: Vec<usize> = (0..self.nodes.len()).collect();
        let root = |piece: &[usize], mut node: usize| {
            while let Some(&next) = piece.get(node).filter(|&&next| next != node) {
                node = next;
            }
            node
        };
        // A branch between two nodes of one piece closes a round; so does a ring by itself, which has no node.
        let mut rounds = 0;
        for branch in &self.branches {
            match (branch.from, branch.to) {
                (Some(from), Some(to)) => {
                    let (from, to) = (root(&piece, from), root(&piece, to));
                    if from == to {
                        rounds += 1;
                    } else if let Some(piece) = piece.get_mut(from) {
                        *piece = to;
                    }
                }
                (None, None) if branch.chain.len() > 3 && branch.chain.first() == branch.chain.last() => rounds += 1,
                _ => {}
            }
        }
        rounds
    }

    /// Branches that meet at each node.
    pub fn degrees(&self) -> Vec<usize> {
        let mut degrees = vec![0; self.nodes.len()];
        for end in self.branches.iter().flat_map(|branch| [branch.from, branch.to]).flatten() {
            if let Some(degree) = degrees.get_mut(end) {
                *degree += 1;
            }
        }
        degrees
    }
}
