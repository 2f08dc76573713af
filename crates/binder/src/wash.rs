//! Rinsing the curd.

use measure::{Millilitres, Share};

/// What is left of the acid and milk sugar after `times` rinses, if each mixes fully: (hold / (hold + wash))^times. `hold` is the
/// liquid that the drained curd keeps, `wash` the water of one rinse; coarse lumps use only part of it.
///
/// ```
/// use measure::Millilitres;
/// let left = binder::washed_share(Millilitres::new(100.0), Millilitres::new(400.0), 3);
/// assert!((left.value() - 0.008).abs() < 1e-12);
/// ```
pub fn washed_share(hold: Millilitres, wash: Millilitres, times: u32) -> Share {
    let whole = hold + wash;
    // Curd that keeps no liquid has nothing to rinse out.
    let once = if whole.value() > 0.0 { hold / whole } else { 1.0 };
    Share::new(once.powf(f64::from(times)))
}

/// Rinses that bring the liquid in the curd from `times_too_strong` times its goal down to the goal.
///
/// `None` if no number of rinses does, because the rinse is empty.
///
/// ```
/// use measure::Millilitres;
/// assert_eq!(binder::washes_needed(70.0, Millilitres::new(293.0), Millilitres::new(1000.0)), Some(3));
/// ```
pub fn washes_needed(times_too_strong: f64, hold: Millilitres, wash: Millilitres) -> Option<u32> {
    if times_too_strong <= 1.0 || hold.value() <= 0.0 {
        return Some(0);
    }
    let rinses = (times_too_strong.ln() / (wash / hold).ln_1p()).ceil();
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "checked to lie within the type")]
    (rinses > 0.0 && rinses <= f64::from(u32::MAX)).then_some(rinses as u32)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn rinses_by_hand() {
        // (293 / 1293)^3 = 0.22660^3 = 0.01164. (100 / 500)^3 = 0.008. ln 70 / ln 4.41 = 4.248 / 1.484 = 2.86, so 3.
        let left = |hold, wash, times| washed_share(Millilitres::new(hold), Millilitres::new(wash), times).value();
        assert!((left(293.0, 1000.0, 3) - 0.011_64).abs() < 1e-5);
        assert!((left(100.0, 400.0, 3) - 0.008).abs() < 1e-12);
        assert!((left(100.0, 400.0, 0) - 1.0).abs() < 1e-12);
        assert_eq!(washes_needed(70.0, Millilitres::new(100.0), Millilitres::new(341.0)), Some(3));
        assert_eq!(washes_needed(70.0, Millilitres::new(100.0), Millilitres::ZERO), None);
        assert_eq!(washes_needed(f64::NAN, Millilitres::new(100.0), Millilitres::new(100.0)), None);
        assert_eq!(washes_needed(0.5, Millilitres::new(100.0), Millilitres::ZERO), Some(0));
    }

    proptest! {
        #[test]
        fn more_rinses_never_leave_more(hold in 0.0f64..1e4, wash in 0.0f64..1e4, times in 0u32..50) {
            let left = |times| washed_share(Millilitres::new(hold), Millilitres::new(wash), times);
            prop_assert!(left(times + 1) <= left(times));
            prop_assert!((0.0..=1.0).contains(&left(times).value()));
        }

        #[test]
        fn the_rinses_needed_are_enough_and_no_more(ratio in 1.01f64..1e4, hold in 1.0f64..1e4, wash in 1.0f64..1e4) {
            let (hold, wash) = (Millilitres::new(hold), Millilitres::new(wash));
            let times = washes_needed(ratio, hold, wash).unwrap();
            prop_assert!(washed_share(hold, wash, times).value() * ratio <= 1.0 + 1e-9);
            prop_assert!(washed_share(hold, wash, times - 1).value() * ratio >= 1.0 - 1e-9);
        }
    }
}
