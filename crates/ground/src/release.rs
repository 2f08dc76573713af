//! How much stored energy a crack lets go, on a stiff and on a soft support.

use measure::{JoulesPerSquareMetre, Micrometres, Pascals};

/// How much stiffer the film is than its support: Dundurs' first number, -1 (rigid support) to 1 (no support at all).
///
/// ```
/// use measure::Pascals;
/// assert!(ground::mismatch(Pascals::new(2e9), 0.3, Pascals::new(2e9), 0.3).abs() < 1e-12);
/// ```
pub fn mismatch(film: Pascals, film_poisson: f64, support: Pascals, support_poisson: f64) -> f64 {
    let plane = |stiffness: Pascals, poisson: f64| stiffness.value() / (1.0 - poisson * poisson);
    let (film, support) = (plane(film, film_poisson), plane(support, support_poisson));
    (film - support) / (film + support)
}

/// Energy release of a crack that runs through the film along the board, in units of `pull^2 x thickness / stiffness`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Release {
    /// The number Z.
    pub value: f64,
    /// The film is so much stiffer than its support that the table ends: the true number is larger.
    pub beyond: bool,
}

/// Z of a mismatch from a table in rising order; the logarithm is taken as straight between its rows.
pub(crate) fn release(table: &[(f64, f64)], alpha: f64) -> Release {
    let mut below: Option<(f64, f64)> = None;
    for &(at, value) in table {
        if alpha <= at {
            let value = below.map_or(value, |(from, first)| (first.ln() + (alpha - from) / (at - from) * (value / first).ln()).exp());
            return Release { value, beyond: false };
        }
        below = Some((at, value));
    }
    Release { value: below.map_or(f64::NAN, |(_, value)| value), beyond: true }
}

/// The thickness at which the stored energy just suffices to run a crack: `toughness x E / (Z pull^2 (1 - nu^2))` (Hutchinson and Suo,
/// Adv. Appl. Mech. 29 (1992) 63). A model's number, uncertain several-fold: it is compared with a coat, never shown by itself.
///
/// ```
/// use measure::{JoulesPerSquareMetre, Pascals};
/// let at = ground::cracks_from(JoulesPerSquareMetre::new(10.0), Pascals::new(2e9), Pascals::new(3e6), 0.3, 1.976);
/// assert!((at.value() - 1236.0).abs() < 1.5); // by hand: 10 x 2e9 / (1.976 x 9e12 x 0.91) m
/// ```
pub fn cracks_from(toughness: JoulesPerSquareMetre, stiffness: Pascals, pull: Pascals, poisson: f64, release: f64) -> Micrometres {
    let metres = toughness.value() * stiffness.value() / (release * pull.value() * pull.value() * (1.0 - poisson * poisson));
    Micrometres::new(1e6 * metres)
}

/// The stretch, held in both directions, at which a film of this thickness cracks.
pub fn cracking_stretch(toughness: JoulesPerSquareMetre, stiffness: Pascals, thickness: Micrometres, poisson: f64, release: f64) -> f64 {
    let metres = thickness.value() * 1e-6;
    (1.0 - poisson) * (toughness.value() / (release * stiffness.value() * metres * (1.0 - poisson * poisson))).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::FilmBook;

    #[test]
    fn no_mismatch_is_the_printed_number() {
        // Channel crack without mismatch 1.976 = 1.1215^2 x pi / 2; isolated surface crack 3.951 (Hutchinson and Suo 1992, from memory).
        let table = FilmBook::builtin().unwrap().mismatch();
        assert!((release(table, 0.0).value - 1.976).abs() < 0.01);
        assert!((1.1215f64.powi(2) * std::f64::consts::PI - 3.951).abs() < 2e-3);
        // Rigid support: near the lubrication limit 2 / sqrt(3) = 1.155 of an incompressible film.
        assert!((release(table, -0.99).value - 1.118).abs() < 0.02);
        assert!((release(table, 0.8).value - 5.82).abs() < 0.06);
    }

    #[test]
    fn a_support_softer_than_the_table_is_marked() {
        let table = FilmBook::builtin().unwrap().mismatch();
        assert!(release(table, 0.97).beyond && !release(table, 0.95).beyond);
    }

    #[test]
    fn thickness_by_hand() {
        // 10 J/m2, 2 GPa, 3 MPa, nu 0.3: 20e9 / (1.976 x 9e12 x 0.91) = 1.236 mm; with 3.951: 0.618 mm.
        let at = |z| cracks_from(JoulesPerSquareMetre::new(10.0), Pascals::new(2e9), Pascals::new(3e6), 0.3, z).value();
        assert!((at(1.976) / 1236.0 - 1.0).abs() < 1e-3);
        assert!((at(3.951) / 618.0 - 1.0).abs() < 1e-3);
    }
}
