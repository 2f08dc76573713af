//! Settings, days and sheets that can't be told apart, or only badly.

use std::collections::BTreeSet;

use statistics::{Columns, correlations, inflation_beside};

use super::advise::Search;
use super::{Sight, Tangle, TangleKind, words};
use crate::plan::factors::{DAY, Factor, SHEET};

/// From here two settings mostly go together (common practice, no source).
const HALF: f64 = 0.7;
/// From here the others blow up the doubt too much (common practice; 10 is Marquardt's 1970 limit for a warning).
const BLOWN_UP: f64 = 5.0;
/// From here a setting leans on the day or the sheet (common practice, no source).
const LEANS: f64 = 0.3;

/// A column with the factor it belongs to.
struct Labelled<'f> {
    factor: Option<&'f Factor>,
    column: Vec<f64>,
}

fn labelled<'f>(factor: &'f Factor, sight: &Sight<'_>) -> Vec<Labelled<'f>> {
    factor.columns(&sight.boards).into_iter().map(|column| Labelled { factor: Some(factor), column }).collect()
}

/// Exact ties: a linear sum of settings is nothing on every board. Days and sheets come last, so that a tie names them only if settings
/// make them up.
pub(super) fn exact(sight: &Sight<'_>) -> Vec<Tangle> {
    let mut all: Vec<Labelled<'_>> = Vec::new();
    if sight.parts.is_empty() {
        all.push(Labelled { factor: None, column: vec![1.0; sight.boards.len()] });
    }
    for factor in sight.on_purpose().chain(&sight.day).chain(&sight.sheet) {
        all.extend(labelled(factor, sight));
    }
    let Ok(columns) = Columns::new(all.iter().map(|one| one.column.clone()).collect()) else { return Vec::new() };
    let mut groups: Vec<Vec<&Factor>> = Vec::new();
    for tie in columns.ties() {
        let mut members: Vec<&Factor> = Vec::new();
        for (one, _) in all.iter().zip(&tie).filter(|(_, coefficient)| coefficient.abs() > 0.0) {
            if let Some(factor) = one.factor
                && !members.iter().any(|known| known.name == factor.name)
            {
                members.push(factor);
            }
        }
        let known = groups.iter().any(|group| names(group) == names(&members));
        if !known && members.iter().any(|factor| factor.name != DAY && factor.name != SHEET) {
            groups.push(members);
        }
    }
    groups.into_iter().map(|members| untie(sight, &members)).collect()
}

fn names(members: &[&Factor]) -> BTreeSet<String> {
    members.iter().map(|factor| factor.name.clone()).collect()
}

/// The tangle of factors that are tied, with the fewest boards that part them.
fn untie(sight: &Sight<'_>, members: &[&Factor]) -> Tangle {
    let search = Search::among(sight, members.to_vec());
    let add = search.fewest(2, |columns| search.rests_on_no_single_board(columns));
    let effects: Vec<String> = members.iter().map(|factor| factor.name.clone()).collect();
    let kind = if effects.iter().any(|name| name == DAY) {
        TangleKind::WithDay
    } else if effects.iter().any(|name| name == SHEET) {
        TangleKind::WithSheet
    } else {
        TangleKind::Exact
    };
    let text = words::exact(kind, &effects, &add, sight.boards.len());
    Tangle { kind, effects, r: Some(1.0), times: None, text, add }
}

/// Pairs of settings that mostly go together, and settings that several others make up nearly.
pub(super) fn halves(sight: &Sight<'_>, found: &[Tangle]) -> Vec<Tangle> {
    let together = |a: &str, b: &str| found.iter().any(|tangle| has(tangle, a) && has(tangle, b));
    let mut out: Vec<Tangle> = Vec::new();
    let factors: Vec<&Factor> = sight.on_purpose().collect();
    for (at, first) in factors.iter().enumerate() {
        for second in factors.iter().skip(at + 1) {
            // Shares always move against each other: they add to one.
            if (first.is_share() && second.is_share()) || together(&first.name, &second.name) {
                continue;
            }
            let r = largest_r(sight, first, second);
            // Whole: then both hang on a third setting, and that tie is told already.
            if r > HALF && r < 1.0 - 1e-9 {
                out.push(half(sight, &[first, second], r));
            }
        }
    }
    for factor in &sight.settings {
        if found.iter().chain(&out).any(|tangle| has(tangle, &factor.name)) {
            continue;
        }
        let others: Vec<&Factor> = sight.settings.iter().filter(|other| other.name != factor.name).collect();
        if inflation(sight, factor, &others).is_some_and(|times| times > BLOWN_UP) {
            let mut members = vec![factor];
            members.extend(others.into_iter().filter(|other| largest_r(sight, factor, other) > LEANS));
            let r = members.iter().skip(1).map(|other| largest_r(sight, factor, other)).fold(0.0, f64::max);
            out.push(half(sight, &members, r));
        }
    }
    out
}

