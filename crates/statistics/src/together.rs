//! Groups whose places scatter about one place that they share: what is seen of one tells something of the others.

use crate::between::{Between, Gathered, Shape};

/// Beliefs before anything was seen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sharing {
    /// How far the place of one group may lie off 0, all in all.
    pub place_sd: f64,
    /// Part of that variance that all groups have in common, inside 0..1.
    pub common: f64,
    /// Expected logarithm of the spread within a group, the same in all.
    pub ln_spread: f64,
    /// How far that may lie off.
    pub ln_spread_sd: f64,
}

/// Beliefs about one group after all were seen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shared {
    /// Mean of its place in the logarithm.
    pub place: f64,
    /// How far that may lie off.
    pub place_sd: f64,
    /// Mean of the squared spread.
    pub spread_squared: f64,
}

/// Steps of the grids: the group's place, the common place, the logarithm of the spread.
const PLACES: usize = 91;
const COMMONS: usize = 31;
const SPREADS: usize = 15;
/// How far they reach, in standard deviations.
const PLACE_REACH: f64 = 4.5;
const COMMON_REACH: f64 = 4.0;
const SPREAD_REACH: f64 = 3.5;

/// Beliefs about the first group after numbers of all groups were seen between marks, summed over a grid. The curve within a group is
/// [`Shape::LogLogistic`]. A group without numbers says nothing. `None` for marks out of order or beliefs that are no numbers.
///
/// ```
/// use statistics::{Between, Sharing, together};
/// let before = Sharing { place_sd: 0.7, common: 0.5, ln_spread: 0.35f64.ln(), ln_spread_sd: 0.5 };
/// let thin = vec![Between { low: 0.0, high: 0.5 }; 6];
/// // Boards of another group move this one too, but less than its own.
/// let (own, other) = (together(&[thin.clone()], &before), together(&[vec![], thin], &before));
/// assert!(own.unwrap().place < other.unwrap().place && other.unwrap().place < -0.1);
/// ```
pub fn together(groups: &[Vec<Between>], sharing: &Sharing) -> Option<Shared> {
    let sound = sharing.place_sd > 0.0 && sharing.common > 0.0 && sharing.common < 1.0 && sharing.ln_spread_sd > 0.0;
    if !sound || !(sharing.place_sd + sharing.ln_spread + sharing.ln_spread_sd).is_finite() {
        return None;
    }
    let (common_sd, own_sd) = (sharing.place_sd * sharing.common.sqrt(), sharing.place_sd * (1.0 - sharing.common).sqrt());
    let gathered = groups.iter().map(|seen| if seen.is_empty() { Some(None) } else { Gathered::of(seen).map(Some) });
    let gathered: Vec<Option<Gathered>> = gathered.collect::<Option<_>>()?;
    let (first, others) = gathered.split_first()?;
    let places = even(PLACES, PLACE_REACH * sharing.place_sd);
    let commons = even(COMMONS, COMMON_REACH * common_sd);
    // The chance of each place of a group about each common place.
    let about: Vec<Vec<f64>> = commons.iter().map(|common| bell(&places, *common, own_sd)).collect();
    let common_weights = bell(&commons, 0.0, common_sd);
    let mut sums = [0.0; 4];
    let mut logs = Vec::with_capacity(SPREADS);
    for step in even(SPREADS, SPREAD_REACH) {
        let spread = (sharing.ln_spread + step * sharing.ln_spread_sd).exp();
        let likelihood = |seen: &Option<Gathered>| -> Vec<f64> {
            places.iter().map(|place| seen.as_ref().map_or(0.0, |seen| seen.log_likelihood(Shape::LogLogistic, *place, spread))).collect()
        };
        let mut log = vec![-step * step / 2.0; COMMONS];
        for other in others.iter().filter(|other| other.is_some()) {
            let seen = likelihood(other);
            for (log, about) in log.iter_mut().zip(&about) {
                *log += ln_sum(about.iter().zip(&seen).map(|(weight, seen)| (*weight, *seen)));
            }
        }
        logs.push((spread, log, likelihood(first)));
    }
    // Summed in two passes, so that numbers too small for a plain number keep their ratio.
    let cells = || {
        logs.iter().flat_map(|(spread, log, own)| {
            log.iter()
                .zip(&about)
                .zip(&common_weights)
                .flat_map(move |((log, about), weight)| own.iter().zip(about).map(move |(own, about)| (*spread, log + own, weight * about)))
        })
    };
    let top = cells().map(|cell| cell.1).fold(f64::NEG_INFINITY, f64::max);
    for ((spread, log, weight), place) in cells().zip(places.iter().cycle()) {
        let weight = weight * (log - top).exp();
        for (sum, term) in sums.iter_mut().zip([1.0, *place, place * place, spread * spread]) {
            *sum += weight * term;
        }
    }
    let [all, place, square, spread_squared] = sums;
    let mean = place / all;
    Some(Shared { place: mean, place_sd: (square / all - mean * mean).max(0.0).sqrt(), spread_squared: spread_squared / all })
        .filter(|shared| (shared.place + shared.place_sd + shared.spread_squared).is_finite())
}

