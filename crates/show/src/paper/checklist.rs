//! What a paper must tell so that others can do it again.

use serde::Serialize;

/// Whether a point of the checklist is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Given {
    /// It is told.
    Given,
    /// Nobody wrote it down.
    NotKnown,
    /// It does not arise, for a reason.
    NotApplicable,
}

impl Given {
    /// As the reader sees it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Given => "given",
            Self::NotKnown => "not known",
            Self::NotApplicable => "not applicable",
        }
    }
}

/// One thing that a reader needs to do it again. In the order of the paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PaperPoint {
    /// The question, and what counts as better.
    Question,
    /// What really went in, by mass.
    Composition,
    /// Where each stuff came from.
    Materials,
    /// The milk.
    Milk,
    /// The curd.
    Curd,
    /// The glue.
    Glue,
    /// How it was stirred together.
    Making,
    /// What the ground lies on.
    Support,
    /// How it was put on.
    Coats,
    /// The air in the room.
    Room,
    /// How it dried.
    Drying,
    /// How it was rubbed down.
    Finish,
    /// How the boards were set out.
    Plan,
    /// How they were tried.
    Tests,
    /// What each board did.
    EveryBoard,
    /// How it was worked out.
    Working,
    /// What went wrong.
    Failures,
    /// What can do harm.
    Dangers,
    /// Whose it is.
    Rights,
    /// When it will be looked at again.
    NextLook,
}

/// The points in order, with the words that the reader sees.
const POINTS: [(PaperPoint, &str); 20] = [
    (PaperPoint::Question, "The question, and what counts as better, settled before the first board"),
    (PaperPoint::Composition, "Everything in the pot by mass as weighed, what stays when dry, powder share"),
    (PaperPoint::Materials, "Each stuff: name in the trade, maker, grade, lot, purity, grain, water in it, strength, day opened"),
    (PaperPoint::Milk, "Milk: fat, heating at the dairy, protein on the label"),
    (PaperPoint::Curd, "Curd: acid, sourness at the end, warmth, rinses, how much of it stays when dry"),
    (PaperPoint::Glue, "Glue: kind, Bloom, soaking, hottest it got, time kept hot"),
    (PaperPoint::Making, "Order, times, sieve and rest"),
    (PaperPoint::Support, "Board: stuff, maker, sheet, thickness, size coats, one face or both"),
    (PaperPoint::Coats, "Tool, coats, direction, wet mass on a square metre, waiting between coats, age of the pot"),
    (PaperPoint::Room, "Room: warmth and dampness of the air"),
    (PaperPoint::Drying, "Drying, and age when tried"),
    (PaperPoint::Finish, "Rubbing down: grit and strokes"),
    (
        PaperPoint::Plan,
        "Plan: what was changed, order, seed, same-day groups, the ground compared with, boards of each, boards lost and why",
    ),
    (PaperPoint::Tests, "Tests: which method and edition, what was done otherwise, tool and its check, who looked, recipe hidden or not"),
    (PaperPoint::EveryBoard, "What each single board did, with a picture that carries a scale"),
    (PaperPoint::Working, "How the result was worked out, with which version, and its doubt"),
    (PaperPoint::Failures, "What failed, and odd finds"),
    (PaperPoint::Dangers, "Dangers, allergens and waste"),
    (PaperPoint::Rights, "Licence, date, authors as they wish, how to cite"),
    (PaperPoint::NextLook, "Day of the next look"),
];

/// One line of the checklist.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ChecklistItem {
    #[serde(skip)]
    point: PaperPoint,
    /// What a reader needs.
    pub what: String,
    /// Whether it is told.
    pub state: Given,
    /// `given`, `not known` or `not applicable`.
    pub word: String,
    /// Where it is told, or why not; may be empty.
    pub text: String,
}

/// All twenty points. One that nobody spoke for is "not known": a gap is shown, never left out.
///
/// ```
/// use show::paper::{Checklist, Given, PaperPoint};
/// let list = Checklist::blank().with(PaperPoint::Glue, Given::NotApplicable, "no glue in it");
/// assert_eq!(list.items().len(), 20);
/// assert_eq!(list.items()[5].word, "not applicable");
/// assert_eq!(list.items()[0].word, "not known");
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(transparent)]
pub struct Checklist(Vec<ChecklistItem>);

impl Checklist {
    /// Twenty gaps.
    pub fn blank() -> Self {
        let gap = |(point, what): (PaperPoint, &str)| ChecklistItem {
            point,
            what: what.into(),
            state: Given::NotKnown,
            word: Given::NotKnown.word().into(),
            text: String::new(),
        };
        Self(POINTS.into_iter().map(gap).collect())
    }

    /// The same with one point told.
    #[must_use]
    pub fn with(mut self, point: PaperPoint, state: Given, text: &str) -> Self {
        for item in self.0.iter_mut().filter(|item| item.point == point) {
            item.state = state;
            item.word = state.word().into();
            item.text = text.into();
        }
        self
    }

    /// All points in order.
    pub fn items(&self) -> &[ChecklistItem] {
        &self.0
    }
}

impl Default for Checklist {
    fn default() -> Self {
        Self::blank()
    }
}
