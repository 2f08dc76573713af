//! Settings that go with the turn or the place.

use super::{Sight, Tangle, TangleKind, words};
use crate::plan::draft::most_alike;

/// A typed order that goes with a setting this much is worth a word (common practice, no source).
const TYPED: f64 = 0.3;
/// A drawn one is fair as drawn; only a freak of the draw is told.
const DRAWN: f64 = 0.7;

pub(super) fn with_turn_and_place(sight: &Sight<'_>) -> Vec<Tangle> {
    let plan = sight.plan;
    let limit = if plan.order_drawn { DRAWN } else { TYPED };
    let turns: Vec<f64> = plan.recipe_boards().map(|board| f64::from(board.order)).collect();
    let places: Vec<f64> = plan.recipe_boards().map(|board| f64::from(board.place)).collect();
    let days: Vec<u32> = plan.recipe_boards().map(|board| board.day).collect();
    let mut out = Vec::new();
    for (kind, name, position) in [(TangleKind::WithOrder, "order", turns), (TangleKind::WithPlace, "place", places)] {
        for factor in sight.on_purpose() {
            let columns: Vec<Vec<f64>> = factor.columns(&sight.boards).iter().map(|column| within(column, &days)).collect();
            let r = most_alike(&columns, &within(&position, &days));
            if r > limit {
                out.push(Tangle {
                    kind,
                    effects: vec![factor.name.clone(), name.to_owned()],
                    r: Some(r),
                    times: None,
                    text: words::with_position(kind, &factor.name, plan.order_drawn),
                    add: Vec::new(),
                });
            }
        }
    }
    out
}

/// A column less its mean of the day: what goes with the day is told as that.
fn within(column: &[f64], days: &[u32]) -> Vec<f64> {
    let mean = |day: u32| {
        let of_day: Vec<f64> = column.iter().zip(days).filter(|(_, other)| **other == day).map(|(x, _)| *x).collect();
        of_day.iter().sum::<f64>() / of_day.len().max(1) as f64
    };
    column.iter().zip(days).map(|(x, day)| x - mean(*day)).collect()
}
