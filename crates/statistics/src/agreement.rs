//! How far two people who rated the same things agree.

/// How much a disagreement counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Weights {
    /// Any disagreement counts the same (Cohen 1960).
    Plain,
    /// By the number of classes between the two (Cohen 1968).
    Linear,
    /// By the square of that number (Cohen 1968; Fleiss and Cohen 1973).
    Quadratic,
}

impl Weights {
    fn weight(self, i: usize, j: usize) -> f64 {
        let apart = i.abs_diff(j) as f64;
        match self {
            Self::Plain => f64::from(u8::from(i != j)),
            Self::Linear => apart,
            Self::Quadratic => apart * apart,
        }
    }
}

/// Agreement of two raters.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Agreement {
    /// Weighted kappa: 1 when both always agree, 0 when they agree as often as their own habits would by luck. `None` when it is not
    /// defined: both used one and the same class throughout.
    pub kappa: Option<f64>,
    /// Share of things that got exactly the same class from both, 0 to 1.
    pub same: f64,
    /// How many things both rated.
    pub things: u64,
}

/// Ratings that can't be compared.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum AgreementError {
    /// The table is not square.
    #[error("row {row} of the table has {found} classes where {wanted} were expected; both raters use the same classes")]
    NotSquare {
        /// Row from 0.
        row: usize,
        /// Its length.
        found: usize,
        /// Number of rows.
        wanted: usize,
    },
    /// Two lists of different length.
    #[error("the first rater has {first} ratings and the second {second}; give both for the same things, in the same order")]
    NotPaired {
        /// Ratings of the first.
        first: usize,
        /// Ratings of the second.
        second: usize,
    },
    /// A class beyond the scale.
    #[error("class {class} is beyond the {classes} classes of the scale, which are numbered from 0")]
    NoSuchClass {
        /// The class.
        class: usize,
        /// Number of classes.
        classes: usize,
    },
    /// Nothing was rated by both.
    #[error("no thing was rated by both; let the second rater look at some of the same things")]
    Nothing,
}

/// Agreement out of a square table of counts: row = class given by the first rater, column = class given by the second, both in the order
/// of the scale. Kappa = 1 - sum(w o)/sum(w e), with w the weight of a disagreement, o the counts and e the counts that the margins
/// alone would give (Cohen, *Psychological Bulletin* 70, 1968).
///
/// # Errors
/// The table isn't square or holds no counts.
///
/// ```
/// use statistics::{Weights, agreement};
/// // By hand: half the things agree, and so they would by luck.
/// let told = agreement(&[vec![1, 1], vec![1, 1]], Weights::Linear)?;
/// assert_eq!((told.kappa, told.same, told.things), (Some(0.0), 0.5, 4));
/// # Ok::<(), statistics::AgreementError>(())
/// ```
pub fn agreement(table: &[Vec<u32>], weights: Weights) -> Result<Agreement, AgreementError> {
    let wanted = table.len();
    if let Some((row, counts)) = table.iter().enumerate().find(|(_, counts)| counts.len() != wanted) {
        return Err(AgreementError::NotSquare { row, found: counts.len(), wanted });
    }
    let things: u64 = table.iter().flatten().map(|count| u64::from(*count)).sum();
    if things == 0 {
        return Err(AgreementError::Nothing);
    }
    let first: Vec<f64> = table.iter().map(|counts| counts.iter().map(|count| f64::from(*count)).sum()).collect();
    let mut second = vec![0.0; wanted];
    for counts in table {
        for (sum, count) in second.iter_mut().zip(counts) {
            *sum += f64::from(*count);
        }
    }
    let whole = things as f64;
    let (mut seen, mut by_luck, mut same) = (0.0, 0.0, 0.0);
    for (i, (counts, row)) in table.iter().zip(&first).enumerate() {
        for (j, (count, column)) in counts.iter().zip(&second).enumerate() {
            let weight = weights.weight(i, j);
            seen += weight * f64::from(*count);
            by_luck += weight * row * column / whole;
            if i == j {
                same += f64::from(*count);
            }
        }
    }
    Ok(Agreement { kappa: (by_luck > 0.0).then(|| 1.0 - seen / by_luck), same: same / whole, things })
}

/// The table of counts that [`agreement`] wants, out of two lists of classes from 0 for the same things in the same order.
///
/// # Errors
/// Lists of different length, or a class beyond the scale.
///
/// ```
/// assert_eq!(statistics::rating_table(&[0, 1, 1], &[0, 1, 0], 2)?, [[1, 0], [1, 1]]);
/// # Ok::<(), statistics::AgreementError>(())
/// ```
pub fn rating_table(first: &[usize], second: &[usize], classes: usize) -> Result<Vec<Vec<u32>>, AgreementError> {
    if first.len() != second.len() {
        return Err(AgreementError::NotPaired { first: first.len(), second: second.len() });
    }
    let mut table = vec![vec![0_u32; classes]; classes];
    for (i, j) in first.iter().zip(second) {
        let cell = table.get_mut(*i).and_then(|row| row.get_mut(*j));
        *cell.ok_or(AgreementError::NoSuchClass { class: *i.max(j), classes })? += 1;
    }
    Ok(table)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kappa(table: &[Vec<u32>], weights: Weights) -> f64 {
        agreement(table, weights).unwrap().kappa.unwrap()
    }

    #[test]
    fn a_printed_table() {
        // The table of the statsmodels tests (inter_rater), which quote printed values 0.4842 and 0.4701; further digits and the
        // quadratic one from statsmodels 0.15.0, `cohens_kappa` with weights.
        let file = include_str!("../tests/data/kappa_3x3.csv");
        let rows = file.lines().filter(|line| line.starts_with(|letter: char| letter.is_ascii_digit()));
        let table: Vec<Vec<u32>> = rows.map(|row| row.split(',').map(|count| count.parse().unwrap()).collect()).collect();
        assert_eq!(table.len(), 3);
        assert!((kappa(&table, Weights::Plain) - 0.484_162_90).abs() < 5e-9);
        assert!((kappa(&table, Weights::Linear) - 0.470_119_52).abs() < 5e-9);
        assert!((kappa(&table, Weights::Quadratic) - 0.450_160_77).abs() < 5e-9);
        // Counted by hand: 0 + 8 + 5 of 19.
        assert!((agreement(&table, Weights::Plain).unwrap().same - 13.0 / 19.0).abs() < 1e-12);
    }

    #[test]
    fn lists_become_a_table() {
        let table = rating_table(&[0, 1, 2, 2], &[0, 2, 2, 1], 3).unwrap();
        assert_eq!(table, [[1, 0, 0], [0, 0, 1], [0, 1, 1]]);
        assert!((kappa(&[vec![3, 0], vec![0, 2]], Weights::Quadratic) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn what_says_nothing_is_told() {
        let one_class = agreement(&[vec![0, 0], vec![0, 7]], Weights::Linear).unwrap();
        assert_eq!((one_class.kappa, one_class.things), (None, 7));
        assert_eq!(agreement(&[], Weights::Plain), Err(AgreementError::Nothing));
        assert_eq!(agreement(&[vec![0]], Weights::Plain), Err(AgreementError::Nothing));
        let uneven = agreement(&[vec![1, 2], vec![1]], Weights::Plain);
        assert_eq!(uneven, Err(AgreementError::NotSquare { row: 1, found: 1, wanted: 2 }));
        assert_eq!(rating_table(&[0], &[], 3), Err(AgreementError::NotPaired { first: 1, second: 0 }));
        assert_eq!(rating_table(&[0], &[3], 3), Err(AgreementError::NoSuchClass { class: 3, classes: 3 }));
    }
}
