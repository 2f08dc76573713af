//! Rinsing the curd.

use measure::{Grams, Millilitres, Share};

use crate::book::BinderBook;
use crate::charge::falling;
use crate::error::BinderError;

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

/// The pH that washed curd comes to in alkaline wash water: `alkalinity` in mg/l as calcium carbonate (0.02 meq each), all the water that
/// went through, and the dry casein. Above pH 4.8 curd softens and is lost.
///
/// # Errors
/// No casein.
///
/// ```
/// use binder::{BinderBook, wash_water_lift};
/// use measure::{Grams, Millilitres};
/// // 3 l at 200 mg/l bring 12 meq to 97.6 g: 0.123 meq/g
/// let ph = wash_water_lift(BinderBook::builtin()?, 200.0, Millilitres::new(3000.0), Grams::new(97.6))?;
/// assert!((ph - 4.9).abs() < 0.05);
/// # Ok::<(), binder::BinderError>(())
/// ```
pub fn wash_water_lift(book: &BinderBook, alkalinity: f64, water: Millilitres, casein: Grams) -> Result<f64, BinderError> {
    let taken = alkalinity * 0.02 * water.value() / 1000.0 / casein.value();
    let charge = book.casein_charge();
    falling(|ph| taken + charge.at(ph), (2.0, 9.0), 4.7, 1e-10).ok_or(BinderError::NoBalance)
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

    #[test]
    fn hard_water_lifts_the_curd() {
        // Written out (base that casein takes up, docs/methods/milk-balance.py): 0.05 meq/g leads to pH 4.71, 0.15 to 5.01.
        let book = BinderBook::builtin().unwrap();
        let lift = |per_gram: f64| wash_water_lift(book, 50.0 * per_gram, Millilitres::new(1000.0), Grams::new(1.0)).unwrap();
        assert!((lift(0.05) - 4.71).abs() < 0.02 && (lift(0.15) - 5.01).abs() < 0.02);
        assert!(wash_water_lift(book, 100.0, Millilitres::new(1000.0), Grams::ZERO).is_err());
    }

    #[test]
    fn milk_sugar_after_rinses() {
        // By hand, 97.6 g casein, liquid of 46.7 g/l: 293 ml hold 13.68 g, 14.0 % of the casein; after three rinses of a litre
        // (293 / 1293)^3 = 0.01164: 0.16 %; of half a litre (293 / 793)^3 = 0.0504: 0.71 %; squeezed (181 ml) 8.7 % and 0.03 %.
        let percent = |hold: f64, wash: f64, times: u32| {
            4.67 * hold / 97.6 * washed_share(Millilitres::new(hold), Millilitres::new(wash), times).value()
        };
        for (hold, wash, times, expected, slack) in [
            (293.0, 1000.0, 0, 14.0, 0.05),
            (293.0, 1000.0, 3, 0.16, 0.005),
            (293.0, 500.0, 3, 0.71, 0.01),
            (181.0, 1000.0, 0, 8.7, 0.05),
            (181.0, 1000.0, 3, 0.03, 0.005),
            (391.0, 2000.0, 3, 0.08, 0.005),
        ] {
            assert!((percent(hold, wash, times) - expected).abs() <= slack, "{hold} {wash} {times}");
        }
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
