//! What a reading holds.

use std::collections::BTreeMap;

use measure::UnitId;

use crate::catalogue::MaterialId;

/// A stretch of the told text, in bytes; always on character boundaries.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// First byte.
    pub from: usize,
    /// One past the last byte.
    pub to: usize,
}

impl Span {
    /// The text under the span; empty if the span is not of this text.
    pub fn of(self, text: &str) -> &str {
        text.get(self.from..self.to).unwrap_or("")
    }
}

/// One stretch of the text and what became of it. The pieces of a reading, in order, cover the text without gap or overlap.
#[derive(Debug, Clone, PartialEq)]
pub enum Piece {
    /// Understood (or guessed: then the chip names its questions).
    Chip(Chip),
    /// Talk, steps and white space: taken note of, nothing to compute.
    Talk(Span),
    /// Not understood; kept and shown struck through.
    Struck(Struck),
}

impl Piece {
    /// Where it stands.
    pub fn span(&self) -> Span {
        match self {
            Self::Chip(chip) => chip.span,
            Self::Talk(span) => *span,
            Self::Struck(struck) => struck.span,
        }
    }
}

/// A word or number that was understood.
#[derive(Debug, Clone, PartialEq)]
pub struct Chip {
    /// Where it stands.
    pub span: Span,
    /// What it is.
    pub kind: ChipKind,
    /// Questions that hang on it; not empty = guessed.
    pub questions: Vec<QuestionId>,
    /// Index of the ingredient line that it belongs to, if any.
    pub line: Option<usize>,
}

/// What a chip is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ChipKind {
    /// A number or range, with its unit where they stand together.
    Amount,
    /// A material.
    Material,
    /// Wet, dry, level, heaped, a strength such as 10 %.
    State,
    /// Coats, wet thickness, area, boards: a setting of the job.
    Setting,
}

/// A stretch that was not understood.
#[derive(Debug, Clone, PartialEq)]
pub struct Struck {
    /// Where it stands.
    pub span: Span,
    /// Why, in a plain sentence that says what would help.
    pub why: String,
    /// An amount (weight, volume, parts, per cent, pieces) that belongs to something not understood, or a name that follows such an
    /// amount: the recipe holds something that the reading lacks.
    pub amount: bool,
}

/// A range of numbers as told; `low == high` for a single one. Finite, not negative, low <= high.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// Least.
    pub low: f64,
    /// Most.
    pub high: f64,
}

impl Range {
    /// A single number.
    pub const fn one(value: f64) -> Self {
        Self { low: value, high: value }
    }
    /// Middle of the range.
    pub fn middle(self) -> f64 {
        f64::midpoint(self.low, self.high)
    }
    /// Both ends times a number.
    #[must_use]
    pub fn times(self, factor: f64) -> Self {
        Self { low: self.low * factor, high: self.high * factor }
    }
}

/// One of several readings; more than one candidate means that the painter should be asked. Never empty; likeliest first.
#[derive(Debug, Clone, PartialEq)]
pub struct Pick<T> {
    /// Candidates with weights (not nec. adding to one).
    pub candidates: Vec<(T, f64)>,
    /// The question that decides, when there is more than one.
    pub question: Option<QuestionId>,
}

impl<T> Pick<T> {
    /// No doubt.
    pub fn sure(value: T) -> Self {
        Self { candidates: vec![(value, 1.0)], question: None }
    }
    /// The likeliest candidate.
    pub fn first(&self) -> Option<&T> {
        self.candidates.first().map(|(value, _)| value)
    }
}

/// How a spoon or cup was filled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fill {
    /// Struck off level.
    Level,
    /// Heaped.
    Heaped,
    /// Pressed down.
    Packed,
    /// Not said: taken as level, wider doubt.
    Unsaid,
}

/// What a part counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PartBasis {
    /// Parts by volume.
    Volume,
    /// Parts by weight.
    Weight,
}

/// Why an ingredient has no amount.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NotGiven {
    /// Nothing was said.
    Missing,
    /// "until like cream", "to taste", "as it takes".
    ByEye,
    /// A measure without a size ("a bowl").
    SizeUnknown,
    /// Zero, negative, endless: a number that can't be an amount.
    Absurd,
}

