//! A day of laying coats as worked out: what when, what waits, what may not slip, and ways out where it does not fit.

use serde::Serialize;

use crate::picture::DayStrip;
use crate::shopping::ShoppingView;

/// A day.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct DayView {
    /// "Day 1: what when?"
    pub title: String,
    /// What it is for: the trial's question, or the recipe.
    pub what: String,
    /// In the largest type: what comes first, or why it does not fit and the cheapest way out.
    pub next: String,
    /// Whether it fits between beginning and end.
    pub fits: bool,
    /// When hands are free, and when all must be done, as they were asked.
    pub hours: [String; 2],
    /// When it ends, how long hands are busy, how good the order is; a sentence each.
    pub facts: Vec<String>,
    /// What is done before the day, first to last.
    pub before: Vec<DayStep>,
    /// What is done on the day, in order; the coats of one round are one step.
    pub steps: Vec<DayStep>,
    /// What may not slip, first to last.
    pub chain: Vec<String>,
    /// Ways to make it fit, cheapest first.
    pub ways: Vec<DayWay>,
    /// What to think of: pots that do not last, room on the table.
    pub warnings: Vec<String>,
    /// What is not known and was taken as usual.
    pub notes: Vec<String>,
    /// Coats, round by round, with what each board is to get.
    pub rounds: Vec<DayRound>,
    /// The day as a picture; none where it could not be laid out.
    pub strip: Option<DayStrip>,
    /// What to buy for it.
    pub shopping: ShoppingView,
}

/// A thing to do.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct DayStep {
    /// When, as a span of the clock: "11:20 to 11:45"; with the day where it is another one.
    pub time: String,
    /// What.
    pub what: String,
    /// How long hands are busy.
    pub hands: String,
    /// What it waits for and how long, as a span; may be empty.
    pub waits: String,
    /// By when it must be done at the latest, and why; may be empty.
    pub latest: String,
    /// Caution at this step; may be empty.
    pub caution: String,
}

/// A way to make a day fit.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct DayWay {
    /// "Begin at 8:20".
    pub say: String,
    /// What it costs, and when the day then ends.
    pub costs: String,
    /// The day with it: names and values as this program's addresses take them.
    pub wish: Vec<(String, String)>,
}

/// One coat on the boards of one pot.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct DayRound {
    /// Letter of the pot.
    pub pot: String,
    /// "first", "second" ...
    pub coat: String,
    /// When.
    pub time: String,
    /// How old the pot then is, and how long it may still be used.
    pub pot_time: String,
    /// Boards in the order of laying.
    pub boards: Vec<DayBoard>,
}

/// A board in a round.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct DayBoard {
    /// Number in the plan.
    pub number: String,
    /// Id; empty where it has none.
    pub id: String,
    /// Place on the table; 0 where none is planned.
    pub place: u32,
    /// Wet grams to be laid with how far beside: "10.0 g (8.5 to 11.5)"; empty where the size is not known.
    pub aim: String,
}
