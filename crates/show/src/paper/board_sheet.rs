//! Labels for boards, and sheets to work from.

use serde::Serialize;

use super::{CardStep, Day};

/// Labels, one sheet for each pot, and the order of laying.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct BoardSheetView {
    /// Name of the plan; may not be empty.
    pub title: String,
    /// Language of the text as a two-letter code, such as `en`.
    pub language: String,
    /// Day of the sheet.
    pub date: Day,
    /// "made with groundproof 0.1.0, data 2026-01".
    pub made_with: String,
    /// Whether the plan is invented.
    pub invented: bool,
    /// One label for each board.
    pub labels: Vec<BoardLabel>,
    /// One sheet for each pot.
    pub batches: Vec<BatchSheet>,
    /// All boards in the order of laying.
    pub laying: Vec<LayingRow>,
}

/// What is glued on the back of a board.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct BoardLabel {
    /// The board's mark, such as `GP-7K3M-Q2X`: read by eye, and alone in the square code. At most 64 characters.
    pub board: String,
    /// Short name of the recipe, or a blind code.
    pub recipe: String,
    /// Day in words.
    pub date: String,
    /// Coats in words, such as `2 coats`.
    pub coats: String,
    /// Hazards and allergens in one line; may be empty.
    pub hazards: String,
}

/// What to weigh for one pot.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct BatchSheet {
    /// The pot's mark.
    pub batch: String,
    /// Short name of the recipe, or a blind code.
    pub recipe: String,
    /// Which boards it is for.
    pub boards: String,
    /// What goes in.
    pub amounts: Vec<SheetAmount>,
    /// How, in order.
    pub steps: Vec<CardStep>,
    /// Allergens in one line; may be empty.
    pub allergens: String,
}

/// An amount, with room to write what was really weighed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SheetAmount {
    /// The stuff.
    pub name: String,
    /// Grams, such as `250 g`.
    pub grams: String,
    /// In own cups and spoons with the rounding error; may be empty.
    pub kitchen: String,
}

/// A board in the order of laying.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct LayingRow {
    /// Place in the order.
    pub order: String,
    /// The board's mark.
    pub board: String,
    /// Day in words.
    pub day: String,
    /// Pot to lay it from.
    pub batch: String,
    /// Sheet it is cut from.
    pub sheet: String,
    /// What to do with it.
    pub what: String,
}
