//! A making day for the kitchen.

use show::paper::{CardStep, DaySheetsView, PaperFigure, Picture, PotRound, PotSheet, SheetAmount};
use show::{
    CautionView, DayBoard, DayRound, DayStep, DayStrip, DayView, LyingBoard, LyingBoards, ShoppingLine, ShoppingView, StripBlock,
    StripLife, StripPot, StripWait, day_column_picture, in_ink, lying_picture,
};

use super::{MADE_WITH, day, words};

const PROTECTION: &str = "Ventilate, and use the respirator, gloves and eye protection that the safety data sheet and local rules ask for.";

fn step(time: &str, what: &str, hands: &str, waits: &str, latest: &str, caution: &str) -> DayStep {
    DayStep {
        time: time.into(),
        what: what.into(),
        hands: hands.into(),
        waits: waits.into(),
        latest: latest.into(),
        caution: caution.into(),
    }
}

fn round(pot: &str, coat: &str, time: &str, first: usize) -> DayRound {
    let board = |at: usize| DayBoard {
        number: format!("{at:02}"),
        id: format!("GP-7K3M-Q{at}X"),
        place: u32::try_from(at).unwrap_or(0),
        aim: if at == 6 { String::new() } else { "10\u{a0}g (8.5 to 11.5)".into() },
    };
    DayRound {
        pot: pot.into(),
        coat: coat.into(),
        time: time.into(),
        pot_time: "The pot may then be used for another 2 to 4\u{a0}h.".into(),
        boards: (first..first + 3).map(board).collect(),
    }
}

fn strip() -> DayStrip {
    let block = |from, to, label: &str, mark: &str| StripBlock { from, to, label: label.into(), mark: mark.into() };
    let pot = |letter: &str, from: i32, words: &str| StripPot {
        letter: letter.into(),
        words: words.into(),
        life: vec![StripLife { from, low: from + 200, high: from + 320 }],
        rounds: vec![
            block(from, from + 30, "first coat", &format!("{letter}1")),
            block(from + 120, from + 150, "second coat", &format!("{letter}2")),
        ],
        waits: vec![StripWait { from: from + 10, low: from + 60, high: from + 115 }],
    };
    DayStrip {
        from: 540,
        to: 960,
        hands: vec![
            block(550, 575, "mix pot A", "mix A"),
            block(575, 605, "first coat from pot A", "A1"),
            block(620, 645, "mix pot B", "mix B"),
            block(645, 675, "first coat from pot B", "B1"),
            block(695, 725, "second coat from pot A", "A2"),
            block(765, 795, "second coat from pot B", "B2"),
            block(795, 825, "wash up", "wash"),
        ],
        pots: vec![pot("A", 575, "less glue"), pot("B", 645, "usual glue")],
        now: None,
    }
}

fn pot(letter: &str, recipe: &str, first: usize) -> PotSheet {
    let amount = |name: &str, grams: &str, kitchen: &str| SheetAmount { name: name.into(), grams: grams.into(), kitchen: kitchen.into() };
    let made = |text: &str, caution: &str| CardStep { text: text.into(), caution: caution.into() };
    let part = |time: &str, what: &str, left: &str| PotRound { time: time.into(), what: what.into(), left: left.into() };
    PotSheet {
        pot: letter.into(),
        recipe: recipe.into(),
        boards: format!("boards {first}, {}, {}", first + 1, first + 2),
        weighs: "72\u{a0}g".into(),
        time: if letter == "A" { "9:10 to 9:35".into() } else { "10:20 to 10:45".into() },
        life: "Once it is ready it may be used for 3 to 5\u{a0}h.".into(),
        amounts: vec![
            amount("natural chalk", "36\u{a0}g", "2 level tablespoons and 2 teaspoons, 0.4\u{a0}g too little"),
            amount("hide glue, grains", "2.4\u{a0}g", "1 level half teaspoon and 1 quarter teaspoon, to the tenth of a gram"),
            amount("rain water", "33.6\u{a0}g", "2 level tablespoons and 1 teaspoon, 0.9\u{a0}g too much"),
        ],
        note: String::new(),
        steps: vec![
            made(
                "Weigh everything first, powders last.",
                "Weigh powder without a draught, wipe up wet, never sweep. Follow the safety data sheet and local rules.",
            ),
            made(
                "Warm the swollen glue in a water bath until it is liquid, never above 60 °C.",
                "Do not leave the hot plate alone. Pots and spoons used for this do not go back to the kitchen.",
            ),
            made(
                "Sift the chalk into the warm binder little by little, let it stand, stir without beating air in, and strain.",
                PROTECTION,
            ),
        ],
        allergens: "Hide glue comes from animals and may be an allergen.".into(),
        water_back: true,
        rounds: vec![
            part(if letter == "A" { "9:35 to 10:05" } else { "10:45 to 11:15" }, "first coat on three boards", "3 to 5\u{a0}h"),
            part(if letter == "A" { "11:35 to 12:05" } else { "12:45 to 13:15" }, "second coat on three boards", "60 to 180 minutes"),
        ],
    }
}

