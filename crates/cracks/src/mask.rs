//! Pictures of yes and no.

use rayon::prelude::*;

use crate::runs::{Run, joined, runs};
use crate::words::{self, PLACES, ones};

/// Yes or no for each pixel.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mask {
    width: usize,
    height: usize,
    set: Vec<bool>,
}

/// The eight neighbours, clockwise from the one above.
pub(crate) const AROUND: [(i64, i64); 8] = [(0, -1), (1, -1), (1, 0), (1, 1), (0, 1), (-1, 1), (-1, 0), (-1, -1)];

/// Rows that are listed in one go.
const STRIP: usize = 64;

impl Mask {
    /// All no.
    pub fn empty(width: usize, height: usize) -> Self {
        Self { width, height, set: vec![false; width * height] }
    }

    /// From rows laid end to end; `None` if their number does not fit.
    pub fn from_rows(width: usize, height: usize, set: Vec<bool>) -> Option<Self> {
        (set.len() == width * height).then_some(Self { width, height, set })
    }

    /// Pixels in a row.
    pub const fn width(&self) -> usize {
        self.width
    }

    /// Rows.
    pub const fn height(&self) -> usize {
        self.height
    }

    /// All pixels, row by row.
    pub fn pixels(&self) -> &[bool] {
        &self.set
    }

    /// Whether a place is set; outside is no.
    #[inline]
    pub fn has(&self, x: i64, y: i64) -> bool {
        x >= 0 && y >= 0 && x < self.width as i64 && self.set.get(y as usize * self.width + x as usize).copied().unwrap_or(false)
    }

    /// Sets or clears a place; outside nothing happens.
    #[inline]
    pub fn put(&mut self, x: i64, y: i64, value: bool) {
        if x >= 0
            && y >= 0
            && x < self.width as i64
            && let Some(place) = self.set.get_mut(y as usize * self.width + x as usize)
        {
            *place = value;
        }
    }

    /// How many are set.
    pub fn count(&self) -> usize {
        self.set.iter().filter(|&&set| set).count()
    }

    /// Places that are set, row by row.
    pub fn places(&self) -> impl Iterator<Item = (i64, i64)> + '_ {
        let width = self.width.max(1);
        let strips: Vec<Vec<(i64, i64)>> = self
            .set
            .par_chunks(STRIP * width)
            .enumerate()
            .map(|(strip, rows)| {
                let mut out = Vec::new();
                for (row, y) in rows.chunks_exact(width).zip((strip * STRIP) as i64..) {
                    for (word, left) in words::set(row).into_iter().zip((0_i64..).step_by(PLACES)) {
                        out.extend(ones(word).map(|bit| (left + bit as i64, y)));
                    }
                }
                out
            })
            .collect();
        strips.into_iter().flatten()
    }

    /// The runs of each row.
    pub(crate) fn runs(&self) -> Vec<Vec<Run>> {
        self.set.par_chunks_exact(self.width.max(1)).map(|row| runs(words::set(row).into_iter(), 0)).collect()
    }

    /// The eight neighbours as a byte, bit 0 above, then clockwise.
    #[inline]
    pub(crate) fn around(&self, x: i64, y: i64) -> u8 {
        let width = self.width;
        if x < 1 || y < 1 || x + 1 >= width as i64 || y + 1 >= self.height as i64 {
            return AROUND.iter().enumerate().fold(0, |bits, (k, (dx, dy))| bits | u8::from(self.has(x + dx, y + dy)) << k);
        }
        let at = y as usize * width + x as usize;
        let three = |from: usize| self.set.get(from..).and_then(<[bool]>::first_chunk::<3>).map_or([0; 3], |three| three.map(u8::from));
        let ([a, b, c], [d, _, e], [f, g, h]) = (three(at - width - 1), three(at - 1), three(at + width - 1));
        b | c << 1 | e << 2 | h << 3 | g << 4 | f << 5 | d << 6 | a << 7
    }

    /// Clears a pixel by its number; whether it was set. Outside nothing is.
    #[inline]
    pub(crate) fn take(&mut self, at: usize) -> bool {
        self.set.get_mut(at).is_some_and(std::mem::take)
    }

    /// Sets a pixel by its number.
    pub(crate) fn set(&mut self, at: usize) {
        if let Some(place) = self.set.get_mut(at) {
            *place = true;
        }
    }

    /// Grown by a square of this reach.
    #[must_use]
    pub fn grown(&self, reach: usize) -> Self {
        let width = self.width.max(1);
        // A row, then a column, laid over itself once for each step: a few instructions for many pixels at a time.
        let mut wide = self.clone();
        wide.set.par_chunks_exact_mut(width).zip(self.set.par_chunks_exact(width)).for_each(|(out, row)| {
            for step in 1..=reach.min(width) {
                add(out.get_mut(step..).unwrap_or_default(), row);
                add(out, row.get(step..).unwrap_or_default());
            }
        });
        let mut out = wide.clone();
        out.set.par_chunks_exact_mut(width).enumerate().for_each(|(y, out)| {
            let row = |y: usize| wide.set.get(y * width..(y + 1) * width).unwrap_or_default();
            for near in y.saturating_sub(reach)..(y + reach + 1).min(self.height) {
                add(out, row(near));
            }
        });
        out
    }

    /// Groups of set pixels that touch, each as its places. `corners` says whether touching at a corner counts.
    ///
    /// ```
    /// let mut mask = cracks::Mask::empty(4, 4);
    /// mask.put(0, 0, true);
    /// mask.put(1, 1, true);
    /// assert_eq!((mask.groups(true).len(), mask.groups(false).len()), (1, 2));
    /// ```
    pub fn groups(&self, corners: bool) -> Vec<Vec<(u32, u32)>> {
        let rows = self.runs();
        let roots = joined(&rows, corners);
        let mut numbers = vec![None; roots.len()];
        let mut groups: Vec<Vec<(u32, u32)>> = Vec::new();
        let all = rows.iter().zip(0..).flat_map(|(runs, y)| runs.iter().map(move |run| (run, y)));
        for (&root, (run, y)) in roots.iter().zip(all) {
            let Some(number) = numbers.get_mut(root) else { continue };
            let number = *number.get_or_insert_with(|| {
                groups.push(Vec::new());
                groups.len() - 1
            });
            if let Some(group) = groups.get_mut(number) {
                group.extend((run.left..run.right).map(|x| (x as u32, y)));
            }
        }
        groups
    }
}

/// Sets what the other row has set.
fn add(to: &mut [bool], from: &[bool]) {
    for (to, &from) in to.iter_mut().zip(from) {
        *to |= from;
    }
}

#[cfg(test)]
mod tests {
    use super::Mask;

    #[test]
    fn growing_is_a_square() {
        for (x, y) in [(0, 0), (5, 4), (9, 8), (1, 8)] {
            for reach in [1_i64, 2, 3] {
                let mut mask = Mask::empty(10, 9);
                mask.put(x, y, true);
                let grown = mask.grown(reach as usize);
                for j in 0..9 {
                    for i in 0..10 {
                        assert_eq!(grown.has(i, j), (i - x).abs() <= reach && (j - y).abs() <= reach, "{x} {y} {reach}: {i} {j}");
                    }
                }
            }
        }
    }
}
