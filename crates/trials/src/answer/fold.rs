//! From readings to one value a board, and from boards to pots where a pot made several of one recipe.

use std::collections::{BTreeMap, BTreeSet};

use super::model::{Note, Unit, UnitIs, Way};
use super::readings::{Board, Job, Kind, Reading, Readings, Seen};
use super::stairs;

/// One measure folded to what counts.
pub(super) struct Folded {
    pub(super) way: Way,
    pub(super) is: UnitIs,
    pub(super) units: Vec<Unit>,
    pub(super) boards: usize,
    pub(super) batches: usize,
    pub(super) notes: Vec<Note>,
    /// Factor columns that vary among recipe boards.
    pub(super) varying: Vec<usize>,
}

/// Folds the readings of one measure.
pub(super) fn fold(readings: &Readings, measure: usize) -> Folded {
    let (name, kind) = readings.measures.get(measure).map_or(("", Kind::Number), |(name, kind)| (name.as_str(), *kind));
    let mut notes = Vec::new();
    let all: Vec<&Reading> = readings.rows.iter().filter(|row| row.measure == measure).collect();
    let lost: BTreeSet<&str> = lost(readings, &all);
    if !lost.is_empty() {
        let list = lost.iter().copied().collect::<Vec<_>>().join(", ");
        notes.push(Note {
            id: "lost",
            text: format!("No reading of {name} from board {list}; a board without a reading takes no part."),
            at: name.to_owned(),
        });
    }
    let rows = one_age(readings, &all, name, &mut notes);
    let mut by_board: BTreeMap<usize, Vec<&Reading>> = BTreeMap::new();
    for row in rows {
        by_board.entry(row.board).or_default().push(row);
    }
    let marks = stairs::Marks::of(readings);
    let stair =
        kind == Kind::YesNo && by_board.values().any(|rows| rows.iter().filter_map(|row| row.strip).collect::<BTreeSet<_>>().len() > 1);
    let measured = stair && by_board.iter().all(|(board, rows)| marks.cover(*board, rows));
    let mut values: Vec<(usize, Seen, Option<f64>)> = Vec::new();
    for (&board, rows) in &by_board {
        let id = readings.boards.get(board).map_or("", |board| board.id.as_str());
        if stair {
            let read = stairs::first_strip(board, rows, measured.then_some(&marks));
            if read.out_of_order {
                let text = format!(
                    "Board {id} is out of order: a thinner strip gave way and a thicker one did not. It counts from the thickest sound strip below the first that gave way."
                );
                notes.push(Note { id: "out of order", text, at: id.to_owned() });
            }
            values.push((board, read.seen, Some(read.strip)));
            continue;
        }
        let Some(seen) = middle(rows.iter().filter_map(|row| row.seen)) else { continue };
        if kind == Kind::YesNo && (seen.low - 0.5).abs() < 0.25 {
            let text = format!("The readings of board {id} are half yes and half no, so it takes no part; look once more.");
            notes.push(Note { id: "split", text, at: id.to_owned() });
            continue;
        }
        values.push((board, seen, None));
    }
    let used: Vec<&Board> = values.iter().filter_map(|(board, ..)| readings.boards.get(*board)).collect();
    let varying = varying(readings.factors.len(), &used);
    let way = if stair {
        Way::Stair { measured }
    } else if kind == Kind::YesNo {
        Way::YesNo
    } else if values.iter().any(|(_, seen, _)| seen.exact().is_none()) {
        Way::Between
    } else if kind == Kind::Class {
        Way::Class
    } else {
        Way::Plain
    };
    let single: Vec<Unit> = values
        .iter()
        .filter_map(|(board, seen, strip)| {
            let board = readings.boards.get(*board)?;
            Some(Unit {
                boards: vec![board.id.clone()],
                job: board.job,
                group: label(board, &varying),
                day: board.day.clone(),
                batch: board.batch.clone(),
                settings: board.settings.clone(),
                seen: *seen,
                strip: *strip,
            })
        })
        .collect();
    let counted = single.iter().filter(|unit| unit.job != Job::Witness);
    let boards = counted.clone().count();
    let pots: Vec<(&str, &str, &str)> =
        counted.filter(|unit| !unit.batch.is_empty()).map(|unit| (unit.day.as_str(), unit.batch.as_str(), unit.group.as_str())).collect();
    let distinct: BTreeSet<_> = pots.iter().collect();
    let is = if distinct.len() < pots.len() { UnitIs::Batch } else { UnitIs::Board };
    let batches = boards - pots.len() + distinct.len();
    if pots.is_empty() && boards > 1 {
        let text = "No pots are written down, so each board counts as its own. If boards shared a pot, the answer is surer than it may be: fill in the column `batch`.";
        notes.push(Note { id: "no pots", text: text.into(), at: name.to_owned() });
    }
    let mut units = if is == UnitIs::Batch { pooled(single, way) } else { single };
    units.sort_by(|a, b| (a.job, &a.group, &a.day, &a.boards).cmp(&(b.job, &b.group, &b.day, &b.boards)));
    Folded { way, is, units, boards, batches, notes, varying }
}

fn lost<'a>(readings: &'a Readings, rows: &[&Reading]) -> BTreeSet<&'a str> {
    let read: BTreeSet<usize> = rows.iter().filter(|row| row.seen.is_some()).map(|row| row.board).collect();
    let lost = rows.iter().filter(|row| !read.contains(&row.board));
    lost.filter_map(|row| readings.boards.get(row.board)).map(|board| board.id.as_str()).collect()
}

