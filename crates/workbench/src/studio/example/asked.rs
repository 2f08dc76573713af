//! The round that is only asked: its binder moves with the day and the sheet, on purpose, and the plan is not fixed. Invented.

use super::super::{StudioError, TypedTrial};
use super::pen::{Pen, fields};

const BOARDS: &str = "day, pot, sheet, binder
1, A, left, hide glue
1, A, left, hide glue
2, B, right, gelatine
2, B, right, gelatine";

const RECIPES: [(&str, &str); 2] = [
    ("hide glue", "10 g hide glue, 140 g water, 107 g whiting, 100 g gypsum"),
    ("gelatine", "10 g gelatine, 140 g water, 107 g whiting, 100 g gypsum"),
];

pub(super) fn write(pen: &mut Pen<'_>) -> Result<(), StudioError> {
    let form = TypedTrial {
        kind: "own".into(),
        question: "Does kitchen gelatine dust less than hide glue?".into(),
        measure: "finger_rub".into(),
        way: "smaller".into(),
        grid: BOARDS.into(),
        counts: fields(&[("coats", "3")]),
        support: "birch plywood, 4 mm, two offcuts".into(),
        size: "20 x 25 cm".into(),
        kept_same: "half chalk, half gypsum".into(),
        method: "as in the second round".into(),
        ..TypedTrial::default()
    };
    pen.ask(&form, &RECIPES, (1, 19, 30), None).map(drop)
}
