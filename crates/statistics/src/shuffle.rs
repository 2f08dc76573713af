//! Exact tests by shuffling labels inside strata: every arrangement where there are few, a seeded sample beyond.

use crate::rank::mean_ranks;

/// Two groups of numbers inside one stratum; labels are shuffled within it only.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Stratum {
    /// Values of the first group.
    pub first: Vec<f64>,
    /// Values of the second group.
    pub second: Vec<f64>,
}

/// When to stop listing every arrangement, and how to sample then.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sampling {
    /// Most arrangements that are all listed.
    pub most: u32,
    /// Most random arrangements drawn beyond that; fewer when enough are as far out (Besag and Clifford 1991).
    pub draws: u32,
    /// Seed of the sample: the same seed gives the same sample.
    pub seed: u64,
}

/// How the arrangements were gone through.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum How {
    /// All of them.
    All,
    /// So many random ones from this seed.
    Sample {
        /// Arrangements drawn.
        draws: u32,
        /// Their seed.
        seed: u64,
    },
}

/// What an exact test gives.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Exact {
    /// Two-sided share of the arrangements that are at least as far out, 0..1.
    pub p: f64,
    /// The smallest that these group sizes can give with any result.
    pub least_p: f64,
    /// All or a sample.
    pub how: How,
}

/// So many arrangements as far out fix the share to a twentieth of itself, and the sample ends (Besag and Clifford 1991).
const ENOUGH: u32 = 400;

/// Shuffles labels within strata and compares the second group's sum with the one seen; two-sided by doubling the smaller side
/// (Pitman 1937). Within one stratum that is the difference of the means. Not finite values are not allowed for; an empty list of
/// strata has one arrangement, p = 1.
///
/// ```
/// use statistics::{Sampling, Stratum, shuffled};
/// let ratings = Stratum { first: vec![1.0, 2.0, 2.0, 3.0], second: vec![3.0, 4.0, 4.0, 5.0] };
/// let exact = shuffled(&[ratings], Sampling { most: 200_000, draws: 20_000, seed: 1 });
/// assert!((exact.p - 4.0 / 70.0).abs() < 1e-12);
/// ```
pub fn shuffled(strata: &[Stratum], sampling: Sampling) -> Exact {
    let strata = canonical(strata);
    let sizes: Vec<(usize, usize)> = strata.iter().map(|one| (one.others, one.chosen)).collect();
    let least_p = least_shuffled(&sizes);
    let seen: f64 = strata.iter().map(|one| one.seen).sum();
    let scale: f64 = strata.iter().flat_map(|one| &one.values).map(|value| value.abs()).sum();
    let slack = 1e-12 * scale;
    let (mut above, mut below) = (0u32, 0u32);
    if arrangements(&sizes) <= f64::from(sampling.most) {
        let mut sums = vec![0.0];
        for one in &strata {
            let mut own = Vec::new();
            subset_sums(&one.values, one.chosen, 0.0, &mut own);
            sums = sums.iter().flat_map(|sum| own.iter().map(move |more| sum + more)).collect();
        }
        for sum in &sums {
            above += u32::from(*sum >= seen - slack);
            below += u32::from(*sum <= seen + slack);
        }
        let p = 2.0 * f64::from(above.min(below)) / sums.len() as f64;
        return Exact { p: p.min(1.0), least_p, how: How::All };
    }
    let mut chance = Chance(sampling.seed);
    let mut strata = strata;
    let mut drawn = 0;
    while drawn < sampling.draws && above.min(below) < ENOUGH {
        drawn += 1;
        let mut sum = 0.0;
        for one in &mut strata {
            for at in 0..one.chosen {
                let other = at + chance.below(one.values.len() - at);
                one.values.swap(at, other);
                sum += one.values.get(at).copied().unwrap_or(0.0);
            }
        }
        above += u32::from(sum >= seen - slack);
        below += u32::from(sum <= seen + slack);
    }
    let p = 2.0 * (1.0 + f64::from(above.min(below))) / (1.0 + f64::from(drawn));
    Exact { p: p.min(1.0), least_p, how: How::Sample { draws: drawn, seed: sampling.seed } }
}

