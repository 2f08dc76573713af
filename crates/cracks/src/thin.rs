//! Lines one pixel wide.

use rayon::prelude::*;

use crate::mask::Mask;
use crate::words;

/// Thinned by Zhang and Suen (Communications of the ACM 27(3), 1984, 236-239), 64 pixels of a row at a time.
///
/// ```
/// let mut bar = cracks::Mask::empty(12, 9);
/// for y in 3..6 { for x in 1..11 { bar.put(x, y, true); } }
/// assert!(cracks::thin(&bar).places().all(|(_, y)| y == 4));
/// ```
pub fn thin(mask: &Mask) -> Mask {
    let mut bits = Bits::of(mask);
    let mut ask: Vec<usize> = (0..bits.words.len()).filter(|&at| bits.at(at) != 0).collect();
    // The step that a word was last put down for.
    let mut down_for = vec![0_u32; bits.words.len()];
    let mut before: Vec<usize> = Vec::new();
    for step in 1.. {
        let gone: Vec<(usize, u64)> = ask.par_iter().map(|&at| (at, bits.going(at, step % 2 == 1))).filter(|gone| gone.1 != 0).collect();
        if gone.is_empty() && before.is_empty() && step > 1 {
            break;
        }
        for &(at, going) in &gone {
            bits.clear(at, going);
        }
        let now: Vec<usize> = gone.into_iter().map(|(at, _)| at).collect();
        // A step is asked again only of words that lost a pixel, or lie beside one that did, since it was asked last: two steps ago.
        if step > 1 {
            ask.clear();
            for near in before.iter().chain(&now).flat_map(|&at| bits.beside(at)) {
                if bits.at(near) != 0
                    && let Some(down_for) = down_for.get_mut(near).filter(|down_for| **down_for != step)
                {
                    *down_for = step;
                    ask.push(near);
                }
            }
        }
        before = now;
    }
    bits.mask()
}

/// A mask of 64 pixels a word, with a row and a word of nothing around it.
struct Bits {
    width: usize,
    height: usize,
    /// Words in a row.
    stride: usize,
    words: Vec<u64>,
}

impl Bits {
    fn of(mask: &Mask) -> Self {
        let (width, height) = (mask.width(), mask.height());
        let stride = width.div_ceil(64) + 2;
        let mut words = vec![0; stride * (height + 2)];
        let rows = words.par_chunks_exact_mut(stride).skip(1).zip(mask.pixels().par_chunks_exact(width.max(1)));
        rows.for_each(|(words, row)| {
            for (to, word) in words.iter_mut().skip(1).zip(words::set(row)) {
                *to = word;
            }
        });
        Self { width, height, stride, words }
    }

    fn mask(&self) -> Mask {
        let mut set = vec![false; self.width * self.height];
        set.par_chunks_exact_mut(self.width.max(1)).zip(self.words.par_chunks_exact(self.stride).skip(1)).for_each(|(row, words)| {
            for (run, &word) in row.chunks_mut(64).zip(words.iter().skip(1)).filter(|(_, word)| **word != 0) {
                for (set, bit) in run.iter_mut().zip(0..) {
                    *set = word >> bit & 1 == 1;
                }
            }
        });
        Mask::from_rows(self.width, self.height, set).unwrap_or_else(|| Mask::empty(0, 0))
    }

    fn at(&self, at: usize) -> u64 {
        self.words.get(at).copied().unwrap_or(0)
    }

    fn clear(&mut self, at: usize, going: u64) {
        if let Some(word) = self.words.get_mut(at) {
            *word &= !going;
        }
    }

    /// The word itself and the eight around it.
    const fn beside(&self, at: usize) -> [usize; 9] {
        let (above, below) = (at.wrapping_sub(self.stride), at + self.stride);
        [at, at.wrapping_sub(1), at + 1, above, above.wrapping_sub(1), above + 1, below, below - 1, below + 1]
    }

