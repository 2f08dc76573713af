//! The making day: what has to be done, in which order and when, and what one pot can do.
//!
//! Times are whole minutes; a [`Clock`] counts from midnight of the day and may lie before it (the curd is made the day before).
#![forbid(unsafe_code)]

mod asked;
mod boards;
mod calendar;
mod day;
mod order;
mod rework;
mod rounds;
mod shelf;
mod so_far;
mod time;
mod ways;
mod work;
mod worked;

pub use asked::{BoardAsked, DayAsked, Mixed, PotAsked, Preparing, Recoat};
pub use boards::{BoardState, Look, boards};
pub use calendar::{Calendar, CalendarError, Days, Stage, StageDays, calendar};
pub use rework::{PotNow, pot_age, pots_now, rework, risks, time_left};
pub use shelf::{DataError, PotLife, Preparation, TimeShelf};
pub use time::{Clock, Minutes, Span};
pub use ways::{apply, ways_out};
pub use work::work;
pub use worked::{DayError, DayWorked, Found, Happened, How, Risk, Step, StepId, StepKind, Way, WayOut};
