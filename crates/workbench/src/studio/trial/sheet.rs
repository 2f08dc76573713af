//! Labels, batch sheets and the order of laying, to print; and the picture card to post.

use notebook::{Day, Notebook};
use show::TrialAnswerView;
use show::paper::{BatchSheet, BoardLabel, BoardSheetView, LayingRow, PictureCardLine, PictureCardView, RecipeCardView, SheetAmount};

use super::super::{Studio, StudioError};
use super::paper::Pot;
use super::{coats_wanted, trial_of};
use crate::sheets::{made_with, paper_day};
use crate::{VerdictRequest, Workbench};

impl Workbench {
    /// Labels and sheets of a fixed plan. Labels carry the blind code, never the recipe.
    ///
    /// # Errors
    /// No such trial; its plan is not fixed.
    pub fn board_sheet(&self, studio: &Studio, state: &Notebook, subject: &str, today: Day) -> Result<BoardSheetView, StudioError> {
        let trial = &trial_of(state, subject)?.record;
        if state.plan_of(subject).is_none() {
            return Err(StudioError::Typed("close the plan first: boards get their ids then".into()));
        }
        let boards = state.boards_of(subject);
        let pots = self.all_pots(state, subject, trial);
        Ok(BoardSheetView {
            title: trial.question.clone(),
            language: "en".into(),
            date: paper_day(today),
            made_with: made_with(),
            invented: studio.is_example(),
            labels: boards
                .iter()
                .map(|board| BoardLabel {
                    board: board.subject.clone(),
                    recipe: format!("code {}", board.record.blind),
                    date: format!("printed {}", paper_day(today).written()),
                    coats: match coats_wanted(trial, &board.record.planned) {
                        1 => "1 coat".into(),
                        more => format!("{more} coats"),
                    },
                    // What stands in the pot would give the recipe away: the label sends to the pot's sheet.
                    hazards: format!("hazards and allergens: see the sheet of pot {}", board.record.planned.batch),
                })
                .collect(),
            batches: pots.iter().map(|pot| self.batch_sheet(state, subject, pot)).collect(),
            laying: boards
                .iter()
                .map(|board| {
                    let planned = &board.record.planned;
                    LayingRow {
                        order: planned.order.to_string(),
                        board: format!("{} ({})", planned.number, board.subject),
                        day: format!("day {}", planned.day),
                        batch: planned.batch.clone(),
                        sheet: planned.sheet.clone(),
                        what: if planned.strips.is_empty() {
                            format!("{} coats, place {}", coats_wanted(trial, planned), planned.place)
                        } else {
                            let strips: Vec<String> = planned.strips.iter().map(u8::to_string).collect();
                            format!("strips of {} coats from the left, place {}", strips.join(", "), planned.place)
                        },
                    }
                })
                .collect(),
        })
    }

    fn batch_sheet(&self, state: &Notebook, subject: &str, pot: &Pot) -> BatchSheet {
        let making = pot.worked.as_ref().map(|worked| self.making(worked));
        let boards: Vec<String> = state
            .boards_of(subject)
            .iter()
            .filter(|board| board.record.planned.batch == pot.letter)
            .map(|board| board.record.planned.number.clone())
            .collect();
        BatchSheet {
            batch: pot.letter.clone(),
            recipe: pot.recipe.clone(),
            boards: boards.join(", "),
            amounts: making.as_ref().map_or_else(Vec::new, |making| {
                making
                    .amounts
                    .iter()
                    .map(|amount| SheetAmount { name: amount.name.clone(), grams: amount.grams.clone(), kitchen: amount.kitchen.clone() })
                    .collect()
            }),
            steps: making.as_ref().map_or_else(Vec::new, |making| making.steps.clone()),
            allergens: making.map_or_else(String::new, |making| {
                [making.hazards, making.allergens].into_iter().filter(|text| !text.is_empty()).collect::<Vec<_>>().join(". ")
            }),
        }
    }

