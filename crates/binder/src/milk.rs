//! Milk, casein, curd: masses.

use measure::{Grams, GramsPerMillilitre, Millilitres, Share};

use crate::error::BinderError;

/// What a volume of milk weighs.
///
/// ```
/// use measure::{GramsPerMillilitre, Millilitres};
/// let litre = binder::milk_mass(Millilitres::new(1000.0), GramsPerMillilitre::new(1.033));
/// assert_eq!(litre.value(), 1033.0);
/// ```
pub fn milk_mass(volume: Millilitres, density: GramsPerMillilitre) -> Grams {
    volume * density
}

/// Casein that ends in the curd. `protein` in g per 100 g of milk, `casein_share` the part of the protein that is casein, `recovery`
/// the part of it that stays in the cloth.
///
/// ```
/// use measure::{Grams, Share};
/// let casein = binder::casein_in_milk(Grams::new(1000.0), 3.4, Share::new(0.8), Share::new(0.9));
/// assert!((casein.value() - 24.48).abs() < 1e-9);
/// ```
pub fn casein_in_milk(milk: Grams, protein: f64, casein_share: Share, recovery: Share) -> Grams {
    milk * (protein / 100.0 * casein_share.value() * recovery.value())
}

/// Milk that yields this much casein; the way back of [`casein_in_milk`].
///
/// `None` if the milk would hold no casein.
///
/// ```
/// use measure::{Grams, Share};
/// let milk = binder::milk_for_casein(Grams::new(24.48), 3.4, Share::new(0.8), Share::new(0.9)).unwrap();
/// assert!((milk.value() - 1000.0).abs() < 1e-9);
/// ```
pub fn milk_for_casein(casein: Grams, protein: f64, casein_share: Share, recovery: Share) -> Option<Grams> {
    let per_gram = casein_in_milk(Grams::new(1.0), protein, casein_share, recovery).value();
    (per_gram > 0.0).then(|| casein / per_gram)
}

/// What the wet curd of this much dry casein weighs; fat, milk sugar and salts are left out.
///
/// # Errors
/// The water share is not between 0 and below 1.
///
/// ```
/// use measure::{Grams, Share};
/// assert_eq!(binder::curd_mass(Grams::new(25.0), Share::new(0.75))?.value(), 100.0);
/// # Ok::<(), binder::BinderError>(())
/// ```
pub fn curd_mass(casein: Grams, water: Share) -> Result<Grams, BinderError> {
    let share = water.value();
    if (0.0..1.0).contains(&share) { Ok(casein / (1.0 - share)) } else { Err(BinderError::AllWater { share }) }
}

/// Water in the wet curd of this much dry casein. It counts in every recipe.
///
/// # Errors
/// The water share is not between 0 and below 1.
pub fn water_in_curd(casein: Grams, water: Share) -> Result<Grams, BinderError> {
    Ok(curd_mass(casein, water)? - casein)
}

