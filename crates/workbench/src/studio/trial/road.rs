//! Where a trial stands, and the next thing to do.

use notebook::{Day, Kept, Moment, Notebook, Trial, TrialKind};
use show::{BoardLine, PlanCheck, PotView, RecipeText, RoadView, TangleView, TrialRow, TrialsView};
use trials::looks::{Day as LookDay, due};
use trials::plan::{Plan, TangleKind, tangles};

use super::super::StudioError;
use super::boards::{age_days, job_words};
use super::lay::{next_coat, next_to_lay};
use super::{better_since, coats_wanted, drawn, trial_of};
use crate::{VerdictRequest, Workbench};

impl Workbench {
    /// All trials, the one that wants something first.
    pub fn trials(&self, state: &Notebook, now: Moment) -> TrialsView {
        let mut rows: Vec<(u64, TrialRow)> = state
            .trials
            .values()
            .map(|kept| {
                let boards = state.boards_of(&kept.subject);
                let row = TrialRow {
                    subject: kept.subject.clone(),
                    question: kept.record.question.clone(),
                    next: self.next_step(state, kept, now).0,
                    boards: boards.len(),
                    lost: boards.iter().filter(|board| state.loss_of(&board.subject).is_some()).count(),
                    readings: boards.iter().map(|board| state.readings_of(&board.subject).len()).sum(),
                    on: kept.first.local().0.to_string(),
                };
                (kept.n, row)
            })
            .collect();
        rows.sort_by_key(|(n, _)| std::cmp::Reverse(*n));
        TrialsView { rows: rows.into_iter().map(|(_, row)| row).collect() }
    }

    /// The next thing to do, and the page where it is done.
    fn next_step(&self, state: &Notebook, kept: &Kept<Trial>, now: Moment) -> (String, String) {
        let subject = &kept.subject;
        let here = format!("/trials/{subject}");
        if state.plan_of(subject).is_none() {
            let grave = drawn(&kept.record).is_some_and(|plan| tangles(&plan).found.iter().any(|tangle| tangle.kind == TangleKind::Exact));
            let told = kept.record.recipes.values().any(|text| !text.trim().is_empty());
            let next = match (grave, told) {
                (true, _) => "Two things always change together: mend that before you mix.",
                (false, false) => "Say what goes into the recipes.",
                (false, true) => "Look at the plan, then close it.",
            };
            return (next.into(), here);
        }
        let boards = state.boards_of(subject);
        if boards.iter().all(|board| state.loss_of(&board.subject).is_some()) {
            return ("All boards are lost: ask again with new ones.".into(), here);
        }
        if let Some((board, coat)) = next_to_lay(state, subject) {
            let planned = state.boards.get(&board).map(|kept| kept.record.planned.clone()).unwrap_or_default();
            let told = kept.record.recipes.get(&planned.recipe).is_some_and(|text| !text.trim().is_empty());
            if told && state.batch_of(subject, &planned.batch).is_none() {
                return (
                    format!("Weigh out pot {} ({}) and write down what truly went in.", planned.batch, planned.recipe),
                    format!("{here}#pots"),
                );
            }
            return (format!("Lay coat {coat} on board {} ({board}) from pot {}.", planned.number, planned.batch), format!("{here}/lay"));
        }
        let sound: Vec<_> = boards.iter().filter(|board| state.loss_of(&board.subject).is_none()).collect();
        let measure = &kept.record.better.measure;
        let unread = sound.iter().filter(|board| !state.readings_of(&board.subject).iter().any(|r| r.record.measure == *measure)).count();
        if unread > 0 {
            return (
                format!("Look at the boards without knowing which is which: {unread} of {} are not read yet.", sound.len()),
                format!("{here}/read"),
            );
        }
        if let Some(look) = self.looks(state, subject).into_iter().find(|(day, _)| day.number() >= now.local().0.number()) {
            return (format!("Read the answer. The next look is due on {}.", look.0), format!("{here}/answer"));
        }
        ("Read the answer.".into(), format!("{here}/answer"))
    }

