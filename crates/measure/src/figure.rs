//! What a page sees of a number.

/// Share of the draws below a figure's low end.
pub const BAND_LOW: f64 = 0.10;
/// Share of the draws below a figure's high end: eight of ten lie between, in the whole product.
pub const BAND_HIGH: f64 = 0.90;

/// Ends of the range that holds eight of ten of these draws; draws that are not finite are left out. `None` without draws.
///
/// ```
/// assert_eq!(measure::band((0..=100).map(f64::from).collect()), Some((10.0, 90.0)));
/// assert_eq!(measure::band(vec![f64::NAN]), None);
/// ```
pub fn band(mut draws: Vec<f64>) -> Option<(f64, f64)> {
    draws.retain(|x| x.is_finite());
    let last = draws.len().checked_sub(1)?;
    let mut at = |share: f64| {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a rank below the length")]
        let rank = (share * last as f64).round() as usize;
        *draws.select_nth_unstable_by(rank.min(last), f64::total_cmp).1
    };
    Some((at(BAND_LOW), at(BAND_HIGH)))
}

/// Names a result, such as `pvc`. Every key has an entry that tells its formula in words, its source and its limits.
pub type FigureKey = &'static str;

/// Unit of a figure as it is written in data that leaves the program.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// A bare ratio or share.
    One,
    /// Grams.
    Grams,
    /// Millilitres.
    Millilitres,
    /// Micrometres.
    Micrometres,
    /// Grams per millilitre.
    GramsPerMillilitre,
    /// Grams per square metre.
    GramsPerSquareMetre,
    /// Acidity.
    Ph,
    /// Millimoles.
    Millimoles,
    /// Millimetres.
    Millimetres,
    /// Millimetres of line on a square millimetre.
    MillimetresPerSquareMillimetre,
    /// Square millimetres.
    SquareMillimetres,
    /// How many on a square centimetre.
    PerSquareCentimetre,
    /// Degrees of an angle.
    Degrees,
}

impl Unit {
    /// The symbol used in JSON and CSV.
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::One => "1",
            Self::Grams => "g",
            Self::Millilitres => "ml",
            Self::Micrometres => "um",
            Self::GramsPerMillilitre => "g/ml",
            Self::GramsPerSquareMetre => "g/m2",
            Self::Ph => "pH",
            Self::Millimoles => "mmol",
            Self::Millimetres => "mm",
            Self::MillimetresPerSquareMillimetre => "mm/mm2",
            Self::SquareMillimetres => "mm2",
            Self::PerSquareCentimetre => "1/cm2",
            Self::Degrees => "deg",
        }
    }
}

/// How well a value is founded, best first. A result shows the worst of what it rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Standing {
    /// Measured by the painter.
    Measured,
    /// Read in a named publication.
    Published,
    /// Follows from named equations.
    Computed,
    /// Known from the literature but not looked up.
    FromMemory,
    /// What people do; no source.
    CommonPractice,
    /// Chosen for the model; may be wrong.
    ModelChoice,
    /// Assumed because nothing was said.
    Assumed,
}

/// A result with its doubt: `low` to `high` holds eight draws of ten and always the value itself.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figure {
    /// Which result.
    pub key: FigureKey,
    /// The engine at the best inputs, so that hand arithmetic checks it.
    pub value: f64,
    /// One draw of ten lies below.
    pub low: f64,
    /// One draw of ten lies above.
    pub high: f64,
    /// Unit of all three.
    pub unit: Unit,
}

impl Figure {
    /// Builds a figure from the value at the best inputs and the draws (any order).
    ///
    /// Draws that are not finite are left out; with none left the band is the value alone.
    ///
    /// ```
    /// use measure::{Figure, Unit};
    /// let draws: Vec<f64> = (0..=100).map(f64::from).collect();
    /// let figure = Figure::from_draws("pvc", 95.0, draws, Unit::One);
    /// assert_eq!((figure.low, figure.high), (10.0, 95.0)); // widened to hold the value
    /// ```
    pub fn from_draws(key: FigureKey, value: f64, draws: Vec<f64>, unit: Unit) -> Self {
        let (low, high) = band(draws).unwrap_or((value, value));
        Self { key, value, low: low.min(value), high: high.max(value), unit }
    }

    /// A figure without doubt.
    pub const fn exact(key: FigureKey, value: f64, unit: Unit) -> Self {
        Self { key, value, low: value, high: value, unit }
    }

    /// Width of the band.
    pub fn width(&self) -> f64 {
        self.high - self.low
    }

    /// The same figure times a known number.
    #[must_use]
    pub fn times(self, factor: f64) -> Self {
        Self { value: self.value * factor, low: self.low * factor, high: self.high * factor, ..self }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn the_band_always_holds_the_value(value in -1e6f64..1e6, draws in proptest::collection::vec(-1e6f64..1e6, 0..200)) {
            let figure = Figure::from_draws("x", value, draws, Unit::One);
            prop_assert!(figure.low <= figure.value && figure.value <= figure.high);
        }
    }

    #[test]
    fn eight_of_ten_lie_within() {
        let draws: Vec<f64> = (0..1001).map(f64::from).collect();
        let figure = Figure::from_draws("x", 500.0, draws, Unit::Grams);
        assert!((figure.low - 100.0).abs() <= 1.0 && (figure.high - 900.0).abs() <= 1.0);
    }
}
