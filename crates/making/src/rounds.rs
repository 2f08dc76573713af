//! What is left of a day as blocks and waits: preparations, mixing, rounds of coats.

use crate::order::net::{Best, Block, Cap, Lag, NEVER, Net, Part};
use crate::so_far::{PotSoFar, SoFar, most_coats};
use crate::{Clock, DayAsked, Minutes, Mixed, PotAsked, Preparing, StepKind};

/// Longer than a year of minutes is nothing; what is asked is held within, so that no sum leaves its number.
pub(crate) const YEAR: i64 = 525_600;

pub(crate) fn whole(minutes: Minutes) -> i64 {
    i64::from(minutes.count()).clamp(0, YEAR)
}

pub(crate) fn moment(clock: Clock) -> i64 {
    i64::from(clock.count())
}

/// Which preparations want hands among the other work.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Preparations {
    /// None: they are put into gaps afterwards, or lie before the day.
    Aside,
    /// Those behind the last that keeps for ever; the others can always lie before.
    Tail,
    /// All that are not done.
    All,
}

/// From when on hands are there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Hands {
    /// For mixing and laying.
    pub(crate) day: i64,
    /// For preparations.
    pub(crate) before: i64,
}

/// First preparation that may have to be done in the day: those before it can always be done long before.
pub(crate) fn tail_of(preparation: &[Preparing]) -> usize {
    preparation.iter().rposition(|preparing| preparing.keeps.is_none()).map_or(0, |last| last + 1)
}

/// Longest time from the end of a preparation to the next thing.
pub(crate) fn keeps(preparing: &Preparing) -> Option<i64> {
    preparing.keeps.map(|keeps| whole(keeps).max(whole(preparing.stands.usual)))
}

/// A coat that is laid before another on the same board.
#[derive(Debug, Clone, Copy)]
enum Before {
    Nothing,
    /// Done at a time.
    Done(i64),
    /// Laid in a block of this chain, done so long after its begin.
    Planned {
        block: usize,
        end: i64,
    },
}

/// All blocks of what is left.
pub(crate) fn net_of(asked: &DayAsked, so_far: &SoFar, hands: Hands, preparations: Preparations) -> Net {
    let mut net = Net::default();
    for (at, pot) in asked.pots.iter().enumerate() {
        let Some(pot_so_far) = so_far.pots.get(at) else { continue };
        let mut chain = Chain { at, pot, so_far: pot_so_far, hands, blocks: Vec::new(), first: None };
        chain.build(preparations, so_far.last_laid.filter(|(last, _)| *last == at).map(|(_, coat)| coat));
        let first = chain.first.map(|first| first + net.len());
        if !chain.blocks.is_empty() {
            net.add_chain(chain.blocks);
            net.first = net.first.or(first);
        }
    }
    net.finish();
    net
}

struct Chain<'a> {
    at: usize,
    pot: &'a PotAsked,
    so_far: &'a PotSoFar,
    hands: Hands,
    blocks: Vec<Block>,
    /// The block that goes on with a round under way.
    first: Option<usize>,
}

