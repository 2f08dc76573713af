//! Places of a row as bits, 64 a word, the first of them the lowest: most words of a photo are empty and passed over in one go.
#![expect(clippy::inline_always, reason = "only what is taken into a caller uses the widest instructions that this machine has")]

use fearless_simd::prelude::*;
use fearless_simd::{Level, u8x64};

/// Places a word.
pub(crate) const PLACES: usize = 64;

/// Where a row lies above a value; beyond its end nothing does.
pub(crate) fn above(row: &[u8], value: u8) -> Vec<u64> {
    fearless_simd::dispatch!(Level::new(), simd => words(simd, row, |byte| byte, value))
}

/// Where a row is set; beyond its end nothing is.
pub(crate) fn set(row: &[bool]) -> Vec<u64> {
    fearless_simd::dispatch!(Level::new(), simd => words(simd, row, u8::from, 0))
}

#[inline(always)]
fn words<S: Simd, T: Copy>(simd: S, row: &[T], byte: impl Fn(T) -> u8, value: u8) -> Vec<u64> {
    let word = |part: &[T]| {
        let mut bytes = [0; PLACES];
        for (to, from) in bytes.iter_mut().zip(part) {
            *to = byte(*from);
        }
        u8x64::simd_from(simd, bytes).simd_gt(value).to_bitmask()
    };
    let (whole, rest) = row.as_chunks::<PLACES>();
    let last = (!rest.is_empty()).then(|| word(rest));
    whole.iter().map(|part| word(part.as_slice())).chain(last).collect()
}

/// Numbers of the bits that are set, from the lowest on.
pub(crate) fn ones(mut word: u64) -> impl Iterator<Item = usize> {
    std::iter::from_fn(move || {
        let first = word.trailing_zeros();
        // Takes the lowest one away.
        word &= word.wrapping_sub(1);
        (first < u64::BITS).then_some(first as usize)
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{above, ones, set};

    proptest! {
        // By definition, place by place.
        #[test]
        fn bits_are_places(row in proptest::collection::vec(0_u8..6, 0..300), value in 0_u8..6) {
            let places = |words: Vec<u64>| -> Vec<usize> { words.into_iter().enumerate().flat_map(|(k, word)| ones(word).map(move |bit| 64 * k + bit)).collect() };
            let known: Vec<usize> = (0..row.len()).filter(|&at| row[at] > value).collect();
            prop_assert_eq!(places(above(&row, value)), known.clone());
            let yes: Vec<bool> = row.iter().map(|&byte| byte > value).collect();
            prop_assert_eq!(places(set(&yes)), known);
        }
    }
}
