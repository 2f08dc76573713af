//! Least squares by Householder's QR, and columns that other columns make up.

use nalgebra::{DMatrix, DVector};
use statrs::distribution::{ContinuousCDF, StudentsT};

/// A pivot below this share of its column counts as none.
const FLAT: f64 = 1e-10;

/// Coefficients with their scatter.
#[derive(Debug, Clone, PartialEq)]
pub struct LeastSquares {
    /// One a column.
    pub coefficients: Vec<f64>,
    /// Rows less columns.
    pub degrees: usize,
    /// Standard deviation of what is left; `None` without a degree of freedom.
    pub residual: Option<f64>,
    unscaled: DMatrix<f64>,
}

/// Why there is no fit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum NoLine {
    /// Lengths differ, nothing is there, or a number is not finite.
    #[error("columns and results must be of one length and finite")]
    Shape,
    /// Fewer rows than columns, or a column that others make up.
    #[error("the columns can't be told apart by these rows")]
    Tangled,
}

/// Fits `results` by a sum of `columns` (give a column of ones for a constant).
///
/// # Errors
/// [`NoLine`] when lengths do not fit or the columns do not part.
///
/// ```
/// let line = statistics::least_squares(&[vec![1.0; 3], vec![0.0, 1.0, 2.0]], &[1.0, 3.0, 5.0])?;
/// assert!((line.coefficients[1] - 2.0).abs() < 1e-12);
/// # Ok::<(), statistics::NoLine>(())
/// ```
pub fn least_squares(columns: &[Vec<f64>], results: &[f64]) -> Result<LeastSquares, NoLine> {
    let (rows, width) = (results.len(), columns.len());
    let finite = columns.iter().flatten().chain(results).all(|x| x.is_finite());
    if rows == 0 || width == 0 || !finite || columns.iter().any(|column| column.len() != rows) {
        return Err(NoLine::Shape);
    }
    if rows < width {
        return Err(NoLine::Tangled);
    }
    let lengths: Vec<f64> = columns.iter().map(|column| column.iter().map(|x| x * x).sum::<f64>().sqrt()).collect();
    if lengths.iter().any(|&length| length <= 0.0) {
        return Err(NoLine::Tangled);
    }
    let scaled = columns.iter().zip(&lengths).flat_map(|(column, length)| column.iter().map(move |x| x / length));
    let matrix = DMatrix::from_iterator(rows, width, scaled);
    let qr = matrix.clone().qr();
    let r = qr.r();
    if r.diagonal().iter().any(|pivot| pivot.abs() < FLAT) {
        return Err(NoLine::Tangled);
    }
    let y = DVector::from_column_slice(results);
    let turned = qr.q().transpose() * &y;
    let solution = r.solve_upper_triangular(&turned).ok_or(NoLine::Tangled)?;
    let left = (&y - &matrix * &solution).norm_squared();
    let inverse = r.solve_upper_triangular(&DMatrix::identity(width, width)).ok_or(NoLine::Tangled)?;
    let scale = DMatrix::from_diagonal(&DVector::from_iterator(width, lengths.iter().map(|length| 1.0 / length)));
    let degrees = rows - width;
    Ok(LeastSquares {
        coefficients: solution.iter().zip(&lengths).map(|(value, length)| value / length).collect(),
        degrees,
        residual: (degrees > 0).then(|| (left / degrees as f64).sqrt()),
        unscaled: &scale * (&inverse * inverse.transpose()) * &scale,
    })
}

impl LeastSquares {
    /// Value of a weighted sum of the coefficients; missing weights are 0.
    pub fn contrast(&self, weights: &[f64]) -> f64 {
        self.coefficients.iter().zip(weights).map(|(a, b)| a * b).sum()
    }

    /// Standard error of a weighted sum of the coefficients; `None` without a degree of freedom.
    pub fn error(&self, weights: &[f64]) -> Option<f64> {
        let width = self.coefficients.len();
        let c = DVector::from_iterator(width, weights.iter().copied().chain(std::iter::repeat(0.0)).take(width));
        let spread = (c.transpose() * &self.unscaled * &c).sum();
        self.residual.map(|residual| residual * spread.max(0.0).sqrt())
    }

    /// Half the width of the range that holds the sum with this chance (Student 1908); `None` without a degree of freedom.
    pub fn half_width(&self, weights: &[f64], level: f64) -> Option<f64> {
        let curve = StudentsT::new(0.0, 1.0, self.degrees as f64).ok()?;
        Some(self.error(weights)? * curve.inverse_cdf(f64::midpoint(1.0, level.clamp(0.0, 0.999_999))))
    }

    /// Chance that the sum is above 0, when nothing was believed before; `None` without a degree of freedom or scatter.
    pub fn chance_above(&self, weights: &[f64]) -> Option<f64> {
        let error = self.error(weights).filter(|error| *error > 0.0)?;
        let curve = StudentsT::new(0.0, 1.0, self.degrees as f64).ok()?;
        Some(curve.cdf(self.contrast(weights) / error))
    }
}

