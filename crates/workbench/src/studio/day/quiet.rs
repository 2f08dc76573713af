//! What goes on when no day is under way: what dries, what spoils, which looks are due, which days can begin.

use std::collections::BTreeSet;
use std::sync::Arc;

use notebook::{Board, Kept, Moment, Notebook};
use show::{QuietLine, QuietNow};
use support::GroundKind;

use super::super::trial::{coats_wanted, next_coat};
use super::begin::under_way;
use super::drying::newest_coat;
use super::habits::life;
use super::happened::standing;
use super::words::spoken;
use super::{clock, midnight};
use crate::Workbench;

/// Jars are named so many days before their date (model choice).
const SOON: i64 = 7;
/// A look that was due so many days ago is still named (model choice).
const LATE: i64 = 3;
/// And the next one, if it is due within so many days (model choice).
const AHEAD: i64 = 14;

impl Workbench {
    /// What goes on. `trouble` says why a day that is under way can't be shown.
    pub(super) fn quiet(&self, state: &Notebook, at: Moment, trouble: Option<String>) -> QuietNow {
        let stuck = trouble.as_ref().and_then(|_| under_way(state)).map(|sitting| sitting.subject.clone());
        let looks = self.looks_due(state, at);
        let days = days_to_begin(state);
        let drying = self.drying(state, at);
        let (jars, waiting) = self.jars_now(state, at);
        let spoiling: Vec<QuietLine> = jars.into_iter().chain(self.spoiling(state, at)).collect();
        let (next, next_at) = match (trouble, looks.iter().find(|(due, _)| *due), days.first()) {
            (Some(why), ..) => (why, "/notebook".to_owned()),
            (None, Some((_, look)), _) => (look.say.clone(), look.at.clone()),
            (None, None, Some(day)) => (day.say.clone(), day.at.clone()),
            (None, None, None) if !waiting.is_empty() => {
                waiting.first().map_or_else(Default::default, |jar| (jar.say.clone(), jar.at.clone()))
            }
            (None, None, None) if !drying.is_empty() => ("Let the boards dry. Nothing else is due.".into(), "/trials".into()),
            _ => ("Nothing is due. Ask boards a question, or close a plan.".into(), "/trials".into()),
        };
        QuietNow { next, next_at, drying, spoiling, waiting, looks: looks.into_iter().map(|(_, line)| line).collect(), days, stuck }
    }

    /// Boards that may not be dry yet, by trial.
    fn drying(&self, state: &Notebook, at: Moment) -> Vec<QuietLine> {
        let mut lines = Vec::new();
        let longest = self.longest_wait();
        for kept in state.trials.values() {
            // Days that were laid long ago are not looked through each time.
            let fresh = |board: &&Arc<Kept<Board>>| {
                state.loss_of(&board.subject).is_none()
                    && newest_coat(state, &board.subject).is_some_and(|coat| at.seconds - coat.record.laid.seconds < longest)
            };
            let boards: Vec<&Arc<Kept<Board>>> = state.boards_of(&kept.subject).into_iter().filter(fresh).collect();
            let mut wet: Vec<(&str, String)> = Vec::new();
            let days: BTreeSet<u32> = boards.iter().map(|board| board.record.planned.day).collect();
            for day in days {
                let Ok(pots) = self.pots_of_day(state, &kept.subject, &kept.record, day) else { continue };
                for board in boards.iter().filter(|board| board.record.planned.day == day) {
                    let planned = &board.record.planned;
                    let pot = pots.iter().find(|pot| pot.letter == planned.batch);
                    let laid = newest_coat(state, &board.subject).map(|coat| coat.record.laid);
                    if let Some(words) = pot.zip(laid).and_then(|(pot, laid)| self.drying_until(&kept.record, pot, laid, at)) {
                        wet.push((&planned.number, words));
                    }
                }
            }
            if let Some((_, words)) = wet.first() {
                let numbers: Vec<&str> = wet.iter().map(|(number, _)| spoken(number)).collect();
                let board = if numbers.len() == 1 { "Board" } else { "Boards" };
                lines
                    .push(QuietLine { say: format!("{board} {}: {words}", crate::and(&numbers)), at: format!("/trials/{}", kept.subject) });
            }
        }
        lines
    }

