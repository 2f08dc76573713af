//! One type for each kind of quantity, so that grams can't be added to millilitres.

use std::iter::Sum;
use std::ops::{Add, Div, Mul, Sub};

/// A number that can't be a quantity of this kind.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum QuantityError {
    /// Not a number, or infinite.
    #[error("{quantity} must be an ordinary number, not {value}; type it in figures, such as 250")]
    NotFinite {
        /// What was being measured.
        quantity: &'static str,
        /// What was given.
        value: f64,
    },
    /// Outside the range in which the program can say anything.
    #[error("{quantity} of {value} {unit} is outside {low} to {high} {unit}; check the amount and its unit")]
    OutOfRange {
        /// What was being measured.
        quantity: &'static str,
        /// What was given.
        value: f64,
        /// Its unit.
        unit: &'static str,
        /// Least that is accepted.
        low: f64,
        /// Most that is accepted.
        high: f64,
    },
}

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $unit:literal, $what:literal, $low:expr, $high:expr) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
        pub struct $name(f64);

        impl $name {
            /// The unit in which [`Self::value`] counts.
            pub const UNIT: &'static str = $unit;
            /// Nothing of it.
            pub const ZERO: Self = Self(0.0);

            /// Wraps a value that the program itself worked out.
            pub const fn new(value: f64) -> Self {
                Self(value)
            }

            /// Checks a value that came from outside.
            ///
            /// # Errors
            /// Not finite, or outside the range named in the message.
            pub fn checked(value: f64) -> Result<Self, QuantityError> {
                if !value.is_finite() {
                    return Err(QuantityError::NotFinite { quantity: $what, value });
                }
                if !($low..=$high).contains(&value) {
                    return Err(QuantityError::OutOfRange {
                        quantity: $what, value, unit: $unit, low: $low, high: $high,
                    });
                }
                Ok(Self(value))
            }

            /// The bare number, in [`Self::UNIT`].
            pub const fn value(self) -> f64 {
                self.0
            }
        }
        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self { Self(self.0 + other.0) }
        }
        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self { Self(self.0 - other.0) }
        }
        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self { Self(self.0 * factor) }
        }
        impl Div<f64> for $name {
            type Output = Self;
            fn div(self, factor: f64) -> Self { Self(self.0 / factor) }
        }
        impl Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 { self.0 / other.0 }
        }
        impl Sum for $name {
            fn sum<I: Iterator<Item = Self>>(each: I) -> Self { Self(each.map(|q| q.0).sum()) }
        }
    };
}

quantity!(
    /// Mass in grams.
    ///
    /// ```
    /// use measure::{Grams, GramsPerMillilitre};
    /// let chalk = Grams::checked(250.0)?;
    /// assert_eq!((chalk / GramsPerMillilitre::new(2.5)).value(), 100.0);
    /// assert!(Grams::checked(f64::NAN).is_err());
    /// # Ok::<(), measure::QuantityError>(())
    /// ```
    Grams, "g", "a mass", 0.0, 1e9
);
quantity!(
    /// Volume in millilitres.
    Millilitres, "ml", "a volume", 0.0, 1e9
);
quantity!(
    /// Density in grams per millilitre, 0.01 to 25.
    GramsPerMillilitre, "g/ml", "a density", 0.01, 25.0
);
quantity!(
    /// Thickness in micrometres (thousandths of a millimetre).
    Micrometres, "um", "a thickness", 0.0, 1e5
);
quantity!(
    /// Area in square metres.
    SquareMetres, "m2", "an area", 0.0, 1e6
);
quantity!(
    /// Mass laid on an area, grams per square metre.
    GramsPerSquareMetre, "g/m2", "a mass per area", 0.0, 1e6
);
quantity!(
    /// A share of a whole, 0 to 1.
    Share, "1", "a share", 0.0, 1.0
);
quantity!(
    /// Temperature in degrees Celsius.
    Celsius, "C", "a temperature", -50.0, 300.0
);
quantity!(
    /// Amount of substance in millimoles.
    Millimoles, "mmol", "an amount of substance", 0.0, 1e9
);

quantity!(
    /// Time in hours.
    Hours, "h", "a time", 0.0, 1e7
);
quantity!(
    /// Length in millimetres.
    Millimetres, "mm", "a length", 0.0, 1e6
);
quantity!(
    /// Relative humidity of air in per cent, 0 to 100.
    RelativeHumidity, "%", "a relative humidity", 0.0, 100.0
);
quantity!(
    /// Pressure in pascals.
    Pascals, "Pa", "a pressure", 0.0, 1e9
);
quantity!(
    /// Energy on an area, joules per square metre.
    JoulesPerSquareMetre, "J/m2", "an energy per area", 0.0, 1e6
);
quantity!(
    /// Speed of air in metres a second.
    MetresPerSecond, "m/s", "a draught", 0.0, 50.0
);
quantity!(
    /// Mass in a cubic metre of air, in grams.
    GramsPerCubicMetre, "g/m3", "a mass per volume of air", 0.0, 1e7
);
quantity!(
    /// Mass carried by a kilogram of dry air, in grams.
    GramsPerKilogram, "g/kg", "a mass per mass of air", 0.0, 1e6
);
quantity!(
    /// Mass that leaves a square metre in an hour, in grams.
    GramsPerSquareMetreHour, "g/(m2 h)", "a drying rate", 0.0, 1e6
);

impl Div<GramsPerMillilitre> for Grams {
    type Output = Millilitres;
    fn div(self, density: GramsPerMillilitre) -> Millilitres {
        Millilitres(self.0 / density.0)
    }
}
impl Mul<GramsPerMillilitre> for Millilitres {
    type Output = Grams;
    fn mul(self, density: GramsPerMillilitre) -> Grams {
        Grams(self.0 * density.0)
    }
}
impl Div<Millilitres> for Grams {
    type Output = GramsPerMillilitre;
    fn div(self, volume: Millilitres) -> GramsPerMillilitre {
        GramsPerMillilitre(self.0 / volume.0)
    }
}
impl Mul<Hours> for GramsPerSquareMetreHour {
    type Output = GramsPerSquareMetre;
    fn mul(self, time: Hours) -> GramsPerSquareMetre {
        GramsPerSquareMetre(self.0 * time.0)
    }
}
impl Div<GramsPerSquareMetreHour> for GramsPerSquareMetre {
    type Output = Hours;
    fn div(self, rate: GramsPerSquareMetreHour) -> Hours {
        Hours(self.0 / rate.0)
    }
}
impl Mul<SquareMetres> for GramsPerSquareMetre {
    type Output = Grams;
    fn mul(self, area: SquareMetres) -> Grams {
        Grams(self.0 * area.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_comes_from_outside_is_checked() {
        assert!(matches!(Grams::checked(-1.0), Err(QuantityError::OutOfRange { .. })));
        assert!(matches!(Share::checked(1.2), Err(QuantityError::OutOfRange { .. })));
        assert!(matches!(Millilitres::checked(f64::INFINITY), Err(QuantityError::NotFinite { .. })));
        let said = Grams::checked(1e99).unwrap_err().to_string();
        assert!(said.contains("a mass") && said.contains('g'), "{said}");
    }

    #[test]
    fn mass_volume_and_density_go_together() {
        let density = GramsPerMillilitre::new(0.85);
        let cup = Millilitres::new(236.588_236_5);
        // One level US cup of chalk at 0.85 g/ml weighs 201.1 g (hand: 236.588 x 0.85).
        assert!(((cup * density).value() - 201.1).abs() < 0.01);
        assert!(((cup * density) / density - cup).value().abs() < 1e-9);
    }
}
