//! Blocks of work and the waits between them, numbered through, without a word of the trade.

use crate::StepKind;

/// Stands for "at no time"; far from the ends of the number so that sums stay in it.
pub(crate) const NEVER: i64 = i64::MIN / 8;

/// One step within a block.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Part {
    pub(crate) kind: StepKind,
    /// From the begin of the block.
    pub(crate) offset: i64,
    pub(crate) lasts: i64,
}

/// A least time from begin to begin.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Lag {
    pub(crate) from: usize,
    pub(crate) usual: i64,
    /// With the long wait.
    pub(crate) long: i64,
    /// The step that keeps it waiting; none if it is the order alone.
    pub(crate) by: Option<(StepKind, StepKind)>,
}

/// A longest time from begin to begin.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Cap {
    pub(crate) from: usize,
    pub(crate) most: i64,
}

/// A time that costs nothing; what goes beyond is counted. From a begin, or from the zero of the clock.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Best {
    pub(crate) from: Option<usize>,
    pub(crate) free: i64,
}

/// Work that is not interrupted.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct Block {
    pub(crate) parts: Vec<Part>,
    pub(crate) lasts: i64,
    pub(crate) release: i64,
    /// The same with long waits.
    pub(crate) release_long: i64,
    /// Latest begin.
    pub(crate) latest: Option<i64>,
    pub(crate) lags: Vec<Lag>,
    pub(crate) caps: Vec<Cap>,
    pub(crate) best: Vec<Best>,
    /// Is begun as late as can be: what is made now grows old from now on.
    pub(crate) late: bool,
    /// What was mixed in this block, or before the first if none, is used up to the end of this one.
    pub(crate) used_up: Option<(Option<usize>, i64)>,
}

/// All blocks; those of a chain follow each other.
#[derive(Debug, Clone, Default)]
pub(crate) struct Net {
    pub(crate) blocks: Vec<Block>,
    /// First and one past the last block of each chain.
    pub(crate) chains: Vec<(usize, usize)>,
    /// Longest way from the begin of a block to the end of its chain.
    pub(crate) tails: Vec<i64>,
    /// The chain before this one that is its like.
    pub(crate) twin: Vec<Option<usize>>,
    /// Must be first.
    pub(crate) first: Option<usize>,
    /// By block: later blocks that wait for it or may not lag too far behind.
    pub(crate) heirs: Vec<Heirs>,
}

/// Last of the later blocks that look back on one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct Heirs {
    pub(crate) waits: usize,
    pub(crate) caps: usize,
}

impl Net {
    /// Adds a chain; places in `lags`, `caps`, `best` and `used_up` count within the chain.
    pub(crate) fn add_chain(&mut self, blocks: Vec<Block>) {
        let base = self.blocks.len();
        let alike = |&(from, to): &(usize, usize)| {
            self.blocks
                .get(from..to)
                .is_some_and(|other| other.len() == blocks.len() && other.iter().zip(&blocks).all(|(one, two)| one.is_like(from, two)))
        };
        // The nearest one, so that likes follow each other.
        self.twin.push(self.chains.iter().rposition(alike));
        self.chains.push((base, base + blocks.len()));
        for mut block in blocks {
            block.lags.iter_mut().for_each(|lag| lag.from += base);
            block.caps.iter_mut().for_each(|cap| cap.from += base);
            block.best.iter_mut().for_each(|best| best.from = best.from.map(|from| from + base));
            block.used_up = block.used_up.map(|(from, end)| (from.map(|from| from + base), end));
            self.blocks.push(block);
        }
    }

    /// Works out tails and heirs once all chains are in.
    pub(crate) fn finish(&mut self) {
        self.tails = self.blocks.iter().map(|block| block.lasts).collect();
        self.heirs = vec![Heirs::default(); self.blocks.len()];
        for at in (0..self.blocks.len()).rev() {
            let Some(block) = self.blocks.get(at) else { continue };
            let tail = self.tails.get(at).copied().unwrap_or(0);
            for lag in &block.lags {
                if let Some(before) = self.tails.get_mut(lag.from) {
                    *before = (*before).max(lag.usual + tail);
                }
                if let Some(heirs) = self.heirs.get_mut(lag.from) {
                    heirs.waits = heirs.waits.max(at);
                }
            }
            for cap in &block.caps {
                if let Some(heirs) = self.heirs.get_mut(cap.from) {
                    heirs.caps = heirs.caps.max(at);
                }
            }
        }
    }

    /// The same with the longest waits of some chains as wishes: what goes beyond is counted, not forbidden.
    pub(crate) fn eased(&self, chains: impl Fn(usize) -> bool) -> Self {
        let mut eased = self.clone();
        for (_, &(from, to)) in self.chains.iter().enumerate().filter(|(chain, _)| chains(*chain)) {
            for block in eased.blocks.iter_mut().take(to).skip(from) {
                block.best.extend(block.caps.drain(..).map(|cap| Best { from: Some(cap.from), free: cap.most }));
                block.best.extend(block.latest.take().map(|latest| Best { from: None, free: latest }));
            }
        }
        eased.finish();
        eased
    }

    /// The same without longest waits that no order which ends before `end` can break.
    pub(crate) fn trimmed(&self, end: Option<i64>) -> Self {
        let Some(end) = end else { return self.clone() };
        let mut trimmed = self.clone();
        for block in &mut trimmed.blocks {
            let last = end - block.lasts;
            block.caps.retain(|cap| last - self.block(cap.from).release > cap.most);
            block.latest = block.latest.filter(|latest| *latest < last);
        }
        trimmed.finish();
        trimmed
    }

    pub(crate) fn block(&self, at: usize) -> &Block {
        /// Stands in for a block that is not there, so that nothing has to panic.
        static NONE: Block = Block {
            parts: Vec::new(),
            lasts: 0,
            release: 0,
            release_long: 0,
            latest: None,
            lags: Vec::new(),
            caps: Vec::new(),
            best: Vec::new(),
            late: false,
            used_up: None,
        };
        self.blocks.get(at).unwrap_or(&NONE)
    }

    pub(crate) fn tail(&self, at: usize) -> i64 {
        self.tails.get(at).copied().unwrap_or(0)
    }

    pub(crate) fn len(&self) -> usize {
        self.blocks.len()
    }
}

impl Block {
    /// Whether another block, not yet in a chain, differs from this one of a chain that begins at `base` in nothing but what it lays.
    fn is_like(&self, base: usize, other: &Self) -> bool {
        let lags = |of: &Self, base: usize| -> Vec<(usize, i64)> { of.lags.iter().map(|lag| (lag.from - base, lag.usual)).collect() };
        let caps = |of: &Self, base: usize| -> Vec<(usize, i64)> { of.caps.iter().map(|cap| (cap.from - base, cap.most)).collect() };
        let best =
            |of: &Self, base: usize| -> Vec<(Option<usize>, i64)> { of.best.iter().map(|b| (b.from.map(|f| f - base), b.free)).collect() };
        self.lasts == other.lasts
            && self.release == other.release
            && self.latest == other.latest
            && lags(self, base) == lags(other, 0)
            && caps(self, base) == caps(other, 0)
            && best(self, base) == best(other, 0)
    }
}
