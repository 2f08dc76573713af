//! Codes that hide which board is which, and a shuffled order to read them in.
//!
//! All chance comes from SplitMix64 (Steele, Lea and Flood, *Fast Splittable Pseudorandom Number Generators*, 2014): the same seed
//! gives the same codes and the same order, on every machine.

/// A board number for which there is no code.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("there are codes for {most} boards, numbered from 0; board number {index} has none. Split the trial in two")]
pub struct BlindError {
    /// Number of codes.
    pub most: usize,
    /// The board number.
    pub index: usize,
}

/// No vowels, so that no words come out, and nothing that looks like a figure in handwriting.
const LETTERS: [char; 16] = ['C', 'D', 'F', 'H', 'J', 'K', 'L', 'M', 'N', 'P', 'R', 'T', 'V', 'W', 'X', 'Y'];
/// 0 and 1 look like letters.
const FIGURES: [char; 8] = ['2', '3', '4', '5', '6', '7', '8', '9'];
/// A code is a letter, a figure and a letter: 4 + 3 + 4 bits.
const BITS: u32 = 11;
const CODES: usize = 1 << BITS;

/// Keeps codes and order apart that come from one seed.
const FOR_CODES: u64 = 0x636f_6465;
const FOR_ORDER: u64 = 0x6f72_6465;

/// The code of board number `index` (from 0): a letter, a figure and a letter, such as `K4T`. Two boards of one seed never share a code,
/// and neighbours look no more alike than strangers.
///
/// # Errors
/// The number is 2048 or more.
///
/// ```
/// let code = trials::blind::code(7, 0)?;
/// assert_eq!(code.len(), 3);
/// assert_eq!(code, trials::blind::code(7, 0)?);
/// assert_ne!(code, trials::blind::code(7, 1)?);
/// # Ok::<(), trials::blind::BlindError>(())
/// ```
pub fn code(seed: u64, index: usize) -> Result<String, BlindError> {
    let missing = || BlindError { most: CODES, index };
    if index >= CODES {
        return Err(missing());
    }
    let mask = CODES as u64 - 1;
    let mut chance = SplitMix::new(seed ^ FOR_CODES);
    let mut number = index as u64;
    // Each step can be undone (a fold of the high half into the low one, an odd multiplier, a shift of the start), so all codes differ.
    for _ in 0..6 {
        number ^= number >> (BITS / 2 + 1);
        number = number.wrapping_mul(chance.next() | 1).wrapping_add(chance.next()) & mask;
    }
    let pick = |table: &[char], at: u64| usize::try_from(at).ok().and_then(|at| table.get(at).copied()).ok_or_else(missing);
    Ok(String::from_iter([pick(&LETTERS, number & 15)?, pick(&FIGURES, number >> 4 & 7)?, pick(&LETTERS, number >> 7)?]))
}

/// Numbers 0 to `count` - 1 in shuffled order, every order as likely as any other (Fisher and Yates, Durstenfeld 1964).
///
/// ```
/// let order = trials::blind::order(7, 12);
/// assert_eq!(order, trials::blind::order(7, 12));
/// let mut sorted = order.clone();
/// sorted.sort_unstable();
/// assert_eq!(sorted, (0..12).collect::<Vec<_>>());
/// ```
pub fn order(seed: u64, count: usize) -> Vec<usize> {
    let mut chance = SplitMix::new(seed ^ FOR_ORDER);
    let mut order: Vec<usize> = (0..count).collect();
    for last in (1..count).rev() {
        order.swap(last, chance.below(last + 1));
    }
    order
}

/// SplitMix64.
struct SplitMix(u64);

impl SplitMix {
    fn new(seed: u64) -> Self {
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A number from 0 to `count` - 1, each as likely: numbers in the last, incomplete round are thrown away.
    fn below(&mut self, count: usize) -> usize {
        let count = (count as u64).max(1);
        let rounds = u64::MAX / count;
        loop {
            let draw = self.next();
            if draw / count < rounds {
                // The remainder is below `count`, which came from a usize.
                return usize::try_from(draw % count).unwrap_or(0);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use super::*;

    #[test]
    fn the_generator_is_the_published_one() {
        // First outputs of SplitMix64 for seed 1234567, as printed by Rosetta Code ("Pseudo-random numbers/Splitmix64").
        let mut chance = SplitMix::new(1_234_567);
        let wanted = [
            6_457_827_717_110_365_317,
            3_203_168_211_198_807_973,
            9_817_491_932_198_370_423,
            4_593_380_528_125_082_431,
            16_408_922_859_458_223_821,
        ];
        assert_eq!([(); 5].map(|()| chance.next()), wanted);
    }

    #[test]
    fn no_two_boards_share_a_code() {
        for seed in [0, 1, 42, u64::MAX] {
            let codes: HashSet<String> = (0..CODES).map(|index| code(seed, index).unwrap()).collect();
            assert_eq!(codes.len(), CODES);
        }
        assert_eq!(code(1, CODES).unwrap_err().index, CODES);
    }

    #[test]
    fn codes_do_not_follow_the_order_of_boards() {
        // Of 24 boards in random order a rank correlation has mean 0 and standard deviation 1/sqrt(23) = 0.2085 (Kendall and Gibbons).
        let boards: Vec<f64> = (0..24).map(f64::from).collect();
        let mut squares = 0.0;
        let mut sum = 0.0;
        for seed in 0..2_000 {
            let codes: Vec<String> = (0..24).map(|index| code(seed, index).unwrap()).collect();
            let mut sorted = codes.clone();
            sorted.sort();
            let places: Vec<f64> = codes.iter().map(|one| sorted.iter().position(|other| other == one).unwrap() as f64).collect();
            let rho = statistics::rank_correlation(&boards, &places);
            sum += rho;
            squares += rho * rho;
        }
        assert!((sum / 2_000.0).abs() < 0.02, "{}", sum / 2_000.0);
        assert!(((squares / 2_000.0).sqrt() - 0.2085).abs() < 0.015, "{}", (squares / 2_000.0).sqrt());
    }

    #[test]
    fn a_letter_tells_nothing_about_the_board() {
        // Chi-square with 15 degrees of freedom: 37.7 is passed once in a thousand (printed tables).
        for place in [0, 2] {
            for index in [0, 1, 2, 11] {
                let mut counts = [0.0_f64; 16];
                for seed in 0..4_000 {
                    let letter = code(seed, index).unwrap().chars().nth(place).unwrap();
                    counts[LETTERS.iter().position(|one| *one == letter).unwrap()] += 1.0;
                }
                let chi: f64 = counts.iter().map(|count| (count - 250.0).powi(2) / 250.0).sum();
                assert!(chi < 37.7, "place {place}, board {index}: {chi}");
            }
        }
    }

    #[test]
    fn every_order_is_as_likely() {
        // 4 boards have 24 orders; chi-square with 23 degrees of freedom: 49.7 is passed once in a thousand (printed tables).
        let mut counts = std::collections::HashMap::new();
        for seed in 0..24_000 {
            *counts.entry(order(seed, 4)).or_insert(0.0_f64) += 1.0;
        }
        let chi: f64 = counts.values().map(|count| (count - 1_000.0).powi(2) / 1_000.0).sum();
        assert!(counts.len() == 24 && chi < 49.7, "{chi}");
        assert!(order(3, 0).is_empty() && order(3, 1) == [0]);
    }
}
