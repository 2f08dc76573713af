//! The making day: what has to be done, in which order and when, and what one pot can do.
//!
//! Times are whole minutes; a [`Clock`] counts from midnight of the day and may lie before it (the curd is made the day before).
#![forbid(unsafe_code)]

mod asked;
mod binder;
mod boards;
mod calendar;
mod cutting;
mod day;
mod laying;
mod order;
mod pot;
mod rescue;
mod rework;
mod rounds;
mod rows;
mod shelf;
mod shopping;
mod so_far;
mod time;
mod walk;
mod ways;
mod work;
mod worked;

pub use asked::{BoardAsked, DayAsked, Mixed, PotAsked, Preparing, Recoat};
pub use binder::{BinderStage, BinderWay, binder_ways};
pub use boards::{BoardState, Look, boards};
pub use calendar::{Calendar, CalendarError, Days, Stage, StageDays, calendar};
pub use cutting::{Cut, CutError, CutPlan, CutSheet, Panels, Placed, Sheet, cut_list};
pub use laying::Laying;
pub use pot::{
    CoatHow, CoatTarget, CoatWeight, Correction, Gone, PotBook, PotError, PotFigure, PotMix, PotSeen, same_when_dry, water_lost,
};
pub use rescue::{PotFamily, Rescue, Sight, rescues, rescues_for};
pub use rework::{PotNow, pot_age, pots_now, rework, risks, time_left};
pub use rows::RowsError;
pub use shelf::{DataError, PotLife, Preparation, TimeShelf};
pub use shopping::{Chosen, Money, Pack, Tenths, ToBuy, to_buy};
pub use time::{Clock, Minutes, Span};
pub use walk::{WalkStep, walk};
pub use ways::{apply, ways_out};
pub use work::work;
pub use worked::{DayError, DayWorked, Found, Happened, How, Risk, Step, StepId, StepKind, Way, WayOut};
