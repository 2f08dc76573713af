//! A net of lines that loses branches: what is left grows together again.

use crate::changes::changes;
use crate::graph::{Branch, Graph, Point};

/// Length in pixels from which a branch is judged by its strength alone (model choice).
const LONG: f64 = 40.0;

/// What a branch between two others counts more than a loose one: texture seldom ends where a crack runs (model choice).
const LINKED: f64 = 1.4;

/// A branch with how strongly the picture speaks for it.
#[derive(Debug, Clone)]
pub(crate) struct Judged {
    pub(crate) branch: Branch,
    /// Strengths of its places, summed, in multiples of the texture.
    pub(crate) strength: f64,
    /// Whether it only crosses a crack at its beginning, and at its end, and runs on beyond.
    crosses: (bool, bool),
    /// Whether it is a stretch of a longer line.
    stretch: bool,
}

impl Judged {
    pub(crate) const fn length(&self) -> f64 {
        self.branch.chain.len() as f64
    }

    /// How far it is beyond this strength on the whole; loose short ones count less, but no branch counts more for being very long, since brush
    /// marks run over the whole board.
    pub(crate) fn evidence(&self, low: f64) -> f64 {
        let whole = match (self.branch.linked(), self.crosses) {
            (true, (true, true)) => 1.0,
            (true, _) if self.stretch => 1.0,
            (true, _) => LINKED,
            (false, _) => (self.length() / LONG).min(1.0),
        };
        (self.mean() - low) * whole
    }

    pub(crate) fn mean(&self) -> f64 {
        self.strength / self.length().max(1.0)
    }
}

/// Branches by number, and who meets at each node.
#[derive(Debug, Clone)]
pub(crate) struct Net {
    nodes: Vec<Point>,
    branches: Vec<Option<Judged>>,
    meeting: Vec<Vec<usize>>,
    /// Nodes at which a line was parted into stretches.
    seams: Vec<usize>,
}

impl Net {
    pub(crate) fn of(graph: Graph, strength: impl Fn(i64, i64) -> f64) -> Self {
        let mut meeting = vec![Vec::new(); graph.nodes.len()];
        let mut branches = Vec::with_capacity(graph.branches.len());
        for (number, branch) in graph.branches.into_iter().enumerate() {
            for node in [branch.from, branch.to].into_iter().flatten() {
                if let Some(meeting) = meeting.get_mut(node) {
                    meeting.push(number);
                }
            }
            let strength = branch.chain.iter().map(|&(x, y)| strength(x, y)).sum();
            branches.push(Some(Judged { branch, strength, crosses: (false, false), stretch: false }));
        }
        let mut net = Self { nodes: graph.nodes, branches, meeting, seams: Vec::new() };
        for node in 0..net.nodes.len() {
            net.mend(node);
        }
        net
    }

    pub(crate) fn branches(&self) -> impl Iterator<Item = &Judged> {
        self.branches.iter().flatten()
    }

    /// Takes away what is asked for, the weakest first, until nothing is left to take. Neighbours that grow together are asked anew.
    pub(crate) fn lose(&mut self, goes: impl Fn(&Judged) -> bool) {
        loop {
            let mut gone: Vec<(f64, usize)> = self
                .branches
                .iter()
                .enumerate()
                .filter_map(|(number, judged)| judged.as_ref().filter(|judged| goes(judged)).map(|judged| (judged.mean(), number)))
                .collect();
            if gone.is_empty() {
                return;
            }
            gone.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
            for (_, number) in gone {
                if self.branches.get(number).is_some_and(|judged| judged.as_ref().is_some_and(&goes)) {
                    self.remove(number);
                }
            }
        }
    }

    /// Marks branches that meet a line which is a crack beyond doubt, and run on on its other side: brush marks cross cracks, while one crack
    /// ends at another.
    pub(crate) fn mark_crossings(&mut self, sure: f64, low: f64, strength: impl Fn(i64, i64) -> f64) {
        let is_sure = |number: &usize| self.branches.get(*number).and_then(Option::as_ref).is_some_and(|judged| judged.mean() >= sure);
        let crack = |node: Option<usize>| {
            let meeting = node.and_then(|node| self.meeting.get(node));
            meeting.is_some_and(|meeting| meeting.iter().filter(|number| is_sure(number)).count() >= 2)
        };
        let crossing = |judged: &Judged| {
            let Branch { chain, from, to } = &judged.branch;
            let (first, last) = (crack(*from), crack(*to));
            if judged.mean() >= sure || !(first || last) {
                return (false, false);
            }
            let runs_on = |way: f64| way > low;
            (first && runs_on(way_on(chain.iter().copied(), &strength)), last && runs_on(way_on(chain.iter().rev().copied(), &strength)))
        };
        let marks: Vec<_> = self.branches.iter().map(|judged| judged.as_ref().map(crossing)).collect();
        for (judged, crosses) in self.branches.iter_mut().zip(marks) {
            if let (Some(judged), Some(crosses)) = (judged, crosses) {
                judged.crosses = crosses;
            }
        }
    }