    /// Pots that were mixed and are still young enough to be thought of, and jars near their date.
    fn spoiling(&self, state: &Notebook, at: Moment) -> Vec<QuietLine> {
        let mut lines: Vec<QuietLine> = Vec::new();
        let today = at.local().0.number();
        for batch in state.batches.values() {
            let Some(ready) = batch.record.ready else { continue };
            let age = (at.seconds - ready.seconds).div_euclid(60);
            let Some((family, life)) = self.life_of(&batch.record.told) else { continue };
            // A bought tin keeps; a pot of a day that is over was washed up.
            let over = state.sittings.values().any(|sitting| {
                let taps = state.taps_of(&sitting.subject);
                sitting.record.trial == batch.record.trial && standing(taps).iter().any(|tap| tap.record.step == "wash" && tap.at >= ready)
            });
            if over || family == GroundKind::Acrylic {
                continue;
            }
            // Named for a day after it is over: somebody may still find it in the fridge.
            if age < i64::from(life.high.count()) + 24 * 60 {
                let zero = midnight(at);
                let over = clock(zero, ready) + life.low;
                let late = clock(zero, ready) + life.high;
                let say = if age > i64::from(life.high.count()) {
                    format!("Pot {}: too old; let it settle, dry and bin it by local rules", batch.record.letter)
                } else {
                    format!("Pot {}: good until {}", batch.record.letter, super::words::clock_span(over, late))
                };
                lines.push(QuietLine { say, at: format!("/trials/{}", batch.record.trial) });
            }
        }
        for jar in state.jars.values() {
            let Some(best) = jar.record.best_before else { continue };
            let days = best.number() - today;
            if days <= SOON {
                let say = match days {
                    days if days < 0 => format!("{}: past its date ({best})", jar.record.name),
                    0 => format!("{}: best before today", jar.record.name),
                    1 => format!("{}: best before tomorrow", jar.record.name),
                    days => format!("{}: best before {best}, in {days} days", jar.record.name),
                };
                lines.push(QuietLine { say, at: format!("/shelf/{}", jar.subject) });
            }
        }
        lines
    }

    /// How long a pot of this recipe may be used, if its kind is known.
    pub(crate) fn life_of(&self, told: &str) -> Option<(GroundKind, making::Span)> {
        let reading = materials::read(self.jars, &self.units, told, &materials::Wishes::new());
        let mix = ground::Mix::of(self.jars, &self.units, &reading);
        self.kind_of(&reading, &mix).map(|(family, _)| (family, life(family)))
    }

    /// Looks that are due, and the next one of each trial.
    fn looks_due(&self, state: &Notebook, at: Moment) -> Vec<(bool, QuietLine)> {
        let today = at.local().0.number();
        let mut lines = Vec::new();
        for kept in state.trials.values() {
            let boards = state.boards_of(&kept.subject);
            if boards.is_empty() || boards.iter().all(|board| state.loss_of(&board.subject).is_some()) {
                continue;
            }
            // While coats are still to come, the day of the last coat is not known.
            let laid = boards.iter().filter(|board| state.loss_of(&board.subject).is_none());
            let unfinished =
                laid.clone().any(|board| next_coat(state, &board.subject) <= coats_wanted(&kept.record, &board.record.planned));
            if unfinished {
                continue;
            }
            let read: BTreeSet<i64> = boards
                .iter()
                .flat_map(|board| state.readings_of(&board.subject))
                .map(|reading| reading.record.read.local().0.number())
                .collect();
            for (day, after) in self.looks(state, &kept.subject) {
                let off = day.number() - today;
                if off > AHEAD {
                    break;
                }
                // Looked at on the day or after it: that look is done.
                if off < -LATE || read.range(day.number()..).next().is_some() {
                    continue;
                }
                let when = match off {
                    0 => "is due today".to_owned(),
                    off if off < 0 => format!("was due on {day}"),
                    _ => format!("is due on {day}"),
                };
                lines.push((
                    off <= 0,
                    QuietLine {
                        say: format!("The look {after} {when}: {}", kept.record.question),
                        at: format!("/trials/{}/read", kept.subject),
                    },
                ));
            }
        }
        lines.sort_by_key(|(due, _)| !due);
        lines
    }
}

/// Days of closed plans that have a coat to be laid, the first day of each trial.
fn days_to_begin(state: &Notebook) -> Vec<QuietLine> {
    let mut lines: Vec<(u64, QuietLine)> = Vec::new();
    for kept in state.trials.values().filter(|kept| state.plan_of(&kept.subject).is_some()) {
        let open = state
            .boards_of(&kept.subject)
            .into_iter()
            .filter(|board| state.loss_of(&board.subject).is_none())
            .filter(|board| next_coat(state, &board.subject) <= coats_wanted(&kept.record, &board.record.planned))
            .map(|board| board.record.planned.day)
            .min();
        if let Some(day) = open {
            let line = QuietLine {
                say: format!("Day {day} can begin: {}", kept.record.question),
                at: format!("/trials/{}/day/{day}", kept.subject),
            };
            lines.push((kept.n, line));
        }
    }
    lines.sort_by_key(|(n, _)| std::cmp::Reverse(*n));
    lines.into_iter().map(|(_, line)| line).collect()
}
