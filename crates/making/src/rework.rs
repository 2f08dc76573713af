//! The rest of a day under way, and what may go wrong with it.

use crate::day::nothing_left;
use crate::rounds::{Hands, moment, whole};
use crate::so_far::{SoFar, mixings, name};
use crate::work::{EFFORT, QUICK, before_the_day, check, lay_out};
use crate::{Clock, DayAsked, DayError, DayWorked, Happened, Minutes, Mixed, Risk, Span, StepKind};

/// What is left of a day, given what truly happened: done steps are not in it, and their true times count for what comes.
///
/// Steps may have been done in any order; a coat that was tapped stands for those below it, and for its pot. A step that was not ready
/// ([`crate::How::NotYet`]) comes again after ten minutes or more, others first. On a spoilt board nothing more is laid. A spoilt pot is
/// mixed again under a name of its own: `mix:A+1`, then `mix:A+2`; for small pots `mix:A:2+1`. Boards of a round under way go first as far
/// as they are open. What can't be kept any more (an old pot, a coat too hard, the end of the day) is no error here: [`risks`] tells it.
///
/// Before the day has begun and while nothing has happened it is the day as [`crate::work`] lays it out.
///
/// # Errors
/// A step that this day does not have; a day without boards or time.
pub fn rework(asked: &DayAsked, happened: &[Happened], now: Clock) -> Result<DayWorked, DayError> {
    check(asked)?;
    let so_far = SoFar::of(asked, happened)?;
    let worked = if happened.is_empty() && now <= asked.begins {
        lay_out(asked, &so_far, before_the_day(asked), true, EFFORT)
    } else {
        let hands = Hands { day: moment(now.max(asked.begins)), before: moment(now) };
        lay_out(asked, &so_far, hands, false, QUICK)
    };
    Ok(worked.unwrap_or_else(|| nothing_left(asked, &so_far, now)))
}

/// What may go wrong with the rest of a day, or has gone wrong: pots that are too old when their last step comes, coats that are too
/// hard for the next, a day too long. In the order of pots and boards; `worked` is what [`rework`] or [`crate::work`] gave.
///
/// # Errors
/// A step that this day does not have.
pub fn risks(asked: &DayAsked, happened: &[Happened], worked: &DayWorked, now: Clock) -> Result<Vec<Risk>, DayError> {
    let so_far = SoFar::of(asked, happened)?;
    let mut risks = Vec::new();
    let over = |kind: StepKind, again: u32| {
        let id = name(asked, kind, again);
        worked.steps.iter().find(|step| step.id == id).map(|step| step.to)
    };
    for (p, (pot, pot_so_far)) in asked.pots.iter().zip(&so_far.pots).enumerate() {
        let too_old = mixings(pot).into_iter().find_map(|coat| {
            let mixing = pot_so_far.mixing(coat);
            let ready = mixing.ready.or_else(|| over(StepKind::Mix { pot: p, coat }, mixing.again))?;
            let laid =
                |kind: StepKind| matches!(kind, StepKind::Lay { pot, coat: of, .. } if pot == p && coat.is_none_or(|coat| coat == of));
            let last = worked.steps.iter().filter(|step| laid(step.kind)).map(|step| step.to).max()?;
            let since = ready + Minutes::new(i32::try_from(whole(pot.life.low)).unwrap_or(i32::MAX));
            (last.max(now) > since).then_some(Risk::PotTooOld { pot: p, since })
        });
        risks.extend(too_old);
        let Some(missed) = pot.recoat.missed_after.map(|missed| missed.max(pot.recoat.opens.usual)) else { continue };
        for step in &worked.steps {
            let StepKind::Lay { pot: of, board, coat } = step.kind else { continue };
            let Some(before) = coat.checked_sub(1).filter(|before| of == p && *before > 0) else { continue };
            let done = pot_so_far.board(board).ends.get(usize::from(before) - 1).copied();
            let Some(end) = done.or_else(|| over(StepKind::Lay { pot: p, board, coat: before }, 0)) else { continue };
            if step.from.max(now) > end + missed {
                risks.push(Risk::CoatTooHard { pot: p, board, coat, since: end + missed });
            }
        }
    }
    let by = worked.ends - asked.ends;
    if by > Minutes::ZERO {
        risks.push(Risk::TooLong { by });
    }
    Ok(risks)
}

/// A pot that stands ready.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PotNow {
    /// Place in [`DayAsked::pots`].
    pub pot: usize,
    /// For which coat, from 1; none if it serves all.
    pub coat: Option<u8>,
    /// How often it had to be mixed again.
    pub again: u32,
    /// When it was ready.
    pub ready: Clock,
    /// Whether any coat is still to be laid from it.
    pub wanted: bool,
}

/// The pots that stand ready, in the order of the day. Small pots that are used up are not among them.
///
/// # Errors
/// A step that this day does not have.
pub fn pots_now(asked: &DayAsked, happened: &[Happened]) -> Result<Vec<PotNow>, DayError> {
    let so_far = SoFar::of(asked, happened)?;
    let mut pots = Vec::new();
    for (p, (pot, pot_so_far)) in asked.pots.iter().zip(&so_far.pots).enumerate() {
        for coat in mixings(pot) {
            let mixing = pot_so_far.mixing(coat);
            let wanted = pot.boards.iter().zip(&pot_so_far.boards).any(|(board, so_far)| {
                so_far.spoilt.is_none()
                    && coat.map_or(so_far.laid() < board.coats.len(), |coat| {
                        so_far.laid() < usize::from(coat) && usize::from(coat) <= board.coats.len()
                    })
            });
            if let Some(ready) = mixing.ready.filter(|_| wanted || pot.mixed == Mixed::Once) {
                pots.push(PotNow { pot: p, coat, again: mixing.again, ready, wanted });
            }
        }
    }
    Ok(pots)
}

/// Minutes since a pot was ready; none before.
///
/// ```
/// use making::{Clock, Minutes, pot_age};
/// assert_eq!(pot_age(Clock::new(600), Clock::new(645)), Minutes::new(45));
/// ```
pub fn pot_age(ready: Clock, now: Clock) -> Minutes {
    (now - ready).max(Minutes::ZERO)
}

/// Minutes that a pot may still be used, from its short to its long life; less than none when it is too old.
///
/// ```
/// use making::{Clock, Minutes, Span, time_left};
/// let min = Minutes::new;
/// let life = Span { low: min(30), usual: min(60), high: min(90) };
/// let left = time_left(life, Clock::new(600), Clock::new(640));
/// assert_eq!((left.low, left.usual, left.high), (min(-10), min(20), min(50)));
/// ```
pub fn time_left(life: Span, ready: Clock, now: Clock) -> Span {
    let age = pot_age(ready, now);
    Span { low: life.low - age, usual: life.usual - age, high: life.high - age }
}
