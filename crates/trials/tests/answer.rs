//! Readings of whole trials, against numbers worked out elsewhere. All boards are invented.
#![expect(clippy::unwrap_used, clippy::indexing_slicing, reason = "in a test a panic is the report")]

use std::fmt::Write as _;

use trials::answer::{Answer, Effect, Question, Rules, UnitIs, Verdict, Way, answer, read};

fn asked(table: &str) -> Answer {
    answer(&read(table).unwrap(), &Question { smaller_is_better: Some(true), ..Question::default() }, Rules::builtin().unwrap()).unwrap()
}

/// Yes or no boards: (recipe, job, yes, all), each its own pot, all on one day.
fn yes_no(groups: &[(&str, &str, u32, u32)]) -> String {
    let mut table = String::from("board,measure,value,kind,batch,day,recipe,job\n");
    for (recipe, job, yes, all) in groups {
        for board in 0..*all {
            let value = if board < *yes { "yes" } else { "no" };
            let _ = writeln!(table, "{recipe}{job}{board},cracked,{value},yes_no,{recipe}{job}{board},1,{recipe},{job}");
        }
    }
    table
}

fn effect<'a>(answer: &'a Answer, name: &str, to: &str) -> &'a Effect {
    answer.measures[0].effects.iter().find(|effect| effect.name == name && effect.to == to && effect.within.is_empty()).unwrap()
}

#[test]
fn plain_comparison_is_told_where_all_part() {
    let answer = asked(&yes_no(&[("A", "", 5, 5), ("B", "", 0, 5), ("known", "yardstick", 0, 2)]));
    let measured = &answer.measures[0];
    let test = measured.effects[0].test.as_ref().unwrap();
    // Fisher's exact test of 5/5 against 0/5: 2 of 252.
    assert!((test.p - 2.0 / 252.0).abs() < 1e-12 && (test.least_p - 2.0 / 252.0).abs() < 1e-12);
    assert_eq!((test.split, measured.verdict, measured.boards, measured.unit), ([5, 5], Verdict::Told, 12, UnitIs::Board));
    assert!(answer.next.what.contains("Make B once more"), "{:?}", answer.next);
}

#[test]
fn three_of_four_against_one_of_four_can_not_be_told() {
    let answer = asked(&yes_no(&[("A", "", 2, 4), ("B", "", 1, 4)]));
    assert_eq!(answer.measures[0].verdict, Verdict::CannotTell);
    // Six boards can't reach one in twenty: Fisher's least is 0.1 for three against three.
    let answer = asked(&yes_no(&[("A", "", 3, 3), ("B", "", 0, 3)]));
    let test = answer.measures[0].effects[0].test.as_ref().unwrap();
    assert!((test.least_p - 0.1).abs() < 1e-12);
    assert_eq!(answer.measures[0].verdict, Verdict::Leans);
    assert!(answer.next.what.contains("one more"), "{:?}", answer.next);
}

#[test]
fn one_board_refuses_and_says_the_mend() {
    let answer = asked(&yes_no(&[("A", "", 1, 1)]));
    assert!(answer.measures[0].refused.as_ref().unwrap().contains("repeat boards"));
    let answer = asked(&yes_no(&[("A", "", 1, 1), ("B", "", 0, 1)]));
    assert!(answer.measures[0].refused.as_ref().unwrap().contains("Too few boards"));
    assert_eq!(answer.measures[0].verdict, Verdict::CannotTell);
    let answer = asked("board,measure,value,kind\n1,cracked,,yes_no\n2,cracked,,yes_no\n");
    assert!(answer.measures[0].refused.as_ref().unwrap().contains("lost"));
    let answer = asked(&yes_no(&[("A", "", 0, 3)]));
    assert!(answer.next.what.contains("yardstick"), "{:?}", answer.next);
}

const STAIR_A: [u32; 4] = [3, 4, 4, 5];
const STAIR_B: [u32; 4] = [1, 2, 3, 3];
const STAIR_C: [u32; 4] = [5, 6, 6, 6];

