//! What the boards of a trial say, and what they can't: from readings as a table to differences with ranges and a verdict.
//!
//! The unit is the board, or the pot where one pot made several boards of a recipe. Differences are taken on the same day first. The
//! witness takes no part in any difference: it only tells whether the support is to blame.

mod effects;
mod factors;
mod fitted;
mod fold;
mod load;
mod measured;
mod model;
mod next;
mod read_value;
mod readings;
mod recipes;
mod rules;
mod stairs;
mod tangles;
mod test;
mod thresholds;
mod witness;

pub use load::{BadLine, MOST_BOARDS, MOST_BYTES, MOST_ROWS, read};
pub use measured::{Unanswered, answer};
pub use model::{Answer, Change, Effect, Figure, Group, Measured, Note, Question, Tangle, Test, Threshold, Unit, UnitIs, Verdict, Way};
pub use readings::{Board, Job, Kind, Reading, Readings, Seen};
pub use rules::{Rules, RulesError};