fn has(tangle: &Tangle, name: &str) -> bool {
    tangle.effects.iter().any(|effect| effect == name)
}

fn half(sight: &Sight<'_>, members: &[&Factor], r: f64) -> Tangle {
    let effects: Vec<String> = members.iter().map(|factor| factor.name.clone()).collect();
    let times = members.first().and_then(|first| inflation(sight, first, members.get(1..).unwrap_or_default()));
    let search = Search::among(sight, members.to_vec());
    let first = members.first().map_or(0, |factor| factor.width());
    let base = if sight.parts.is_empty() { 1 } else { sight.parts.len() };
    let add = search.fewest(1, |columns| {
        let all: Vec<&[f64]> = columns.iter().skip(base).collect();
        let (own, others) = all.split_at(first.min(all.len()));
        own.iter().all(|column| inflation_beside(column, others.iter().copied()).is_some_and(|times| times < 1.0 / (1.0 - HALF * HALF)))
    });
    Tangle { kind: TangleKind::Half, text: words::half(&effects, times, &add), effects, r: Some(r), times, add }
}

/// The largest correlation between a column of one and a column of the other, without its sign.
fn largest_r(sight: &Sight<'_>, first: &Factor, second: &Factor) -> f64 {
    let (a, b) = (first.columns(&sight.boards), second.columns(&sight.boards));
    let width = a.len();
    let Ok(columns) = Columns::new(a.into_iter().chain(b).collect()) else { return 0.0 };
    let table = correlations(&columns);
    table.iter().take(width).flat_map(|row| row.iter().skip(width)).flatten().fold(0.0, |most: f64, r| most.max(r.abs()))
}

/// How many times the doubt about a factor grows beside others; its worst column.
fn inflation(sight: &Sight<'_>, factor: &Factor, others: &[&Factor]) -> Option<f64> {
    let others: Vec<Vec<f64>> = others.iter().flat_map(|other| other.columns(&sight.boards)).collect();
    let mut worst: f64 = 1.0;
    for column in factor.columns(&sight.boards) {
        worst = worst.max(inflation_beside(&column, others.iter().map(Vec::as_slice))?);
    }
    Some(worst)
}

/// Settings that lean on the day or the sheet without being tied to it.
pub(super) fn leaning(sight: &Sight<'_>, found: &[Tangle]) -> Vec<Tangle> {
    let mut out = Vec::new();
    for group in sight.day.iter().chain(&sight.sheet) {
        for factor in sight.on_purpose() {
            let tied = found.iter().any(|tangle| has(tangle, &factor.name) && has(tangle, &group.name));
            let Some(times) = inflation(sight, factor, &[group]).filter(|_| !tied) else { continue };
            let r = (1.0 - 1.0 / times).max(0.0).sqrt();
            if r <= LEANS {
                continue;
            }
            let kind = if group.name == DAY { TangleKind::WithDay } else { TangleKind::WithSheet };
            let effects = vec![factor.name.clone(), group.name.clone()];
            out.push(Tangle {
                kind,
                text: words::leaning(kind, &factor.name, r > HALF),
                effects,
                r: Some(r),
                times: Some(times),
                add: Vec::new(),
            });
        }
    }
    out
}

/// Settings that are the same on all boards.
pub(super) fn never_changing(sight: &Sight<'_>) -> Vec<Tangle> {
    sight
        .plan
        .settings
        .iter()
        .filter(|setting| !sight.settings.iter().any(|factor| factor.name == setting.name))
        .map(|setting| Tangle {
            kind: TangleKind::NeverChanges,
            effects: vec![setting.name.clone()],
            r: None,
            times: None,
            text: words::never_changes(&setting.name),
            add: Vec::new(),
        })
        .collect()
}
