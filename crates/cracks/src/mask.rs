//! Pictures of yes and no.

/// Yes or no for each pixel.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mask {
    width: usize,
    height: usize,
    set: Vec<bool>,
}

/// The eight neighbours, clockwise from the one above.
pub(crate) const AROUND: [(i64, i64); 8] = [(0, -1), (1, -1), (1, 0), (1, 1), (0, 1), (-1, 1), (-1, 0), (-1, -1)];

/// Pixels that are passed over in one go.
const STRETCH: usize = 64;

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
        self.indices().into_iter().map(move |at| ((at % width) as i64, (at / width) as i64))
    }

    /// The same as numbers in [`Self::pixels`]. Most pixels of a photo are no: stretches without a yes are passed over.
    pub(crate) fn indices(&self) -> Vec<usize> {
        let mut out = Vec::new();
        for (number, run) in self.set.chunks(STRETCH).enumerate() {
            if run.iter().fold(false, |any, &set| any | set) {
                out.extend((number * STRETCH..).zip(run).filter(|(_, set)| **set).map(|(at, _)| at));
            }
        }
        out
    }

    /// The eight neighbours as a byte, bit 0 above, then clockwise.
    #[inline]
    pub(crate) fn around(&self, at: usize) -> u8 {
        let (width, x) = (self.width, at % self.width.max(1));
        if at < width + 1 || at + width + 1 >= self.set.len() || x == 0 || x + 1 == width {
            let (x, y) = (x as i64, (at / width.max(1)) as i64);
            return AROUND.iter().enumerate().fold(0, |bits, (k, (dx, dy))| bits | u8::from(self.has(x + dx, y + dy)) << k);
        }
        let three = |from: usize| self.set.get(from..).and_then(<[bool]>::first_chunk::<3>).map_or([0; 3], |three| three.map(u8::from));
        let ([a, b, c], [d, _, e], [f, g, h]) = (three(at - width - 1), three(at - 1), three(at + width - 1));
        b | c << 1 | e << 2 | h << 3 | g << 4 | f << 5 | d << 6 | a << 7
    }

    /// Clears a pixel by its number.
    pub(crate) fn clear(&mut self, at: usize) {
        if let Some(place) = self.set.get_mut(at) {
            *place = false;
        }
    }

    /// A pixel by its number; outside is no.
    #[inline]
    pub(crate) fn has_index(&self, at: usize) -> bool {
        self.set.get(at).copied().unwrap_or(false)
    }

    /// Grown by a square of this reach.
    #[must_use]
    pub fn grown(&self, reach: usize) -> Self {
        let mut wide = Self::empty(self.width, self.height);
        let width = self.width.max(1);
        for (row, out) in self.set.chunks_exact(width).zip(wide.set.chunks_exact_mut(width)) {
            let mut until = 0;
            for (x, out) in out.iter_mut().enumerate() {
                if x == 0 && row.iter().take(reach).any(|&set| set) {
                    until = row.iter().take(reach).rposition(|&set| set).map_or(0, |last| last + reach + 1);
                }
                if row.get(x + reach).copied().unwrap_or(false) {
                    until = x + 2 * reach + 1;
                }
                *out = x < until;
            }
        }
        let mut out = Self::empty(self.width, self.height);
        let mut until = vec![0_usize; width];
        for y in 0..self.height + reach {
            if let Some(row) = wide.set.get(y * width..(y + 1) * width) {
                for (until, &set) in until.iter_mut().zip(row) {
                    if set {
                        *until = y + reach + 1;
                    }
                }
            }
            if let Some(row) = y.checked_sub(reach).and_then(|to| out.set.get_mut(to * width..(to + 1) * width)) {
                for (out, &until) in row.iter_mut().zip(&until) {
                    *out = until + reach > y;
                }
            }
        }
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
        let mut left = self.set.clone();
        let mut groups = Vec::new();
        let mut stack = Vec::new();
        for start in self.indices() {
            if !left.get(start).copied().unwrap_or(false) {
                continue;
            }
            let mut group = Vec::new();
            stack.push(start);
            if let Some(place) = left.get_mut(start) {
                *place = false;
            }
            while let Some(at) = stack.pop() {
                let (x, y) = ((at % self.width) as i64, (at / self.width) as i64);
                group.push((x as u32, y as u32));
                for (k, (dx, dy)) in AROUND.into_iter().enumerate() {
                    if !corners && k % 2 == 1 {
                        continue;
                    }
                    let (nx, ny) = (x + dx, y + dy);
                    if nx < 0 || ny < 0 || nx >= self.width as i64 {
                        continue;
                    }
                    let next = ny as usize * self.width + nx as usize;
                    if let Some(place) = left.get_mut(next)
                        && *place
                    {
                        *place = false;
                        stack.push(next);
                    }
                }
            }
            groups.push(group);
        }
        groups
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