/// The rank-sum test of Mann and Whitney (1947) with mean ranks for equal values, labels shuffled within strata; ranks are taken
/// over all strata together.
pub fn mann_whitney(strata: &[Stratum], sampling: Sampling) -> Exact {
    let all: Vec<f64> = strata.iter().flat_map(|one| one.first.iter().chain(&one.second)).copied().collect();
    let mut ranks = mean_ranks(&all).into_iter();
    let ranked: Vec<Stratum> = strata
        .iter()
        .map(|one| Stratum {
            first: ranks.by_ref().take(one.first.len()).collect(),
            second: ranks.by_ref().take(one.second.len()).collect(),
        })
        .collect();
    shuffled(&ranked, sampling)
}

/// Changes the signs of paired differences in every way and compares the sums (Fisher 1935, *The Design of Experiments*).
///
/// ```
/// use statistics::{Sampling, sign_changes};
/// let exact = sign_changes(&[-0.9, -0.8, -0.5, -0.5], Sampling { most: 200_000, draws: 20_000, seed: 1 });
/// assert!((exact.p - 2.0 / 16.0).abs() < 1e-12);
/// ```
pub fn sign_changes(differences: &[f64], sampling: Sampling) -> Exact {
    let strata: Vec<Stratum> = differences.iter().map(|&one| Stratum { first: vec![0.0], second: vec![one] }).collect();
    shuffled(&strata, sampling)
}

/// The smallest two-sided share that groups of these sizes (first, second) in each stratum can give when no values are equal.
///
/// ```
/// assert!((statistics::least_shuffled(&[(3, 4)]) - 2.0 / 35.0).abs() < 1e-12);
/// ```
pub fn least_shuffled(sizes: &[(usize, usize)]) -> f64 {
    (2.0 / arrangements(sizes)).min(1.0)
}

/// Number of ways to hand out the labels; infinite when it is beyond all floating numbers.
fn arrangements(sizes: &[(usize, usize)]) -> f64 {
    sizes.iter().map(|&(a, b)| choose(a + b, b)).product()
}

pub(crate) fn choose(n: usize, k: usize) -> f64 {
    let k = k.min(n - k.min(n));
    (0..k).fold(1.0, |ways: f64, i| ways * (n - i) as f64 / (i + 1) as f64).round()
}

/// A stratum in an order that depends on its numbers alone, with the smaller group as the one that is chosen.
struct Ordered {
    values: Vec<f64>,
    chosen: usize,
    others: usize,
    seen: f64,
}

fn canonical(strata: &[Stratum]) -> Vec<Ordered> {
    let mut ordered: Vec<Ordered> = strata
        .iter()
        .filter(|one| !one.first.is_empty() && !one.second.is_empty())
        .map(|one| {
            let mut values: Vec<f64> = one.first.iter().chain(&one.second).copied().collect();
            values.sort_by(f64::total_cmp);
            // Sums are centred so that choosing the complement only turns the sign, which is turned back here.
            let mean = values.iter().sum::<f64>() / values.len() as f64;
            let turned = one.first.len() < one.second.len();
            let small = if turned { &one.first } else { &one.second };
            let sign = if turned { -1.0 } else { 1.0 };
            let seen = small.iter().map(|value| sign * (value - mean)).sum();
            let values = values.iter().map(|value| sign * (value - mean)).collect();
            Ordered { values, chosen: small.len(), others: one.first.len().max(one.second.len()), seen }
        })
        .collect();
    ordered.sort_by(|a, b| {
        let sizes = (a.chosen, a.others).cmp(&(b.chosen, b.others));
        let values = || a.values.iter().zip(&b.values).map(|(x, y)| x.total_cmp(y)).find(|order| order.is_ne());
        sizes.then_with(|| values().unwrap_or(std::cmp::Ordering::Equal))
    });
    ordered
}

/// Sums of all subsets of this size. The depth is the smaller group's size, a few dozen at most where all are listed.
fn subset_sums(values: &[f64], size: usize, sum: f64, out: &mut Vec<f64>) {
    if size == 0 {
        out.push(sum);
        return;
    }
    for at in 0..=values.len().saturating_sub(size) {
        if let Some((first, rest)) = values.get(at..).and_then(<[f64]>::split_first) {
            subset_sums(rest, size - 1, sum + first, out);
        }
    }
}

