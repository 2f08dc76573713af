//! Columns of numbers, their rank, and the exact ties among them.

use nalgebra::DMatrix;

use crate::basis::Basis;

/// A singular value below this share of the largest counts as nothing (after columns are brought to unit length).
const RANK_TOLERANCE: f64 = 1e-10;

/// Columns of equal length, all numbers finite.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Columns {
    rows: usize,
    columns: Vec<Vec<f64>>,
}

/// Columns that can't stand beside each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum ColumnsError {
    /// A column has another length than the first.
    #[error("column {at} has {found} rows, the first one {wanted}")]
    Length {
        /// Which one, counted from 0.
        at: usize,
        /// Its rows.
        found: usize,
        /// Rows of the first.
        wanted: usize,
    },
    /// A number is not finite.
    #[error("column {at} holds a number that is not finite")]
    NotFinite {
        /// Which one, counted from 0.
        at: usize,
    },
}

impl Columns {
    /// Columns, in the order given.
    ///
    /// # Errors
    /// Lengths differ, or a number is not finite.
    pub fn new(columns: Vec<Vec<f64>>) -> Result<Self, ColumnsError> {
        let rows = columns.first().map_or(0, Vec::len);
        for (at, column) in columns.iter().enumerate() {
            if column.len() != rows {
                return Err(ColumnsError::Length { at, found: column.len(), wanted: rows });
            }
            if !column.iter().all(|x| x.is_finite()) {
                return Err(ColumnsError::NotFinite { at });
            }
        }
        Ok(Self { rows, columns })
    }

    /// Number of rows; 0 without columns.
    pub const fn rows(&self) -> usize {
        self.rows
    }

    /// Number of columns.
    pub fn count(&self) -> usize {
        self.columns.len()
    }

    /// The columns in order.
    pub fn iter(&self) -> impl Iterator<Item = &[f64]> {
        self.columns.iter().map(Vec::as_slice)
    }

    /// One column.
    pub fn get(&self, at: usize) -> Option<&[f64]> {
        self.columns.get(at).map(Vec::as_slice)
    }

    /// How many columns are independent: singular values of the unit-length columns above 1e-10 of the largest (Golub and Van Loan,
    /// *Matrix Computations*, section 5.4).
    ///
    /// ```
    /// use statistics::Columns;
    /// let columns = Columns::new(vec![vec![1.0, 1.0, 1.0], vec![1.0, 2.0, 3.0], vec![3.0, 5.0, 7.0]])?;
    /// assert_eq!(columns.rank(), 2);
    /// # Ok::<(), statistics::ColumnsError>(())
    /// ```
    pub fn rank(&self) -> usize {
        let values = self.singular_values();
        let largest = values.iter().copied().fold(0.0, f64::max);
        values.iter().filter(|value| **value > RANK_TOLERANCE * largest).count()
    }

    /// Every exact tie: coefficients, one a column, with which the columns add to nothing in every row.
    ///
    /// Columns are taken in order; one that is a sum of earlier independent ones makes a tie. So there are as many ties as columns
    /// beyond the rank, each has the coefficient 1 at its last column, no other tie has that column, and none can do with fewer
    /// columns: the ones before it are independent. That is the reduced echelon form of the null space, read from the right.
    ///
    /// ```
    /// use statistics::Columns;
    /// let columns = Columns::new(vec![vec![1.0, 1.0, 1.0], vec![-1.0, 1.0, 1.0], vec![-2.0, 2.0, 2.0]])?;
    /// let ties = columns.ties();
    /// assert_eq!(ties.len(), 1);
    /// assert!((ties[0][1] + 2.0).abs() < 1e-12 && ties[0][0] == 0.0);
    /// # Ok::<(), statistics::ColumnsError>(())
    /// ```
    pub fn ties(&self) -> Vec<Vec<f64>> {
        let mut basis = Basis::default();
        let mut ties = Vec::new();
        for (at, column) in self.columns.iter().enumerate() {
            if let Some(sum) = basis.add(at, column) {
                let mut tie = vec![0.0; self.count()];
                for (earlier, coefficient) in sum {
                    if let Some(slot) = tie.get_mut(earlier) {
                        *slot = -coefficient;
                    }
                }
                if let Some(slot) = tie.get_mut(at) {
                    *slot = 1.0;
                }
                ties.push(tie);
            }
        }
        ties
    }

    /// These columns followed by others.
    ///
    /// # Errors
    /// Lengths differ.
    pub fn beside(&self, others: &Self) -> Result<Self, ColumnsError> {
        Self::new(self.columns.iter().chain(&others.columns).cloned().collect())
    }

    pub(crate) fn matrix(&self) -> DMatrix<f64> {
        DMatrix::from_iterator(self.rows, self.count(), self.columns.iter().flatten().copied())
    }

    /// Singular values of the columns brought to unit length; a column of zeros stays one.
    pub(crate) fn singular_values(&self) -> Vec<f64> {
        if self.rows == 0 || self.columns.is_empty() {
            return Vec::new();
        }
        let mut matrix = self.matrix();
        for mut column in matrix.column_iter_mut() {
            let length = column.norm();
            if length > 0.0 {
                column /= length;
            }
        }
        matrix.singular_values().iter().copied().collect()
    }
}
