//! The collected recipes as painters type them, against what a knowledgeable person reads in them.
#![expect(clippy::unwrap_used, clippy::indexing_slicing, reason = "in a test a panic is the report")]
#![expect(clippy::disallowed_methods, reason = "the cases lie in files")]

mod expected;

use std::fs;
use std::path::{Path, PathBuf};

use expected::{Expected, Tally};
use materials::{Catalogue, Piece, Reading, Wishes, read};
use measure::Units;

fn folder(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/cases").join(name)
}

/// Texts of a folder with what is expected of them, by name.
fn cases(name: &str) -> Vec<(String, String, Expected)> {
    let mut paths: Vec<PathBuf> = fs::read_dir(folder(name))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|e| e == "txt"))
        .collect();
    paths.sort();
    let load = |path: PathBuf| {
        let text = String::from_utf8_lossy(&fs::read(&path).unwrap()).into_owned();
        let expected = Expected::parse(&fs::read_to_string(path.with_extension("expect")).unwrap());
        (path.file_stem().unwrap().to_string_lossy().into_owned(), text, expected)
    };
    paths.into_iter().map(load).collect()
}

fn covers(text: &str, reading: &Reading) {
    let told: String = reading.pieces.iter().map(|piece| piece.span().of(text)).collect();
    assert_eq!(told, text);
}

/// The least shares that earlier versions reached; they may only rise.
fn floor(key: &str) -> f64 {
    let text = fs::read_to_string(folder("floor.toml")).unwrap();
    let line = text.lines().find_map(|line| line.split_once('=').filter(|(name, _)| name.trim() == key)).unwrap();
    line.1.split('#').next().unwrap().trim().parse().unwrap()
}

#[test]
fn recipes_are_read_as_a_person_reads_them() {
    let (jars, units) = (Catalogue::builtin().unwrap(), Units::builtin().unwrap());
    let mut tally = Tally::default();
    for (name, text, expected) in cases("recipes") {
        let reading = read(jars, &units, &text, &Wishes::new());
        covers(&text, &reading);
        tally.add(&name, &text, &reading, &expected, &units);
    }
    println!("{tally}");
    assert!(tally.lines_found() >= floor("lines_found"), "{}", tally.lines_found());
    assert!(tally.cases_found() >= floor("cases_found"), "{}", tally.cases_found());
    assert!(tally.inventions() <= floor("inventions_at_most"), "{}", tally.inventions());
    assert!(tally.struck() <= floor("struck_at_most"), "{}", tally.struck());
}

#[test]
fn hostile_texts_do_no_harm() {
    let (jars, units) = (Catalogue::builtin().unwrap(), Units::builtin().unwrap());
    let mut tally = Tally::default();
    for (name, text, expected) in cases("hostile") {
        let reading = read(jars, &units, &text, &Wishes::new());
        covers(&text, &reading);
        tally.add(&name, &text, &reading, &expected, &units);
        for line in &reading.lines {
            assert!(expected::numbers(line).iter().all(|number| number.is_finite() && *number > 0.0), "{name}: {line:?}");
        }
    }
    println!("{tally}");
    assert!(tally.lines_found() >= floor("hostile_lines_found"), "{}", tally.lines_found());
}

#[test]
fn ways_of_writing_one_amount_agree() {
    let (jars, units) = (Catalogue::builtin().unwrap(), Units::builtin().unwrap());
    let mut rows = csv::Reader::from_path(folder("amounts.csv")).unwrap();
    let (mut wrong, mut all) = (Vec::new(), 0);
    for row in rows.records() {
        let row = row.unwrap();
        let reading = read(jars, &units, &row[0], &Wishes::new());
        covers(&row[0], &reading);
        all += 1;
        if let Err(found) = expected::quantity(&reading, &row[1], &row[2], &units) {
            wrong.push(format!("{} [{} {}]: {found}", &row[0], &row[1], &row[2]));
        }
    }
    println!("{} of {all} ways agree\n{}", all - wrong.len(), wrong.join("\n"));
    assert!(wrong.len() as f64 <= floor("amounts_wrong_at_most"), "{}", wrong.len());
}

#[test]
fn words_that_are_not_understood_say_what_would_help() {
    let (jars, units) = (Catalogue::builtin().unwrap(), Units::builtin().unwrap());
    let reading = read(jars, &units, "250 g chalk, 3 drops of zorkwort", &Wishes::new());
    let struck: Vec<&str> = reading.struck().map(|struck| struck.span.of("250 g chalk, 3 drops of zorkwort")).collect();
    assert_eq!(struck, ["3 drops", "zorkwort"]);
    assert!(reading.pieces.iter().all(|piece| !matches!(piece, Piece::Struck(struck) if struck.why.is_empty())));
}
