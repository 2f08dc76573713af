//! From milk to curd to a casein solution.
//!
//! Plain functions work out one step each; [`curd`] runs the whole way from milk to a washed curd and the base that opens it, reading
//! every doubtful number through a function, so that [`curd_with_ranges`] can draw them. Constants, with unit, range and source, stand
//! in `data/binder.csv`.
#![forbid(unsafe_code)]

mod acid;
mod book;
mod curd;
mod dissolve;
mod doubt;
mod error;
mod inputs;
mod milk;
mod request;
mod warning;
mod wash;

pub use acid::{Acid, DoseLine, Onset, PhReached};
pub use book::{BinderBook, Constant};
pub use curd::{Curd, Enough, curd};
pub use dissolve::{Base, ViscosityCurve, base_dose};
pub use doubt::{CurdFigures, curd_with_ranges};
pub use error::BinderError;
pub use inputs::{MilkInputs, milk_inputs};
pub use milk::{casein_in_curd, casein_in_milk, curd_mass, milk_for_casein, milk_mass, water_in_curd};
pub use request::{AcidAmount, AcidAtHand, AcidSource, AcidUnit, CurdState, MilkAmount, MilkKind, MilkRequest};
pub use warning::Warning;
pub use wash::{washed_share, washes_needed};
