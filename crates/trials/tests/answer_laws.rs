//! What must hold of any table of readings.
#![expect(clippy::unwrap_used, clippy::indexing_slicing, reason = "in a test a panic is the report")]

use std::fmt::Write as _;

use proptest::prelude::*;
use trials::answer::{Answer, Question, Rules, answer, read};

const HEAD: &str = "board,measure,value,kind,batch,day,recipe,job\n";

#[derive(Debug, Clone)]
struct Made {
    recipe: usize,
    day: usize,
    pot: usize,
    value: u8,
}

fn boards() -> impl Strategy<Value = Vec<Made>> {
    let one = (0usize..3, 0usize..3, 0usize..4, 0u8..=5).prop_map(|(recipe, day, pot, value)| Made { recipe, day, pot, value });
    proptest::collection::vec(one, 2..10)
}

fn lines(boards: &[Made], kind: &str, days: [&str; 3]) -> Vec<String> {
    let value = |made: &Made| match kind {
        "yes_no" => {
            if made.value > 2 {
                "yes".to_owned()
            } else {
                "no".to_owned()
            }
        }
        "time" if made.value == 5 => ">14".to_owned(),
        "time" => format!("{}..{}", made.value, made.value + 2),
        _ => made.value.to_string(),
    };
    let names = ["A", "B", "known"];
    let line = |(index, made): (usize, &Made)| {
        let (recipe, day) = (names[made.recipe], days[made.day]);
        let job = if recipe == "known" { "yardstick" } else { "" };
        format!("b{index},m,{},{kind},p{},{day},{recipe},{job}\n", value(made), made.pot)
    };
    boards.iter().enumerate().map(line).collect()
}

fn told(lines: &[String]) -> Answer {
    answer(&read(&format!("{HEAD}{}", lines.concat())).unwrap(), &Question::default(), Rules::builtin().unwrap()).unwrap()
}

/// All that is computed, day names left out.
fn essence(answer: &Answer) -> String {
    let mut text = String::new();
    for measured in &answer.measures {
        let _ =
            writeln!(text, "{:?} {} {} {:?} {:?}", measured.unit, measured.boards, measured.batches, measured.verdict, measured.refused);
        for effect in &measured.effects {
            let figure = effect.figure.as_ref().map(|f| [f.value, f.low, f.high].map(|x| (x * 1e9).round() + 0.0));
            let test = effect.test.as_ref().map(|test| (test.split, (test.p * 1e12).round(), (test.least_p * 1e12).round()));
            let _ =
                writeln!(text, "{} {} {} {figure:?} {test:?} {:?} {:?}", effect.name, effect.from, effect.to, effect.agree, effect.verdict);
        }
    }
    text
}

const KINDS: [&str; 4] = ["yes_no", "class_0_5", "length", "time"];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn the_order_of_lines_does_not_matter(boards in boards(), kind in 0usize..4) {
        let mut lines = lines(&boards, KINDS[kind], ["1", "2", "3"]);
        let before = told(&lines);
        lines.reverse();
        let after = told(&lines);
        prop_assert_eq!(essence(&before), essence(&after));
        prop_assert_eq!(before.next, after.next);
    }

    #[test]
    fn names_of_days_do_not_matter(boards in boards(), kind in 0usize..4) {
        let before = told(&lines(&boards, KINDS[kind], ["1", "2", "3"]));
        let after = told(&lines(&boards, KINDS[kind], ["windy", "calm", "again"]));
        prop_assert_eq!(essence(&before), essence(&after));
    }

    #[test]
    fn a_witness_changes_no_effect(boards in boards(), kind in 0usize..4) {
        let mut lines = lines(&boards, KINDS[kind], ["1", "2", "3"]);
        let before = told(&lines);
        let value = if KINDS[kind] == "yes_no" { "no" } else { "0" };
        lines.push(format!("w,m,{value},{},,1,primer,witness\n", KINDS[kind]));
        prop_assert_eq!(essence(&before), essence(&told(&lines)));
    }

    #[test]
    fn missing_values_change_nothing(boards in boards(), kind in 0usize..4) {
        let mut lines = lines(&boards, KINDS[kind], ["1", "2", "3"]);
        let before = told(&lines);
        lines.push(format!("lost,m,,{},p0,1,A,\n", KINDS[kind]));
        lines.push(format!("b0,m,,{},,,,\n", KINDS[kind]));
        prop_assert_eq!(essence(&before), essence(&told(&lines)));
    }

    #[test]
    fn shares_and_ranges_are_in_order(boards in boards(), kind in 0usize..4) {
        for effect in told(&lines(&boards, KINDS[kind], ["1", "2", "3"])).measures.iter().flat_map(|measured| &measured.effects) {
            if let Ok(figure) = &effect.figure {
                prop_assert!(figure.low <= figure.value && figure.value <= figure.high, "{:?}", figure);
            }
            if let Some(test) = &effect.test {
                prop_assert!(test.p > 0.0 && test.p <= 1.0 && test.p >= test.least_p - 1e-12, "{:?}", test);
            }
        }
    }

    #[test]
    fn any_table_ends_in_an_answer_or_in_lines(rows in proptest::collection::vec(proptest::collection::vec(0usize..12, 10), 1..14)) {
        let pools: [&[&str]; 10] = [
            &["1", "2", "3", "4", "5"], &["m", "n"], &["yes", "no", "1", "0", "2.5", ">3", "<2", "1..3", "", "0.5"], &["", "yes_no", "length", "time", "thickness", "share"],
            &["", "p", "q"], &["", "sat", "sun"], &["", "A", "B", "C"], &["", "yardstick", "witness"], &["", "1", "2", "3"], &["", "low", "high", "0.2", "0.4"],
        ];
        let mut table = String::from("board,measure,value,kind,batch,day,recipe,job,strip,set:binder\n");
        for row in &rows {
            let line: Vec<&str> = row.iter().zip(pools).map(|(pick, pool)| pool[pick % pool.len()]).collect();
            table += &(line.join(",") + "\n");
        }
        if let Ok(readings) = read(&table) {
            let question = Question { smaller_is_better: Some(true), ..Question::default() };
            let told = answer(&readings, &question, Rules::builtin().unwrap()).unwrap();
            prop_assert!(!told.next.what.is_empty());
            for effect in told.measures.iter().flat_map(|measured| &measured.effects) {
                prop_assert!(effect.figure.as_ref().map_or(true, |figure| figure.low <= figure.value && figure.value <= figure.high), "{:?}", effect);
            }
        }
    }
}