    /// Looks that are due after the last coat of the trial: day and words.
    pub fn looks(&self, state: &Notebook, trial: &str) -> Vec<(Day, String)> {
        let last = state.boards_of(trial).iter().flat_map(|board| state.coats_of(&board.subject)).map(|coat| coat.record.laid).max();
        let Some((day, _)) = last.map(Moment::local) else { return Vec::new() };
        let Ok(year) = u16::try_from(day.year) else { return Vec::new() };
        let Ok(start) = LookDay::new(year, day.month, day.day) else { return Vec::new() };
        due(start, 3)
            .into_iter()
            .map(|look| {
                let (year, month, day) = look.day.parts();
                (Day { year: i32::from(year), month, day }, look.after)
            })
            .collect()
    }

    /// The question that a trial asks.
    ///
    /// # Errors
    /// No such trial.
    pub fn question_of(&self, state: &Notebook, subject: &str) -> Result<String, StudioError> {
        trial_of(state, subject).map(|kept| kept.record.question.clone())
    }

    /// The whole road of a trial.
    ///
    /// # Errors
    /// No such trial.
    pub fn road(&self, state: &Notebook, subject: &str, now: Moment) -> Result<RoadView, StudioError> {
        let kept = trial_of(state, subject)?;
        let trial = &kept.record;
        let (next, next_at) = self.next_step(state, kept, now);
        let fixed = state.plan_of(subject);
        let plan = drawn(trial);
        let scale = self.scale(state, &trial.better.measure);
        let measure = scale.map_or_else(|| trial.better.measure.clone(), |scale| scale.name);
        let boards: Vec<BoardLine> = if fixed.is_some() {
            board_rows(state, subject, now)
        } else {
            plan.as_ref().map(|plan| planned_rows(plan, &trial.only_recipe)).unwrap_or_default()
        };
        let less = if trial.better.way == "larger" { "more" } else { "less" };
        Ok(RoadView {
            subject: subject.to_owned(),
            from: kept.n,
            question: trial.question.clone(),
            next,
            next_at,
            kind: match trial.kind {
                TrialKind::Stair => "stair",
                TrialKind::TwoByTwo => "two-by-two",
                TrialKind::Own => "own",
            },
            better: format!("{less} is better: {measure}"),
            better_fixed: better_since(state, subject).0,
            support: trial.support.clone(),
            kept_same: trial.kept_same.clone(),
            method: trial.method.clone(),
            fixed: fixed.map(|plan| plan.first.local().0.to_string()),
            seed: fixed.map(|kept| kept.record.seed).or_else(|| plan.as_ref().map(|plan| plan.seed)).unwrap_or_default().to_string(),
            check: plan.as_ref().map(check),
            recipes: trial.recipes.iter().map(|(name, told)| self.recipe_text(state, name, told)).collect(),
            pots: if fixed.is_some() { self.pots_of(state, subject) } else { Vec::new() },
            boards,
            looks: self.looks(state, subject).into_iter().map(|(day, after)| (day.to_string(), after)).collect(),
        })
    }

    fn recipe_text(&self, state: &Notebook, name: &str, told: &str) -> RecipeText {
        let mut text = RecipeText { name: name.to_owned(), told: told.to_owned(), said: String::new(), struck: Vec::new() };
        if !told.trim().is_empty() {
            text.said = self.quick_sentence(&VerdictRequest {
                told: told.to_owned(),
                own: self.own_values_for(state, told),
                ..VerdictRequest::default()
            });
            let reading = materials::read(self.jars, &self.units, told, &materials::Wishes::new());
            text.struck = reading.struck().map(|struck| struck.span.of(told).trim().to_owned()).filter(|words| !words.is_empty()).collect();
        }
        text
    }