/// Stair boards of five strips, 60 um a coat; 6 for "none gave way".
fn stairs(recipes: &[(&str, [u32; 4])], measured: bool) -> String {
    let mut table = String::from("board,measure,value,kind,recipe,strip\n");
    for (recipe, firsts) in recipes {
        for (board, first) in firsts.iter().enumerate() {
            for strip in 1..=5 {
                let value = if strip >= *first { "yes" } else { "no" };
                let _ = writeln!(table, "{recipe}{board},cracked,{value},yes_no,{recipe},{strip}");
                if measured {
                    let _ = writeln!(table, "{recipe}{board},dry,{},thickness,{recipe},{strip}", strip * 60);
                }
            }
        }
    }
    table
}

#[test]
fn stair_boards_bracket_their_threshold() {
    let table = stairs(&[("A", STAIR_A), ("B", STAIR_B), ("C", STAIR_C)], true);
    let question = Question { expected: Some(200.0), ..Question::default() };
    let answer = answer(&read(&table).unwrap(), &question, Rules::builtin().unwrap()).unwrap();
    let measured = &answer.measures[0];
    assert_eq!((answer.measures.len(), measured.way, measured.symbol), (1, Way::Stair { measured: true }, "um"));
    // Grid of other code: medians and the chance that a new board cracks at 180 um.
    for (threshold, (median, new)) in measured.thresholds.iter().zip([(204.8, 0.336), (103.9, 0.838), (366.0, 0.048)]) {
        assert!((threshold.median[1] / median - 1.0).abs() < 0.01, "{threshold:?}");
        let at = threshold.new_below.iter().find(|(mark, _)| (mark - 180.0).abs() < 1e-9).unwrap().1;
        assert!((at - new).abs() < 0.003, "{threshold:?}");
    }
    assert!(measured.thresholds[2].fits[0].is_err() && measured.thresholds[0].fits[0].is_ok());
    // Splits of eight boards enumerated: 6, 4, 2 of 70; chance that A carries more than B 0.980.
    for (from, to, hits) in [("A", "B", 6.0), ("A", "C", 4.0), ("B", "C", 2.0)] {
        let effect = measured.effects.iter().find(|effect| effect.from == from && effect.to == to).unwrap();
        assert!((effect.test.as_ref().unwrap().p - hits / 70.0).abs() < 1e-12);
    }
    assert!((measured.effects[0].above.unwrap() - 0.020).abs() < 0.001);
    assert!(measured.effects.iter().all(|effect| effect.figure.is_ok()));
}

#[test]
fn stair_boards_that_can_not_be_told_or_refuse() {
    let answer = asked(&stairs(&[("A", STAIR_A), ("D", [3, 4, 4, 4])], true));
    assert_eq!(answer.measures[0].verdict, Verdict::CannotTell);
    // Without thicknesses the shuffle still stands, the threshold does not.
    let answer = asked(&stairs(&[("A", STAIR_A), ("B", STAIR_B)], false));
    let measured = &answer.measures[0];
    assert!((measured.effects[0].test.as_ref().unwrap().p - 6.0 / 70.0).abs() < 1e-12);
    assert!(measured.refused.as_ref().unwrap().contains("thickness"));
}

#[test]
fn a_board_out_of_order_is_kept_and_told() {
    let table = "board,measure,value,kind,recipe,strip\na,cracked,no,yes_no,A,1\na,cracked,yes,yes_no,A,2\na,cracked,no,yes_no,A,3\nb,cracked,no,yes_no,B,1\nb,cracked,no,yes_no,B,2\n";
    let answer = asked(table);
    assert!(answer.notes.iter().any(|note| note.id == "out of order" && note.at == "a"));
    let a = answer.measures[0].units.iter().find(|unit| unit.group == "A").unwrap();
    assert!((a.seen.low - 1.0).abs() < 1e-12 && (a.seen.high - 2.0).abs() < 1e-12);
}

/// Readings in the order chalk-low, gypsum-low, chalk-high, gypsum-high, one list a sitting.
fn crossed(sittings: &[[f64; 4]]) -> String {
    let mut table = String::from("board,measure,value,kind,batch,day,set:powder,set:binder\n");
    for (day, values) in sittings.iter().enumerate() {
        for (value, (powder, binder)) in values.iter().zip([("chalk", "low"), ("gypsum", "low"), ("chalk", "high"), ("gypsum", "high")]) {
            let _ = writeln!(table, "{day}{powder}{binder},ln threshold,{value},,{day}{powder}{binder},{day},{powder},{binder}");
        }
    }
    table
}

