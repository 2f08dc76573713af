//! What boards taught about the thickness at which grounds crack, put onto the draws.

/// How far boards moved the thicknesses at which the draws crack, and how much closer they lie together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lesson {
    /// All of them times this.
    pub times: f64,
    /// Their spread in the logarithm times this.
    pub spread: f64,
}

impl Lesson {
    /// Nothing was learned.
    pub const NONE: Self = Self { times: 1.0, spread: 1.0 };

    /// Moves thicknesses about their own middle.
    pub(crate) fn apply(&self, limits: &mut [f64]) {
        if *self == Self::NONE || limits.is_empty() {
            return;
        }
        let mut order = limits.to_vec();
        let half = order.len() / 2;
        let middle = *order.select_nth_unstable_by(half, f64::total_cmp).1;
        for limit in limits {
            *limit = middle * self.times * (*limit / middle).powf(self.spread);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_middle_moves_and_the_rest_draws_together() {
        // By hand: middle 200; half as thick, with half the spread in the logarithm: 50 / 200 = 1/4 becomes 1/2, so 100 x 1/2 = 50.
        let mut limits = vec![800.0, 50.0, 200.0];
        Lesson { times: 0.5, spread: 0.5 }.apply(&mut limits);
        assert!(limits.iter().zip([200.0, 50.0, 100.0]).all(|(ours, hand)| (ours - hand).abs() < 1e-9), "{limits:?}");
        Lesson::NONE.apply(&mut limits);
        assert!((limits[2] - 100.0).abs() < 1e-12);
    }
}
