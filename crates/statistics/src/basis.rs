//! An orthonormal basis that grows column by column.

/// A column that is this near to the span of earlier ones, measured in its own length, lies in it.
const IN_SPAN: f64 = 1e-9;

/// Unit vectors at right angles, with the way each was made from columns.
#[derive(Debug, Default)]
pub(crate) struct Basis {
    directions: Vec<Direction>,
}

#[derive(Debug)]
struct Direction {
    /// The unit vector.
    unit: Vec<f64>,
    /// Which columns it is a sum of: column and coefficient.
    made_of: Vec<(usize, f64)>,
}

impl Basis {
    /// Adds a column; if it lies in the span already, gives instead the columns and coefficients that make it up.
    pub(crate) fn add(&mut self, at: usize, column: &[f64]) -> Option<Vec<(usize, f64)>> {
        let length = norm(column);
        if length <= 0.0 {
            return Some(Vec::new());
        }
        let (rest, along) = self.rest(column);
        let left = norm(&rest);
        let mut made_of: Vec<(usize, f64)> = Vec::new();
        for (direction, amount) in self.directions.iter().zip(&along) {
            for (earlier, coefficient) in &direction.made_of {
                match made_of.iter_mut().find(|(known, _)| known == earlier) {
                    Some((_, sum)) => *sum += amount * coefficient,
                    None => made_of.push((*earlier, amount * coefficient)),
                }
            }
        }
        if left < IN_SPAN * length {
            let largest = made_of.iter().map(|(_, c)| c.abs()).fold(0.0, f64::max);
            made_of.retain(|(_, c)| c.abs() > 1e-8 * largest);
            return Some(made_of);
        }
        let mut made_of: Vec<(usize, f64)> = made_of.into_iter().map(|(earlier, c)| (earlier, -c / left)).collect();
        made_of.push((at, 1.0 / left));
        self.directions.push(Direction { unit: rest.iter().map(|x| x / left).collect(), made_of });
        None
    }

    /// What of a column lies outside the span, as a share of its length: 0..1.
    pub(crate) fn outside(&self, column: &[f64]) -> f64 {
        let length = norm(column);
        if length <= 0.0 { 0.0 } else { norm(&self.rest(column).0) / length }
    }

    /// The part outside the span, and the amounts along each direction. Taken off twice: once is not enough when little is left
    /// (Giraud, Langou and Rozloznik 2005, on Gram-Schmidt done twice).
    fn rest(&self, column: &[f64]) -> (Vec<f64>, Vec<f64>) {
        let mut rest = column.to_vec();
        let mut along = vec![0.0; self.directions.len()];
        for _ in 0..2 {
            for (direction, sum) in self.directions.iter().zip(&mut along) {
                let amount: f64 = rest.iter().zip(&direction.unit).map(|(x, u)| x * u).sum();
                for (x, u) in rest.iter_mut().zip(&direction.unit) {
                    *x -= amount * u;
                }
                *sum += amount;
            }
        }
        (rest, along)
    }
}

/// Length of a column.
pub(crate) fn norm(column: &[f64]) -> f64 {
    let largest = column.iter().map(|x| x.abs()).fold(0.0, f64::max);
    if largest <= 0.0 {
        return 0.0;
    }
    largest * column.iter().map(|x| (x / largest).powi(2)).sum::<f64>().sqrt()
}
