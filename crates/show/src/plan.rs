//! A planned trial of boards: as JSON, and as rows for a page.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Serialize;

use crate::report::WarningReport;

/// What a setting is set to.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum SettingValue {
    /// A number.
    Number(f64),
    /// A kind in words.
    Kind(String),
}

/// One board of the plan.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct BoardReport {
    /// Number on its back.
    pub id: String,
    /// Day or sitting, from 1.
    pub day: u32,
    /// Letter of its pot.
    pub batch: String,
    /// Sheet of wood; `null` where that was not asked.
    pub sheet: Option<String>,
    /// Turn in the whole trial, from 1.
    pub order: u32,
    /// Place on the drying shelf, from 1 on each day.
    pub place: u32,
    /// `recipe`, `yardstick` or `witness`.
    pub kind: &'static str,
    /// Shares of the wet mix by mass; empty where no parts are told.
    pub shares: BTreeMap<String, f64>,
    /// What is set; empty on controls.
    pub settings: BTreeMap<String, SettingValue>,
    /// Coats on each strip from left to right; empty where the board is no stair.
    pub strips: Vec<u32>,
}

/// A setting of the trial.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct SettingReport {
    /// Its name.
    pub name: String,
    /// Kinds in the order typed, numbers from least to most.
    pub levels: Vec<SettingValue>,
    /// `batch` or `board`.
    pub per: &'static str,
}

/// What counts as better.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct BetterReport {
    /// What is read off the boards.
    pub measure: String,
    /// `smaller` or `larger`.
    pub way: &'static str,
}

/// How much the recipe boards tell about a model in all.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CriterionReport {
    /// ln |X' V^-1 X| of the recipe boards, variance between boards of one pot 1.
    pub ln_det: Option<f64>,
    /// Determinant over its bound, by the root of as many as there are terms.
    pub d_efficiency: Option<f64>,
    /// No plan of so many boards can have more.
    pub bound_ln_det: Option<f64>,
    /// Terms of the model.
    pub terms: Vec<String>,
    /// How the terms are coded.
    pub coding: String,
    /// Variance between pots over variance between boards of one pot.
    pub batch_spread: f64,
    /// Why a number is missing.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub why: Option<String>,
}

/// The region of blends.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct RegionReport {
    /// Number of corners.
    pub vertices: Option<u32>,
    /// Number of edges.
    pub edges: Option<u32>,
    /// Numbers of faces, by dimension.
    pub faces: Option<Vec<u32>>,
    /// Why they are missing.
    pub why: String,
}

/// A board that would mend a tangle; it comes from a pot of its own.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ExtraReport {
    /// `recipe` or `yardstick`.
    pub kind: &'static str,
    /// Day, where that matters.
    pub day: Option<u32>,
    /// Sheet, where that matters.
    pub sheet: Option<String>,
    /// Shares of the wet mix.
    pub shares: BTreeMap<String, f64>,
    /// What is set.
    pub settings: BTreeMap<String, SettingValue>,
}

/// Things that the boards can't tell apart, or only badly.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct TangleReport {
    /// `exact`, `half`, `with day`, `with sheet`, `with order`, `with place`, `no honest error`, `one pot`, `hidden`, `no repeats`,
    /// `no control` or `never changes`.
    pub kind: &'static str,
    /// Names of what is tangled.
    pub effects: Vec<String>,
    /// How strongly, 0..1; `null` where there is no such number.
    pub r: Option<f64>,
    /// How many times the boards it takes to tell them apart as well as in an even plan; `null` where that is not known.
    pub times: Option<f64>,
    /// In words, with the mend.
    pub text: String,
    /// Boards that would mend it.
    pub add: Vec<ExtraReport>,
}

/// The least that any result of one comparison could show.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct LeastReport {
    /// The setting.
    pub effect: String,
    /// The two kinds or values.
    pub between: [String; 2],
    /// `yes or no`, `ordered` or `paired`.
    pub test: &'static str,
    /// Independent pots or boards of each.
    pub split: [usize; 2],
    /// `batch` or `board`.
    pub unit: &'static str,
    /// How often luck alone would do as much, for the clearest result that is possible.
    pub least_p: f64,
}

/// The columns behind the check.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ColumnsReport {
    /// Names: a constant or the shares, then the settings.
    pub terms: Vec<String>,
    /// Independent columns.
    pub rank: usize,
    /// Exact ties.
    pub ties: usize,
    /// Correlation of each pair; `null` where one does not vary.
    pub r: Vec<Vec<Option<f64>>>,
    /// How many times the doubt about each grows because of the others; `null` for the constant and for tied columns.
    pub vif: Vec<Option<f64>>,
    /// Scaled condition number; `null` with a tie.
    pub condition: Option<f64>,
    /// Products of two settings that are not in the model.
    pub left_out: Vec<String>,
    /// What each product adds to each column's estimate: a row a column; `null` with a tie.
    pub alias: Option<Vec<Vec<f64>>>,
    /// Why numbers are missing.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub why: Option<String>,
}

/// A planned trial.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct PlanReport {
    /// `groundproof plan 1`.
    pub is: &'static str,
    /// Version of the program.
    pub version: &'static str,
    /// Things to know.
    pub warnings: Vec<WarningReport>,
    /// What the trial asks; `null` if it does not say.
    pub question: Option<String>,
    /// What counts as better; `null` if it does not say.
    pub better: Option<BetterReport>,
    /// `crossed`, `typed`, `stair board` or `two by two`.
    pub ready: &'static str,
    /// From which order and places are drawn: the same seed gives the same plan.
    pub seed: u64,
    /// Whether the order was drawn; else it was typed.
    pub order_drawn: bool,
    /// Settings.
    pub settings: Vec<SettingReport>,
    /// Boards in the order of laying.
    pub boards: Vec<BoardReport>,
    /// Boards to cut besides, for accidents.
    pub spares: u32,
    /// How much they tell.
    pub criterion: CriterionReport,
    /// The region of blends.
    pub region: Option<RegionReport>,
    /// Tangles, gravest first.
    pub tangles: Vec<TangleReport>,
    /// What the boards can answer.
    pub can: Vec<String>,
    /// What they can't.
    pub cannot: Vec<String>,
    /// The least that any result could show.
    pub least: Vec<LeastReport>,
    /// The columns behind the check.
    pub columns: ColumnsReport,
}

/// One board as words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BoardRow {
    /// Number on its back.
    pub id: String,
    /// Day.
    pub day: String,
    /// Pot.
    pub batch: String,
    /// Place on the shelf.
    pub place: String,
    /// Sheet; empty where that was not asked.
    pub sheet: String,
    /// What it carries.
    pub carries: String,
}

/// A planned trial as a page shows it.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanView {
    /// How many boards on how many days, in a sentence.
    pub sentence: String,
    /// Boards in the order of laying.
    pub rows: Vec<BoardRow>,
    /// Everything else.
    pub report: PlanReport,
}
