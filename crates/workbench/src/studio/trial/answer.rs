//! The answer of a trial: its readings as a table, then the same road that any table of readings goes.

use std::collections::BTreeMap;

use notebook::{Board, Kept, Notebook, Trial};
use show::{AnsweredMeasure, ReadingData, TrialAnswerView};
use trials::scales::{Better, Kind, Scale};

use super::super::StudioError;
use super::agree;
use super::boards::{PotFilms, age_days};
use super::{better_since, trial_of};
use crate::Workbench;
use crate::answer::AnswerRequest;

/// The reading that names the first strip that cracked, and the measure that its strips give.
pub(crate) const FIRST_STRIP: &str = "first_cracked_strip";
const BY_STRIP: &str = "cracked";
/// Measure of thicknesses that were weighed.
const THICKNESS: &str = "dry_thickness";
/// Sets of readings below which nothing is compared are refused by the answer itself; without any there is nothing to read.
const NOTHING: &str = "There are no readings yet: look at the boards first.";

/// Which readings a table holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Rows {
    /// What the answer rests on: the newest reading of each person, boards that are lost left out; boards by their number.
    Answer,
    /// Everything ever read, for those who want to work it out themselves; boards by their id.
    All,
}

impl Workbench {
    /// What the boards of a trial say.
    ///
    /// # Errors
    /// No such trial; its plan is not fixed.
    pub fn trial_answer(&self, state: &Notebook, subject: &str) -> Result<TrialAnswerView, StudioError> {
        let kept = trial_of(state, subject)?;
        let trial = &kept.record;
        if state.plan_of(subject).is_none() {
            return Err(StudioError::Typed("close the plan and read the boards first; then there is something to answer".into()));
        }
        let rows = self.reading_rows(state, subject, kept, Rows::Answer);
        let table = table(&rows);
        let mut measures: Vec<String> = Vec::new();
        for row in &rows {
            if !measures.contains(&row.measure) && row.measure != THICKNESS {
                measures.push(row.measure.clone());
            }
        }
        let first = if trial.better.measure == FIRST_STRIP { BY_STRIP } else { trial.better.measure.as_str() };
        measures.sort_by_key(|measure| measure != first);
        let mut view = TrialAnswerView {
            subject: subject.to_owned(),
            question: trial.question.clone(),
            better: format!(
                "{} is better: {}",
                if trial.better.way == "larger" { "more" } else { "less" },
                self.scale_name(state, &trial.better.measure)
            ),
            fixed: match better_since(state, subject) {
                (day, true) => format!("What was to decide was fixed on {day}, before the first reading"),
                (day, false) => {
                    format!("What was to decide was fixed on {day}, only after the first reading, so these readings may have chosen it")
                }
            },
            ages: ages(state, subject, &trial.better.measure),
            lost: lost(state, subject),
            cannot: state.plan_of(subject).map(|plan| plan.record.cannot.clone()).unwrap_or_default(),
            measures: Vec::new(),
            reports: Vec::new(),
            next: NOTHING.into(),
            why: String::new(),
            notes: Vec::new(),
        };
        let mut agreed = Vec::new();
        for (index, measure) in measures.iter().enumerate() {
            let smaller = self.smaller_is_better(state, trial, measure);
            let request = AnswerRequest {
                readings: table.clone(),
                question: trial.question.clone(),
                measure: Some(measure.clone()),
                smaller_is_better: smaller,
                expected: None,
                // A plan of several settings asks what each of them did.
                by_settings: true,
            };
            let found = self.answer(&request).map_err(StudioError::typed)?;
            if index == 0 {
                view.next = found.next;
                view.why = found.why;
                view.notes = found.notes;
                for (sentence, beyond) in agree::eyes(state, subject, measure) {
                    view.notes.push(sentence);
                    agreed.extend(beyond);
                }
            }
            let title = match self.scale(state, measure) {
                Some(scale) if has_own_unit(&scale) => format!("{}, in {}", scale.name, scale.unit),
                Some(scale) => scale.name,
                None => measure.clone(),
            };
            view.measures.extend(found.measures.into_iter().map(|one| AnsweredMeasure { title: title.clone(), ..one }));
            if let Some(one) = view.measures.last_mut() {
                one.numbers.append(&mut agreed);
            }
            view.reports.push(found.report);
        }
        if !measures.is_empty() && measures.first().is_none_or(|measure| measure != first) {
            view.notes.insert(
                0,
                format!(
                    "What was to decide, {}, was not read yet: what follows is other things that were seen.",
                    self.scale_name(state, &trial.better.measure)
                ),
            );
        }
        Ok(view)
    }

