//! What a plan is made of. Everything here can be stored.

use std::collections::BTreeMap;
use std::fmt;

use serde::{Deserialize, Serialize};

/// What a setting is set to.
#[derive(Debug, Clone, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(untagged)]
pub enum Value {
    /// A number, such as 3 coats.
    Number(f64),
    /// A kind, such as plywood.
    Kind(String),
}

impl fmt::Display for Value {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Number(number) => write!(f, "{number}"),
            Self::Kind(kind) => f.write_str(kind),
        }
    }
}

/// What a setting belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Per {
    /// To the pot: all boards of one pot share it.
    Batch,
    /// To the board.
    Board,
}

/// Something that the painter sets on purpose.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Setting {
    /// Its name, as typed.
    pub name: String,
    /// What it is set to, in the order typed; numbers from least to most. At least two.
    pub levels: Vec<Value>,
    /// Pot or board.
    pub per: Per,
}

impl Setting {
    /// Whether it is set to numbers.
    pub fn is_numeric(&self) -> bool {
        self.levels.iter().all(|level| matches!(level, Value::Number(_)))
    }
}

/// What a part of the blend is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum PartKind {
    /// Powder.
    Powder,
    /// Dry binder.
    Binder,
    /// Water.
    Water,
    /// Anything else.
    Other,
}

/// A part of the blend.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Part {
    /// Its name, as typed.
    pub name: String,
    /// Least share of the wet mix by mass, 0..1.
    pub low: f64,
    /// Largest share.
    pub high: f64,
    /// Grams a millilitre, where told.
    pub density: Option<f64>,
    /// What it is.
    pub kind: PartKind,
}

/// How the shares enter the model.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Shape {
    /// Shares alone.
    #[default]
    Linear,
    /// And each pair of shares.
    Quadratic,
    /// And each three.
    SpecialCubic,
}

impl Shape {
    /// As typed in a trial file.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Linear => "linear",
            Self::Quadratic => "quadratic",
            Self::SpecialCubic => "special cubic",
        }
    }
}

/// Which way is better.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Way {
    /// Less of it is better.
    Smaller,
    /// More of it is better.
    Larger,
}

/// What counts as better. Said before the first reading, so that no reading can choose it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Better {
    /// What is read off the boards, such as `cracking`.
    pub measure: String,
    /// Which way.
    pub way: Way,
}

/// What a control is there for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Job {
    /// A known ground of the same family: is it the recipe?
    Yardstick,
    /// A bought primer on the same wood: is it the wood, the air or the hand?
    Witness,
}

/// How often a control comes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Often {
    /// On each day.
    #[default]
    Day,
    /// On each sheet of wood.
    Sheet,
    /// Once in the trial.
    Trial,
}

/// A control ground.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Control {
    /// Its name, as typed.
    pub name: String,
    /// Its job.
    pub job: Job,
    /// How often.
    pub per: Often,
    /// How many boards each time.
    pub boards: u32,
}

/// What a board is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum BoardKind {
    /// Carries a recipe under trial.
    Recipe,
    /// Carries the known ground.
    Yardstick,
    /// Carries the bought primer.
    Witness,
}

/// One board of a plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PlannedBoard {
    /// Number on its back: `01`, `02`, ...
    pub id: String,
    /// Day or sitting, from 1.
    pub day: u32,
    /// Letter of its pot.
    pub batch: String,
    /// The sheet of wood that it is cut from, where told or asked for.
    pub sheet: Option<String>,
    /// Turn in the whole trial, from 1.
    pub order: u32,
    /// Place on the drying shelf, from 1 on each day.
    pub place: u32,
    /// What it is for.
    pub kind: BoardKind,
    /// What is set on it.
    pub settings: BTreeMap<String, Value>,
    /// Shares of the blend, 0..1; empty where no parts are told.
    pub shares: BTreeMap<String, f64>,
    /// Coats on each strip from left to right; empty where the board is no stair.
    pub strips: Vec<u32>,
}

/// How a plan came about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Ready {
    /// Every setting with every other.
    Crossed,
    /// Boards as typed.
    Typed,
    /// One to five coats on one board.
    StairBoard,
    /// Two powders by two amounts of binder, say, in sittings.
    TwoByTwo,
}

/// Something to know about the plan, with its mend.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Note {
    /// Short name.
    pub id: String,
    /// A plain sentence that ends with what to do.
    pub text: String,
    /// Where in the trial it belongs.
    pub at: String,
}

impl Note {
    pub(super) fn new(id: &str, at: &str, text: impl Into<String>) -> Self {
        Self { id: id.to_owned(), text: text.into(), at: at.to_owned() }
    }
}

/// A trial planned board by board.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Plan {
    /// What the painter wants to know; may be empty.
    pub question: String,
    /// What counts as better, once said.
    pub better: Option<Better>,
    /// How the plan came about.
    pub ready: Ready,
    /// From which order and places are drawn.
    pub seed: u64,
    /// Whether the order was drawn here; else it was typed.
    pub order_drawn: bool,
    /// Parts of the blend.
    pub parts: Vec<Part>,
    /// How shares enter the model.
    pub shape: Shape,
    /// Settings.
    pub settings: Vec<Setting>,
    /// Controls.
    pub controls: Vec<Control>,
    /// Variance between pots over variance between boards of one pot.
    pub batch_spread: f64,
    /// Boards in the order of laying.
    pub boards: Vec<PlannedBoard>,
    /// Boards to cut besides, for accidents.
    pub spares: u32,
    /// Things to know.
    pub notes: Vec<Note>,
}

impl Plan {
    /// Boards that carry a recipe under trial, in the order of laying.
    pub fn recipe_boards(&self) -> impl Iterator<Item = &PlannedBoard> {
        self.boards.iter().filter(|board| board.kind == BoardKind::Recipe)
    }

    /// Days of the plan, in order.
    pub fn days(&self) -> Vec<u32> {
        let days: std::collections::BTreeSet<u32> = self.boards.iter().map(|board| board.day).collect();
        days.into_iter().collect()
    }
}
