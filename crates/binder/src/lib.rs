//! From milk to curd to a casein solution; glue in water.
//!
//! In any drop positive and negative charges are equal: [`MilkBalance`] works out the pH of milk and acid from that, [`OpenCasein`] that
//! of casein and base, [`SaltMix`] that of salts alone. [`curd`] runs the whole way from milk to a washed curd and the base that opens
//! it, reading every doubtful number through a function, so that [`curd_with_ranges`] can draw them. Constants, with unit, range and
//! source, stand in `data/`: `binder.csv`, bonds in `equilibria.csv`, groups of proteins in `residues.csv`, bases in `bases.csv`.
#![forbid(unsafe_code)]

mod acid;
mod acid_inputs;
mod bases;
mod book;
mod charge;
mod curd;
mod dissolve;
mod doubt;
mod drying;
mod error;
mod figures;
mod glue;
mod glue_strength;
mod inputs;
mod keeping;
mod learning;
mod milk;
mod opening;
mod opening_doubt;
mod request;
mod souring;
mod warm_pot;
mod warning;
mod wash;

pub use acid::{Acid, Onset, PhReached};
pub use acid_inputs::AcidInputs;
pub use bases::BaseFacts;
pub use book::{BinderBook, Constant};
pub use charge::{CaseinCharge, Davies, Groups, Ligand, Protein, SaltMix, SaltState};
pub use curd::{Caught, Curd, Enough, SourCurve, caught, curd, sour_curve};
pub use dissolve::{Base, ViscosityCurve, base_dose, swap};
pub use doubt::{CurdFigures, curd_with_ranges};
pub use drying::{Dish, DryShare, dry_share};
pub use error::BinderError;
pub use figures::{FIGURE_KEYS, FigureEntry, figure_entry, figures_are_sound};
pub use glue::{GlueUse, alum_acid, glue_percent, glue_use, glue_was_cooked, refraction_rise, soak_water};
pub use glue_strength::{GlueFigures, GlueParts, GlueRequest, ToStrength, glue_with_ranges, parts_percent, to_strength};
pub use inputs::{MakeupInputs, MilkInputs, milk_inputs};
pub use keeping::{Growth, Keeping};
pub use learning::{Learned, Moved, PaperReading, learn};
pub use milk::{casein_in_curd, casein_in_milk, curd_mass, milk_for_casein, milk_mass, water_in_curd};
pub use opening::{Gas, OpenCasein, OpenPot, Opening};
pub use opening_doubt::{OpenFigures, OpenRequest, open_with_ranges};
pub use request::{AcidAmount, AcidAtHand, AcidSource, AcidUnit, CurdState, MilkAmount, MilkKind, MilkRequest};
pub use souring::{CurvePoint, MilkBalance, MilkMakeup, MilkState, OtherAcid, Pour};
pub use warm_pot::{PotEvent, PotLogError, PotState, warm_pot};
pub use warning::Warning;
pub use wash::{wash_water_lift, washed_share, washes_needed};
