//! Answers to "why did this board fail?" and "what can I make of this milk?".

use schemars::JsonSchema;
use serde::Serialize;

use crate::card::CautionView;
use crate::report::{CautionReport, FigureReport, WarningReport};

/// What one tap or fact did to a cause.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct MovedView {
    /// The tap (`when`, `looks`, ...) or `fact`.
    pub tap: String,
    /// The question of the tap; empty for a fact.
    pub ask: String,
    /// The answer, or the fact in plain words.
    pub answer: String,
    /// How much more or less likely that is when this cause is at work.
    pub factor: f64,
    /// Why.
    pub reason: String,
    /// Where the reason comes from.
    pub source: String,
}

/// A cause in its place. The share is for other programs; pages never show it: the taps hang together, so it is far too sure.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CauseView {
    /// C01 to C18.
    pub id: String,
    /// In the painter's words.
    pub name: String,
    /// Share of the odds.
    pub share: f64,
    /// `fits best`, `fits too`, `fits badly`.
    pub fit: &'static str,
    /// Typical sight.
    #[serde(skip)]
    pub sight: String,
    /// First mend to try.
    pub mend: String,
    /// What moved it.
    pub moved: Vec<MovedView>,
}

/// A tap with its answers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TapView {
    /// Short name.
    pub key: String,
    /// The question.
    pub ask: String,
    /// The answers.
    pub answers: Vec<String>,
    /// The answer given.
    pub given: Option<String>,
    /// Ask this one next.
    pub next: bool,
}

/// Why a board failed, as data.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CausesReport {
    /// `groundproof why 1`.
    pub is: &'static str,
    /// Version of the program.
    pub version: &'static str,
    /// Things to know.
    pub warnings: Vec<WarningReport>,
    /// `told`, `cannot tell` or `ask more`.
    pub verdict: &'static str,
    /// Causes within a factor of three of the first; empty when more must be asked.
    pub leaders: Vec<String>,
    /// The one test or the boards that would tell.
    pub test: Option<String>,
    /// The tap that would tell most, when one is left.
    pub next_tap: Option<String>,
    /// All causes that can be, likeliest first.
    pub causes: Vec<CauseView>,
    /// Cautions.
    pub cautions: Vec<CautionReport>,
}

/// Why a board failed, as a page.
#[derive(Debug, Clone, PartialEq)]
pub struct CausesView {
    /// One sentence.
    pub sentence: String,
    /// The second line.
    pub more: String,
    /// The test, or what to tap next.
    pub next: String,
    /// A mend that is cheap under the leaders.
    pub mend: String,
    /// The taps.
    pub taps: Vec<TapView>,
    /// Facts taken from the recipe, thickness and support, in plain words.
    pub facts: Vec<String>,
    /// The same as data.
    pub report: CausesReport,
}

/// An amount to take.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Portion {
    /// What.
    pub name: String,
    /// Short name of the material.
    pub material: String,
    /// How much, with doubt.
    pub amount: FigureReport,
    /// The same in words: grams first.
    pub written: String,
    /// The same in cups and spoons; may be empty.
    pub kitchen: String,
    /// In packs, such as `1 bag of 1 kg`; may be empty.
    pub packs: String,
}

/// A step of the work, with the caution that belongs to it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct StepView {
    /// What to do.
    pub what: String,
    /// Mind this while doing it; may be empty.
    pub mind: String,
}

/// What milk and powder make, as data.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct MilkReport {
    /// `groundproof milk 1`.
    pub is: &'static str,
    /// Version of the program.
    pub version: &'static str,
    /// Things to know.
    pub warnings: Vec<WarningReport>,
    /// Casein caught.
    pub casein_g: FigureReport,
    /// Wet curd.
    pub curd_wet_g: FigureReport,
    /// Whey drained off.
    pub whey_ml: FigureReport,
    /// Acid that curdles this milk fully, in the unit of the acid at hand.
    pub acid_needed: FigureReport,
    /// Acidity that the acid at hand brings it to; not known below 4.0, where the balance of charges ends.
    pub ph: FigureReport,
    /// `yes`, `no`, `more than enough` or `not said`.
    pub acid_enough: &'static str,
    /// What to take.
    pub take: Vec<Portion>,
    /// Boards asked for.
    pub boards_asked: u32,
    /// Boards that this milk is enough for, at least and at most.
    pub boards_enough: [u32; 2],
    /// Milk that the boards asked for would need.
    pub milk_needed_ml: FigureReport,
    /// The ground as recipe text, for `film`.
    pub recipe: String,
    /// Steps.
    pub steps: Vec<StepView>,
    /// Cautions.
    pub cautions: Vec<CautionReport>,
}

/// What milk and powder make, as a page.
#[derive(Debug, Clone, PartialEq)]
pub struct MilkView {
    /// One sentence.
    pub sentence: String,
    /// The second line.
    pub more: String,
    /// "Is this lemon enough?"
    pub acid: String,
    /// Cautions.
    pub mind: Vec<CautionView>,
    /// The same as data.
    pub report: MilkReport,
}
