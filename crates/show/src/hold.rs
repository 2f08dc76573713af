//! Whether the dry ground holds: cracks, hiding, bending.

use schemars::JsonSchema;
use serde::Serialize;

use crate::report::FigureReport;

/// How thick a coat may be, in sentences.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ThicknessView {
    /// The answer, or why there is none.
    pub sentence: String,
    /// What goes with it.
    pub more: Vec<String>,
    /// What moves the chance of a crack most, most first.
    pub movers: Vec<MoverView>,
    /// Whether binder against thickness can be drawn.
    pub has_window: bool,
}

/// Something that is not known and moves the chance of a crack.
#[derive(Debug, Clone, PartialEq)]
pub struct MoverView {
    /// In the painter's words.
    pub plain: String,
    /// Chance in its larger half less chance in its smaller half, -1..1.
    pub by: f64,
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
