//! How boards dry: the estimate, what weighed boards say of it, and when they are dry enough to be tested and painted on.

use making::{Clock, Minutes, Span};
use measure::{Grams, Hours, SquareMetres};
use notebook::{Air, Board, Kept, Moment, Notebook, Trial};
use show::{DryingView, number};
use support::{CantTell, GroundKind, HowLong, Pace, PaceVerdict, Steady, SteadyRule, WaitFor, Weighing, fit_drying, pace, steady};

use super::super::StudioError;

use super::asked::PotInfo;
use super::waits::minutes;
use super::words::{clock_span, grams, lasting};
use super::{clock, midnight};
use crate::Workbench;

/// Seconds of an hour.
const HOUR: f64 = 3600.0;
/// Square millimetres of a square metre.
const SQUARE_METRE: f64 = 1e6;

/// How a board dries beside what was thought.
pub(super) struct BoardPace {
    /// When its newest coat was laid.
    laid: Moment,
    /// What its weighings say; none while it was not weighed.
    pace: Option<Pace>,
    /// When the next coat may follow, since the coat was laid.
    opens: support::Span<Hours>,
}

impl BoardPace {
    /// When the next coat may follow, by the clock of the day.
    pub(super) fn opens(&self, zero: Moment, now: Moment) -> [Clock; 3] {
        let since = Hours::new((now.seconds - self.laid.seconds) as f64 / HOUR);
        // Weighings tell what is left from now on; without them all counts from the coat.
        let (from, span) = match &self.pace {
            Some(pace) => (clock(zero, now), pace.narrow(&self.opens, since)),
            None => (clock(zero, self.laid), self.opens),
        };
        let Span { low, usual, high } = minutes(&span);
        [from + low, from + usual, from + high]
    }

    /// "board 3 is slower than thought"; empty where the weighings don't say so.
    pub(super) fn words(&self) -> &'static str {
        match self.pace.as_ref().map(|pace| pace.verdict) {
            Some(PaceVerdict::Slower) => "slower than thought",
            Some(PaceVerdict::Faster) => "faster than thought",
            _ => "",
        }
    }
}

impl Workbench {
    /// How the newest coat of a board dries; none before the first coat, or where nothing can be said.
    pub(super) fn board_pace(
        &self,
        state: &Notebook,
        trial: &Trial,
        pot: &PotInfo,
        board: &Kept<Board>,
        air: Option<&Air>,
    ) -> Option<BoardPace> {
        let laid = state.coats_of(&board.subject).iter().map(|coat| coat.record.laid).max()?;
        let spans = self.coat_dries(trial, pot, air).ok()?;
        let opens = spans.next_coat.as_ref()?.opens;
        let seen = seen_since(state, &board.subject, laid);
        let told = area(trial).filter(|_| seen.len() > 1).and_then(|area| pace(&spans.course, &seen, area, step(&seen)).ok());
        Some(BoardPace { laid, pace: told, opens })
    }

    /// What the scale and the books say of a board's drying.
    ///
    /// # Errors
    /// No such board.
    pub fn board_drying(&self, state: &Notebook, subject: &str, at: Moment) -> Result<DryingView, StudioError> {
        let board = state.boards.get(subject).ok_or(StudioError::Missing("board"))?;
        let Some(laid) = state.coats_of(subject).iter().map(|coat| coat.record.laid).max() else { return Ok(DryingView::default()) };
        let seen = seen_since(state, subject, laid);
        let area = state.trials.get(&board.record.trial).and_then(|trial| area(&trial.record));
        Ok(DryingView {
            ready: self.ready_words(state, board, laid, at),
            masses: state
                .masses_of(subject)
                .iter()
                .filter(|mass| mass.record.at >= laid)
                .map(|mass| (mass.n, mass.record.at.to_string(), grams(mass.record.grams)))
                .collect(),
            says: area.map_or_else(Vec::new, |area| weight_words(&seen, area)),
        })
    }

