//! A day as worked out, what has happened of it, and what can't be.

use std::fmt;

use serde::{Deserialize, Serialize};

use crate::{Clock, Minutes, Mixed, Span};

/// Name of a step: stays the same however often the day is worked out anew.
///
/// `prepare:A:0`, `mix:A`, `mix:A:2` (the small pot for the second coat), `lay:07:2`, `wash`.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct StepId(pub String);

impl fmt::Display for StepId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// What a step is. `pot` and `board` are places in [`crate::DayAsked::pots`] and in that pot's boards.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", tag = "kind")]
pub enum StepKind {
    /// A preparation of a pot, by its place in the list.
    Prepare {
        /// Pot.
        pot: usize,
        /// Which preparation.
        at: usize,
    },
    /// A pot is mixed; `coat` tells for which coat if it is mixed anew for each.
    Mix {
        /// Pot.
        pot: usize,
        /// Coat, from 1.
        coat: Option<u8>,
    },
    /// A coat is laid.
    Lay {
        /// Pot.
        pot: usize,
        /// Board of that pot.
        board: usize,
        /// Coat, from 1.
        coat: u8,
    },
    /// Brushes and pots are cleaned.
    WashUp,
}

/// One thing to do.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Step {
    /// Name.
    pub id: StepId,
    /// What.
    pub kind: StepKind,
    /// When hands begin.
    pub from: Clock,
    /// When hands are free again.
    pub to: Clock,
    /// The step that must have been done before, if one keeps it waiting.
    pub after: Option<StepId>,
    /// The wait after that step, as a span; zero where there is none.
    pub wait: Span,
    /// When it must be done at the latest (pot too old, coat too hard), if ever.
    pub closes: Option<Clock>,
}

/// A day in order.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct DayWorked {
    /// Steps in the order of doing. Preparations may lie before the day.
    pub steps: Vec<Step>,
    /// When hands are free at last.
    pub ends: Clock,
    /// When they would be if every wait took its long time.
    pub ends_late: Clock,
    /// All hands-on time.
    pub hands_on: Minutes,
    /// The steps of which none may slip without moving the end, first to last.
    pub chain: Vec<StepId>,
    /// Whether a better order can exist.
    pub found: Found,
}

/// How good the order is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Found {
    /// No order ends earlier.
    Best,
    /// The best of all that were looked at; not all were.
    Good,
}

/// What became of a step.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Happened {
    /// Which.
    pub step: StepId,
    /// When it was done, or given up.
    pub at: Clock,
    /// How.
    pub how: How,
}

/// How a step ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum How {
    /// Done.
    Done,
    /// The board is spoilt: nothing more is laid on it. A spoilt pot is mixed again.
    Spoilt,
    /// Not yet: asked again after a while, others first.
    NotYet,
}

/// Something that may go wrong because a step was late.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", tag = "risk")]
pub enum Risk {
    /// The pot will be, or is, too old for what is still to be laid from it.
    PotTooOld {
        /// Pot.
        pot: usize,
        /// When its time is over.
        since: Clock,
    },
    /// The last coat will be, or is, past the time for the next.
    CoatTooHard {
        /// Pot.
        pot: usize,
        /// Board.
        board: usize,
        /// The coat that is late.
        coat: u8,
        /// When its time was over.
        since: Clock,
    },
    /// The day lasts longer than asked.
    TooLong {
        /// By so much.
        by: Minutes,
    },
}

/// Why no day could be worked out.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum DayError {
    /// Nothing to lay.
    #[error("there is nothing to lay in this day; name a recipe and at least one board with one coat")]
    Nothing,
    /// The day ends before it begins.
    #[error("the day has no time: it must end after it begins; say from when to when hands are free, such as 9:00 to 18:00")]
    NoTime,
    /// One round of coats takes longer than the pot lives.
    #[error(
        "one round of coats from pot {letter} takes {round} minutes, but it may be used only {life}; mix smaller pots or lay fewer boards from it"
    )]
    LifeTooShort {
        /// Letter.
        letter: String,
        /// Minutes of a round.
        round: i32,
        /// Minutes of its life.
        life: i32,
    },
    /// No order keeps all pots young enough.
    #[error("no order lays all coats while pot {letter} is young enough")]
    PotsTooOld {
        /// The pot that can't be kept, letter.
        letter: String,
    },
    /// No order lays each coat in time after the last.
    #[error("no order lays each coat from pot {letter} before the last has grown too hard for it; lay fewer boards from it in one round")]
    CoatsTooHard {
        /// The pot, letter.
        letter: String,
    },
    /// It does not fit between beginning and end.
    #[error("it lasts {by} minutes longer than there is time")]
    TooLong {
        /// Minutes too many.
        by: i32,
    },
    /// More than the program lays out.
    #[error("that is more than one day can hold: at most {boards} boards, {pots} pots and {coats} coats on a board")]
    TooMuch {
        /// Boards.
        boards: usize,
        /// Pots.
        pots: usize,
        /// Coats.
        coats: usize,
    },
    /// A step that this day does not have.
    #[error("this day has no step {0}; look at the day again")]
    NoStep(StepId),
}

/// A way to make a day fit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", tag = "way")]
pub enum Way {
    /// Begin earlier.
    Earlier {
        /// By so much.
        by: Minutes,
    },
    /// End later.
    Later {
        /// By so much.
        by: Minutes,
    },
    /// Mix these pots (by place) anew for each coat.
    SmallerPots {
        /// Which.
        pots: Vec<usize>,
        /// How.
        mixed: Mixed,
    },
    /// Lay these pots (by place) on another day.
    TwoDays {
        /// Which stay on the first day.
        first: Vec<usize>,
    },
    /// Leave these boards out, by number.
    FewerBoards {
        /// Which.
        left_out: Vec<String>,
    },
}

/// A way out with what it costs.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct WayOut {
    /// What is changed.
    pub way: Way,
    /// When the day then ends.
    pub ends: Clock,
    /// Hands-on time more than asked; negative if less.
    pub more_hands: Minutes,
}
