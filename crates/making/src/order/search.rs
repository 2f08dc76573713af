//! Branch and bound over which chain goes on next.

use std::collections::{BTreeMap, BinaryHeap};

use super::after::{After, Bound};
use super::net::Net;
use super::times::{USUAL, earliest, end};

/// How hard it is looked for the best order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Effort {
    /// Beginnings that are carried on side by side for a first good order.
    pub(crate) beam: usize,
    /// Beginnings that are looked at on the way to the proof.
    pub(crate) nodes: usize,
    /// No better end is wanted; if none so early can be, any will do.
    pub(crate) enough: Option<i64>,
}

/// A sequence of all blocks and whether no other ends earlier.
#[derive(Debug, Clone)]
pub(crate) struct Order {
    pub(crate) sequence: Vec<usize>,
    pub(crate) proven: bool,
}

/// Of one set of finished blocks at most so many beginnings are kept to compare with.
const KEPT: usize = 40;

/// The sequence that ends first; none if longest waits can't all be kept (as far as the effort reaches).
pub(crate) fn best_order(net: &Net, effort: Effort) -> Option<Order> {
    let first = one_pot_after_the_other(net);
    let trimmed = net.trimmed(first.as_ref().map(|(end, _)| *end));
    let net = &trimmed;
    let start = After::nothing(net);
    let floor = start.bound(net, None).end;
    let enough = effort.enough.map_or(floor, |enough| if enough < floor { i64::MAX } else { enough });
    let mut search = Search { net, best: first, seen: BTreeMap::new(), left: effort.nodes, enough };
    // A narrow beam is often good enough, and then it is over at once.
    for width in [2, effort.beam] {
        if !search.is_good_enough() {
            search.beam(&start, width);
        }
    }
    let looked_at_all = !search.is_good_enough() && search.deeper(&start);
    let proven = looked_at_all || search.best_end().is_some_and(|end| end <= floor);
    search.best.map(|(_, sequence)| Order { sequence, proven })
}

/// Never quick, but it keeps every pot young if any order does.
fn one_pot_after_the_other(net: &Net) -> Option<(i64, Vec<usize>)> {
    let mut chains = net.chains.clone();
    // The one that must be first, then the longest, so that nothing short waits at the end for nobody.
    chains
        .sort_by_key(|&(from, to)| (!net.first.is_some_and(|first| (from..to).contains(&first)), std::cmp::Reverse(net.tail(from)), from));
    let sequence: Vec<usize> = chains.into_iter().flat_map(|(from, to)| from..to).collect();
    let begins = earliest(net, &sequence, USUAL)?;
    Some((end(net, &sequence, &begins)?, sequence))
}

struct Search<'a> {
    net: &'a Net,
    best: Option<(i64, Vec<usize>)>,
    seen: BTreeMap<Vec<u8>, Vec<Vec<i64>>>,
    left: usize,
    enough: i64,
}

impl Search<'_> {
    fn is_good_enough(&self) -> bool {
        self.best_end().is_some_and(|end| end <= self.enough)
    }

    fn best_end(&self) -> Option<i64> {
        self.best.as_ref().map(|(end, _)| *end)
    }

    fn beaten_by(&self, end: i64) -> bool {
        self.best_end().is_none_or(|best| end < best)
    }

    fn offer(&mut self, end: i64, sequence: &[usize]) {
        if self.beaten_by(end) {
            self.best = Some((end, sequence.to_vec()));
        }
    }

    /// Carries the most promising beginnings on, all equally long.
    fn beam(&mut self, start: &After, width: usize) {
        let mut level: Vec<(Bound, After)> = vec![(start.bound(self.net, None), start.clone())];
        for _ in 0..self.net.len() {
            let mut next: Vec<(Bound, After)> = Vec::with_capacity(level.len() * 4);
            for (_, here) in &level {
                next.extend(here.children(self.net, self.best_end()));
            }
            next.sort_by_key(|(bound, after)| (*bound, after.free));
            let mut of_one_set: BTreeMap<Vec<u8>, usize> = BTreeMap::new();
            // A few of each set of finished blocks, so that the beam does not fill with shuffles of one idea.
            next.retain(|(_, after)| {
                let count = of_one_set.entry(after.done.clone()).or_insert(0);
                *count += 1;
                *count <= 3
            });
            next.truncate(width);
            level = next;
        }
        for (_, here) in &level {
            self.offer(here.free, &here.sequence);
        }
    }

    /// True if everything below `here` was looked at.
    fn deeper(&mut self, here: &After) -> bool {
        if here.sequence.len() == self.net.len() {
            self.offer(here.free, &here.sequence);
            return true;
        }
        let mut children = here.children(self.net, self.best_end());
        if self.left < children.len() {
            return false;
        }
        self.left -= children.len();
        children.sort_by_key(|(bound, after)| (*bound, after.free));
        for (bound, child) in children {
            if !self.beaten_by(bound.end) {
                // The others are no better.
                return true;
            }
            if self.was_there(&child) {
                continue;
            }
            if !self.deeper(&child) || self.is_good_enough() {
                return false;
            }
        }
        true
    }

    /// Whether another order of the same blocks leaves at least as much freedom; else remembers this one.
    fn was_there(&mut self, after: &After) -> bool {
        let shape = after.shape(self.net);
        let kept = self.seen.entry(after.done.clone()).or_default();
        let leaves_no_less = |other: &Vec<i64>| other.len() == shape.len() && other.iter().zip(&shape).all(|(one, two)| one <= two);
        if kept.iter().any(leaves_no_less) {
            return true;
        }
        kept.retain(|other| !other.iter().zip(&shape).all(|(one, two)| two <= one));
        if kept.len() < KEPT {
            kept.push(shape);
        }
        false
    }
}

/// Work that may be interrupted: the least end of jobs with a head, a length and a tail (Jackson's preemptive schedule), which no
/// order of uninterrupted work can end before (Carlier 1982, "The one-machine sequencing problem").
pub(crate) fn interrupted(jobs: &mut [(i64, i64, i64)]) -> i64 {
    jobs.sort_unstable();
    let mut waiting: BinaryHeap<(i64, i64)> = BinaryHeap::with_capacity(jobs.len());
    let mut coming = jobs.iter().peekable();
    let (mut now, mut end) = (i64::MIN, i64::MIN);
    loop {
        if waiting.is_empty() {
            match coming.peek() {
                Some((head, _, _)) => now = now.max(*head),
                None => return end,
            }
        }
        while let Some((_, lasts, tail)) = coming.next_if(|(head, _, _)| *head <= now) {
            waiting.push((*tail, *lasts));
        }
        let Some((tail, lasts)) = waiting.pop() else { continue };
        let until = coming.peek().map_or(i64::MAX, |(head, _, _)| *head);
        let works = lasts.min(until.saturating_sub(now));
        now += works;
        if works < lasts {
            waiting.push((tail, lasts - works));
        } else {
            end = end.max(now + tail);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn seven_jobs_of_the_literature() {
        // Carlier (1982), the worked example of seven jobs: heads 10 13 11 20 30 0 30, lengths 5 6 7 4 3 6 2, tails 7 26 24 21 8 17 0;
        // the preemptive bound is 49 (from memory). By hand: the jobs 1, 2, 3, 4 have the least head 10, lengths 5 + 6 + 7 + 4 = 22 and
        // least tail 7; without job 1: 11 + 17 + 21 = 49.
        let mut jobs = [(10, 5, 7), (13, 6, 26), (11, 7, 24), (20, 4, 21), (30, 3, 8), (0, 6, 17), (30, 2, 0)];
        assert_eq!(interrupted(&mut jobs), 49);
    }
}
