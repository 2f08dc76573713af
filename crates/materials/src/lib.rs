//! What is in the jars, and reading a recipe as a painter tells it.
//!
//! [`Catalogue`] holds the data files (value, unit, range, source); [`read`] turns told text into [`Reading`]: ingredients with
//! amounts, the questions that a careful reader would ask, and every word that was not understood, kept and marked.
#![forbid(unsafe_code)]

mod catalogue;
mod reading;

pub use catalogue::{BinderKind, Catalogue, DataError, Family, HandbookRow, Hazard, Kind, Material, MaterialId, Pair, Property, Verdict};
pub use reading::{
    Amount, Chip, ChipKind, Choice, Fill, Line, LineError, NotGiven, PartBasis, Pick, Piece, Question, QuestionId, Range, Reading, Setting,
    Span, Strength, Struck, Wishes, read, read_strict,
};
