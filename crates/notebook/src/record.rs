//! What can be written down. Shapes are kept for ever: a new field gets a default, a changed meaning gets a new version.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::{Day, Moment};

/// A recipe as told, with what the verdict was when it was kept.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Recipe {
    /// What the painter calls it.
    pub name: String,
    /// The text as told.
    pub told: String,
    /// Answers to the reader's questions.
    pub choices: BTreeMap<String, String>,
    /// Wet thickness of a coat, micrometres, if told.
    pub wet_um: Option<f64>,
    /// Number of coats, if told.
    pub coats: Option<u32>,
    /// Subject of the recipe that this was copied from.
    pub copied_from: Option<String>,
    /// What was changed against that one, or any remark.
    pub note: String,
    /// What the program said then.
    pub said: Said,
    /// Binder that it takes, by its subject; none if its text names none.
    pub binder: Option<String>,
}

/// What the program said on that day. The film itself is always worked out anew.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Said {
    /// The sentence.
    pub sentence: String,
    /// The word, such as "usual or lean".
    pub word: String,
    /// Place on the rule: low, value, high.
    pub place: Option<[f64; 3]>,
    /// Version of the program.
    pub version: String,
}

/// A board that failed outside any trial, with what was tapped.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Failed {
    /// What the painter calls it.
    pub name: String,
    /// The recipe as told; may be empty.
    pub told: String,
    /// Answers to the reader's questions.
    pub choices: BTreeMap<String, String>,
    /// Dry thickness, micrometres.
    pub dry_um: Option<f64>,
    /// Coats.
    pub coats: Option<u32>,
    /// Board.
    pub support: Option<String>,
    /// What was tapped.
    pub taps: BTreeMap<String, String>,
    /// What else holds.
    pub facts: Vec<String>,
    /// What the program said then.
    pub sentence: String,
    /// Version of the program.
    pub version: String,
}

/// A jar, tin or sack on the painter's own shelf.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Jar {
    /// What stands on it.
    pub name: String,
    /// Material of the catalogue.
    pub material: String,
    /// Who made or sold it.
    pub maker: String,
    /// Lot or charge.
    pub lot: String,
    /// Price of a pack, in the painter's money.
    pub price: Option<f64>,
    /// What the money is called.
    pub money: String,
    /// What a pack holds, grams.
    pub pack_g: Option<f64>,
    /// What is left, grams.
    pub stock_g: Option<f64>,
    /// Best before.
    pub best_before: Option<Day>,
    /// When it was opened.
    pub opened: Option<Day>,
    /// Any remark.
    pub note: String,
}

/// Which value was measured at the kitchen table.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", tag = "what")]
pub enum Measured {
    /// A level measure of powder was weighed several times.
    LevelCup {
        /// What the measure holds, millilitres.
        millilitres: f64,
        /// Each weighing, grams of powder without the cup.
        grams: Vec<f64>,
    },
    /// Powder was stirred into water and the rise read.
    Displacement {
        /// Powder, grams.
        grams: f64,
        /// Each rise, millilitres.
        rise_ml: Vec<f64>,
        /// How closely the jar could be read, millilitres, where that was written down.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        read_to_ml: Option<f64>,
    },
    /// Powder was rubbed out with linseed oil until it just held together.
    RubOut {
        /// Powder, grams.
        grams: f64,
        /// Oil taken up, grams, each try.
        oil_g: Vec<f64>,
        /// Drops in 5 ml of the oil, where the oil was counted in drops.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        drops_in_5_ml: Option<f64>,
    },
    /// Weighed spoonfuls were dried until their weight stood still.
    DryResidue {
        /// Wet and dry weight of each, grams.
        dishes: Vec<(f64, f64)>,
    },
}

/// An own measured value.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Weighing {
    /// Material of the catalogue that it is about.
    pub material: String,
    /// The jar, if one was named.
    #[serde(default)]
    pub jar: Option<String>,
    /// What was measured.
    pub measured: Measured,
    /// Any remark.
    #[serde(default)]
    pub note: String,
}

/// What counts as better, fixed before the first reading.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Better {
    /// Scale that is read.
    pub measure: String,
    /// `smaller` or `larger`.
    pub way: String,
}

/// Which road a trial takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TrialKind {
    /// Strips of one to five coats on each board.
    Stair,
    /// Two powders and two amounts of binder.
    TwoByTwo,
    /// Settings crossed or boards typed in.
    #[default]
    Own,
}

