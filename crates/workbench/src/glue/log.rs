//! The day of a warm pot as told: one line a weighing, a coat or water put in.

use binder::{PotCoat, PotEvent, PotState, coats_laid, warm_pot};
use measure::{Dimension, Figure, Grams, Unit};
use show::{FigureReport, GlueCoatReport, GlueCoatRow, GluePotReport, GluePotRow};

use super::{GlueForm, Told, grams_words, hundredths};
use crate::Workbench;
use crate::milk::MilkFormError;

/// Lines beyond which a log is a slip of the hand.
const MOST_LINES: usize = 200;

/// The day, worked out.
#[derive(Default)]
pub(super) struct PotDay {
    pub(super) rows: Vec<GluePotRow>,
    pub(super) reports: Vec<GluePotReport>,
    pub(super) coat_rows: Vec<GlueCoatRow>,
    pub(super) coats: Vec<GlueCoatReport>,
    /// Strength of the last coat.
    pub(super) last_coat: Option<Figure>,
    /// Hours between the first and the last hour of the clock that is told; 0 if fewer than two are.
    pub(super) hours: f64,
    /// What the last weighing asks for.
    pub(super) last: Option<(Figure, Figure)>,
}

struct Entry<'a> {
    said: &'a str,
    event: PotEvent,
}

impl Workbench {
    pub(super) fn pot_day(&self, form: &GlueForm, told: &Told<'_>) -> Result<PotDay, MilkFormError> {
        let wrong = |what: String| MilkFormError::Field { field: "log", what };
        let lines: Vec<&str> = form.log.split(['\n', ';']).map(str::trim).filter(|line| !line.is_empty()).collect();
        if lines.is_empty() {
            return Ok(PotDay::default());
        }
        if lines.len() > MOST_LINES {
            return Err(wrong("a day has up to 200 lines here".into()));
        }
        let empty = form.empty_pot_g.unwrap_or(0.0);
        if !(0.0..=50_000.0).contains(&empty) {
            return Err(MilkFormError::Field { field: "pot", what: "the empty pot weighs from 0 to 50 kg".into() });
        }
        let (glue, water) = (&told.request.glue, told.request.water.best);
        if glue.best <= 0.0 || water <= 0.0 {
            return Err(wrong("to follow the pot, say how much glue and how much water went into it".into()));
        }
        let (mut entries, mut clock): (Vec<Entry<'_>>, Vec<f64>) = (Vec::new(), Vec::new());
        for said in lines {
            let (hour, rest) = hour_told(said);
            clock.extend(hour);
            let event = self.event_told(rest, empty).ok_or_else(|| {
                wrong(format!("“{said}” is not understood; write a weight such as “10:30 1020 g”, “took 120 g” or “added 50 g water”"))
            })?;
            entries.push(Entry { said, event });
        }
        let events: Vec<PotEvent> = entries.iter().map(|entry| entry.event).collect();
        let begin = |glue: f64| warm_pot(Grams::new(glue), Grams::new(water), &events);
        let best = begin(glue.best).map_err(|why| {
            let said = why.event().and_then(|event| entries.get(event)).map_or("", |entry| entry.said);
            wrong(format!("“{said}”: {why}"))
        })?;
        // Leaves and spoons: the same day with least and most glue. Where one of them can't be, the weighings speak against it.
        let (low, high) = match glue.spread {
            measure::Spread::Even(low, high) => (low, high),
            _ => (glue.best, glue.best),
        };
        let mut day = PotDay { hours: hours_of(&clock), ..PotDay::default() };
        let laid = |glue: f64| coats_laid(Grams::new(glue), Grams::new(water), &events).ok();
        let ways: Vec<Vec<PotCoat>> = [glue.best, low, high].into_iter().filter_map(laid).collect();
        day.lay(&entries, &ways);
        let ends: Vec<(f64, Vec<PotState>)> = [low, high].into_iter().filter_map(|end| Some((end, begin(end).ok()?))).collect();
        for (index, state) in best.iter().enumerate() {
            let all = ends.iter().filter_map(|(end, states)| Some((*end, *states.get(index)?)));
            let all: Vec<(f64, PotState)> = all.chain(std::iter::once((glue.best, *state))).collect();
            let span = |key: &'static str, value: f64, unit: Unit, ends: &dyn Fn(f64, &PotState) -> (f64, f64)| {
                let (low, high) =
                    all.iter().map(|(glue, state)| ends(*glue, state)).fold((value, value), |a, b| (a.0.min(b.0), a.1.max(b.1)));
                Figure { key, value, low, high, unit }
            };
            let percent = |glue: f64| 100.0 * glue / (glue + water);
            let share = span("pot_share", state.percent().0 / 100.0, Unit::One, &|_, state| {
                let (_, least, most) = state.percent();
                (least / 100.0, most / 100.0)
            });
            let add = span("pot_add_water", state.water_to(percent(glue.best)).0.value(), Unit::Grams, &|glue, state| {
                let (_, least, most) = state.water_to(percent(glue));
                (least.value(), most.value())
            });
            let exact = |value: Grams| Figure::exact("pot", value.value(), Unit::Grams);
            let said = entries.get(state.event).map_or("", |entry| entry.said).to_owned();
            let thin = add.value < -0.5;
            day.rows.push(GluePotRow {
                said: said.clone(),
                lost: grams_words(&exact(state.lost)),
                strength: hundredths(&share),
                add: if thin { "no water; it is thinner than at the start".into() } else { grams_words(&at_least_nothing(add)) },
            });
            day.reports.push(GluePotReport {
                said,
                pot_g: FigureReport::from(&exact(state.mass)),
                lost_g: FigureReport::from(&exact(state.lost)),
                share: FigureReport::from(&share),
                add_water_g: FigureReport::from(&add),
            });
            day.last = Some((share, add));
        }
        Ok(day)
    }

