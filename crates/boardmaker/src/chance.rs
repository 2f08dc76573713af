//! Chance from a seed.

/// A stream of numbers from a seed (SplitMix64: Steele, Lea and Flood 2014, constants from memory).
#[derive(Debug, Clone)]
pub struct Chance(u64);

impl Chance {
    /// A stream; other seeds give other numbers.
    pub const fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ 0x5851_F42D_4C95_7F2D)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        mix(self.0)
    }

    /// Even between 0 and 1.
    pub fn even(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Even between two ends.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.even()
    }

    /// Bell-shaped with deviation 1.
    pub fn bell(&mut self) -> f64 {
        (-2.0 * self.even().max(1e-300).ln()).sqrt() * (std::f64::consts::TAU * self.even()).cos()
    }
}

/// A number that looks like chance for each whole number.
pub(crate) const fn mix(value: u64) -> u64 {
    let mut z = value;
    z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    z ^ (z >> 31)
}

/// Bell-shaped noise for a place, without a stream.
pub(crate) fn bell_at(seed: u64, x: i64, y: i64) -> f64 {
    let bits = mix(seed ^ mix(x as u64 ^ mix((y as u64).wrapping_mul(0x9E37_79B9))));
    // Four even numbers of 16 bits: their sum is near a bell of variance 1/3.
    let sum: f64 = (0..4).map(|k| (bits >> (16 * k) & 0xFFFF) as f64 / 65_535.0 - 0.5).sum();
    sum * 3.0_f64.sqrt()
}

/// Smooth noise of deviation near 1 from a grid of bells; neighbouring places share a cell of the grid, so its corners are kept.
pub(crate) struct SmoothNoise {
    seed: u64,
    cell: Option<(f64, f64)>,
    corners: [f64; 4],
}

impl SmoothNoise {
    pub(crate) const fn new(seed: u64) -> Self {
        Self { seed, cell: None, corners: [0.0; 4] }
    }

    pub(crate) fn at(&mut self, x: f64, y: f64) -> f64 {
        let (i, j) = (x.floor(), y.floor());
        if self.cell != Some((i, j)) {
            let at = |dx: i64, dy: i64| bell_at(self.seed, i as i64 + dx, j as i64 + dy);
            self.corners = [at(0, 0), at(1, 0), at(0, 1), at(1, 1)];
            self.cell = Some((i, j));
        }
        let ease = |t: f64| t * t * (3.0 - 2.0 * t);
        let (a, b) = (ease(x - i), ease(y - j));
        let [p, q, r, s] = self.corners;
        let value = (p * (1.0 - a) + q * a) * (1.0 - b) + (r * (1.0 - a) + s * a) * b;
        value / 0.68
    }
}
