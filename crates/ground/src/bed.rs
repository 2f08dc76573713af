//! The bare bed of grains while it is wet: water pulls it together. It ranks powders by fineness and is no limit for any coat.

use measure::{Micrometres, Pascals};

/// Pull of water on its surface with protein in it, N/m (from memory: 0.045 to 0.055; clean water 0.072).
const SURFACE: f64 = 0.05;
/// Stiffness in shear of a grain of calcite (from memory).
const GRAIN: Pascals = Pascals::new(32e9);
/// Neighbours that a grain touches (from memory).
const CONTACTS: f64 = 6.0;
/// Share of a close bed that is grain.
const PACKED: f64 = 0.64;
/// What the water can pull, in units of surface pull over radius: `3 phi / (1 - phi)` of a bed packed at 0.64.
const MOST_PULL: f64 = 3.0 * PACKED / (1.0 - PACKED);
/// Front factor of the law (M. S. Tirumkudulu and W. B. Russel, Langmuir 21 (2005) 4938; from memory, good to 1.6 times).
const FRONT: f64 = 0.64;

/// The thickness at which a wet bed of bare grains would crack under this pull: `0.64 sqrt(G M phi / 2 gamma) (2 gamma / P)^(3/2)`
/// (Tirumkudulu and Russel, Langmuir 21 (2005) 4938). Many coats several times as thick hold, since binder bridges carry them: nothing
/// but the ratio of two of these is ever used.
fn bed_thickness(surface: f64, pull: Pascals) -> Micrometres {
    let metres = FRONT * (GRAIN.value() * CONTACTS * PACKED / (2.0 * surface)).sqrt() * (2.0 * surface / pull.value()).powf(1.5);
    Micrometres::new(1e6 * metres)
}

/// The hardest that water between grains of this radius can pull.
fn most_pull(surface: f64, radius: Micrometres) -> Pascals {
    Pascals::new(MOST_PULL * surface / (radius.value() * 1e-6))
}

/// How thick a wet lean mix of the first powder may lie, against one of the second, by the size of their grains: below 1 where the first
/// is finer. Only for lean mixes; in others the binder bridges carry the bed.
///
/// ```
/// use measure::Micrometres;
/// // Precipitated chalk of 0.35 um against whiting of 1.25 um in radius: 0.28^1.5.
/// assert!((ground::fineness(Micrometres::new(0.35), Micrometres::new(1.25)) - 0.148).abs() < 0.001);
/// ```
pub fn fineness(first: Micrometres, second: Micrometres) -> f64 {
    let of = |radius| bed_thickness(SURFACE, most_pull(SURFACE, radius));
    of(first) / of(second)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Pull of clean water, N/m.
    const CLEAN: f64 = 0.072;

    /// Regression of the code, not evidence about nature: worked beforehand from the same law. Calcite, clean water.
    #[test]
    fn regression_of_the_bare_bed() {
        // By hand: 0.64 x sqrt(32e9 x 6 x 0.64 / 0.144) x (0.144 / 5e5)^1.5 = 0.64 x 9.2376e5 x 1.5456e-10 m = 91.4 um.
        let at = bed_thickness(CLEAN, Pascals::new(0.5e6)).value();
        assert!((at / 91.4 - 1.0).abs() < 2e-3, "{at}");
        // The pull under which a bed of 100 um would crack: 0.4708 MPa.
        let at = bed_thickness(CLEAN, Pascals::new(0.4708e6)).value();
        assert!((at / 100.0 - 1.0).abs() < 2e-3, "{at}");
        for (radius, pull, um) in [(0.1, 3.84, 4.3), (0.35, 1.10, 28.0), (1.25, 0.31, 190.0), (2.5, 0.15, 537.0)] {
            let most = most_pull(CLEAN, Micrometres::new(radius));
            assert!((most.value() / 1e6 - pull).abs() < 0.01, "{radius}: {most:?}");
            assert!((bed_thickness(CLEAN, most).value() / um - 1.0).abs() < 0.02, "{radius}");
        }
        // With protein in the water: 34, 228 and 644 um.
        for (radius, um) in [(0.35, 34.0), (1.25, 228.0), (2.5, 644.0)] {
            let at = bed_thickness(SURFACE, most_pull(SURFACE, Micrometres::new(radius))).value();
            assert!((at / um - 1.0).abs() < 0.02, "{radius}: {at}");
        }
    }

    /// The stress at which such a bed cracks, from the same work (from memory), is another quantity: 0.401 of the pull at equal thickness.
    #[test]
    fn regression_of_the_stress_of_a_bare_bed() {
        let stress = |um: f64, radius: f64| {
            let grain = GRAIN.value() * CONTACTS * PACKED * radius * 1e-6 / (2.0 * CLEAN);
            0.1877 * (2.0 * radius / um).powf(2.0 / 3.0) * grain.cbrt() * 2.0 * CLEAN / (radius * 1e-6)
        };
        assert!((stress(100.0, 1.0) / 0.1889e6 - 1.0).abs() < 2e-3, "{}", stress(100.0, 1.0));
        assert!((stress(100.0, 1.0) / 0.4708e6 - 0.401).abs() < 2e-3);
    }

    proptest! {
        #[test]
        fn only_the_size_of_the_grains_counts(a in 0.05f64..50.0, b in 0.05f64..50.0) {
            let ratio = fineness(Micrometres::new(a), Micrometres::new(b));
            prop_assert!((ratio / (a / b).powf(1.5) - 1.0).abs() < 1e-9);
        }
    }
}
