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
    let mut out = Vec::new();
    for (kind, name, position) in [(TangleKind::WithOrder, "order", turns), (TangleKind::WithPlace, "place", places)] {
        for factor in sight.on_purpose() {
            let r = most_alike(&factor.columns(&sight.boards), &position);
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
