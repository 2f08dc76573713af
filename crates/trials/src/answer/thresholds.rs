//! Thresholds of recipes whose boards are only known to give way between marks.

use std::collections::BTreeMap;

use statistics::{Between, Posterior, Priors, Shape, fit};

use super::model::{Figure, Question, Threshold, Unit};
use super::readings::{Job, Seen};
use super::rules::Rules;

/// Beliefs of each recipe, and of any set of boards.
pub(super) struct Believed {
    priors: Priors,
    told: bool,
}

/// Most marks that are printed a recipe.
const MOST_MARKS: usize = 12;

impl Believed {
    /// `None` without a positive finite mark.
    pub(super) fn of(units: &[Unit], question: &Question, rules: &Rules) -> Option<Self> {
        let told = question.expected.filter(|expected| *expected > 0.0 && expected.is_finite());
        let mut marks: Vec<f64> = units
            .iter()
            .filter(|unit| unit.job != Job::Witness)
            .flat_map(|unit| [unit.seen.low, unit.seen.high])
            .filter(|mark| *mark > 0.0 && mark.is_finite())
            .map(f64::ln)
            .collect();
        marks.sort_by(f64::total_cmp);
        let middle = f64::midpoint(*marks.first()?, *marks.last()?);
        let priors = Priors {
            place: told.map_or(middle, f64::ln),
            place_sd: if told.is_some() { rules.prior_place_sd_told } else { rules.prior_place_sd_open },
            ln_spread: rules.prior_spread.ln(),
            ln_spread_sd: rules.prior_spread_sd,
        };
        Some(Self { priors, told: told.is_some() })
    }

    /// Whether the middle of the beliefs was told.
    pub(super) fn told(&self) -> bool {
        self.told
    }

    /// Beliefs after these boards.
    pub(super) fn after(&self, units: &[&Unit]) -> Option<Posterior> {
        Posterior::of(&between(units, units), &self.priors)
    }

    /// Difference of the medians, second less first, and the chance that it is above 0.
    pub(super) fn difference(a: &Posterior, b: &Posterior, level: f64) -> (Figure, f64) {
        let tail = (1.0 - level) / 2.0;
        let value = b.median_at(0.5) - a.median_at(0.5);
        let [low, high] = b.difference(a, [tail, 1.0 - tail]);
        (Figure { value, low: low.min(value), high: high.max(value) }, b.above(a))
    }

    /// Each recipe's threshold.
    pub(super) fn thresholds(&self, units: &[Unit]) -> Vec<Threshold> {
        let mut groups: BTreeMap<(Job, &str), Vec<&Unit>> = BTreeMap::new();
        for unit in units.iter().filter(|unit| unit.job != Job::Witness) {
            groups.entry((unit.job, &unit.group)).or_default().push(unit);
        }
        let mut marks: Vec<f64> =
            units.iter().flat_map(|unit| [unit.seen.low, unit.seen.high]).filter(|mark| *mark > 0.0 && mark.is_finite()).collect();
        marks.sort_by(f64::total_cmp);
        marks.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
        let step = marks.len().div_ceil(MOST_MARKS).max(1);
        let marks: Vec<f64> = marks.into_iter().step_by(step).collect();
        let everyone: Vec<&Unit> = units.iter().collect();
        groups
            .into_iter()
            .filter_map(|((_, name), units)| {
                let after = self.after(&units)?;
                let seen = between(&units, &everyone);
                let open = units.iter().filter(|unit| unit.seen.high.is_infinite()).map(|unit| unit.seen.low).reduce(f64::max);
                Some(Threshold {
                    group: name.to_owned(),
                    units: units.len(),
                    median: [0.1, 0.5, 0.9].map(|share| after.median_at(share)),
                    new_below: marks.iter().map(|mark| (*mark, after.new_below(*mark))).collect(),
                    fits: [fit(Shape::LogNormal, &seen), fit(Shape::Weibull, &seen)],
                    not_beyond: open,
                })
            })
            .collect()
    }
}

/// Marks as the mathematics wants them: a plain 0 is "below the smallest mark of all".
fn between(units: &[&Unit], everyone: &[&Unit]) -> Vec<Between> {
    let least = everyone.iter().flat_map(|unit| [unit.seen.low, unit.seen.high]).filter(|mark| *mark > 0.0).fold(f64::INFINITY, f64::min);
    units
        .iter()
        .map(|unit| match unit.seen {
            Seen { low, high } if low <= 0.0 && high <= 0.0 => Between { low: 0.0, high: least },
            Seen { low, high } => Between { low: low.max(0.0), high },
        })
        .collect()
}
