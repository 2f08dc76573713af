//! Air and the water in it.

use measure::{Celsius, GramsPerCubicMetre, GramsPerKilogram, Pascals, RelativeHumidity};

/// Air outside the range in which the equations are used.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum AirError {
    /// Too cold, too hot, or no number.
    #[error("air is reckoned from {COLDEST} to {HOTTEST} C, not at {celsius} C; check the temperature and its unit")]
    Warmth {
        /// What was given.
        celsius: f64,
    },
    /// Too dry, too damp, or no number.
    #[error("air is reckoned from {DRIEST} to 100 % humidity, not at {percent} %; check the humidity")]
    Damp {
        /// What was given.
        percent: f64,
    },
}

/// Coldest air, C. Below 0 C the humidity is counted over undercooled water, as weather stations do (WMO No. 8, from memory).
const COLDEST: f64 = -20.0;
/// Hottest air, C.
const HOTTEST: f64 = 60.0;
/// Driest air, per cent: drier air has no dew point that anybody meets indoors.
const DRIEST: f64 = 1.0;

/// Pressure of the air, Pa: one standard atmosphere (definition). A mountain studio at 1,500 m has about 84,600.
pub(crate) const PRESSURE: f64 = 101_325.0;
/// Gas constant of water vapour, J/(kg K): 8.314 46 / 0.018 015 3.
pub(crate) const VAPOUR_GAS: f64 = 461.523;
/// Mass of a mole of water over that of a mole of dry air (ASHRAE Handbook, Fundamentals, from memory).
const MASS_RATIO: f64 = 0.621_945;
/// 0 C in kelvin (definition).
pub(crate) const KELVIN: f64 = 273.15;

/// Pressure of the vapour over a plane face of water at this temperature, Pa; no range is checked.
///
/// Wagner and Pruss, J. Phys. Chem. Ref. Data 31 (2002) 387, Eq. 2.5, the form of the IAPWS release on the saturation line. Stated for 273.16 to
/// 647.096 K; below that it is drawn on for undercooled water.
pub(crate) fn saturation(celsius: f64) -> f64 {
    const CRITICAL_KELVIN: f64 = 647.096;
    const CRITICAL_PASCAL: f64 = 22.064e6;
    let kelvin = celsius + KELVIN;
    let th = 1.0 - kelvin / CRITICAL_KELVIN;
    let root = th.sqrt();
    let (th2, th3) = (th * th, th * th * th);
    let sum = -7.859_517_83 * th + 1.844_082_59 * th * root - 11.786_649_7 * th3 + 22.680_741_1 * th3 * root - 15.961_871_9 * th2 * th2
        + 1.801_225_02 * th3 * th3 * th * root;
    CRITICAL_PASCAL * (CRITICAL_KELVIN / kelvin * sum).exp()
}

/// Pressure of the vapour over a plane face of water.
///
/// Wagner and Pruss, J. Phys. Chem. Ref. Data 31 (2002) 387, the IAPWS form.
///
/// # Errors
/// Outside -20 to 60 C.
///
/// ```
/// use measure::Celsius;
/// let pressure = support::saturation_pressure(Celsius::new(20.0))?;
/// assert!((pressure.value() - 2339.2).abs() < 0.1); // IAPWS-IF97 at 20 C: 2339.21 Pa
/// # Ok::<(), support::AirError>(())
/// ```
pub fn saturation_pressure(warmth: Celsius) -> Result<Pascals, AirError> {
    Ok(Pascals::new(saturation(in_range(warmth)?)))
}

/// Pressure of the steam over warm water in a pot, the same law up to the boil; `None` outside 0 to 100 C.
///
/// ```
/// use measure::Celsius;
/// assert!((support::pot_steam(Celsius::new(60.0)).unwrap().value() / 19_946.0 - 1.0).abs() < 1e-3); // steam tables: 19.946 kPa
/// assert!(support::pot_steam(Celsius::new(120.0)).is_none());
/// ```
pub fn pot_steam(warmth: Celsius) -> Option<Pascals> {
    (0.0..=100.0).contains(&warmth.value()).then(|| Pascals::new(saturation(warmth.value())))
}

fn in_range(warmth: Celsius) -> Result<f64, AirError> {
    let celsius = warmth.value();
    if (COLDEST..=HOTTEST).contains(&celsius) { Ok(celsius) } else { Err(AirError::Warmth { celsius }) }
}

/// Air of a room: how warm and how damp. Its pressure is one standard atmosphere.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    warmth: Celsius,
    damp: RelativeHumidity,
}

impl Air {
    /// Air of this warmth and relative humidity.
    ///
    /// # Errors
    /// Outside -20 to 60 C, or outside 1 to 100 %.
    ///
    /// ```
    /// use measure::{Celsius, RelativeHumidity};
    /// let air = support::Air::new(Celsius::new(20.0), RelativeHumidity::new(50.0))?;
    /// assert!((air.dew_point().value() - 9.27).abs() < 0.05);
    /// assert!((air.water().value() - 8.64).abs() < 0.02);
    /// # Ok::<(), support::AirError>(())
    /// ```
    pub fn new(warmth: Celsius, damp: RelativeHumidity) -> Result<Self, AirError> {
        in_range(warmth)?;
        let percent = damp.value();
        if !(DRIEST..=100.0).contains(&percent) {
            return Err(AirError::Damp { percent });
        }
        Ok(Self { warmth, damp })
    }