fn even(count: usize, reach: f64) -> Vec<f64> {
    (0..count).map(|index| reach * (2.0 * index as f64 / (count - 1) as f64 - 1.0)).collect()
}

/// A bell curve over a grid, its weights adding to 1.
fn bell(grid: &[f64], middle: f64, sd: f64) -> Vec<f64> {
    let weights: Vec<f64> = grid.iter().map(|x| (-((x - middle) / sd).powi(2) / 2.0).exp()).collect();
    let all: f64 = weights.iter().sum();
    weights.into_iter().map(|weight| weight / all).collect()
}

/// Logarithm of a weighted sum of numbers that are given by their logarithm.
fn ln_sum(terms: impl Iterator<Item = (f64, f64)> + Clone) -> f64 {
    let top = terms.clone().map(|term| term.1).fold(f64::NEG_INFINITY, f64::max);
    top + terms.map(|(weight, log)| weight * (log - top).exp()).sum::<f64>().ln()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::between::{NoFit, Priors, fit, fit_with_priors};

    const BEFORE: Sharing = Sharing { place_sd: 0.7, common: 0.5, ln_spread: -1.049_822, ln_spread_sd: 0.5 };

    fn boards(list: &[(f64, f64)]) -> Vec<Between> {
        list.iter().map(|&(low, high)| Between { low, high }).collect()
    }

    /// Arithmetic: without anything seen the beliefs are what they were; the mean of a squared log-normal number is exp(2 m + 2 s^2).
    #[test]
    fn nothing_seen_leaves_the_beliefs() {
        let after = together(&[vec![], vec![]], &BEFORE).unwrap();
        assert!(after.place.abs() < 1e-9 && (after.place_sd / 0.7 - 1.0).abs() < 1e-3, "{after:?}");
        assert!((after.spread_squared / (0.35f64.powi(2) * 0.5f64.exp()) - 1.0).abs() < 0.01, "{after:?}");
    }

    /// Arithmetic: with very many other groups all at 1 in the logarithm, read all but exactly, the common place is known; the group asked
    /// keeps its own scatter, 0.7 x sqrt(1/2) = 0.495. Ten groups leave the common place itself open by 0.495 / sqrt(11).
    #[test]
    fn a_group_never_seen_keeps_its_own_scatter() {
        let one = 1f64.exp();
        let mut groups = vec![vec![]];
        groups.extend(vec![boards(&vec![(0.98 * one, 1.02 * one); 40]); 10]);
        let after = together(&groups, &BEFORE).unwrap();
        // Mean: 1 x 10 / 11.
        assert!((after.place - 10.0 / 11.0).abs() < 0.03, "{after:?}");
        assert!((after.place_sd - (0.245f64 + 0.245 / 11.0).sqrt()).abs() < 0.02, "{after:?}");
    }

    #[test]
    fn its_own_boards_weigh_more_than_those_of_another() {
        let early = boards(&[(0.2, 0.4), (0.3, 0.5), (0.2, 0.5)]);
        let own = together(&[early.clone(), vec![]], &BEFORE).unwrap();
        let other = together(&[vec![], early.clone()], &BEFORE).unwrap();
        let both = together(&[early.clone(), early], &BEFORE).unwrap();
        assert!(own.place < other.place && other.place < -0.2 && both.place <= own.place + 1e-6);
        assert!(both.place_sd < own.place_sd && own.place_sd < other.place_sd && other.place_sd < 0.7);
    }

    /// `scipy` fits the same tables: a logistic law on censored numbers, with and without beliefs, and the beliefs themselves by Gauss and
    /// Hermite's rule (`reference/thresholds.py`, which wrote the expected figures). An empty figure is one that the boards leave open.
    #[test]
    fn seven_tables_as_scipy_has_them() {
        let rows = |text: &'static str| text.lines().skip(1).map(|line| line.split(',').collect::<Vec<_>>()).collect::<Vec<_>>();
        let seen = rows(include_str!("../tests/data/cracked_boards.csv"));
        let mut open = 0;
        for row in rows(include_str!("../tests/data/cracked_boards_expected.csv")) {
            let number = |at: usize| row[at].parse::<f64>().ok();
            let mut groups: Vec<Vec<Between>> = vec![Vec::new(); 4];
            for one in seen.iter().filter(|one| one[0] == row[0]) {
                let mark = |at: usize, none: f64| one[at].parse::<f64>().unwrap_or(none);
                groups[one[1].parse::<usize>().unwrap()].push(Between { low: mark(2, 0.0), high: mark(3, f64::INFINITY) });
            }
            let after = together(&groups, &BEFORE).unwrap();
            let (mean, sd, squared) = (number(6).unwrap(), number(7).unwrap(), number(8).unwrap());
            assert!((after.place - mean).abs() < 0.01 && (after.place_sd / sd - 1.0).abs() < 0.02, "{}: {after:?}", row[0]);
            assert!((after.spread_squared / squared - 1.0).abs() < 0.03, "{}: {after:?}", row[0]);
            if let (Some(place), Some(spread), Some(objective)) = (number(1), number(2), number(3)) {
                let priors = Priors { place: 0.0, place_sd: 0.7, ln_spread: BEFORE.ln_spread, ln_spread_sd: 0.5 };
                let fitted = fit_with_priors(Shape::LogLogistic, &groups[0], &priors).unwrap();
                assert!((fitted.place - place).abs() < 1e-3 && (fitted.spread / spread - 1.0).abs() < 1e-3, "{}: {fitted:?}", row[0]);
                assert!((fitted.objective - objective).abs() < 1e-4, "{}: {fitted:?}", row[0]);
                match (fit(Shape::LogLogistic, &groups[0]), number(4).zip(number(5))) {
                    (Ok(fit), Some((place, spread))) => {
                        assert!((fit.place - place).abs() < 1e-3 && (fit.spread / spread - 1.0).abs() < 2e-3, "{}: {fit:?}", row[0]);
                    }
                    (Err(NoFit::RunsOff { .. }), None) => open += 1,
                    other => panic!("{}: {other:?}", row[0]),
                }
            }
        }
        assert_eq!(open, 3, "tables that settle nothing without beliefs");
    }

    #[test]
    fn nonsense_is_refused() {
        assert_eq!(together(&[], &BEFORE), None);
        assert_eq!(together(&[boards(&[(2.0, 1.0)])], &BEFORE), None);
        assert_eq!(together(&[vec![]], &Sharing { place_sd: f64::NAN, ..BEFORE }), None);
        assert_eq!(together(&[vec![]], &Sharing { common: 1.0, ..BEFORE }), None);
    }
}