const FIRST: [f64; 4] = [5.5, 5.2, 4.6, 4.7];
const SECOND: [f64; 4] = [5.7, 5.3, 4.9, 4.8];

#[test]
fn two_by_two_in_two_sittings() {
    let answer = asked(&crossed(&[FIRST, SECOND]));
    // By hand: effects -0.175, -0.675, 0.175, 0.175; half-width at 80 in 100 is 1.6377 (t, 3 degrees) x 0.047871.
    for (name, to, value) in
        [("powder", "gypsum", -0.175), ("binder", "high", -0.675), ("powder with binder", "", 0.175), ("day", "1", 0.175)]
    {
        let figure = effect(&answer, name, to).figure.as_ref().unwrap().to_owned();
        assert!((figure.value - value).abs() < 1e-12, "{name}: {figure:?}");
        assert!(((figure.high - figure.low) / 2.0 - 1.637_744 * 0.047_871).abs() < 1e-5, "{name}: {figure:?}");
    }
    // Sign changes over four pairs: 2 of 16 for binder, 6 of 16 for powder.
    let p = |name, to| effect(&answer, name, to).test.as_ref().unwrap().p;
    assert!((p("binder", "high") - 2.0 / 16.0).abs() < 1e-12 && (p("powder", "gypsum") - 6.0 / 16.0).abs() < 1e-12);
    // Four pairs can't reach one in twenty, so the best that can be said is "leans".
    let binder = effect(&answer, "binder", "high");
    assert!((binder.test.as_ref().unwrap().least_p - 0.125).abs() < 1e-12);
    assert_eq!((binder.verdict, binder.agree), (Verdict::Leans, (4, 4)));
    // What binder does depends on the powder: one difference each.
    assert_eq!(answer.measures[0].effects.iter().filter(|effect| effect.name == "binder" && !effect.within.is_empty()).count(), 2);
}

#[test]
fn a_crossed_trial_that_can_not_be_told_and_one_that_refuses() {
    let answer = asked(&crossed(&[[5.0, 5.1, 5.2, 4.9], [5.2, 5.0, 4.9, 5.2]]));
    assert_eq!(answer.measures[0].verdict, Verdict::CannotTell, "{:?}", answer.measures[0].effects);
    // Three boards for a constant and two settings leave none to spare.
    let table = crossed(&[FIRST]).lines().take(4).collect::<Vec<_>>().join(
        "
",
    );
    let answer = asked(&table);
    assert!(answer.measures[0].refused.is_some(), "{:?}", answer.measures[0].effects);
}

#[test]
fn binder_that_moved_with_the_sitting_is_tangled() {
    let table = "board,measure,value,kind,day,set:powder,set:binder\n1,crazing,1,class_0_5,sat,chalk,low\n2,crazing,2,class_0_5,sat,gypsum,low\n3,crazing,4,class_0_5,sun,chalk,high\n4,crazing,4,class_0_5,sun,gypsum,high\n5,crazing,1,class_0_5,sat,chalk,low\n6,crazing,5,class_0_5,sun,gypsum,high\n";
    let answer = asked(table);
    let measured = &answer.measures[0];
    let tangle = &measured.tangles[0];
    assert_eq!(tangle.effects, ["binder", "day"]);
    assert!(effect(&answer, "binder", "high").figure.is_err() && effect(&answer, "powder", "gypsum").figure.is_ok());
    assert_eq!(effect(&answer, "binder", "high").verdict, Verdict::CannotTell);
    assert!(answer.next.what.contains("on one and the same day"), "{:?}", answer.next);
}

#[test]
fn settings_that_always_moved_together_name_the_missing_corners() {
    let mut table = String::from("board,measure,value,kind,set:powder,set:binder\n");
    for board in 0..4 {
        let _ = writeln!(table, "a{board},cracked,yes,yes_no,chalk,much\nb{board},cracked,no,yes_no,gypsum,little");
    }
    let answer = asked(&table);
    let tangle = &answer.measures[0].tangles[0];
    assert_eq!(tangle.add, ["one board with powder chalk and binder little", "one board with powder gypsum and binder much"]);
    assert_eq!(answer.measures[0].verdict, Verdict::CannotTell);
    assert!(answer.next.what.contains("chalk and binder little"), "{:?}", answer.next);
}

