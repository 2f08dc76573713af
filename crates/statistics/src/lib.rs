//! Pure mathematics on slices of numbers: no word of the trade, no doubt of its own.
//!
//! [`coding`] turns kinds and numbers into columns; [`Columns`] holds them and says which can't be told apart ([`Columns::ties`]), how
//! nearly the others move together ([`correlations`], [`inflations`], [`condition`]), what a column that was left out adds to the
//! others ([`aliases`]) and how much the rows tell in all ([`information`]). [`least`] holds the smallest chance that any result of
//! a small comparison can show; [`Chance`] is a repeatable source of chance.
#![forbid(unsafe_code)]

mod agreement;
mod alias;
mod basis;
mod between;
mod chance;
pub mod coding;
mod collinearity;
mod columns;
mod counted;
mod information;
pub mod least;
mod least_squares;
mod posterior;
mod rank;
mod search;
mod shuffle;
mod tables;
mod together;
mod two_groups;

pub use agreement::{Agreement, AgreementError, Weights, agreement, rating_table};
pub use alias::aliases;
pub use between::{Between, Fit, NoFit, Priors, Shape, fit, fit_with_priors};
pub use chance::Chance;
pub use collinearity::{condition, correlations, inflation_beside, inflations};
pub use columns::{Columns, ColumnsError};
pub use counted::{limits, most_when_none};
pub use information::{InformationError, information};
pub use least_squares::{Dependent, LeastSquares, NoLine, dependent_columns, least_squares};
pub use posterior::Posterior;
pub use rank::{mean_ranks, rank_correlation};
pub use shuffle::{Exact, How, Sampling, Stratum, least_shuffled, mann_whitney, shuffled, sign_changes};
pub use tables::{Pair, fisher, least_fisher};
pub use together::{Shared, Sharing, together};
pub use two_groups::TwoGroups;
