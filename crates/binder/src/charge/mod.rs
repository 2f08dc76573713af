//! Charge balances: ions in water, milk, opened casein. In any drop positive and negative charges are equal; the pH is where they are.

mod casein;
mod constants;
mod davies;
mod ligands;
mod protein;
mod root;
mod salts;
mod solution;

pub use casein::CaseinCharge;
pub use davies::Davies;
pub use ligands::Ligand;
pub use protein::{Groups, Protein};
pub use salts::{SaltMix, SaltState};

pub(crate) use constants::ChargeConstants;
pub(crate) use ligands::PerLigand;
pub(crate) use protein::bare;
pub(crate) use root::{falling, falling_from};
pub(crate) use solution::{Guess, Settled, Site, Totals};
