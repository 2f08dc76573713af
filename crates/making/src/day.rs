//! A worked order as steps with clocks, names, waits and closing times.

use std::collections::BTreeMap;

use crate::order::net::{NEVER, Net};
use crate::order::polish::Timed;
use crate::order::times::{Rules, USUAL, at, earliest, end, settle};
use crate::rounds::{Preparations, keeps, moment, tail_of, whole};
use crate::so_far::{SoFar, name};
use crate::work::clock;
use crate::{Clock, DayAsked, DayWorked, Found, Minutes, Mixed, Preparing, Span, Step, StepId, StepKind};

/// Preparations before the day are put between these clocks if they keep so long, minutes after midnight (judgement, no source).
const AWAKE: (i64, i64) = (7 * 60, 22 * 60);
const DAY: i64 = 24 * 60;
/// Places that are looked at for the preparations of a pot.
const TRIES: usize = 500;

/// What is done from when to when.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Placed(Vec<(i64, i64, StepKind)>);

impl Placed {
    pub(crate) fn of(net: &Net, timed: &Timed) -> Self {
        let parts = |&block: &usize| {
            let begin = at(&timed.begins, block);
            net.block(block).parts.iter().map(move |part| (begin + part.offset, begin + part.offset + part.lasts, part.kind))
        };
        Self(timed.sequence.iter().flat_map(parts).collect())
    }

    fn begins(&self, wanted: impl Fn(StepKind) -> bool) -> Vec<i64> {
        self.0.iter().filter(|(_, _, kind)| wanted(*kind)).map(|(from, _, _)| *from).collect()
    }

    /// Puts preparations so that the last stands long enough before `next.0` and keeps until `next.1`. False, and nothing put, if there is
    /// no room.
    fn put(&mut self, preparation: &[Preparing], pot: usize, next: (i64, i64), day_begins: i64, tries: &mut usize) -> bool {
        let Some((preparing, before)) = preparation.split_last() else { return true };
        let lasts = whole(preparing.hands_on);
        let kept = keeps(preparing);
        let least = kept.map_or(NEVER, |keeps| next.1 - keeps);
        let mut most = next.0 - whole(preparing.stands.usual);
        let first = self.0.iter().map(|(from, _, _)| *from).min().unwrap_or(most);
        while *tries > 0 {
            *tries -= 1;
            let Some(begin) = self.gap(lasts, least, most, day_begins, false).or_else(|| self.gap(lasts, least, most, day_begins, true))
            else {
                return false;
            };
            self.0.push((begin, begin + lasts, StepKind::Prepare { pot, at: before.len() }));
            if self.put(before, pot, (begin, begin), day_begins, tries) {
                return true;
            }
            self.0.pop();
            // What keeps for ever can be done before all else, and then nothing is in the way of what comes before it.
            most = if kept.is_none() { (begin + lasts - 1).min(first) } else { begin + lasts - 1 };
        }
        false
    }

    /// The latest time for work of that length which ends not before `least` and not after `most`.
    fn gap(&self, lasts: i64, least: i64, most: i64, day_begins: i64, nights: bool) -> Option<i64> {
        let mut end = most;
        while end >= least {
            let begin = end - lasts;
            if let Some((from, _, _)) = self.0.iter().find(|(from, to, _)| *from < end && begin < *to) {
                end = *from;
                continue;
            }
            if !nights && begin < day_begins {
                let midnight = end.div_euclid(DAY) * DAY;
                if end > midnight + AWAKE.1 {
                    end = midnight + AWAKE.1;
                    continue;
                }
                if begin < midnight + AWAKE.0 && lasts <= AWAKE.1 - AWAKE.0 {
                    end = midnight - DAY + AWAKE.1;
                    continue;
                }
            }
            return Some(begin);
        }
        None
    }
}

/// Puts the preparations that are not in the order yet into gaps of the day or before it, each as late as can be: the fresher the better.
/// None if one finds no gap while it keeps.
pub(crate) fn spare(asked: &DayAsked, mut placed: Placed, in_order: Preparations) -> Option<Placed> {
    let mut wanted: Vec<(i64, i64, usize, usize)> = Vec::new();
    for (p, pot) in asked.pots.iter().enumerate() {
        let upto = if in_order == Preparations::Tail { tail_of(&pot.preparation) } else { pot.preparation.len() };
        let next = if upto < pot.preparation.len() {
            placed.begins(|kind| kind == StepKind::Prepare { pot: p, at: upto })
        } else {
            placed.begins(|kind| matches!(kind, StepKind::Mix { pot, .. } if pot == p))
        };
        if let (Some(first), Some(last)) = (next.iter().min(), next.iter().max()) {
            wanted.push((*first, *last, p, upto));
        }
    }
    wanted.sort_by_key(|&(first, _, pot, _)| (std::cmp::Reverse(first), pot));
    let day_begins = moment(asked.begins);
    for (first, last, pot, upto) in wanted {
        let preparation = asked.pots.get(pot).and_then(|pot| pot.preparation.get(..upto)).unwrap_or_default();
        let mut tries = TRIES;
        if !placed.put(preparation, pot, (first, last), day_begins, &mut tries) {
            return None;
        }
    }
    Some(placed)
}