/// A question put to boards.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Trial {
    /// The question, one sentence.
    pub question: String,
    /// What counts as better.
    pub better: Better,
    /// Which road.
    pub kind: TrialKind,
    /// The plan as drawn and not yet fixed, as JSON.
    pub drawn: String,
    /// For each recipe of the plan its text; a name without text is a recipe that is not written down yet.
    pub recipes: BTreeMap<String, String>,
    /// What the only recipe is called where no setting tells several apart.
    pub only_recipe: String,
    /// What stays the same on all boards.
    pub kept_same: String,
    /// The boards: stuff, maker.
    pub support: String,
    /// Coats that each board is to get; stair boards get as many as their highest strip.
    pub coats: Option<u32>,
    /// Across, millimetres.
    pub width_mm: Option<f64>,
    /// Down, millimetres.
    pub height_mm: Option<f64>,
    /// Tool, usual wait between coats, finish: whatever a stranger needs.
    pub method: String,
}

/// A board as planned.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Planned {
    /// Number in the plan, such as `07`.
    pub number: String,
    /// Day or sitting, from 1.
    pub day: u32,
    /// Pot, such as `B`.
    pub batch: String,
    /// Sheet of board that it was cut from.
    pub sheet: String,
    /// Place in the order of laying, from 1.
    pub order: u32,
    /// Place on the table, from 1.
    pub place: u32,
    /// `recipe`, `yardstick` or `witness`.
    pub job: String,
    /// Recipe's name in this trial.
    pub recipe: String,
    /// Settings.
    pub settings: BTreeMap<String, String>,
    /// Mass shares of the wet mix, as typed.
    pub shares: BTreeMap<String, String>,
    /// Coats of each strip, from one end; empty for a board without strips.
    pub strips: Vec<u8>,
}

/// A plan that was fixed: from here on it is only added to.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Plan {
    /// The trial.
    pub trial: String,
    /// Seed of the order.
    pub seed: u64,
    /// Version of the program that drew it.
    pub version: String,
    /// What these boards can answer, as said then.
    pub can: Vec<String>,
    /// What they can't, as said then.
    pub cannot: Vec<String>,
    /// Number of boards.
    pub boards: u32,
}

/// A board that exists.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Board {
    /// The trial.
    pub trial: String,
    /// What was planned for it.
    pub planned: Planned,
    /// Code under which it is read blind.
    pub blind: String,
}

/// A pot as it was truly mixed.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Batch {
    /// The trial.
    pub trial: String,
    /// Letter in the plan.
    pub letter: String,
    /// What was truly weighed, as recipe text.
    pub told: String,
    /// Answers to the reader's questions.
    pub choices: BTreeMap<String, String>,
    /// When it was ready.
    pub ready: Option<Moment>,
    /// Any remark: lumps, foam, smell.
    pub note: String,
    /// Said by a tap: weighed as on the sheet, not written down ingredient by ingredient.
    pub as_planned: bool,
    /// Binder that it was made with, by its subject; none if no binder of this notebook went in.
    pub binder: Option<String>,
    /// Grams of that binder.
    pub binder_g: Option<f64>,
}

/// What a weighing of a pot was for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PotWhat {
    /// When it was ready.
    AsMixed,
    /// In between, or at the end.
    #[default]
    Now,
    /// Water that was put in; the grams are the water's.
    WaterAdded,
}

/// A weighing of a pot, or water that was put into it.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct PotMass {
    /// The trial.
    pub trial: String,
    /// Letter in the plan.
    pub letter: String,
    /// What for.
    pub what: PotWhat,
    /// What the scale showed, grams: the pot with its ground, or the water alone.
    pub grams: f64,
    /// The empty pot with what is weighed in it each time (brush, lid), grams; none if it was taken off on the scale.
    pub vessel_g: Option<f64>,
    /// When.
    pub at: Moment,
    /// Any remark.
    pub note: String,
}

/// A coat as it was laid.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Coat {
    /// The board.
    pub board: String,
    /// Pot letter, if another than planned.
    pub batch: String,
    /// Number of the coat, from 1; 0 is size.
    pub number: u32,
    /// Board before, grams.
    pub before_g: Option<f64>,
    /// Board after, grams.
    pub after_g: Option<f64>,
    /// Direction of the brush.
    pub direction: String,
    /// When it was laid.
    pub laid: Moment,
    /// Air, degrees Celsius.
    pub air_c: Option<f64>,
    /// Air, per cent of saturation.
    pub air_rh: Option<f64>,
    /// Any remark.
    pub note: String,
    /// Ground laid, grams, read off a scale that stood at zero with the bare board on it.
    pub wet_g: Option<f64>,
    /// Ground that was aimed at, grams; says nothing of what was laid.
    pub aim_g: Option<f64>,
}

