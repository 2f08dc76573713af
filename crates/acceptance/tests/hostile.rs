//! Text that was made to break a reader, through every place that takes text. It may be refused with a sentence; it may never stop
//! the program, be lost, or come back as a number that is none.

#![expect(clippy::unwrap_used, clippy::disallowed_methods, reason = "in a test a panic is the report; the cases lie in files")]

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::time::Duration;

use acceptance::Stopwatch;
use materials::{Amount, Catalogue, Wishes, read, read_strict};
use measure::Units;
use proptest::prelude::*;
use proptest::sample::select;
use serde_json::Value;
use show::{Card, card_picture, standalone};
use workbench::{BesideRequest, FailedRequest, MilkForm, TextError, VerdictRequest, Workbench};

/// Longest that one text of a recipe's length may take; ten times what is usual, on a slow machine.
const WITHOUT_DELAY: Duration = Duration::from_secs(5);

/// No number may leave that is none: JSON writes those as `null`, so every `null` in a figure must say why.
fn every_null_says_why(json: &Value) {
    match json {
        Value::Object(fields) => {
            if fields.get("value").is_some_and(Value::is_null) {
                assert!(fields.get("why").is_some_and(|why| why.as_str().is_some_and(|why| !why.is_empty())), "{json}");
            }
            fields.values().for_each(every_null_says_why);
        }
        Value::Array(items) => items.iter().for_each(every_null_says_why),
        _ => {}
    }
}

fn check_card(told: &str, card: &Card) {
    let back: String = card.pieces.iter().map(|piece| piece.text.as_str()).collect();
    assert_eq!(back, told);
    every_null_says_why(&serde_json::to_value(&card.report).unwrap());
    // The picture of any card is well-formed, whatever was told.
    let svg = standalone(&card_picture(card, Workbench::edges()));
    if let Err(why) = roxmltree::Document::parse(&svg) {
        panic!("{why}: {svg}");
    }
    for text in [&card.sentence, &card.rests_on, &card.word.text] {
        // A sentence may quote what was told, NaN and all; it may not make one up.
        assert!(told.contains("NaN") || !text.contains("NaN"), "{text}");
        assert!(told.contains("inf") || !text.contains("inf "), "{text}");
    }
}

/// One text through every place that takes text.
fn everywhere(text: &str) {
    let (jars, units) = (Catalogue::builtin().unwrap(), Units::builtin().unwrap());
    let reading = read(jars, &units, text, &Wishes::new());
    let back: String = reading.pieces.iter().map(|piece| piece.span().of(text)).collect();
    assert_eq!(back, text, "pieces cover the text");
    for line in &reading.lines {
        let number = match &line.amount {
            Amount::Mass { number, .. }
            | Amount::Volume { number, .. }
            | Amount::Parts { number, .. }
            | Amount::VolumePerLiquid { number }
            | Amount::PercentOfWhole { number }
            | Amount::Pieces { number } => number,
            Amount::NotGiven(_) => continue,
        };
        assert!(number.low >= 0.0 && number.low <= number.high && number.high.is_finite(), "{text:?}: {number:?}");
    }
    if let Err(errors) = read_strict(jars, &units, text) {
        let lines = text.lines().count();
        assert!(errors.iter().all(|error| (1..=lines).contains(&error.line) && !error.what.is_empty()), "{errors:?}");
    }

    let bench = Workbench::open().unwrap();
    let odd = BTreeMap::from([(text.to_owned(), text.to_owned()), ("unit:cup".to_owned(), text.to_owned())]);
    let told = VerdictRequest { told: text.to_owned(), choices: odd.clone(), ..VerdictRequest::default() };
    if let Ok(card) = bench.verdict(&told) {
        check_card(text, &card);
    }
    let strict = VerdictRequest { strict: true, ..told.clone() };
    if let Ok(card) = bench.verdict(&strict) {
        every_null_says_why(&serde_json::to_value(&card.report).unwrap());
    }
    let _ = bench.beside(&BesideRequest {
        left: told,
        right: VerdictRequest { told: "100 g chalk, 9 g glue, 90 g water".into(), ..VerdictRequest::default() },
    });

    let failed = FailedRequest { told: text.to_owned(), choices: odd.clone(), ..FailedRequest::default() };
    if let Ok(view) = bench.failed(&failed) {
        every_null_says_why(&serde_json::to_value(&view.report).unwrap());
    }
    let named = [
        FailedRequest { taps: odd, ..FailedRequest::default() },
        FailedRequest { taps: BTreeMap::from([("when".to_owned(), text.to_owned())]), ..FailedRequest::default() },
        FailedRequest { facts: BTreeSet::from([text.to_owned()]), ..FailedRequest::default() },
        FailedRequest { support: Some(text.to_owned()), ..FailedRequest::default() },
    ];
    for request in named {
        if let Err(why) = bench.failed(&request) {
            assert!(!why.to_string().is_empty());
        }
    }

    let text = text.to_owned();
    let usual = MilkForm::default();
    let forms = [
        MilkForm { milk: text.clone(), ..usual.clone() },
        MilkForm { acid: text.clone(), ..usual.clone() },
        MilkForm { powder: text.clone(), ..usual.clone() },
        MilkForm { base: text.clone(), ..usual.clone() },
        MilkForm { size: text, ..usual },
    ];
    for form in forms {
        match bench.milk(&form) {
            Ok(view) => every_null_says_why(&serde_json::to_value(&view.report).unwrap()),
            Err(why) => assert!(!why.to_string().is_empty()),
        }
    }
}