/// A column that earlier columns make up.
#[derive(Debug, Clone, PartialEq)]
pub struct Dependent {
    /// Its place.
    pub column: usize,
    /// The earlier columns that make it up, with their weights.
    pub made_of: Vec<(usize, f64)>,
}

/// Every column that the columns before it make up exactly. Columns of other lengths than the first are skipped.
pub fn dependent_columns(columns: &[Vec<f64>]) -> Vec<Dependent> {
    let rows = columns.first().map_or(0, Vec::len);
    let mut kept: Vec<usize> = Vec::new();
    let mut basis: Vec<DVector<f64>> = Vec::new();
    let mut found = Vec::new();
    for (index, column) in columns.iter().enumerate().filter(|(_, column)| column.len() == rows && rows > 0) {
        let own = DVector::from_column_slice(column);
        let mut left = own.clone();
        // Twice is enough (Kahan, in Parlett 1980).
        for _ in 0..2 {
            for unit in &basis {
                left -= unit * unit.dot(&left);
            }
        }
        if left.norm() > FLAT.sqrt() * own.norm().max(f64::MIN_POSITIVE) {
            kept.push(index);
            basis.push(left.normalize());
            continue;
        }
        let before: Vec<Vec<f64>> = kept.iter().filter_map(|&at| columns.get(at).cloned()).collect();
        let weights = least_squares(&before, column).map(|fit| fit.coefficients).unwrap_or_default();
        let made_of = kept.iter().copied().zip(weights).filter(|(_, weight)| weight.abs() > 1e-8).collect();
        found.push(Dependent { column: index, made_of });
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn crossed_day_by_hand() {
        // Two powders x two binder amounts in two sittings; effects are half sums by hand, s^2 = 0.01375 / 3.
        let y = [5.5, 5.2, 4.6, 4.7, 5.7, 5.3, 4.9, 4.8];
        let p = [-1.0, 1.0, -1.0, 1.0, -1.0, 1.0, -1.0, 1.0];
        let b = [-1.0, -1.0, 1.0, 1.0, -1.0, -1.0, 1.0, 1.0];
        let s = [-1.0, -1.0, -1.0, -1.0, 1.0, 1.0, 1.0, 1.0];
        let pb: Vec<f64> = p.iter().zip(&b).map(|(x, y)| x * y).collect();
        let columns = [vec![1.0; 8], p.to_vec(), b.to_vec(), pb, s.to_vec()];
        let fit = least_squares(&columns, &y).unwrap();
        for (column, effect) in [(1, -0.175), (2, -0.675), (3, 0.175), (4, 0.175)] {
            let mut weights = [0.0; 5];
            weights[column] = 2.0;
            assert!((fit.contrast(&weights) - effect).abs() < 1e-12);
            assert!((fit.error(&weights).unwrap() - 0.047_871).abs() < 1e-6);
            assert!((fit.half_width(&weights, 0.95).unwrap() - 0.152_348).abs() < 1e-6);
        }
        assert!((fit.coefficients[0] - 5.0875).abs() < 1e-12 && (fit.residual.unwrap() - 0.067_700).abs() < 1e-6);
    }

    #[test]
    fn binder_that_moves_with_the_sitting() {
        let p = vec![-1.0, 1.0, -1.0, 1.0];
        let b = vec![-1.0, -1.0, 1.0, 1.0];
        let s = vec![0.0, 0.0, 1.0, 1.0];
        let columns = [vec![1.0; 4], p, b, s];
        let found = dependent_columns(&columns);
        assert_eq!(found.len(), 1);
        assert_eq!((found[0].column, found[0].made_of.iter().map(|one| one.0).collect::<Vec<_>>()), (3, vec![0, 2]));
        assert_eq!(least_squares(&columns, &[1.0, 2.0, 3.0, 4.0]), Err(NoLine::Tangled));
    }

    #[test]
    fn wampler_1() {
        // NIST Statistical Reference Datasets: y = 1 + x + ... + x^5 for x = 0..20; every coefficient is 1.
        let x: Vec<f64> = (0u8..=20).map(f64::from).collect();
        let columns: Vec<Vec<f64>> = (0..6).map(|power| x.iter().map(|x| x.powi(power)).collect()).collect();
        let y: Vec<f64> = x.iter().map(|x| (0..6).map(|power| x.powi(power)).sum()).collect();
        let fit = least_squares(&columns, &y).unwrap();
        assert!(fit.coefficients.iter().all(|c| (c - 1.0).abs() < 1e-6), "{fit:?}");
    }

    #[test]
    fn what_can_not_be_fitted() {
        assert_eq!(least_squares(&[], &[]), Err(NoLine::Shape));
        assert_eq!(least_squares(&[vec![1.0]], &[f64::NAN]), Err(NoLine::Shape));
        assert_eq!(least_squares(&[vec![0.0, 0.0]], &[1.0, 2.0]), Err(NoLine::Tangled));
        let exact = least_squares(&[vec![1.0, 1.0], vec![0.0, 1.0]], &[1.0, 2.0]).unwrap();
        assert_eq!((exact.degrees, exact.residual, exact.half_width(&[0.0, 1.0], 0.8)), (0, None, None));
    }
}
