//! Finding the fewest boards that would mend a tangle, by trying.

use std::collections::BTreeMap;

use statistics::Columns;

use super::{ExtraBoard, Sight};
use crate::plan::factors::{DAY, Factor, Facts, SHEET, transposed};
use crate::plan::model::{BoardKind, Value};

/// Most boards that are advised at once; a plan that needs more is better drawn anew.
const MOST_EXTRA: usize = 6;
/// Most candidates that are tried.
const MOST_CANDIDATES: usize = 1024;
/// A trace of information about everything lets boards be compared while columns are still tied.
const TRACE: f64 = 1e-6;

/// Factors among which boards are sought, with the columns that they are judged by.
pub(super) struct Search<'s, 'p> {
    sight: &'s Sight<'p>,
    /// What may change on a further board.
    free: Vec<&'s Factor>,
}

/// A board that was tried.
#[derive(Clone)]
struct Candidate {
    facts: Facts,
    row: Vec<f64>,
}

impl<'s, 'p> Search<'s, 'p> {
    pub(super) fn among(sight: &'s Sight<'p>, free: Vec<&'s Factor>) -> Self {
        Self { sight, free }
    }

    /// The smallest set of boards after which `mended` holds for the columns of the free factors (a constant, or the parts, before
    /// them). Sets of two are all tried; larger ones grow board by board. Empty if six boards don't mend it.
    pub(super) fn fewest(&self, least: usize, mended: impl Fn(&Columns) -> bool) -> Vec<ExtraBoard> {
        let candidates = self.candidates();
        let rows: Vec<Vec<f64>> = self.sight.boards.iter().map(|board| self.row(board)).collect();
        let mut chosen: Vec<&Candidate> = Vec::new();
        for count in 1..=MOST_EXTRA {
            let more = if count == 2 { best_pair(&rows, &candidates) } else { None };
            if let Some(pair) = more {
                chosen = pair;
            } else if let Some(next) = best_next(&rows, &chosen, &candidates) {
                chosen.push(next);
            } else {
                return Vec::new();
            }
            if count >= least && mended(&columns(rows.iter().chain(chosen.iter().map(|one| &one.row)))) {
                return chosen.iter().map(|one| self.extra(&one.facts)).collect();
            }
        }
        Vec::new()
    }

    /// Whether the columns are free of ties, and stay so when any one of the last `extra` boards fails.
    pub(super) fn rests_on_no_single_board(&self, columns: &Columns) -> bool {
        let before = self.sight.boards.len();
        let whole = columns.count();
        columns.rank() == whole
            && (before..columns.rows()).all(|lost| {
                let rest = columns
                    .iter()
                    .map(|column| column.iter().enumerate().filter(|(row, _)| *row != lost).map(|(_, x)| *x).collect::<Vec<f64>>());
                Columns::new(rest.collect()).is_ok_and(|rest| rest.rank() == whole)
            })
    }

    /// One row: the constant or the parts, then the free factors.
    fn row(&self, facts: &Facts) -> Vec<f64> {
        let base = if self.sight.parts.is_empty() { vec![1.0] } else { Vec::new() };
        let parts = self.sight.parts.iter().flat_map(|part| part.row(facts));
        let free = self.free.iter().filter(|factor| !factor.is_share()).flat_map(|factor| factor.row(facts));
        base.into_iter().chain(parts).chain(free).collect()
    }

    /// Every level of every free factor with every other; everything else as it is on most boards. Blends move as a whole: only those
    /// that boards already have.
    fn candidates(&self) -> Vec<Candidate> {
        let usual = self.usual();
        let mut all: Vec<Facts> = vec![usual.clone()];
        let blends = self.blends();
        if self.free.iter().any(|factor| factor.is_share()) {
            all = blends.into_iter().map(|blend| usual.clone().into_iter().chain(blend).collect()).collect();
        }
        for factor in self.free.iter().filter(|factor| !factor.is_share()) {
            let levels = ends(factor.levels(&self.sight.boards));
            if all.len() * levels.len() > MOST_CANDIDATES {
                break;
            }
            all = all
                .into_iter()
                .flat_map(|facts| {
                    levels.iter().map(move |level| {
                        let mut facts = facts.clone();
                        facts.insert(factor.name.clone(), level.clone());
                        facts
                    })
                })
                .collect();
        }
        all.into_iter().map(|facts| Candidate { row: self.row(&facts), facts }).collect()
    }

    /// The value that most boards have, for each name; the earlier one of equals.
    fn usual(&self) -> Facts {
        let mut out = Facts::new();
        let names: Vec<&String> = self.sight.boards.first().map(|first| first.keys().collect()).unwrap_or_default();
        for name in names {
            let mut counts: Vec<(&Value, usize)> = Vec::new();
            for value in self.sight.boards.iter().filter_map(|board| board.get(name)) {
                match counts.iter_mut().find(|(known, _)| *known == value) {
                    Some((_, count)) => *count += 1,
                    None => counts.push((value, 1)),
                }
            }
            let most = counts.iter().map(|(_, count)| *count).max().unwrap_or(0);
            if let Some((value, _)) = counts.into_iter().find(|(_, count)| *count == most) {
                out.insert(name.clone(), value.clone());
            }
        }
        // Shares only make sense together.
        out.extend(self.blends().into_iter().next().unwrap_or_default());
        out
    }

