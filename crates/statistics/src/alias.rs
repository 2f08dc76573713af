//! What was left out, and where it shows.

use crate::columns::Columns;

/// What each left-out column adds to the estimate of each column in the model: A = (X1'X1)^-1 X1'X2 (Box and Wilson 1951, *Journal of
/// the Royal Statistical Society B* 13). One row a column of `model`, one entry a column of `left_out`.
///
/// `None` if the model's columns are tied, there are none, or the two differ in length.
///
/// ```
/// use statistics::{Columns, aliases};
/// // Half of the eight corners, the third set like the product of the first two: that product shows up in the third.
/// let model = Columns::new(vec![vec![1.0; 4], vec![-1.0, 1.0, -1.0, 1.0], vec![-1.0, -1.0, 1.0, 1.0], vec![1.0, -1.0, -1.0, 1.0]])?;
/// let product = Columns::new(vec![vec![1.0, -1.0, -1.0, 1.0]])?;
/// let shows = aliases(&model, &product).ok_or("tied")?;
/// assert!((shows[3][0] - 1.0).abs() < 1e-12 && shows[1][0].abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn aliases(model: &Columns, left_out: &Columns) -> Option<Vec<Vec<f64>>> {
    if model.count() == 0 || model.rows() < model.count() || model.rank() < model.count() {
        return None;
    }
    if left_out.count() == 0 {
        return Some(vec![Vec::new(); model.count()]);
    }
    if left_out.rows() != model.rows() {
        return None;
    }
    let parts = model.matrix().qr();
    let turned = parts.q().transpose() * left_out.matrix();
    let solved = parts.r().solve_upper_triangular(&turned)?;
    Some(solved.row_iter().map(|row| row.iter().copied().collect()).collect())
}
