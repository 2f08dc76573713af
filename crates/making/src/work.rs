//! The best order of a day, asked for from outside.

use crate::day::{Placed, assemble, spare};
use crate::order::net::Net;
use crate::order::polish::{Timed, polished, timed};
use crate::order::search::{Effort, best_order};
use crate::order::times::{USUAL, earliest};
use crate::rounds::{Hands, Preparations, YEAR, moment, net_of, whole};
use crate::so_far::SoFar;
use crate::{Clock, DayAsked, DayError, DayWorked, Found, Mixed, PotAsked};

/// At most so many boards, pots and coats on a board are laid out.
const MOST: (usize, usize, usize) = (80, 12, 24);

/// How hard it is looked: `work` takes well below a tenth of a second for 40 boards in 6 pots.
pub(crate) const EFFORT: Effort = Effort { beam: 24, nodes: 4_000, enough: None };
/// Orders that are looked at for the lesser goals.
const TRIES: usize = 600;

/// The best order of a day for one pair of hands: it ends as early as can be; then coats wait few minutes past their best time; then
/// pots are young when they are used up.
///
/// Each pot is prepared (that may lie before the day, even days before), mixed, and laid in rounds: a round is one coat on each of its
/// boards that has one more, in the given order, without other work between. Where a round has to wait for its next board, a preparation may
/// fill the wait. Waits and lives are counted as the day is laid out: `usual` for waits, `low` for the life of a pot. No coat begins before
/// the last on its board is open or after it is too hard, and no pot is used beyond its life. Hands may idle.
///
/// The first goal is proven when `found` says [`Found::Best`]; the other two are bettered by moving single steps.
///
/// # Errors
/// [`DayError`] says what can't be: no time, nothing to lay, pots too old, coats too hard, or too long by so much.
///
/// ```
/// use making::{BoardAsked, Clock, DayAsked, Minutes, PotAsked, Recoat, Span, work};
/// let min = Minutes::new;
/// let boards = ["1", "2", "3"].map(|number| BoardAsked { number: number.into(), coats: vec![min(5), min(5)] }).to_vec();
/// let recoat = Recoat { opens: Span::exactly(min(30)), ..Recoat::default() };
/// let pot = PotAsked { letter: "A".into(), mixing: min(20), life: Span::exactly(min(240)), recoat, boards, ..PotAsked::default() };
/// let day = DayAsked { begins: Clock::new(9 * 60), ends: Clock::new(18 * 60), pots: vec![pot], washing_up: min(10) };
/// // 20 mixing, 15 for the first round, 30 to wait from its first board's end: 9:00 + 20 + 5 + 30, then 15 and 10 for washing up.
/// assert_eq!(work(&day)?.ends, Clock::new(9 * 60 + 20 + 5 + 30 + 15 + 10));
/// # Ok::<(), making::DayError>(())
/// ```
pub fn work(asked: &DayAsked) -> Result<DayWorked, DayError> {
    work_with(asked, EFFORT)
}

/// Whether a day fits: the same as [`work`], but the first order that ends in time is taken, and less is looked at.
pub(crate) fn fits(asked: &DayAsked) -> Option<DayWorked> {
    let enough = Some(moment(asked.ends) - whole(asked.washing_up));
    work_with(asked, Effort { nodes: EFFORT.nodes / 4, enough, ..EFFORT }).ok()
}

fn work_with(asked: &DayAsked, effort: Effort) -> Result<DayWorked, DayError> {
    check(asked)?;
    let so_far = SoFar::nothing(asked);
    let hands = before_the_day(asked);
    for (at, pot) in asked.pots.iter().enumerate() {
        can_be_kept(asked, &so_far, hands, at, pot)?;
    }
    let worked = lay_out(asked, &so_far, hands, true, effort).ok_or(DayError::Nothing)?;
    let by = worked.ends.count().saturating_sub(asked.ends.count());
    if by > 0 { Err(DayError::TooLong { by }) } else { Ok(worked) }
}

/// Says what is wrong with a day before anything is laid out.
pub(crate) fn check(asked: &DayAsked) -> Result<(), DayError> {
    let boards = || asked.pots.iter().flat_map(|pot| &pot.boards);
    let (most_boards, most_pots, most_coats) = MOST;
    if boards().all(|board| board.coats.is_empty()) {
        return Err(DayError::Nothing);
    }
    if asked.ends <= asked.begins {
        return Err(DayError::NoTime);
    }
    if boards().count() > most_boards || asked.pots.len() > most_pots || boards().any(|board| board.coats.len() > most_coats) {
        return Err(DayError::TooMuch { boards: most_boards, pots: most_pots, coats: most_coats });
    }
    Ok(())
}

/// Hands for a day of which nothing has happened: preparations may lie before it.
pub(crate) fn before_the_day(asked: &DayAsked) -> Hands {
    let long = asked.pots.iter().flat_map(|pot| &pot.preparation).map(|one| whole(one.hands_on) + whole(one.stands.high)).sum::<i64>();
    Hands { day: moment(asked.begins), before: moment(asked.begins) - long - YEAR }
}