    /// Parts each branch where its strength changes, so that the stretches of a crack that runs out into a brush mark are judged apart.
    pub(crate) fn part(&mut self, strength: impl Fn(i64, i64) -> f64) {
        for number in 0..self.branches.len() {
            let Some(judged) = self.branches.get(number).and_then(Option::as_ref) else { continue };
            let values: Vec<f64> = judged.branch.chain.iter().map(|&(x, y)| strength(x, y)).collect();
            for at in changes(&values).into_iter().rev() {
                self.part_at(number, at, &values);
            }
        }
    }

    /// Makes the far stretch of a branch one of its own, from the place of this number on. The place becomes the seam between both.
    fn part_at(&mut self, number: usize, at: usize, values: &[f64]) {
        let (seam, new) = (self.nodes.len(), self.branches.len());
        let Some(near) = self.branches.get_mut(number).and_then(Option::as_mut) else { return };
        let far = near.branch.chain.split_off(at);
        let Some((&(x, y), chain)) = far.split_first() else { return };
        let sum = |values: Option<&[f64]>| values.into_iter().flatten().sum();
        let strength = sum(values.get(at + 1..at + far.len()));
        near.strength = sum(values.get(..at));
        let branch = Branch { chain: chain.to_vec(), from: Some(seam), to: near.branch.to.replace(seam) };
        let crosses = (false, std::mem::take(&mut near.crosses.1));
        near.stretch = true;
        if let Some(meeting) = branch.to.and_then(|to| self.meeting.get_mut(to)) {
            // A ring that hangs at one node meets it twice; its far end was told last.
            if let Some(end) = meeting.iter_mut().rev().find(|other| **other == number) {
                *end = new;
            }
        }
        self.branches.push(Some(Judged { branch, strength, crosses, stretch: true }));
        self.nodes.push(Point { x: x as f64, y: y as f64 });
        self.meeting.push(vec![number, new]);
        self.seams.push(seam);
    }

    fn remove(&mut self, number: usize) {
        let Some(judged) = self.branches.get_mut(number).and_then(Option::take) else { return };
        for node in [judged.branch.from, judged.branch.to].into_iter().flatten() {
            if let Some(meeting) = self.meeting.get_mut(node) {
                meeting.retain(|&other| other != number);
            }
        }
        for node in [judged.branch.from, judged.branch.to].into_iter().flatten() {
            self.mend(node);
        }
    }

    /// A node where two branches are left is a place on one line; where one is left, its end.
    fn mend(&mut self, node: usize) {
        let Some(&place) = self.nodes.get(node) else { return };
        let place = (place.x.round() as i64, place.y.round() as i64);
        match self.meeting.get(node).map(Vec::as_slice) {
            Some(&[one]) => {
                if let Some(judged) = self.branches.get_mut(one).and_then(Option::as_mut) {
                    turn_towards(judged, node);
                    judged.branch.chain.push(place);
                    judged.strength += judged.strength / (judged.length() - 1.0).max(1.0);
                    judged.branch.to = None;
                }
                self.forget(node);
            }
            Some(&[one, two]) if one != two => {
                let Some(mut second) = self.branches.get_mut(two).and_then(Option::take) else { return };
                let Some(first) = self.branches.get_mut(one).and_then(Option::as_mut) else { return };
                turn_towards(first, node);
                turn_towards(&mut second, node);
                let second_branch = second.branch;
                first.strength += first.mean() + second.strength;
                first.branch.chain.push(place);
                first.branch.chain.extend(second_branch.chain.iter().rev());
                first.branch.to = second_branch.from;
                first.crosses.1 = second.crosses.0;
                first.stretch |= second.stretch;
                if let Some(meeting) = second_branch.from.and_then(|far| self.meeting.get_mut(far)) {
                    for other in meeting.iter_mut().filter(|other| **other == two) {
                        *other = one;
                    }
                }
                self.forget(node);
            }
            _ => {}
        }
    }

