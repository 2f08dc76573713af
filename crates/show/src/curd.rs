//! Reports of curd and of opened casein.

use schemars::JsonSchema;
use serde::Serialize;

use crate::report::{CautionReport, FigureReport, WarningReport};

/// `groundproof curdle`: where the acid leads, and what stays in the cloth.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CurdleReport {
    /// `groundproof curdle 1`.
    pub is: &'static str,
    /// Version of the program.
    pub version: &'static str,
    /// Things to know.
    pub warnings: Vec<WarningReport>,
    /// Acidity that all the acid brings the milk to; not known without an amount, and below pH 4.0.
    pub ph: FigureReport,
    /// Dry casein in the curd.
    pub casein_g: FigureReport,
    /// Whey protein that fell with it, for milk that was hot before.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub whey_protein_g: Option<FigureReport>,
    /// Wet curd.
    pub curd_wet_g: FigureReport,
    /// Whey drained off before rinsing.
    pub whey_ml: FigureReport,
    /// Acid that brings the milk to pH 4.6, of the one named first, beside the others: ml as told (a lemon as its juice), g for crystals.
    pub acid_for_curdling: FigureReport,
    /// Whole lemons that hold it, if the acid is lemons.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pieces_for_curdling: Option<FigureReport>,
    /// Acid left in the drained curd after the rinses.
    pub residual_acid: FigureReport,
    /// The pH from which milk of this warmth looks curdled. No sign to stop.
    pub curdles_from_ph: FigureReport,
    /// Whether the acid is enough: `yes`, `no`, `more than enough` or `not said`.
    pub acid_enough: &'static str,
    /// Milk sugar left, g for each g of casein.
    pub sugar_left: FigureReport,
    /// Rinses of this size that bring the milk sugar to 1 % of the casein; `null` if none do.
    pub rinses_for_clean: Option<u32>,
    /// What to ask.
    pub questions: Vec<CurdQuestion>,
    /// Cautions.
    pub cautions: Vec<CautionReport>,
}

/// A question whose answer would change the figures.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CurdQuestion {
    /// Short name.
    pub id: String,
    /// The question.
    pub ask: String,
    /// What is taken meanwhile.
    pub assumed: String,
    /// Some answers.
    pub choices: Vec<CurdChoice>,
    /// Largest difference in pH that these answers make; `null` if not known.
    pub narrows: Option<f64>,
}

/// An answer.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CurdChoice {
    /// Short name.
    pub id: String,
    /// In words.
    pub label: String,
    /// The pH if this is the answer; `null` if not known.
    pub ph: Option<f64>,
}

/// `groundproof dissolve`: casein and what opens it.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct DissolveReport {
    /// `groundproof dissolve 1`.
    pub is: &'static str,
    /// Version of the program.
    pub version: &'static str,
    /// Things to know.
    pub warnings: Vec<WarningReport>,
    /// Dry casein in the pot.
    pub casein_g: FigureReport,
    /// All water, that of the curd too.
    pub water_ml: FigureReport,
    /// Casein in casein and water.
    pub casein_share: FigureReport,
    /// Acidity once it was stirred for an hour.
    pub ph: FigureReport,
    /// Acidity when all gas has gone that goes, as in the film.
    pub film_ph: FigureReport,
    /// The pH asked for.
    pub ph_goal: f64,
    /// Base, as it is at hand, that brings the pot there.
    pub base_for_ph_g: FigureReport,
    /// Base to begin with.
    pub first_dose_g: FigureReport,
    /// How often the base at hand holds what the casein needs.
    pub times_needed: FigureReport,
    /// `grainy`, `nearly`, `open`, `too much`, `sets` for lime, or `not said`.
    pub opening: &'static str,
    /// What stays in the film, and how that stands water.
    pub film: String,
    /// How thick it is, as far as that is known.
    pub thickness: String,
    /// Share of borax crystals in the pot, if it is borax.
    pub borax_share: Option<f64>,
    /// Other bases that do the same, none of them borax.
    pub instead: Vec<InsteadReport>,
    /// What to ask.
    pub questions: Vec<CurdQuestion>,
    /// Cautions.
    pub cautions: Vec<CautionReport>,
}

/// Another base for the same pot.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct InsteadReport {
    /// Its jar.
    pub material: String,
    /// Its name.
    pub name: String,
    /// How much of it to begin with.
    pub first_dose_g: FigureReport,
    /// What stays in the film, and how that stands water.
    pub film: String,
}

/// Curd as a page or a terminal shows it.
#[derive(Debug, Clone, PartialEq)]
pub struct CurdleView {
    /// One sentence.
    pub sentence: String,
    /// What follows from it.
    pub more: Vec<String>,
    /// The same as data.
    pub report: CurdleReport,
}

/// Opened casein as a page or a terminal shows it.
#[derive(Debug, Clone, PartialEq)]
pub struct DissolveView {
    /// One sentence.
    pub sentence: String,
    /// What follows from it.
    pub more: Vec<String>,
    /// The same as data.
    pub report: DissolveReport,
}
