//! The paper: one question, its boards and what they said, so that others can do it again.

use serde::Serialize;

use super::{Checklist, Day, PaperFigure};

/// The paper. An empty list is said in a sentence where a reader would look for it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PaperView {
    /// What it is about, as a headline; may not be empty.
    pub title: String,
    /// Language of the text as a two-letter code, such as `en`.
    pub language: String,
    /// Authors as they wish to be named; may be empty.
    pub authors: Vec<String>,
    /// Day of the paper.
    pub date: Day,
    /// "made with groundproof 0.1.0, data 2026-01".
    pub made_with: String,
    /// Whether the data are invented; then every page says so.
    pub invented: bool,
    /// The answer in one paragraph.
    pub answer: String,
    /// What a reader needs to do it again.
    pub checklist: Checklist,
    /// The question.
    pub asked: Asked,
    /// What was changed from recipe to recipe.
    pub changed: Vec<String>,
    /// What stayed the same.
    pub stayed: Vec<String>,
    /// How the boards were set out.
    pub plan: PlanPart,
    /// What was in the jars.
    pub materials: Vec<MaterialRow>,
    /// What really went in.
    pub recipes: Vec<Composition>,
    /// How it was put on.
    pub coats: Vec<CoatRow>,
    /// The air in the room.
    pub room: Vec<RoomRow>,
    /// What every board did, failures too.
    pub readings: Vec<ReadingRow>,
    /// What it says, with its doubt.
    pub result: ResultPart,
    /// Photos of boards, with a scale in the picture.
    #[serde(skip)]
    pub photos: Vec<PaperFigure>,
    /// What failed, and odd finds.
    pub failures: Vec<String>,
    /// Cautions.
    pub cautions: Vec<PaperCaution>,
    /// Where figures and methods come from.
    pub sources: Vec<String>,
    /// Under what licence it may be handed on; may be empty.
    pub licence: String,
    /// How to cite it; may be empty.
    pub cite: String,
    /// When the boards will be looked at again; may be empty.
    pub next_look: String,
}

/// The question and the measure of better.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct Asked {
    /// What the boards were to tell.
    pub question: String,
    /// What counts as better.
    pub better: String,
    /// The day this was fixed, in words; empty if nobody wrote it down.
    pub fixed_on: String,
}

/// How the boards were set out.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct PlanPart {
    /// How, in sentences.
    pub sentences: Vec<String>,
    /// The seed that the order was drawn with; empty if there was no draw.
    pub seed: String,
    /// All boards, lost ones too.
    pub boards: Vec<PlannedBoard>,
}

/// A board of the plan.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PlannedBoard {
    /// Place in the order of laying.
    pub order: String,
    /// Its mark.
    pub board: String,
    /// Day it was laid.
    pub day: String,
    /// Pot it was laid from.
    pub batch: String,
    /// Sheet it was cut from.
    pub sheet: String,
    /// Recipe, "the ground compared with", "repeat board".
    pub kind: String,
    /// Why it was lost; empty if it was not.
    pub lost: String,
}

/// A stuff, as far as it is known.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct MaterialRow {
    /// Name in the trade.
    pub name: String,
    /// Maker; empty if not known.
    pub maker: String,
    /// Lot; empty if not known.
    pub lot: String,
    /// Purity, grade or strength; empty if not known.
    pub purity: String,
    /// Day the jar was opened; empty if not known.
    pub opened: String,
    /// Cautions, each one sentence.
    pub cautions: Vec<String>,
}

/// What really went into one pot.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Composition {
    /// Short name of the recipe.
    pub name: String,
    /// Everything in it.
    pub lines: Vec<CompositionRow>,
    /// The sum.
    pub sum: CompositionRow,
    /// Powder share in words; empty if not known.
    pub powder_share: String,
    /// Where it stands on the rule, as a sentence; empty if it has no place.
    pub place: String,
    /// How it was made, step by step.
    pub steps: Vec<String>,
}

/// A line of a pot. Numbers are written, with their unit in the heading.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CompositionRow {
    /// The stuff.
    pub name: String,
    /// Grams.
    pub grams: String,
    /// Per cent of the wet mix.
    pub of_wet: String,
    /// Per cent of what dries and stays.
    pub of_dry: String,
}

/// A coat.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CoatRow {
    /// Which coat of which boards.
    pub coat: String,
    /// Wet mass on a square metre.
    pub wet_mass: String,
    /// Direction of the strokes.
    pub direction: String,
    /// Waiting since the coat before.
    pub recoat: String,
    /// Age of the pot.
    pub pot_age: String,
}

/// The air in the room.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct RoomRow {
    /// When.
    pub when: String,
    /// Warmth.
    pub warmth: String,
    /// Dampness of the air.
    pub damp: String,
}

/// What a board did.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ReadingRow {
    /// The board's mark.
    pub board: String,
    /// What was tried, and after which method.
    pub test: String,
    /// What came of it.
    pub result: String,
    /// Who looked.
    pub rater: String,
    /// Whether the recipe was hidden from them.
    pub hidden: String,
    /// Whether the board failed.
    pub failed: bool,
}

/// What the boards say.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct ResultPart {
    /// Sentences, each with its doubt.
    pub sentences: Vec<String>,
    /// Drawings.
    #[serde(skip)]
    pub pictures: Vec<PaperFigure>,
    /// What these boards can't tell.
    pub cannot_tell: Vec<String>,
    /// What would tell.
    pub would_tell: Vec<String>,
}

/// A caution with where it comes from.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PaperCaution {
    /// What it is about.
    pub about: String,
    /// The sentence.
    pub text: String,
    /// Where it comes from.
    pub source: String,
}
