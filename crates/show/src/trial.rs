//! Trials: the road, the boards, the sheet for reading blind.

use serde::Serialize;

/// A trial in the list.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct TrialRow {
    /// Subject.
    pub subject: String,
    /// The question.
    pub question: String,
    /// The next thing to do.
    pub next: String,
    /// Boards.
    pub boards: usize,
    /// Lost boards.
    pub lost: usize,
    /// Readings.
    pub readings: usize,
    /// Day of the question.
    pub on: String,
}

/// All trials.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct TrialsView {
    /// Newest first.
    pub rows: Vec<TrialRow>,
}

/// What is tangled.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct TangleView {
    /// Names.
    pub effects: Vec<String>,
    /// In a sentence, with the boards that would mend it.
    pub text: String,
}

/// What planned boards can answer.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PlanCheck {
    /// What they can.
    pub can: Vec<String>,
    /// What they can't.
    pub cannot: Vec<String>,
    /// What is tangled.
    pub tangles: Vec<TangleView>,
    /// Other things to know.
    pub notes: Vec<String>,
    /// Boards to cut besides.
    pub spares: u32,
}

/// A recipe of a trial.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct RecipeText {
    /// Name in the trial.
    pub name: String,
    /// What goes in.
    pub told: String,
    /// The verdict's sentence; empty without text.
    pub said: String,
    /// Words that were not understood.
    pub struck: Vec<String>,
}

/// A pot.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PotView {
    /// Said by a tap to be as planned; not weighed ingredient by ingredient.
    pub as_planned: bool,
    /// Letter.
    pub letter: String,
    /// Day or sitting.
    pub day: u32,
    /// Recipe's name.
    pub recipe: String,
    /// Boards laid from it.
    pub boards: usize,
    /// As planned.
    pub planned: String,
    /// As truly weighed; empty if not written down.
    pub weighed: String,
    /// Remark.
    pub note: String,
    /// Entry that it was shown from.
    pub from: u64,
    /// The verdict's sentence.
    pub said: String,
}

/// A board in a list.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct BoardLine {
    /// Id; empty before the plan is fixed.
    pub id: String,
    /// Number in the plan.
    pub number: String,
    /// Day or sitting.
    pub day: u32,
    /// Pot.
    pub pot: String,
    /// Sheet; may be empty.
    pub sheet: String,
    /// Turn.
    pub order: u32,
    /// Place on the shelf.
    pub place: u32,
    /// Recipe's name.
    pub recipe: String,
    /// What it is for.
    pub job: String,
    /// Coats of its strips.
    pub strips: Vec<u8>,
    /// How far it is.
    pub stands: String,
}

/// The road of a trial.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct RoadView {
    /// Subject.
    pub subject: String,
    /// Entry that it was shown from.
    pub from: u64,
    /// The question.
    pub question: String,
    /// The next thing to do.
    pub next: String,
    /// The page where it is done.
    pub next_at: String,
    /// `stair`, `two-by-two` or `own`.
    pub kind: &'static str,
    /// What counts as better.
    pub better: String,
    /// Day on which that was fixed.
    pub better_fixed: String,
    /// Boards.
    pub support: String,
    /// What stays the same.
    pub kept_same: String,
    /// Tool, waits, finish.
    pub method: String,
    /// Day on which the plan was fixed.
    pub fixed: Option<String>,
    /// Seed of the order.
    pub seed: String,
    /// What the boards can answer; none if the plan can't be read.
    pub check: Option<PlanCheck>,
    /// Recipes.
    pub recipes: Vec<RecipeText>,
    /// Pots.
    pub pots: Vec<PotView>,
    /// Boards.
    pub boards: Vec<BoardLine>,
    /// Looks due: day, and how long after the last coat.
    pub looks: Vec<(String, String)>,
}

/// A coat on a board.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CoatView {
    /// Entry.
    pub entry: u64,
    /// Number.
    pub number: u32,
    /// Pot.
    pub pot: String,
    /// Wet mass.
    pub wet: String,
    /// On a square metre.
    pub per_area: String,
    /// Direction.
    pub direction: String,
    /// When.
    pub laid: String,
    /// Air.
    pub air: String,
    /// Remark.
    pub note: String,
}

