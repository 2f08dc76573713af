//! A making day on paper: the day, a sheet for each pot, what to buy, and the boards on their places.

use serde::Serialize;

use super::{CardStep, Day, PaperFigure, SheetAmount};
use crate::DayView;

/// All sheets of one day.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DaySheetsView {
    /// Title; may not be empty.
    pub title: String,
    /// Language of the text as a two-letter code, such as `en`.
    pub language: String,
    /// Day of the sheets.
    pub date: Day,
    /// "made with groundproof 0.1.0, data 2026-01".
    pub made_with: String,
    /// Whether the plan is invented.
    pub invented: bool,
    /// The day.
    pub day: DayView,
    /// The day as a picture, for ink alone.
    #[serde(skip)]
    pub strip: Option<PaperFigure>,
    /// The boards on their places, for ink alone.
    #[serde(skip)]
    pub table: Option<PaperFigure>,
    /// One sheet for each time that a pot is mixed.
    pub pots: Vec<PotSheet>,
}

/// A pot to be mixed.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct PotSheet {
    /// The pot's letter, and the coat if it is mixed anew for each: `A`, `A, second coat`.
    pub pot: String,
    /// Recipe's name.
    pub recipe: String,
    /// Boards that it is for.
    pub boards: String,
    /// What the whole pot weighs: `432 g`; empty where it can't be told.
    pub weighs: String,
    /// When it is mixed.
    pub time: String,
    /// How long it may be used once it is ready, in a sentence.
    pub life: String,
    /// What goes in, for these boards.
    pub amounts: Vec<SheetAmount>,
    /// Why the amounts are as they are, or what is missing; may be empty.
    pub note: String,
    /// How, in order.
    pub steps: Vec<CardStep>,
    /// Allergens and hazards in one line; may be empty.
    pub allergens: String,
    /// Rounds laid from it: when, what, how long the pot may then still be used.
    pub rounds: Vec<PotRound>,
}

/// A round of coats from a pot, with room for what the pot truly weighed.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct PotRound {
    /// When.
    pub time: String,
    /// "first coat on boards 1, 5, 9".
    pub what: String,
    /// "2 to 4 h"; empty where it can't be told.
    pub left: String,
}