    fn ready_words(&self, state: &Notebook, board: &Kept<Board>, laid: Moment, at: Moment) -> Vec<String> {
        let record = &board.record;
        let Some(trial) = state.trials.get(&record.trial) else { return Vec::new() };
        let Ok(pots) = self.pots_of_day(state, &record.trial, &trial.record, record.planned.day) else { return Vec::new() };
        let Some(pot) = pots.iter().find(|pot| pot.letter == record.planned.batch) else { return Vec::new() };
        [(WaitFor::Sand, "To be sanded"), (WaitFor::Test, "Dry enough to be tested"), (WaitFor::Paint, "To be painted on")]
            .into_iter()
            .map(|(event, what)| match self.wait_of(&trial.record, pot, event) {
                Ok(span) => format!("{what}: {}.", when(laid, &span, at)),
                Err(why) => format!("{what}: not known; {why}."),
            })
            .collect()
    }

    /// When a board is dry enough to be tested, if that may still be to come.
    pub(super) fn drying_until(&self, state: &Notebook, board: &Kept<Board>, at: Moment) -> Option<String> {
        let record = &board.record;
        let trial = state.trials.get(&record.trial)?;
        let laid = state.coats_of(&board.subject).iter().map(|coat| coat.record.laid).max()?;
        let pots = self.pots_of_day(state, &record.trial, &trial.record, record.planned.day).ok()?;
        let pot = pots.iter().find(|pot| pot.letter == record.planned.batch)?;
        let span = self.wait_of(&trial.record, pot, WaitFor::Test).ok()?;
        let since = (at.seconds - laid.seconds) as f64 / HOUR;
        (since < span.high.value()).then(|| format!("drying; dry enough to be tested {}", when(laid, &span, at)))
    }

    /// How long something is waited for since the last coat, or why that is not known.
    fn wait_of(&self, trial: &Trial, pot: &PotInfo, event: WaitFor) -> Result<support::Span<Hours>, String> {
        let wait = self.waits.wait(pot.family, event);
        let reckoned = || self.coat_dries(trial, pot, None).map_err(|why| why.to_string());
        match wait.how_long {
            HowLong::Span(span) if event == WaitFor::Test && pot.family != GroundKind::Oil => Ok(span.and(&reckoned()?.test)),
            HowLong::Span(span) => Ok(span),
            HowLong::Reckoned if event == WaitFor::Sand => Ok(reckoned()?.sand),
            HowLong::Reckoned => Ok(reckoned()?.test),
            HowLong::Unknown => Err(wait.rule.clone()),
        }
    }
}

/// Face of a board of this trial, if its size is told.
fn area(trial: &Trial) -> Option<SquareMetres> {
    trial.width_mm.zip(trial.height_mm).map(|(width, height)| SquareMetres::new(width * height / SQUARE_METRE))
}

/// Weighings of a board since its newest coat.
fn seen_since(state: &Notebook, board: &str, laid: Moment) -> Vec<Weighing> {
    state
        .masses_of(board)
        .iter()
        .filter(|mass| mass.record.at >= laid)
        .map(|mass| Weighing { at: Hours::new((mass.record.at.seconds - laid.seconds) as f64 / HOUR), mass: Grams::new(mass.record.grams) })
        .collect()
}

/// What the weighings say: whether the weight is steady, and how much water is still to go.
fn weight_words(seen: &[Weighing], area: SquareMetres) -> Vec<String> {
    if seen.is_empty() {
        return Vec::new();
    }
    let step = step(seen);
    let mut out = Vec::new();
    if let Ok(rule) = SteadyRule::to_test() {
        out.push(match steady(seen, rule, area, step) {
            Steady::Dry => "Its weight is steady over a day: dry, as far as weight can tell.".to_owned(),
            Steady::NotYet { lost, limit, .. } => {
                format!("Not dry yet: it lost {} between two weighings, and {} would be little enough.", fine(lost), fine(limit))
            }
            Steady::CantTell { why } => format!("Whether it is dry can't be told yet: {}.", cant_tell(why)),
        });
    }
    out.push(match fit_drying(seen, step) {
        Ok(fit) => format!(
            "By its weighings it has about {} of water still to lose, and will weigh {} to {}.",
            fine(fit.left),
            fine(fit.end.low),
            fine(fit.end.high)
        ),
        Err(why) => format!("How much water it still holds can't be told yet: {}.", cant_tell(why)),
    });
    out
}

