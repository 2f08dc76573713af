//! Inputs with their spread, and draws that need no state.

use statrs::distribution::{ContinuousCDF, Normal};

/// Names one physical unknown. Two places that name the same key share the same unknown: that is the whole of correlation here.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct InputKey(String);

impl InputKey {
    /// A key such as `bulk_density.natural-chalk`.
    pub fn new(name: impl Into<String>) -> Self {
        Self(name.into())
    }
    /// The key as text.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

/// How far an input may lie from its best value.
#[derive(Debug, Clone, PartialEq)]
pub enum Spread {
    /// Known as far as it matters.
    Exact,
    /// Anywhere between, alike.
    Even(f64, f64),
    /// Bell-shaped about the best value with this standard deviation.
    Normal(f64),
    /// Bell-shaped in the logarithm about the best value, as wide as a range that holds nine of ten (low, high; both above 0).
    LogNormal90(f64, f64),
    /// One of several (value, weight); weights need not add to one.
    Choice(Vec<(f64, f64)>),
    /// Values that were measured; each as likely as the next.
    Measured(Vec<f64>),
    /// Values that belong, one by one, to the measured values of another unknown: each draw takes the two from the same place.
    Tied(InputKey, Vec<f64>),
}

/// One physical unknown: its best value, its spread and where both come from.
#[derive(Debug, Clone, PartialEq)]
pub struct Input {
    /// Which unknown.
    pub key: InputKey,
    /// In the painter's words, such as "what a level cup of chalk weighs".
    pub plain: String,
    /// The value that hand arithmetic would use.
    pub best: f64,
    /// Its spread.
    pub spread: Spread,
    /// Unit of `best`, as text.
    pub unit: &'static str,
    /// Where the value comes from.
    pub source: String,
}

impl Input {
    /// The value at this quantile (`u` inside 0..1).
    ///
    /// ```
    /// use measure::{Input, InputKey, Spread};
    /// let cup = Input { key: InputKey::new("cup"), plain: "which cup".into(), best: 236.6, unit: "ml",
    ///     spread: Spread::Choice(vec![(236.6, 0.6), (250.0, 0.4)]), source: "judgement, no source".into() };
    /// assert_eq!(cup.quantile(0.5), 236.6);
    /// assert_eq!(cup.quantile(0.7), 250.0);
    /// ```
    pub fn quantile(&self, u: f64) -> f64 {
        match &self.spread {
            Spread::Exact => self.best,
            Spread::Even(low, high) => low + u * (high - low),
            Spread::Normal(deviation) => self.best + deviation * standard_normal(u),
            Spread::LogNormal90(low, high) => {
                let deviation = (high / low).ln() / (2.0 * NINE_OF_TEN);
                self.best * (deviation * standard_normal(u)).exp()
            }
            Spread::Choice(options) => {
                let total: f64 = options.iter().map(|(_, weight)| weight).sum();
                let mut left = u * total;
                for (value, weight) in options {
                    if left < *weight {
                        return *value;
                    }
                    left -= weight;
                }
                options.last().map_or(self.best, |(value, _)| *value)
            }
            Spread::Measured(values) | Spread::Tied(_, values) => {
                #[expect(
                    clippy::cast_possible_truncation,
                    clippy::cast_sign_loss,
                    clippy::cast_precision_loss,
                    reason = "an index below the length"
                )]
                let index = (u * values.len() as f64) as usize;
                values.get(index).or(values.last()).copied().unwrap_or(self.best)
            }
        }
    }
}

/// Half-width, in standard deviations, of the range that holds nine of ten of a bell curve.
const NINE_OF_TEN: f64 = 1.644_853_626_951_472_7;

fn standard_normal(u: f64) -> f64 {
    // `Normal::standard()` can't fail; its inverse is accurate to about 1e-15, far below any input here.
    Normal::standard().inverse_cdf(u)
}

/// How inputs are sampled. A draw depends on the seed, the key and the number of the draw alone: two cards, two pages and the
/// command line share draws, so "A minus B" is a subtraction draw by draw and a page can be rebuilt exactly.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Draws {
    /// Start of the sequence.
    pub seed: u64,
    /// How many draws.
    pub count: usize,
}

impl Draws {
    /// The seed and count that pages and commands use unless told otherwise.
    pub const USUAL: Self = Self { seed: 20_260_101, count: 2_000 };

