//! A trial's road: question, plan, boards, readings.

mod agree;
mod answer;
mod ask;
mod boards;
mod fix;
mod lay;
mod making;
mod paper;
mod pot;
mod pot_log;
mod read;
mod road;
mod seen;
mod sheet;

pub use ask::TypedTrial;
pub(crate) use ask::board_size;
pub(super) use boards::covered;
pub use lay::TypedCoat;
pub(super) use lay::{next_coat, sound};
pub use paper::{PaperWords, TrialPaper};
pub use pot::{PotAsk, TypedPot};
pub use read::TypedReading;
pub(crate) use read::book;

use notebook::{Kept, Notebook, Planned, Trial};
use trials::plan::{BoardKind, Job, Per, Plan, PlannedBoard};

use super::StudioError;

/// Name of the recipe when nothing tells several apart.
const ONLY_RECIPE: &str = "the recipe";

/// What a painter would call the recipe of a board: its settings that belong to the pot, or the control's own name.
pub(crate) fn recipe_name(plan: &Plan, board: &PlannedBoard, only: &str) -> String {
    let control = |job: Job, usual: &str| {
        plan.controls.iter().find(|control| control.job == job).map_or_else(|| usual.to_owned(), |control| control.name.clone())
    };
    match board.kind {
        BoardKind::Yardstick => control(Job::Yardstick, "the yardstick"),
        BoardKind::Witness => control(Job::Witness, "the witness"),
        BoardKind::Recipe => {
            let of_pot: Vec<String> = plan
                .settings
                .iter()
                .filter(|setting| setting.per == Per::Batch)
                .filter_map(|setting| {
                    let value = board.settings.get(&setting.name)?;
                    Some(if setting.is_numeric() { format!("{} {value}", setting.name) } else { value.to_string() })
                })
                .collect();
            match (of_pot.is_empty(), only) {
                (true, "") => ONLY_RECIPE.to_owned(),
                (true, only) => only.to_owned(),
                (false, _) => of_pot.join(", "),
            }
        }
    }
}

/// A board of the plan as it is written down.
pub(crate) fn planned(plan: &Plan, board: &PlannedBoard, only: &str) -> Planned {
    Planned {
        number: board.id.clone(),
        day: board.day,
        batch: board.batch.clone(),
        sheet: board.sheet.clone().unwrap_or_default(),
        order: board.order,
        place: board.place,
        job: job_word(board.kind).to_owned(),
        recipe: recipe_name(plan, board, only),
        settings: board.settings.iter().map(|(name, value)| (name.clone(), value.to_string())).collect(),
        shares: board.shares.iter().map(|(name, share)| (name.clone(), share.to_string())).collect(),
        strips: board.strips.iter().filter_map(|coats| u8::try_from(*coats).ok()).collect(),
    }
}

pub(crate) const fn job_word(kind: BoardKind) -> &'static str {
    match kind {
        BoardKind::Recipe => "recipe",
        BoardKind::Yardstick => "yardstick",
        BoardKind::Witness => "witness",
    }
}

/// The plan that a trial was asked with, before it is fixed and after.
pub(crate) fn drawn(trial: &Trial) -> Option<Plan> {
    serde_json::from_str(&trial.drawn).ok()
}

pub(crate) fn trial_of<'a>(state: &'a Notebook, subject: &str) -> Result<&'a Kept<Trial>, StudioError> {
    state.trials.get(subject).map(AsRef::as_ref).ok_or(StudioError::Missing("trial"))
}

/// Coats that a board is to get.
pub(crate) fn coats_wanted(trial: &Trial, planned: &Planned) -> u32 {
    if let Some(most) = planned.strips.iter().max() {
        return u32::from(*most);
    }
    let set = planned.settings.iter().find(|(name, _)| name.eq_ignore_ascii_case("coats")).and_then(|(_, value)| value.parse().ok());
    set.or(trial.coats).unwrap_or(1)
}

/// Day on which what counts as better was fixed as it stands now, and whether that was before the first reading.
pub(crate) fn better_since(state: &Notebook, subject: &str) -> (String, bool) {
    let mut since: Option<(&notebook::Better, notebook::Moment, u64)> = None;
    for entry in state.entries().iter().filter(|entry| entry.subject == subject && !state.is_struck(entry.n)) {
        if let notebook::Deed::Trial(trial) = &entry.deed
            && since.is_none_or(|(better, _, _)| *better != trial.better)
        {
            since = Some((&trial.better, entry.at, entry.n));
        }
    }
    let first = state.boards_of(subject).iter().flat_map(|board| state.readings_of(&board.subject)).map(|reading| reading.n).min();
    since.map_or_else(Default::default, |(_, at, n)| (at.local().0.to_string(), first.is_none_or(|first| n < first)))
}
