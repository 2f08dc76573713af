//! Whether two pairs of eyes saw the same.

use std::collections::{BTreeMap, BTreeSet};

use notebook::Notebook;
use statistics::{Weights, agreement, rating_table};

/// Classes 0 to 5 in half steps.
const HALF_STEPS: usize = 11;

/// For each two people who read the same boards on a scale of classes: a sentence, and their agreement beyond luck (weighted kappa).
pub(super) fn eyes(state: &Notebook, subject: &str, measure: &str) -> Vec<(String, Option<(String, String)>)> {
    // The newest class that each person gave each board.
    let mut given: BTreeMap<String, BTreeMap<String, usize>> = BTreeMap::new();
    for board in state.boards_of(subject) {
        for reading in state.readings_of(&board.subject) {
            let record = &reading.record;
            if record.measure != measure || record.rater.is_empty() || record.strip.is_some() {
                continue;
            }
            if let Some(class) = half_steps(&record.value) {
                given.entry(record.rater.clone()).or_default().insert(board.subject.clone(), class);
            }
        }
    }
    let raters: Vec<(&String, &BTreeMap<String, usize>)> = given.iter().collect();
    let mut out = Vec::new();
    for (index, (first, theirs)) in raters.iter().enumerate() {
        for (second, others) in raters.iter().skip(index + 1) {
            let both: BTreeSet<&String> = theirs.keys().filter(|board| others.contains_key(*board)).collect();
            let classes =
                |given: &BTreeMap<String, usize>| both.iter().filter_map(|board| given.get(*board).copied()).collect::<Vec<usize>>();
            let (a, b) = (classes(theirs), classes(others));
            let same = a.iter().zip(&b).filter(|(a, b)| a == b).count();
            if both.len() < 2 {
                continue;
            }
            let apart = a.iter().zip(&b).map(|(a, b)| a.abs_diff(*b)).max().unwrap_or(0);
            let rest = match apart {
                0 => String::new(),
                1 => "; the others differ by half a step".to_owned(),
                steps if steps % 2 == 0 => format!("; the others differ by up to {} steps", steps / 2),
                steps => format!("; the others differ by up to {}.5 steps", steps / 2),
            };
            let beyond = rating_table(&a, &b, HALF_STEPS)
                .and_then(|table| agreement(&table, Weights::Quadratic))
                .ok()
                .and_then(|found| found.kappa)
                .map(|kappa| (format!("agreement of {first} and {second} beyond luck (1 is full)"), show::number(kappa, 2)));
            out.push((format!("{first} and {second} gave the same number to {same} of {} boards{rest}.", both.len()), beyond));
        }
    }
    out
}

/// A class as a number of half steps; `None` for anything else.
fn half_steps(value: &str) -> Option<usize> {
    let class: f64 = value.parse().ok()?;
    let steps = class * 2.0;
    ((0.0..=10.0).contains(&steps) && (steps - steps.round()).abs() < 1e-9).then(|| {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number from 0 to 10")]
        let whole = steps.round() as usize;
        whole
    })
}