    /// A recipe of a trial for the kitchen wall, as its newest pot was truly weighed.
    ///
    /// # Errors
    /// No such trial; nothing is written down of the recipe.
    pub fn trial_card(
        &self,
        studio: &Studio,
        state: &Notebook,
        subject: &str,
        recipe: &str,
        today: Day,
    ) -> Result<RecipeCardView, StudioError> {
        let trial = &trial_of(state, subject)?.record;
        let pots = self.all_pots(state, subject, trial);
        let told = |pot: &&Pot| !pot.told.trim().is_empty();
        let pot = pots.iter().filter(told).rfind(|pot| pot.recipe == recipe).or_else(|| pots.iter().find(told));
        let Some(pot) = pot else {
            return Err(StudioError::Typed(
                "nothing is written down of what goes into these pots; say it on the trial's page first".into(),
            ));
        };
        let showed = self.trial_answer(state, subject).map(|answer| showed(&answer, &pot.recipe)).unwrap_or_default();
        let request = VerdictRequest { told: pot.told.clone(), own: self.own_values_for(state, &pot.told), ..VerdictRequest::default() };
        self.recipe_card(
            &request,
            &pot.recipe,
            &format!("On these boards: {}", if showed.is_empty() { "not read yet.".to_owned() } else { showed.join(" ") }),
            today,
            studio.is_example(),
        )
        .map_err(StudioError::typed)
    }

    /// The picture card of a trial: the recipe that the boards speak for, or the first one.
    ///
    /// # Errors
    /// No such trial; its plan is not fixed.
    pub fn trial_picture(&self, studio: &Studio, state: &Notebook, subject: &str, recipe: &str) -> Result<PictureCardView, StudioError> {
        let trial = &trial_of(state, subject)?.record;
        let answer = self.trial_answer(state, subject)?;
        let pots = self.all_pots(state, subject, trial);
        let told = |pot: &&Pot| !pot.told.trim().is_empty();
        let pot = pots.iter().find(|pot| pot.recipe == recipe).or_else(|| pots.iter().find(told)).or_else(|| pots.first());
        let title = pot.map_or_else(|| trial.question.clone(), |pot| pot.recipe.clone());
        let of_it: Vec<_> = state.boards_of(subject).into_iter().filter(|board| board.record.planned.recipe == title).collect();
        let lost = of_it.iter().filter(|board| state.loss_of(&board.subject).is_some()).count();
        let mut not_known: Vec<String> = answer.measures.first().map_or_else(|| vec![answer.next.clone()], |first| first.tangles.clone());
        if !answer.ages.is_empty() {
            not_known.push(format!("How it goes on. {}", answer.ages));
        }
        Ok(PictureCardView {
            title: title.clone(),
            made_with: made_with(),
            invented: studio.is_example(),
            lines: pot.and_then(|pot| pot.worked.as_ref()).map_or_else(Vec::new, |worked| {
                let amounts = self.making(worked).amounts;
                amounts
                    .into_iter()
                    .map(|amount| PictureCardLine { name: amount.name, grams: amount.grams, kitchen: amount.kitchen })
                    .collect()
            }),
            boards: format!("{} with this recipe, {lost} lost.", counted_boards(of_it.len())),
            failed: showed(&answer, &title),
            not_known,
        })
    }
}

fn counted_boards(count: usize) -> String {
    if count == 1 { "1 board".into() } else { format!("{count} boards") }
}

/// What the boards of one recipe showed, a sentence for each measure.
fn showed(answer: &TrialAnswerView, recipe: &str) -> Vec<String> {
    let mut out = Vec::new();
    for (measure, report) in answer.measures.iter().zip(&answer.reports) {
        let found = report.measures.iter().flat_map(|one| &one.groups).find(|group| group.name == recipe);
        let Some(group) = found else { continue };
        let boards = counted_boards(group.boards);
        out.push(match (group.yes, group.mean) {
            (Some(yes), _) => format!("{}: {yes} of {boards}.", show::capital(&measure.title)),
            (None, Some(mean)) => format!("{}: {} on average of {boards}.", show::capital(&measure.title), show::number(mean, 1)),
            (None, None) => continue,
        });
    }
    out
}