    /// Blends that occur, each with all its shares.
    fn blends(&self) -> Vec<Facts> {
        let mut out: Vec<Facts> = Vec::new();
        for board in &self.sight.boards {
            let blend: Facts = self
                .sight
                .plan
                .parts
                .iter()
                .filter_map(|part| board.get(&part.name).map(|share| (part.name.clone(), share.clone())))
                .collect();
            if !blend.is_empty() && !out.contains(&blend) {
                out.push(blend);
            }
        }
        out
    }

    fn extra(&self, facts: &Facts) -> ExtraBoard {
        let free = |name: &str| self.free.iter().any(|factor| factor.name == name);
        let told = |name: &str| facts.get(name).filter(|_| free(name)).map(ToString::to_string);
        let mut settings = BTreeMap::new();
        for setting in &self.sight.plan.settings {
            if let Some(value) = facts.get(&setting.name) {
                settings.insert(setting.name.clone(), value.clone());
            }
        }
        let mut shares = BTreeMap::new();
        for part in &self.sight.plan.parts {
            if let Some(Value::Number(share)) = facts.get(&part.name) {
                shares.insert(part.name.clone(), *share);
            }
        }
        ExtraBoard { kind: BoardKind::Recipe, day: told(DAY).and_then(|day| day.parse().ok()), sheet: told(SHEET), settings, shares }
    }
}

/// Numbers between the ends tell less than the ends do.
fn ends(levels: Vec<Value>) -> Vec<Value> {
    match (levels.first(), levels.last()) {
        (Some(first @ Value::Number(_)), Some(last)) if levels.len() > 2 => vec![first.clone(), last.clone()],
        _ => levels,
    }
}

pub(super) fn columns<'r>(rows: impl Iterator<Item = &'r Vec<f64>>) -> Columns {
    let rows: Vec<&Vec<f64>> = rows.collect();
    let width = rows.first().map_or(0, |row| row.len());
    Columns::new(transposed(rows.into_iter().cloned(), width)).unwrap_or_default()
}

/// Inverse of X'X with a trace of the unit matrix, built up row by row (Sherman and Morrison 1950).
fn inverse<'r>(rows: impl Iterator<Item = &'r Vec<f64>>, width: usize) -> Vec<Vec<f64>> {
    let mut inverse: Vec<Vec<f64>> = (0..width).map(|i| (0..width).map(|j| if i == j { 1.0 / TRACE } else { 0.0 }).collect()).collect();
    for row in rows {
        let along = times(&inverse, row);
        let size = 1.0 + dot(row, &along);
        for (line, left) in inverse.iter_mut().zip(&along) {
            for (x, right) in line.iter_mut().zip(&along) {
                *x -= left * right / size;
            }
        }
    }
    inverse
}

fn times(matrix: &[Vec<f64>], row: &[f64]) -> Vec<f64> {
    matrix.iter().map(|line| dot(line, row)).collect()
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

/// The one board that adds most to the information.
fn best_next<'c>(rows: &[Vec<f64>], chosen: &[&Candidate], candidates: &'c [Candidate]) -> Option<&'c Candidate> {
    let width = rows.first().map_or(0, Vec::len);
    let inverse = inverse(rows.iter().chain(chosen.iter().map(|one| &one.row)), width);
    let mut best: Option<(f64, &Candidate)> = None;
    for candidate in candidates {
        let gain = dot(&candidate.row, &times(&inverse, &candidate.row));
        if best.as_ref().is_none_or(|(most, _)| gain > most * (1.0 + 1e-6)) {
            best = Some((gain, candidate));
        }
    }
    best.map(|(_, candidate)| candidate)
}

/// The two boards that together add most: |M + xx' + yy'| / |M| = (1 + d(x)) (1 + d(y)) - d(x,y)^2 (Fedorov 1972). `None` where there are
/// too many pairs to try.
fn best_pair<'c>(rows: &[Vec<f64>], candidates: &'c [Candidate]) -> Option<Vec<&'c Candidate>> {
    if candidates.len() > 128 {
        return None;
    }
    let width = rows.first().map_or(0, Vec::len);
    let inverse = inverse(rows.iter(), width);
    let mut best: Option<(f64, Vec<&Candidate>)> = None;
    for (at, first) in candidates.iter().enumerate() {
        let along = times(&inverse, &first.row);
        let own = 1.0 + dot(&first.row, &along);
        for second in candidates.iter().skip(at) {
            let gain = own * (1.0 + dot(&second.row, &times(&inverse, &second.row))) - dot(&second.row, &along).powi(2);
            if best.as_ref().is_none_or(|(most, _)| gain > most * (1.0 + 1e-6)) {
                best = Some((gain, vec![first, second]));
            }
        }
    }
    best.map(|(_, pair)| pair)
}
