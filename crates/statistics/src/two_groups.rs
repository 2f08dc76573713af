//! Yes or no in two groups: beliefs about the difference, by quadrature.

use std::cmp::Ordering;

/// Beliefs after `yes` of `all` in two groups, from bell-shaped priors about 0 for the log-odds of the first group and for the
/// difference of the second from it (Gelman and others 2008 for the idea of weak priors; the bell shape keeps parted groups finite).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TwoGroups {
    /// Mean of the difference in log-odds.
    pub mean: f64,
    /// Its standard deviation.
    pub deviation: f64,
    /// Chance that the second group's share is the higher.
    pub second_higher: f64,
    /// Chance of yes for one more of the first group, and of the second.
    pub next: [f64; 2],
    /// One in ten and nine in ten of the beliefs about "share of the second less share of the first" lie below these.
    pub difference: [f64; 2],
}

/// Cells on either side of 0, and how many prior deviations they reach.
const HALF: usize = 130;
const REACH: f64 = 5.0;
const BINS: usize = 4000;

impl TwoGroups {
    /// `None` when a group is empty, has more yes than all, or the prior's deviation is not positive.
    ///
    /// ```
    /// let parted = statistics::TwoGroups::of((0, 4), (4, 4), 2.5).unwrap();
    /// assert!((parted.second_higher - 0.996).abs() < 1e-3);
    /// ```
    pub fn of(first: (u32, u32), second: (u32, u32), prior: f64) -> Option<Self> {
        let sound = |group: (u32, u32)| group.1 > 0 && group.0 <= group.1;
        if !(sound(first) && sound(second) && prior > 0.0 && prior.is_finite()) {
            return None;
        }
        let step = REACH * prior / HALF as f64;
        let grid = |half: usize| (0..=2 * half).map(move |i| (i as f64 - half as f64) * step);
        let bell = |x: f64| -(x / prior).powi(2) / 2.0;
        let weigh = |ln: Vec<f64>| {
            let top = ln.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            ln.into_iter().map(|x| (x - top).exp()).collect::<Vec<f64>>()
        };
        let base = weigh(grid(HALF).map(|x| bell(x) + log_likelihood(first, x)).collect());
        let shift = weigh(grid(HALF).map(bell).collect());
        let odds: Vec<f64> = grid(2 * HALF).collect();
        let other = weigh(odds.iter().map(|&x| log_likelihood(second, x)).collect());
        let shares: Vec<f64> = odds.iter().map(|&x| share(x)).collect();
        let (mut all, mut sum, mut square, mut higher) = (0.0, 0.0, 0.0, 0.0);
        let mut next = [0.0; 2];
        // How the weight of a bin differs from the bin before.
        let mut rise = vec![0.0; BINS + 2];
        for (i, (&a, &p)) in base.iter().zip(shares.iter().skip(HALF)).enumerate() {
            let reached = other.iter().zip(&shares).skip(i);
            for (j, (&b, (&l, &q))) in shift.iter().zip(reached).enumerate() {
                let weight = a * b * l;
                let d = (j as f64 - HALF as f64) * step;
                all += weight;
                sum += weight * d;
                square += weight * d * d;
                higher += weight
                    * match j.cmp(&HALF) {
                        Ordering::Less => 0.0,
                        Ordering::Equal => 0.5,
                        Ordering::Greater => 1.0,
                    };
                let [first, second] = &mut next;
                *first += weight * p;
                *second += weight * q;
                // A cell stands for all differences between its edges, not for the one in its middle.
                let half = q * (1.0 - q) * step / 2.0;
                let (start, end) = (bin(q - p - half), bin(q - p + half) + 1);
                let part = weight / (end - start) as f64;
                for (at, change) in [(start, part), (end, -part)] {
                    if let Some(slot) = rise.get_mut(at) {
                        *slot += change;
                    }
                }
            }
        }
        let mean = sum / all;
        let at = |wanted: f64| {
            let (mut weight, mut below) = (0.0, 0.0);
            let found = rise.iter().position(|change| {
                weight += change;
                below += weight;
                below >= wanted * all
            });
            found.map_or(1.0, |bin| 2.0 * bin as f64 / BINS as f64 - 1.0)
        };
        Some(Self {
            mean,
            deviation: (square / all - mean * mean).max(0.0).sqrt(),
            second_higher: higher / all,
            next: next.map(|sum| sum / all),
            difference: [at(0.1), at(0.9)],
        })
    }
}

/// Bin of a difference of shares.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held to 0..=BINS")]
fn bin(difference: f64) -> usize {
    (f64::midpoint(difference, 1.0) * BINS as f64).round().clamp(0.0, BINS as f64) as usize
}

fn share(log_odds: f64) -> f64 {
    1.0 / (1.0 + (-log_odds).exp())
}

fn log_likelihood((yes, all): (u32, u32), log_odds: f64) -> f64 {
    // ln(1 + e^x) without overflow.
    let log_sum = log_odds.max(0.0) + (-log_odds.abs()).exp().ln_1p();
    f64::from(yes) * log_odds - f64::from(all) * log_sum
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn by_quadrature_elsewhere() {
        // Adaptive quadrature of the same integrals.
        for (first, second, mean, deviation, higher, next) in [
            ((0, 4), (4, 4), 3.845_736, 1.599_844, 0.996_024, [0.217_168, 0.846_171]),
            ((1, 5), (4, 5), 2.201_332, 1.288_950, 0.962_446, [0.302_105, 0.729_557]),
        ] {
            let told = TwoGroups::of(first, second, 2.5).unwrap();
            assert!((told.mean - mean).abs() < 1e-4 && (told.deviation - deviation).abs() < 1e-4, "{told:?}");
            assert!((told.second_higher - higher).abs() < 1e-4, "{told:?}");
            assert!(told.next.iter().zip(next).all(|(a, b)| (a - b).abs() < 1e-4), "{told:?}");
            assert!(told.difference[0] > 0.0 && told.difference[1] < 1.0);
        }
    }

    #[test]
    fn sides_can_be_swapped_where_nothing_differs() {
        let same = TwoGroups::of((2, 4), (2, 4), 2.5).unwrap();
        assert!((same.second_higher - 0.5).abs() < 1e-9, "{same:?}");
        assert_eq!(TwoGroups::of((0, 0), (1, 2), 2.5), None);
        assert_eq!(TwoGroups::of((3, 2), (1, 2), 2.5), None);
    }
}