/// Two pots, six boards, two coats each.
pub(crate) fn day_sheets() -> DaySheetsView {
    let line = |name: &str, need: &str, stock: &str, buy: &str, cost: &str, note: &str| ShoppingLine {
        name: name.into(),
        need: need.into(),
        stock: stock.into(),
        buy: buy.into(),
        cost: cost.into(),
        note: note.into(),
        ..ShoppingLine::default()
    };
    let figure =
        |svg: &str, alt: &str| Some(PaperFigure { picture: Picture::Drawing(in_ink(svg)), alt: alt.into(), caption: String::new() });
    let table = LyingBoards {
        columns: 4,
        places: (1..=6)
            .map(|at| LyingBoard {
                number: format!("{at:02}"),
                place: at,
                of: 2,
                words: format!("pot {}", if at < 4 { "A" } else { "B" }),
                ..LyingBoard::default()
            })
            .collect(),
    };
    DaySheetsView {
        title: "Day 1: what when?".into(),
        language: "en".into(),
        date: day(),
        made_with: MADE_WITH.into(),
        invented: true,
        day: DayView {
            title: "Day 1: what when?".into(),
            what: "Does less glue make the panel ground let go in salt air?".into(),
            next: "Begin at 9:10 with pot A.".into(),
            fits: true,
            can_begin: true,
            has_sheets: true,
            hours: ["9:00".into(), "18:00".into()],
            facts: words(&[
                "All is done by about 13:45, or 15:10 if every coat dries slowly.",
                "Hands are busy for 3\u{a0}h 20\u{a0}min of that.",
                "No order ends earlier.",
            ]),
            before: vec![step(
                "18:00 the day before",
                "Soak the glue of pot A and pot B in half of the water.",
                "10 minutes",
                "It stands for 8 to 16\u{a0}h, in the cool.",
                "",
                "",
            )],
            steps: vec![
                step("9:10 to 9:35", "Mix pot A: less glue", "25 minutes", "", "", PROTECTION),
                step("9:35 to 10:05", "First coat from pot A on boards 1, 2, 3", "30 minutes", "", "", ""),
                step("10:20 to 10:45", "Mix pot B: usual glue", "25 minutes", "", "", PROTECTION),
                step("10:45 to 11:15", "First coat from pot B on boards 4, 5, 6", "30 minutes", "", "", ""),
                step(
                    "11:35 to 12:05",
                    "Second coat from pot A on boards 1, 2, 3",
                    "30 minutes",
                    "After the first coat is matt: 50 to 110 minutes.",
                    "By 12:55 at the latest: then pot A may be too old.",
                    "",
                ),
                step(
                    "12:45 to 13:15",
                    "Second coat from pot B on boards 4, 5, 6",
                    "30 minutes",
                    "After the first coat is matt: 50 to 110 minutes.",
                    "",
                    "",
                ),
                step(
                    "13:15 to 13:45",
                    "Wash up brushes and pots",
                    "30 minutes",
                    "",
                    "",
                    "Nothing white down the sink: let the solids settle and dry, and bin them by local rules.",
                ),
            ],
            chain: words(&["10:20 Mix pot B", "10:45 First coat from pot B", "12:45 Second coat from pot B", "13:15 Wash up"]),
            ways: Vec::new(),
            warnings: words(&["The boards lie side by side on about 0.45\u{a0}m² of table."]),
            notes: words(&["Nobody read the air of the room yet: waits are for 15 to 25 °C and 40 to 65 % damp."]),
            rounds: vec![
                round("A", "first", "9:35 to 10:05", 1),
                round("B", "first", "10:45 to 11:15", 4),
                round("A", "second", "11:35 to 12:05", 1),
                round("B", "second", "12:45 to 13:15", 4),
            ],
            strip: Some(strip()),
            shopping: ShoppingView {
                say: "Buy 1 × 500\u{a0}g of hide glue, 14.50\u{a0}tokens together.".into(),
                lines: vec![
                    line("natural chalk", "72\u{a0}g", "3200\u{a0}g", "nothing", "", ""),
                    line("hide glue, grains", "4.8\u{a0}g", "", "1 × 500\u{a0}g", "14.50\u{a0}tokens", ""),
                    line("rain water", "67.2\u{a0}g", "", "nothing", "", ""),
                ],
                sums: words(&["14.50\u{a0}tokens"]),
                per_board: "What goes onto the boards costs 0.04\u{a0}tokens a board, 0.76\u{a0}tokens a square metre.".into(),
                notes: Vec::new(),
                mind: vec![CautionView {
                    about: "chalk".into(),
                    text: format!("Dust. {PROTECTION}"),
                    codes: String::new(),
                    source: "invented".into(),
                    of_this_recipe: false,
                    grave: false,
                    jar_test: String::new(),
                }],
            },
        },
        strip: figure(&day_column_picture(&strip()), "The day from 9:00 to 16:00: when pots are mixed, coats are laid and dry."),
        table: figure(&lying_picture(&table), "Six boards on the table in two rows, from the far left: 1 to 4, then 5 and 6."),
        pots: vec![pot("A", "less glue", 1), pot("B", "usual glue", 4)],
    }
}
