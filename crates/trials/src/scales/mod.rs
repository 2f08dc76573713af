//! The scales by which boards are read: what is asked, what each class looks like, and what may be typed.
//!
//! A [`Scale`] turns what a painter types (`2`, `over 600`, `5 of 25`, `4A`, `2(S3)`) into a [`ReadingValue`]; that is written to and
//! read from tables as `2.5`, `>600`, `<0.05`, `3..7`. Scales, classes and limits are data (`data/scales.csv`, `data/classes.csv`,
//! `data/cuts.csv`, `data/cylinders.csv`), each row with its source.

mod bending;
mod cutting;
mod load;
mod model;
mod number;
mod own;
mod typed;
mod value;
mod wording;

pub use bending::{BendError, BentStrip, Cylinder, along_cone, cone_at, wet_for_dry};
pub use cutting::{BoardFeel, Cut};
pub use model::{Better, Class, Kind, LimitRule, Rank, Scale, ScaleBook, ScaleId};
pub use own::OwnScaleError;
pub use typed::{Typed, TypedError};
pub use value::{ReadingValue, ValueError, median};
