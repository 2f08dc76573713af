//! The second round: powder and binder moved on their own, in four sittings, so that the boards can tell. Invented.

use super::super::{StudioError, TypedTrial};
use super::pen::{Pen, Seen, Sitting, fields};

const YARDSTICK: &str = "the workshop's chalk ground";
const WITNESS: &str = "white primer from the tin";

const RECIPES: [(&str, &str); 6] = [
    ("chalk, usual", "5 g hide glue, 70 g water, 107 g whiting"),
    ("chalk, much", "8 g hide glue, 70 g water, 107 g whiting"),
    ("gypsum, usual", "5 g hide glue, 80 g water, 100 g gypsum"),
    ("gypsum, much", "8 g hide glue, 80 g water, 100 g gypsum"),
    (YARDSTICK, "5 g hide glue, 70 g water, 107 g whiting"),
    (WITNESS, "60 g acrylic ground"),
];

const SITTINGS: [Sitting; 4] = [
    Sitting { day: 1, days_ago: 60, air: [("18", "58"), ("19", "56")], wait: 100 },
    Sitting { day: 2, days_ago: 59, air: [("18.5", "57"), ("19.5", "55")], wait: 95 },
    Sitting { day: 3, days_ago: 58, air: [("17.5", "64"), ("18.5", "61")], wait: 110 },
    Sitting { day: 4, days_ago: 57, air: [("19", "54"), ("20", "52")], wait: 90 },
];

/// What was truly weighed, by sitting and recipe, with the remark on the pot.
const POTS: [(u32, &str, &str, &str); 21] = [
    (1, "chalk, usual", "5.0 g hide glue, 71 g water, 107 g whiting", ""),
    (1, "chalk, much", "8.1 g hide glue, 70 g water, 106 g whiting", "a little foam, skimmed"),
    (1, "gypsum, usual", "5.0 g hide glue, 80 g water, 101 g gypsum", ""),
    (1, "gypsum, much", "8.0 g hide glue, 81 g water, 100 g gypsum", ""),
    (1, YARDSTICK, "5.1 g hide glue, 70 g water, 107 g whiting", ""),
    (1, WITNESS, "61 g acrylic ground", "stirred, not thinned"),
    (2, "chalk, usual", "4.9 g hide glue, 70 g water, 108 g whiting", ""),
    (2, "chalk, much", "8.0 g hide glue, 69 g water, 107 g whiting", ""),
    (2, "gypsum, usual", "5.1 g hide glue, 79 g water, 100 g gypsum", "thick at the end; kept warm"),
    (2, "gypsum, much", "7.9 g hide glue, 80 g water, 99 g gypsum", ""),
    (2, YARDSTICK, "5.0 g hide glue, 70 g water, 106 g whiting", ""),
    (3, "chalk, usual", "5.1 g hide glue, 70 g water, 107 g whiting", ""),
    (3, "chalk, much", "8.0 g hide glue, 71 g water, 107 g whiting", ""),
    (3, "gypsum, usual", "5.0 g hide glue, 81 g water, 100 g gypsum", ""),
    (3, "gypsum, much", "8.1 g hide glue, 80 g water, 100 g gypsum", "a few lumps, strained once"),
    (3, YARDSTICK, "5.0 g hide glue, 71 g water, 107 g whiting", ""),
    (4, "chalk, usual", "5.0 g hide glue, 69 g water, 107 g whiting", ""),
    (4, "chalk, much", "8.0 g hide glue, 70 g water, 108 g whiting", ""),
    (4, "gypsum, usual", "4.9 g hide glue, 80 g water, 100 g gypsum", ""),
    (4, "gypsum, much", "8.0 g hide glue, 80 g water, 101 g gypsum", ""),
    (4, YARDSTICK, "5.0 g hide glue, 70 g water, 107 g whiting", ""),
];