fn fine(mass: Grams) -> String {
    format!("{}\u{a0}g", number(mass.value(), 1))
}

fn cant_tell(why: CantTell) -> String {
    match why {
        CantTell::TooFew { have, need } => format!("{have} weighings are there, {need} at different times are needed"),
        CantTell::NoNumber => "one weighing is no number".into(),
        CantTell::ScaleTooCoarse { wait: Some(wait) } => {
            format!("the scale shows too little; weigh it again after {}", lasting(Minutes::of_hours(wait.value())))
        }
        CantTell::ScaleTooCoarse { wait: None } => "it has lost less than the scale can show".into(),
        CantTell::StillStraight => "it still loses water evenly, and no end is to be seen; weigh it again later".into(),
        CantTell::Gained => "it grew heavier: it takes damp from the air, or another board was on the scale".into(),
        CantTell::TooSoon { need } => {
            format!("the weighings lie too close together; leave {} between them", lasting(Minutes::of_hours(need.value())))
        }
    }
}

/// The step of the scale, by how the weights were written: whole grams, or tenths.
fn step(seen: &[Weighing]) -> Grams {
    let tenths = seen.iter().any(|one| (one.mass.value() - one.mass.value().round()).abs() > 1e-9);
    Grams::new(if tenths { 0.1 } else { 1.0 })
}

/// "since 14:00", "about 14:00 to 18:00", "from 2026-11-29, at the latest from 2026-12-02".
fn when(laid: Moment, span: &support::Span<Hours>, at: Moment) -> String {
    #[expect(clippy::cast_possible_truncation, reason = "hours of a wait are few")]
    let on = |hours: Hours| Moment { seconds: laid.seconds + (hours.value() * HOUR).min(1e11) as i64, ..laid };
    let (low, high) = (on(span.low), on(span.high));
    if high <= at {
        return "by now".into();
    }
    let zero = midnight(at);
    let day = |moment: Moment| moment.local().0;
    if day(low) == day(at) && day(high) == day(at) {
        return format!("about {}", clock_span(clock(zero, low), clock(zero, high)));
    }
    let from = if low <= at { "perhaps by now".to_owned() } else { format!("perhaps from {}", day(low)) };
    format!("{from}, surely from {}", day(high))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn hours(low: f64, usual: f64, high: f64) -> support::Span<Hours> {
        support::Span { low: Hours::new(low), usual: Hours::new(usual), high: Hours::new(high) }
    }

    #[test]
    fn times_are_said_as_far_as_they_are_known() {
        // 2026-11-25 is day 20782 (a known day of notebook's calendar); 9:00 UTC.
        let laid = Moment { seconds: 20_782 * 86_400 + 9 * 3_600, offset_minutes: 0 };
        let at = |hours: i64| Moment { seconds: laid.seconds + hours * 3_600, ..laid };
        assert_eq!(when(laid, &hours(2.0, 3.0, 4.5), at(1)), "about 11:00 to 13:30");
        assert_eq!(when(laid, &hours(2.0, 3.0, 4.5), at(5)), "by now");
        assert_eq!(when(laid, &hours(20.0, 30.0, 90.0), at(1)), "perhaps from 2026-11-26, surely from 2026-11-29");
        assert_eq!(when(laid, &hours(20.0, 30.0, 90.0), at(40)), "perhaps by now, surely from 2026-11-29");
    }

    #[test]
    fn the_scale_is_read_off_its_numbers() {
        let seen = |mass: f64| Weighing { at: Hours::new(0.0), mass: Grams::new(mass) };
        assert!((step(&[seen(131.0), seen(130.0)]).value() - 1.0).abs() < 1e-12);
        assert!((step(&[seen(131.0), seen(130.5)]).value() - 0.1).abs() < 1e-12);
    }
}
