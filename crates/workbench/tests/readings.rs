//! Readings and coats as typed into the studio.
#![expect(clippy::unwrap_used, reason = "in a test a panic is the report")]

use std::collections::BTreeMap;

use workbench::{Moment, Notebook, Stamp, Studio, StudioError, TypedCoat, TypedReading, TypedTrial, Workbench};

const NOW: Moment = Moment { seconds: 1_795_611_600, offset_minutes: 60 };

fn stamp(chance: u128) -> Stamp {
    Stamp { at: NOW, device: "desk".into(), chance }
}

/// Stair boards of one recipe with a yardstick, 20 x 25 cm, plan closed.
fn stairs() -> (Workbench, Studio, String) {
    let (bench, studio) = (Workbench::open().unwrap(), Studio::in_memory(true).unwrap());
    let form = TypedTrial {
        kind: "stair".into(),
        question: "How many coats can the lighthouse's ground carry?".into(),
        measure: "first_cracked_strip".into(),
        way: "larger".into(),
        names: BTreeMap::from([("recipe_a".into(), "chalk ground".into())]),
        yardstick: "the usual ground".into(),
        size: "20 x 25 cm".into(),
        ..TypedTrial::default()
    };
    let trial = bench.ask_trial(&studio, &form, &stamp(1)).unwrap();
    bench.fix_plan(&studio, &trial, &stamp(2)).unwrap();
    (bench, studio, trial)
}

fn boards(state: &Notebook, trial: &str, job: &str) -> Vec<String> {
    let of_job = state.boards_of(trial).into_iter().filter(|board| board.record.planned.job == job);
    of_job.map(|board| board.subject.clone()).collect()
}

fn coat(board: &str, before: &str, after: &str) -> TypedCoat {
    TypedCoat { board: board.into(), before: before.into(), after: after.into(), ..TypedCoat::default() }
}

fn reading(board: &str, measure: &str, value: &str) -> TypedReading {
    TypedReading { board: board.into(), measure: measure.into(), value: value.into(), ..TypedReading::default() }
}

fn why(result: Result<(), StudioError>) -> String {
    result.unwrap_err().to_string()
}

#[test]
fn the_yardstick_of_a_stair_is_a_stair_and_a_single_recipe_keeps_its_name() {
    let (_, studio, trial) = stairs();
    let state = studio.state();
    for board in state.boards_of(&trial) {
        let mut strips = board.record.planned.strips.clone();
        strips.sort_unstable();
        assert_eq!(strips, [1, 2, 3, 4, 5], "{}", board.record.planned.job);
    }
    assert!(state.boards_of(&trial).iter().any(|board| board.record.planned.recipe == "chalk ground"));
    assert_eq!(boards(&state, &trial, "yardstick").len(), 2);
}

#[test]
fn a_coat_taken_back_is_the_next_one_again_and_slips_are_refused() {
    let (bench, studio, trial) = stairs();
    let board = boards(&studio.state(), &trial, "recipe")[0].clone();
    for number in 1..=3u128 {
        bench.lay_coat(&studio, &coat(&board, "300", "309"), &stamp(10 + number)).unwrap();
    }
    let second = studio.state().coats_of(&board)[1].n;
    bench.take_back(&studio, second, "mistyped", &stamp(20)).unwrap();
    assert!(bench.board(&studio.state(), &board).unwrap().next.starts_with("Lay coat 2"));
    bench.lay_coat(&studio, &coat(&board, "309", "317"), &stamp(21)).unwrap();
    let numbers: Vec<u32> = studio.state().coats_of(&board).iter().map(|coat| coat.record.number).collect();
    assert_eq!(numbers, [1, 2, 3]);
    let twice = TypedCoat { number: "3".into(), ..coat(&board, "", "") };
    assert!(why(bench.lay_coat(&studio, &twice, &stamp(22))).contains("written down already"));
    // 2790 g on 0.05 m2 are 55,800 g on a square metre.
    assert!(why(bench.lay_coat(&studio, &coat(&board, "300", "3090"), &stamp(23))).contains("digit too many"));
    assert!(why(bench.lay_coat(&studio, &coat(&board, "", "309"), &stamp(24))).contains("missing"));
    let foreign = TypedCoat { batch: "Z".into(), ..coat(&board, "", "") };
    assert!(why(bench.lay_coat(&studio, &foreign, &stamp(25))).contains("no pot Z"));
    let tomorrow = TypedCoat { when: "2099-01-01".into(), ..coat(&board, "", "") };
    assert!(why(bench.lay_coat(&studio, &tomorrow, &stamp(26))).contains("future"));
    let earlier = TypedCoat { when: "2026-11-01 09:30".into(), ..coat(&board, "", "") };
    bench.lay_coat(&studio, &earlier, &stamp(27)).unwrap();
    assert!(studio.state().coats_of(&board).iter().any(|coat| coat.record.laid.to_string() == "2026-11-01 09:30"));
}

#[test]
fn a_stair_without_weights_is_answered_by_strips() {
    let (bench, studio, trial) = stairs();
    let state = studio.state();
    let first = boards(&state, &trial, "recipe");
    assert!(why(bench.read_board(&studio, &reading(&first[0], "first_cracked_strip", "7"), &stamp(30))).len() > 20);
    let second = boards(&state, &trial, "yardstick");
    let read = first.iter().chain(&second).zip(["3", "4", "none", "none", "none"]);
    for (chance, (board, value)) in (31..).zip(read) {
        bench.read_board(&studio, &reading(board, "first_cracked_strip", value), &stamp(chance)).unwrap();
    }
    let answer = bench.trial_answer(&studio.state(), &trial).unwrap();
    assert_eq!(answer.measures.len(), 1, "controls are read on the same measure");
    assert!(answer.fixed.contains("before the first reading"), "{}", answer.fixed);
}

// (0.3 + 2 x 0.1) / (100 + 0.3) = 0.4985 % and / (250 + 0.3) = 0.1998 %: bent strip, arithmetic by hand.
#[test]
fn a_bent_strip_is_written_as_its_stretch() {
    let (bench, studio, trial) = stairs();
    let board = boards(&studio.state(), &trial, "recipe")[0].clone();
    let bent =
        |held: &str, cracked: &str| TypedReading { bent: ["0.3", "0,1", held, cracked].map(str::to_owned), ..reading(&board, "bend", "") };
    bench.read_board(&studio, &bent("250", "100"), &stamp(40)).unwrap();
    let state = studio.state();
    let value = state.readings_of(&board)[0].record.value.clone();
    let (low, high) = value.split_once("..").unwrap();
    assert!((low.parse::<f64>().unwrap() - 0.1998).abs() < 1e-3 && (high.parse::<f64>().unwrap() - 0.4985).abs() < 1e-3, "{value}");
    assert!(why(bench.read_board(&studio, &bent("60", "100"), &stamp(41))).len() > 10, "it can't survive the tighter one");
    assert!(why(bench.read_board(&studio, &bent("", ""), &stamp(42))).len() > 10);
}