    /// Pots of a trial with what was planned and what was truly weighed.
    fn pots_of(&self, state: &Notebook, trial: &str) -> Vec<PotView> {
        let Ok(kept) = trial_of(state, trial) else { return Vec::new() };
        let mut pots: Vec<PotView> = Vec::new();
        for board in state.boards_of(trial) {
            let planned = &board.record.planned;
            if let Some(pot) = pots.iter_mut().find(|pot| pot.letter == planned.batch) {
                pot.boards += 1;
                continue;
            }
            let weighed = state.batch_of(trial, &planned.batch);
            let request = self.pot_request(state, &kept.record, &board.record, &planned.batch);
            let tapped = weighed.is_some_and(|batch| batch.record.as_planned);
            pots.push(PotView {
                as_planned: tapped,
                letter: planned.batch.clone(),
                day: planned.day,
                recipe: planned.recipe.clone(),
                boards: 1,
                planned: kept.record.recipes.get(&planned.recipe).cloned().unwrap_or_default(),
                weighed: weighed.filter(|_| !tapped).map_or_else(String::new, |batch| batch.record.told.clone()),
                note: weighed.map_or_else(String::new, |batch| batch.record.note.clone()),
                from: weighed.map_or(0, |batch| batch.n),
                said: if request.told.is_empty() { String::new() } else { self.quick_sentence(&request) },
            });
        }
        pots
    }

    /// The verdict's sentence alone.
    pub(crate) fn quick_sentence(&self, request: &VerdictRequest) -> String {
        self.sentences.answer(request, || self.work(request).map_or_else(|why| why.to_string(), |worked| self.sentence(&worked)))
    }
}

fn board_rows(state: &Notebook, trial: &str, now: Moment) -> Vec<BoardLine> {
    let Ok(kept) = trial_of(state, trial) else { return Vec::new() };
    state
        .boards_of(trial)
        .into_iter()
        .map(|board| {
            let planned = &board.record.planned;
            let laid = next_coat(state, &board.subject) - 1;
            let readings = state.readings_of(&board.subject).len();
            let wanted = coats_wanted(&kept.record, planned);
            let age = age_days(state, &board.subject, now);
            let stands = match (state.loss_of(&board.subject), age) {
                (Some(why), _) => format!("lost: {why}"),
                (None, Some(days)) if laid >= wanted && readings > 0 => format!("{readings} readings, {days} days old"),
                (None, Some(days)) if laid >= wanted => format!("laid, {days} days old, not read"),
                _ if wanted == 1 => format!("{laid} of 1 coat"),
                _ => format!("{laid} of {wanted} coats"),
            };
            BoardLine {
                id: board.subject.clone(),
                number: planned.number.clone(),
                day: planned.day,
                pot: planned.batch.clone(),
                sheet: planned.sheet.clone(),
                order: planned.order,
                place: planned.place,
                recipe: planned.recipe.clone(),
                job: job_words(planned),
                strips: planned.strips.clone(),
                stands,
            }
        })
        .collect()
}

fn planned_rows(plan: &Plan, only: &str) -> Vec<BoardLine> {
    plan.boards
        .iter()
        .map(|board| {
            let planned = super::planned(plan, board, only);
            BoardLine {
                id: String::new(),
                number: planned.number.clone(),
                day: planned.day,
                pot: planned.batch.clone(),
                sheet: planned.sheet.clone(),
                order: planned.order,
                place: planned.place,
                recipe: planned.recipe.clone(),
                job: job_words(&planned),
                strips: planned.strips.clone(),
                stands: String::new(),
            }
        })
        .collect()
}

/// What the boards can and can't answer.
pub(crate) fn check(plan: &Plan) -> PlanCheck {
    let found = tangles(plan);
    // The draw decides turn and place; that is worth a remark, not a warning.
    let (drawn, grave): (Vec<_>, Vec<_>) =
        found.found.into_iter().partition(|tangle| matches!(tangle.kind, TangleKind::WithOrder | TangleKind::WithPlace));
    PlanCheck {
        can: found.can,
        cannot: found.cannot,
        tangles: grave.into_iter().map(|tangle| TangleView { effects: tangle.effects, text: tangle.text }).collect(),
        notes: plan
            .notes
            .iter()
            .map(|note| without_file_text(&note.text, &note.at))
            .chain(drawn.into_iter().map(|tangle| tangle.text))
            .collect(),
        spares: plan.spares,
    }
}

/// A note without the line that would mend a trial file: on a page there is a field for it.
fn without_file_text(text: &str, key: &str) -> String {
    text.split_once(&format!(": {key} = ")).map_or_else(|| text.to_owned(), |(front, _)| format!("{front}."))
}
