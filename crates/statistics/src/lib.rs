//! Pure mathematics on slices of numbers: no word of the trade, no doubt of its own.
#![forbid(unsafe_code)]

mod between;
mod counted;
mod least_squares;
mod posterior;
mod rank;
mod search;
mod shuffle;
mod tables;
mod two_groups;

pub use between::{Between, Fit, NoFit, Priors, Shape, fit, fit_with_priors};
pub use counted::{limits, most_when_none};
pub use least_squares::{Dependent, LeastSquares, NoLine, dependent_columns, least_squares};
pub use posterior::Posterior;
pub use rank::{mean_ranks, rank_correlation};
pub use shuffle::{Exact, How, Sampling, Stratum, least_shuffled, mann_whitney, shuffled, sign_changes};
pub use tables::{Pair, fisher, least_fisher};
pub use two_groups::TwoGroups;
