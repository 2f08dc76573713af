//! What an answer is made of.

use statistics::{Fit, How, NoFit};

use super::readings::{Job, Kind, Seen};

/// What is asked of the readings.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Question {
    /// Only this measure; all of them if none.
    pub measure: Option<String>,
    /// Whether smaller is better; `None` when it was not said.
    pub smaller_is_better: Option<bool>,
    /// Where half the boards are expected to give way, in the unit of the measure; only used for values seen between marks.
    pub expected: Option<f64>,
    /// Whether the settings are what was asked, not the recipes that they make up. Two recipes that differ in several settings then
    /// can't be told apart by setting, where otherwise they are compared as they are.
    pub by_settings: bool,
}

/// How a measure is worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// Yes or no: shares.
    YesNo,
    /// Classes: mean differences, ranks in the exact test.
    Class,
    /// Numbers read exactly: mean differences.
    Plain,
    /// Numbers seen between marks: medians of thresholds.
    Between,
    /// Stair boards: the first strip that gave way, between measured thicknesses or, without them, between strip numbers.
    Stair {
        /// Whether the strips' thicknesses are known.
        measured: bool,
    },
}

/// What was counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum UnitIs {
    /// Each board.
    Board,
    /// Each pot.
    Batch,
}

/// One board, or one pot with its boards, with one value.
#[derive(Debug, Clone, PartialEq)]
pub struct Unit {
    /// Names of its boards.
    pub boards: Vec<String>,
    /// Why it was made.
    pub job: Job,
    /// The recipe, or its settings in words.
    pub group: String,
    /// Day or sitting; empty when not said.
    pub day: String,
    /// Pot; empty when not said.
    pub batch: String,
    /// One a factor column.
    pub settings: Vec<String>,
    /// The value. For yes or no: the share of its boards with yes.
    pub seen: Seen,
    /// Stair boards: number of the first strip that gave way, one more than the last when none did.
    pub strip: Option<f64>,
}

/// Boards of one recipe together.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// Recipe or settings.
    pub name: String,
    /// Why they were made.
    pub job: Job,
    /// Boards with a value.
    pub boards: usize,
    /// Pots or boards that count.
    pub units: usize,
    /// Yes, of so many boards.
    pub yes: Option<(u32, u32)>,
    /// Mean of exact values.
    pub mean: Option<f64>,
}

/// A difference with the range that eight of ten of the beliefs lie in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figure {
    /// The difference: second less first.
    pub value: f64,
    /// One of ten lies below.
    pub low: f64,
    /// One of ten lies above.
    pub high: f64,
}

/// An exact test.
#[derive(Debug, Clone, PartialEq)]
pub struct Test {
    /// Which, in a few words.
    pub name: &'static str,
    /// Units that took part on either side.
    pub split: [usize; 2],
    /// Units on either side in each same-day group that holds both.
    pub groups: Vec<(usize, usize)>,
    /// Two-sided share of the arrangements at least as far out.
    pub p: f64,
    /// The smallest that this split can give.
    pub least_p: f64,
    /// All arrangements or a sample.
    pub how: How,
}

/// Whether the boards tell.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// They can't.
    CannotTell,
    /// They lean to one side.
    Leans,
    /// They do.
    Told,
}

/// One difference.
#[derive(Debug, Clone, PartialEq)]
pub struct Effect {
    /// `recipe`, the name of a setting, or `day`.
    pub name: String,
    /// The first side.
    pub from: String,
    /// The second side.
    pub to: String,
    /// Only among boards with this setting; empty for all.
    pub within: String,
    /// Whether the trial was made for it; differences to the yardstick and between days stand beside only.
    pub asked: bool,
    /// Yes of so many on either side.
    pub counts: Option<[(u32, u32); 2]>,
    /// Pots or boards on either side.
    pub units: [usize; 2],
    /// The difference, or why there is none.
    pub figure: Result<Figure, String>,
    /// Chance that it is above 0.
    pub above: Option<f64>,
    /// The exact test.
    pub test: Option<Test>,
    /// Same-day pairs that go one way most, and all that go any way.
    pub agree: (usize, usize),
    /// Whether the range would reach "no difference" with beliefs half or twice as wide; only for shares.
    pub rests_on_belief: bool,
    /// What it comes to.
    pub verdict: Verdict,
}

/// Something that can't be parted from something else.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tangle {
    /// Effects concerned.
    pub effects: Vec<String>,
    /// In a sentence.
    pub text: String,
    /// Boards that would part them.
    pub add: Vec<String>,
    /// Whether the effects can't be had at all, or only rest on little.
    pub whole: bool,
}

/// Where one recipe's boards give way.
#[derive(Debug, Clone, PartialEq)]
pub struct Threshold {
    /// Recipe or settings.
    pub group: String,
    /// Pots or boards.
    pub units: usize,
    /// The median: one in ten, half and nine in ten of the beliefs lie below these.
    pub median: [f64; 3],
    /// Chance that a new board gives way below each mark.
    pub new_below: Vec<(f64, f64)>,
    /// Likeliest bell-shaped and weakest-link curves, without any belief.
    pub fits: [Result<Fit, NoFit>; 2],
    /// Thickest that was tried, when some board did not give way.
    pub not_beyond: Option<f64>,
}

/// Something to know about the readings.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Note {
    /// Short name.
    pub id: &'static str,
    /// A sentence with the mend.
    pub text: String,
    /// The measure or board concerned.
    pub at: String,
}

/// One measure, answered.
#[derive(Debug, Clone, PartialEq)]
pub struct Measured {
    /// Its name.
    pub measure: String,
    /// Its kind.
    pub kind: Kind,
    /// How it was worked.
    pub way: Way,
    /// What was counted.
    pub unit: UnitIs,
    /// Boards with a value, the witness left out.
    pub boards: usize,
    /// Pots behind them; boards without a pot count as their own.
    pub batches: usize,
    /// Recipes, yardsticks, witness.
    pub groups: Vec<Group>,
    /// The counted units, in a fixed order.
    pub units: Vec<Unit>,
    /// The differences, the asked ones first.
    pub effects: Vec<Effect>,
    /// The effect that the verdict rests on.
    pub lead: Option<usize>,
    /// What can't be parted.
    pub tangles: Vec<Tangle>,
    /// Thresholds of stair boards and of values seen between marks.
    pub thresholds: Vec<Threshold>,
    /// Whether any result of the leading difference could have told, given its split.
    pub could_tell: bool,
    /// What it comes to.
    pub verdict: Verdict,
    /// Why nothing could be worked out at all.
    pub refused: Option<String>,
    /// Unit symbol of the values.
    pub symbol: &'static str,
}

impl Measured {
    /// Whether a smaller figure is better. Stair boards turn it round: where less cracking is better, the thicker ground that a
    /// recipe carries is the better one.
    pub const fn smaller_figure_is_better(&self, smaller_is_better: Option<bool>) -> Option<bool> {
        match (self.way, smaller_is_better) {
            (Way::Stair { .. }, Some(smaller)) => Some(!smaller),
            (_, said) => said,
        }
    }
}

/// One thing to do next.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    /// What.
    pub what: String,
    /// Why.
    pub why: String,
}

/// What the readings answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// Measures in the order of the table.
    pub measures: Vec<Measured>,
    /// The one change that is advised.
    pub next: Change,
    /// Things to know.
    pub notes: Vec<Note>,
}
