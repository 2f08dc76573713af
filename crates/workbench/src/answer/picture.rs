//! The boards of one measure as a picture.

use std::collections::BTreeMap;

use show::{BoardMark, BoardsAxis, BoardsRow, boards_picture};
use trials::answer::{Job, Measured, Unit, Way};

use super::sentences::{counted, unit_word};

pub(super) fn draw(measured: &Measured, smaller: Option<bool>) -> String {
    if measured.units.is_empty() {
        return String::new();
    }
    let axis = if measured.way == Way::YesNo { BoardsAxis::YesNo } else { BoardsAxis::Numbers };
    let yardstick = yardsticks(measured);
    let mut groups: BTreeMap<(Job, &str), Vec<&Unit>> = BTreeMap::new();
    for unit in &measured.units {
        groups.entry((unit.job, &unit.group)).or_default().push(unit);
    }
    let rows: Vec<BoardsRow> = groups
        .into_iter()
        .map(|((job, name), units)| {
            let mut days: Vec<&str> = units.iter().map(|unit| unit.day.as_str()).collect();
            days.sort_unstable();
            days.dedup();
            let strokes = if job == Job::Recipe { days.iter().filter_map(|day| yardstick.get(day)).copied().collect() } else { Vec::new() };
            let mark = |unit: &&Unit| match unit.seen.exact() {
                Some(at) => BoardMark::Dot {
                    at,
                    filled: filled(
                        measured.way,
                        unit,
                        yardstick.get(unit.day.as_str()).copied(),
                        measured.smaller_figure_is_better(smaller),
                    ),
                },
                None => BoardMark::Span { low: unit.seen.low, high: Some(unit.seen.high).filter(|high| high.is_finite()) },
            };
            let small = match job {
                Job::Recipe => "",
                Job::Yardstick => "yardstick",
                Job::Witness => "witness",
            };
            let named = if name == small { String::new() } else { name.to_owned() };
            BoardsRow {
                name: named,
                job: small,
                marks: units.iter().map(mark).collect(),
                yardsticks: strokes,
                range: likely(measured, job, name),
            }
        })
        .collect();
    let said = format!("Boards of {}. {}", measured.measure, counted(measured));
    boards_picture(&rows, axis, unit_word(measured.symbol), &said)
}

/// Mean of the yardsticks of each day, where all were read exactly.
fn yardsticks(measured: &Measured) -> BTreeMap<&str, f64> {
    let mut days: BTreeMap<&str, Vec<f64>> = BTreeMap::new();
    for unit in measured.units.iter().filter(|unit| unit.job == Job::Yardstick) {
        if let Some(value) = unit.seen.exact() {
            days.entry(&unit.day).or_default().push(value);
        }
    }
    days.into_iter().map(|(day, values)| (day, values.iter().sum::<f64>() / values.len() as f64)).collect()
}

fn filled(way: Way, unit: &Unit, yardstick: Option<f64>, smaller: Option<bool>) -> bool {
    if way == Way::YesNo {
        return unit.seen.low >= 0.5;
    }
    match (yardstick, smaller) {
        (Some(yardstick), Some(true)) => unit.seen.low > yardstick,
        (Some(yardstick), Some(false)) => unit.seen.low < yardstick,
        _ => false,
    }
}

/// Where the middle of a recipe likely lies: its threshold, or the first side's mean and the difference from it.
fn likely(measured: &Measured, job: Job, name: &str) -> Option<(f64, f64)> {
    if job == Job::Witness {
        return None;
    }
    if let Some(threshold) = measured.thresholds.iter().find(|threshold| threshold.group == name) {
        let [low, _, high] = threshold.median;
        return Some((low, high));
    }
    if measured.way == Way::YesNo {
        return None;
    }
    let effect = measured.effects.iter().find(|effect| effect.name == "recipe" && effect.to == name)?;
    let figure = effect.figure.as_ref().ok()?;
    let base = measured.groups.iter().find(|group| group.name == effect.from && group.job != Job::Witness)?.mean?;
    Some((base + figure.low, base + figure.high))
}