    fn forget(&mut self, node: usize) {
        if let Some(meeting) = self.meeting.get_mut(node) {
            meeting.clear();
        }
    }

    /// Branches that hang together, as lists of their numbers.
    pub(crate) fn pieces(&self) -> Vec<Vec<usize>> {
        let mut left: Vec<bool> = self.branches.iter().map(Option::is_some).collect();
        let mut out = Vec::new();
        for start in 0..left.len() {
            if !left.get(start).copied().unwrap_or(false) {
                continue;
            }
            let (mut piece, mut stack) = (Vec::new(), vec![start]);
            while let Some(number) = stack.pop() {
                if !left.get_mut(number).is_some_and(std::mem::take) {
                    continue;
                }
                piece.push(number);
                let Some(judged) = self.branches.get(number).and_then(Option::as_ref) else { continue };
                for node in [judged.branch.from, judged.branch.to].into_iter().flatten() {
                    stack.extend(self.meeting.get(node).into_iter().flatten());
                }
            }
            out.push(piece);
        }
        out
    }

    /// Takes away whole pieces; gives back their places.
    pub(crate) fn lose_pieces(&mut self, goes: impl Fn(&[&Judged]) -> bool) -> Vec<Vec<(u32, u32)>> {
        let mut out = Vec::new();
        for piece in self.pieces() {
            let judged: Vec<&Judged> = piece.iter().filter_map(|&number| self.branches.get(number).and_then(Option::as_ref)).collect();
            if goes(&judged) {
                out.push(judged.iter().flat_map(|judged| &judged.branch.chain).map(|&(x, y)| (x as u32, y as u32)).collect());
                for number in piece {
                    self.remove_quietly(number);
                }
            }
        }
        out
    }

    fn remove_quietly(&mut self, number: usize) {
        let Some(judged) = self.branches.get_mut(number).and_then(Option::take) else { return };
        for node in [judged.branch.from, judged.branch.to].into_iter().flatten() {
            self.forget(node);
        }
    }

    /// What is left, with stretches that meet sewn together again and nodes numbered anew.
    pub(crate) fn graph(&self) -> Graph {
        let mut net = self.clone();
        for seam in std::mem::take(&mut net.seams) {
            net.mend(seam);
        }
        let mut numbers = vec![None; net.nodes.len()];
        let mut nodes = Vec::new();
        for ((number, meeting), &node) in numbers.iter_mut().zip(&net.meeting).zip(&net.nodes) {
            if !meeting.is_empty() {
                *number = Some(nodes.len());
                nodes.push(node);
            }
        }
        let new = |node: Option<usize>| node.and_then(|node| numbers.get(node).copied().flatten());
        let branches = net
            .branches
            .into_iter()
            .flatten()
            .map(|Judged { branch: Branch { chain, from, to }, .. }| Branch { chain, from: new(from), to: new(to) })
            .collect();
        Graph { nodes, branches }
    }
}

/// Lays a branch so that it ends at the node.
fn turn_towards(judged: &mut Judged, node: usize) {
    let Judged { branch, crosses, .. } = judged;
    if branch.to != Some(node) {
        branch.chain.reverse();
        std::mem::swap(&mut branch.from, &mut branch.to);
        *crosses = (crosses.1, crosses.0);
    }
}

/// Mean strength of the straight way on from a chain's first place: beyond what the line that it meets there holds down, and as far as a
/// branch has to be long. Brush marks bend, so that the strongest place across counts.
fn way_on(chain: impl Iterator<Item = (i64, i64)>, strength: impl Fn(i64, i64) -> f64) -> f64 {
    let near: Vec<(i64, i64)> = chain.take(LONG as usize).collect();
    let (Some(&first), Some(&last)) = (near.first(), near.last()) else { return 0.0 };
    let (dx, dy) = ((first.0 - last.0) as f64, (first.1 - last.1) as f64);
    let length = dx.hypot(dy).max(1.0);
    let (dx, dy) = (dx / length, dy / length);
    let at = |along: f64, aside: f64| {
        strength((first.0 as f64 + dx * along - dy * aside).round() as i64, (first.1 as f64 + dy * along + dx * aside).round() as i64)
    };
    let most = |along: f64| (-BEND..=BEND).map(|aside| at(along, f64::from(aside))).fold(0.0, f64::max);
    let ways = (0..LONG as usize).map(|k| most(HELD + k as f64));
    ways.sum::<f64>() / LONG
}

