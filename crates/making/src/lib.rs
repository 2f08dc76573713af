//! The making day: what has to be done, in which order and when, and what one pot can do.
//!
//! Times are whole minutes; a [`Clock`] counts from midnight of the day and may lie before it (the curd is made the day before).
#![forbid(unsafe_code)]

mod asked;
mod pot;
mod rescue;
mod rows;
mod time;
mod walk;
mod worked;

pub use asked::{BoardAsked, DayAsked, Mixed, PotAsked, Preparing, Recoat};
pub use pot::{
    CoatHow, CoatTarget, CoatWeight, Correction, Gone, PotBook, PotError, PotFigure, PotMix, PotSeen, same_when_dry, water_lost,
};
pub use rescue::{PotFamily, Rescue, Sight, rescues, rescues_for};
pub use rows::RowsError;
pub use time::{Clock, Minutes, Span};
pub use walk::{WalkStep, walk};
pub use worked::{DayError, DayWorked, Found, Happened, How, Risk, Step, StepId, StepKind, Way, WayOut};
