//! The first round: two things changed at once, so that its boards can't tell which did it. Invented.

use super::super::{StudioError, TypedTrial};
use super::pen::{Pen, Seen, Sitting, fields};

const YARDSTICK: &str = "the workshop's chalk ground";

const BOARDS: &str = "day, pot, powder, binder
1, A, chalk, much
1, A, chalk, much
1, B, gypsum, little
1, B, gypsum, little
2, C, chalk, much
2, C, chalk, much
2, D, gypsum, little
2, D, gypsum, little";

const RECIPES: [(&str, &str); 3] = [
    ("chalk, much", "12 g hide glue, 105 g water, 160 g whiting"),
    ("gypsum, little", "6 g hide glue, 120 g water, 150 g gypsum"),
    (YARDSTICK, "7.5 g hide glue, 105 g water, 160 g whiting"),
];

const SITTINGS: [Sitting; 2] = [
    Sitting { day: 1, days_ago: 79, air: [("17.5", "61"), ("18.5", "58")], wait: 90 },
    Sitting { day: 2, days_ago: 78, air: [("18", "63"), ("19", "60")], wait: 90 },
];

/// What was truly weighed, by sitting and recipe, with the remark on the pot.
const POTS: [(u32, &str, &str, &str); 6] = [
    (1, "chalk, much", "12.1 g hide glue, 105 g water, 159 g whiting", "smooth"),
    (1, "gypsum, little", "6.0 g hide glue, 121 g water, 150 g gypsum", "thickened a little towards noon"),
    (1, YARDSTICK, "7.6 g hide glue, 104 g water, 161 g whiting", ""),
    (2, "chalk, much", "11.9 g hide glue, 106 g water, 160 g whiting", "a few lumps, strained once"),
    (2, "gypsum, little", "6.1 g hide glue, 119 g water, 151 g gypsum", ""),
    (2, YARDSTICK, "7.5 g hide glue, 105 g water, 160 g whiting", ""),
];

/// Cracks by sitting, recipe and board of that recipe: A. after a week, A. and B. after two weeks, B.'s remark.
const CRACKS: [(u32, &str, &[[&str; 4]]); 6] = [
    (1, "chalk, much", &[["2", "3", "3.5", ""], ["2.5", "3", "3", "one long crack along the grain"]]),
    (1, "gypsum, little", &[["0", "0.5", "1", ""], ["0", "1", "1", ""]]),
    (1, YARDSTICK, &[["0.5", "1", "1", ""]]),
    (2, "chalk, much", &[["2", "3.5", "3", "finest net in one corner"], ["2", "2.5", "3", ""]]),
    (2, "gypsum, little", &[["0.5", "1", "0.5", ""], ["0", "0.5", "0.5", ""]]),
    (2, YARDSTICK, &[["0", "0.5", "1", ""]]),
];

/// The board that is lost: sitting, recipe, which of that recipe.
const LOST: (u32, &str, usize) = (2, "gypsum, little", 1);

pub(super) fn write(pen: &mut Pen<'_>) -> Result<(), StudioError> {
    let form = TypedTrial {
        kind: "own".into(),
        question: "Why does our new ground crack?".into(),
        measure: "cracking".into(),
        way: "smaller".into(),
        grid: BOARDS.into(),
        counts: fields(&[("coats", "3")]),
        yardstick: YARDSTICK.into(),
        support: "birch plywood, 4 mm, offcuts of the boat shed".into(),
        size: "20 x 25 cm".into(),
        kept_same: "glue soaked overnight; boards sized the day before; one brush".into(),
        method: "flat brush, a coat when the last one is matt, no sanding in between".into(),
        ..TypedTrial::default()
    };
    let trial = pen.ask(&form, &RECIPES, (80, 18, 0), Some((80, 18, 30)))?;
    for sitting in &SITTINGS {
        pen.mix(&trial, sitting, |recipe| weighed(sitting.day, recipe))?;
        pen.lay(&trial, sitting)?;
    }
    for sitting in &SITTINGS {
        look(pen, &trial, sitting, sitting.days_ago - 7, &[(0, "A.")])?;
    }
    let boards = pen.boards(&trial, LOST.0);
    let mut of_recipe = boards.iter().filter(|(_, recipe, _)| recipe == LOST.1);
    let Some((board, ..)) = of_recipe.nth(LOST.2) else { return Err(StudioError::Missing("board")) };
    let stamp = pen.at((68, 16, 45));
    pen.bench.lose_board(pen.studio, board, "fell down the spiral stairs, a corner broke off", &stamp)?;
    for sitting in &SITTINGS {
        look(pen, &trial, sitting, sitting.days_ago - 14, &[(1, "A."), (2, "B.")])?;
    }
    Ok(())
}

fn weighed(day: u32, recipe: &str) -> Option<(&'static str, &'static str)> {
    POTS.iter().find(|(of, name, ..)| *of == day && *name == recipe).map(|(_, _, told, note)| (*told, *note))
}

/// Everybody looks at the boards of a sitting; columns of the table and who read them.
fn look(pen: &mut Pen<'_>, trial: &str, sitting: &Sitting, days_ago: i64, columns: &[(usize, &str)]) -> Result<(), StudioError> {
    let mut minute = 0;
    let boards = pen.boards(trial, sitting.day);
    for (column, rater) in columns {
        for (_, recipe, rows) in CRACKS.iter().filter(|(day, ..)| *day == sitting.day) {
            let of_recipe = boards.iter().filter(|(_, name, _)| name == recipe);
            for ((board, ..), row) in of_recipe.zip(*rows) {
                minute += 3;
                if pen.state().loss_of(board).is_some() {
                    continue;
                }
                let [.., note] = *row;
                let value = row.get(*column).copied().unwrap_or_default();
                let note = if *rater == "B." { note } else { "" };
                pen.read(board, &Seen { measure: "cracking", value, rater, note }, (days_ago, 10, minute))?;
            }
        }
    }
    Ok(())
}