/// Pixels beside a strong line where the packing of a JPEG is held down: its block of eight and the next.
const HELD: f64 = 16.0;
/// How far a way on may bend to each side, in pixels.
const BEND: i32 = 4;

#[cfg(test)]
mod tests {
    use super::{Judged, Net};
    use crate::graph::Graph;
    use crate::mask::Mask;

    // A line of 41 places with a side line of 10 in its middle: without the side line it is one branch again, end to end.
    #[test]
    fn a_line_grows_together_again() {
        let mut lines = Mask::empty(41, 21);
        for k in 0..41 {
            lines.put(k, 10, true);
        }
        for k in 0..10 {
            lines.put(20, k, true);
        }
        let mut net = Net::of(Graph::of(&lines), |_, _| 2.0);
        assert_eq!(net.branches().count(), 3);
        net.lose(|judged| judged.branch.dangles() && judged.length() < 15.0);
        let graph = net.graph();
        assert_eq!((graph.nodes.len(), graph.branches.len()), (0, 1));
        let chain = &graph.branches.first().expect("one line").chain;
        assert!((39..=41).contains(&chain.len()), "{}", chain.len());
        assert!(chain.windows(2).all(|two| (two[0].0 - two[1].0).abs() <= 2));
    }

    // Between two cracks of strength 2.2 a third runs out after 200 places into a brush mark of 0.9 that runs on to the other: it is kept and
    // the mark is lost, and the crack that the mark met is one line again. When nothing is lost, the net is what it was.
    #[test]
    fn a_crack_that_runs_out_into_a_brush_mark_is_kept_without_it() {
        let mut lines = Mask::empty(720, 300);
        for k in 0..300 {
            lines.put(100, k, true);
            lines.put(700, k, true);
        }
        for k in 100..700 {
            lines.put(k, 150, true);
        }
        let strength = |x: i64, _: i64| if (300..699).contains(&x) { 0.9 } else { 2.2 };
        let whole = Net::of(Graph::of(&lines), strength);
        let mut net = whole.clone();
        net.part(strength);
        assert_eq!(net.graph(), whole.graph());
        let mut means: Vec<f64> = net.branches().map(Judged::mean).collect();
        means.sort_by(f64::total_cmp);
        assert!(means.iter().zip([0.9, 2.2, 2.2, 2.2, 2.2, 2.2]).all(|(mean, known)| (mean - known).abs() < 0.02), "{means:?}");
        assert_eq!(means.len(), 6);
        net.lose(|judged| judged.mean() < 1.5);
        let graph = net.graph();
        assert_eq!((graph.nodes.len(), graph.branches.len()), (1, 4));
        let end = graph.branches.iter().flat_map(|branch| &branch.chain).map(|place| place.0).filter(|&x| x < 690).max();
        assert!(end.is_some_and(|x| (296..=304).contains(&x)), "{end:?}");
    }

    // Two sure lines of strength 3 and between them a line of strength 1, which either ends at them or crosses both: its evidence beyond 0.6 is
    // 1.4 times 0.4, or 0.4 alone (worked by hand).
    #[test]
    fn a_mark_that_runs_on_has_no_credit() {
        for (from, to, known) in [(100, 200, 0.56), (20, 280, 0.4)] {
            let mut lines = Mask::empty(300, 200);
            for k in 0..200 {
                lines.put(100, k, true);
                lines.put(200, k, true);
            }
            for k in from..=to {
                lines.put(k, 100, true);
            }
            let strength = |x: i64, y: i64| {
                if x == 100 || x == 200 {
                    3.0
                } else if y == 100 && (from..=to).contains(&x) {
                    1.0
                } else {
                    0.0
                }
            };
            let mut net = Net::of(Graph::of(&lines), strength);
            net.mark_crossings(2.0, 0.6, strength);
            let between = net.branches().find(|judged| judged.branch.chain.contains(&(150, 100))).expect("the line between");
            assert!((between.evidence(0.6) - known).abs() < 1e-9, "{from}: {}", between.evidence(0.6));
        }
    }
}
