//! A picture of one number a pixel.

use rayon::prelude::*;

/// Numbers in rows; places outside read as the nearest inside.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Plane {
    width: usize,
    height: usize,
    values: Vec<f32>,
}

impl Plane {
    /// All of one value.
    pub fn filled(width: usize, height: usize, value: f32) -> Self {
        Self { width, height, values: vec![value; width * height] }
    }

    /// Makes it this large; what it held may stay or not.
    pub(crate) fn reshape(&mut self, width: usize, height: usize) {
        (self.width, self.height) = (width, height);
        self.values.resize(width * height, 0.0);
    }

    /// From rows laid end to end; `None` if their number does not fit.
    pub fn from_rows(width: usize, height: usize, values: Vec<f32>) -> Option<Self> {
        (values.len() == width * height).then_some(Self { width, height, values })
    }

    /// Pixels in a row.
    pub const fn width(&self) -> usize {
        self.width
    }

    /// Rows.
    pub const fn height(&self) -> usize {
        self.height
    }

    /// All values, row by row.
    pub fn values(&self) -> &[f32] {
        &self.values
    }

    /// All values, row by row, to change.
    pub fn values_mut(&mut self) -> &mut [f32] {
        &mut self.values
    }

    /// One row; empty outside.
    pub fn row(&self, y: usize) -> &[f32] {
        self.values.get(y * self.width..(y + 1) * self.width).unwrap_or_default()
    }

    /// One row to change; empty outside.
    pub fn row_mut(&mut self, y: usize) -> &mut [f32] {
        self.values.get_mut(y * self.width..(y + 1) * self.width).unwrap_or_default()
    }

    /// The value at a place, or at the nearest place inside; 0 in an empty picture.
    #[inline]
    pub fn at(&self, x: i64, y: i64) -> f32 {
        let x = x.clamp(0, self.width as i64 - 1) as usize;
        let y = y.clamp(0, self.height as i64 - 1) as usize;
        self.values.get(y * self.width + x).copied().unwrap_or(0.0)
    }

    /// Bilinear between pixel centres.
    ///
    /// ```
    /// let plane = cracks::Plane::from_rows(2, 1, vec![0.0, 1.0]).expect("two values");
    /// assert_eq!(plane.between(0.25, 0.0), 0.25);
    /// ```
    #[inline]
    pub fn between(&self, x: f64, y: f64) -> f32 {
        let (i, j) = (floor(x), floor(y));
        let (a, b) = ((x - i as f64) as f32, (y - j as f64) as f32);
        if i >= 0 && j >= 0 && i + 1 < self.width as i64 {
            let from = j as usize * self.width + i as usize;
            let two = |from: usize| self.values.get(from..).and_then(<[f32]>::first_chunk::<2>);
            if let (Some([p, q]), Some([r, s])) = (two(from), two(from + self.width)) {
                return (p * (1.0 - a) + q * a) * (1.0 - b) + (r * (1.0 - a) + s * a) * b;
            }
        }
        let top = self.at(i, j) * (1.0 - a) + self.at(i + 1, j) * a;
        let bottom = self.at(i, j + 1) * (1.0 - a) + self.at(i + 1, j + 1) * a;
        top * (1.0 - b) + bottom * b
    }

    /// Half as large: means of two by two.
    pub(crate) fn halved(&self) -> Self {
        let (width, height) = (self.width.div_ceil(2), self.height.div_ceil(2));
        let mut out = Self::filled(width, height, 0.0);
        out.values.par_chunks_mut(width.max(1)).enumerate().for_each(|(y, row)| {
            let (above, below) = (self.row(2 * y), self.row((2 * y + 1).min(self.height.saturating_sub(1))));
            let ((twos, last), (below, below_last)) = (above.as_chunks::<2>(), below.as_chunks::<2>());
            for (value, ([a, b], [c, d])) in row.iter_mut().zip(twos.iter().zip(below)) {
                *value = 0.25 * ((a + b) + (c + d));
            }
            if let (Some(value), Some(a), Some(b)) = (row.get_mut(twos.len()), last.first(), below_last.first()) {
                *value = 0.5 * (a + b);
            }
        });
        out
    }

    /// Takes a piece of the picture into `out`; what sticks out is filled with the nearest value inside.
    pub(crate) fn piece(&self, (left, top): (i64, i64), (width, height): (usize, usize), out: &mut Self) {
        out.reshape(width, height);
        let (own, last) = (self.width as i64, self.height as i64 - 1);
        // How many places lie left of the picture, and where its own end.
        let before = (-left).clamp(0, width as i64) as usize;
        let end = ((own - left).clamp(0, width as i64) as usize).max(before);
        for (row, y) in out.values.chunks_exact_mut(width.max(1)).zip(top..) {
            let from = self.row(y.clamp(0, last.max(0)) as usize);
            let (row, after) = row.split_at_mut(end);
            let (first, row) = row.split_at_mut(before);
            first.fill(from.first().copied().unwrap_or(0.0));
            after.fill(from.last().copied().unwrap_or(0.0));
            let start = (left + before as i64).max(0) as usize;
            row.copy_from_slice(from.get(start..start + row.len()).unwrap_or_default());
        }
    }
}

/// Numbers from 0 to 1 by chance, the same each time.
#[cfg(test)]
pub(crate) fn grain(width: usize, height: usize) -> Plane {
    let mut state = 7_u64;
    let mut next = || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 40) as f32 / (1_u64 << 24) as f32
    };
    Plane { width, height, values: (0..width * height).map(|_| next()).collect() }
}

/// The whole number below; what the library has for it is a call on plain machines.
#[inline]
pub(crate) fn floor(value: f64) -> i64 {
    let whole = value as i64;
    whole - i64::from(whole as f64 > value)
}

/// The value below which this share of the numbers lies; `None` without numbers. The numbers change their order.
pub(crate) fn share_below(values: &mut [f32], share: f64) -> Option<f32> {
    let last = values.len().checked_sub(1)?;
    let rank = (share * last as f64).round() as usize;
    Some(*values.select_nth_unstable_by(rank.min(last), f32::total_cmp).1)
}
