//! The smallest chance that any result of a small comparison can have, if chance alone were at work. A comparison whose smallest is
//! large can't settle anything, whatever is seen.

/// Logarithms of the factorials 0! to n!.
fn ln_factorials(n: usize) -> Vec<f64> {
    let mut sum = 0.0;
    let mut table = vec![0.0];
    for i in 1..=n {
        sum += (i as f64).ln();
        table.push(sum);
    }
    table
}

fn ln_choose(table: &[f64], n: usize, k: usize) -> f64 {
    let at = |i: usize| table.get(i).copied().unwrap_or(0.0);
    at(n) - at(k) - at(n.saturating_sub(k))
}

/// Two groups of `a` and `b`, each member yes or no: the smallest two-sided chance by Fisher's exact rule, over all tables. The chance of
/// a table is the sum of all with the same margins that are no likelier (Fisher 1935, *The Design of Experiments*, chapter 2, for the
/// tables). 1 if a group is empty.
///
/// ```
/// // All of three against none of three: 2 of the 20 ways to pick three of six.
/// assert!((statistics::least::yes_no(3, 3) - 0.1).abs() < 1e-12);
/// ```
pub fn yes_no(a: usize, b: usize) -> f64 {
    if a == 0 || b == 0 {
        return 1.0;
    }
    let table = ln_factorials(a + b);
    let mut least: f64 = 1.0;
    for yes in 0..=a + b {
        // The chances of tables with equal margins have one peak, so the least likely one stands at an end.
        let (few, many) = (yes.saturating_sub(b), yes.min(a));
        let chance = |x: usize| (ln_choose(&table, a, x) + ln_choose(&table, b, yes - x) - ln_choose(&table, a + b, yes)).exp();
        let (left, right) = (chance(few), chance(many));
        if few == many {
            continue;
        }
        let low = left.min(right);
        // Equal up to rounding counts as no likelier.
        let both = if left.max(right) <= low * (1.0 + 1e-9) { left + right } else { low };
        least = least.min(both);
    }
    least
}

/// Two groups of `a` and `b` in any order of size without ties: the smallest two-sided chance of the exact test by ranks or by
/// exchanging means, 2 over the ways to pick `a` of all. 1 if a group is empty.
///
/// ```
/// assert!((statistics::least::ordered(3, 4) - 2.0 / 35.0).abs() < 1e-12);
/// ```
pub fn ordered(a: usize, b: usize) -> f64 {
    if a == 0 || b == 0 {
        return 1.0;
    }
    (2.0 * (-ln_choose(&ln_factorials(a + b), a + b, a)).exp()).min(1.0)
}

/// Pairs whose differences may each have either sign: the smallest two-sided chance, 2 / 2^pairs. 1 without pairs.
///
/// ```
/// assert!((statistics::least::paired(4) - 0.125).abs() < 1e-12);
/// ```
pub fn paired(pairs: usize) -> f64 {
    (2.0 * 0.5f64.powf(pairs as f64)).min(1.0)
}
