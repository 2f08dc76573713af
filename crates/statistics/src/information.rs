//! How much rows in groups tell about the coefficients of a model.

use std::collections::BTreeMap;

use crate::columns::{Columns, ColumnsError};

/// Why there is no such number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum InformationError {
    /// Columns are tied, or there are fewer rows than columns.
    #[error("{rank} of {columns} columns are independent")]
    Tied {
        /// Independent columns.
        rank: usize,
        /// All columns.
        columns: usize,
    },
    /// Not one group a row.
    #[error("{groups} groups were named for {rows} rows")]
    Groups {
        /// Groups named.
        groups: usize,
        /// Rows.
        rows: usize,
    },
    /// The spread between groups is negative or not finite.
    #[error("the spread between groups is below 0 or no ordinary number")]
    Spread,
}

/// The natural logarithm of the determinant of X'V^-1 X, with V = I + `spread` ZZ' and Z naming the group of each row: the information
/// in rows whose groups share a random shift (Goos and Vandebroek 2001, *Journal of Quality Technology* 33). The variance within groups
/// is 1, `spread` the variance between them.
///
/// By Sherman and Morrison (1950) the inverse of V for a group of m rows is I - spread / (1 + m spread) 11'. Here rows are multiplied by
/// its root, I - (1 - 1/sqrt(1 + m spread)) / m 11', so that the determinant comes from singular values and is not squared on the way.
///
/// # Errors
/// Tied columns, groups that do not fit, a spread below 0.
///
/// ```
/// use statistics::{Columns, information};
/// let columns = Columns::new(vec![vec![1.0; 4], vec![-1.0, 1.0, -1.0, 1.0]])?;
/// // No spread: X'X = 4 I.
/// assert!((information(&columns, &[0, 0, 1, 1], 0.0)? - 16f64.ln()).abs() < 1e-12);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn information(columns: &Columns, groups: &[usize], spread: f64) -> Result<f64, InformationError> {
    if groups.len() != columns.rows() {
        return Err(InformationError::Groups { groups: groups.len(), rows: columns.rows() });
    }
    if !(spread.is_finite() && spread >= 0.0) {
        return Err(InformationError::Spread);
    }
    let rank = columns.rank();
    let tied = InformationError::Tied { rank, columns: columns.count() };
    if columns.count() == 0 || rank < columns.count() {
        return Err(tied);
    }
    let mut sizes: BTreeMap<usize, f64> = BTreeMap::new();
    for group in groups {
        *sizes.entry(*group).or_default() += 1.0;
    }
    let eased = columns.iter().map(|column| {
        let mut sums: BTreeMap<usize, f64> = BTreeMap::new();
        for (group, x) in groups.iter().zip(column) {
            *sums.entry(*group).or_default() += x;
        }
        groups
            .iter()
            .zip(column)
            .map(|(group, x)| {
                let (m, sum) = (sizes.get(group).copied().unwrap_or(1.0), sums.get(group).copied().unwrap_or(0.0));
                x - (1.0 - 1.0 / (1.0 + m * spread).sqrt()) / m * sum
            })
            .collect()
    });
    let eased = Columns::new(eased.collect()).map_err(|_: ColumnsError| tied)?;
    // The determinant of R'R, and R is triangular.
    let parts = eased.matrix().qr();
    let sum: f64 = parts.r().diagonal().iter().map(|x| x.abs().ln()).sum();
    if sum.is_finite() { Ok(2.0 * sum) } else { Err(tied) }
}