    fn smaller_is_better(&self, state: &Notebook, trial: &Trial, measure: &str) -> Option<bool> {
        // A strip that cracks is the worse, whichever way the first cracked strip counts.
        if measure == BY_STRIP {
            return Some(true);
        }
        if measure == trial.better.measure {
            return Some(trial.better.way == "smaller");
        }
        match self.scale(state, measure)?.better {
            Better::Smaller => Some(true),
            Better::Larger => Some(false),
            Better::Neither => None,
        }
    }

    pub(crate) fn scale_name(&self, state: &Notebook, measure: &str) -> String {
        self.scale(state, measure).map_or_else(|| measure.to_owned(), |scale| scale.name)
    }

    /// Readings as rows of the table of readings.
    pub(crate) fn reading_rows(&self, state: &Notebook, subject: &str, kept: &Kept<Trial>, which: Rows) -> Vec<ReadingData> {
        let (mut rows, mut films) = (Vec::new(), PotFilms::new());
        for board in state.boards_of(subject) {
            let lost = state.loss_of(&board.subject);
            if which == Rows::Answer && lost.is_some() {
                continue;
            }
            let stair = which == Rows::Answer && !board.record.planned.strips.is_empty();
            for reading in newest(state, board, which) {
                let scale = self.scale(state, &reading.record.measure);
                let kind = scale.as_ref().map_or(Kind::Class.as_str(), kind_word);
                let mut row = row(state, board, which, &reading.record.measure, kind);
                row.value.clone_from(&reading.record.value);
                row.strip = reading.record.strip.map_or_else(String::new, |strip| strip.to_string());
                row.rater.clone_from(&reading.record.rater);
                if reading.record.blind { "yes" } else { "no" }.clone_into(&mut row.blind);
                let age = age_days(state, &board.subject, reading.record.read);
                row.age_d =
                    age.map(|days| if which == Rows::Answer { look(days) } else { days }).map_or_else(String::new, |days| days.to_string());
                row.note.clone_from(&reading.record.note);
                row.struck = lost.map_or_else(String::new, |why| format!("lost: {why}"));
                if stair && reading.record.measure == FIRST_STRIP {
                    rows.extend(by_strip(&row, &board.record.planned.strips));
                } else {
                    rows.push(row);
                }
            }
            if stair {
                for strip in &board.record.planned.strips {
                    if let Some(dry) = self.dry_best(state, &kept.record, board, Some(*strip), &mut films) {
                        let mut row = row(state, board, which, THICKNESS, Kind::Thickness.as_str());
                        row.value = show::number(dry, 1);
                        row.strip = strip.to_string();
                        rows.push(row);
                    }
                }
            }
        }
        rows
    }
}

/// Days after the last coat on which looks are due.
const LOOKS: [i64; 7] = [0, 1, 7, 30, 91, 182, 365];

/// The look that a reading of this age belongs to, days: two people seldom look on the very same day. Beyond a year, whole years.
fn look(age: i64) -> i64 {
    if age > 500 {
        return (age + 182) / 365 * 365;
    }
    // Nearest as a multiple: 20 days are nearer to a month than to a week.
    let apart = |due: i64| (due.max(0) + 1).max(age + 1) * 1000 / (due + 1).min(age + 1);
    LOOKS.into_iter().min_by_key(|due| apart(*due)).unwrap_or(age)
}

/// The newest reading of each person, scale and strip on each look; or all of them.
fn newest<'a>(state: &'a Notebook, board: &Kept<Board>, which: Rows) -> Vec<&'a Kept<notebook::Reading>> {
    let all = state.readings_of(&board.subject);
    if which == Rows::All {
        return all.into_iter().map(AsRef::as_ref).collect();
    }
    // Read again on the same look, the newest counts; which look all boards share is for the answer to find.
    let mut last: BTreeMap<(&str, &str, Option<u8>, i64), &Kept<notebook::Reading>> = BTreeMap::new();
    for reading in &all {
        let look = look(age_days(state, &board.subject, reading.record.read).unwrap_or(0));
        last.insert((&reading.record.measure, &reading.record.rater, reading.record.strip, look), reading);
    }
    last.into_values().collect()
}

fn row(state: &Notebook, board: &Kept<Board>, which: Rows, measure: &str, kind: &str) -> ReadingData {
    let planned = &board.record.planned;
    ReadingData {
        board: if which == Rows::All || planned.number.is_empty() { board.subject.clone() } else { planned.number.clone() },
        measure: measure.to_owned(),
        value: String::new(),
        kind: kind.to_owned(),
        batch: batch(state, board),
        day: planned.day.to_string(),
        recipe: planned.recipe.clone(),
        job: planned.job.clone(),
        strip: String::new(),
        age_d: String::new(),
        rater: String::new(),
        blind: String::new(),
        struck: String::new(),
        note: String::new(),
        factors: planned.settings.iter().map(|(name, value)| (format!("set:{name}"), value.clone())).collect(),
    }
}

