//! One thing measured twice: "1 kg (2 lb) whiting". Whether the two figures can both be true.

use super::nodes::{AmountNode, Told};
use super::recipe::Recipe;

/// What two amounts of the same stuff say of each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Doubles {
    /// The same; whether the second (true) or the first (false) is the metric one, if one alone is.
    Agree { metric: Option<bool> },
    /// They can't both be true.
    Differ,
}

/// How far apart two figures for one thing may be, the lesser a tenth under the greater: a pound is called 500 g.
const ROUNDING: f64 = 1.0 / 0.9;
/// The same where the measure itself is loose: cups of 200 to 284 ml.
const LOOSE: f64 = 1.5;

/// Compares two amounts; nothing if they are not of one dimension.
pub(super) fn compare(told: &Recipe<'_>, first: &AmountNode, second: &AmountNode) -> Option<Doubles> {
    let sizes = |amount: &AmountNode| -> Vec<(measure::Dimension, f64, bool)> {
        let Told::Unit(word) = amount.told else { return Vec::new() };
        let words = told.lexicon.unit(word).unwrap_or_default();
        let sized = |(id, _): &(measure::UnitId, f64)| {
            let unit = told.units.get(*id);
            unit.value.map(|value| (unit.dimension, value * amount.number.middle(), unit.region == "metric"))
        };
        told.units.by_word(words).iter().filter_map(sized).collect()
    };
    let (a, b) = (sizes(first), sizes(second));
    let sure = a.len() == 1 && b.len() == 1;
    let apart = |x: f64, y: f64| if x > 0.0 && y > 0.0 { (x / y).max(y / x) } else { f64::INFINITY };
    let pairs = a.iter().flat_map(|x| b.iter().map(move |y| (x, y))).filter(|(x, y)| x.0 == y.0 && x.0 != measure::Dimension::Count);
    let least = pairs.map(|(x, y)| (apart(x.1, y.1), x, y)).min_by(|x, y| x.0.total_cmp(&y.0))?;
    let loose = !sure && least.1.0 == measure::Dimension::Volume;
    if least.0 > if loose { LOOSE } else { ROUNDING } {
        return Some(Doubles::Differ);
    }
    let all_metric = |sizes: &[(measure::Dimension, f64, bool)]| sizes.iter().all(|(.., metric)| *metric);
    Some(Doubles::Agree { metric: (all_metric(&a) != all_metric(&b)).then(|| all_metric(&b)) })
}
