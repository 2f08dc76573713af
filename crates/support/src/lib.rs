//! What is painted on, and how it dries: boards and what they tell about a failure, woods, abrasives, the damp that wood takes up, the air of
//! the room, water that leaves a wet ground, and what weighed boards tell about it.
#![forbid(unsafe_code)]

mod air;
mod book;
mod course;
mod drying;
mod evaporation;
mod laid;
mod moisture;
mod pace;
mod rows;
mod shelf;
mod span;
mod spans;
mod waits;
mod weighing;

pub use air::{Air, AirError, pot_steam, saturation_pressure};
pub use book::DryingBook;
pub use course::Course;
pub use drying::{OpenFaces, Uptake, Wandering, WetFilm, WetFilmError, all_water, falling, nine_tenths, share_gone, until_matt};
pub use evaporation::{Back, Evaporation, EvaporationError, WetBoard, evaporation};
pub use laid::{Beside, Laid, LaidError, laid};
pub use moisture::{MoistureError, equilibrium_moisture};
pub use pace::{Pace, PaceVerdict, pace};
pub use shelf::{DampCell, Grit, GritSeries, Shelf, Support, Wood};
pub use span::Span;
pub use spans::{
    CoatAsked, DRYING_DRAWS, Draught, DryingAsked, DryingError, DryingSpans, Face, NextCoat, Reading, RoomWarning, drying_spans,
};
pub use waits::{GroundKind, HowLong, Missed, Wait, WaitFor, Waits};
pub use weighing::{CantTell, DryingFit, Steady, SteadyRule, Weighing, fit_drying, steady};
