//! Where a falling function crosses nothing.

/// Rounds after which the search ends with what it has; halving alone needs 50.
const ROUNDS: usize = 120;

/// Where `falling` crosses 0 between `low` and `high`, to `close` in its own unit; begins at `guess`. Straight lines through the last two
/// points, held inside the bracket, and halving where they gain too little.
///
/// `None` if it has one sign at both ends, or gives no number.
pub(crate) fn falling(mut falling: impl FnMut(f64) -> f64, ends: (f64, f64), guess: f64, close: f64) -> Option<f64> {
    falling_from(&mut falling, ends, guess, None, close).map(|(at, _)| at)
}

/// The same with the steepness, where it is known from nearby, for the first step; gives the steepness that it met as well.
pub(crate) fn falling_from(
    falling: &mut impl FnMut(f64) -> f64,
    ends: (f64, f64),
    guess: f64,
    mut steepness: Option<f64>,
    close: f64,
) -> Option<(f64, Option<f64>)> {
    let (mut low, mut high) = ends;
    let (mut low_known, mut high_known) = (false, false);
    let mut at = if guess > low && guess < high { guess } else { 0.5 * (low + high) };
    let mut last: Option<(f64, f64)> = None;
    let mut narrow = high - low;
    for round in 0..ROUNDS {
        let value = falling(at);
        if value.is_nan() {
            return None;
        }
        if value.abs() <= close {
            return Some((at, steepness));
        }
        if value > 0.0 {
            (low, low_known) = (at, true);
        } else {
            (high, high_known) = (at, true);
        }
        if high - low <= 4.0 * f64::EPSILON * high.abs().max(1.0) {
            // As near as numbers lie: an end that was never met by a change of sign is no crossing.
            return (low_known && high_known).then_some((at, steepness));
        }
        if let Some((before, there)) = last {
            steepness = Some((there - value) / (at - before)).filter(|steepness| *steepness > 0.0);
        }
        // A first step into the dark is a small part of the bracket, towards the crossing.
        let straight = steepness.map_or(at + (0.02 * (ends.1 - ends.0)).copysign(value), |steepness| at + value / steepness);
        last = Some((at, value));
        // Every third round the bracket must have halved, else it is halved here.
        let slow = round % 3 == 2 && high - low > 0.5 * narrow;
        if round % 3 == 2 {
            narrow = high - low;
        }
        let (least, most) = (low, high);
        at = if slow && low_known && high_known {
            0.5 * (low + high)
        } else if straight > least && straight < most {
            straight
        } else if !low_known && straight <= least {
            // Towards an end that was not looked at yet.
            0.5 * (least + at)
        } else if !high_known && straight >= most {
            0.5 * (most + at)
        } else {
            0.5 * (low + high)
        };
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_function_of_one_sign_has_no_crossing() {
        assert_eq!(falling(|x| 5.0 - x, (0.0, 1.0), 0.5, 1e-12), None);
        assert_eq!(falling(|x| -5.0 - x, (0.0, 1.0), 0.5, 1e-12), None);
        assert_eq!(falling(|_| f64::NAN, (0.0, 1.0), 0.5, 1e-12), None);
    }

    proptest! {
        #[test]
        fn steep_and_flat_crossings_are_found(at in 1.2f64..12.8, guess in 1.0f64..13.0, steep in 0.1f64..30.0, slope in 1e-3f64..10.0) {
            let function = |x: f64| -slope * (x - at) - (steep * (x - at)).tanh();
            let found = falling(function, (1.0, 13.0), guess, 1e-12).unwrap();
            prop_assert!((found - at).abs() < 1e-8);
        }
    }
}
