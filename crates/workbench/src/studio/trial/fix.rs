//! Fixing a plan: from here on boards have ids, and the plan is only added to.

use std::collections::BTreeMap;

use notebook::{Board, Deed, Notebook, Plan as FixedPlan, Stamp, Wanted, board_id};
use trials::plan::tangles;

use super::super::{Studio, StudioError, remark};
use super::{drawn, planned, trial_of};
use crate::{VERSION, Workbench};

/// Tries for a board id that is not taken.
const TRIES: u32 = 10_000;

impl Workbench {
    /// Writes down what goes into the recipes of a trial.
    ///
    /// # Errors
    /// No such trial; somebody else changed it first.
    pub fn tell_recipes(
        &self,
        studio: &Studio,
        (subject, from): (&str, u64),
        recipes: &BTreeMap<String, String>,
        stamp: &Stamp,
    ) -> Result<(), StudioError> {
        for text in recipes.values() {
            remark(text)?;
        }
        studio
            .write(stamp, |state| {
                let mut trial = trial_of(state, subject)?.record.clone();
                for (name, text) in &mut trial.recipes {
                    if let Some(told) = recipes.get(name) {
                        *text = told.trim().replace("\r\n", "\n");
                    }
                }
                Ok(vec![Wanted::edit(subject, from, Deed::Trial(trial))])
            })
            .map(drop)
    }

    /// Fixes the plan of a trial and gives every board its id.
    ///
    /// # Errors
    /// No such trial; it is fixed already.
    pub fn fix_plan(&self, studio: &Studio, subject: &str, stamp: &Stamp) -> Result<(), StudioError> {
        studio
            .write(stamp, |state| {
                let kept = trial_of(state, subject)?;
                let Some(plan) = drawn(&kept.record) else {
                    return Err(StudioError::Typed(
                        "this plan was drawn by an older version and can't be read; ask the question again".into(),
                    ));
                };
                let check = tangles(&plan);
                let fixed = FixedPlan {
                    trial: subject.to_owned(),
                    seed: plan.seed,
                    version: VERSION.to_owned(),
                    can: check.can.clone(),
                    cannot: check.cannot.iter().cloned().chain(check.found.iter().map(|tangle| tangle.text.clone())).collect(),
                    boards: u32::try_from(plan.boards.len()).unwrap_or(u32::MAX),
                };
                let mut wanted = vec![Wanted::new(format!("plan-of-{subject}"), Deed::Plan(fixed))];
                let mut taken = 0;
                for (index, board) in plan.boards.iter().enumerate() {
                    let id = free_id(state, stamp, &mut taken)?;
                    let blind = trials::blind::code(plan.seed, index).map_err(StudioError::typed)?;
                    let record = Board { trial: subject.to_owned(), planned: planned(&plan, board, &kept.record.only_recipe), blind };
                    wanted.push(Wanted::new(id, Deed::Board(record)));
                }
                Ok(wanted)
            })
            .map(drop)
    }
}

fn free_id(state: &Notebook, stamp: &Stamp, taken: &mut u32) -> Result<String, StudioError> {
    for _ in 0..TRIES {
        let id = board_id(stamp.board(*taken));
        *taken += 1;
        if !state.entries().iter().any(|entry| entry.subject == id) {
            return Ok(id);
        }
    }
    Err(StudioError::Typed("no free board id was found; try again".into()))
}
