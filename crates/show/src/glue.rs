//! Reports of glue in water and of the warm pot.

use schemars::JsonSchema;
use serde::Serialize;

use crate::answer::StepView;
use crate::card::FigureRow;
use crate::curd::CurdQuestion;
use crate::report::{CautionReport, FigureReport, WarningReport};

/// `groundproof glue`: how strong glue is, what brings it to a strength, and the warm pot.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct GlueReport {
    /// `groundproof glue 1`.
    pub is: &'static str,
    /// Version of the program.
    pub version: &'static str,
    /// Things to know.
    pub warnings: Vec<WarningReport>,
    /// Dry glue.
    pub glue_g: FigureReport,
    /// Water; a millilitre counts as a gram.
    pub water_g: FigureReport,
    /// Glue in glue and water by weight.
    pub glue_share: FigureReport,
    /// `thinner`, `size`, `gesso`, `stronger` or `not said`: where it stands beside printed strengths.
    pub stands: &'static str,
    /// Strength wanted, as a share; `null` if none was told.
    pub wanted_share: Option<f64>,
    /// Water to put in for it.
    pub add_water_g: FigureReport,
    /// Dry glue to put in for it.
    pub add_glue_g: FigureReport,
    /// The ratio as weights; `null` if none was told.
    pub by_weight: Option<GlueRatioReport>,
    /// The ratio as volumes; `null` if none was told.
    pub by_volume: Option<GlueRatioReport>,
    /// The pot at each weighing of the log.
    pub pot: Vec<GluePotReport>,
    /// Each coat of the log, and whatever else was taken.
    pub coats: Vec<GlueCoatReport>,
    /// Steps.
    pub steps: Vec<StepView>,
    /// Cautions.
    pub cautions: Vec<CautionReport>,
    /// What to ask.
    pub questions: Vec<CurdQuestion>,
}

/// One reading of a ratio.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct GlueRatioReport {
    /// Strength by weight.
    pub share: FigureReport,
    /// Water for the glue at hand.
    pub water_g: FigureReport,
}

/// The pot at a weighing.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct GluePotReport {
    /// The line of the log.
    pub said: String,
    /// What is in the pot.
    pub pot_g: FigureReport,
    /// Water lost to the air since the beginning.
    pub lost_g: FigureReport,
    /// Strength by weight.
    pub share: FigureReport,
    /// Water that brings it back to the strength of the beginning.
    pub add_water_g: FigureReport,
}

/// A coat laid from the pot.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct GlueCoatReport {
    /// The line of the log.
    pub said: String,
    /// Its strength by weight.
    pub share: FigureReport,
    /// Whether the pot was weighed after it; if not, it may have been stronger.
    pub weighed_after: bool,
    /// Whether it was stronger than the coat before it, beyond doubt.
    pub stronger_than_before: bool,
}

/// A coat as a row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GlueCoatRow {
    /// The line of the log.
    pub said: String,
    /// Strength.
    pub strength: String,
    /// Beside the coat before it.
    pub beside: String,
}

/// A weighing as a row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GluePotRow {
    /// The line of the log.
    pub said: String,
    /// Water lost since the beginning.
    pub lost: String,
    /// Strength.
    pub strength: String,
    /// What to put in.
    pub add: String,
}

/// Glue as a page or a terminal shows it.
#[derive(Debug, Clone, PartialEq)]
pub struct GlueView {
    /// One sentence.
    pub sentence: String,
    /// What follows from it.
    pub more: Vec<String>,
    /// The weighings.
    pub pot_rows: Vec<GluePotRow>,
    /// The coats.
    pub coat_rows: Vec<GlueCoatRow>,
    /// Jelly, Bloom and the order of strengths: a heading and what is said under it.
    pub know: Vec<(&'static str, Vec<String>)>,
    /// Figures with what stands behind them.
    pub figures: Vec<FigureRow>,
    /// The same as data.
    pub report: GlueReport,
}
