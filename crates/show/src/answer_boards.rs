//! What the boards of a trial answer.

use schemars::JsonSchema;
use serde::Serialize;

use crate::report::{FigureReport, WarningReport};

/// One exact test.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ExactReport {
    /// Which test.
    pub test: String,
    /// Units on either side that took part, such as `4 v 4`.
    pub split: String,
    /// Same-day groups that hold both sides.
    pub same_day_groups: usize,
    /// Two-sided share of all arrangements that part the boards as far, 0..1.
    pub p: f64,
    /// The smallest that this split could ever give.
    pub least_p: f64,
    /// `all`, or how many arrangements were drawn and from which seed.
    pub arrangements: String,
}

/// One difference.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct EffectReport {
    /// `recipe`, the name of a setting, two names joined by `with`, or `day`.
    pub name: String,
    /// First side.
    pub from: String,
    /// Second side; the figure is second less first.
    pub to: String,
    /// Only among boards with this setting; empty for all boards.
    pub within: String,
    /// Whether the trial was made for it; differences to the yardstick and between days stand beside only.
    pub asked: bool,
    /// The difference with the range that holds eight of ten. For yes and no: share of the second side less share of the first.
    pub figure: FigureReport,
    /// Chance that it is above 0.
    pub odds_above_0: Option<f64>,
    /// Its exact test.
    pub exact: Option<ExactReport>,
    /// `told`, `leans` or `cannot tell`.
    pub verdict: &'static str,
}

/// Something that can't be parted from something else.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct AnswerTangleReport {
    /// What is tangled.
    pub effects: Vec<String>,
    /// In a sentence.
    pub text: String,
    /// Boards that would part them.
    pub add: Vec<String>,
}

/// Boards of one recipe.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct GroupReport {
    /// Recipe or settings.
    pub name: String,
    /// `recipe`, `yardstick` or `witness`.
    pub job: &'static str,
    /// Boards with a value.
    pub boards: usize,
    /// Boards or pots that count.
    pub units: usize,
    /// Boards with yes; only for yes and no.
    pub yes: Option<u32>,
    /// Mean; only for values read exactly.
    pub mean: Option<f64>,
}

/// Chance that a new board gives way below a mark.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct NewBoardReport {
    /// The mark.
    pub at: f64,
    /// The chance.
    pub chance: f64,
}

/// A curve fitted without any belief.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct FitReport {
    /// `log-normal` or `weibull`.
    pub curve: &'static str,
    /// Place in the logarithm; for weibull the logarithm of its scale.
    pub place: Option<f64>,
    /// Spread in the logarithm; for weibull one over its shape.
    pub spread: Option<f64>,
    /// Logarithm of the likelihood.
    pub log_likelihood: Option<f64>,
    /// Why there is none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub why: Option<String>,
}

/// Where boards of one recipe give way.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ThresholdReport {
    /// Recipe or settings.
    pub recipe: String,
    /// Half the boards give way below this.
    pub median: FigureReport,
    /// For a new board.
    pub new_board: Vec<NewBoardReport>,
    /// Thickest that was tried and held, when some board held to the end.
    pub not_beyond: Option<f64>,
    /// Curves.
    pub fits: Vec<FitReport>,
}

/// One measure.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct MeasureReport {
    /// Its name.
    pub measure: String,
    /// Its kind.
    pub kind: &'static str,
    /// What was counted: `board` or `batch`.
    pub unit: &'static str,
    /// Boards with a value, the witness left out.
    pub boards: usize,
    /// Pots behind them; a board without a pot counts as its own.
    pub batches: usize,
    /// Recipes, yardstick, witness.
    pub groups: Vec<GroupReport>,
    /// Differences, the asked ones first.
    pub effects: Vec<EffectReport>,
    /// The exact test of the difference that the verdict rests on.
    pub exact: Option<ExactReport>,
    /// What can't be parted.
    pub tangles: Vec<AnswerTangleReport>,
    /// Thresholds; only for stair boards and values seen between marks.
    pub thresholds: Vec<ThresholdReport>,
    /// `told`, `leans` or `cannot tell`.
    pub verdict: &'static str,
    /// Why nothing could be worked out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub why: Option<String>,
    /// The answer in words.
    pub sentence: String,
}

/// What is better.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct AskedReport {
    /// Of which measure; empty for all.
    pub measure: String,
    /// `smaller` or `larger`.
    pub way: &'static str,
}

/// One thing to do next.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct NextReport {
    /// What.
    pub what: String,
    /// Why.
    pub why: String,
}

/// What the boards answer, as data.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct AnswerReport {
    /// `groundproof answer 1`.
    pub is: &'static str,
    /// Version of the program.
    pub version: &'static str,
    /// Things to know.
    pub warnings: Vec<WarningReport>,
    /// The question, as told; may be empty.
    pub question: String,
    /// What is better, when it was said.
    pub better: Option<AskedReport>,
    /// The measures.
    pub measures: Vec<MeasureReport>,
    /// The one change that is advised.
    pub next: Vec<NextReport>,
}

/// One measure as a page shows it: a sentence, a picture, then numbers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AnsweredMeasure {
    /// Its name.
    pub title: String,
    /// The shortest true answer, for the largest type.
    pub headline: String,
    /// Boards of every recipe and what they read.
    pub counted: String,
    /// Size and range first, then what the boards say.
    pub sentence: String,
    /// Further sentences: unit counted, what none of so many still allows, settings that depend on each other.
    pub more: Vec<String>,
    /// The boards as a picture, SVG; empty without boards.
    pub picture: String,
    /// Name and value of each number.
    pub numbers: Vec<(String, String)>,
    /// What can't be parted, with the boards that would part it.
    pub tangles: Vec<String>,
}

/// What the boards answer, as a page or paper.
#[derive(Debug, Clone, PartialEq)]
pub struct BoardsAnswerView {
    /// The question, as told; may be empty.
    pub question: String,
    /// The measures.
    pub measures: Vec<AnsweredMeasure>,
    /// What to do next.
    pub next: String,
    /// Why.
    pub why: String,
    /// Things to know.
    pub notes: Vec<String>,
    /// The same as data.
    pub report: AnswerReport,
}
