//! A studio of many years: how long it takes to open, what it weighs in memory, and how long its pages and entries take; printed by
//! `cargo xtask bench`, judged by nobody.

#![expect(clippy::unwrap_used, clippy::indexing_slicing, reason = "a bench that can't start has nothing to say")]
#![expect(clippy::print_stdout, clippy::disallowed_methods, reason = "its answer is what it prints; memory stands in a file")]

use std::path::Path;
use std::time::Duration;

use acceptance::{Program, Stopwatch, Visitor};
use notebook::{Batch, Coat, Deed, Log as _, Moment, NewChange, Notebook, Reading, Recipe, Stamp};
use workbench::{Studio, TypedJar, TypedTrial, TypedWeighing, Workbench};

const TRIALS: u32 = 50;
const BOARDS_OF_EACH: &str = "5";
const READINGS: u32 = 10;
const COATS: u32 = 5;
const RECIPES: u32 = 200;
const JARS: u32 = 30;
const RUNS: usize = 40;

/// Invented, for the lighthouse's panels.
const TOLD: &str = "15 g rabbit skin glue, 210 ml water, 320 g whiting, a bit of zinc white, 4 coats";

fn stamp(number: u32) -> Stamp {
    Stamp {
        at: Moment { seconds: 1_700_000_000 + i64::from(number) * 3600, offset_minutes: 60 },
        device: "desk".into(),
        chance: u128::from(number),
    }
}

fn map(pairs: &[(&str, &str)]) -> std::collections::BTreeMap<String, String> {
    pairs.iter().map(|(name, value)| ((*name).to_owned(), (*value).to_owned())).collect()
}

/// What the use cases write: questions, plans, jars and weighings.
fn asked(bench: &Workbench) -> std::sync::Arc<Notebook> {
    let studio = Studio::in_memory(false).unwrap();
    let mut number = 0;
    let mut next = || {
        number += 1;
        stamp(number)
    };
    for index in 0..TRIALS {
        let typed = TypedTrial {
            kind: "stair".into(),
            question: format!("How thick can ground {index} be laid?"),
            measure: "first_cracked_strip".into(),
            way: "larger".into(),
            names: map(&[("recipe_a", "usual"), ("recipe_b", "leaner")]),
            counts: map(&[("boards", BOARDS_OF_EACH), ("pots", "2"), ("days", "2"), ("strips", "5")]),
            size: "20 x 25 cm".into(),
            ..TypedTrial::default()
        };
        let subject = bench.ask_trial(&studio, &typed, &next()).unwrap();
        let from = studio.state().head(&subject).unwrap();
        bench.tell_recipes(&studio, (&subject, from), &map(&[("usual", TOLD), ("leaner", TOLD), ("recipe usual", TOLD)]), &next()).unwrap();
        bench.fix_plan(&studio, &subject, &next()).unwrap();
    }
    for index in 0..JARS {
        let jar = TypedJar { material: "natural-chalk".into(), name: format!("chalk, sack {index}"), ..TypedJar::default() };
        bench.put_jar(&studio, &jar, &next()).unwrap();
        let weighing = TypedWeighing {
            material: "natural-chalk".into(),
            what: "cup".into(),
            base: "250".into(),
            readings: "248 251 249".into(),
            ..TypedWeighing::default()
        };
        bench.weigh_own(&studio, &weighing, &next()).unwrap();
    }
    studio.state()
}

fn change(number: usize, at: Moment, subject: &str, deed: &Deed) -> NewChange {
    NewChange {
        id: format!("{number:032x}"),
        at,
        device: "desk".into(),
        kind: deed.kind().into(),
        version: deed.version(),
        subject: subject.into(),
        expects: None,
        strikes: None,
        body: deed.body(),
    }
}

/// The whole log of that studio.
fn log(bench: &Workbench) -> Vec<NewChange> {
    let state = asked(bench);
    let mut deeds: Vec<(String, Deed)> = state.entries().iter().map(|entry| (entry.subject.clone(), entry.deed.clone())).collect();
    for trial in state.trials.keys() {
        let mut pots: Vec<&str> = state.boards_of(trial).iter().map(|board| board.record.planned.batch.as_str()).collect();
        pots.sort_unstable();
        pots.dedup();
        for letter in pots {
            let batch = Batch { trial: trial.clone(), letter: letter.into(), told: TOLD.into(), ..Batch::default() };
            deeds.push((format!("pot-{letter}-of-{trial}"), Deed::Batch(batch)));
        }
    }
    for (index, board) in (0u32..).zip(state.boards.keys()) {
        for number in 1..=COATS {
            let coat = Coat {
                board: board.clone(),
                number,
                before_g: Some(312.4),
                after_g: Some(330.1),
                laid: stamp(9000 + number).at,
                ..Coat::default()
            };
            deeds.push((format!("coat-{board}-{number}"), Deed::Coat(coat)));
        }
        for number in 0..READINGS {
            let reading = Reading {
                board: board.clone(),
                measure: "first_cracked_strip".into(),
                value: (1 + (index + number) % 5).to_string(),
                rater: format!("R{}", number % 5),
                blind: true,
                read: stamp(10_000 + number).at,
                ..Reading::default()
            };
            deeds.push((format!("reading-{board}-{number}"), Deed::Reading(reading)));
        }
    }
    for number in 0..RECIPES {
        let recipe = Recipe { name: format!("ground {number}"), told: TOLD.into(), ..Recipe::default() };
        deeds.push((format!("recipe-{number:012x}"), Deed::Recipe(recipe)));
    }
    let at = |number: usize| stamp(u32::try_from(number).unwrap()).at;
    deeds.iter().enumerate().map(|(number, (subject, deed))| change(number, at(number), subject, deed)).collect()
}

