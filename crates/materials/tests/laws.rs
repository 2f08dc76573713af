//! Laws of the recipe reader that hold for every text.
#![expect(clippy::unwrap_used, reason = "in a test a panic is the report")]

use std::sync::LazyLock;

use materials::{Amount, Catalogue, Line, Piece, QuestionId, Reading, Wishes, read, read_strict};
use measure::Units;
use proptest::prelude::*;

static UNITS: LazyLock<Units> = LazyLock::new(|| Units::builtin().unwrap());

fn told(text: &str) -> Reading {
    read(Catalogue::builtin().unwrap(), &UNITS, text, &Wishes::new())
}

/// Text that looks like a recipe: words, numbers, units, marks in any order.
fn recipe_like() -> impl Strategy<Value = String> {
    let words = [
        "chalk",
        "glue",
        "casein",
        "water",
        "250",
        "1/2",
        "½",
        "12-15",
        "g",
        "ml",
        "cups",
        "tbsp",
        "oz",
        "of",
        "and",
        ",",
        ";",
        ":",
        "(",
        ")",
        "\n",
        "\t",
        "%",
        "1:10",
        "no",
        "twice as much",
        "as",
        "parts",
        "by weight",
        "each",
        "per",
        "litre",
        "equal parts",
        "until like cream",
        "sorry",
        "or",
        "whitting",
        "zorkwort",
        "dry",
        "slaked",
        "a",
        "half",
        "two hundred",
        "x",
        "-",
        ".",
        "/",
        "+",
        "= ",
        "3 coats",
        "20x25 cm boards",
        "used",
        "same again of",
        "of the",
    ];
    proptest::collection::vec(proptest::sample::select(words.to_vec()), 0..40).prop_map(|words| words.join(" "))
}

fn check(text: &str) -> Result<(), TestCaseError> {
    let reading = told(text);
    let mut end = 0;
    for piece in &reading.pieces {
        let span = piece.span();
        prop_assert_eq!(span.from, end);
        prop_assert!(span.to > span.from);
        prop_assert!(text.get(span.from..span.to).is_some());
        if let Piece::Chip(chip) = piece {
            prop_assert!(chip.line.is_none_or(|line| line < reading.lines.len()));
            prop_assert!(chip.questions.iter().all(|id| reading.questions.iter().any(|question| question.id == *id)));
        }
        end = span.to;
    }
    prop_assert_eq!(end, text.len());
    for line in &reading.lines {
        prop_assert!(!line.material.candidates.is_empty());
        prop_assert!(text.get(line.span.from..line.span.to).is_some());
        prop_assert!(sound(&line.amount), "{:?}", line.amount);
    }
    for question in &reading.questions {
        prop_assert!((2..=3).contains(&question.choices.len()));
        prop_assert!(question.choices.iter().any(|choice| choice.id == question.assumed));
    }
    Ok(())
}

fn sound(amount: &Amount) -> bool {
    let number = match amount {
        Amount::Mass { number, .. }
        | Amount::Volume { number, .. }
        | Amount::Parts { number, .. }
        | Amount::VolumePerLiquid { number }
        | Amount::PercentOfWhole { number }
        | Amount::Pieces { number } => number,
        Amount::NotGiven(_) => return true,
    };
    number.low.is_finite() && number.high.is_finite() && number.low >= 0.0 && number.low <= number.high && number.high > 0.0
}

/// What a line says, without its place.
fn said(line: &Line) -> String {
    format!("{:?} {:?} {:?} {}", line.material, line.amount, line.strength, line.said_dry)
}

proptest! {
    #[test]
    fn no_text_is_lost_and_none_panics(text in any::<String>()) {
        check(&text)?;
        let _ = read_strict(Catalogue::builtin().unwrap(), &UNITS, &text);
    }

    #[test]
    fn no_recipe_like_text_is_lost(text in recipe_like()) {
        check(&text)?;
        let _ = read_strict(Catalogue::builtin().unwrap(), &UNITS, &text);
    }

    #[test]
    fn the_order_of_the_lines_does_not_matter(order in Just([0usize, 1, 2, 3, 4, 5]).prop_shuffle()) {
        let lines = ["250 g chalk", "glue: 30 g", "2 cups water", "1 tsp honey", "3 eggs", "marble dust 1/2 kg"];
        let text = order.iter().map(|at| lines[*at]).collect::<Vec<_>>().join("\n");
        let mut first: Vec<String> = told(&lines.join("\n")).lines.iter().map(said).collect();
        let mut second: Vec<String> = told(&text).lines.iter().map(said).collect();
        first.sort();
        second.sort();
        prop_assert_eq!(first, second);
    }

    #[test]
    fn answers_settle_and_stay_settled(text in recipe_like(), place in 0usize..3) {
        let (jars, before) = (Catalogue::builtin().unwrap(), told(&text));
        let wishes: Wishes = before.questions.iter().map(|question| {
            let choice = &question.choices[place.min(question.choices.len() - 1)];
            (question.id.clone(), choice.id.clone())
        }).collect();
        let once = read(jars, &UNITS, &text, &wishes);
        for question in &before.questions {
            if let Some(now) = once.questions.iter().find(|other| other.id == question.id) {
                prop_assert_eq!(&now.assumed, &wishes[&question.id]);
                prop_assert_eq!(&now.choices, &question.choices);
            }
        }
        prop_assert_eq!(&once, &read(jars, &UNITS, &text, &wishes));
        let mut more = wishes;
        more.insert(QuestionId("unit:nothing".into()), "martian".into());
        prop_assert_eq!(once, read(jars, &UNITS, &text, &more));
    }
}