    /// Pixels of a word that a step takes away.
    fn going(&self, at: usize, first: bool) -> u64 {
        // Each pixel's neighbour on the left is the bit before it.
        let three = |at: usize| {
            let (before, here, after) = (self.at(at.wrapping_sub(1)), self.at(at), self.at(at + 1));
            [here << 1 | before >> 63, here, here >> 1 | after << 63]
        };
        let ([a, above, c], [left, here, right], [f, below, h]) = (three(at.wrapping_sub(self.stride)), three(at), three(at + self.stride));
        let around = [above, c, right, h, below, f, left, a];
        // How many neighbours there are, as three binary digits and more than seven; and changes from no to yes on the way round: one, several.
        let (mut ones, mut twos, mut fours, mut eight) = (0, 0, 0, 0);
        let (mut one, mut several) = (0, 0);
        for (now, next) in around.into_iter().zip(around.into_iter().cycle().skip(1)) {
            let carry = ones & now;
            ones ^= now;
            let over = twos & carry;
            twos ^= carry;
            eight |= fours & over;
            fours ^= over;
            let turn = !now & next;
            several |= one & turn;
            one |= turn;
        }
        let two_to_six = (twos | fours) & !eight & !(ones & twos & fours);
        let kept = if first { right & below & (above | left) } else { above & left & (right | below) };
        here & two_to_six & one & !several & !kept
    }
}

/// Thinned until no pixel can go without breaking a line or shortening it: corners of stairs go too, so that a path pixel has two neighbours.
pub fn thin_twice(mask: &Mask) -> Mask {
    let mut left = thin(mask);
    let places: Vec<(i64, i64)> = left.places().collect();
    for (x, y) in places {
        let bits = left.around(x, y);
        if bits.count_ones() >= 2 && pieces(bits) == 1 && (0..4).any(|k| bits >> (2 * k) & 1 == 1 && bits >> ((2 * k + 2) % 8) & 1 == 1) {
            left.put(x, y, false);
        }
    }
    left
}

/// Yokoi's number for eight neighbours: how many pieces would be left if the pixel went.
fn pieces(bits: u8) -> i32 {
    let off = |k: u32| i32::from(bits >> (k % 8) & 1 == 0);
    (0..4).map(|k| off(2 * k) - off(2 * k) * off(2 * k + 1) * off(2 * k + 2)).sum()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{thin, thin_twice};
    use crate::mask::{AROUND, Mask};

    // The rules as printed in 1984, pixel by pixel: both steps are asked of all until neither takes any.
    fn by_definition(mask: &Mask) -> Mask {
        let mut left = mask.clone();
        loop {
            let before = left.count();
            for first in [true, false] {
                let goes = |&(x, y): &(i64, i64)| {
                    let p = AROUND.map(|(dx, dy)| left.has(x + dx, y + dy));
                    let count = p.iter().filter(|set| **set).count();
                    let turns = (0..8).filter(|&k| !p[k] && p[(k + 1) % 8]).count();
                    let [above, _, right, _, below, _, west, _] = p;
                    let all = |three: [bool; 3]| three == [true; 3];
                    let [one, other] =
                        if first { [[above, right, below], [right, below, west]] } else { [[above, right, west], [above, below, west]] };
                    let kept = all(one) || all(other);
                    (2..=6).contains(&count) && turns == 1 && !kept
                };
                let gone: Vec<(i64, i64)> = left.places().filter(goes).collect();
                for (x, y) in gone {
                    left.put(x, y, false);
                }
            }
            if left.count() == before {
                return left;
            }
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn many_at_a_time_is_one_at_a_time(width in 1_usize..150, seeds in proptest::collection::vec((0_i64..150, 0_i64..24, 0_i64..9), 1..14)) {
            let mut mask = Mask::empty(width, 24);
            for (x, y, reach) in seeds {
                for (dx, dy) in (-reach..=reach).flat_map(|dy| (-reach..=reach).map(move |dx| (dx, dy))) {
                    mask.put(x + dx, y + dy, (dx * dx + dy * dy) % 7 != 5);
                }
            }
            prop_assert_eq!(thin(&mask), by_definition(&mask));
        }
    }

    // scikit-image 0.26.0: the band |r - 100| <= 2.5 has 3156 pixels, and morphology.skeletonize leaves 564. Its table also takes corners
    // of stairs, which the rules as printed in 1984 keep, so it is the second thinning that is compared, and by length: a ring of radius
    // r that touches over corners has 4 sqrt 2 r = 565.7 pixels (worked out: each eighth advances r / sqrt 2 along one axis).
    #[test]
    fn a_ring_as_the_reference_thins_it() {
        let mut ring = Mask::empty(301, 301);
        for y in 0..301_i64 {
            for x in 0..301_i64 {
                let r = (((x - 150).pow(2) + (y - 150).pow(2)) as f64).sqrt();
                ring.put(x, y, (r - 100.0).abs() <= 2.5);
            }
        }
        assert_eq!(ring.count(), 3156);
        let twice = thin_twice(&ring);
        assert!((560..=568).contains(&twice.count()), "{}", twice.count());
        assert!(thin(&ring).count() >= twice.count());
        assert_eq!(twice.groups(true).len(), 1);
    }
}
