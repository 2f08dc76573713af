//! What is painted on: boards and what they tell about a failure, woods, abrasives, and the damp that wood takes up from the air.
#![forbid(unsafe_code)]

mod moisture;
mod shelf;

pub use moisture::{MoistureError, equilibrium_moisture};
pub use shelf::{DampCell, Grit, GritSeries, Shelf, Support, Wood};