/// How much of an ingredient.
#[derive(Debug, Clone, PartialEq)]
pub enum Amount {
    /// Weighed (grams = number x the unit's value).
    Mass {
        /// How many of the unit.
        number: Range,
        /// Which unit of mass.
        unit: Pick<UnitId>,
    },
    /// Measured by volume.
    Volume {
        /// How many of the unit.
        number: Range,
        /// Which unit of volume; among the candidates may be one of mass, where the word means either ("8 oz water").
        unit: Pick<UnitId>,
        /// How it was filled.
        fill: Fill,
    },
    /// Parts, by volume or weight.
    Parts {
        /// How many.
        number: Range,
        /// Of what; unsaid = both candidates.
        basis: Pick<PartBasis>,
    },
    /// So many volumes of this per volume of all that is liquid or binder so far ("an equal volume of chalk").
    VolumePerLiquid {
        /// Volumes per volume.
        number: Range,
    },
    /// So many per cent by weight of the whole pot.
    PercentOfWhole {
        /// Per cent, 0..100.
        number: Range,
    },
    /// Counted pieces (eggs, lemons).
    Pieces {
        /// How many.
        number: Range,
    },
    /// No amount, and why.
    NotGiven(NotGiven),
}

/// Strength of a solution, as told with the ingredient.
#[derive(Debug, Clone, PartialEq)]
pub enum Strength {
    /// Grams of the material in 100 g of the liquid (a "10 % glue size"); for vinegar g acid in 100 ml.
    Percent(Range),
    /// One part of the material to so many of water, by weight ("glue 1:10" as a ready size: 1 in 11).
    OneToWater(Range),
    /// The words say it is a liquid ("glue size", "casein solution") but not how strong.
    Unknown,
}

/// One ingredient as told.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// From the first to the last word that belongs to it.
    pub span: Span,
    /// Which material.
    pub material: Pick<MaterialId>,
    /// How much.
    pub amount: Amount,
    /// Of what strength, if it is a solution.
    pub strength: Option<Strength>,
    /// "dry" was said of a thing that else holds water (casein, curd): its mass is all dry binder.
    pub said_dry: bool,
    /// What was taken for granted, as plain sentences.
    pub guessed: Vec<String>,
}

/// Name of a question, such as `unit:cup` or `material:curd`: the same word asked once for the whole recipe.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct QuestionId(pub String);

/// One of the answers to a question.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// Short name used in forms and on the command line, such as `us`.
    pub id: String,
    /// What the painter reads.
    pub label: String,
    /// How likely before asking.
    pub weight: f64,
}

/// Something that a careful reader would ask. Two or three choices.
#[derive(Debug, Clone, PartialEq)]
pub struct Question {
    /// Its name.
    pub id: QuestionId,
    /// The question.
    pub ask: String,
    /// The id of the choice taken meanwhile.
    pub assumed: String,
    /// The choices, likeliest first; same order as the candidates of the picks that hang on it.
    pub choices: Vec<Choice>,
    /// Where the first word that raised it stands.
    pub span: Span,
}

/// A setting of the job told along with the recipe.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Setting {
    /// Number of coats.
    Coats(Range),
    /// Wet thickness of a coat, micrometres.
    WetMicrometres(Range),
    /// Area to be covered, square metres.
    AreaSquareMetres(f64),
    /// Number of boards.
    Boards(f64),
}

/// Answers already given to questions: question name to choice id.
pub type Wishes = BTreeMap<QuestionId, String>;

/// A told recipe, read.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Reading {
    /// Every stretch of the text in order.
    pub pieces: Vec<Piece>,
    /// The ingredients in the order told.
    pub lines: Vec<Line>,
    /// Open questions (and answered ones, with one choice assumed).
    pub questions: Vec<Question>,
    /// Settings told.
    pub settings: Vec<Setting>,
    /// Materials that the text names without any line for them ("clean the brush with bleach"), each once, in the order told. What is
    /// listed for its danger alone is here even where the text refuses it ("never with bleach").
    pub mentions: Vec<MaterialId>,
    /// Indices of the lines of milk that stand for the curd drained from so much milk, not for the milk itself: the text says "the curd
    /// of 2 l milk", or milk stands in a recipe that tells to curdle, drain or strain it, or to pour the whey away.
    pub drained: Vec<usize>,
}

impl Reading {
    /// The stretches that were not understood.
    pub fn struck(&self) -> impl Iterator<Item = &Struck> {
        self.pieces.iter().filter_map(|piece| match piece {
            Piece::Struck(struck) => Some(struck),
            _ => None,
        })
    }
    /// The chips.
    pub fn chips(&self) -> impl Iterator<Item = &Chip> {
        self.pieces.iter().filter_map(|piece| match piece {
            Piece::Chip(chip) => Some(chip),
            _ => None,
        })
    }
}

/// A line of strict recipe text that breaks the rules.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("line {line}: {what}")]
pub struct LineError {
    /// Line number from 1.
    pub line: usize,
    /// What is wrong and how to mend it.
    pub what: String,
}
