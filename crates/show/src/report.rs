//! What leaves the program as JSON. Names and meaning are fixed; `docs/json` holds the schemas.

use measure::Figure;
use schemars::JsonSchema;
use serde::Serialize;

use crate::hold::{BendReport, CrackReport, HidingReport, ThirstReport};

/// A number with its doubt. An unknown one has `null` for the numbers and says why.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct FigureReport {
    /// The engine at the best inputs.
    pub value: Option<f64>,
    /// One draw of ten lies below.
    pub low: Option<f64>,
    /// One draw of ten lies above.
    pub high: Option<f64>,
    /// Unit of all three: one of `1 g ml um mm g/ml g/m2 pH mmol mm/mm2 1/cm2 deg`.
    pub unit: &'static str,
    /// Why the number is not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub why: Option<String>,
}

impl FigureReport {
    /// A number that is not known.
    pub fn unknown(unit: &'static str, why: impl Into<String>) -> Self {
        Self { value: None, low: None, high: None, unit, why: Some(why.into()) }
    }
}

impl From<&Figure> for FigureReport {
    fn from(figure: &Figure) -> Self {
        let finite = [figure.value, figure.low, figure.high].iter().all(|x| x.is_finite());
        if !finite {
            return Self::unknown(figure.unit.symbol(), "the inputs lead to no ordinary number");
        }
        Self { value: Some(figure.value), low: Some(figure.low), high: Some(figure.high), unit: figure.unit.symbol(), why: None }
    }
}

/// Something that the reader of the report should know.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct WarningReport {
    /// Short name.
    pub id: String,
    /// A plain sentence.
    pub text: String,
    /// Where it belongs: a line of the recipe, such as `line 3`, or a field.
    pub at: String,
}

/// The film in figures.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct FilmFigures {
    /// Powder's share of the dry solids by volume.
    pub pvc: FigureReport,
    /// The share at which binder just fills the gaps.
    pub cpvc: FigureReport,
    /// Powder share over critical share.
    pub lambda: FigureReport,
    /// Air in the dry film.
    pub porosity: FigureReport,
    /// Share of the wet mass that stays.
    pub solids_mass: FigureReport,
    /// Share of powder and binder in the wet volume.
    pub solids_volume: FigureReport,
    /// Density of the pot.
    pub wet_density_g_ml: FigureReport,
    /// Dry thickness of all coats asked for.
    pub dry_um: FigureReport,
    /// Wet mass on a square metre for one coat.
    pub coverage_g_m2: FigureReport,
    /// Grams of dry binder per 100 g of powder.
    pub binder_per_100_powder_g: FigureReport,
    /// Wet mass for the area and coats asked for; only with an area.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wet_mass_needed_g: Option<FigureReport>,
}

/// Grams in the pot after plaster has set; water of curd and of casein as sold counted as water.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct MassReport {
    /// Powder.
    pub filler: FigureReport,
    /// Dry binder.
    pub binder: FigureReport,
    /// Free water.
    pub water: FigureReport,
    /// What leaves besides water.
    pub volatile: FigureReport,
    /// Salts, lime, sugar.
    pub other: FigureReport,
}

/// Where the ground stands beside the handbook grounds.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct WordReport {
    /// `rich`, `usual` or `lean`; `null` when no word can be given.
    pub first: Option<&'static str>,
    /// The word beside it, if the first does not stand alone.
    pub second: Option<&'static str>,
    /// Share of the draws behind the word or words, 0..1.
    pub share: Option<f64>,
    /// Why there is no word.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub why: Option<String>,
}

/// An ingredient as read.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct LineReport {
    /// The words it was read from.
    pub text: String,
    /// First byte in the told text.
    pub from: usize,
    /// One past the last byte.
    pub to: usize,
    /// Short name of the material.
    pub material: String,
    /// Grams.
    pub mass_g: FigureReport,
    /// What was taken for granted.
    pub guessed: Vec<String>,
    /// The amount as it was told.
    pub amount: AmountReport,
}

/// An amount as told: kept for those who check the reading.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct AmountReport {
    /// `mass`, `volume`, `parts`, `volume per liquid`, `percent`, `pieces` or `none`.
    pub kind: &'static str,
    /// Least and most.
    pub number: Option<[f64; 2]>,
    /// Unit, where there is one.
    pub unit: Option<String>,
}

/// A stretch of the text that was not understood.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct StruckReport {
    /// The words.
    pub text: String,
    /// First byte in the told text.
    pub from: usize,
    /// One past the last byte.
    pub to: usize,
    /// Why.
    pub why: String,
}

/// An answer that could be given.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ChoiceReport {
    /// Short name, for `--choose question=choice`.
    pub id: String,
    /// In words.
    pub label: String,
    /// Powder share over critical share if this is the answer; `null` if not known.
    pub lambda: Option<f64>,
}

/// A question that a careful reader would ask.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct QuestionReport {
    /// Short name.
    pub id: String,
    /// The question.
    pub ask: String,
    /// The choice taken meanwhile.
    pub assumed: String,
    /// The choices.
    pub choices: Vec<ChoiceReport>,
    /// Largest difference in powder share over critical share that the answer can make.
    pub narrows: Option<f64>,
}

/// A caution at a material.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct CautionReport {
    /// The material or the step.
    pub material: String,
    /// GHS codes as suppliers print them.
    pub codes: Vec<String>,
    /// The caution.
    pub text: String,
    /// Where it comes from.
    pub source: String,
}

/// A recipe as a film.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct FilmReport {
    /// `groundproof film 1`.
    pub is: &'static str,
    /// Version of the program.
    pub version: &'static str,
    /// Hash of the inputs, the draws and the version: equal hashes are equal figures.
    pub calculation: String,
    /// Things to know.
    pub warnings: Vec<WarningReport>,
    /// The film.
    pub film: FilmFigures,
    /// The pot.
    pub mass_g: MassReport,
    /// Rich, usual, lean.
    pub word: WordReport,
    /// The chance that drying cracks it.
    pub crack_chance: CrackReport,
    /// How well it hides.
    pub hiding: HidingReport,
    /// What it takes to roll it up.
    pub bend: BendReport,
    /// What it drinks.
    pub thirst: ThirstReport,
    /// What the answers about cracks, hiding and bending rest on.
    pub rests_on: &'static str,
    /// Ingredients as read.
    pub lines: Vec<LineReport>,
    /// What was not understood.
    pub struck: Vec<StruckReport>,
    /// What a careful reader would ask.
    pub questions: Vec<QuestionReport>,
    /// Cautions.
    pub cautions: Vec<CautionReport>,
}
