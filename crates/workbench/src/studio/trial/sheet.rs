//! Labels, batch sheets and the order of laying, to print; and the picture card to post.

use notebook::{Day, Notebook};
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
            return Err(StudioError::Typed("fix the plan first: boards get their ids then".into()));
        }
        let boards = state.boards_of(subject);
        let pots = self.all_pots(state, subject, trial);
        let hazards = |letter: &str| {
            let making = pots.iter().find(|pot| pot.letter == letter).and_then(|pot| pot.worked.as_ref()).map(|worked| self.making(worked));
            making.map_or_else(String::new, |making| {
                [making.hazards, making.allergens].into_iter().filter(|text| !text.is_empty()).collect::<Vec<_>>().join(". ")
            })
        };
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
                    date: paper_day(today).written(),
                    coats: match coats_wanted(trial, &board.record.planned) {
                        1 => "1 coat".into(),
                        more => format!("{more} coats"),
                    },
                    hazards: hazards(&board.record.planned.batch),
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
            allergens: making.map_or_else(String::new, |making| making.allergens),
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
        let request = VerdictRequest { told: pot.told.clone(), own: self.own_values(state), ..VerdictRequest::default() };
        self.recipe_card(&request, &pot.recipe, &trial.question, today, studio.is_example()).map_err(StudioError::typed)
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
        let boards = state.boards_of(subject);
        let lost = boards.iter().filter(|board| state.loss_of(&board.subject).is_some()).count();
        let first = answer.measures.first();
        Ok(PictureCardView {
            title: pot.map_or_else(|| trial.question.clone(), |pot| pot.recipe.clone()),
            made_with: made_with(),
            invented: studio.is_example(),
            lines: pot.and_then(|pot| pot.worked.as_ref()).map_or_else(Vec::new, |worked| {
                let amounts = self.making(worked).amounts;
                amounts
                    .into_iter()
                    .map(|amount| PictureCardLine { name: amount.name, grams: amount.grams, kitchen: amount.kitchen })
                    .collect()
            }),
            boards: format!("{} boards laid, {lost} lost. {}", boards.len(), answer.ages),
            failed: first.map_or_else(Vec::new, |first| vec![first.headline.clone()]),
            not_known: first.map_or_else(
                || vec![answer.next.clone()],
                |first| {
                    if first.tangles.is_empty() {
                        vec![answer.why.clone()].into_iter().filter(|why| !why.is_empty()).collect()
                    } else {
                        first.tangles.clone()
                    }
                },
            ),
        })
    }
}
