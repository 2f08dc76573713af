//! A recipe for the kitchen wall: large, to be read with wet hands.

use serde::Serialize;

use super::Day;

/// One page.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct RecipeCardView {
    /// Name of the recipe; may not be empty.
    pub title: String,
    /// Language of the text as a two-letter code, such as `en`.
    pub language: String,
    /// Day of the card.
    pub date: Day,
    /// "made with groundproof 0.1.0, data 2026-01".
    pub made_with: String,
    /// Whether the recipe is invented.
    pub invented: bool,
    /// For how much: "for 5 boards of 20 x 25 cm, two coats".
    pub makes: String,
    /// What goes in.
    pub amounts: Vec<CardAmount>,
    /// How, in order.
    pub steps: Vec<CardStep>,
    /// Allergens, in a sentence; empty if none is known, which the card then says.
    pub allergens: String,
}

/// What to weigh.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CardAmount {
    /// The stuff.
    pub name: String,
    /// Grams, such as `250 g`.
    pub grams: String,
    /// The same in own cups and spoons with the rounding error; may be empty.
    pub kitchen: String,
}

/// A step.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CardStep {
    /// What to do.
    pub text: String,
    /// Caution that belongs to this very step; may be empty.
    pub caution: String,
}
