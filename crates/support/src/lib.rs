//! What is painted on, and how it dries: boards and what they tell about a failure, woods, abrasives, the damp that wood takes up, the air of
//! the room, water that leaves a wet ground, and what weighed boards tell about it.
#![forbid(unsafe_code)]

mod air;
mod evaporation;
mod moisture;
mod rows;
mod shelf;

pub use air::{Air, AirError, saturation_pressure};
pub use evaporation::{Back, Evaporation, EvaporationError, WetBoard, evaporation};
pub use moisture::{MoistureError, equilibrium_moisture};
pub use shelf::{DampCell, Grit, GritSeries, Shelf, Support, Wood};
