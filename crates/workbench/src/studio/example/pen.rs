//! The hand that writes the example: clock times in the weeks before `now`, and the steps that every round repeats.

use std::collections::BTreeMap;

use notebook::{Day, Moment, Notebook, Stamp};

use super::super::trial::coats_wanted;
use super::super::{Studio, StudioError, TypedCoat, TypedPot, TypedReading, TypedTrial};
use crate::Workbench;

/// Seconds of a minute and of a day.
const MINUTE: i64 = 60;
const DAY: i64 = 86_400;

/// Days ago, hour and minute by the clock on the wall.
pub(super) type When = (i64, i64, i64);

/// Wet grams of a coat on a whole panel, tenths: near 200 g/m2 on 20 x 25 cm. Invented, as is how hands differ.
const COAT: i64 = 98;
const HAND: [i64; 9] = [0, 6, -5, 9, -8, 3, -2, 7, -4];
/// Tenths of the wet coat that stay until the next one.
const STAYS: i64 = 6;
/// A panel of birch plywood of 4 mm, tenths of a gram, and how panels differ.
const PANEL: i64 = 1_262;
const PANELS: [i64; 7] = [0, 31, -18, 12, 44, -27, 23];

/// One sitting: its day of the plan, when it was, the air at the first and at the last coat, and minutes between coats.
pub(super) struct Sitting {
    pub(super) day: u32,
    pub(super) days_ago: i64,
    pub(super) air: [(&'static str, &'static str); 2],
    pub(super) wait: i64,
}

/// A reading by scale, value, who read it, and a remark.
pub(super) struct Seen<'a> {
    pub(super) measure: &'a str,
    pub(super) value: &'a str,
    pub(super) rater: &'a str,
    pub(super) note: &'a str,
}

pub(super) struct Pen<'a> {
    pub(super) bench: &'a Workbench,
    pub(super) studio: &'a Studio,
    midnight: i64,
    offset_minutes: i32,
    count: u128,
}

impl<'a> Pen<'a> {
    pub(super) fn new(bench: &'a Workbench, studio: &'a Studio, now: Moment) -> Self {
        // From local midnight, so that nobody in the example works at four in the morning.
        let local = now.seconds + i64::from(now.offset_minutes) * MINUTE;
        Self { bench, studio, midnight: now.seconds - local.rem_euclid(DAY), offset_minutes: now.offset_minutes, count: 0 }
    }

    /// A stamp of its own for each request.
    pub(super) fn at(&mut self, (days_ago, hour, minute): When) -> Stamp {
        self.count += 1;
        let seconds = self.midnight - days_ago * DAY + (hour * 60 + minute) * MINUTE;
        Stamp { at: Moment { seconds, offset_minutes: self.offset_minutes }, device: "desk".into(), chance: self.count }
    }

    /// A day of the calendar, counted from today; before today below zero.
    pub(super) fn calendar(&self, days: i64) -> String {
        let (today, _) = Moment { seconds: self.midnight, offset_minutes: self.offset_minutes }.local();
        Day::from_number(today.number() + days).to_string()
    }

    pub(super) fn state(&self) -> std::sync::Arc<Notebook> {
        self.studio.state()
    }

    /// Asks, tells the recipes and, if it is wanted, fixes the plan. Returns the trial.
    pub(super) fn ask(
        &mut self,
        form: &TypedTrial,
        recipes: &[(&str, &str)],
        asked: When,
        fixed: Option<When>,
    ) -> Result<String, StudioError> {
        let stamp = self.at(asked);
        let trial = self.bench.ask_trial(self.studio, form, &stamp)?;
        if !recipes.is_empty() {
            let told: BTreeMap<String, String> = recipes.iter().map(|(name, text)| ((*name).to_owned(), (*text).to_owned())).collect();
            let from = self.state().n();
            let (days, hour, minute) = asked;
            let stamp = self.at((days, hour, minute + 12));
            self.bench.tell_recipes(self.studio, (&trial, from), &told, &stamp)?;
        }
        if let Some(when) = fixed {
            let stamp = self.at(when);
            self.bench.fix_plan(self.studio, &trial, &stamp)?;
        }
        Ok(trial)
    }

    /// Boards of a sitting in the order of laying: id, recipe, pot.
    pub(super) fn boards(&self, trial: &str, day: u32) -> Vec<(String, String, String)> {
        let state = self.state();
        let of_day = state.boards_of(trial).into_iter().filter(|board| board.record.planned.day == day);
        of_day.map(|board| (board.subject.clone(), board.record.planned.recipe.clone(), board.record.planned.batch.clone())).collect()
    }

    /// Mixes the pots of a sitting: what `weighed` says for a recipe, with a remark.
    pub(super) fn mix(
        &mut self,
        trial: &str,
        sitting: &Sitting,
        weighed: impl Fn(&str) -> Option<(&'static str, &'static str)>,
    ) -> Result<(), StudioError> {
        let mut done: Vec<String> = Vec::new();
        for (_, recipe, pot) in self.boards(trial, sitting.day) {
            let Some((told, note)) = weighed(&recipe).filter(|_| !done.contains(&pot)) else { continue };
            let minutes = i64::try_from(done.len()).unwrap_or(0) * 6;
            let stamp = self.at((sitting.days_ago, 8, 20 + minutes));
            self.bench.mix_pot(self.studio, (trial, &pot), told, note, 0, &stamp)?;
            done.push(pot);
        }
        Ok(())
    }