/// A reading of a board.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ReadingView {
    /// Entry.
    pub entry: u64,
    /// Scale's name.
    pub measure: String,
    /// Value in words.
    pub value: String,
    /// Strip, by its coats.
    pub strip: Option<u8>,
    /// Who looked.
    pub rater: String,
    /// Hidden or not.
    pub blind: bool,
    /// When.
    pub on: String,
    /// Photo.
    pub photo: Option<String>,
    /// Remark.
    pub note: String,
}

/// A photo.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PhotoView {
    /// Its subject.
    pub photo: String,
    /// What it was measured to show; empty if it was not.
    pub says: String,
    /// Name of its bytes.
    pub bytes: String,
    /// What it shows.
    pub caption: String,
    /// When it was filed.
    pub on: String,
    /// Entry.
    pub entry: u64,
}

/// One board.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct BoardView {
    /// Id.
    pub id: String,
    /// Trial.
    pub trial: String,
    /// The trial's question.
    pub question: String,
    /// The next thing to do.
    pub next: String,
    /// Number in the plan.
    pub number: String,
    /// What it is for.
    pub job: String,
    /// Recipe's name.
    pub recipe: String,
    /// Pot.
    pub pot: String,
    /// Day or sitting.
    pub day: u32,
    /// Sheet.
    pub sheet: String,
    /// Place on the shelf.
    pub place: u32,
    /// Blind code.
    pub blind: String,
    /// Coats of its strips.
    pub strips: Vec<u8>,
    /// Settings.
    pub settings: Vec<(String, String)>,
    /// Coats.
    pub coats: Vec<CoatView>,
    /// Number of the coat that is next.
    pub next_coat: Option<u32>,
    /// Dry thickness in words; empty before the first coat.
    pub dry: String,
    /// Readings.
    pub readings: Vec<ReadingView>,
    /// Photos.
    pub photos: Vec<PhotoView>,
    /// Why it is lost.
    pub lost: String,
}

/// A class of a scale.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ClassChoice {
    /// Value as typed.
    pub value: String,
    /// What it looks like.
    pub look: String,
    /// Where it comes from.
    pub source: String,
}

/// A scale.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ScaleView {
    /// Short name.
    pub id: String,
    /// Name.
    pub name: String,
    /// What is asked.
    pub question: String,
    /// Unit.
    pub unit: String,
    /// Which way is usually better.
    pub better: &'static str,
    /// How it is done.
    pub how: String,
    /// For what it means something.
    pub scope: String,
    /// Source.
    pub source: String,
    /// Whether the place is spoilt.
    pub spoils: bool,
    /// Answered by yes or no.
    pub yes_no: bool,
    /// Classes.
    pub classes: Vec<ClassChoice>,
}

/// The next board to look at without knowing its recipe.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ReadingSheet {
    /// Trial.
    pub trial: String,
    /// Its question.
    pub question: String,
    /// Who looks.
    pub rater: String,
    /// Boards in all, lost ones left out.
    pub all: usize,
    /// Boards left.
    pub left: usize,
    /// The board; none when all are read.
    pub board: Option<String>,
    /// Its blind code.
    pub code: String,
    /// Coats of its strips.
    pub strips: Vec<u8>,
    /// Strip that comes next, once one was read.
    pub strip: Option<u8>,
    /// The scale.
    pub scale: ScaleView,
    /// Codes and boards in the shuffled order.
    pub codes: Vec<(String, String)>,
}

/// What the boards of a trial say.
#[derive(Debug, Clone, PartialEq)]
pub struct TrialAnswerView {
    /// Trial.
    pub subject: String,
    /// The question.
    pub question: String,
    /// What counts as better.
    pub better: String,
    /// When that was fixed.
    pub fixed: String,
    /// How old the boards were.
    pub ages: String,
    /// Lost boards.
    pub lost: Vec<String>,
    /// What the plan said it could not answer, when it was fixed.
    pub cannot: Vec<String>,
    /// Measures, the one that was to decide first.
    pub measures: Vec<crate::AnsweredMeasure>,
    /// The same as data.
    pub reports: Vec<crate::AnswerReport>,
    /// The one change that is advised.
    pub next: String,
    /// Why.
    pub why: String,
    /// Things to know.
    pub notes: Vec<String>,
}

/// A paper that was finished: it stays as it was.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct FinishedPaper {
    /// Subject.
    pub subject: String,
    /// Entry.
    pub entry: u64,
    /// Title.
    pub title: String,
    /// Day.
    pub on: String,
    /// Version of the program that made it.
    pub version: String,
    /// The answer as printed.
    pub answer: String,
    /// What it would say today, if that is something else; empty otherwise.
    pub moved: String,
}