/// What was seen on the board of a recipe in a sitting.
struct Board {
    day: u32,
    recipe: &'static str,
    /// Cracks: A. after a day and a week, A. and B. after four weeks.
    cracks: [&'static str; 4],
    /// Dust on the finger after a week and after four, A.
    dust: [&'static str; 2],
    /// Seconds until a drop of water is dull, after four weeks, A.
    drop: &'static str,
    /// B.'s remark after four weeks.
    note: &'static str,
}

const fn seen(
    day: u32,
    recipe: &'static str,
    cracks: [&'static str; 4],
    dust: [&'static str; 2],
    drop: &'static str,
    note: &'static str,
) -> Board {
    Board { day, recipe, cracks, dust, drop, note }
}

const BOARDS: [Board; 21] = [
    seen(1, "chalk, usual", ["0", "0.5", "0.5", "1"], ["1.5", "1.5"], "48", ""),
    seen(1, "chalk, much", ["1", "2", "2.5", "3"], ["0.5", "0.5"], "170", "cracks run with the grain"),
    seen(1, "gypsum, usual", ["0", "0.5", "1", "0.5"], ["2", "1.5"], "35", ""),
    seen(1, "gypsum, much", ["1", "2", "3", "2.5"], ["1", "0.5"], "140", ""),
    seen(1, YARDSTICK, ["0", "0.5", "0.5", "0.5"], ["1.5", "1.5"], "52", ""),
    seen(1, WITNESS, ["0", "0", "0", "0"], ["0", "0"], ">600", ""),
    seen(2, "chalk, usual", ["0", "0.5", "1", "1"], ["1", "1"], "61", ""),
    seen(2, "chalk, much", ["1.5", "2.5", "3", "3"], ["0.5", "0"], "230", "a net in the upper half"),
    seen(2, "gypsum, usual", ["0", "0", "0.5", "1"], ["1.5", "1.5"], "44", ""),
    seen(2, "gypsum, much", ["1", "2", "2.5", "3"], ["0.5", "0.5"], "185", ""),
    seen(2, YARDSTICK, ["0", "0.5", "1", "0.5"], ["1", "1.5"], "57", ""),
    seen(3, "chalk, usual", ["0", "0.5", "1", "0.5"], ["1.5", "1.5"], "43", ""),
    seen(3, "chalk, much", ["1", "2.5", "3", "2.5"], ["0.5", "0.5"], ">600", "the drop sat in a glossy place"),
    seen(3, "gypsum, usual", ["0.5", "0.5", "1", "1"], ["2", "2"], "31", ""),
    seen(3, "gypsum, much", ["1.5", "3", "3.5", "3"], ["1", "1"], "120", "widest cracks of all at the left edge"),
    seen(3, YARDSTICK, ["0", "0.5", "1", "1"], ["1.5", "1.5"], "46", ""),
    seen(4, "chalk, usual", ["0", "0.5", "1", "1"], ["1", "1"], "66", ""),
    seen(4, "chalk, much", ["1", "2", "2.5", "2.5"], ["0.5", "0"], "210", ""),
    seen(4, "gypsum, usual", ["0", "0.5", "1", "1.5"], ["1.5", "1.5"], "40", "two short ones by the hanging hole"),
    seen(4, "gypsum, much", ["1", "2.5", "3", "3"], ["1", "0.5"], "160", ""),
    seen(4, YARDSTICK, ["0", "0.5", "0.5", "1"], ["1", "1"], "60", ""),
];

/// From the first coat to the last reading, days ago.
const DAYS: std::ops::RangeInclusive<i64> = 29..=60;
/// The board that is lost: sitting, recipe, days ago.
const LOST: (u32, &str, i64) = (3, "chalk, usual", 44);
/// The board whose reading was taken back, and what was typed first.
const SLIP: (u32, &str, &str) = (2, "gypsum, usual", "4");

/// Which column of `Board::cracks` and `Board::dust`, who read, and days after the sitting.
struct Look {
    after: i64,
    cracks: &'static [(usize, &'static str)],
    dust: Option<usize>,
    drop: bool,
}

const LOOKS: [Look; 3] = [
    Look { after: 1, cracks: &[(0, "A.")], dust: None, drop: false },
    Look { after: 7, cracks: &[(1, "A.")], dust: Some(0), drop: false },
    Look { after: 28, cracks: &[(2, "A."), (3, "B.")], dust: Some(1), drop: true },
];

pub(super) fn write(pen: &mut Pen<'_>) -> Result<(), StudioError> {
    let form = TypedTrial {
        kind: "two-by-two".into(),
        question: "Is it the powder or the glue that cracks our ground?".into(),
        measure: "cracking".into(),
        way: "smaller".into(),
        names: fields(&[
            ("first_name", "powder"),
            ("first_a", "chalk"),
            ("first_b", "gypsum"),
            ("second_name", "binder"),
            ("second_a", "usual"),
            ("second_b", "much"),
        ]),
        counts: fields(&[("days", "4"), ("coats", "3")]),
        yardstick: YARDSTICK.into(),
        witness: WITNESS.into(),
        support: "birch plywood, 4 mm, one sheet, panels for the tide calendar".into(),
        size: "20 x 25 cm".into(),
        kept_same: "one sack of each powder, one lot of glue; boards sized the day before; one brush for each pot".into(),
        method: "flat brush, three coats in a day, each when the last is matt; dried lying flat in the lamp room".into(),
        ..TypedTrial::default()
    };
    let trial = pen.ask(&form, &RECIPES, (62, 18, 0), Some((61, 19, 0)))?;
    // Day by day: while later sittings are laid, the boards of the first are looked at in the evening.
    for days_ago in DAYS.rev() {
        for sitting in SITTINGS.iter().filter(|sitting| sitting.days_ago == days_ago) {
            pen.mix(&trial, sitting, |recipe| weighed(sitting.day, recipe))?;
            pen.lay(&trial, sitting)?;
        }
        for look in &LOOKS {
            for sitting in SITTINGS.iter().filter(|sitting| sitting.days_ago - look.after == days_ago) {
                read_all(pen, &trial, sitting, look)?;
            }
        }
        if days_ago == LOST.2 {
            lose(pen, &trial)?;
        }
    }
    Ok(())
}

fn lose(pen: &mut Pen<'_>, trial: &str) -> Result<(), StudioError> {
    let (day, recipe, days_ago) = LOST;
    let boards = pen.boards(trial, day);
    let Some((board, ..)) = boards.iter().find(|(_, name, _)| name == recipe) else { return Err(StudioError::Missing("board")) };
    let stamp = pen.at((days_ago, 19, 0));
    pen.bench.lose_board(pen.studio, board, "left on the sill in the rain; the ground came off", &stamp)
}

fn weighed(day: u32, recipe: &str) -> Option<(&'static str, &'static str)> {
    POTS.iter().find(|(of, name, ..)| *of == day && *name == recipe).map(|(_, _, told, note)| (*told, *note))
}

fn read_all(pen: &mut Pen<'_>, trial: &str, sitting: &Sitting, look: &Look) -> Result<(), StudioError> {
    let days_ago = sitting.days_ago - look.after;
    let boards: Vec<(String, &Board)> = pen
        .boards(trial, sitting.day)
        .into_iter()
        .filter(|(board, ..)| pen.state().loss_of(board).is_none())
        .filter_map(|(id, recipe, _)| Some((id, BOARDS.iter().find(|board| board.day == sitting.day && board.recipe == recipe)?)))
        .collect();
    let mut minute = 0;
    for (column, rater) in look.cracks {
        for (id, board) in &boards {
            minute += 4;
            let value = board.cracks.get(*column).copied().unwrap_or_default();
            let note = if *rater == "B." { board.note } else { "" };
            let slip = *rater == "B." && (board.day, board.recipe) == (SLIP.0, SLIP.1);
            if slip {
                let wrong = pen.read(id, &Seen { measure: "cracking", value: SLIP.2, rater, note: "" }, (days_ago, 17, minute))?;
                let stamp = pen.at((days_ago, 17, minute + 1));
                pen.bench.take_back(pen.studio, wrong, "read off the board beside it", &stamp)?;
            }
            pen.read(id, &Seen { measure: "cracking", value, rater, note }, (days_ago, 17, minute + 2))?;
        }
    }
    for (id, board) in &boards {
        minute += 4;
        if let Some(value) = look.dust.and_then(|column| board.dust.get(column)) {
            pen.read(id, &Seen { measure: "finger_rub", value, rater: "A.", note: "" }, (days_ago, 17, minute))?;
        }
        if look.drop {
            pen.read(id, &Seen { measure: "drop_time", value: board.drop, rater: "A.", note: "" }, (days_ago, 17, minute + 2))?;
        }
    }
    Ok(())
}