    /// Weighs the pots of a sitting at this hour: what `held` says was in the pot of a recipe, less what was laid, in tenths of a gram.
    pub(super) fn weigh_pots(
        &mut self,
        trial: &str,
        sitting: &Sitting,
        (hour, minute): (i64, i64),
        held: impl Fn(&str) -> i64,
    ) -> Result<(), StudioError> {
        let mut done: Vec<String> = Vec::new();
        for (_, recipe, pot) in self.boards(trial, sitting.day) {
            if done.contains(&pot) {
                continue;
            }
            let state = self.state();
            let on_it = self.boards(trial, sitting.day).into_iter().filter(|(_, _, other)| *other == pot);
            let coats = on_it.flat_map(|(board, _, _)| state.coats_of(&board).into_iter().cloned().collect::<Vec<_>>());
            let laid: f64 = coats.filter_map(|coat| Some(coat.record.after_g? - coat.record.before_g?)).sum();
            #[expect(clippy::cast_possible_truncation, reason = "some hundred grams")]
            let grams = held(&recipe) - (laid * 10.0).round() as i64;
            let minutes = i64::try_from(done.len()).unwrap_or(0);
            let stamp = self.at((sitting.days_ago, hour, minute + minutes));
            let typed = TypedPot { grams: tenths(grams), ..TypedPot::default() };
            self.bench.weigh_pot(self.studio, (trial, &pot), &typed, &stamp)?;
            done.push(pot);
        }
        Ok(())
    }

    /// Lays all coats of a sitting: every board its first, then every board its second.
    pub(super) fn lay(&mut self, trial: &str, sitting: &Sitting) -> Result<(), StudioError> {
        let state = self.state();
        let Some(kept) = state.trials.get(trial) else { return Err(StudioError::Missing("trial")) };
        let boards: Vec<_> = state.boards_of(trial).into_iter().filter(|board| board.record.planned.day == sitting.day).collect();
        let most = boards.iter().map(|board| coats_wanted(&kept.record, &board.record.planned)).max().unwrap_or(0);
        let pick = |list: &[i64], at: i64| list.get(usize::try_from(at).unwrap_or(0) % list.len()).copied().unwrap_or(0);
        let mut before: Vec<i64> = boards.iter().map(|board| PANEL + pick(&PANELS, i64::from(board.record.planned.order) * 3)).collect();
        for coat in 1..=most {
            for (index, (board, before)) in boards.iter().zip(&mut before).enumerate() {
                let planned = &board.record.planned;
                if coat > coats_wanted(&kept.record, planned) {
                    continue;
                }
                let hand = pick(&HAND, i64::from(planned.order) * 4 + i64::from(coat) * 5);
                let wet = if planned.strips.is_empty() {
                    COAT + hand
                } else {
                    let strips = planned.strips.iter().filter(|strip| u32::from(**strip) >= coat).count();
                    (COAT + hand) * i64::try_from(strips).unwrap_or(1) / i64::try_from(planned.strips.len()).unwrap_or(1)
                };
                let [first, last] = sitting.air;
                let (celsius, damp) = if coat == 1 { first } else { last };
                let turn = i64::try_from(index).unwrap_or(0);
                let stamp = self.at((sitting.days_ago, 9, 10 + i64::from(coat - 1) * sitting.wait + turn * 4));
                let typed = TypedCoat {
                    board: board.subject.clone(),
                    before: tenths(*before),
                    after: tenths(*before + wet),
                    direction: if coat % 2 == 1 { "along the grain" } else { "across the grain" }.into(),
                    celsius: celsius.into(),
                    damp: damp.into(),
                    ..TypedCoat::default()
                };
                self.bench.lay_coat(self.studio, &typed, &stamp)?;
                *before += wet * STAYS / 10;
            }
        }
        Ok(())
    }

    /// Reads a board without knowing its recipe. Returns the entry.
    pub(super) fn read(&mut self, board: &str, seen: &Seen<'_>, when: When) -> Result<u64, StudioError> {
        let stamp = self.at(when);
        let typed = TypedReading {
            board: board.into(),
            measure: seen.measure.into(),
            value: seen.value.into(),
            rater: seen.rater.into(),
            blind: true,
            note: seen.note.into(),
            ..TypedReading::default()
        };
        self.bench.read_board(self.studio, &typed, &stamp)?;
        Ok(self.state().n())
    }
}

fn tenths(value: i64) -> String {
    format!("{}.{}", value / 10, value % 10)
}

/// Fields of a form by name.
pub(super) fn fields(list: &[(&str, &str)]) -> BTreeMap<String, String> {
    list.iter().map(|(name, value)| ((*name).to_owned(), (*value).to_owned())).collect()
}