#[test]
fn boards_of_one_pot_count_as_one() {
    let mut table = String::from("board,measure,value,kind,batch,recipe\n");
    for (recipe, value) in [("A", "yes"), ("B", "no")] {
        for board in 0..4 {
            let _ = writeln!(table, "{recipe}{board},cracked,{value},yes_no,{recipe}{},{recipe}", board / 2);
        }
    }
    let answer = asked(&table);
    let measured = &answer.measures[0];
    assert_eq!((measured.unit, measured.boards, measured.batches), (UnitIs::Batch, 8, 4));
    // Two pots against two: Fisher's least is a third.
    assert!((measured.effects[0].test.as_ref().unwrap().p - 1.0 / 3.0).abs() < 1e-12);
    let single = table.replace("A1,A", "A0,A").replace("B1,B", "B0,B");
    let answer = asked(&single);
    assert!(answer.measures[0].refused.is_some());
    assert_eq!(answer.measures[0].tangles.len(), 2);
}

#[test]
fn ratings_by_rank() {
    // 1, 2, 2, 3 against 3, 4, 4, 5: 4 of 70 by enumeration, also the exact Mann-Whitney test with mean ranks.
    let mut table = String::from("board,measure,value,kind,recipe\n");
    for (recipe, values) in [("A", [1, 2, 2, 3]), ("B", [3, 4, 4, 5])] {
        for (board, value) in values.iter().enumerate() {
            let _ = writeln!(table, "{recipe}{board},crazing,{value},class_0_5,{recipe}");
        }
    }
    let answer = asked(&table);
    let effect = &answer.measures[0].effects[0];
    assert!((effect.test.as_ref().unwrap().p - 4.0 / 70.0).abs() < 1e-12);
    assert!((effect.figure.as_ref().unwrap().value - 2.0).abs() < 1e-12);
    assert_eq!(effect.verdict, Verdict::Leans);
}

#[test]
fn witness_and_recipe_both_gave_way() {
    let answer = asked(&yes_no(&[("A", "", 3, 3), ("B", "", 2, 3), ("primer", "witness", 1, 1)]));
    assert!(answer.next.what.contains("wood"), "{:?}", answer.next);
    // Where yes is wanted, a yes of the witness blames nothing.
    let question = Question { smaller_is_better: Some(false), ..Question::default() };
    let table = yes_no(&[("A", "", 3, 3), ("primer", "witness", 1, 1)]);
    let kept = answer_with(&table, &question);
    assert!(!kept.next.what.contains("wood"));
}

fn answer_with(table: &str, question: &Question) -> Answer {
    answer(&read(table).unwrap(), question, Rules::builtin().unwrap()).unwrap()
}

#[test]
fn a_measure_that_is_not_there_is_named() {
    let question = Question { measure: Some("gloss".into()), ..Question::default() };
    let why = answer(&read(&yes_no(&[("A", "", 1, 2)])).unwrap(), &question, Rules::builtin().unwrap()).unwrap_err();
    assert!(why.to_string().contains("gloss") && why.to_string().contains("cracked"));
}

#[test]
fn days_apart_are_tangled_unless_a_yardstick_joins_them() {
    let mut table = String::from("board,measure,value,kind,day,recipe,job\n");
    for (recipe, day, base) in [("A", "sat", 2.0), ("B", "sun", 4.0)] {
        for board in 0..3 {
            let _ = writeln!(table, "{recipe}{board},length,{},length,{day},{recipe},", base + f64::from(board) / 10.0);
        }
    }
    let answer = asked(&table);
    assert!(answer.measures[0].effects[0].figure.is_err() && answer.measures[0].tangles.iter().all(|tangle| tangle.whole));
    // The yardstick read 1 more on Sunday: of the difference of 2 that leaves 1.
    for (board, day, value) in [("y1", "sat", 3.0), ("y2", "sun", 4.0)] {
        let _ = writeln!(table, "{board},length,{value},length,{day},known,yardstick");
    }
    let joined = asked(&table);
    let figure = joined.measures[0].effects[0].figure.as_ref().unwrap();
    assert!((figure.value - 1.0).abs() < 1e-9, "{figure:?}");
    assert_ne!(joined.measures[0].effects[0].verdict, Verdict::Told);
}