/// Numbers by chance from a seed (Steele, Lea and Flood 2014).
struct Chance(u64);

impl Chance {
    fn below(&mut self, bound: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^= z >> 31;
        // The high half of the product is even to within bound / 2^64.
        usize::try_from((u128::from(z) * bound as u128) >> 64).unwrap_or(0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ALL: Sampling = Sampling { most: 200_000, draws: 20_000, seed: 7 };

    fn one(first: &[f64], second: &[f64]) -> Vec<Stratum> {
        vec![Stratum { first: first.to_vec(), second: second.to_vec() }]
    }

    #[test]
    fn stairs_by_hand_enumeration() {
        // First cracked strips of three recipes, none = 6; all 70 splits enumerated: 6, 4 and 2 of them.
        let (a, b, c) = ([3.0, 4.0, 4.0, 5.0], [1.0, 2.0, 3.0, 3.0], [5.0, 6.0, 6.0, 6.0]);
        for (x, y, hits) in [(a, b, 6.0), (a, c, 4.0), (b, c, 2.0)] {
            assert!((shuffled(&one(&x, &y), ALL).p - hits / 70.0).abs() < 1e-12);
        }
    }

    #[test]
    fn darwins_maize() {
        // Fisher 1935, The Design of Experiments: 863 of 32,768 in one tail.
        let differences = [49.0, -67.0, 8.0, 16.0, 6.0, 23.0, 28.0, 41.0, 14.0, 29.0, 56.0, 24.0, 75.0, 60.0, -48.0];
        let exact = sign_changes(&differences, ALL);
        assert!((exact.p - 1726.0 / 32768.0).abs() < 1e-12, "{exact:?}");
        assert_eq!(exact.how, How::All);
        // The sample lands within four of its own standard errors.
        let sample = sign_changes(&differences, Sampling { most: 10, ..ALL });
        assert!((sample.p - exact.p).abs() < 4.0 * 2.0 * (0.0263f64 * 0.9737 / 20_000.0).sqrt(), "{sample:?}");
    }

    #[test]
    fn pairs_of_a_crossed_day() {
        // Differences -0.3, -0.4, 0.1, -0.1: six of sixteen sign changes are as far out (listed by hand).
        assert!((sign_changes(&[-0.3, -0.4, 0.1, -0.1], ALL).p - 6.0 / 16.0).abs() < 1e-12);
    }

    #[test]
    fn smallest_that_ranks_can_give() {
        // 2 / C(a + b, a).
        for (a, b, least) in [(3, 3, 0.1), (3, 4, 2.0 / 35.0), (2, 5, 2.0 / 21.0), (4, 4, 2.0 / 70.0), (2, 2, 1.0 / 3.0)] {
            assert!((least_shuffled(&[(a, b)]) - least).abs() < 1e-12);
            let low: Vec<f64> = (0u8..).map(f64::from).take(a).collect();
            let high: Vec<f64> = (100u8..).map(f64::from).take(b).collect();
            assert!((mann_whitney(&one(&low, &high), ALL).p - least).abs() < 1e-12);
        }
    }

    proptest::proptest! {
        #[test]
        fn order_and_side_do_not_matter(mut x in proptest::collection::vec(-50i8..50, 1..6), y in proptest::collection::vec(-50i8..50, 1..6)) {
            let floats = |list: &[i8]| list.iter().copied().map(f64::from).collect::<Vec<_>>();
            let p = shuffled(&one(&floats(&x), &floats(&y)), ALL).p;
            x.reverse();
            assert!((shuffled(&one(&floats(&x), &floats(&y)), ALL).p - p).abs() < 1e-12);
            assert!((shuffled(&one(&floats(&y), &floats(&x)), ALL).p - p).abs() < 1e-12);
            assert!(p > 0.0 && p <= 1.0);
        }

        #[test]
        fn one_more_never_raises_the_least(a in 1usize..30, b in 1usize..30) {
            assert!(least_shuffled(&[(a + 1, b)]) <= least_shuffled(&[(a, b)]) + 1e-15);
        }
    }
}