/// Readings of one age: the greatest that all boards share, else each board's last.
fn one_age<'a>(readings: &Readings, rows: &[&'a Reading], name: &str, notes: &mut Vec<Note>) -> Vec<&'a Reading> {
    let seen: Vec<&Reading> = rows.iter().copied().filter(|row| row.seen.is_some()).collect();
    let mut ages: BTreeMap<usize, Vec<f64>> = BTreeMap::new();
    for row in &seen {
        if let Some(age) = row.age_d {
            ages.entry(row.board).or_default().push(age);
        }
    }
    let judged = |board: &usize| readings.boards.get(*board).is_some_and(|board| board.job != Job::Witness);
    let same = |a: f64, b: f64| (a - b).abs() < 1e-9;
    let mut lists = ages.iter().filter(|(board, _)| judged(board)).map(|(_, list)| list);
    let mut shared: Vec<f64> = lists.next().cloned().unwrap_or_default();
    for list in lists {
        shared.retain(|age| list.iter().any(|other| same(*age, *other)));
    }
    let common = shared.into_iter().fold(None, |most: Option<f64>, age| Some(most.map_or(age, |most| most.max(age))));
    if common.is_none() && ages.iter().any(|(board, _)| judged(board)) {
        let text = format!(
            "The boards were read for {name} at different ages; each counts with its last reading. Read all at the same age once more."
        );
        notes.push(Note { id: "ages", text, at: name.to_owned() });
    }
    let last = |board: usize| ages.get(&board).map(|list| list.iter().copied().fold(f64::NEG_INFINITY, f64::max));
    let wanted = |row: &&Reading| match (row.age_d, last(row.board)) {
        (Some(age), Some(last)) => {
            let own = common.filter(|common| ages.get(&row.board).is_some_and(|list| list.iter().any(|other| same(*other, *common))));
            same(age, own.unwrap_or(last))
        }
        // A reading without an age beside others with one can't be placed.
        (None, Some(_)) => false,
        (_, None) => true,
    };
    seen.into_iter().filter(|row| wanted(row)).collect()
}

/// Medians of the ends; `None` without a reading.
pub(super) fn middle(seen: impl Iterator<Item = Seen>) -> Option<Seen> {
    let (mut low, mut high): (Vec<f64>, Vec<f64>) = seen.map(|one| (one.low, one.high)).unzip();
    Some(Seen { low: median(&mut low)?, high: median(&mut high)? })
}

fn median(values: &mut [f64]) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    let half = values.len() / 2;
    let upper = *values.get(half)?;
    if values.len() % 2 == 1 { Some(upper) } else { values.get(half.checked_sub(1)?).map(|lower| f64::midpoint(*lower, upper)) }
}

fn varying(factors: usize, boards: &[&Board]) -> Vec<usize> {
    let recipes: Vec<&&Board> = boards.iter().filter(|board| board.job == Job::Recipe).collect();
    let level = |board: &Board, at: usize| board.settings.get(at).cloned().unwrap_or_default();
    (0..factors)
        .filter(|&at| recipes.iter().map(|board| level(board, at)).filter(|level| !level.is_empty()).collect::<BTreeSet<_>>().len() > 1)
        .collect()
}

fn label(board: &Board, varying: &[usize]) -> String {
    let named = board.recipe.as_str();
    let settings = || {
        let said: Vec<&str> =
            varying.iter().filter_map(|&at| board.settings.get(at)).map(String::as_str).filter(|one| !one.is_empty()).collect();
        said.join(", ")
    };
    match (board.job, named.is_empty()) {
        (_, false) => named.to_owned(),
        (Job::Yardstick, true) => "yardstick".to_owned(),
        (Job::Witness, true) => "witness".to_owned(),
        (Job::Recipe, true) => Some(settings()).filter(|words| !words.is_empty()).unwrap_or_else(|| "the recipe".to_owned()),
    }
}

/// Boards of one pot and recipe as one unit.
fn pooled(single: Vec<Unit>, way: Way) -> Vec<Unit> {
    let mut pots: BTreeMap<(Job, String, String, String, String), Vec<Unit>> = BTreeMap::new();
    for unit in single {
        // A board without a pot stays its own.
        let own = if unit.batch.is_empty() { unit.boards.join(" ") } else { String::new() };
        pots.entry((unit.job, unit.group.clone(), unit.day.clone(), unit.batch.clone(), own)).or_default().push(unit);
    }
    pots.into_values()
        .filter_map(|units| {
            let count = units.len() as f64;
            let seen = match way {
                Way::Between | Way::Stair { .. } => middle(units.iter().map(|unit| unit.seen))?,
                _ => Seen::exactly(units.iter().map(|unit| unit.seen.low).sum::<f64>() / count),
            };
            let strips: Vec<f64> = units.iter().filter_map(|unit| unit.strip).collect();
            let strip = (!strips.is_empty()).then(|| strips.iter().sum::<f64>() / strips.len() as f64);
            let mut boards: Vec<String> = units.iter().flat_map(|unit| unit.boards.iter().cloned()).collect();
            boards.sort();
            let first = units.into_iter().next()?;
            Some(Unit { boards, seen, strip, ..first })
        })
        .collect()
}