    /// Its temperature.
    pub fn warmth(&self) -> Celsius {
        self.warmth
    }

    /// Its relative humidity.
    pub fn damp(&self) -> RelativeHumidity {
        self.damp
    }

    /// The part of its pressure that the vapour makes.
    pub fn vapour_pressure(&self) -> Pascals {
        Pascals::new(self.vapour())
    }

    pub(crate) fn vapour(&self) -> f64 {
        self.damp.value() / 100.0 * saturation(self.warmth.value())
    }

    /// Water in a cubic metre of it (ideal gas).
    pub fn water(&self) -> GramsPerCubicMetre {
        GramsPerCubicMetre::new(1000.0 * self.vapour() / (VAPOUR_GAS * (self.warmth.value() + KELVIN)))
    }

    /// Water that goes with a kilogram of dry air (ideal gas).
    pub fn mixing_ratio(&self) -> GramsPerKilogram {
        let vapour = self.vapour();
        GramsPerKilogram::new(1000.0 * MASS_RATIO * vapour / (PRESSURE - vapour))
    }

    /// The temperature at which dew settles: the saturation curve read backwards. Below 0 C it is dew of undercooled water; frost settles
    /// a little sooner.
    pub fn dew_point(&self) -> Celsius {
        let vapour = self.vapour();
        // At the driest and coldest air that is let in, dew settles at -64 C.
        Celsius::new(crossing(-80.0, self.warmth.value(), |celsius| saturation(celsius) - vapour))
    }

    /// The temperature of a wet cloth round a thermometer in a brisk draught, the coldest that a wet ground can get.
    ///
    /// Ventilated psychrometer: e(Tw) - 6.62e-4 p (T - Tw) = e, the coefficient for water, not for ice, on the cloth (ISO 7726, from memory).
    pub fn wet_bulb(&self) -> Celsius {
        const PSYCHROMETER: f64 = 6.62e-4;
        let (warm, vapour) = (self.warmth.value(), self.vapour());
        let balance = |celsius: f64| saturation(celsius) - PSYCHROMETER * PRESSURE * (warm - celsius) - vapour;
        Celsius::new(crossing(self.dew_point().value(), warm, balance))
    }

    /// The same air after it was warmed or cooled, no water added or taken: the vapour keeps its pressure.
    ///
    /// # Errors
    /// The new temperature lies outside -20 to 60 C, or the air would be damper than 100 % (dew settles) or drier than 1 %.
    pub fn warmed_to(&self, warmth: Celsius) -> Result<Self, AirError> {
        let percent = 100.0 * self.vapour() / saturation(in_range(warmth)?);
        Self::new(warmth, RelativeHumidity::new(percent))
    }
}

