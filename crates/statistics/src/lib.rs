//! Pure mathematics on slices of numbers: no word of the trade, no doubt of its own.
#![forbid(unsafe_code)]

mod rank;

pub use rank::rank_correlation;
