//! Whether two pairs of eyes saw the same.

use std::collections::{BTreeMap, BTreeSet};

use notebook::Notebook;
use statistics::{Weights, agreement, rating_table};

/// Classes 0 to 5 in half steps.
const HALF_STEPS: usize = 11;

/// A sentence for each two people who read the same boards on a scale of classes.
pub(super) fn eyes(state: &Notebook, subject: &str, measure: &str) -> Vec<String> {
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
            let beyond = rating_table(&a, &b, HALF_STEPS)
                .and_then(|table| agreement(&table, Weights::Quadratic))
                .ok()
                .and_then(|found| found.kappa)
                .map_or_else(String::new, |kappa| {
                    format!("; beyond luck that is {} on a rule where 1 is full agreement", show::number(kappa, 2))
                });
            out.push(format!("{first} and {second} gave the same class to {same} of {} boards{beyond}.", both.len()));
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
