//! The state of the hands after some blocks: what may come next and how early all can be done.

use super::net::{NEVER, Net};
use super::search::interrupted;
use super::times::{Begins, USUAL, at, raise, settle, ways_from};

/// After some blocks.
#[derive(Debug, Clone)]
pub(crate) struct After {
    pub(crate) sequence: Vec<usize>,
    /// Finished blocks of each chain.
    pub(crate) done: Vec<u8>,
    /// Earliest begins; never for what is still to come.
    pub(crate) begins: Begins,
    /// When hands are free.
    pub(crate) free: i64,
}

/// How early all can be done at best; the second tells likes apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Bound {
    pub(crate) end: i64,
    pub(crate) ends_of_chains: i64,
}

impl After {
    pub(crate) fn nothing(net: &Net) -> Self {
        Self { sequence: Vec::new(), done: vec![0; net.chains.len()], begins: vec![NEVER; net.len()], free: NEVER }
    }

    /// Next block of each chain that has one.
    fn next<'a>(&'a self, net: &'a Net) -> impl Iterator<Item = (usize, usize)> + 'a {
        net.chains.iter().zip(&self.done).enumerate().filter_map(|(chain, (&(from, to), &done))| {
            let next = from + usize::from(done);
            (next < to).then_some((chain, next))
        })
    }

    /// When a block could begin as things stand.
    fn could_begin(&self, net: &Net, block: usize) -> i64 {
        let here = net.block(block);
        here.lags.iter().map(|lag| at(&self.begins, lag.from) + lag.usual).fold(here.release.max(self.free), i64::max)
    }

    /// With one block more; none if longest waits can't be kept then.
    fn with(&self, net: &Net, chain: usize, block: usize) -> Option<Self> {
        let mut after = self.clone();
        after.sequence.push(block);
        if let Some(done) = after.done.get_mut(chain) {
            *done += 1;
        }
        let begin = self.could_begin(net, block);
        raise(&mut after.begins, block, begin);
        let here = net.block(block);
        let kept = here.caps.iter().all(|cap| begin - at(&self.begins, cap.from) <= cap.most) && here.latest.is_none_or(|l| begin <= l);
        if !kept && !settle(net, &after.sequence, &mut after.begins, USUAL) {
            return None;
        }
        after.free = at(&after.begins, block) + here.lasts;
        after.can_go_on(net).then_some(after)
    }

    /// All that may come next and can still end before `limit`, each with its bound.
    pub(crate) fn children(&self, net: &Net, limit: Option<i64>) -> Vec<(Bound, Self)> {
        let mut could: Vec<(usize, usize, i64)> = self
            .next(net)
            .filter(|&(chain, _)| self.comes_before_its_twin(net, chain))
            .map(|(chain, block)| (chain, block, self.could_begin(net, block)))
            .collect();
        if let Some(first) = net.first.filter(|_| self.sequence.is_empty()) {
            could.retain(|&(_, block, _)| block == first);
        } else if !self.may_be_pushed(net) {
            // What could be over before another begins goes first: taking it out of its later place hurts nothing, unless something
            // may not lag too far behind it (active schedules, Giffler and Thompson 1960).
            let over = could
                .iter()
                .filter(|&&(_, block, _)| net.heirs.get(block).is_none_or(|heirs| heirs.caps == 0))
                .map(|&(_, block, begin)| begin + net.block(block).lasts)
                .min();
            if let Some(over) = over {
                could.retain(|&(_, block, begin)| begin < over || begin + net.block(block).lasts <= over);
            }
        }
        could
            .into_iter()
            .filter_map(|(chain, block, _)| {
                let after = self.with(net, chain, block)?;
                let bound = after.bound(net, limit);
                limit.is_none_or(|limit| bound.end < limit).then_some((bound, after))
            })
            .collect()
    }

    /// Of two chains that are alike the first is begun first.
    fn comes_before_its_twin(&self, net: &Net, chain: usize) -> bool {
        let done = |chain: usize| self.done.get(chain).copied().unwrap_or(0);
        done(chain) > 0 || net.twin.get(chain).copied().flatten().is_none_or(|twin| done(twin) > 0)
    }

    /// Blocks that something still to come looks back on.
    fn looked_back_on<'a>(&'a self, net: &'a Net) -> impl Iterator<Item = usize> + 'a {
        self.next(net).flat_map(move |(chain, next)| {
            let from = net.chains.get(chain).map_or(next, |&(from, _)| from);
            (from..next).filter(move |&block| net.heirs.get(block).is_some_and(|heirs| heirs.waits >= next || heirs.caps >= next))
        })
    }