/// Pieces that mean something to a reader of recipes, and pieces that upset one.
fn crumbs() -> impl Strategy<Value = String> {
    let words = select(vec![
        "250",
        "½",
        "1/0",
        "1e309",
        "-3",
        "0",
        "NaN",
        "∞",
        "12-15",
        "15-12",
        "3 1/2",
        "2,5",
        "1.000,00",
        "g",
        "kg",
        "cups",
        "parts",
        "%",
        "ml",
        "to",
        "one",
        "half a",
        "dozen",
        "chalk",
        "glue",
        "casein",
        "milk",
        "water",
        "borax",
        "lemon",
        "plaster",
        "and",
        "per",
        "of",
        "by weight",
        "heaped",
        "dry",
        "no",
        "sorry,",
        "twice as much",
        "as",
        "until",
        ":",
        ";",
        "\n",
        "\t",
        "(",
        ")",
        "x",
        "#",
        "\u{200b}",
        "\u{202e}",
        "\u{0301}",
        "🧀",
        "<b>",
        "\"",
        "'",
        "\\",
        "\0",
        "\u{feff}",
        "ß",
        "İ",
        "ﬁ",
        "१२",
        "一",
        "4 coats",
        "20 x 25 cm",
        "100 um",
    ]);
    (proptest::collection::vec(words, 0..24), select(vec![" ", "", "\n", ", "])).prop_map(|(words, between)| words.join(between))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_text_is_taken_or_refused(text in any::<String>()) {
        everywhere(&text);
    }

    #[test]
    fn crumbs_of_recipes_are_taken_or_refused(text in crumbs()) {
        everywhere(&text);
    }

    #[test]
    fn any_number_in_a_form_is_taken_or_refused(wet in any::<f64>(), dry in any::<f64>(), area in any::<f64>(), coats in any::<u32>(), boards in any::<u32>(), warmth in any::<f64>()) {
        let bench = Workbench::open().unwrap();
        let told = "2 cups chalk, 20 g hide glue, 150 ml water".to_owned();
        let request = VerdictRequest { told: told.clone(), wet_um: Some(wet), coats: Some(coats), area_m2: Some(area), ..VerdictRequest::default() };
        match bench.verdict(&request) {
            Ok(card) => check_card(&told, &card),
            Err(why) => prop_assert!(!why.to_string().is_empty()),
        }
        let _ = bench.failed(&FailedRequest { told, dry_um: Some(dry), coats: Some(coats), ..FailedRequest::default() });
        let _ = bench.milk(&MilkForm { boards, coats, warmth_c: Some(warmth), ..MilkForm::default() });
    }
}

#[test]
fn the_hostile_cases_go_through_every_place() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/cases/hostile");
    let mut seen = 0;
    for entry in std::fs::read_dir(folder).unwrap() {
        let file = entry.unwrap().path();
        if file.extension().is_some_and(|end| end == "txt") {
            let text = String::from_utf8_lossy(&std::fs::read(&file).unwrap()).into_owned();
            let started = Stopwatch::start();
            everywhere(&text);
            assert!(started.elapsed() < WITHOUT_DELAY, "{}: {:?}", file.display(), started.elapsed());
            seen += 1;
        }
    }
    assert!(seen >= 12, "{seen} cases");
}

/// Shares of nothing, found by feeding made-up bytes to the reader.
#[test]
fn a_share_of_nothing_is_no_amount() {
    for text in [
        "chalk 0/0",
        "chalk 1/0",
        "chalk 0/0 g",
        "1/0 cups chalk",
        "0/0 parts glue to 1 water",
        "glue 0:0",
        "glue 1:0 size",
        "2 1/0 g chalk",
        "1/0-1/0 g chalk",
    ] {
        everywhere(text);
    }
}

/// Texts as long as the box takes, made so that a careless reader takes quadratic time over them.
#[test]
fn long_texts_are_read_without_delay() {
    let bench = Workbench::open().unwrap();
    for crumb in [
        "a",
        "1",
        "1 ",
        "1 g ",
        "chalk ",
        "chalk, ",
        "1/",
        "- ",
        "of ",
        "and ",
        "half a ",
        "(",
        "1-2 ",
        "ck ",
        "12 cups chalk\n",
        "parts ",
        "é",
        "\u{301}",
        "to 1 ",
        "% ",
    ] {
        let text = crumb.repeat(64 * 1024 / crumb.len());
        let started = Stopwatch::start();
        let answer = bench.verdict(&VerdictRequest { told: text.clone(), ..VerdictRequest::default() });
        let took = started.elapsed();
        match answer {
            Ok(card) => assert_eq!(card.pieces.iter().map(|piece| piece.text.len()).sum::<usize>(), text.len()),
            Err(why) => assert_eq!(why, TextError::TooMany, "`{crumb}`"),
        }
        assert!(took < WITHOUT_DELAY, "`{crumb}`: {took:?}");
    }
}
