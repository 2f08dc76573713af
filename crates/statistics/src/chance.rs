//! Chance that can be repeated: the same seed gives the same draws for ever.

/// A small generator of random numbers, SplitMix64 (Steele, Lea and Flood 2014, *Fast splittable pseudorandom number generators*,
/// OOPSLA). Good enough to shuffle boards; never for secrets. Its draws are part of stored plans: don't change them.
///
/// ```
/// let mut chance = statistics::Chance::new(1_234_567);
/// assert_eq!(chance.next_number(), 6_457_827_717_110_365_317);
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chance {
    state: u64,
}

impl Chance {
    /// A generator from its seed.
    pub const fn new(seed: u64) -> Self {
        Self { state: seed }
    }

    /// The next 64 bits.
    pub const fn next_number(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A whole number below `end`, each as likely as the others; 0 when `end` is 0.
    pub const fn below(&mut self, end: u64) -> u64 {
        if end < 2 {
            return 0;
        }
        // Draws from the incomplete last round are thrown away, or small numbers would come too often.
        let whole = u64::MAX - u64::MAX % end;
        loop {
            let drawn = self.next_number();
            if drawn < whole {
                return drawn % end;
            }
        }
    }

    /// Puts a list in random order, each order as likely as the others (Fisher and Yates 1938; the form from the end is Durstenfeld's,
    /// 1964).
    pub fn shuffle<T>(&mut self, list: &mut [T]) {
        for last in (1..list.len()).rev() {
            let other = usize::try_from(self.below(last as u64 + 1)).unwrap_or(0);
            list.swap(last, other);
        }
    }
}
