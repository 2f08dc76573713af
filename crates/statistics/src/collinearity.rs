//! How nearly columns move together.

use crate::basis::{Basis, norm};
use crate::columns::Columns;

/// A column that lies nearer than this to what others explain is explained whole.
const TIED: f64 = 1e-9;

/// The column less its mean.
fn centred(column: &[f64]) -> Vec<f64> {
    let mean = column.iter().sum::<f64>() / column.len().max(1) as f64;
    column.iter().map(|x| x - mean).collect()
}

/// Whether anything is left of a column when its mean is gone.
fn varies(column: &[f64], centre: &[f64]) -> bool {
    norm(centre) > 1e-12 * norm(column)
}

/// Correlation of each pair, -1..1; `None` where one of the two does not vary.
///
/// ```
/// use statistics::{Columns, correlations};
/// let columns = Columns::new(vec![vec![-1.0, -1.0, 1.0, 1.0], vec![-1.0, 1.0, -1.0, 1.0]])?;
/// assert_eq!(correlations(&columns)[0][1], Some(0.0));
/// # Ok::<(), statistics::ColumnsError>(())
/// ```
pub fn correlations(columns: &Columns) -> Vec<Vec<Option<f64>>> {
    let units: Vec<Option<Vec<f64>>> = columns
        .iter()
        .map(|column| {
            let centre = centred(column);
            let length = norm(&centre);
            varies(column, &centre).then(|| centre.iter().map(|x| x / length).collect())
        })
        .collect();
    let pair = |a: &Option<Vec<f64>>, b: &Option<Vec<f64>>| -> Option<f64> {
        let (a, b) = (a.as_ref()?, b.as_ref()?);
        Some(a.iter().zip(b).map(|(x, y)| x * y).sum::<f64>().clamp(-1.0, 1.0))
    };
    units.iter().map(|a| units.iter().map(|b| pair(a, b)).collect()).collect()
}

/// How many times the doubt about each column grows because of the others: 1 / (1 - R squared) of the column on all others and a
/// constant, that is the diagonal of the inverse correlation matrix (Marquardt 1970, *Technometrics* 12). 1 means untouched; `None`
/// where the column does not vary or the others make it up whole.
pub fn inflations(columns: &Columns) -> Vec<Option<f64>> {
    let centres: Vec<Option<Vec<f64>>> = columns
        .iter()
        .map(|column| {
            let centre = centred(column);
            varies(column, &centre).then_some(centre)
        })
        .collect();
    let Ok(varying) = Columns::new(centres.iter().flatten().cloned().collect()) else { return vec![None; columns.count()] };
    if let Some(all) = inflations_of_untied(&varying) {
        let mut all = all.into_iter();
        return centres.iter().map(|centre| centre.as_ref().and_then(|_| all.next())).collect();
    }
    // Some columns are tied; the others still have a number, one by one.
    let all: Vec<&[f64]> = columns.iter().collect();
    all.iter()
        .enumerate()
        .map(|(at, column)| {
            let others = all.iter().enumerate().filter(|(other, _)| *other != at).map(|(_, other)| *other);
            inflation_beside(column, others)
        })
        .collect()
}

/// All at once for columns whose means are gone: with X = QR the diagonal of the inverse of X'X is the squared length of each row of
/// the inverse of R. `None` if columns are tied.
fn inflations_of_untied(columns: &Columns) -> Option<Vec<f64>> {
    if columns.count() == 0 || columns.rows() < columns.count() || columns.rank() < columns.count() {
        return None;
    }
    let lengths: Vec<f64> = columns.iter().map(norm).collect();
    let mut matrix = columns.matrix();
    for (mut column, length) in matrix.column_iter_mut().zip(&lengths) {
        column /= *length;
    }
    let inverse = matrix.qr().r().try_inverse()?;
    let all: Vec<f64> = inverse.row_iter().map(|row| row.norm_squared()).collect();
    all.iter().all(|times| times.is_finite()).then_some(all)
}

/// The same for one column beside the ones named. `None` as in [`inflations`].
pub fn inflation_beside<'c>(column: &[f64], others: impl IntoIterator<Item = &'c [f64]>) -> Option<f64> {
    let centre = centred(column);
    if !varies(column, &centre) {
        return None;
    }
    let mut basis = Basis::default();
    for (at, other) in others.into_iter().enumerate() {
        let apart = centred(other);
        if varies(other, &apart) {
            basis.add(at, &apart);
        }
    }
    let outside = basis.outside(&centre);
    (outside > TIED).then(|| 1.0 / outside.powi(2))
}

/// Largest over smallest singular value of the columns brought to unit length (Belsley, Kuh and Welsch 1980, *Regression
/// Diagnostics*, chapter 3). Give the constant as a column of its own. `None` if a tie is exact or there is no column.
pub fn condition(columns: &Columns) -> Option<f64> {
    if columns.count() == 0 || columns.rank() < columns.count() {
        return None;
    }
    let values = columns.singular_values();
    let largest = values.iter().copied().fold(0.0, f64::max);
    let smallest = values.iter().copied().fold(f64::INFINITY, f64::min);
    (smallest > 0.0).then(|| largest / smallest)
}
