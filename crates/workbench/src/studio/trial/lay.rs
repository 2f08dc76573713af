//! Pots and coats as they truly were.

use notebook::{Batch, Coat, Deed, Lost, Notebook, Stamp, Wanted};

use show::BoardView;

use super::super::day::room_air;
use super::super::{Studio, StudioError, above_zero, moment, named, number, one_line, remark, short};
use super::{coats_wanted, trial_of};
use crate::Workbench;

/// A coat as typed.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct TypedCoat {
    /// Board.
    pub board: String,
    /// Number of the coat; the next one if empty.
    pub number: String,
    /// Pot, if another than planned.
    pub batch: String,
    /// Board before, grams.
    pub before: String,
    /// Board after, grams.
    pub after: String,
    /// Direction.
    pub direction: String,
    /// Air, degrees Celsius.
    pub celsius: String,
    /// Air, per cent.
    pub damp: String,
    /// Remark.
    pub note: String,
    /// When, if not now: `2026-11-25 14:30` or a day.
    pub when: String,
}

impl Workbench {
    /// Writes a coat down.
    ///
    /// # Errors
    /// Numbers that can't be; a lost or unknown board.
    pub fn lay_coat(&self, studio: &Studio, typed: &TypedCoat, stamp: &Stamp) -> Result<(), StudioError> {
        let before_g = above_zero(&typed.before, "the board before", "312.4")?;
        let after_g = above_zero(&typed.after, "the board after", "321.0")?;
        if let (Some(before), Some(after)) = (before_g, after_g)
            && after <= before
        {
            return Err(StudioError::Typed("the board weighs no more after the coat than before; are the two exchanged?".into()));
        }
        if before_g.is_some() != after_g.is_some() {
            return Err(StudioError::Typed(
                "one of the two weights is missing: weigh the board before and after the coat, or leave both empty if it was not weighed"
                    .into(),
            ));
        }
        let air_rh = above_zero(&typed.damp, "the dampness of the air", "55")?;
        let air_c = number(&typed.celsius, "the warmth of the air", "19.5")?;
        room_air(air_c, air_rh)?;
        let given: Option<u32> = match typed.number.trim() {
            "" => None,
            text => match text.parse() {
                Ok(number) if number <= MOST_COATS => Some(number),
                _ => return Err(StudioError::Typed("the number of a coat is 1, 2, 3 ... up to 40, or 0 for size".into())),
            },
        };
        let note = remark(&typed.note)?;
        let laid = moment(&typed.when, stamp)?;
        studio
            .write(stamp, |state| {
                sound(state, &typed.board)?;
                heavy(state, typed, before_g.zip(after_g))?;
                let next = next_coat(state, &typed.board);
                let batch = pot_of_trial(state, &typed.board, &typed.batch)?;
                if let Some(number) = given.filter(|number| state.coats_of(&typed.board).iter().any(|coat| coat.record.number == *number)) {
                    return Err(StudioError::Typed(format!(
                        "coat {number} of this board is written down already; take that one back first if it was wrong"
                    )));
                }
                let coat = Coat {
                    board: typed.board.clone(),
                    batch,
                    number: given.unwrap_or(next),
                    before_g,
                    after_g,
                    direction: one_line(&typed.direction),
                    laid,
                    air_c,
                    air_rh,
                    note: note.clone(),
                    ..Coat::default()
                };
                Ok(vec![Wanted::new(stamp.subject("coat", 0), Deed::Coat(coat))])
            })
            .map(drop)
    }

    /// Writes down what truly went into a pot.
    ///
    /// # Errors
    /// No such trial or pot; nothing told; somebody else changed it first.
    pub fn mix_pot(
        &self,
        studio: &Studio,
        (trial, letter): (&str, &str),
        told: &str,
        note: &str,
        from: u64,
        stamp: &Stamp,
    ) -> Result<(), StudioError> {
        if told.trim().is_empty() {
            return Err(StudioError::Typed(
                "write down what you weighed, one thing after the other, like: 252 g chalk, 15.1 g rabbit skin glue, 208 g water".into(),
            ));
        }
        let (told, note) = (remark(told)?, remark(note)?);
        studio
            .write(stamp, |state| {
                if !state.boards_of(trial).iter().any(|board| board.record.planned.batch == letter) {
                    return Err(StudioError::Missing("pot"));
                }
                if let Some(asks) = self.two_jars(state, &told) {
                    return Err(StudioError::Typed(asks));
                }
                let (binder, binder_g) = self.binder_used(state, &told);
                let batch = Batch {
                    binder,
                    binder_g,
                    trial: trial.to_owned(),
                    letter: letter.to_owned(),
                    told: told.clone(),
                    ready: Some(stamp.at),
                    note: note.clone(),
                    ..Batch::default()
                };
                Ok(vec![match state.batch_of(trial, letter) {
                    None => Wanted::new(format!("pot-{letter}-of-{trial}"), Deed::Batch(batch)),
                    Some(known) => Wanted::edit(&known.subject, from, Deed::Batch(Batch { ready: known.record.ready, ..batch })),
                }])
            })
            .map(drop)
    }

