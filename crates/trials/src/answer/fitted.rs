//! Mean differences by least squares, days taken out.

use std::collections::{BTreeMap, BTreeSet};

use statistics::{LeastSquares, NoLine, least_squares};

use super::model::{Figure, Unit};
use super::readings::Job;

/// A recipe: why it was made, and its name.
pub(super) type Key<'a> = (Job, &'a str);

/// Readings to the nearest mark can't scatter less than the mark allows.
const EVEN_DEVIATION: f64 = 0.288_675_134_594_812_9; // 1 / sqrt(12), the deviation of an even spread of width 1

/// Fits, and holds the scatter at what the marks allow; `None` for the scatter when all numbers are the same.
pub(super) fn fit_marked(columns: &[Vec<f64>], values: &[f64]) -> Result<LeastSquares, NoLine> {
    let mut fit = least_squares(columns, values)?;
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let step =
        sorted.windows(2).filter_map(|pair| Some(pair.get(1)? - pair.first()?)).filter(|gap| *gap > 1e-9).fold(f64::INFINITY, f64::min);
    fit.residual = fit.residual.filter(|_| step.is_finite()).map(|residual| if residual > 1e-9 { residual } else { step * EVEN_DEVIATION });
    Ok(fit)
}

/// A weighted sum with its range, and the chance that it is above 0.
pub(super) fn with_range(fit: &LeastSquares, weights: &[f64], level: f64) -> Result<(Figure, Option<f64>), String> {
    let value = fit.contrast(weights);
    match fit.half_width(weights, level) {
        Some(half) if half.is_finite() => Ok((Figure { value, low: value - half, high: value + half }, fit.chance_above(weights))),
        _ if fit.degrees == 0 => {
            Err("there is one of each and none to spare, so nothing tells how far two boards of one kind lie apart; make repeat boards"
                .into())
        }
        _ => Err("every board read the same; a finer measure is needed to part them".into()),
    }
}

/// Recipes that days or yardsticks join, fitted together.
pub(super) struct Fitted<'a> {
    parts: Vec<(Vec<Key<'a>>, Result<LeastSquares, NoLine>)>,
}

impl<'a> Fitted<'a> {
    pub(super) fn of(units: &[&'a Unit]) -> Self {
        let mut parts = Vec::new();
        for part in joined(units) {
            let keys: Vec<Key<'a>> = part.iter().map(|unit| (unit.job, unit.group.as_str())).collect::<BTreeSet<_>>().into_iter().collect();
            let days: BTreeSet<&str> = part.iter().map(|unit| unit.day.as_str()).collect();
            let column = |is: &dyn Fn(&Unit) -> bool| part.iter().map(|unit| f64::from(u8::from(is(unit)))).collect::<Vec<f64>>();
            // One column a recipe but the first, then one a day.
            let mut columns: Vec<Vec<f64>> =
                keys.iter().skip(1).map(|key| column(&|unit| (unit.job, unit.group.as_str()) == *key)).collect();
            columns.extend(days.iter().map(|day| column(&|unit| unit.day == *day)));
            let values: Vec<f64> = part.iter().map(|unit| unit.seen.low).collect();
            parts.push((keys, fit_marked(&columns, &values)));
        }
        Self { parts }
    }

    /// Second less first.
    pub(super) fn difference(&self, first: Key<'_>, second: Key<'_>, level: f64) -> Result<(Figure, Option<f64>), String> {
        let place = |keys: &[Key<'a>], key: Key<'_>| keys.iter().position(|known| *known == key);
        for (keys, fit) in &self.parts {
            let (Some(from), Some(to)) = (place(keys, first), place(keys, second)) else { continue };
            let fit = fit.as_ref().map_err(|_| "too few boards for so many days; make repeat boards on one day".to_owned())?;
            let mut weights = vec![0.0; keys.len()];
            for (at, weight) in [(from, -1.0), (to, 1.0)] {
                // The first recipe is where the others are counted from.
                if let Some(slot) = at.checked_sub(1).and_then(|at| weights.get_mut(at)) {
                    *slot = weight;
                }
            }
            return with_range(fit, &weights, level);
        }
        Err("they never stood beside each other on one day, and no yardstick joins the days; make both on one day".into())
    }
}

/// Parts of the boards that days join.
fn joined<'a>(units: &[&'a Unit]) -> Vec<Vec<&'a Unit>> {
    let mut by_day: BTreeMap<&str, BTreeSet<Key<'_>>> = BTreeMap::new();
    for unit in units {
        by_day.entry(&unit.day).or_default().insert((unit.job, &unit.group));
    }
    let mut parts: Vec<BTreeSet<Key<'_>>> = Vec::new();
    for keys in by_day.into_values() {
        let (touching, apart): (Vec<_>, Vec<_>) = parts.into_iter().partition(|part| !part.is_disjoint(&keys));
        parts = apart;
        parts.push(touching.into_iter().fold(keys, |mut all, part| {
            all.extend(part);
            all
        }));
    }
    parts.into_iter().map(|part| units.iter().copied().filter(|unit| part.contains(&(unit.job, unit.group.as_str()))).collect()).collect()
}
