//! Gas that a carbonate gives in the pot, and the room that its foam wants above the liquid.

use materials::DataError;
use measure::{Celsius, Grams, Millilitres, Pascals};

use crate::book::BinderBook;
use crate::dissolve::Base;

/// Room for foam above the liquid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FoamRoom {
    /// Carbon dioxide if all of it leaves, dry, at the pot's warmth and the air pressure at sea level.
    pub gas: Millilitres,
    /// Foam that may stand at one time, the steam that swells each bubble counted: likely least, usual, likely most.
    pub foam: (Millilitres, Millilitres, Millilitres),
}

impl FoamRoom {
    /// How much higher than the liquid a round pot this wide inside must be to hold so much foam, centimetres; `None` without a width.
    ///
    /// ```
    /// # use binder::FoamRoom;
    /// # use measure::Millilitres;
    /// // 20 cm across is 314.159 cm2: 1000 ml stand 3.1831 cm high.
    /// assert!((FoamRoom::height_cm(Millilitres::new(1000.0), 20.0).unwrap() - 3.1831).abs() < 1e-4);
    /// assert_eq!(FoamRoom::height_cm(Millilitres::new(1000.0), 0.0), None);
    /// ```
    pub fn height_cm(foam: Millilitres, across_cm: f64) -> Option<f64> {
        let height = foam.value() / (std::f64::consts::FRAC_PI_4 * across_cm * across_cm);
        (across_cm > 0.0 && height.is_finite()).then_some(height)
    }
}

/// Warmest pot whose foam is reckoned, °C: hotter, the pot comes near boiling and steam alone decides (model choice).
const HOTTEST: f64 = 90.0;

