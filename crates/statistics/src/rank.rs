//! Ranks and how two columns of numbers go together.

/// Spearman's rank correlation of two columns of equal length, -1..1; 0 when either does not vary or they are shorter than 2.
/// Equal values share their mean rank (Kendall and Gibbons, *Rank Correlation Methods*, 1990, chapter 3).
///
/// ```
/// let x = [1.0, 2.0, 3.0, 4.0];
/// let y = [10.0, 100.0, 1000.0, 10000.0];
/// assert!((statistics::rank_correlation(&x, &y) - 1.0).abs() < 1e-12);
/// ```
pub fn rank_correlation(x: &[f64], y: &[f64]) -> f64 {
    if x.len() != y.len() || x.len() < 2 {
        return 0.0;
    }
    let (a, b) = (mean_ranks(x), mean_ranks(y));
    #[expect(clippy::cast_precision_loss, reason = "columns are far shorter than 2^52")]
    let mean = f64::midpoint(x.len() as f64, 1.0);
    let (mut cross, mut square_a, mut square_b) = (0.0, 0.0, 0.0);
    for (p, q) in a.iter().zip(&b) {
        cross += (p - mean) * (q - mean);
        square_a += (p - mean).powi(2);
        square_b += (q - mean).powi(2);
    }
    if square_a <= 0.0 || square_b <= 0.0 {
        return 0.0;
    }
    cross / (square_a * square_b).sqrt()
}

/// Ranks from 1 in the order of the column; equal values share their mean rank.
///
/// ```
/// assert_eq!(statistics::mean_ranks(&[7.0, 2.0, 7.0]), [2.5, 1.0, 2.5]);
/// ```
pub fn mean_ranks(values: &[f64]) -> Vec<f64> {
    let mut order: Vec<(usize, f64)> = values.iter().copied().enumerate().collect();
    order.sort_by(|a, b| a.1.total_cmp(&b.1));
    let mut out = vec![0.0; values.len()];
    let mut start = 0;
    for group in order.chunk_by(|a, b| a.1.total_cmp(&b.1).is_eq()) {
        #[expect(clippy::cast_precision_loss, reason = "columns are far shorter than 2^52")]
        let rank = start as f64 + f64::midpoint(group.len() as f64, 1.0);
        for (index, _) in group {
            if let Some(slot) = out.get_mut(*index) {
                *slot = rank;
            }
        }
        start += group.len();
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn worked_example_with_ties() {
        // By hand: ranks 1 2.5 2.5 4 5 and 1 2 3.5 5 3.5; cross products 7.25, squares 9.5 each: 7.25 / 9.5.
        let rho = rank_correlation(&[1.0, 2.0, 2.0, 3.0, 5.0], &[5.0, 6.0, 7.0, 8.0, 7.0]);
        assert!((rho - 0.763_157_894_736_842_1).abs() < 1e-12, "{rho}");
    }

    #[test]
    fn columns_that_do_not_vary_say_nothing() {
        assert!(rank_correlation(&[1.0, 1.0, 1.0], &[1.0, 2.0, 3.0]).abs() < 1e-12);
        assert!(rank_correlation(&[1.0], &[1.0]).abs() < 1e-12);
        assert!(rank_correlation(&[1.0, 2.0], &[1.0]).abs() < 1e-12);
    }
}
