//! Why did this board fail?
//!
//! A painter answers up to eight short questions ("taps"); the recipe and the support add facts. Each answer makes a cause more or
//! less likely by a factor from `data/causes.csv`. All factors of a cause are multiplied and the results are put in order. The taps
//! hang together, so the shares are far too sure: they give an order, and are never shown as a number.

mod judge;
mod load;
mod model;
mod telling;

pub use judge::{EvidenceError, Fit, Judgement, Moved, NextStep, Suspect, Verdict};
pub use load::DataError;
pub(crate) use load::{Row, rows};
pub use model::{Cause, CauseBook, CauseId, Evidence, Fact, FactKey, Factor, Origin, PairTest, Tap, TapKey};
