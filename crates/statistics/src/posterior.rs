//! What is believed of place and spread after numbers were seen between marks, on a grid.

use crate::between::{Between, Gathered, Priors, Shape, share_below};

/// Steps of the grid in place and in the logarithm of the spread.
const PLACES: usize = 141;
const SPREADS: usize = 57;
/// How far the grid reaches on either side of the beliefs: beyond it lies less than a thousandth of them.
const PLACE_REACH: f64 = 3.29;
const SPREAD_REACH: f64 = 4.9;

/// Beliefs about a bell-shaped logarithm, integrated on a grid.
#[derive(Debug, Clone, PartialEq)]
pub struct Posterior {
    /// Place and its weight; weights add to 1.
    places: Vec<(f64, f64)>,
    /// Place, spread and weight of every cell that matters.
    cells: Vec<(f64, f64, f64)>,
}

impl Posterior {
    /// Beliefs after `seen`; without any they are the priors. `None` when marks are out of order or a prior is not positive.
    ///
    /// ```
    /// use statistics::{Between, Posterior, Priors};
    /// let before = Priors { place: 200f64.ln(), place_sd: 0.7, ln_spread: 0.35f64.ln(), ln_spread_sd: 0.5 };
    /// let after = Posterior::of(&[Between { low: 240.0, high: 300.0 }], &before).unwrap();
    /// assert!(after.median_at(0.5) > 220.0);
    /// ```
    pub fn of(seen: &[Between], priors: &Priors) -> Option<Self> {
        let gathered = if seen.is_empty() { None } else { Some(Gathered::of(seen)?) };
        let sound = [priors.place, priors.ln_spread].iter().all(|x| x.is_finite()) && priors.place_sd > 0.0 && priors.ln_spread_sd > 0.0;
        if !sound || !priors.place_sd.is_finite() || !priors.ln_spread_sd.is_finite() {
            return None;
        }
        let even = |count: usize, index: usize, reach: f64| reach * (2.0 * index as f64 / (count - 1) as f64 - 1.0);
        let mut cells = Vec::with_capacity(PLACES * SPREADS);
        for i in 0..PLACES {
            let a = even(PLACES, i, PLACE_REACH);
            let place = priors.place + a * priors.place_sd;
            for j in 0..SPREADS {
                let b = even(SPREADS, j, SPREAD_REACH);
                let spread = (priors.ln_spread + b * priors.ln_spread_sd).exp();
                let likelihood = gathered.as_ref().map_or(0.0, |seen| seen.log_likelihood(Shape::LogNormal, place, spread));
                cells.push((place, spread, likelihood - f64::midpoint(a * a, b * b)));
            }
        }
        let top = cells.iter().map(|cell| cell.2).fold(f64::NEG_INFINITY, f64::max);
        for cell in &mut cells {
            cell.2 = (cell.2 - top).exp();
        }
        let all: f64 = cells.iter().map(|cell| cell.2).sum();
        for cell in &mut cells {
            cell.2 /= all;
        }
        let places = cells.chunks(SPREADS).filter_map(|row| Some((row.first()?.0, row.iter().map(|cell| cell.2).sum()))).collect();
        cells.retain(|cell| cell.2 > 1e-9);
        Some(Self { places, cells })
    }

    /// The median that this share of the beliefs lies below.
    pub fn median_at(&self, share: f64) -> f64 {
        let step = self.step();
        let mut below = 0.0;
        for &(place, weight) in &self.places {
            if weight > 0.0 && below + weight >= share {
                return (place + step * ((share - below) / weight - 0.5)).exp();
            }
            below += weight;
        }
        self.places.last().map_or(f64::NAN, |last| last.0.exp())
    }

    /// Chance that a new one lies below `value`.
    pub fn new_below(&self, value: f64) -> f64 {
        if value <= 0.0 {
            return 0.0;
        }
        let ln = value.ln();
        self.cells.iter().map(|&(place, spread, weight)| weight * share_below((ln - place) / spread)).sum()
    }

    /// Chance that this median lies above the other one.
    pub fn above(&self, other: &Self) -> f64 {
        let width = f64::midpoint(self.step(), other.step());
        let mut chance = 0.0;
        for &(mine, a) in &self.places {
            for &(theirs, b) in &other.places {
                // Cells that overlap share their weight.
                chance += a * b * ((mine - theirs) / width + 0.5).clamp(0.0, 1.0);
            }
        }
        chance
    }

    /// What these shares of the beliefs about "this median less the other" lie below.
    pub fn difference(&self, other: &Self, shares: [f64; 2]) -> [f64; 2] {
        let worth = |side: &Self| side.places.iter().filter(|one| one.1 > 1e-7).map(|one| (one.0.exp(), one.1)).collect::<Vec<_>>();
        let (mine, theirs) = (worth(self), worth(other));
        let mut pairs: Vec<(f64, f64)> = mine.iter().flat_map(|&(x, a)| theirs.iter().map(move |&(y, b)| (x - y, a * b))).collect();
        pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
        let all: f64 = pairs.iter().map(|pair| pair.1).sum();
        shares.map(|share| {
            let mut below = 0.0;
            for &(value, weight) in &pairs {
                below += weight;
                if below >= share * all {
                    return value;
                }
            }
            f64::NAN
        })
    }

    fn step(&self) -> f64 {
        match self.places.as_slice() {
            [a, b, ..] => b.0 - a.0,
            _ => 0.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::between::tests::{A, B, C, marks, priors};

    #[test]
    fn stairs_on_the_grid() {
        // Grid of ln 20..ln 2000 by ln 0.03..ln 4, made with other code: 10, 50, 90 in 100 of the median; a new board at 180.
        let expected = [(A, [167.8, 204.8, 248.3], 0.336), (B, [76.3, 103.9, 144.8], 0.838), (C, [286.0, 366.0, 520.0], 0.048)];
        let mut all = Vec::new();
        for (seen, medians, new) in expected {
            let after = Posterior::of(&marks(&seen), &priors()).unwrap();
            for (share, median) in [0.1, 0.5, 0.9].into_iter().zip(medians) {
                assert!((after.median_at(share) / median - 1.0).abs() < 0.01, "{share}: {}", after.median_at(share));
            }
            assert!((after.new_below(180.0) - new).abs() < 0.003, "{}", after.new_below(180.0));
            all.push(after);
        }
        assert!((all[0].above(&all[1]) - 0.980).abs() < 0.001, "{}", all[0].above(&all[1]));
        let [low, high] = all[0].difference(&all[1], [0.1, 0.9]);
        assert!(low > 0.0 && low < 205.0 - 104.0 && high > 205.0 - 104.0);
    }

    #[test]
    fn nothing_seen_leaves_the_beliefs() {
        let before = Posterior::of(&[], &priors()).unwrap();
        assert!((before.median_at(0.5) / 200.0 - 1.0).abs() < 1e-3);
        // The tenth part of a bell curve lies 1.2816 below its middle.
        assert!((before.median_at(0.1).ln() - (200f64.ln() - 0.7 * 1.281_55)).abs() < 0.01);
        assert!((before.above(&before) - 0.5).abs() < 1e-9);
    }
}