impl Chain<'_> {
    /// Boards whose `coat` is still to be laid.
    fn boards_left(&self, coat: u8) -> Vec<usize> {
        let left = |&board: &usize| {
            let so_far = self.so_far.board(board);
            let coats = self.pot.boards.get(board).map_or(0, |board| board.coats.len());
            so_far.spoilt.is_none() && so_far.laid() < usize::from(coat) && usize::from(coat) <= coats
        };
        (0..self.pot.boards.len()).filter(left).collect()
    }

    fn build(&mut self, preparations: Preparations, last_laid: Option<u8>) {
        let coats: Vec<u8> = (1..=most_coats(self.pot)).filter(|&coat| !self.boards_left(coat).is_empty()).collect();
        let Some(&next_coat) = coats.first() else { return };
        let once = self.pot.mixed == Mixed::Once;
        // Once something was mixed there was something to mix it from, ticked or not.
        let mixed = self.so_far.mixed.values().any(|mixing| mixing.ready.is_some() || mixing.again > 0);
        let nothing_mixed = !mixed && (once || next_coat == 1);
        let last_preparation = if nothing_mixed { self.prepare(preparations) } else { None };
        let mut planned: Vec<Before> = (0..self.pot.boards.len())
            .map(|board| self.so_far.board(board).ends.last().map_or(Before::Nothing, |end| Before::Done(moment(*end))))
            .collect();
        let mut pot: Option<(Option<usize>, i64)> = None;
        if once {
            pot = Some(if let Some(ready) = self.so_far.mixing(None).ready {
                (None, moment(ready))
            } else {
                let block = self.mixing(None, nothing_mixed.then_some(last_preparation).flatten());
                self.blocks.push(block);
                (Some(self.blocks.len() - 1), whole(self.pot.mixing))
            });
        }
        let mut mixes_last = None;
        for &coat in &coats {
            let left = self.boards_left(coat);
            let put_off = |board: &usize| {
                let so_far = self.so_far.board(*board);
                so_far.laid() + 1 == usize::from(coat) && so_far.not_before.is_some_and(|from| moment(from) > self.hands.day)
            };
            let (later, go): (Vec<usize>, Vec<usize>) = left.into_iter().partition(put_off);
            let under_way = self.so_far.boards.iter().any(|board| board.spoilt.is_none() && board.laid() >= usize::from(coat))
                || last_laid == Some(coat);
            let (open, closed) = if under_way { self.open_now(&go, coat) } else { (Vec::new(), go) };
            let mut groups: Vec<Vec<usize>> = vec![open, closed];
            groups.extend(later.into_iter().map(|board| vec![board]));
            if !once {
                pot = self.so_far.mixing(Some(coat)).ready.map(|ready| (None, moment(ready)));
            }
            for (group, boards) in groups.into_iter().enumerate().filter(|(_, boards)| !boards.is_empty()) {
                if group == 0 && last_laid == Some(coat) && pot.is_some() && self.blocks.is_empty() {
                    self.first = Some(self.blocks.len());
                }
                let mixes_here = pot.is_none();
                let start = if mixes_here {
                    let block = self.mixing(Some(coat), last_preparation.filter(|_| self.only_preparations()));
                    mixes_last = Some(self.blocks.len());
                    pot = Some((Some(self.blocks.len()), block.lasts));
                    block
                } else {
                    Block { release: self.hands.day, release_long: self.hands.day, ..Block::default() }
                };
                let block = self.lay(coat, &boards, start, &planned, pot);
                for part in &block.parts {
                    if let StepKind::Lay { board, .. } = part.kind
                        && let Some(before) = planned.get_mut(board)
                    {
                        *before = Before::Planned { block: self.blocks.len(), end: part.offset + part.lasts };
                    }
                }
                self.blocks.push(block);
            }
            if !once && let Some(last) = self.blocks.last_mut() {
                last.used_up = pot;
            }
        }
        if once && let Some(last) = self.blocks.last_mut() {
            last.used_up = pot;
        }
        // All small pots are mixed from the same preparation: it must keep until the last.
        if let (Some(from), Some(block)) = (last_preparation, mixes_last.and_then(|last| self.blocks.get_mut(last)))
            && let Some(kept) = self.pot.preparation.last().and_then(|last| Some((whole(last.hands_on), keeps(last)?)))
            && !block.caps.iter().any(|cap| cap.from == from)
        {
            block.caps.push(Cap { from, most: kept.0 + kept.1 });
        }
    }

    fn only_preparations(&self) -> bool {
        self.blocks.iter().all(|block| block.parts.iter().all(|part| matches!(part.kind, StepKind::Prepare { .. })))
    }

    /// Boards that can be laid one after the other from now on, and those that can't.
    fn open_now(&self, boards: &[usize], coat: u8) -> (Vec<usize>, Vec<usize>) {
        let mut free = self.hands.day;
        boards.iter().partition(|&&board| {
            let so_far = self.so_far.board(board);
            let next = so_far.laid() + 1 == usize::from(coat);
            let opens = so_far.ends.last().map_or(NEVER, |end| moment(*end) + whole(self.pot.recoat.opens.usual));
            let open = next && opens <= free;
            if open {
                free += self.lasts(board, coat);
            }
            open
        })
    }

    fn lasts(&self, board: usize, coat: u8) -> i64 {
        let coats = self.pot.boards.get(board).map(|board| board.coats.as_slice());
        coats.and_then(|coats| coats.get(usize::from(coat).saturating_sub(1))).map_or(0, |lasts| whole(*lasts))
    }

    /// Puts preparations that want hands in front; the last of them.
    fn prepare(&mut self, which: Preparations) -> Option<usize> {
        let preparation = &self.pot.preparation;
        let from = match which {
            Preparations::Aside => return None,
            Preparations::Tail => tail_of(preparation),
            Preparations::All => {
                preparation.iter().enumerate().rposition(|(at, _)| self.so_far.preparing(at).done.is_some()).map_or(0, |at| at + 1)
            }
        };
        for (at, preparing) in preparation.iter().enumerate().skip(from) {
            let not_before = self.so_far.preparing(at).not_before.map_or(NEVER, moment);
            let lasts = whole(preparing.hands_on);
            let kind = StepKind::Prepare { pot: self.at, at };
            let mut block = Block {
                parts: vec![Part { kind, offset: 0, lasts }],
                lasts,
                release: self.hands.before.max(not_before),
                release_long: self.hands.before.max(not_before),
                late: which == Preparations::Tail,
                ..Block::default()
            };
            self.follow(&mut block, at, kind);
            self.blocks.push(block);
        }
        self.blocks.len().checked_sub(1)
    }

    /// What comes behind preparation `at - 1`, be it done or planned in the block before.
    fn follow(&self, block: &mut Block, at: usize, kind: StepKind) {
        let Some((before, preparing)) = at.checked_sub(1).and_then(|before| Some((before, self.pot.preparation.get(before)?))) else {
            return;
        };
        let (usual, long) = (whole(preparing.stands.usual), whole(preparing.stands.high).max(whole(preparing.stands.usual)));
        if let Some(from) = self.blocks.len().checked_sub(1) {
            let lasts = whole(preparing.hands_on);
            let by = Some((StepKind::Prepare { pot: self.at, at: before }, kind));
            block.lags.push(Lag { from, usual: lasts + usual, long: lasts + long, by });
            block.caps.extend(keeps(preparing).map(|keeps| Cap { from, most: lasts + keeps }));
        } else if let Some(done) = self.so_far.preparing(before).done.map(moment) {
            block.release = block.release.max(done + usual);
            block.release_long = block.release_long.max(done + long);
            block.latest = keeps(preparing).map(|keeps| done + keeps);
        }
    }

    /// A block that begins with mixing. `after` is the preparation in front of it, if it is planned.
    fn mixing(&self, coat: Option<u8>, after: Option<usize>) -> Block {
        let so_far = self.so_far.mixing(coat);
        let lasts = whole(self.pot.mixing);
        let kind = StepKind::Mix { pot: self.at, coat };
        let day = so_far.not_before.map_or(self.hands.day, |from| moment(from).max(self.hands.day));
        let mut block = Block {
            parts: vec![Part { kind, offset: 0, lasts }],
            lasts,
            release: day,
            release_long: day,
            late: coat.is_none(),
            ..Block::default()
        };
        let none_planned = self.blocks.is_empty() && coat.is_none_or(|coat| coat == 1) && so_far.again == 0;
        if after.is_some() || none_planned {
            self.follow(&mut block, self.pot.preparation.len(), kind);
        }
        block
    }

    /// Coats of some boards one after the other, behind what stands in the block already.
    fn lay(&self, coat: u8, boards: &[usize], mut block: Block, planned: &[Before], pot: Option<(Option<usize>, i64)>) -> Block {
        let here = self.blocks.len();
        let mixed = block.lasts;
        let no_pause = vec![NEVER; boards.len()];
        let mut offsets = self.offsets(coat, boards, mixed, &no_pause);
        if let Some(opens) = self.rhythm(boards, mixed, planned, &offsets) {
            offsets = self.offsets(coat, boards, mixed, &opens);
        }
        if let Some(from) = here.checked_sub(1) {
            let lasts = self.blocks.get(from).map_or(0, |before| before.lasts);
            push_lag(&mut block.lags, Lag { from, usual: lasts, long: lasts, by: None });
        }
        let recoat = &self.pot.recoat;
        let (usual, long) = (whole(recoat.opens.usual), whole(recoat.opens.high).max(whole(recoat.opens.usual)));
        for (&board, &offset) in boards.iter().zip(&offsets) {
            let kind = StepKind::Lay { pot: self.at, board, coat };
            let lasts = self.lasts(board, coat);
            match planned.get(board).copied().unwrap_or(Before::Nothing) {
                Before::Nothing => {}
                Before::Done(end) => {
                    block.release = block.release.max(end + usual - offset);
                    block.release_long = block.release_long.max(end + long - offset);
                    if let Some(missed) = recoat.missed_after {
                        let latest = end + whole(missed).max(usual) - offset;
                        block.latest = Some(block.latest.map_or(latest, |other| other.min(latest)));
                    }
                    block.best.extend(recoat.best_until.map(|best| Best { from: None, free: end + whole(best).max(usual) - offset }));
                }
                Before::Planned { block: from, end } => {
                    let before = StepKind::Lay { pot: self.at, board, coat: coat.saturating_sub(1) };
                    let by = Some((before, kind));
                    push_lag(&mut block.lags, Lag { from, usual: end + usual - offset, long: end + long - offset, by });
                    if let Some(missed) = recoat.missed_after {
                        push_cap(&mut block.caps, Cap { from, most: end + whole(missed).max(usual) - offset });
                    }
                    block.best.extend(recoat.best_until.map(|best| Best { from: Some(from), free: end + whole(best).max(usual) - offset }));
                }
            }
            if let Some(from) = self.so_far.board(board).not_before.filter(|_| self.so_far.board(board).laid() + 1 == usize::from(coat)) {
                block.release = block.release.max(moment(from) - offset);
                block.release_long = block.release_long.max(moment(from) - offset);
            }
            block.parts.push(Part { kind, offset, lasts });
            block.lasts = block.lasts.max(offset + lasts);
        }
        let life = whole(self.pot.life.low);
        match pot {
            Some((Some(from), ready)) if from != here => push_cap(&mut block.caps, Cap { from, most: ready + life - block.lasts }),
            Some((None, ready)) => {
                let latest = ready + life - block.lasts;
                block.latest = Some(block.latest.map_or(latest, |other| other.min(latest)));
            }
            _ => {}
        }
        block
    }

    /// Begins of the boards from the begin of the block, each after the one before and not before `opens`.
    fn offsets(&self, coat: u8, boards: &[usize], mixed: i64, opens: &[i64]) -> Vec<i64> {
        let mut free = mixed;
        let mut offset = |(&board, &opens): (&usize, &i64)| {
            let begin = free.max(opens);
            free = begin + self.lasts(board, coat);
            begin
        };
        boards.iter().zip(opens).map(&mut offset).collect()
    }

    /// Without a pause some coats may grow too hard while others are not open yet: then each board is waited for, in the rhythm in which
    /// the last coats were laid. None where that is not so.
    fn rhythm(&self, boards: &[usize], mixed: i64, planned: &[Before], offsets: &[i64]) -> Option<Vec<i64>> {
        let slack = whole(self.pot.recoat.missed_after?) - whole(self.pot.recoat.opens.usual);
        let ends: Option<Vec<(Option<usize>, i64)>> = boards
            .iter()
            .map(|&board| match planned.get(board)? {
                Before::Nothing => None,
                Before::Done(end) => Some((None, *end)),
                Before::Planned { block, end } => Some((Some(*block), *end)),
            })
            .collect();
        let ends = ends?;
        let (from, first) = *ends.first()?;
        if ends.iter().any(|(other, _)| *other != from) {
            return None;
        }
        let leads: Vec<i64> = ends.iter().zip(offsets).map(|((_, end), offset)| end - offset).collect();
        let spread = leads.iter().max()? - leads.iter().min()?;
        (spread > slack.max(0)).then(|| ends.iter().map(|(_, end)| mixed + end - first).collect())
    }
}

/// Keeps the longest of several lags from the same block.
fn push_lag(lags: &mut Vec<Lag>, lag: Lag) {
    match lags.iter_mut().find(|other| other.from == lag.from) {
        Some(other) => {
            let long = other.long.max(lag.long);
            if lag.usual >= other.usual {
                *other = lag;
            }
            other.long = long;
        }
        None => lags.push(lag),
    }
}

/// Keeps the shortest of several caps from the same block.
fn push_cap(caps: &mut Vec<Cap>, cap: Cap) {
    match caps.iter_mut().find(|other| other.from == cap.from) {
        Some(other) => other.most = other.most.min(cap.most),
        None => caps.push(cap),
    }
}
