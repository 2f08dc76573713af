//! The page that works out a binder from what is in the fridge.

use crate::card::{CautionView, FigureRow};
use crate::curd::CurdQuestion;

/// The whole answer.
#[derive(Debug, Clone, PartialEq)]
pub struct FridgeView {
    /// Is the acid enough? One sentence.
    pub sentence: String,
    /// What to do about it.
    pub lead: String,
    /// What else follows from acid and milk.
    pub more: Vec<String>,
    /// Each acid told.
    pub acids: Vec<AcidRow>,
    /// What to ask.
    pub questions: Vec<CurdQuestion>,
    /// The curve, as SVG.
    pub picture: String,
    /// What the curve says in words.
    pub beside: Vec<String>,
    /// What other milks would give.
    pub yields: Vec<YieldRow>,
    /// What pH paper moved; empty without readings.
    pub learned: Vec<String>,
    /// What weighed dishes say; empty without.
    pub dishes: Vec<String>,
    /// What each rinse leaves.
    pub rinses: Vec<RinseRow>,
    /// Rinsing in words.
    pub rinsing: Vec<String>,
    /// The pot that opens the curd: one sentence.
    pub opening: String,
    /// What follows from it.
    pub opening_more: Vec<String>,
    /// Every base for this casein.
    pub bases: Vec<BaseRow>,
    /// How strong, how thick.
    pub strengths: Vec<StrengthRow>,
    /// The same in words.
    pub strength: Vec<String>,
    /// Figures with what stands behind them.
    pub figures: Vec<FigureRow>,
    /// Cautions.
    pub mind: Vec<CautionView>,
    /// What was taken for granted.
    pub taken: Vec<String>,
}

/// An acid of the painter's.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AcidRow {
    /// Its name.
    pub name: String,
    /// Its jar.
    pub material: String,
    /// What is at hand; empty if that was not said.
    pub has: String,
    /// What this milk would take of it alone.
    pub alone: String,
    /// Enough alone, or not.
    pub verdict: String,
}

/// A milk in place of the one told.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct YieldRow {
    /// Which.
    pub name: String,
    /// Dry casein.
    pub casein: String,
    /// Wet curd.
    pub curd: String,
    /// What to know about it.
    pub words: String,
    /// Whether it is the one told.
    pub told: bool,
}

/// The curd after a rinse.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RinseRow {
    /// Which rinse, in words.
    pub times: String,
    /// Acid left.
    pub acid: String,
    /// Milk sugar left, of the casein.
    pub sugar: String,
}

/// A base for this casein.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BaseRow {
    /// Its name.
    pub name: String,
    /// Its jar.
    pub material: String,
    /// First dose in grams.
    pub grams: String,
    /// The same in spoons.
    pub spoons: String,
    /// pH that a level teaspoon brings the pot to.
    pub teaspoon: String,
    /// What leaves and what stays.
    pub film: String,
    /// How the film stands water.
    pub water: String,
    /// How the pot keeps.
    pub keeping: String,
    /// Whether it is the one told.
    pub told: bool,
}

/// A strength of casein.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StrengthRow {
    /// Casein in casein and water.
    pub strength: String,
    /// Water in all for the casein at hand.
    pub water: String,
    /// How thick.
    pub thick: String,
}

/// One thing in place of another.
#[derive(Debug, Clone, PartialEq)]
pub struct SwapView {
    /// One sentence.
    pub sentence: String,
    /// What follows from it.
    pub more: Vec<String>,
    /// What does the same work.
    pub rows: Vec<SwapRow>,
    /// Cautions.
    pub mind: Vec<CautionView>,
}

/// What takes its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SwapRow {
    /// Its name.
    pub name: String,
    /// Its jar.
    pub material: String,
    /// How much.
    pub amount: String,
    /// The same in cups and spoons; may be empty.
    pub kitchen: String,
    /// What to know about it.
    pub words: String,
}
