//! What a count of yes among so many allows.

use statrs::function::beta::beta_reg;

/// Exact limits for a share after `yes` of `all` (Clopper and Pearson 1934) that miss it on each side with at most `(1 - level) / 2`.
/// `None` when there is nothing to count, `yes` is above `all` or `level` is not inside 0..1.
///
/// ```
/// // Three of four: 0.1941 to 0.9937 at 95 in 100 (printed in many tables of the binomial).
/// let (low, high) = statistics::limits(3, 4, 0.95).unwrap();
/// assert!((low - 0.1941).abs() < 1e-4 && (high - 0.9937).abs() < 1e-4);
/// ```
pub fn limits(yes: u32, all: u32, level: f64) -> Option<(f64, f64)> {
    if all == 0 || yes > all || !(level > 0.0 && level < 1.0) {
        return None;
    }
    let tail = (1.0 - level) / 2.0;
    let (k, n) = (f64::from(yes), f64::from(all));
    // The chance of `yes` or more at share x is the regularised beta function.
    let low = if yes == 0 { 0.0 } else { rising(|x| beta_reg(k, n - k + 1.0, x), tail) };
    let high = if yes == all { 1.0 } else { rising(|x| beta_reg(k + 1.0, n - k, x), 1.0 - tail) };
    Some((low, high))
}

/// The largest share that none of `all` still allows, one-sided 95 in 100: `1 - 0.05^(1/n)`; 1 when there is none.
///
/// ```
/// assert!((statistics::most_when_none(3) - 0.6316).abs() < 1e-4);
/// ```
pub fn most_when_none(all: u32) -> f64 {
    if all == 0 { 1.0 } else { 1.0 - 0.05f64.powf(1.0 / f64::from(all)) }
}

/// Where a function that rises over 0..1 reaches this value.
fn rising(f: impl Fn(f64) -> f64, value: f64) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if f(middle) < value {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn none_of_a_few() {
        // 1 - 0.05^(1/n), by hand: 63, 53, 45, 31, 26, 14 in 100.
        for (n, share) in [(3, 0.63), (4, 0.53), (5, 0.45), (8, 0.31), (10, 0.26), (20, 0.14)] {
            assert!((most_when_none(n) - share).abs() < 0.005, "{n}");
        }
    }

    #[test]
    fn closed_forms_at_the_ends() {
        // None of n: high = 1 - 0.025^(1/n); all of n: low = 0.025^(1/n).
        for n in [1, 3, 10] {
            let edge = 0.025f64.powf(1.0 / f64::from(n));
            let (low, high) = limits(0, n, 0.95).unwrap();
            assert!(low.abs() < 1e-12 && (high - (1.0 - edge)).abs() < 1e-12);
            let (low, high) = limits(n, n, 0.95).unwrap();
            assert!((low - edge).abs() < 1e-12 && (high - 1.0).abs() < 1e-12);
        }
        assert_eq!(limits(0, 0, 0.95), None);
        assert_eq!(limits(5, 4, 0.95), None);
    }
}