/// Where a rising function changes its sign, to 1e-10; an end if it doesn't.
fn crossing(mut low: f64, mut high: f64, rising: impl Fn(f64) -> f64) -> f64 {
    // 2^-50 of 140 degrees is far below any thermometer, and the loop always ends.
    for _ in 0..50 {
        let middle = f64::midpoint(low, high);
        if rising(middle) < 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn air(celsius: f64, percent: f64) -> Air {
        Air::new(Celsius::new(celsius), RelativeHumidity::new(percent)).unwrap()
    }

    #[test]
    fn vapour_over_water_as_in_general_libraries() {
        // C, psychrolib 2.5 (ASHRAE Fundamentals), IAPWS-IF97; both in Pa.
        for (celsius, ashrae, iapws) in [
            (5.0, 872.49, 872.57),
            (10.0, 1228.00, 1228.18),
            (15.0, 1705.45, 1705.74),
            (20.0, 2338.80, 2339.21),
            (25.0, 3169.22, 3169.75),
            (30.0, 4246.03, 4246.69),
            (40.0, 7383.46, 7384.43),
        ] {
            let found = saturation_pressure(Celsius::new(celsius)).unwrap().value();
            assert!((found / ashrae - 1.0).abs() < 5e-4 && (found / iapws - 1.0).abs() < 2e-4, "{celsius}: {found}");
        }
        // Undercooled water, Smithsonian Meteorological Tables (1951), table 94 (from memory): 286.3 Pa at -10 C, 125.4 Pa at -20 C.
        for (celsius, printed) in [(-10.0, 286.3), (-20.0, 125.4)] {
            let found = saturation_pressure(Celsius::new(celsius)).unwrap().value();
            assert!((found / printed - 1.0).abs() < 5e-3, "{celsius}: {found}");
        }
        // The triple point, 611.657 Pa at 0.01 C (Wagner and Pruss 2002).
        assert!((saturation(0.01) - 611.657).abs() < 0.02);
    }

    /// Wet bulb after Stull, J. Appl. Meteorol. Climatol. 50 (2011) 2267, Eq. 1; its own error is -1 to +0.65 C.
    fn stull(t: f64, rh: f64) -> f64 {
        t * (0.151_977 * (rh + 8.313_659).sqrt()).atan() + (t + rh).atan() - (rh - 1.676_331).atan()
            + 0.003_918_38 * rh.powf(1.5) * (0.023_101 * rh).atan()
            - 4.686_035
    }

    #[test]
    fn dew_wet_cloth_and_water_as_psychrolib_has_them() {
        // Published example of the closed form: 20 C, 50 % gives 13.7 C.
        assert!((stull(20.0, 50.0) - 13.7).abs() < 0.01);
        // C, %; dew point, wet bulb, g/kg, g/m3 from psychrolib 2.5 at 101,325 Pa; wet bulb after Stull's formula.
        for (celsius, percent, dew, wet, ratio, water, closed) in [
            (20.0, 50.0, 9.272, 13.783, 7.262, 8.643, 13.70),
            (25.0, 50.0, 13.864, 17.889, 9.881, 11.516, 18.00),
            (20.0, 65.0, 13.227, 15.800, 9.473, 11.236, 15.65),
            (15.0, 70.0, 9.579, 11.921, 7.415, 8.977, 11.62),
            (30.0, 40.0, 14.936, 20.064, 10.603, 12.139, 20.45),
            (10.0, 85.0, 7.598, 8.727, 6.474, 7.987, 8.42),
            (22.0, 30.0, 3.645, 12.284, 4.909, 5.825, 12.33),
        ] {
            let air = air(celsius, percent);
            let at = format!("{celsius} C, {percent} %: {air:?}");
            assert!((air.dew_point().value() - dew).abs() < 0.05, "{at} dew {}", air.dew_point().value());
            // psychrolib solves the adiabatic saturation, a ventilated psychrometer reads up to 0.12 C apart from it.
            assert!((air.wet_bulb().value() - wet).abs() < 0.12, "{at} wet {}", air.wet_bulb().value());
            assert!((air.mixing_ratio().value() - ratio).abs() < 0.01, "{at} {}", air.mixing_ratio().value());
            assert!((air.water().value() - water).abs() < 0.02, "{at} {}", air.water().value());
            assert!((stull(celsius, percent) - closed).abs() < 0.01);
            assert!((air.wet_bulb().value() - closed).abs() < 1.0, "{at}");
        }
    }

    #[test]
    fn winter_air_is_dry_once_it_is_heated() {
        // 5 C and 80 % in a room of 20 C: 872.5 x 0.80 / 2339.2 = 29.8 %. 0 C and 85 %: 611.2 x 0.85 / 2339.2 = 22.2 %.
        for (celsius, percent, indoors) in [(5.0, 80.0, 29.8), (0.0, 85.0, 22.2)] {
            let heated = air(celsius, percent).warmed_to(Celsius::new(20.0)).unwrap();
            assert!((heated.damp().value() - indoors).abs() < 0.1, "{heated:?}");
            assert!((heated.vapour_pressure().value() - air(celsius, percent).vapour()).abs() < 1e-6);
        }
        assert!(matches!(air(20.0, 90.0).warmed_to(Celsius::new(10.0)), Err(AirError::Damp { .. })));
    }

    /// Steam tables (saturated water, handbook values from memory): 2.339 kPa at 20 C, 7.385 at 40, 19.95 at 60, 47.41 at 80, 70.18 at 90.
    #[test]
    fn steam_over_water_in_a_pot() {
        for (celsius, kpa) in [(20.0, 2.339), (40.0, 7.385), (60.0, 19.95), (80.0, 47.41), (90.0, 70.18)] {
            let found = pot_steam(Celsius::new(celsius)).unwrap().value() / 1000.0;
            assert!((found / kpa - 1.0).abs() < 1e-3, "{celsius}: {found}");
        }
        assert!(pot_steam(Celsius::new(-1.0)).is_none() && pot_steam(Celsius::new(f64::NAN)).is_none());
    }

    #[test]
    fn outside_the_range_nothing_is_said() {
        for celsius in [-20.1, 60.1, f64::NAN] {
            assert!(matches!(Air::new(Celsius::new(celsius), RelativeHumidity::new(50.0)), Err(AirError::Warmth { .. })));
            assert!(saturation_pressure(Celsius::new(celsius)).is_err());
        }
        for percent in [0.0, 100.1, f64::NAN] {
            let said = Air::new(Celsius::new(20.0), RelativeHumidity::new(percent)).unwrap_err().to_string();
            assert!(said.contains("1 to 100 %"), "{said}");
        }
    }

    proptest! {
        #[test]
        fn dew_below_the_wet_cloth_below_the_room(celsius in -20.0..60.0f64, percent in 1.0..100.0f64) {
            let air = air(celsius, percent);
            prop_assert!(air.dew_point().value() <= air.wet_bulb().value() + 1e-9);
            prop_assert!(air.wet_bulb().value() <= celsius + 1e-9);
            prop_assert!((saturation(air.dew_point().value()) / air.vapour() - 1.0).abs() < 1e-9);
        }
    }
}
