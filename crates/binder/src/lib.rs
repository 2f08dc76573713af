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
mod contents;
mod curd;
mod dissolve;
mod doubt;
mod drying;
mod error;
mod figures;
mod foam;
mod glue;
mod glue_strength;
mod inputs;
mod instead;
mod keeping;
mod learning;
mod milk;
mod opening;
mod opening_doubt;
mod request;
mod rinsing;
mod sour_curve;
mod souring;
mod warm_pot;
mod warning;
mod wash;

pub use acid::{Acid, Onset, PhReached};
pub use acid_inputs::AcidInputs;
pub use bases::BaseFacts;
pub use book::{BinderBook, Constant};
pub use charge::{CaseinCharge, Davies, Groups, Ligand, Protein, SaltMix, SaltState};
pub use contents::{Change, Contents, ContentsFigures, contents_with_ranges};
pub use curd::{Caught, Curd, Enough, caught, curd};
pub use dissolve::{Base, ViscosityCurve, base_dose, swap};
pub use doubt::{CaughtFigures, CurdFigures, caught_with_ranges, curd_with_inputs, curd_with_ranges};
pub use drying::{Dish, DryShare, dry_share};
pub use error::BinderError;
pub use figures::{FIGURE_KEYS, figure_entry, figures_are_sound};
pub use foam::{FoamRoom, foam_room};
pub use glue::{GlueUse, alum_acid, glue_percent, glue_use, glue_was_cooked, refraction_rise, soak_water};
pub use glue_strength::{GlueFigures, GlueParts, GlueRequest, ToStrength, glue_with_ranges, parts_percent, to_strength};
pub use inputs::{MakeupInputs, MilkInputs, milk_inputs};
pub use instead::{acid_instead, base_instead, dry_instead, powder_for};
pub use keeping::{Growth, Keeping};
pub use learning::{Learned, Moved, PaperReading, learn, poured};
pub use milk::{casein_in_curd, casein_in_milk, curd_mass, milk_for_casein, milk_mass, water_in_curd};
pub use opening::{Gas, OpenCasein, OpenPot, Opening};
pub use opening_doubt::{OpenFigures, OpenRequest, open_with_ranges};
pub use request::{AcidAmount, AcidAtHand, AcidSource, AcidUnit, CurdState, MilkAmount, MilkKind, MilkRequest};
pub use rinsing::{Rinsed, Rinsing, acid_in_curd, rinsing};
pub use sour_curve::{BandPoint, SourBand, SourCurve, sour_band, sour_curve};
pub use souring::{CurvePoint, MilkBalance, MilkMakeup, MilkState, OtherAcid, Pour};
pub use warm_pot::{PotCoat, PotEvent, PotLogError, PotState, coats_laid, warm_pot};
pub use warning::Warning;
pub use wash::{wash_water_lift, washed_share, washes_needed};