    /// Takes a board out of the trial, with the reason. It stays in the paper.
    ///
    /// # Errors
    /// No reason; no such board.
    pub fn lose_board(&self, studio: &Studio, board: &str, reason: &str, stamp: &Stamp) -> Result<(), StudioError> {
        let reason = named(reason, "the reason", "fell off the shelf")?;
        studio
            .write(stamp, |state| {
                sound(state, board)?;
                let lost = Lost { board: board.to_owned(), reason: reason.clone() };
                Ok(vec![Wanted::new(format!("loss-of-{board}-{}", stamp.entry(0)), Deed::Lost(lost))])
            })
            .map(drop)
    }

    /// The board that wants a coat next, with the number of that coat; nothing when all coats are laid.
    ///
    /// # Errors
    /// No such trial; its plan is not fixed.
    pub fn lay_sheet(&self, state: &Notebook, trial: &str) -> Result<Option<(BoardView, u32)>, StudioError> {
        trial_of(state, trial)?;
        if state.plan_of(trial).is_none() {
            return Err(StudioError::Typed("close the plan first: boards get their ids then".into()));
        }
        next_to_lay(state, trial).map(|(board, coat)| self.board(state, &board).map(|view| (view, coat))).transpose()
    }
}

/// The board that wants a coat next: all boards get their first coat before any gets its second, day by day.
pub(super) fn next_to_lay(state: &Notebook, trial: &str) -> Option<(String, u32)> {
    let record = &state.trials.get(trial)?.record;
    state
        .boards_of(trial)
        .into_iter()
        .filter(|board| state.loss_of(&board.subject).is_none())
        .filter_map(|board| {
            let next = next_coat(state, &board.subject);
            let planned = &board.record.planned;
            (next <= coats_wanted(record, planned)).then_some(((planned.day, next, planned.order), &board.subject))
        })
        .min()
        .map(|((_, coat, _), subject)| (subject.clone(), coat))
}

/// Most wet ground on a square metre that one coat can be, grams: some 2 mm of it (judgement, no source).
const HEAVIEST: f64 = 4000.0;

/// A coat that no brush lays is a slip of the pen.
fn heavy(state: &Notebook, typed: &TypedCoat, weights: Option<(f64, f64)>) -> Result<(), StudioError> {
    let Some(((before, after), board)) = weights.zip(state.boards.get(&typed.board)) else { return Ok(()) };
    let Some(trial) = state.trials.get(&board.record.trial) else { return Ok(()) };
    let Some((width, height)) = trial.record.width_mm.zip(trial.record.height_mm) else { return Ok(()) };
    let laid = (after - before) / (width * height / 1e6);
    if laid > HEAVIEST {
        return Err(StudioError::Typed(format!(
            "that would be {} g of ground on one board, {} g on a square metre; a brushed coat is 100 to 300. Is there a digit too many?",
            show::plain(after - before),
            show::plain(laid)
        )));
    }
    Ok(())
}

/// Most coats that are laid on one board.
const MOST_COATS: u32 = 40;

/// Number of the coat that comes next: the lowest that is missing.
pub(crate) fn next_coat(state: &Notebook, board: &str) -> u32 {
    let coats = state.coats_of(board);
    (1..=MOST_COATS + 1).find(|number| coats.iter().all(|coat| coat.record.number != *number)).unwrap_or(1)
}

/// A pot of the board's trial, by its letter as typed; empty for the planned one.
fn pot_of_trial(state: &Notebook, board: &str, typed: &str) -> Result<String, StudioError> {
    let letter = one_line(typed);
    if letter.is_empty() {
        return Ok(letter);
    }
    let trial = state.boards.get(board).map_or("", |board| board.record.trial.as_str());
    let mut letters: Vec<String> = state.boards_of(trial).iter().map(|board| board.record.planned.batch.clone()).collect();
    letters.sort();
    letters.dedup();
    let known = letters.iter().find(|known| known.eq_ignore_ascii_case(&letter)).cloned();
    known
        .ok_or_else(|| StudioError::Typed(format!("there is no pot {} in this trial; its pots are {}", short(&letter), letters.join(", "))))
}

/// The board is there and not lost.
pub(crate) fn sound(state: &Notebook, board: &str) -> Result<(), StudioError> {
    if !state.boards.contains_key(board) {
        return Err(StudioError::Missing("board"));
    }
    match state.loss_of(board) {
        Some(why) => Err(StudioError::Typed(format!("this board is lost to the trial ({why}); take that back first if it was found"))),
        None => Ok(()),
    }
}
