//! A quick hash for the reader's own tables. Only words of the data files are ever stored in them, so nobody outside can make them slow.

use std::hash::{BuildHasherDefault, Hasher};

/// Builds [`Quick`] hashers.
pub(super) type QuickBuild = BuildHasherDefault<Quick>;

/// Multiplies and rotates, eight bytes at a time.
#[derive(Debug, Default, Clone, Copy)]
pub(super) struct Quick(u64);

/// An odd number with its bits well spread: the golden ratio times 2^64.
const SPREAD: u64 = 0x9E37_79B9_7F4A_7C15;

impl Quick {
    fn add(&mut self, word: u64) {
        self.0 = (self.0.rotate_left(5) ^ word).wrapping_mul(SPREAD);
    }
}

impl Hasher for Quick {
    fn write(&mut self, bytes: &[u8]) {
        for chunk in bytes.chunks(8) {
            let mut word = [0u8; 8];
            for (to, from) in word.iter_mut().zip(chunk) {
                *to = *from;
            }
            self.add(u64::from_le_bytes(word));
        }
    }
    fn write_u32(&mut self, word: u32) {
        self.add(u64::from(word));
    }
    fn write_u8(&mut self, word: u8) {
        self.add(u64::from(word));
    }
    fn finish(&self) -> u64 {
        // The tables look at the upper and the lower bits: mix them once more.
        self.0 ^ (self.0 >> 29)
    }
}
