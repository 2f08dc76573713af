//! The verdict card.

use measure::Figure;
use schemars::JsonSchema;
use serde::Serialize;

use crate::hold::{DrawdownView, SaidView, ThicknessView};
use crate::report::FilmReport;

/// What became of a stretch of the told text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PieceKind {
    /// Understood.
    Read,
    /// Understood with a guess.
    Guessed,
    /// Talk and steps.
    Talk,
    /// Not understood.
    Struck,
}

/// A stretch of the told text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PieceView {
    /// The words, exactly as told.
    pub text: String,
    /// What became of them.
    pub kind: PieceKind,
    /// Why it was struck, or what was guessed.
    pub why: String,
    /// Name of the question that a guess hangs on; empty for none.
    pub asked: String,
}

/// A question with its choices.
#[derive(Debug, Clone, PartialEq)]
pub struct QuestionView {
    /// Name of the form field.
    pub id: String,
    /// The question.
    pub ask: String,
    /// The choice taken: the answer, or the likeliest while there is none.
    pub assumed: String,
    /// Whether it was answered. An open question keeps its doubt.
    pub answered: bool,
    /// Whether any answer would change the word or the place by enough to be seen.
    pub matters: bool,
    /// Choices with what they would do.
    pub choices: Vec<ChoiceView>,
}

/// One choice.
#[derive(Debug, Clone, PartialEq)]
pub struct ChoiceView {
    /// Value of the form field.
    pub id: String,
    /// What the painter reads.
    pub label: String,
    /// What it would make of the ground, such as "1.21 on the rule: usual"; empty if that is not known.
    pub effect: String,
    /// Place on the rule if this is the answer, at the best inputs.
    pub place: Option<f64>,
}

/// The word with its doubt, or why there is none.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WordView {
    /// "rich", "usual or lean", or "no word".
    pub text: String,
    /// Why there is no word; empty if there is one.
    pub why: String,
}

/// The bar on the rule.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bar {
    /// One draw of ten lies below.
    pub low: f64,
    /// At the best inputs.
    pub value: f64,
    /// One draw of ten lies above.
    pub high: f64,
}

/// A handbook ground on the rule.
#[derive(Debug, Clone, PartialEq)]
pub struct Tick {
    /// Recipe id.
    pub id: String,
    /// Its name.
    pub name: String,
    /// Where it stands.
    pub at: f64,
}

/// The film in cross-section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SectionView {
    /// One coat as laid, micrometres.
    pub wet_um: f64,
    /// One coat dry, with its doubt; micrometres.
    pub dry_um: Figure,
    /// Number of coats drawn.
    pub coats: u32,
    /// Share of grains in the dry film's volume.
    pub grains: f64,
    /// Share of air in the dry film's volume; binder is the rest.
    pub air: f64,
    /// Whether the wet thickness was told.
    pub told: bool,
    /// Name of the calculation: the same film is drawn alike on every page.
    pub seed: u64,
}

/// A piece of advice: a sentence and a second line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Advice {
    /// What to do.
    pub what: String,
    /// What else it brings, or how.
    pub more: String,
    /// Own measurement that it asks for, such as `natural-chalk cup`; empty where the pot itself is weighed or a question answered.
    pub own: String,
}

/// A caution.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct CautionView {
    /// What it is about.
    pub about: String,
    /// The sentence.
    pub text: String,
    /// Codes as suppliers print them; may be empty.
    pub codes: String,
    /// Where it comes from.
    pub source: String,
    /// Something about this very recipe (a pair that curdles), as against a caution for a material.
    pub of_this_recipe: bool,
    /// A material that can do grave harm: its caution is never folded away.
    pub grave: bool,
    /// Address of the jar test for this pair; empty for none.
    pub jar_test: String,
}

/// An input of a figure.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct InputRow {
    /// In words.
    pub plain: String,
    /// Value and range.
    pub value: String,
    /// Where it comes from.
    pub source: String,
}

/// What stands behind a figure.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sheet {
    /// The formula in words.
    pub formula: String,
    /// Where the formula comes from.
    pub source: String,
    /// When it holds.
    pub holds: String,
    /// When it does not.
    pub fails: String,
    /// What went in.
    pub inputs: Vec<InputRow>,
}

/// A figure with what stands behind it.
#[derive(Debug, Clone, PartialEq)]
pub struct FigureRow {
    /// Short name.
    pub key: &'static str,
    /// The painter's word.
    pub name: String,
    /// The chemist's word.
    pub chemist: String,
    /// Value with range and unit, or "not known".
    pub value: String,
    /// Why it is not known; empty if it is.
    pub why: String,
    /// What stands behind it.
    pub sheet: Sheet,
}

/// An ingredient in the pot.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LineView {
    /// The material's name.
    pub name: String,
    /// The material's short name, for its page.
    pub material: String,
    /// Grams with range, or why not.
    pub grams: String,
    /// The same in cups or spoons; may be empty.
    pub kitchen: String,
    /// What was taken for granted.
    pub guessed: Vec<String>,
    /// Why it was not counted; empty if it was.
    pub left_out: String,
}

/// The whole card.
#[derive(Debug, Clone, PartialEq)]
pub struct Card {
    /// The told text.
    pub told: String,
    /// What it is laid on, by its short name, such as `mdf`.
    pub support: String,
    /// One sentence.
    pub sentence: String,
    /// Where it stands.
    pub word: WordView,
    /// The bar, if there is a place on the rule.
    pub bar: Option<Bar>,
    /// Handbook grounds on the rule.
    pub ticks: Vec<Tick>,
    /// The film in cross-section, if it is known.
    pub section: Option<SectionView>,
    /// How thick a coat may be.
    pub thickness: ThicknessView,
    /// What it drinks.
    pub thirst: SaidView,
    /// How it hides the board.
    pub hides: SaidView,
    /// How it looks wet and dry, if that is known.
    pub look: Option<DrawdownView>,
    /// Change this.
    pub change: Vec<Advice>,
    /// Weigh this.
    pub weigh: Option<Advice>,
    /// Mind this.
    pub mind: Vec<CautionView>,
    /// What it rests on.
    pub rests_on: String,
    /// Remarks on how the recipe was taken.
    pub notes: Vec<String>,
    /// Figures, one tap below.
    pub figures: Vec<FigureRow>,
    /// The text as read.
    pub pieces: Vec<PieceView>,
    /// Ingredients.
    pub lines: Vec<LineView>,
    /// Questions, the one that narrows most first.
    pub questions: Vec<QuestionView>,
    /// Whether powder lies in lumps: open to any pot, and not asked until somebody opens it.
    pub lumps: Option<QuestionView>,
    /// The same as data.
    pub report: FilmReport,
}