#[test]
fn the_recipe_that_carries_more_is_the_better_where_cracking_is_not_wanted() {
    // D carries five coats on each of five boards, B one or two: 2 of 252 shuffles.
    let mut table = stairs(&[("D", [5, 5, 6, 5]), ("B", [1, 2, 1, 1])], true);
    for (board, recipe, first) in [("D9", "D", 6), ("B9", "B", 2)] {
        for strip in 1..=5 {
            let _ = writeln!(
                table,
                "{board},cracked,{},yes_no,{recipe},{strip}\n{board},dry,{},thickness,{recipe},{strip}",
                if strip >= first { "yes" } else { "no" },
                strip * 60
            );
        }
    }
    let answer = asked(&table);
    assert_eq!(answer.measures[0].verdict, Verdict::Told);
    assert!(answer.next.what.contains("Make D once more"), "{:?}", answer.next);
}

#[test]
fn crowded_tables_are_refused_and_not_worked_for_hours() {
    let settings = (0..90).map(|at| format!(",set:s{at}")).collect::<Vec<_>>().concat();
    let mut table = format!("board,measure,value,day{settings}\n");
    let mut recipes = String::from("board,measure,value,recipe,day,job\n");
    for board in 0..600 {
        let levels = (0..90).map(|at| format!(",l{}", (board * (at + 3)) % 600)).collect::<Vec<_>>().concat();
        let _ = writeln!(table, "b{board},m,{board},{}{levels}", board / 2);
        let _ = writeln!(recipes, "b{board},m,{board},R{},{},{}", board / 2, board / 3, if board % 2 == 0 { "yardstick" } else { "" });
    }
    for table in [table, recipes] {
        let answer = asked(&table);
        assert!(answer.measures[0].refused.as_ref().unwrap().contains("Keep one question"), "{:?}", answer.measures[0].refused);
    }
}

#[test]
fn a_setting_varied_inside_a_recipe_is_a_difference_of_its_own() {
    let mut table = String::from("board,measure,value,recipe,set:coats\n");
    for (recipe, coats, value) in
        [("A", 2, 1.0), ("A", 3, 2.0), ("B", 2, 4.0), ("B", 3, 5.0), ("A", 2, 1.2), ("A", 3, 2.2), ("B", 2, 4.2), ("B", 3, 5.2)]
    {
        let _ = writeln!(table, "{recipe}{coats}{value},length,{value},{recipe},{coats}");
    }
    let answer = asked(&table);
    // Balanced, so the differences are plain differences of means: 3 for the recipe, 1 for the coats.
    for (name, to, value) in [("recipe", "B", 3.0), ("coats", "3", 1.0)] {
        let figure = effect(&answer, name, to).figure.as_ref().unwrap();
        assert!((figure.value - value).abs() < 1e-9, "{name}: {figure:?}");
    }
    let single: String = table.lines().filter(|line| !line.starts_with('B')).collect::<Vec<_>>().join("\n");
    assert!((effect(&asked(&single), "coats", "3").figure.as_ref().unwrap().value - 1.0).abs() < 1e-9);
}

#[test]
fn labels_change_places_within_a_day_only() {
    // Two days of one against one: four arrangements, so never less than a half; over both days it would be a third.
    let mut table = String::from("board,measure,value,kind,day,recipe\n");
    for (day, a, b) in [(1, 2.0, 5.0), (2, 3.0, 6.0)] {
        let _ = writeln!(table, "a{day},length,{a},length,{day},A\nb{day},length,{b},length,{day},B");
    }
    let test = asked(&table).measures[0].effects[0].test.clone().unwrap();
    assert!((test.p - 0.5).abs() < 1e-12 && (test.least_p - 0.5).abs() < 1e-12, "{test:?}");
    assert_eq!(test.groups, [(1, 1), (1, 1)]);
}

