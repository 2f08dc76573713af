//! The data files as typed tables.

mod load;
mod model;

pub use load::DataError;
pub use model::{BinderKind, Catalogue, Family, HandbookRow, Hazard, Kind, Material, MaterialId, Pair, Property, Verdict};