/// All steps with their clocks.
pub(crate) fn assemble(asked: &DayAsked, so_far: &SoFar, (net, timed): (&Net, &Timed), placed: Placed, found: Found) -> DayWorked {
    let mut placed = placed.0;
    let washing = whole(asked.washing_up);
    let wash_from = so_far.wash_from.map_or(NEVER, moment);
    let wash = |end: i64| if washing > 0 && !so_far.washed { end.max(wash_from) + washing } else { end };
    let last = timed.goals.end;
    if wash(last) > last {
        placed.push((wash(last) - washing, wash(last), StepKind::WashUp));
    }
    placed.sort_by_key(|&(from, to, _)| (from, to));
    let again = |kind: StepKind| match kind {
        StepKind::Mix { pot, coat } => so_far.pots.get(pot).map_or(0, |pot| pot.mixing(coat).again),
        _ => 0,
    };
    let named = |kind: StepKind| name(asked, kind, again(kind));
    let mut chain = critical(net, timed);
    if wash(last) > last {
        chain.push(StepKind::WashUp);
    }
    let ends_late = wash(late(asked, net, timed, &placed)).max(wash(last));
    let ends: BTreeMap<StepId, i64> = placed.iter().map(|&(_, to, kind)| (named(kind), to)).collect();
    let looks = Looks { asked, so_far, ends: &ends, named: &named };
    let steps = placed.iter().map(|&(from, to, kind)| looks.step(from, to, kind)).collect();
    DayWorked {
        steps,
        ends: clock(wash(last)),
        ends_late: clock(ends_late),
        hands_on: Minutes::new(i32::try_from(placed.iter().map(|(from, to, _)| to - from).sum::<i64>()).unwrap_or(i32::MAX)),
        chain: chain.into_iter().map(named).collect(),
        found,
    }
}

/// Looks back from a step to what it waits for.
struct Looks<'a, F: Fn(StepKind) -> StepId> {
    asked: &'a DayAsked,
    so_far: &'a SoFar,
    ends: &'a BTreeMap<StepId, i64>,
    named: &'a F,
}

impl<F: Fn(StepKind) -> StepId> Looks<'_, F> {
    /// When a step is or was over.
    fn over(&self, kind: StepKind) -> Option<i64> {
        let pots = &self.so_far.pots;
        let done = match kind {
            StepKind::Prepare { pot, at } => pots.get(pot).and_then(|pot| pot.preparing(at).done),
            StepKind::Mix { pot, coat } => pots.get(pot).and_then(|pot| pot.mixing(coat).ready),
            StepKind::Lay { pot, board, coat } => {
                pots.get(pot).and_then(|pot| pot.board(board).ends.get(usize::from(coat).saturating_sub(1)).copied())
            }
            StepKind::WashUp => None,
        };
        done.map(moment).or_else(|| self.ends.get(&(self.named)(kind)).copied())
    }

    fn step(&self, from: i64, to: i64, kind: StepKind) -> Step {
        let nothing = Span::default();
        let (after, wait, closes) = match kind {
            StepKind::WashUp => (None, nothing, None),
            StepKind::Prepare { pot, at } => self.after_preparing(pot, at, to - from),
            StepKind::Mix { pot, coat } => {
                let first = coat.is_none_or(|coat| coat == 1) && self.so_far.pots.get(pot).is_none_or(|pot| pot.mixing(coat).again == 0);
                let prepared = self.asked.pots.get(pot).map_or(0, |pot| pot.preparation.len());
                if first { self.after_preparing(pot, prepared, to - from) } else { (None, nothing, None) }
            }
            StepKind::Lay { pot, board, coat } => {
                let Some(pot_asked) = self.asked.pots.get(pot) else { return Step::plain((self.named)(kind), kind, from, to) };
                let mix = StepKind::Mix { pot, coat: (pot_asked.mixed == Mixed::EachCoat).then_some(coat) };
                let too_old = self.over(mix).map(|ready| ready + whole(pot_asked.life.low));
                if coat > 1 {
                    let before = StepKind::Lay { pot, board, coat: coat - 1 };
                    let missed = pot_asked.recoat.missed_after.map(|missed| whole(missed).max(whole(pot_asked.recoat.opens.usual)));
                    let too_hard = self.over(before).zip(missed).map(|(end, missed)| end + missed + to - from);
                    (Some(before), pot_asked.recoat.opens, too_old.into_iter().chain(too_hard).min())
                } else {
                    (Some(mix), nothing, too_old)
                }
            }
        };
        let after = after.map(self.named);
        Step { after, wait, closes: closes.map(clock), ..Step::plain((self.named)(kind), kind, from, to) }
    }

    fn after_preparing(&self, pot: usize, at: usize, lasts: i64) -> (Option<StepKind>, Span, Option<i64>) {
        let before = at.checked_sub(1).and_then(|before| Some((before, self.asked.pots.get(pot)?.preparation.get(before)?)));
        let Some((before, preparing)) = before else { return (None, Span::default(), None) };
        let kind = StepKind::Prepare { pot, at: before };
        let closes = self.over(kind).zip(keeps(preparing)).map(|(end, keeps)| end + keeps + lasts);
        (Some(kind), preparing.stands, closes)
    }
}

