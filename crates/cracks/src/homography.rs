//! The map between a flat board and its photo, from four points.

/// A map between planes that keeps straight lines straight.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Homography([f64; 9]);

impl Homography {
    /// The map that takes four points to four others, by the direct linear transform with the last entry 1 (Hartley and Zisserman,
    /// Multiple View Geometry, 2nd ed. 2004, ch. 4, from memory). `None` if three of them lie on a line.
    ///
    /// ```
    /// let square = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
    /// let map = cracks::Homography::of(square, square.map(|(x, y)| (2.0 * x + 3.0, 2.0 * y))).expect("four corners");
    /// let (x, y) = map.map(0.5, 0.5);
    /// assert!((x - 4.0).abs() < 1e-9 && (y - 1.0).abs() < 1e-9);
    /// ```
    pub fn of(from: [(f64, f64); 4], to: [(f64, f64); 4]) -> Option<Self> {
        let mut rows = [[0.0_f64; 9]; 8];
        for (pair, ((x, y), (u, v))) in rows.chunks_exact_mut(2).zip(from.into_iter().zip(to)) {
            if let [first, second] = pair {
                *first = [x, y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y, u];
                *second = [0.0, 0.0, 0.0, x, y, 1.0, -v * x, -v * y, v];
            }
        }
        let solved = solve(rows)?;
        let [a, b, c, d, e, f, g, h] = solved;
        Some(Self([a, b, c, d, e, f, g, h, 1.0]))
    }

    /// The nine entries, row by row.
    pub const fn entries(&self) -> [f64; 9] {
        self.0
    }

    /// Where a point goes.
    #[inline]
    pub fn map(&self, x: f64, y: f64) -> (f64, f64) {
        let [a, b, c, d, e, f, g, h, i] = self.0;
        let per = 1.0 / (g * x + h * y + i);
        ((a * x + b * y + c) * per, (d * x + e * y + f) * per)
    }

    /// From nine entries, row by row.
    pub(crate) const fn from_entries(entries: [f64; 9]) -> Self {
        Self(entries)
    }

    /// This map first, then another.
    ///
    /// ```
    /// let square = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
    /// let twice = cracks::Homography::of(square, square.map(|(x, y)| (2.0 * x, 2.0 * y))).expect("four corners");
    /// let (x, y) = twice.then(&twice).map(1.0, 0.5);
    /// assert!((x - 4.0).abs() < 1e-9 && (y - 2.0).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn then(&self, next: &Self) -> Self {
        let [a, b, c, d, e, f, g, h, i] = self.0;
        let row = |p: f64, q: f64, r: f64| [p * a + q * d + r * g, p * b + q * e + r * h, p * c + q * f + r * i];
        let [p, q, r, s, t, u, v, w, x] = next.0;
        let [[a, b, c], [d, e, f], [g, h, i]] = [row(p, q, r), row(s, t, u), row(v, w, x)];
        Self([a, b, c, d, e, f, g, h, i].map(|entry| entry / i))
    }

    /// The way back; `None` if there is none.
    pub fn back(&self) -> Option<Self> {
        let [a, b, c, d, e, f, g, h, i] = self.0;
        let back = [
            e * i - f * h,
            c * h - b * i,
            b * f - c * e,
            f * g - d * i,
            a * i - c * g,
            c * d - a * f,
            d * h - e * g,
            b * g - a * h,
            a * e - b * d,
        ];
        let last = a * e - b * d;
        (last.abs() > 1e-12 && back.iter().all(|entry| entry.is_finite())).then(|| Self(back.map(|entry| entry / last)))
    }

    /// How much longer a short stroke at a point becomes, least and most over all directions.
    pub fn stretch(&self, x: f64, y: f64) -> (f64, f64) {
        let step = 1e-3;
        let (u0, v0) = self.map(x - step, y);
        let (u1, v1) = self.map(x + step, y);
        let (u2, v2) = self.map(x, y - step);
        let (u3, v3) = self.map(x, y + step);
        let (p, q, r, s) = ((u1 - u0) / (2.0 * step), (u3 - u2) / (2.0 * step), (v1 - v0) / (2.0 * step), (v3 - v2) / (2.0 * step));
        // Singular values of the 2 x 2 derivative.
        let sum = (p * p + q * q + r * r + s * s) / 2.0;
        let product = (p * s - q * r).abs();
        let apart = (sum * sum - product * product).max(0.0).sqrt();
        ((sum - apart).max(0.0).sqrt(), (sum + apart).sqrt())
    }
}

/// Gauss-Jordan with the largest pivot.
fn solve(mut rows: [[f64; 9]; 8]) -> Option<[f64; 8]> {
    for column in 0..8 {
        let size = |row: &[f64; 9]| row.get(column).copied().unwrap_or(0.0).abs();
        let best = (column..8).max_by(|&i, &j| {
            let at = |k: usize| rows.get(k).map_or(0.0, size);
            at(i).total_cmp(&at(j))
        })?;
        rows.swap(column, best);
        let pivot_row = *rows.get(column)?;
        let pivot = *pivot_row.get(column)?;
        if pivot.abs() < 1e-12 {
            return None;
        }
        let scaled = pivot_row.map(|value| value / pivot);
        for (k, row) in rows.iter_mut().enumerate() {
            if k == column {
                *row = scaled;
            } else {
                let factor = *row.get(column)?;
                for (value, from) in row.iter_mut().zip(scaled) {
                    *value -= factor * from;
                }
            }
        }
    }
    Some(rows.map(|row| row.last().copied().unwrap_or(0.0)))
}

#[cfg(test)]
mod tests {
    use super::Homography;

    // numpy 2.4.6, linear solve of the same eight equations; typed from its print.
    #[test]
    fn a_tilted_board_as_the_reference_maps_it() {
        let board = [(0.0, 0.0), (200.0, 0.0), (200.0, 150.0), (0.0, 150.0)];
        let photo = [(101.0, 98.0), (1874.0, 107.0), (1886.0, 1419.0), (123.0, 1418.0)];
        let map = Homography::of(board, photo).expect("a good quadrilateral");
        let known = [8.922_093_93, 0.151_283_82, 101.0, 0.048_259_9, 8.853_228_65, 98.0, 3.047e-5, 3.754e-5, 1.0];
        for (found, known) in map.entries().iter().zip(known) {
            assert!((found - known).abs() < 1e-7, "{found} {known}");
        }
        let (x, y) = map.map(100.0, 75.0);
        assert!((x - 998.701_32).abs() < 1e-4 && (y - 762.349_27).abs() < 1e-4, "{x} {y}");
    }

    #[test]
    fn three_on_a_line_are_refused() {
        let line = [(0.0, 0.0), (1.0, 0.0), (2.0, 0.0), (0.0, 1.0)];
        assert!(Homography::of(line, [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]).is_none());
    }
}
