//! What the boards of a plan can answer and what they can't, before anything is mixed.

mod advise;
mod answers;
mod order;
mod pots;
mod table;
mod ties;
mod words;

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::factors::{DAY, Factor, Facts, SHEET, factors, facts};
use super::model::{BoardKind, Plan, Value};

pub use answers::{Least, Reading};
pub use table::{Criterion, Table};

/// What kind of tangle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TangleKind {
    /// Settings that always change together.
    Exact,
    /// Settings that mostly change together.
    Half,
    /// A setting that always or mostly changes with the day.
    WithDay,
    /// A setting that always or mostly changes with the sheet of wood.
    WithSheet,
    /// A setting that goes with the turn.
    WithOrder,
    /// A setting that goes with the place on the shelf.
    WithPlace,
    /// Each recipe rests on one pot.
    NoHonestError,
    /// One kind of a setting rests on one pot.
    OnePot,
    /// Two settings working together look like a third.
    Hidden,
    /// No recipe comes twice.
    NoRepeats,
    /// A day or a sheet without a yardstick.
    NoControl,
    /// A setting that is the same on all boards.
    NeverChanges,
}

/// A board that would mend a tangle.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ExtraBoard {
    /// What it carries.
    pub kind: BoardKind,
    /// The day it belongs to, where that matters.
    pub day: Option<u32>,
    /// The sheet it belongs to, where that matters.
    pub sheet: Option<String>,
    /// What is set.
    pub settings: BTreeMap<String, Value>,
    /// Its shares.
    pub shares: BTreeMap<String, f64>,
}

/// Things that the boards can't tell apart, or can tell badly.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Tangle {
    /// Its kind.
    pub kind: TangleKind,
    /// Names of what is tangled, as typed; `day`, `sheet`, `batch`, `order`, `yardstick` besides.
    pub effects: Vec<String>,
    /// How strongly: correlation, 0..1, where there is one.
    pub r: Option<f64>,
    /// How many times the boards it takes to tell them apart as well as in an even plan, where that is known.
    pub times: Option<f64>,
    /// In the painter's words, with the mend.
    pub text: String,
    /// Boards that would mend it, found by trying and checked; each from a pot of its own.
    pub add: Vec<ExtraBoard>,
}

/// What the check of a plan says.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Tangles {
    /// Tangles, gravest first.
    pub found: Vec<Tangle>,
    /// What the boards can answer, in sentences.
    pub can: Vec<String>,
    /// What they can't, in sentences.
    pub cannot: Vec<String>,
    /// The least that any result could show, for each comparison.
    pub least: Vec<Least>,
    /// The columns behind the check.
    pub table: Table,
    /// How much the recipe boards tell in all.
    pub criterion: Criterion,
}

/// Recipe boards as the check sees them.
struct Sight<'p> {
    plan: &'p Plan,
    /// What each recipe board was, in the order of laying.
    boards: Vec<Facts>,
    /// Parts whose share changes.
    parts: Vec<Factor>,
    /// Settings that change.
    settings: Vec<Factor>,
    /// Days, if there are several.
    day: Option<Factor>,
    /// Sheets, if there are several.
    sheet: Option<Factor>,
}

impl<'p> Sight<'p> {
    fn of(plan: &'p Plan) -> Self {
        let boards: Vec<Facts> = plan.recipe_boards().map(facts).collect();
        let (parts, settings) = factors(plan, &boards);
        let (day, sheet) = (Factor::group(DAY, &boards), Factor::group(SHEET, &boards));
        Self { plan, boards, parts, settings, day, sheet }
    }

    /// Parts and settings that change.
    fn on_purpose(&self) -> impl Iterator<Item = &Factor> {
        self.parts.iter().chain(&self.settings)
    }
}

/// Checks a plan for tangles.
///
/// ```
/// use trials::plan::{TangleKind, TrialText, tangles, typed};
/// let text = TrialText::parse(
///     "trial = 1\nsetting = [{ name = \"powder\", kinds = [\"chalk\", \"gypsum\"] }, { name = \"binder\", kinds = [\"little\", \"much\"] }]\n\
///      board = [{ powder = \"chalk\", binder = \"much\" }, { powder = \"gypsum\", binder = \"little\" },\n\
///      { powder = \"chalk\", binder = \"much\" }, { powder = \"gypsum\", binder = \"little\" }]\n",
/// )?;
/// let found = tangles(&typed(&text, None)?).found;
/// assert_eq!((found[0].kind, found[0].effects.as_slice()), (TangleKind::Exact, ["powder".to_owned(), "binder".to_owned()].as_slice()));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn tangles(plan: &Plan) -> Tangles {
    let sight = Sight::of(plan);
    let table = table::table(&sight);
    let mut found = ties::exact(&sight);
    found.extend(pots::one_pot(&sight));
    let halves = ties::halves(&sight, &found);
    found.extend(halves);
    found.extend(ties::leaning(&sight, &found));
    found.extend(table::hidden(&table, &found));
    found.extend(order::with_turn_and_place(&sight));
    found.extend(pots::no_repeats(&sight));
    found.extend(pots::no_control(plan));
    found.extend(ties::never_changing(&sight));
    let least = answers::least(&sight);
    let (can, cannot) = answers::sentences(&sight, &found, &least);
    Tangles { found, can, cannot, least, criterion: table::criterion(&sight), table }
}
