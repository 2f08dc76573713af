//! Whether the dry ground holds: cracks, hiding, bending.

use schemars::JsonSchema;
use serde::Serialize;

use crate::report::FigureReport;

/// An answer in sentences.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct SaidView {
    /// The answer, or why there is none; empty where nothing is asked.
    pub sentence: String,
    /// What goes with it.
    pub more: Vec<String>,
}

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
    /// Coats until wood below it makes no difference that is seen.
    pub coats_on_wood: FigureReport,
    /// What each powder scatters by itself.
    pub powders: Vec<ScatterReport>,
}

/// What a powder scatters for each micrometre if its grains fill the volume and each is alone.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ScatterReport {
    /// Short name.
    pub material: String,
    /// In water, 1/um.
    pub water: f64,
    /// In dry binder, 1/um.
    pub binder: f64,
    /// In air, 1/um.
    pub air: f64,
}

/// What the dry ground drinks.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ThirstReport {
    /// Oil that the air of all coats has room for: an upper bound.
    pub oil_g_m2: FigureReport,
    /// Oil in a first layer of paint; `null` where nothing is said.
    pub layer_g_m2: Option<f64>,
    /// Dry thickness from which the ground could drink all of that.
    pub all_from_um: FigureReport,
    /// How wide a drop of water of 0.05 ml would spread if the ground alone took it in.
    pub drop_mm: FigureReport,
}

/// What one coat of a ground looks like wet and dry: for each thing below it what that, the wet and the dry ground throw back, 0..1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DrawdownView {
    /// Over black, then over dark, usual and pale wood: below, wet, dry.
    pub over: [[f64; 3]; 4],
}

/// What it takes to roll the ground up.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct BendReport {
    /// Diameter of the tightest tube, on canvas 0.6 mm thick, face outside.
    pub tube_mm: FigureReport,
}