impl Coat {
    /// Ground that was truly weighed onto the board, grams; `None` where it was not weighed.
    ///
    /// ```
    /// let coat = notebook::Coat { before_g: Some(120.0), after_g: Some(129.5), ..notebook::Coat::default() };
    /// assert_eq!(coat.laid_g(), Some(9.5));
    /// ```
    pub fn laid_g(&self) -> Option<f64> {
        self.wet_g.or_else(|| self.before_g.zip(self.after_g).map(|(before, after)| after - before))
    }
}

/// A day of laying coats under way: what it was asked to do when it began.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Sitting {
    /// The trial.
    pub trial: String,
    /// Day or sitting of its plan.
    pub day: u32,
    /// Midnight from which its clock counts.
    pub midnight: Moment,
    /// Pots, boards, waits and hours, as JSON, as they stood when it began.
    pub asked: String,
    /// Version of the program that laid it out.
    pub version: String,
    /// When it was said to be over.
    pub ended: Option<Moment>,
}

/// What a tap said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TapKind {
    /// It is done.
    #[default]
    Done,
    /// Not yet.
    NotYet,
    /// The board, or the pot, is spoilt.
    Spoilt,
    /// An earlier tap was a slip.
    Undo,
}

/// A tap of a making day. What it brought about (a coat, a pot, a loss) stands in entries of its own beside it.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Tap {
    /// The sitting.
    pub sitting: String,
    /// Id that the device gave it, 32 signs.
    pub id: String,
    /// Its number on that device.
    pub seq: u64,
    /// Step of the day.
    pub step: String,
    /// What it said.
    pub kind: TapKind,
    /// When, by the desk's clock.
    pub at: Moment,
    /// Newest entry that the device had seen.
    pub seen: u64,
    /// For an undo: id of the tap that it takes back.
    pub of: String,
    /// Whether it counted; not if another device had done the step already.
    pub counted: bool,
    /// Grams that the scale showed, if somebody read it; kept even where another device was first.
    pub wet_g: Option<f64>,
}

/// Air of the room, read once in a sitting or oftener.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Air {
    /// The sitting.
    pub sitting: String,
    /// Degrees Celsius.
    pub celsius: Option<f64>,
    /// Per cent of saturation.
    pub damp: Option<f64>,
    /// When it was read.
    pub read: Moment,
}

/// A board put on the scale while it dries.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct BoardMass {
    /// The board.
    pub board: String,
    /// Grams.
    pub grams: f64,
    /// When.
    pub at: Moment,
}

/// What was seen on a board.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Reading {
    /// The board.
    pub board: String,
    /// Coats of the strip that was read; none for the whole board.
    pub strip: Option<u8>,
    /// Scale.
    pub measure: String,
    /// Value as written in readings files: `2.5`, `>600`, `<0.05`, `3..7`.
    pub value: String,
    /// Who read it.
    pub rater: String,
    /// Whether the recipe was hidden from them.
    pub blind: bool,
    /// When it was read.
    pub read: Moment,
    /// Photo of it, if any.
    pub photo: Option<String>,
    /// Any remark.
    pub note: String,
}

/// A board that is lost to the trial.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Lost {
    /// The board.
    pub board: String,
    /// Why.
    pub reason: String,
}

/// A photo.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Photo {
    /// What it shows: a board, a jar, a trial.
    pub of: String,
    /// Name of its bytes.
    pub bytes: String,
    /// `image/jpeg` or `image/png`.
    pub kind: String,
    /// What is to be seen.
    pub caption: String,
    /// When it was taken by the camera's clock, right or not; nothing if the photo does not say.
    pub camera: Option<Moment>,
    /// Day when it was taken, where a person said so.
    pub day: Option<Day>,
}

/// A scale of the painter's own.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct OwnScale {
    /// Its name.
    pub name: String,
    /// What 0, 1, 2 ... look like.
    pub classes: Vec<String>,
    /// `smaller` or `larger`.
    pub better: String,
}

/// A finished paper: it keeps its figures and the version that made them.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Paper {
    /// The trial.
    pub trial: String,
    /// Title.
    pub title: String,
    /// Names as the authors wish; may be empty.
    pub authors: String,
    /// Licence.
    pub licence: String,
    /// Version of the program.
    pub version: String,
    /// The answer in one paragraph, as printed.
    pub answer: String,
    /// Name of the typeset file.
    pub pdf: String,
    /// Name of the data that goes with it.
    pub data: String,
}

/// A phone that was let in: who holds the key may use the pages of this studio until it runs out. Striking it takes the key away.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Device {
    /// What it is called; entries written on it carry this name.
    pub name: String,
    /// SHA-256 of its key, in hexadecimal. The key itself is kept on the phone alone.
    pub key_hash: String,
    /// When the key runs out.
    pub until: Moment,
}
