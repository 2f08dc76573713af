//! Readings and coats as typed into the studio.
#![expect(clippy::unwrap_used, reason = "in a test a panic is the report")]

#[path = "readings/photos.rs"]
mod photos;

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

#[test]
fn a_size_of_boards_without_a_unit_is_asked_for_and_nothing_is_written() {
    let (bench, studio) = (Workbench::open().unwrap(), Studio::in_memory(true).unwrap());
    let form = |size: &str| TypedTrial {
        kind: "stair".into(),
        question: "How many coats can the ground carry?".into(),
        measure: "first_cracked_strip".into(),
        way: "larger".into(),
        names: BTreeMap::from([("recipe_a".into(), "chalk ground".into())]),
        size: size.into(),
        ..TypedTrial::default()
    };
    for (size, said) in
        [("20 x 25", "in which unit"), ("200 x 250 cm x 3", "no size"), ("2 x 2 mm", "too small"), ("4 x 8 yd", "too large")]
    {
        let refused = bench.ask_trial(&studio, &form(size), &stamp(1)).unwrap_err().to_string();
        assert!(refused.contains(said), "{size}: {refused}");
    }
    assert!(studio.state().trials.is_empty());
    // 8 x 10 in, of 25.4 mm by definition; and a size may be left out.
    let inches = bench.ask_trial(&studio, &form("8 x 10 in"), &stamp(2)).unwrap();
    let none = bench.ask_trial(&studio, &form(""), &stamp(3)).unwrap();
    let state = studio.state();
    let sides = |trial: &String| (state.trials[trial].record.width_mm, state.trials[trial].record.height_mm);
    assert_eq!((sides(&inches), sides(&none)), ((Some(203.2), Some(254.0)), (None, None)));
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

/// Rich casein grounds that crack on their second strip, far thinner than the books argue, move the window and say so; before that, and
/// while they dry, nothing moves.
#[test]
fn own_boards_move_how_thick_a_ground_may_be() {
    let (bench, studio) = (Workbench::open().unwrap(), Studio::in_memory(true).unwrap());
    let form = TypedTrial {
        kind: "stair".into(),
        question: "How many coats can the lighthouse's casein ground carry?".into(),
        measure: "first_cracked_strip".into(),
        way: "larger".into(),
        names: BTreeMap::from([("recipe_a".into(), "casein ground".into())]),
        counts: [("boards", "4"), ("pots", "2"), ("days", "2"), ("strips", "2")].map(|(a, b)| (a.to_owned(), b.to_owned())).into(),
        yardstick: "the usual ground".into(),
        support: "birch plywood".into(),
        size: "20 x 25 cm".into(),
        ..TypedTrial::default()
    };
    let trial = bench.ask_trial(&studio, &form, &stamp(1)).unwrap();
    let from = studio.state().trials[&trial].n;
    let told = "100 g chalk, 60 g casein powder, 300 g water";
    let recipes = BTreeMap::from([
        ("casein ground".to_owned(), told.to_owned()),
        ("the usual ground".to_owned(), "15 g hide glue, 210 g water, 300 g whiting".to_owned()),
    ]);
    bench.tell_recipes(&studio, (&trial, from), &recipes, &stamp(2)).unwrap();
    bench.fix_plan(&studio, &trial, &stamp(3)).unwrap();
    let of_recipe = boards(&studio.state(), &trial, "recipe");
    for (index, board) in (0u128..).zip(&of_recipe) {
        // 10 g on the whole board, then 5 g on its half: about 34 and 68 um dry.
        for (number, after) in [(1u128, "310"), (2, "315")] {
            let before = if number == 1 { "300" } else { "310" };
            let laid = TypedCoat { when: "2026-11-01 09:30".into(), ..coat(board, before, after) };
            bench.lay_coat(&studio, &laid, &stamp(100 + 10 * index + number)).unwrap();
        }
    }
    let ask = || {
        let state = studio.state();
        let request = workbench::VerdictRequest {
            told: told.into(),
            wet_um: Some(300.0),
            coats: Some(2),
            seen: bench.boards_seen(&state),
            ..workbench::VerdictRequest::default()
        };
        (request.seen.len(), bench.verdict(&request).unwrap(), bench.window(&[request]).unwrap())
    };
    let likely = |view: &show::WindowView| view.panels[0].picture.as_ref().unwrap().columns.last().unwrap().likely_um.unwrap();
    let (count, card, before) = ask();
    assert!(count == 0 && card.rests_on.contains("no board of yours"), "{}", card.rests_on);
    // Looked at on the second day: whole so far says nothing, it is still drying.
    let early = TypedReading { when: "2026-11-02".into(), ..reading(&of_recipe[0], "first_cracked_strip", "none") };
    bench.read_board(&studio, &early, &stamp(200)).unwrap();
    assert_eq!(ask().0, 0);
    for (index, board) in (0u128..).zip(&of_recipe) {
        let late = TypedReading { when: "2026-11-20".into(), ..reading(board, "first_cracked_strip", "2") };
        bench.read_board(&studio, &late, &stamp(300 + index)).unwrap();
    }
    let (count, card, after) = ask();
    assert_eq!(count, of_recipe.len());
    assert!(card.rests_on.contains(&format!("seen on {count} of your boards")), "{}", card.rests_on);
    let said = card.thickness.more.iter().find(|more| more.starts_with("Seen on")).unwrap();
    assert!(said.contains("the thickness that the books argue"), "{said}");
    assert!(likely(&after) < 0.8 * likely(&before), "{} {}", likely(&after), likely(&before));
    let picture = after.panels[0].picture.as_ref().unwrap();
    assert_eq!(picture.boards.len(), count);
    for board in &picture.boards {
        let (whole, cracked) = (board.sound_um.unwrap(), board.cracked_um.unwrap());
        assert!((25.0..45.0).contains(&whole) && (1.9..2.1).contains(&(cracked / whole)), "{board:?}");
    }
    // Glue grounds are another family: these boards say nothing of them.
    let other = workbench::VerdictRequest {
        told: "100 g chalk, 60 g hide glue, 300 g water".into(),
        seen: bench.boards_seen(&studio.state()),
        ..workbench::VerdictRequest::default()
    };
    assert!(bench.verdict(&other).unwrap().rests_on.contains("no board of yours"));
}
