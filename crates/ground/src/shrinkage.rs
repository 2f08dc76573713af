//! How far a film would shrink while it can no longer flow, and how hard it pulls because the board holds it.

use measure::Pascals;

/// Shrinkage in one direction of a film that loses water after it stopped flowing: `(s - r) / (3 (1 - r))`, with `solid` the share of
/// water by volume when it stops flowing and `left` that which stays (S. G. Croll, J. Appl. Polym. Sci. 23 (1979) 847). Holds while it
/// is small. The water that was in the pot before does not enter.
///
/// ```
/// assert!((ground::small_shrinkage(0.20, 0.02) - 0.18 / 2.94).abs() < 1e-12); // 0.06122
/// ```
pub fn small_shrinkage(solid: f64, left: f64) -> f64 {
    (solid - left) / (3.0 * (1.0 - left))
}

/// The same for any size: one side of the cube that is lost, `1 - ((1 - s) / (1 - r))^(1/3)`.
///
/// ```
/// assert!((ground::shrinkage(0.20, 0.02) - 0.06541).abs() < 1e-5); // by hand: 1 - (0.8 / 0.98)^(1/3)
/// ```
pub fn shrinkage(solid: f64, left: f64) -> f64 {
    1.0 - ((1.0 - solid) / (1.0 - left)).cbrt()
}

/// How much of the gaps between touching grains the binder fills, 0..1: 1 up to the critical share.
pub fn gap_fill(powder: f64, critical: f64) -> f64 {
    if powder <= critical { 1.0 } else { (((1.0 - powder) / powder) * critical / (1.0 - critical)).min(1.0) }
}

/// Shrinkage in one direction of a filled film after its binder stopped flowing at `gel_water` (share of binder and water).
///
/// Grains that touch prop the film, but the bridges between them still shrink: the skeleton gives way as the `handover`-th power of
/// how full its gaps are (model choice). Continuous at the critical share.
pub fn filled_shrinkage(powder: f64, critical: f64, gel_water: f64, handover: f64) -> f64 {
    let grains = powder.min(critical);
    let wet = (grains / critical).max(grains + (1.0 - grains) / (1.0 - gel_water));
    let dry = (grains / critical).max(1.0);
    (1.0 - (dry / wet).cbrt()) * gap_fill(powder, critical).powf(handover)
}

/// Pull in the plane of a film that is held in both directions: `k E eps / (1 - nu)`; `relaxation` k is what is left once the binder
/// has given way, 1 for none.
pub fn pull(stiffness: Pascals, shrinkage: f64, relaxation: f64, poisson: f64) -> Pascals {
    Pascals::new(relaxation * stiffness.value() * shrinkage / (1.0 - poisson))
}

/// Further shrinkage, which does not give way again, after so many damp cycles: `most (1 - exp(-cycles / scale))` (model choice, see
/// `data/film.csv`).
pub fn damp_shrinkage(cycles: f64, most: f64, scale: f64) -> f64 {
    most * (1.0 - (-cycles / scale).exp())
}

/// Damp cycles after which a film shrinks by this much more; `None` for "never".
pub fn cycles_until(needed: f64, most: f64, scale: f64) -> Option<f64> {
    if needed <= 0.0 {
        return Some(0.0);
    }
    (needed < most).then(|| -scale * (1.0 - needed / most).ln())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn croll_by_hand() {
        // 0.18 / (3 x 0.98) = 0.06122; 1 - (0.8 / 0.98)^(1/3) = 1 - 0.93459 = 0.06541.
        assert!((small_shrinkage(0.20, 0.02) - 0.06122).abs() < 1e-5);
        assert!((shrinkage(0.20, 0.02) - 0.06541).abs() < 1e-5);
    }

    #[test]
    fn unfilled_binder_shrinks_by_the_water_it_gelled_with() {
        // By hand: 1 ml of binder holds 0.25 ml of water at a share of 0.20; 1 - (1 / 1.25)^(1/3) = 0.07168.
        assert!((filled_shrinkage(0.0, 0.6572, 0.20, 3.0) - 0.07168).abs() < 1e-5);
    }

    #[test]
    fn a_lean_ground_by_hand() {
        // Powder share 0.8241, critical 0.6572: gaps filled to 0.17590 / 0.82410 x 0.6572 / 0.3428 = 0.40921; at the critical share
        // 0.6572 + 0.3428 / 0.8 = 1.0857, 1 - 1.0857^(-1/3) = 0.02703; x 0.40921^3 = 0.001852.
        assert!((gap_fill(0.8241, 0.6572) - 0.4092).abs() < 1e-4);
        assert!((filled_shrinkage(0.8241, 0.6572, 0.20, 3.0) - 0.001_852).abs() < 2e-6);
    }

    /// Regression of the code, not evidence: cycles until a glue ground of much powder would need a further 0.148 % or 0.217 %.
    #[test]
    fn damp_cycles_by_hand() {
        // By hand: -30 ln(1 - 0.148 / 0.3) = 20.4; -30 ln(1 - 0.217 / 0.3) = 38.5; 0.354 % is above the most: never.
        assert!((cycles_until(0.00148, 0.003, 30.0).unwrap() - 20.4).abs() < 0.2);
        assert!((cycles_until(0.00217, 0.003, 30.0).unwrap() - 38.5).abs() < 0.4);
        assert_eq!(cycles_until(0.00354, 0.003, 30.0), None);
        assert!((damp_shrinkage(20.4, 0.003, 30.0) - 0.00148).abs() < 1e-5);
    }

    proptest! {
        #[test]
        fn shrinkage_is_continuous_at_the_critical_share(critical in 0.3f64..0.8, handover in 1.5f64..5.0) {
            let (under, over) = (filled_shrinkage(critical - 1e-9, critical, 0.2, handover), filled_shrinkage(critical + 1e-9, critical, 0.2, handover));
            prop_assert!((under - over).abs() < 1e-6);
        }

        #[test]
        fn more_powder_never_shrinks_more(critical in 0.3f64..0.8, a in 0.0f64..0.99, b in 0.0f64..0.99) {
            let (less, more) = (a.min(b), a.max(b));
            prop_assert!(filled_shrinkage(more, critical, 0.2, 3.0) <= filled_shrinkage(less, critical, 0.2, 3.0) + 1e-12);
        }
    }
}
