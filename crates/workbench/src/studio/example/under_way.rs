//! The round under way: stair boards, one sitting laid and one to come. Invented.

use super::super::{StudioError, TypedTrial};
use super::pen::{Pen, Sitting, fields};

const YARDSTICK: &str = "the workshop's chalk ground";

const RECIPES: [(&str, &str); 2] =
    [("gypsum ground", "10 g hide glue, 160 g water, 200 g gypsum"), (YARDSTICK, "10 g hide glue, 140 g water, 214 g whiting")];

const SITTING: Sitting = Sitting { day: 1, days_ago: 2, air: [("19", "55"), ("20", "53")], wait: 80 };

pub(super) fn write(pen: &mut Pen<'_>) -> Result<(), StudioError> {
    let form = TypedTrial {
        kind: "stair".into(),
        question: "How many coats can the gypsum ground carry?".into(),
        measure: "first_cracked_strip".into(),
        way: "larger".into(),
        names: fields(&[("recipe_a", "gypsum ground")]),
        counts: fields(&[("boards", "4"), ("pots", "2"), ("days", "2"), ("strips", "5")]),
        yardstick: YARDSTICK.into(),
        support: "birch plywood, 4 mm, panels for the tide calendar".into(),
        size: "20 x 25 cm".into(),
        kept_same: "the gypsum and the glue of the second round; boards sized the day before".into(),
        method: "masking tape between the strips, one strip fewer for each coat; dried lying flat in the lamp room".into(),
        ..TypedTrial::default()
    };
    let trial = pen.ask(&form, &RECIPES, (5, 18, 0), Some((4, 19, 0)))?;
    pen.mix(&trial, &SITTING, |recipe| {
        Some(if recipe == YARDSTICK {
            ("10.0 g hide glue, 141 g water, 214 g whiting", "")
        } else {
            ("10.1 g hide glue, 160 g water, 199 g gypsum", "kept at hand warmth; thick by the fourth coat")
        })
    })?;
    // A little sticks to sieve and spoon; until the last coat the warm pots lose some water.
    let held = |recipe: &str| if recipe == YARDSTICK { 3_611 } else { 3_658 };
    pen.weigh_pots(&trial, &SITTING, (8, 50), held)?;
    pen.lay(&trial, &SITTING)?;
    pen.weigh_pots(&trial, &SITTING, (16, 0), |recipe| held(recipe) - if recipe == YARDSTICK { 62 } else { 94 })
}