impl Step {
    fn plain(id: StepId, kind: StepKind, from: i64, to: i64) -> Self {
        Self { id, kind, from: clock(from), to: clock(to), after: None, wait: Span::default(), closes: None }
    }
}

/// When the same sequence is over if every wait is long. Where pots don't live so long, their life is left out of account.
fn late(asked: &DayAsked, net: &Net, timed: &Timed, placed: &[(i64, i64, StepKind)]) -> i64 {
    let mut long = net.clone();
    for block in 0..net.len() {
        let begin = at(&timed.begins, block);
        let Some(here) = long.blocks.get_mut(block) else { continue };
        match here.parts.first().map(|part| part.kind) {
            // What is prepared is begun as planned, not earlier to make up for it.
            Some(StepKind::Prepare { .. }) => here.release_long = here.release_long.max(begin),
            Some(StepKind::Mix { pot, .. }) => here.release_long = here.release_long.max(ready_late(asked, pot, placed)),
            _ => {}
        }
    }
    let caps = earliest(&long, &timed.sequence, Rules { long: true, caps: true });
    let begins = caps.or_else(|| earliest(&long, &timed.sequence, Rules { long: true, caps: false }));
    begins.and_then(|begins| end(net, &timed.sequence, &begins)).unwrap_or(timed.goals.end)
}

/// When a pot could be mixed if its preparations, begun as planned, stood long.
fn ready_late(asked: &DayAsked, pot: usize, placed: &[(i64, i64, StepKind)]) -> i64 {
    let mut ready = NEVER;
    for (at, preparing) in asked.pots.get(pot).map_or(&[][..], |pot| pot.preparation.as_slice()).iter().enumerate() {
        if let Some((from, _, _)) = placed.iter().find(|(_, _, kind)| *kind == StepKind::Prepare { pot, at }) {
            ready = ready.max(*from) + whole(preparing.hands_on) + whole(preparing.stands.high).max(whole(preparing.stands.usual));
        }
    }
    ready
}

/// Steps on a longest way from the first to the last: none of them may slip without moving the end.
fn critical(net: &Net, timed: &Timed) -> Vec<StepKind> {
    let mut begins = vec![NEVER; net.len()];
    settle(net, &timed.sequence, &mut begins, USUAL);
    let begin = |block: usize| at(&begins, block);
    let mut seen = vec![false; net.len()];
    let mut found: Vec<(i64, StepKind)> = Vec::new();
    // The block, and its last step that counts; none if all do.
    let mut here = timed.sequence.last().map(|&last| (last, None::<StepKind>));
    while let Some((block, upto)) = here {
        match seen.get_mut(block) {
            Some(seen) if !*seen => *seen = true,
            _ => break,
        }
        let parts = &net.block(block).parts;
        let count = upto.and_then(|upto| parts.iter().position(|part| part.kind == upto)).map_or(parts.len(), |last| last + 1);
        found.extend(parts.iter().take(count).map(|part| (begin(block) + part.offset, part.kind)));
        let waits = net.block(block).lags.iter().find(|lag| lag.by.is_some() && begin(lag.from) + lag.usual == begin(block));
        let hands = || {
            let before = timed.sequence.iter().position(|&other| other == block)?.checked_sub(1)?;
            let before = *timed.sequence.get(before)?;
            (begin(before) + net.block(before).lasts == begin(block)).then_some((before, None))
        };
        // Mixed so late only because what is laid last comes so late.
        let pushed = || {
            let by =
                |&&later: &&usize| net.block(later).caps.iter().any(|cap| cap.from == block && begin(later) - cap.most == begin(block));
            timed.sequence.iter().find(by).map(|&later| (later, None))
        };
        here = waits.map(|lag| (lag.from, lag.by.map(|(before, _)| before))).or_else(hands).or_else(pushed);
    }
    found.sort_by_key(|(begin, _)| *begin);
    found.into_iter().map(|(_, kind)| kind).collect()
}

/// Clock of a day that has nothing left.
pub(crate) fn nothing_left(asked: &DayAsked, so_far: &SoFar, now: Clock) -> DayWorked {
    let washing = asked.washing_up;
    let mut day =
        DayWorked { steps: Vec::new(), ends: now, ends_late: now, hands_on: Minutes::ZERO, chain: Vec::new(), found: Found::Best };
    if so_far.washed || whole(washing) == 0 {
        day.ends = so_far.newest.unwrap_or(now);
        day.ends_late = day.ends;
        return day;
    }
    let from = so_far.wash_from.map_or(now, |from| from.max(now));
    let id = name(asked, StepKind::WashUp, 0);
    day.steps = vec![Step::plain(id.clone(), StepKind::WashUp, moment(from), moment(from) + whole(washing))];
    (day.ends, day.ends_late, day.hands_on, day.chain) = (from + washing, from + washing, washing, vec![id]);
    day
}