/// Dry casein in this much wet curd.
///
/// ```
/// use measure::{Grams, Share};
/// assert!((binder::casein_in_curd(Grams::new(40.0), Share::new(0.65)).value() - 14.0).abs() < 1e-9);
/// ```
pub fn casein_in_curd(curd: Grams, water: Share) -> Grams {
    curd * (1.0 - water.value())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Exactly 231 cubic inches (NIST Handbook 44).
    const US_GALLON: f64 = 3_785.411_784;

    fn near(found: Grams, expected: f64, slack: f64) {
        assert!((found.value() - expected).abs() <= slack, "{found:?} instead of {expected}");
    }

    #[test]
    fn a_us_gallon_of_skim_milk() {
        // By hand: 3.785412 l x 1.033 = 3.9103 kg; x 3.37 % x 0.78 = 102.8 g; x 0.95 = 97.65 g.
        let milk = milk_mass(Millilitres::new(US_GALLON), GramsPerMillilitre::new(1.033));
        near(milk, 3_910.3, 0.05);
        near(casein_in_milk(milk, 3.37, Share::new(0.78), Share::new(1.0)), 102.8, 0.1);
        near(casein_in_milk(milk, 3.37, Share::new(0.78), Share::new(0.95)), 97.65, 0.05);
        // All ends at once, by hand: 3910.33 x 0.032 x 0.76 x 0.85 = 80.83; x 0.036 x 0.80 x 0.98 = 110.37.
        near(casein_in_milk(milk, 3.2, Share::new(0.76), Share::new(0.85)), 80.83, 0.01);
        near(casein_in_milk(milk, 3.6, Share::new(0.80), Share::new(0.98)), 110.37, 0.01);
    }

    #[test]
    fn the_factory_yield_lies_within_seven_per_cent() {
        // Dairy lecture notes, yields: 100 kg of skim milk with 2.8 % casein give 3.3 kg of commercial casein of 85 %; the milk here
        // has 2.63 %. 3.9103 x 3.3 x 0.85 / 100 = 109.7 g.
        let milk = milk_mass(Millilitres::new(US_GALLON), GramsPerMillilitre::new(1.033));
        let ours = casein_in_milk(milk, 3.37, Share::new(0.78), Share::new(1.0)).value();
        assert!((ours / 109.7 - 1.0).abs() < 0.07);
    }

    #[test]
    fn curd_and_its_water() {
        // By hand: 97.65 / 0.25 = 390.6, less 97.65 = 292.95. 40 / 0.35 = 114.286, less 40 = 74.286.
        near(curd_mass(Grams::new(97.65), Share::new(0.75)).unwrap(), 390.6, 0.01);
        near(water_in_curd(Grams::new(97.65), Share::new(0.75)).unwrap(), 292.95, 0.01);
        near(curd_mass(Grams::new(40.0), Share::new(0.65)).unwrap(), 114.286, 0.001);
        near(water_in_curd(Grams::new(40.0), Share::new(0.65)).unwrap(), 74.286, 0.001);
        // Wet curd taken for dry casein: 40 x 0.35 = 14 g. Quark of 12 and 14 % protein: 50 g hold 6 and 7 g.
        near(casein_in_curd(Grams::new(40.0), Share::new(0.65)), 14.0, 1e-9);
        near(casein_in_curd(Grams::new(50.0), Share::new(0.88)), 6.0, 1e-9);
        near(casein_in_curd(Grams::new(50.0), Share::new(0.86)), 7.0, 1e-9);
        assert_eq!(curd_mass(Grams::new(1.0), Share::new(1.0)), Err(BinderError::AllWater { share: 1.0 }));
        assert!(curd_mass(Grams::new(1.0), Share::new(f64::NAN)).is_err());
    }

    #[test]
    fn milk_for_twelve_boards() {
        // By hand: twelve boards of 20 x 25 cm, three coats of 200 g/m2, a fifth lost: 0.6 x 3 x 200 x 1.2 = 432 g of a ground that
        // holds 40 g casein in 606 g: 432 x 40 / 606 = 28.515 g. Milk: 28.515 / (0.034 x 0.8 x 0.9) = 1164.8 g, / 1.035 = 1125.4 ml.
        let casein = Grams::new(432.0 * 40.0 / 606.0);
        near(casein, 28.515, 0.001);
        let milk = milk_for_casein(casein, 3.4, Share::new(0.8), Share::new(0.9)).unwrap();
        near(milk, 1_164.8, 0.1);
        assert!(((milk / GramsPerMillilitre::new(1.035)).value() - 1_125.4).abs() < 0.1);
        // Two US cups of the same milk: 473.176 x 1.035 x 0.034 x 0.8 x 0.9 = 11.989 g.
        let cups = milk_mass(Millilitres::new(473.176), GramsPerMillilitre::new(1.035));
        near(casein_in_milk(cups, 3.4, Share::new(0.8), Share::new(0.9)), 11.989, 0.001);
        assert_eq!(milk_for_casein(casein, 0.0, Share::new(0.8), Share::new(0.9)), None);
    }

    proptest! {
        #[test]
        fn more_milk_never_gives_less_casein(milk in 0.0f64..1e5, more in 0.0f64..1e5, protein in 0.0f64..10.0) {
            let casein = |grams: f64| casein_in_milk(Grams::new(grams), protein, Share::new(0.78), Share::new(0.95));
            prop_assert!(casein(milk + more) >= casein(milk));
        }

        #[test]
        fn curd_is_casein_and_water(casein in 0.0f64..1e4, share in 0.0f64..0.95) {
            let (casein, share) = (Grams::new(casein), Share::new(share));
            let curd = curd_mass(casein, share).unwrap();
            let parts = casein + water_in_curd(casein, share).unwrap();
            prop_assert!((curd - parts).value().abs() <= 1e-9 * curd.value().max(1.0));
            prop_assert!((casein_in_curd(curd, share) - casein).value().abs() <= 1e-9 * casein.value().max(1.0));
        }
    }
}
