//! Settings that go with the turn or the place.

use statistics::Columns;
use statistics::correlations;

use super::{Sight, Tangle, TangleKind, words};

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
            let mut columns = factor.columns(&sight.boards);
            columns.push(position.clone());
            let Ok(columns) = Columns::new(columns) else { continue };
            let last = columns.count() - 1;
            let table = correlations(&columns);
            let r = table.iter().take(last).filter_map(|row| row.get(last).copied().flatten()).fold(0.0, |most: f64, r| most.max(r.abs()));
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
