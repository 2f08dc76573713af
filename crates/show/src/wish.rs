//! A wish worked back to a pot.

use schemars::JsonSchema;
use serde::Serialize;

use crate::{Card, FigureReport, FilmReport, WarningReport};

/// A wish as data.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct WishReport {
    /// `groundproof wish 1`.
    pub is: &'static str,
    /// Version of the program.
    pub version: &'static str,
    /// What was wished for, a sentence each.
    pub wished: Vec<String>,
    /// Whether all of it is kept, as the ordinary verdict on the result says.
    pub reached: bool,
    /// Why it can't be reached with what is here; empty if it is.
    pub why_not: Vec<String>,
    /// What is other than in the recipe that it is like, and why.
    pub changed: Vec<String>,
    /// The pot as recipe text, in grams.
    pub recipe: String,
    /// The same in level cups and spoons, as recipe text; empty where none were asked for.
    pub recipe_in_spoons: String,
    /// Stuff by stuff.
    pub lines: Vec<WishLine>,
    /// What the rounding does to the film.
    pub rounding: WishRounding,
    /// The ordinary verdict on the recipe in grams.
    pub film: FilmReport,
    /// Things to know.
    pub warnings: Vec<WarningReport>,
}

/// One stuff of the pot.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct WishLine {
    /// Material of the catalogue.
    pub material: String,
    /// Its name as it stands in the recipe.
    pub name: String,
    /// Grams in the pot that it is like, at the same size; `null` where it is new.
    pub before_g: Option<f64>,
    /// Grams, on a step of the scale.
    pub mass_g: f64,
    /// Level cups and spoons with what their rounding costs; empty where none were asked for.
    pub in_spoons: String,
    /// Grams as written.
    pub weigh: String,
    /// Grams before as written; empty where it is new.
    pub before: String,
}

/// What rounding does, by the ordinary verdict on each text.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct WishRounding {
    /// Step of the scale, g.
    pub step_g: f64,
    /// Place on the rule before rounding, at the best values.
    pub lambda_exact: f64,
    /// Powder share before rounding, at the best values.
    pub pvc_exact: f64,
    /// Place on the rule in grams, rounded.
    pub lambda: FigureReport,
    /// Powder share in grams, rounded.
    pub pvc: FigureReport,
    /// Place on the rule in cups and spoons.
    pub lambda_in_spoons: Option<FigureReport>,
    /// Powder share in cups and spoons.
    pub pvc_in_spoons: Option<FigureReport>,
    /// The same in words.
    pub words: Vec<String>,
}

/// A wish as a page shows it.
#[derive(Debug, Clone, PartialEq)]
pub struct WishView {
    /// What to take, or that it can't be reached.
    pub sentence: String,
    /// The verdict on it in a sentence.
    pub verdict: String,
    /// The card of the result.
    pub card: Card,
    /// Place on the rule of the recipe that it is like.
    pub bar_before: Option<crate::Bar>,
    /// As data.
    pub report: WishReport,
}