/// A pot that can't be kept when it is alone can't be kept at all, and the other way round: one pot after the other always goes.
fn can_be_kept(asked: &DayAsked, so_far: &SoFar, hands: Hands, at: usize, pot: &PotAsked) -> Result<(), DayError> {
    let letter = || pot.letter.clone();
    let life = whole(pot.life.low);
    let coats = pot.boards.iter().map(|board| board.coats.len()).max().unwrap_or(0);
    for coat in 0..coats {
        let round: i64 = pot.boards.iter().filter_map(|board| board.coats.get(coat)).map(|lasts| whole(*lasts)).sum();
        if round > life {
            return Err(DayError::LifeTooShort { letter: letter(), round: count(round), life: count(life) });
        }
    }
    let alone = |pot: PotAsked| {
        // The places of all pots stay, so that what has happened stays theirs.
        let mut day = asked.clone();
        day.pots.iter_mut().for_each(|other| other.boards.clear());
        if let Some(place) = day.pots.get_mut(at) {
            *place = pot;
        }
        net_of(&day, so_far, hands, Preparations::Tail)
    };
    let goes = |net: &Net| earliest(net, &(0..net.len()).collect::<Vec<_>>(), USUAL).is_some();
    let net = alone(pot.clone());
    // Waiting for boards inside a round may cost a small pot its life.
    let small_pots_last = pot.mixed == Mixed::Once || net.blocks.iter().all(|block| block.lasts - whole(pot.mixing) <= life);
    if goes(&net) && small_pots_last {
        return Ok(());
    }
    let mut immortal = pot.clone();
    immortal.life.low = crate::Minutes::new(i32::MAX);
    if goes(&alone(immortal)) { Err(DayError::PotsTooOld { letter: letter() }) } else { Err(DayError::CoatsTooHard { letter: letter() }) }
}

fn count(minutes: i64) -> i32 {
    i32::try_from(minutes).unwrap_or(i32::MAX)
}

/// Lays out what is left. With `free_before`, preparations that are not done may lie anywhere before the day; else they want hands from
/// now on. Longest waits that can't be kept any more become wishes. None if nothing is left to lay.
pub(crate) fn lay_out(asked: &DayAsked, so_far: &SoFar, hands: Hands, free_before: bool, effort: Effort) -> Option<DayWorked> {
    let which = if free_before { Preparations::Aside } else { Preparations::All };
    let net = net_of(asked, so_far, hands, which);
    let (net, timed, proven) = solve(&net, effort)?;
    let placed = Placed::of(&net, &timed);
    if !free_before {
        return Some(assemble(asked, so_far, (&net, &timed), placed, found(proven)));
    }
    if let Some(placed) = spare(asked, placed.clone(), Preparations::Aside) {
        return Some(assemble(asked, so_far, (&net, &timed), placed, found(proven)));
    }
    // Some preparation keeps too short to lie in a gap: it takes part.
    let (net, timed, proven) = solve(&net_of(asked, so_far, hands, Preparations::Tail), effort)?;
    let placed = Placed::of(&net, &timed);
    let placed = spare(asked, placed.clone(), Preparations::Tail).unwrap_or(placed);
    Some(assemble(asked, so_far, (&net, &timed), placed, found(proven)))
}

fn found(proven: bool) -> Found {
    if proven { Found::Best } else { Found::Good }
}

fn solve(net: &Net, effort: Effort) -> Option<(Net, Timed, bool)> {
    if net.len() == 0 {
        return None;
    }
    let hard = |net: &Net| {
        let order = best_order(net, effort)?;
        Some((timed(net, order.sequence)?, order.proven))
    };
    let lost = |chain: usize| {
        let alone: Vec<usize> = net.chains.get(chain).map_or(Vec::new(), |&(from, to)| (from..to).collect());
        earliest(net, &alone, USUAL).is_none()
    };
    // What can't be kept any more by itself becomes a wish; if that does not do, all longest waits do.
    let mut kept = hard(net).map(|solved| (net.clone(), solved));
    for ease in [&lost as &dyn Fn(usize) -> bool, &|_| true] {
        if kept.is_none() {
            let eased = net.eased(ease);
            kept = hard(&eased).map(|solved| (eased, solved));
        }
    }
    let (net, (timed, proven)) = kept?;
    let timed = polished(&net, timed, TRIES);
    Some((net, timed, proven))
}

/// For a day under way: whoever stands at the bench is answered at once.
pub(crate) const QUICK: Effort = Effort { beam: 16, nodes: 2_000, enough: None };

/// A clock again.
pub(crate) fn clock(moment: i64) -> Clock {
    Clock::new(i32::try_from(moment).unwrap_or(if moment < 0 { i32::MIN } else { i32::MAX }))
}