/// Room that the foam of so much base wants, all its carbonate taken to leave as gas (ideal gas). Bubbles in a warm pot hold steam
/// beside the gas: at 60 °C a quarter more. `None` if the base holds no carbonate, if there is none of it, or if the warmth lies
/// outside 0 to 90 °C. `steam` is its pressure over the pot at that warmth.
///
/// # Errors
/// The data file lacks a constant; a test keeps it whole.
///
/// ```
/// use binder::{Base, BinderBook, foam_room};
/// use measure::{Celsius, Grams, Pascals};
/// let book = BinderBook::builtin()?;
/// let steam = Pascals::new(2_339.0); // at 20 °C
/// let room = foam_room(book, Base::BakingSoda, Grams::new(4.92), Celsius::new(20.0), steam)?.unwrap();
/// assert!((room.gas.value() - 1408.8).abs() < 0.5);
/// assert_eq!(foam_room(book, Base::Borax, Grams::new(4.92), Celsius::new(20.0), steam)?, None);
/// # Ok::<(), materials::DataError>(())
/// ```
pub fn foam_room(book: &BinderBook, base: Base, mass: Grams, warmth: Celsius, steam: Pascals) -> Result<Option<FoamRoom>, DataError> {
    let carbon = book.base(base)?.parts.carbon;
    let warm = warmth.value();
    if carbon <= 0.0 || !mass.value().is_finite() || mass.value() <= 0.0 || !(0.0..=HOTTEST).contains(&warm) {
        return Ok(None);
    }
    let mmol = carbon * mass.value() / book.base_grams_per_millimole(base)?;
    let (gas_constant, zero, pressure) =
        (book.constant("gas_constant")?.value, book.constant("kelvin_zero")?.value, book.constant("air_pressure")?.value);
    // mmol x J/(mol K) x K / kPa = mmol x l/mol = ml.
    let gas = mmol * gas_constant * (warm + zero) / pressure;
    let share = book.constant("foam_share")?;
    let (low, high) = share.range.unwrap_or((share.value, share.value));
    // Dalton: the gas has only that part of the pressure that steam leaves it.
    let damp = gas * pressure / (pressure - steam.value() / 1000.0);
    let part = |share: f64| Millilitres::new(damp * share);
    Ok(Some(FoamRoom { gas: Millilitres::new(gas), foam: (part(low), part(share.value), part(high)) }))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// At 20 °C, steam tables.
    const STEAM: Pascals = Pascals::new(2_339.0);

    fn gas(base: Base, grams: f64, warmth: f64) -> f64 {
        let book = BinderBook::builtin().unwrap();
        foam_room(book, base, Grams::new(grams), Celsius::new(warmth), STEAM).unwrap().unwrap().gas.value()
    }

    /// By hand with the molar volume of an ideal gas, 24.055 l/mol at 20 °C (22.414 l/mol at 0 °C and 101.325 kPa, IUPAC Green Book,
    /// times 293.15 / 273.15), and atomic masses (NaHCO3 84.007, trade carbonate 157.13 with two carbonates in it).
    #[test]
    fn gas_of_a_spoon_of_soda() {
        // 4.92 / 84.007 = 0.058567 mol; x 24.055 = 1.4088 l.
        assert!((gas(Base::BakingSoda, 4.92, 20.0) - 1408.8).abs() < 0.5);
        // A level teaspoon of 4.6 g: 54.757 mmol x 24.055 = 1317 ml.
        assert!((gas(Base::BakingSoda, 4.6, 20.0) - 1317.2).abs() < 0.5);
        // Warm it is 22.414 x 323.15 / 273.15 = 26.517 l/mol: 1.5530 l.
        assert!((gas(Base::BakingSoda, 4.92, 50.0) - 1553.0).abs() < 0.5);
        // 10 / 157.13 x 2 = 0.127283 mol; x 24.055 = 3.0618 l.
        assert!((gas(Base::AmmoniumCarbonate, 10.0, 20.0) - 3061.8).abs() < 0.8);
        // Washing soda, ten waters: 10 / 286.14 = 0.034948 mol; x 24.055 = 0.8407 l.
        assert!((gas(Base::WashingSoda, 10.0, 20.0) - 840.7).abs() < 0.4);
    }

    /// By hand: at 60 °C 4.92 g of soda give 0.058567 mol x 22.414 x 333.15 / 273.15 = 1.6011 l dry; bubbles full of steam are
    /// 101.325 / (101.325 - 19.95) = 1.2452 times as large: 1.994 l, half of it 0.997 l. At 20 °C 1.4088 x 101.325 / 98.986 = 1.4421 l.
    #[test]
    fn warm_bubbles_hold_steam() {
        let book = BinderBook::builtin().unwrap();
        for (warm, steam, usual, most) in [(60.0, 19_950.0, 997.0, 1994.0), (20.0, 2_339.0, 721.0, 1442.1)] {
            let room = foam_room(book, Base::BakingSoda, Grams::new(4.92), Celsius::new(warm), Pascals::new(steam)).unwrap().unwrap();
            assert!((room.foam.1.value() - usual).abs() < 4.0 && (room.foam.2.value() - most).abs() < 8.0, "{room:?}");
        }
    }

    #[test]
    fn what_gives_no_gas_and_what_can_not_be() {
        let book = BinderBook::builtin().unwrap();
        for (base, grams, warmth) in [
            (Base::Borax, 5.0, 20.0),
            (Base::HouseholdAmmonia, 5.0, 20.0),
            (Base::Lime, 5.0, 20.0),
            (Base::BakingSoda, 0.0, 20.0),
            (Base::BakingSoda, f64::NAN, 20.0),
            (Base::BakingSoda, 5.0, -300.0),
            (Base::BakingSoda, 5.0, 95.0),
        ] {
            assert_eq!(foam_room(book, base, Grams::new(grams), Celsius::new(warmth), STEAM).unwrap(), None, "{base:?} {grams} {warmth}");
        }
    }

    proptest::proptest! {
        /// Twice the base is twice the gas, and never does more foam stand than damp gas came: gas alone when cold, 3.3 times it at 90 °C.
        #[test]
        fn gas_goes_with_the_base(grams in 0.1..500.0f64, warmth in 0.0..90.0f64, steam in 600.0..70_200.0f64) {
            let once = gas(Base::BakingSoda, grams, warmth);
            proptest::prop_assert!((gas(Base::BakingSoda, 2.0 * grams, warmth) / once - 2.0).abs() < 1e-9);
            let room = foam_room(BinderBook::builtin().unwrap(), Base::BakingSoda, Grams::new(grams), Celsius::new(warmth), Pascals::new(steam)).unwrap().unwrap();
            let (low, usual, high) = room.foam;
            proptest::prop_assert!(low <= usual && usual <= high && (room.gas.value()..3.4 * room.gas.value()).contains(&high.value()));
        }
    }
}
