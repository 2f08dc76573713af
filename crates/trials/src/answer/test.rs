//! The exact test of one difference within same-day groups, and whether all groups go the same way.

use statistics::{Exact, Pair, Stratum, fisher, mann_whitney, shuffled};

use super::model::{Test, Unit, Way};
use super::rules::Rules;

/// Units of both sides inside one same-day group.
pub(super) type Sides<'a> = (Vec<&'a Unit>, Vec<&'a Unit>);

/// Groups units of two sides by a key; groups that hold one side only are dropped.
pub(super) fn sides<'a, K: Ord>(first: &[&'a Unit], second: &[&'a Unit], key: impl Fn(&Unit) -> K) -> Vec<Sides<'a>> {
    let mut found: std::collections::BTreeMap<K, Sides<'a>> = std::collections::BTreeMap::new();
    for unit in first {
        found.entry(key(unit)).or_default().0.push(unit);
    }
    for unit in second {
        found.entry(key(unit)).or_default().1.push(unit);
    }
    found.into_values().filter(|(a, b)| !a.is_empty() && !b.is_empty()).collect()
}

/// The exact test; `None` when no group holds both sides.
pub(super) fn exact(way: Way, strata: &[Sides<'_>], rules: &Rules) -> Option<Test> {
    if strata.is_empty() {
        return None;
    }
    let everyone: Vec<&Unit> = strata.iter().flat_map(|(a, b)| a.iter().chain(b)).copied().collect();
    let score = |unit: &Unit| match way {
        Way::Stair { .. } => unit.strip.unwrap_or(unit.seen.low),
        Way::Between => standing(unit, &everyone),
        _ => unit.seen.low,
    };
    let scored = || -> Vec<Stratum> {
        let side = |units: &[&Unit]| units.iter().map(|unit| score(unit)).collect();
        strata.iter().map(|(a, b)| Stratum { first: side(a), second: side(b) }).collect()
    };
    let whole = |unit: &&Unit| unit.seen.low <= 0.0 || unit.seen.low >= 1.0;
    let (name, found): (&'static str, Exact) = match way {
        Way::YesNo if everyone.iter().all(whole) => {
            let counted = |units: &[&Unit]| {
                let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
                (count(units.iter().filter(|unit| unit.seen.low > 0.5).count()), count(units.len()))
            };
            let tables: Vec<Pair> = strata.iter().map(|(a, b)| Pair { first: counted(a), second: counted(b) }).collect();
            ("Fisher exact, two-sided, all results no likelier", fisher(&tables))
        }
        Way::Class => ("rank sum exact, mean ranks, two-sided", mann_whitney(&scored(), rules.sampling)),
        Way::Between => ("shuffle of certain orders (Gehan), two-sided", shuffled(&scored(), rules.sampling)),
        Way::Stair { .. } => ("shuffle of first strips, difference of means, two-sided", shuffled(&scored(), rules.sampling)),
        _ => ("shuffle, difference of means, two-sided", shuffled(&scored(), rules.sampling)),
    };
    let groups: Vec<(usize, usize)> = strata.iter().map(|(a, b)| (a.len(), b.len())).collect();
    let split = [strata.iter().map(|(a, _)| a.len()).sum(), strata.iter().map(|(_, b)| b.len()).sum()];
    Some(Test { name, split, groups, p: found.p, least_p: found.least_p, how: found.how })
}

/// How many others certainly lie below this one, less how many certainly lie above (Gehan 1965).
fn standing(unit: &Unit, everyone: &[&Unit]) -> f64 {
    let below = everyone.iter().filter(|other| other.seen.high <= unit.seen.low && other.seen.low < unit.seen.high).count();
    let above = everyone.iter().filter(|other| unit.seen.high <= other.seen.low && unit.seen.low < other.seen.high).count();
    below as f64 - above as f64
}

/// Groups that go the way most go, and groups that go any way.
pub(super) fn agreement(way: Way, strata: &[Sides<'_>]) -> (usize, usize) {
    let mean = |units: &[&Unit]| {
        let value = |unit: &&Unit| match way {
            Way::Stair { .. } => unit.strip.unwrap_or(unit.seen.low),
            Way::Between if unit.seen.high.is_infinite() => unit.seen.low,
            Way::Between => f64::midpoint(unit.seen.low, unit.seen.high),
            _ => unit.seen.low,
        };
        units.iter().map(value).sum::<f64>() / units.len() as f64
    };
    let (mut up, mut down) = (0, 0);
    for (a, b) in strata {
        let step = mean(b) - mean(a);
        up += usize::from(step > 1e-12);
        down += usize::from(step < -1e-12);
    }
    // A group without a difference speaks for neither side, but it is a pair.
    (up.max(down), strata.len())
}