/// Kind of the scale as the table of readings takes it. There a length is in millimetres, a time in days and a stretch a bare ratio;
/// what a scale reads in another unit is a bare number.
fn kind_word(scale: &Scale) -> &'static str {
    if has_own_unit(scale) { "" } else { scale.kind.as_str() }
}

fn has_own_unit(scale: &Scale) -> bool {
    match scale.kind {
        Kind::Length => scale.unit != "mm",
        Kind::Time => scale.unit != "d",
        Kind::Strain => !scale.unit.is_empty(),
        _ => false,
    }
}

/// The pot that the board was truly laid from.
fn batch(state: &Notebook, board: &Kept<Board>) -> String {
    let laid = state.coats_of(&board.subject).into_iter().map(|coat| coat.record.batch.clone()).find(|pot| !pot.is_empty());
    laid.unwrap_or_else(|| board.record.planned.batch.clone())
}

/// "The third strip was the first to crack" said strip by strip, as far as it says anything.
fn by_strip(row: &ReadingData, strips: &[u8]) -> Vec<ReadingData> {
    let first: Option<u8> = row.value.parse().ok();
    let mut sorted = strips.to_vec();
    sorted.sort_unstable();
    sorted
        .into_iter()
        .filter(|strip| first.is_none_or(|first| *strip <= first))
        .map(|strip| ReadingData {
            measure: BY_STRIP.to_owned(),
            kind: Kind::YesNo.as_str().to_owned(),
            value: if first == Some(strip) { "yes" } else { "no" }.to_owned(),
            strip: strip.to_string(),
            ..row.clone()
        })
        .collect()
}

/// The rows as comma-separated text in the order of the readings format.
fn table(rows: &[ReadingData]) -> String {
    let mut names: Vec<String> = Vec::new();
    for (name, _) in rows.iter().flat_map(|row| &row.factors) {
        if !names.contains(name) {
            names.push(name.clone());
        }
    }
    let quoted = |text: &str| format!("\"{}\"", text.replace('"', "\"\""));
    let mut text = String::from("board,measure,value,kind,batch,day,recipe,job,strip,age_d,rater,blind,note");
    for name in &names {
        text.push(',');
        text.push_str(&quoted(name));
    }
    for row in rows {
        text.push('\n');
        let fixed = [
            &row.board,
            &row.measure,
            &row.value,
            &row.kind,
            &row.batch,
            &row.day,
            &row.recipe,
            &row.job,
            &row.strip,
            &row.age_d,
            &row.rater,
            &row.blind,
            &row.note,
        ];
        let set = names.iter().map(|name| row.factors.iter().find(|(known, _)| known == name).map_or("", |(_, value)| value.as_str()));
        let cells: Vec<String> = fixed.into_iter().map(String::as_str).chain(set).map(quoted).collect();
        text.push_str(&cells.join(","));
    }
    text
}

/// How old the boards were when they were read: the last look that all of them share, if there is one.
fn ages(state: &Notebook, subject: &str, measure: &str) -> String {
    let mut looks: Vec<BTreeMap<i64, Vec<i64>>> = Vec::new();
    for board in state.boards_of(subject).into_iter().filter(|board| state.loss_of(&board.subject).is_none()) {
        let mut of_board: BTreeMap<i64, Vec<i64>> = BTreeMap::new();
        for reading in newest(state, board, Rows::Answer).into_iter().filter(|reading| reading.record.measure == measure) {
            if let Some(age) = age_days(state, &board.subject, reading.record.read) {
                of_board.entry(look(age)).or_default().push(age);
            }
        }
        if !of_board.is_empty() {
            looks.push(of_board);
        }
    }
    let shared = looks.first().and_then(|first| first.keys().rev().find(|due| looks.iter().all(|board| board.contains_key(due))));
    let ages: Vec<i64> = match shared {
        Some(due) => looks.iter().filter_map(|board| board.get(due)).flatten().copied().collect(),
        None => looks.iter().flat_map(BTreeMap::values).flatten().copied().collect(),
    };
    let days = |count: i64| if count == 1 { "1 day".to_owned() } else { format!("{count} days") };
    match (ages.iter().min(), ages.iter().max()) {
        (Some(low), Some(high)) if low == high => format!("Read {} after the last coat.", days(*low)),
        (Some(low), Some(high)) => format!("Read {low} to {} after the last coat.", days(*high)),
        _ => String::new(),
    }
}

/// Lost boards with the reason.
pub(crate) fn lost(state: &Notebook, subject: &str) -> Vec<String> {
    state
        .boards_of(subject)
        .iter()
        .filter_map(|board| {
            state.loss_of(&board.subject).map(|why| format!("Board {} ({}) is lost: {why}.", board.record.planned.number, board.subject))
        })
        .collect()
}
