//! The tables that go with a paper: every board, coat, reading and line of a recipe, with numbers already written.

use serde::Serialize;

/// All tables of one trial.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct DataView {
    /// Name of the trial.
    pub title: String,
    /// What was asked and what is in the tables, in a few sentences.
    pub description: String,
    /// Day of writing, `2026-11-25`.
    pub created: String,
    /// Authors as they wish to be named.
    pub authors: Vec<String>,
    /// Under which terms others may use the data.
    pub licence: LicenceView,
    /// Which program wrote it, with its version.
    pub program: String,
    /// Scales that readings may be on.
    pub measures: Vec<MeasureView>,
    /// Boards, one a row.
    pub boards: Vec<BoardData>,
    /// Coats, one a row.
    pub coats: Vec<CoatData>,
    /// Readings, one a row.
    pub readings: Vec<ReadingData>,
    /// Ingredients, one a row.
    pub recipes: Vec<IngredientData>,
}

/// Terms of use.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct LicenceView {
    /// Short name of the SPDX list, such as `CC-BY-4.0`.
    pub id: String,
    /// Full name.
    pub title: String,
    /// Address of its text; may be empty.
    pub address: String,
}

/// A scale on which boards were read.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct MeasureView {
    /// Short name, as in the column `measure`.
    pub id: String,
    /// The painter's name for it.
    pub name: String,
    /// Unit; empty for classes.
    pub unit: String,
    /// How it was done and after which standard.
    pub how: String,
}

/// One board. An empty text means "not known".
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct BoardData {
    /// Id on the back of the board.
    pub board: String,
    /// Name of the recipe laid on it.
    pub recipe: String,
    /// Batch that the ground came from.
    pub batch: String,
    /// Same-day group.
    pub day: String,
    /// `recipe`, `yardstick` or `witness`.
    pub job: String,
    /// What it is made of.
    pub support: String,
    /// Width, millimetres.
    pub width_mm: String,
    /// Height, millimetres.
    pub height_mm: String,
    /// Day of the last coat, `2026-11-25`.
    pub last_coat: String,
    /// Why the board was lost; empty if it wasn't.
    pub lost: String,
    /// Free text.
    pub note: String,
}

/// One coat on one board.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct CoatData {
    /// The board.
    pub board: String,
    /// Number of the coat from 1; 0 is the size.
    pub coat: String,
    /// Batch.
    pub batch: String,
    /// Day, `2026-11-25`.
    pub laid: String,
    /// Wet mass laid on, grams.
    pub wet_g: String,
    /// Brush direction or tool.
    pub direction: String,
    /// Air of the room, degrees Celsius.
    pub room_c: String,
    /// Damp of the room, percent.
    pub room_rh: String,
    /// Free text.
    pub note: String,
}

/// One reading.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct ReadingData {
    /// The board.
    pub board: String,
    /// The scale.
    pub measure: String,
    /// `2.5`, `>600`, `<0.05`, `3..7`; empty if missing.
    pub value: String,
    /// Sort of number: `yes_no`, `class_0_5`, `count`, `length`, `share`, `time`, `strain`, `thickness`.
    pub kind: String,
    /// Batch.
    pub batch: String,
    /// Same-day group.
    pub day: String,
    /// Recipe.
    pub recipe: String,
    /// `recipe`, `yardstick` or `witness`.
    pub job: String,
    /// Strip of the board; empty for the whole board.
    pub strip: String,
    /// Days since the last coat.
    pub age_d: String,
    /// Who read it.
    pub rater: String,
    /// Whether the rater could not know which board it was: `yes`, `no` or empty.
    pub blind: String,
    /// Why the reading doesn't count; empty if it does.
    pub struck: String,
    /// Free text.
    pub note: String,
    /// What was changed: name of the column (`share:chalk`, `set:coats`) and its cell.
    pub factors: Vec<(String, String)>,
}

/// One ingredient of one recipe.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct IngredientData {
    /// Name of the recipe.
    pub recipe: String,
    /// Place in the recipe from 1.
    pub line: String,
    /// What it is.
    pub material: String,
    /// As it was told, such as `1 cup`.
    pub told: String,
    /// Grams.
    pub mass_g: String,
    /// Least likely grams.
    pub mass_low_g: String,
    /// Most likely grams.
    pub mass_high_g: String,
    /// Make, grade and lot as they stand on the pack.
    pub lot: String,
    /// Free text.
    pub note: String,
}
