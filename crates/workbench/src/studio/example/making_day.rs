//! The round whose days are still to come: curd as binder, two powders and two amounts, the plan closed and nothing laid. Invented.

use super::super::{StudioError, TypedTrial};
use super::pen::{Pen, fields};

const YARDSTICK: &str = "the workshop's chalk ground";
const WITNESS: &str = "white primer from the tin";

const RECIPES: [(&str, &str); 6] = [
    ("chalk, usual", "30 g pressed curd, 0.8 g baking soda, 55 g water, 107 g whiting"),
    ("chalk, much", "80 g pressed curd, 2.2 g baking soda, 25 g water, 107 g whiting"),
    ("marble dust, usual", "26 g pressed curd, 0.7 g baking soda, 48 g water, 120 g marble dust"),
    ("marble dust, much", "55 g pressed curd, 1.5 g baking soda, 30 g water, 120 g marble dust"),
    (YARDSTICK, "5 g hide glue, 70 g water, 107 g whiting"),
    (WITNESS, "60 g acrylic ground"),
];

pub(super) fn write(pen: &mut Pen<'_>) -> Result<(), StudioError> {
    let form = TypedTrial {
        kind: "two-by-two".into(),
        question: "Is it the powder or the curd that cracks our milk ground?".into(),
        measure: "cracking".into(),
        way: "smaller".into(),
        names: fields(&[
            ("first_name", "powder"),
            ("first_a", "chalk"),
            ("first_b", "marble dust"),
            ("second_name", "binder"),
            ("second_a", "usual"),
            ("second_b", "much"),
        ]),
        counts: fields(&[("days", "2"), ("coats", "2")]),
        yardstick: YARDSTICK.into(),
        witness: WITNESS.into(),
        support: "birch plywood, 4 mm, one sheet, panels for the tide calendar".into(),
        size: "20 x 25 cm".into(),
        kept_same: "one batch of curd for all pots of a day; boards sized the day before; one brush for each pot".into(),
        method: "flat brush, two coats in a day, the second when the first is matt; dried lying flat in the lamp room".into(),
        ..TypedTrial::default()
    };
    pen.ask(&form, &RECIPES, (1, 20, 10), Some((1, 20, 40))).map(drop)
}