    /// The value of this input in draw `index`.
    pub fn value(&self, input: &Input, index: usize) -> f64 {
        if input.spread == Spread::Exact {
            return input.best;
        }
        let key = if let Spread::Tied(other, _) = &input.spread { other } else { &input.key };
        input.quantile(self.uniform(key, index))
    }

    /// A number strictly inside 0..1, fixed by seed, key and index.
    pub fn uniform(&self, key: &InputKey, index: usize) -> f64 {
        let mut state = fnv1a(key.as_str().as_bytes()) ^ self.seed.rotate_left(17);
        state = state.wrapping_add((index as u64).wrapping_mul(0x9E37_79B9_7F4A_7C15));
        let bits = split_mix(state) >> 11;
        #[expect(clippy::cast_precision_loss, reason = "53 bits fit a double exactly")]
        let unit = (bits as f64 + 0.5) / (1u64 << 53) as f64;
        unit
    }
}

/// FNV-1a, 64 bit (Fowler, Noll, Vo; public domain): a key's text as a number.
fn fnv1a(bytes: &[u8]) -> u64 {
    bytes.iter().fold(0xcbf2_9ce4_8422_2325, |hash, byte| (hash ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3))
}

/// The output step of SplitMix64 (Steele, Lea, Flood 2014), applied twice so that near keys part.
fn split_mix(seed: u64) -> u64 {
    let once = |mut z: u64| {
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    };
    once(once(seed).wrapping_add(0x9E37_79B9_7F4A_7C15))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn input(spread: Spread) -> Input {
        Input { key: InputKey::new("x"), plain: String::new(), best: 0.85, spread, unit: "g/ml", source: String::new() }
    }

    #[test]
    fn normal_quantiles_match_printed_tables() {
        // Standard normal tables: z(0.9) = 1.2816, z(0.95) = 1.6449, z(0.975) = 1.9600.
        let unit = Input { best: 0.0, ..input(Spread::Normal(1.0)) };
        for (u, z) in [(0.9, 1.2816), (0.95, 1.6449), (0.975, 1.9600), (0.5, 0.0)] {
            assert!((unit.quantile(u) - z).abs() < 5e-5, "{u}");
        }
    }

    #[test]
    fn nine_of_ten_lie_within_a_range_about_the_middle() {
        let chalk = Input { best: (0.6f64 * 1.12).sqrt(), ..input(Spread::LogNormal90(0.6, 1.12)) };
        assert!((chalk.quantile(0.05) - 0.6).abs() < 1e-9);
        assert!((chalk.quantile(0.95) - 1.12).abs() < 1e-9);
    }

    #[test]
    fn draws_are_even_and_keys_are_independent() {
        let draws = Draws { seed: 1, count: 20_000 };
        let (a, b) = (InputKey::new("a"), InputKey::new("b"));
        let count = draws.count as f64;
        let (mut sum, mut square, mut cross) = (0.0, 0.0, 0.0);
        for i in 0..draws.count {
            let (x, y) = (draws.uniform(&a, i), draws.uniform(&b, i));
            assert!(x > 0.0 && x < 1.0);
            sum += x;
            square += x * x;
            cross += (x - 0.5) * (y - 0.5);
        }
        assert!((sum / count - 0.5).abs() < 0.01);
        assert!((square / count - 1.0 / 3.0).abs() < 0.01);
        assert!((cross / count * 12.0).abs() < 0.03);
    }

    /// Arithmetic: the second value is always ten times the first, so each draw of the two keeps that.
    #[test]
    fn tied_values_move_together() {
        let first = Input { key: InputKey::new("first"), ..input(Spread::Measured(vec![1.0, 2.0, 3.0, 4.0])) };
        let tied = Spread::Tied(first.key.clone(), vec![10.0, 20.0, 30.0, 40.0]);
        let second = Input { key: InputKey::new("second"), ..input(tied) };
        for index in 0..200 {
            let (one, other) = (Draws::USUAL.value(&first, index), Draws::USUAL.value(&second, index));
            assert!((other - 10.0 * one).abs() < 1e-12, "{index}: {one} and {other}");
        }
    }

    #[test]
    fn the_same_key_gives_the_same_draw() {
        let spread = input(Spread::Even(0.0, 1.0));
        assert_eq!(Draws::USUAL.value(&spread, 7).to_bits(), Draws::USUAL.value(&spread.clone(), 7).to_bits());
    }
}