    fn event_told(&self, text: &str, empty: f64) -> Option<PotEvent> {
        let lower = text.to_lowercase();
        let grams = Grams::new(self.weight_in(&lower)?);
        let says = |words: &[&str]| words.iter().any(|word| lower.contains(word));
        Some(if says(&["took", "take", "taken", "coat", "used", "out"]) {
            PotEvent::Took(grams)
        } else if says(&["add", "water", "put in"]) {
            PotEvent::Water(grams)
        } else {
            PotEvent::Weighed(grams - Grams::new(empty))
        })
    }

    /// The first number with a unit of mass or volume behind it, in g; a millilitre counts as a gram. A number without a unit is in g.
    fn weight_in(&self, text: &str) -> Option<f64> {
        let at = text.find(|c: char| c.is_ascii_digit())?;
        let (before, rest) = text.split_at(at);
        if before.trim_end().ends_with(['-', '\u{2212}']) {
            return None;
        }
        let end = rest.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == ',')).unwrap_or(rest.len());
        let (number, behind) = rest.split_at(end);
        let value: f64 = number.replace(',', ".").parse().ok()?;
        let word = behind.split_whitespace().next().unwrap_or("").trim_end_matches(['.', ',']);
        let by_word = self.units.by_word(word).first().map(|(unit, _)| self.units.get(*unit));
        let unit = by_word.filter(|unit| matches!(unit.dimension, Dimension::Mass | Dimension::Volume));
        match unit {
            Some(unit) => Some(value * unit.value?),
            None => (word.is_empty() || by_word.is_none() && !behind.contains(|c: char| c.is_ascii_digit())).then_some(value),
        }
    }
}

impl PotDay {
    /// The coats with their strengths, the first of the ways being the best and the others with least and most glue.
    fn lay(&mut self, entries: &[Entry<'_>], ways: &[Vec<PotCoat>]) {
        let mut before: Option<(f64, f64)> = None;
        for (index, coat) in ways.first().into_iter().flatten().enumerate() {
            let all = ways.iter().filter_map(|way| way.get(index)).filter(|other| other.event == coat.event);
            let (low, high) = all.fold((coat.percent.1, coat.percent.2), |(a, b), other| (a.min(other.percent.1), b.max(other.percent.2)));
            let share = Figure { key: "coat_share", value: coat.percent.0 / 100.0, low: low / 100.0, high: high / 100.0, unit: Unit::One };
            // One glue, one doubt about it: coats are held beside each other at the best of it.
            let (least, most) = (coat.percent.1, coat.percent.2);
            let stronger = before.is_some_and(|(_, most_before)| least > most_before + SEEN);
            let weaker = before.is_some_and(|(least_before, _)| most < least_before - SEEN);
            let beside = match (before, coat.bounded) {
                (None, _) => "the first one",
                (Some(_), _) if stronger => "stronger than the one before it",
                (Some(_), false) => "not known: the pot was not weighed after it",
                (Some(_), true) if weaker => "weaker than the one before it",
                (Some(_), true) => "as strong as the one before it, as far as the balance tells",
            };
            let said = entries.get(coat.event).map_or("", |entry| entry.said).to_owned();
            let at_least = if coat.bounded { "" } else { "at least " };
            self.coat_rows.push(GlueCoatRow {
                said: said.clone(),
                strength: format!("{at_least}{}", hundredths(&share)),
                beside: beside.into(),
            });
            self.coats.push(GlueCoatReport {
                said,
                share: FigureReport::from(&share),
                weighed_after: coat.bounded,
                stronger_than_before: stronger,
            });
            self.last_coat = Some(share);
            before = Some((least, most));
        }
    }
}

/// Points of a hundred that two coats must lie apart to be called unlike: what a kitchen balance sees in such a pot (judgement, no source).
const SEEN: f64 = 0.05;

/// The hour at the front of a line, such as `10:30`, and the rest.
fn hour_told(line: &str) -> (Option<f64>, &str) {
    let (front, rest) = line.split_once(char::is_whitespace).unwrap_or((line, ""));
    let hour = front.split_once(':').and_then(|(hours, minutes)| {
        let (hours, minutes) = (hours.parse::<u8>().ok()?, minutes.parse::<u8>().ok()?);
        (hours < 24 && minutes < 60).then_some(f64::from(hours) + f64::from(minutes) / 60.0)
    });
    if hour.is_some() { (hour, rest.trim()) } else { (None, line) }
}

/// Hours from the first to the last; an hour before the one above it is of the next day.
fn hours_of(clock: &[f64]) -> f64 {
    clock.iter().zip(clock.iter().skip(1)).map(|(before, after)| (after - before).rem_euclid(24.0)).sum()
}

/// No water is taken out of a pot.
fn at_least_nothing(figure: Figure) -> Figure {
    Figure { value: figure.value.max(0.0), low: figure.low.max(0.0), high: figure.high.max(0.0), ..figure }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hours_at_the_front() {
        assert_eq!(hour_told("10:30 1020 g"), (Some(10.5), "1020 g"));
        assert_eq!(hour_told("1020 g"), (None, "1020 g"));
        assert_eq!(hour_told("25:00 1 g").0, None);
        assert!((hours_of(&[9.0, 12.0, 1.0]) - 16.0).abs() < 1e-12);
        assert!(hours_of(&[9.0]).abs() < 1e-12);
    }
}
