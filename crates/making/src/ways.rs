//! Ways to make a day fit that does not.

use crate::rounds::whole;
use crate::work::fits;
use crate::{Clock, DayAsked, DayError, DayWorked, Minutes, Mixed, PotAsked, Way, WayOut, work};

/// Splits into two days that are looked at.
const SPLITS: usize = 8;

/// Ways to make a day fit, the cheapest first: begin earlier, end later, smaller pots, two days, fewer boards. Each was worked out anew
/// before it is offered, and [`apply`] makes the day of it. Empty if the day fits, or if nothing of this helps (then the error of
/// [`work`] says why).
///
/// Fewer boards means the least number of boards, taken evenly: always the last board of the pot that has the most, and never a pot's
/// only one. If nothing else helps but small pots keep young, they are offered even if the day then ends later than asked: `ends` says
/// when, and the ways out of that day can be asked for.
pub fn ways_out(asked: &DayAsked) -> Vec<WayOut> {
    let error = match work(asked) {
        Ok(_) | Err(DayError::Nothing | DayError::NoTime | DayError::TooMuch { .. } | DayError::NoStep(_)) => return Vec::new(),
        Err(error) => error,
    };
    let mut ways = Vec::new();
    let offer = |way: Way| {
        let day = apply(asked, &way);
        let ends = work(&day).ok()?.ends;
        Some(WayOut { ends, more_hands: hands(&day) - hands(asked), way })
    };
    if let DayError::TooLong { by } = error {
        ways.extend(offer(Way::Earlier { by: Minutes::new(by) }));
        ways.extend(offer(Way::Later { by: Minutes::new(by) }));
    }
    let small = smaller_pots(asked, &error);
    ways.extend(small.clone().filter(|(_, fits)| *fits).map(|(way, _)| way));
    if matches!(error, DayError::TooLong { .. }) {
        ways.extend(two_days(asked));
    }
    ways.extend(fewer_boards(asked));
    if ways.is_empty() {
        ways.extend(small.map(|(way, _)| way));
    }
    ways
}

/// The day with a way taken; of two days the first.
pub fn apply(asked: &DayAsked, way: &Way) -> DayAsked {
    let mut day = asked.clone();
    match way {
        Way::Earlier { by } => day.begins = day.begins - *by,
        Way::Later { by } => day.ends = day.ends + *by,
        Way::SmallerPots { pots, mixed } => {
            for pot in pots {
                if let Some(pot) = day.pots.get_mut(*pot) {
                    pot.mixed = *mixed;
                }
            }
        }
        Way::TwoDays { first } => day = only(asked, |pot| first.contains(&pot)),
        Way::FewerBoards { left_out } => {
            day.pots.iter_mut().for_each(|pot| pot.boards.retain(|board| !left_out.contains(&board.number)));
        }
    }
    day
}

/// Some pots of a day. The others keep their places, empty, so that steps keep their names.
fn only(asked: &DayAsked, stays: impl Fn(usize) -> bool) -> DayAsked {
    let mut day = asked.clone();
    for (_, pot) in day.pots.iter_mut().enumerate().filter(|(at, _)| !stays(*at)) {
        pot.boards.clear();
    }
    day
}

/// All hands-on time of a day.
fn hands(asked: &DayAsked) -> Minutes {
    let of = |pot: &PotAsked| -> i64 {
        let coats = pot.boards.iter().map(|board| board.coats.len()).max().unwrap_or(0);
        if coats == 0 {
            return 0;
        }
        let mixings = if pot.mixed == Mixed::Once { 1 } else { i64::try_from(coats).unwrap_or(i64::MAX) };
        let laying: i64 = pot.boards.iter().flat_map(|board| &board.coats).map(|lasts| whole(*lasts)).sum();
        let preparing: i64 = pot.preparation.iter().map(|one| whole(one.hands_on)).sum();
        laying + preparing + mixings * whole(pot.mixing)
    };
    let all: i64 = asked.pots.iter().map(of).sum::<i64>() + whole(asked.washing_up);
    Minutes::new(i32::try_from(all).unwrap_or(i32::MAX))
}

