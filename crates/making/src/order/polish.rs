//! The lesser goals, once it is known how early all can be done: no coat waits past its best time, pots are young when used up.

use super::net::{NEVER, Net};
use super::times::{Begins, USUAL, at, earliest, end, raise};

/// What an order is judged by, the first first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Goals {
    pub(crate) end: i64,
    /// Minutes past the best time, over all coats of all boards.
    pub(crate) beyond: i64,
    /// Minutes since it was ready, over all pots, when its last coat is laid.
    pub(crate) age: i64,
}

/// A sequence with times.
#[derive(Debug, Clone)]
pub(crate) struct Timed {
    pub(crate) sequence: Vec<usize>,
    pub(crate) begins: Begins,
    pub(crate) goals: Goals,
}

/// Times of a sequence: as early as can be, but what is made is made late and a coat that would wait past its best time is laid later,
/// if the end does not move. None if longest waits can't be kept.
pub(crate) fn timed(net: &Net, sequence: Vec<usize>) -> Option<Timed> {
    let mut begins = earliest(net, &sequence, USUAL)?;
    let last = end(net, &sequence, &begins)?;
    let mut hands_wanted = last;
    for &block in sequence.iter().rev() {
        let here = net.block(block);
        let begin = at(&begins, block);
        let latest = latest(net, &begins, block, hands_wanted);
        if latest > begin {
            let later = if here.late { latest } else { best_place(net, &begins, block, latest) };
            raise(&mut begins, block, later);
        }
        hands_wanted = at(&begins, block);
    }
    let goals = Goals { end: last, beyond: beyond(net, &begins), age: age(net, &begins) };
    Some(Timed { sequence, begins, goals })
}

/// Latest begin that moves nothing else.
fn latest(net: &Net, begins: &[i64], block: usize, hands_wanted: i64) -> i64 {
    let here = net.block(block);
    let mut latest = hands_wanted - here.lasts;
    if let Some(last) = here.latest {
        latest = latest.min(last);
    }
    for cap in &here.caps {
        latest = latest.min(at(begins, cap.from) + cap.most);
    }
    for heir in heirs(net, block) {
        for lag in net.block(heir).lags.iter().filter(|lag| lag.from == block) {
            latest = latest.min(at(begins, heir) - lag.usual);
        }
    }
    latest
}

fn heirs(net: &Net, block: usize) -> std::ops::RangeInclusive<usize> {
    let last = net.heirs.get(block).map_or(0, |heirs| heirs.waits.max(heirs.caps));
    block + 1..=last
}

/// The earliest begin up to `latest` with the fewest minutes past best times.
fn best_place(net: &Net, begins: &[i64], block: usize, latest: i64) -> i64 {
    let begin = at(begins, block);
    let cost = |begin: i64| -> i64 {
        let own: i64 = net.block(block).best.iter().map(|best| past(begin, best.from.map_or(0, |from| at(begins, from)), best.free)).sum();
        let of_heirs: i64 = heirs(net, block)
            .flat_map(|heir| net.block(heir).best.iter().map(move |best| (heir, best)))
            .filter(|(_, best)| best.from == Some(block))
            .map(|(heir, best)| past(at(begins, heir), begin, best.free))
            .sum();
        own + of_heirs
    };
    // The cost is bent only where one of the terms begins to count.
    let mut places = vec![begin, latest];
    for heir in heirs(net, block) {
        let terms = net.block(heir).best.iter().filter(|best| best.from == Some(block));
        places.extend(terms.map(|best| at(begins, heir) - best.free).filter(|place| (begin..latest).contains(place)));
    }
    let terms = net.block(block).best.iter();
    places
        .extend(terms.map(|best| best.from.map_or(0, |from| at(begins, from)) + best.free).filter(|place| (begin..latest).contains(place)));
    places.into_iter().min_by_key(|&place| (cost(place), place)).unwrap_or(begin)
}

fn past(begin: i64, from: i64, free: i64) -> i64 {
    (begin - from - free).max(0)
}

fn beyond(net: &Net, begins: &[i64]) -> i64 {
    let of = |(&begin, block): (&i64, &super::net::Block)| -> i64 {
        block.best.iter().map(|best| past(begin, best.from.map_or(0, |from| at(begins, from)), best.free)).sum()
    };
    begins.iter().zip(&net.blocks).filter(|(begin, _)| **begin > NEVER).map(of).sum()
}

fn age(net: &Net, begins: &[i64]) -> i64 {
    let of = |(&begin, block): (&i64, &super::net::Block)| {
        let (from, ready) = block.used_up?;
        Some(begin + block.lasts - from.map_or(0, |from| at(begins, from)) - ready)
    };
    begins.iter().zip(&net.blocks).filter(|(begin, _)| **begin > NEVER).filter_map(of).sum()
}

/// Moves single blocks to other places of the sequence as long as that serves the goals; at most `tries` orders are looked at.
pub(crate) fn polished(net: &Net, mut best: Timed, tries: usize) -> Timed {
    let mut left = tries;
    let length = best.sequence.len();
    let fixed = usize::from(net.first.is_some());
    let mut better = best.goals.beyond > 0 || best.goals.age > 0;
    while better {
        better = false;
        for from in fixed..length {
            for to in fixed..length {
                if from == to || from + 1 == to {
                    continue;
                }
                let Some(sequence) = moved(net, &best.sequence, from, to) else { continue };
                if left == 0 {
                    return best;
                }
                left -= 1;
                let no_later = earliest(net, &sequence, USUAL)
                    .and_then(|begins| end(net, &sequence, &begins))
                    .is_some_and(|end| end <= best.goals.end);
                if let Some(other) = no_later.then(|| timed(net, sequence)).flatten().filter(|other| other.goals < best.goals) {
                    best = other;
                    better = true;
                }
            }
        }
    }
    best
}

/// The sequence with one block taken out and put in elsewhere, if its chain stays in order.
fn moved(net: &Net, sequence: &[usize], from: usize, to: usize) -> Option<Vec<usize>> {
    let block = *sequence.get(from)?;
    let chain = net.chains.iter().find(|(first, past)| (*first..*past).contains(&block))?;
    let passed = if from < to { sequence.get(from + 1..=to)? } else { sequence.get(to..from)? };
    if passed.iter().any(|other| (chain.0..chain.1).contains(other)) {
        return None;
    }
    let mut moved = sequence.to_vec();
    moved.remove(from);
    moved.insert(to, block);
    Some(moved)
}
