//! Whether the dry ground holds: cracks, hiding, bending.

use schemars::JsonSchema;
use serde::Serialize;

use crate::report::FigureReport;

/// How thick a coat may be, in sentences.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct ThicknessView {
    /// The answer, or why there is none.
    pub sentence: String,
    /// What goes with it.
    pub more: Vec<String>,
}

/// The chance that the pull of drying cracks the ground. Numbers are rounded to tenths; `low` and `high` are the chances with the
/// critical share anywhere in its band.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CrackReport {
    /// One coat by itself.
    pub one_coat: FigureReport,
    /// All coats asked for.
    pub all_coats: FigureReport,
    /// The support that it was worked out for.
    pub support: String,
    /// The chance in words; empty where it is not known.
    pub said: String,
    /// What moves it most, most first.
    pub moved_most: Vec<String>,
    /// Where the answer leaves what is known.
    pub marks: Vec<String>,
}

/// How well the ground hides what is below it.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct HidingReport {
    /// What it shows over black as a share of what it shows over white, all coats as one wet layer.
    pub wet: FigureReport,
    /// The same, dry.
    pub dry: FigureReport,
    /// Coats until that share is 0.98.
    pub coats: FigureReport,
}

/// What it takes to roll the ground up.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct BendReport {
    /// Diameter of the tightest tube, on canvas 0.6 mm thick, face outside.
    pub tube_mm: FigureReport,
}
