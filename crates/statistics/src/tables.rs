//! Counts of yes and no in two groups, within strata: Fisher's exact test.

use crate::shuffle::{Exact, How, choose};

/// Yes out of all in two groups of one stratum.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Pair {
    /// Yes and all in the first group.
    pub first: (u32, u32),
    /// Yes and all in the second group.
    pub second: (u32, u32),
}

/// Two results are equally likely when their chances agree to this share (the rule of R's `fisher.test`).
const LIKE: f64 = 1.0 + 1e-7;

/// Fisher's exact test (Fisher 1935), two-sided: the chances of all results that are no likelier than the one seen are added. With
/// several strata the margins of each are held and the total of yes in the second group is judged. Counts of yes above the group's
/// size count as the size.
///
/// ```
/// use statistics::{Pair, fisher};
/// let tea = Pair { first: (3, 4), second: (1, 4) };
/// assert!((fisher(&[tea]).p - 34.0 / 70.0).abs() < 1e-12);
/// ```
pub fn fisher(strata: &[Pair]) -> Exact {
    let sizes: Vec<(usize, usize)> = strata.iter().map(|one| (one.first.1 as usize, one.second.1 as usize)).collect();
    Exact { p: two_sided(strata), least_p: least_fisher(&sizes), how: How::All }
}

/// The smallest that groups of these sizes (first, second) in each stratum can give: all yes on one side, none on the other.
///
/// ```
/// assert!((statistics::least_fisher(&[(2, 5)]) - 1.0 / 21.0).abs() < 1e-12);
/// ```
pub fn least_fisher(sizes: &[(usize, usize)]) -> f64 {
    let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    let parted: Vec<Pair> = sizes.iter().map(|&(a, b)| Pair { first: (count(a), count(a)), second: (0, count(b)) }).collect();
    two_sided(&parted)
}

fn two_sided(strata: &[Pair]) -> f64 {
    let mut chances = vec![1.0];
    let mut seen = 0usize;
    for one in strata {
        let (a, b) = (one.first.1 as usize, one.second.1 as usize);
        let second = (one.second.0 as usize).min(b);
        let yes = (one.first.0 as usize).min(a) + second;
        let least = yes.saturating_sub(a);
        let own: Vec<f64> = (least..=yes.min(b)).map(|k| hypergeometric(a, b, yes, k)).collect();
        seen += second - least;
        let mut next = vec![0.0; chances.len() + own.len() - 1];
        for (i, x) in chances.iter().enumerate() {
            for (slot, y) in next.iter_mut().skip(i).zip(&own) {
                *slot += x * y;
            }
        }
        chances = next;
    }
    let at = chances.get(seen).copied().unwrap_or(1.0);
    chances.iter().filter(|&&chance| chance <= at * LIKE).sum::<f64>().min(1.0)
}

/// Chance of `k` yes in the second group of `b`, of `yes` in all `a + b`.
fn hypergeometric(a: usize, b: usize, yes: usize, k: usize) -> f64 {
    let (of_b, of_a, all) = (choose(b, k), choose(a, yes - k), choose(a + b, yes));
    if all.is_finite() {
        return of_b * (of_a / all);
    }
    let ln = |n: usize, k: usize| statrs::function::factorial::ln_binomial(n as u64, k as u64);
    (ln(b, k) + ln(a, yes - k) - ln(a + b, yes)).exp()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn p(first: (u32, u32), second: (u32, u32)) -> f64 {
        fisher(&[Pair { first, second }]).p
    }

    #[test]
    fn tea_and_extremes() {
        // Fisher 1935: 17 of 70 in one tail for 3 right of 4; 1 of 70 for 4 of 4.
        assert!((p((3, 4), (1, 4)) - 0.485_714_285_714_285_7).abs() < 1e-12);
        assert!((p((4, 4), (0, 4)) - 2.0 / 70.0).abs() < 1e-12);
        assert!((p((0, 3), (0, 4)) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn smallest_of_every_split_by_trying_all_results() {
        // Published splits: 3 v 3 0.1, 2 v 4 1/15, 2 v 5 1/21, 3 v 4 1/35, 4 v 4 2/70, 5 v 5 2/252; here every table is tried too.
        for (a, b, least) in
            [(3, 3, 0.1), (2, 4, 1.0 / 15.0), (2, 5, 1.0 / 21.0), (3, 4, 1.0 / 35.0), (4, 4, 2.0 / 70.0), (5, 5, 2.0 / 252.0)]
        {
            let smallest = (0..=a).flat_map(|i| (0..=b).map(move |j| p((i, a), (j, b)))).fold(1.0, f64::min);
            assert!((smallest - least).abs() < 1e-12, "{a} v {b}: {smallest}");
            assert!((least_fisher(&[(a as usize, b as usize)]) - least).abs() < 1e-12);
        }
    }

    #[test]
    fn chance_to_see_a_difference() {
        // Exact sums over both binomials at 0.05 (scipy agrees): 4 boards each, 90 v 10 in 100: 0.43047; 8 each: 0.93159.
        let binomial =
            |n: u32, k: u32, p: f64| choose(n as usize, k as usize) * p.powi(k.cast_signed()) * (1.0 - p).powi((n - k).cast_signed());
        for (n, power) in [(4, 0.43047), (8, 0.93159)] {
            let sum: f64 = (0..=n)
                .flat_map(|i| (0..=n).map(move |j| (i, j)))
                .filter(|&(i, j)| p((i, n), (j, n)) <= 0.05)
                .map(|(i, j)| binomial(n, i, 0.9) * binomial(n, j, 0.1))
                .sum();
            assert!((sum - power).abs() < 1e-5, "{n}: {sum}");
        }
    }

    #[test]
    fn strata_hold_their_margins() {
        // Two days of one against one, all yes on one side: both signs of 2^2 arrangements, by hand.
        let day = Pair { first: (1, 1), second: (0, 1) };
        assert!((fisher(&[day, day]).p - 0.5).abs() < 1e-12);
        assert!((fisher(&[]).p - 1.0).abs() < 1e-12);
    }

    #[test]
    fn large_tables_stay_finite() {
        let p = p((900, 1000), (100, 1000));
        assert!((0.0..1e-100).contains(&p), "{p}");
    }

    proptest::proptest! {
        #[test]
        fn one_more_never_raises_the_least(a in 1usize..25, b in 1usize..25) {
            assert!(least_fisher(&[(a + 1, b)]) <= least_fisher(&[(a, b)]) * (1.0 + 1e-12));
        }
    }
}
