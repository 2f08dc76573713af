//! What a day is asked to do.

use serde::{Deserialize, Serialize};

use crate::{Clock, Minutes, Span};

/// A day of laying coats, by one pair of hands.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct DayAsked {
    /// When hands are free.
    pub begins: Clock,
    /// When everything must be done.
    pub ends: Clock,
    /// The pots.
    pub pots: Vec<PotAsked>,
    /// Cleaning brushes and pots at the end.
    pub washing_up: Minutes,
}

/// A pot and what is laid from it.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct PotAsked {
    /// Its letter in the plan.
    pub letter: String,
    /// Hands-on time from ready binder and weighed powder to the ready pot.
    pub mixing: Minutes,
    /// How long it may be used once it is ready. The day is laid out with the short end.
    pub life: Span,
    /// Mixed once for all coats, or anew before each.
    pub mixed: Mixed,
    /// When the next coat may follow.
    pub recoat: Recoat,
    /// What must be done before it can be mixed, in order.
    pub preparation: Vec<Preparing>,
    /// Boards in the order in which they are laid; the order is the plan's and is not changed.
    pub boards: Vec<BoardAsked>,
}

/// How often a pot is mixed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Mixed {
    /// One pot for all coats.
    #[default]
    Once,
    /// A small pot for each coat, to the same recipe.
    EachCoat,
}

/// When the next coat may follow, counted from when a coat was laid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Recoat {
    /// From here on: matt, or dry, as the family wants it.
    pub opens: Span,
    /// Best before this.
    pub best_until: Option<Minutes>,
    /// After this the coat is too hard or too dry to take the next as it is.
    pub missed_after: Option<Minutes>,
}

/// One thing that must be done before a pot is mixed.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Preparing {
    /// Which, as in the table of preparations.
    pub key: String,
    /// Hands-on time.
    pub hands_on: Minutes,
    /// What it then wants to be left alone.
    pub stands: Span,
    /// Longest that it may stand before the next thing; none if it keeps.
    pub keeps: Option<Minutes>,
}

/// A board and its coats.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct BoardAsked {
    /// Its number in the plan.
    pub number: String,
    /// How long each coat takes to lay, first to last; a stair's later coats cover less.
    pub coats: Vec<Minutes>,
}