#[test]
fn three_recipes_each_against_each() {
    let mut table = String::from("board,measure,value,kind,recipe\n");
    for (recipe, base) in [("A", 1.0), ("B", 4.0), ("C", 9.0)] {
        for (board, off) in [-0.5, 0.0, 0.5].into_iter().enumerate() {
            let _ = writeln!(table, "{recipe}{board},length,{},length,{recipe}", base + off);
        }
    }
    let answer = asked(&table);
    let differences: Vec<(String, String, f64)> =
        answer.measures[0].effects.iter().map(|one| (one.from.clone(), one.to.clone(), one.figure.as_ref().unwrap().value)).collect();
    for ((from, to, told), (a, b, value)) in differences.iter().zip([("A", "B", 3.0), ("A", "C", 8.0), ("B", "C", 5.0)]) {
        assert!((from, to) == (&a.to_owned(), &b.to_owned()) && (told - value).abs() < 1e-9, "{from} {to} {told}");
    }
}

#[test]
fn a_yardstick_with_settings_is_no_board_of_the_trial() {
    let table =
        crossed(&[FIRST, SECOND]).replace(",set:powder", ",job,set:powder").replace("0,chalk", "0,,chalk").replace("1,chalk", "1,,chalk");
    let table = table.replace("0,gypsum", "0,,gypsum").replace("1,gypsum", "1,,gypsum");
    let before = asked(&table);
    let with = asked(&format!("{table}y0,ln threshold,1.0,,y0,0,yardstick,chalk,low\ny1,ln threshold,9.0,,y1,1,yardstick,chalk,low\n"));
    let figure = |answer: &Answer| effect(answer, "binder", "high").figure.clone().unwrap();
    assert!((figure(&before).value - figure(&with).value).abs() < 1e-12 && (figure(&before).low - figure(&with).low).abs() < 1e-12);
    assert!((figure(&with).value + 0.675).abs() < 1e-12);
}

#[test]
fn shares_that_add_up_leave_one_as_the_rest() {
    let mut table = String::from("board,measure,value,kind,share:chalk,share:glue\n");
    for (board, (chalk, glue, value)) in [(0.9, 0.1, 1.0), (0.9, 0.1, 2.0), (0.8, 0.2, 5.0), (0.8, 0.2, 6.0)].into_iter().enumerate() {
        let _ = writeln!(table, "{board},length,{value},length,{chalk},{glue}");
    }
    let answer = asked(&table);
    let names: Vec<&str> = answer.measures[0].effects.iter().map(|effect| effect.name.as_str()).collect();
    assert_eq!((names, answer.measures[0].tangles.len()), (vec!["glue"], 0));
    assert!((effect(&answer, "glue", "0.2").figure.as_ref().unwrap().value - 4.0).abs() < 1e-9);
    assert!(answer.notes.iter().any(|note| note.id == "rest" && note.text.contains("chalk")));
}

#[test]
fn two_recipes_are_compared_unless_their_settings_were_asked() {
    let mut table = String::from("board,measure,value,kind,batch,day,recipe,job,set:powder,set:binder\n");
    for day in 1..=2 {
        for (at, (value, recipe, job, settings)) in
            [(3, "A", "", "chalk,much"), (1, "B", "", "gypsum,little"), (1, "known", "yardstick", ",")].iter().enumerate()
        {
            let _ = writeln!(table, "{day}{at},cracking,{value},class_0_5,{day}{at},{day},{recipe},{job},{settings}");
        }
    }
    let readings = read(&table).unwrap();
    let of = |by_settings| {
        let question = Question { smaller_is_better: Some(true), by_settings, ..Question::default() };
        answer(&readings, &question, Rules::builtin().unwrap()).unwrap()
    };
    // By reason: both recipes exist on both days, so their difference can be had; powder and binder never part.
    let compared = &of(false).measures[0];
    assert_eq!((compared.effects[0].name.as_str(), compared.refused.is_none()), ("recipe", true));
    let asked = of(true);
    let measured = &asked.measures[0];
    assert_eq!(measured.verdict, Verdict::CannotTell);
    let why = measured.refused.as_ref().unwrap();
    assert!(why.contains("powder") && why.contains("binder"), "{why}");
    for board in ["powder chalk and binder little", "powder gypsum and binder much"] {
        assert!(asked.next.what.contains(board), "{}", asked.next.what);
    }
}
