//! Columns for what was set: numbers and kinds.

/// A number on the way from the least to the most: -1 at `low`, 1 at `high`. 0 when the two are equal.
pub fn scaled(value: f64, low: f64, high: f64) -> f64 {
    let half = (high - low) / 2.0;
    if half.abs() > 0.0 { (value - f64::midpoint(low, high)) / half } else { 0.0 }
}

/// One kind of `kinds` as a row of `kinds - 1` contrasts that sum to nothing over all kinds.
///
/// Two kinds: -1 for the first, 1 for the second. More: contrast *j* is 1 for kind *j*, -1 for the last kind, 0 for the others, so that
/// an effect is the distance of a kind from the mean of all (Chambers and Hastie, *Statistical Models in S*, 1992, section 2.3.2).
/// Empty for fewer than two kinds.
///
/// ```
/// use statistics::coding::contrasts;
/// assert_eq!(contrasts(0, 2), [-1.0]);
/// assert_eq!(contrasts(1, 3), [0.0, 1.0]);
/// assert_eq!(contrasts(2, 3), [-1.0, -1.0]);
/// ```
pub fn contrasts(kind: usize, kinds: usize) -> Vec<f64> {
    match kinds {
        0 | 1 => Vec::new(),
        2 => vec![if kind == 0 { -1.0 } else { 1.0 }],
        _ if kind + 1 == kinds => vec![-1.0; kinds - 1],
        _ => (0..kinds - 1).map(|j| if j == kind { 1.0 } else { 0.0 }).collect(),
    }
}