fn row(name: &str, mut times: Vec<Duration>) {
    times.sort();
    let ms = |at: usize| format!("{} ms", show::number(times[at].as_secs_f64() * 1000.0, 1));
    println!("{name:<44} {:>10} {:>10}", ms(times.len() / 2), ms(times.len() * 95 / 100));
}

fn timed(visitor: &Visitor, path: &str) -> Duration {
    let since = Stopwatch::start();
    let answer = visitor.get(path).unwrap();
    let took = since.elapsed();
    assert!(answer.status == 200, "{path}: {}", answer.status);
    took
}

fn most_memory(process: u32) -> String {
    let status = std::fs::read_to_string(format!("/proc/{process}/status")).unwrap_or_default();
    status.lines().find_map(|line| line.strip_prefix("VmHWM:")).map_or_else(|| "not known here".to_owned(), |rest| rest.trim().to_owned())
}

fn open(folder: &Path) -> (Program, Duration) {
    let since = Stopwatch::start();
    let program = Program::start_in(folder).unwrap();
    (program, since.elapsed())
}

fn main() {
    let bench = Workbench::open().unwrap();
    let changes = log(&bench);
    let place = tempfile::tempdir().unwrap();
    {
        let (mut log, _) = notebook_sqlite::Studio::open(place.path()).unwrap();
        log.append(&changes, 0).unwrap();
    }
    println!("\na studio of {} entries, {RUNS} runs each        median        p95", changes.len());
    // Built and warm before anything is timed.
    drop(open(place.path()));
    row("opened, start to ready", (0..RUNS / 4).map(|_| open(place.path()).1).collect());
    let (program, _) = open(place.path());
    let visitor = Visitor::enter(&program).unwrap();
    let board = changes.iter().find(|change| change.kind == "board").map(|change| change.subject.clone()).unwrap();
    let trial = changes.iter().find(|change| change.kind == "trial").map(|change| change.subject.clone()).unwrap();
    let jar = changes.iter().find(|change| change.kind == "jar").map(|change| change.subject.clone()).unwrap();
    let half = changes.len() / 2;
    let mut pages: Vec<String> = [
        "/",
        "/kept",
        "/kept?find=ground",
        "/kept/recipe-000000000000",
        "/shelf",
        "/weigh",
        "/jars",
        "/books",
        "/boards",
        "/scales",
        "/milk",
        "/failed",
        "/trials",
        "/trials/new?kind=stair",
        "/notebook",
        "/notebook?find=chalk",
    ]
    .map(str::to_owned)
    .to_vec();
    pages.extend([format!("/notebook?up_to={half}"), format!("/shelf/{jar}"), format!("/board/{board}"), format!("/trials/{trial}")]);
    pages.extend(["lay", "read", "answer", "looks.ics"].map(|after| format!("/trials/{trial}/{after}")));
    for path in &pages {
        timed(&visitor, path);
        row(path, (0..RUNS).map(|_| timed(&visitor, path)).collect());
    }
    let once = visitor.once().unwrap();
    let entry = |number: usize| {
        let once = format!("{once}-{number}");
        let fields = [("once", once.as_str()), ("material", "natural-chalk"), ("name", "one more"), ("stock", "10")];
        let since = Stopwatch::start();
        assert_eq!(visitor.post("/shelf", &fields).unwrap().status, 303);
        since.elapsed()
    };
    row("POST /shelf, written and answered", (0..RUNS).map(entry).collect());
    let reading = |number: usize| {
        let once = format!("{once}-r{number}");
        let fields = [("once", once.as_str()), ("board", board.as_str()), ("measure", "first_cracked_strip"), ("value", "3")];
        let since = Stopwatch::start();
        assert_eq!(visitor.post(&format!("/trials/{trial}/read"), &fields).unwrap().status, 303);
        since.elapsed()
    };
    row("POST a reading, written and answered", (0..RUNS).map(reading).collect());
    println!("{:<44} {:>10}", "most memory", most_memory(program.process()));
}