/// The way of smaller pots, and whether the day then fits. Pots that grow too old are mixed anew for each coat; of a day that is too
/// long all pots of several coats are, since no order has to keep them young then.
fn smaller_pots(asked: &DayAsked, error: &DayError) -> Option<(WayOut, bool)> {
    let several = |pot: &PotAsked| pot.mixed == Mixed::Once && pot.boards.iter().any(|board| board.coats.len() > 1);
    let mut pots: Vec<usize> = Vec::new();
    if matches!(error, DayError::TooLong { .. }) {
        pots = asked.pots.iter().enumerate().filter(|(_, pot)| several(pot)).map(|(at, _)| at).collect();
    }
    let mut error = error.clone();
    loop {
        if let DayError::PotsTooOld { letter } = &error {
            let at = asked.pots.iter().enumerate().position(|(at, pot)| pot.letter == *letter && several(pot) && !pots.contains(&at))?;
            pots.push(at);
        }
        if pots.is_empty() {
            return None;
        }
        pots.sort_unstable();
        let way = Way::SmallerPots { pots: pots.clone(), mixed: Mixed::EachCoat };
        let day = apply(asked, &way);
        let out = |ends: Clock| WayOut { ends, more_hands: hands(&day) - hands(asked), way: way.clone() };
        match work(&day) {
            Ok(worked) => return Some((out(worked.ends), true)),
            Err(DayError::TooLong { by }) => return Some((out(asked.ends + Minutes::new(by)), false)),
            Err(next @ DayError::PotsTooOld { .. }) => error = next,
            Err(_) => return None,
        }
    }
}

/// Pots split so that both days fit and are about as long; pots stay whole.
fn two_days(asked: &DayAsked) -> Option<WayOut> {
    let laid: Vec<usize> =
        asked.pots.iter().enumerate().filter(|(_, pot)| pot.boards.iter().any(|b| !b.coats.is_empty())).map(|(at, _)| at).collect();
    let (kept, others) = laid.split_first()?;
    let load = |pots: &[usize]| i64::from(hands(&only(asked, |pot| pots.contains(&pot))).count());
    let split = |mask: u32| -> (Vec<usize>, Vec<usize>) {
        let (mut first, mut second) = (vec![*kept], Vec::new());
        for (bit, pot) in others.iter().enumerate() {
            if mask >> bit & 1 == 1 { first.push(*pot) } else { second.push(*pot) }
        }
        (first, second)
    };
    let mut splits: Vec<(i64, u32)> = (0..1_u32 << others.len().min(11))
        .map(|mask| (mask, split(mask)))
        .filter(|(_, (_, second))| !second.is_empty())
        .map(|(mask, (first, second))| ((load(&first) - load(&second)).abs(), mask))
        .collect();
    splits.sort_unstable();
    splits.into_iter().take(SPLITS).find_map(|(_, mask)| {
        let (first, second) = split(mask);
        let worked = |pots: &[usize]| -> Option<DayWorked> { fits(&only(asked, |pot| pots.contains(&pot))) };
        let ends = worked(&first)?.ends.max(worked(&second)?.ends);
        Some(WayOut { way: Way::TwoDays { first }, ends, more_hands: asked.washing_up.max(Minutes::ZERO) })
    })
}

/// The least number of boards left out with which the day fits.
fn fewer_boards(asked: &DayAsked) -> Option<WayOut> {
    let mut left: Vec<usize> = asked.pots.iter().map(|pot| pot.boards.len()).collect();
    let mut order: Vec<String> = Vec::new();
    // The pot with the most boards gives its last; of several the last pot.
    while let Some(pot) = (0..left.len()).max_by_key(|&pot| (left.get(pot).copied().unwrap_or(0), pot)) {
        let Some(count) = left.get_mut(pot).filter(|count| **count > 1) else { break };
        *count -= 1;
        order.extend(asked.pots.get(pot).and_then(|pot| pot.boards.get(*count)).map(|board| board.number.clone()));
    }
    let without = |count: usize| Way::FewerBoards { left_out: order.iter().take(count).cloned().collect() };
    let (mut too_few, mut enough) = (0, order.len());
    fits(&apply(asked, &without(enough)))?;
    while too_few + 1 < enough {
        let middle = usize::midpoint(too_few, enough);
        if fits(&apply(asked, &without(middle))).is_some() { enough = middle } else { too_few = middle }
    }
    let way = without(enough);
    let day = apply(asked, &way);
    Some(WayOut { ends: work(&day).ok()?.ends, more_hands: hands(&day) - hands(asked), way })
}
