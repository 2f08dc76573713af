//! Pure mathematics on slices of numbers: no word of the trade, no doubt of its own.
#![forbid(unsafe_code)]

mod agreement;
mod rank;

pub use agreement::{Agreement, AgreementError, Weights, agreement, rating_table};
pub use rank::rank_correlation;