    fn may_still_be_pushed(net: &Net, block: usize, next_of_chain: usize) -> bool {
        net.heirs.get(block).is_some_and(|heirs| heirs.caps >= next_of_chain)
    }

    /// Whether something still to come may push a block that is done to a later time.
    fn may_be_pushed(&self, net: &Net) -> bool {
        self.next(net).any(|(chain, next)| {
            let from = net.chains.get(chain).map_or(next, |&(from, _)| from);
            (from..next).any(|block| Self::may_still_be_pushed(net, block, next))
        })
    }

    /// False if some longest wait can't be kept whatever comes: work since then and the rest of the chain take too long.
    fn can_go_on(&self, net: &Net) -> bool {
        for (chain, next) in self.next(net) {
            let Some(&(from, to)) = net.chains.get(chain) else { continue };
            if !(from..next).any(|block| Self::may_still_be_pushed(net, block, next)) {
                continue;
            }
            // Earliest begins of the rest of this chain, counted from when hands are free.
            let mut ahead = vec![NEVER; to - next];
            for block in next..to {
                let mut begin = if block == next { 0 } else { NEVER };
                for lag in &net.block(block).lags {
                    if let Some(before) = lag.from.checked_sub(next).and_then(|before| ahead.get(before)) {
                        begin = begin.max(before + lag.usual);
                    }
                }
                if let Some(place) = ahead.get_mut(block - next) {
                    *place = begin;
                }
                for cap in net.block(block).caps.iter().filter(|cap| cap.from < next) {
                    let since: i64 = self
                        .sequence
                        .iter()
                        .rev()
                        .scan(false, |found, &block| (!std::mem::replace(found, block == cap.from)).then(|| net.block(block).lasts))
                        .sum();
                    if since + begin > cap.most {
                        return false;
                    }
                }
            }
        }
        true
    }

    /// No order of what is left ends earlier. Once it is not below `limit` it is not looked at more closely.
    pub(crate) fn bound(&self, net: &Net, limit: Option<i64>) -> Bound {
        let mut begins = self.begins.clone();
        let mut jobs: Vec<(i64, i64, i64)> = Vec::with_capacity(net.len());
        let (mut end, mut ends_of_chains) = (self.free, 0);
        for (chain, next) in self.next(net) {
            let to = net.chains.get(chain).map_or(next, |&(_, to)| to);
            let mut end_of_chain = self.free;
            for block in next..to {
                let here = net.block(block);
                let head = here.lags.iter().map(|lag| at(&begins, lag.from) + lag.usual).fold(here.release.max(self.free), i64::max);
                raise(&mut begins, block, head);
                end_of_chain = end_of_chain.max(head + net.tail(block));
                jobs.push((head, here.lasts, net.tail(block) - here.lasts));
            }
            end = end.max(end_of_chain);
            ends_of_chains += end_of_chain;
        }
        if !jobs.is_empty() && limit.is_none_or(|limit| end < limit) {
            end = end.max(interrupted(&mut jobs));
        }
        Bound { end, ends_of_chains }
    }

    /// What the rest can see of this beginning: least times between the zero of the clock, the blocks that are looked back on and the
    /// moment when hands are free. A beginning with the same blocks and no larger number leaves every way on that this one leaves: what
    /// a graph of differences allows its visible points is told by the longest ways between them.
    pub(crate) fn shape(&self, net: &Net) -> Vec<i64> {
        let seen: Vec<usize> = self.looked_back_on(net).collect();
        let mut shape: Vec<i64> = Vec::with_capacity(seen.len() * 3 + 1);
        shape.push(self.free);
        shape.extend(seen.iter().map(|&block| at(&self.begins, block)));
        let last = self.sequence.last().copied();
        for (chain, next) in self.next(net) {
            let from = net.chains.get(chain).map_or(next, |&(from, _)| from);
            for source in (from..next).filter(|&block| Self::may_still_be_pushed(net, block, next)) {
                let (ways, back) = ways_from(net, &self.sequence, source);
                shape.extend(seen.iter().map(|&block| at(&ways, block)));
                shape.push(last.map_or(NEVER, |last| at(&ways, last) + net.block(last).lasts));
                shape.push(back);
            }
        }
        shape
    }
}
