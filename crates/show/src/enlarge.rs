//! A recipe made for real panels.

use schemars::JsonSchema;
use serde::Serialize;

use crate::{CautionView, FilmReport, ShoppingLine, WarningReport};

/// Work on real panels as data.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct EnlargeReport {
    /// `groundproof enlarge 1`.
    pub is: &'static str,
    /// Version of the program.
    pub version: &'static str,
    /// The panels.
    pub panels: Vec<EnlargePanel>,
    /// Coats on each.
    pub coats: u32,
    /// Wet mass of one coat, g/m2.
    pub wet_g_m2: f64,
    /// All coats together when dry, at the best values, um; `null` where it is not known.
    pub dry_um: Option<f64>,
    /// What stays in brush and pot, as a share of what is laid.
    pub loss: f64,
    /// All that is coated, m2, one coat.
    pub area_m2: f64,
    /// Wet ground in all, loss included, g.
    pub total_g: f64,
    /// Hands and waits from the first coat to the last, minutes, at the usual pace; `null` where the wait between coats is not known.
    pub minutes: Option<i32>,
    /// How long a pot lives, at the least, minutes; `null` where that is not known.
    pub life_minutes: Option<i32>,
    /// The batches.
    pub batches: Vec<EnlargeBatch>,
    /// What all batches take together.
    pub all: Vec<EnlargeLine>,
    /// What to buy.
    pub shopping: Vec<ShoppingLine>,
    /// What the packs cost together, one for each money.
    pub sums: Vec<String>,
    /// What the stuff costs that goes onto a panel, and the bought primer beside it.
    pub cost: Vec<String>,
    /// Sheets that the panels are cut from.
    pub sheets: Vec<EnlargeSheet>,
    /// Whether fewer sheets can't do with cuts from edge to edge; `null` where nothing is cut.
    pub sheets_least: Option<bool>,
    /// The ordinary verdict on the recipe.
    pub film: FilmReport,
    /// Things to know.
    pub warnings: Vec<WarningReport>,
}

/// Panels of one size.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct EnlargePanel {
    /// How many.
    pub count: u32,
    /// Sides, mm.
    pub sides_mm: [f64; 2],
    /// What is coated of one, m2: face, edges, back.
    pub coated_m2: f64,
    /// Wet ground for one, loss included, g.
    pub wet_g: f64,
}

/// A batch.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct EnlargeBatch {
    /// Its number, from 1.
    pub number: u32,
    /// For which panels.
    pub serves: String,
    /// Wet ground, g.
    pub wet_g: f64,
    /// What goes in.
    pub lines: Vec<EnlargeLine>,
    /// The batch as recipe text, in grams.
    pub recipe: String,
}

/// One stuff.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct EnlargeLine {
    /// Material of the catalogue.
    pub material: String,
    /// Its name.
    pub name: String,
    /// To the last digit, g.
    pub exact_g: f64,
    /// On a step of the scale, g.
    pub mass_g: f64,
    /// As written.
    pub weigh: String,
    /// Level cups and spoons with what their rounding costs.
    pub in_spoons: String,
}

/// A sheet with its panels and cuts in words.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct EnlargeSheet {
    /// Its number, from 1.
    pub number: u32,
    /// What comes out of it.
    pub gives: String,
    /// Cut by cut.
    pub cuts: Vec<String>,
}

/// Work on real panels as a page shows it.
#[derive(Debug, Clone, PartialEq)]
pub struct EnlargeView {
    /// The next thing to do.
    pub sentence: String,
    /// The verdict on the recipe in a sentence.
    pub verdict: String,
    /// How it was counted, and what to mind while it dries.
    pub more: Vec<String>,
    /// What drying asks for on larger work.
    pub drying: Vec<String>,
    /// The list in a sentence.
    pub buy: String,
    /// What is not known, and what was taken instead.
    pub notes: Vec<String>,
    /// What to know before it is bought and mixed.
    pub mind: Vec<CautionView>,
    /// As data.
    pub report: EnlargeReport,
}
