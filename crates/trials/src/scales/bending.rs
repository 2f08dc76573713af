//! How far a bent strip is stretched, and how thick wet and dry coats go together.

use measure::{Micrometres, Share};

use super::ReadingValue;

/// Something round to bend strips over.
#[derive(Debug, Clone, PartialEq)]
pub struct Cylinder {
    /// Whether it belongs to the standard set, whose tightness cracks every glue ground.
    pub standard: bool,
    /// What it is.
    pub name: String,
    /// Its diameter; measure your own.
    pub diameter: Micrometres,
    /// Where the diameter comes from.
    pub source: String,
}

/// A sheet and the dry coat on it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BentStrip {
    sheet: Micrometres,
    coat: Micrometres,
}

/// A strip or a cylinder that can't be.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum BendError {
    /// A thickness or a diameter is 0, below 0 or no number.
    #[error("{what} must be more than 0; measure it in millimetres")]
    NotPositive {
        /// Which one.
        what: &'static str,
    },
    /// A strip that stays sound round a tight cylinder can't have cracked round a wider one.
    #[error("the strip held round a cylinder as tight as the one that cracked it, or tighter; check which was which")]
    WrongWayRound,
    /// Neither a sound nor a cracked strip was named.
    #[error("say round which cylinder the strip held, or round which it cracked")]
    NothingSeen,
}

fn positive(length: Micrometres, what: &'static str) -> Result<f64, BendError> {
    let value = length.value();
    if value.is_finite() && value > 0.0 { Ok(value) } else { Err(BendError::NotPositive { what }) }
}

impl BentStrip {
    /// A sheet and its dry coat.
    ///
    /// # Errors
    /// One of the thicknesses is not above 0.
    pub fn new(sheet: Micrometres, coat: Micrometres) -> Result<Self, BendError> {
        positive(sheet, "the thickness of the sheet")?;
        positive(coat, "the thickness of the coat")?;
        Ok(Self { sheet, coat })
    }

    /// Stretch of the coat's outer face round a cylinder of this diameter: (h + 2 f)/(D + h) with sheet h, coat f, diameter D. It holds
    /// for a thin coat that is softer than its sheet, so that the middle of the sheet keeps its length.
    ///
    /// # Errors
    /// The diameter is not above 0.
    ///
    /// ```
    /// use measure::Micrometres;
    /// use trials::scales::BentStrip;
    /// let strip = BentStrip::new(Micrometres::new(300.0), Micrometres::new(100.0))?;
    /// let stretch = strip.stretch(Micrometres::new(250_000.0))?;
    /// assert!((stretch.value() - 0.002).abs() < 1e-5);
    /// # Ok::<(), trials::scales::BendError>(())
    /// ```
    pub fn stretch(self, diameter: Micrometres) -> Result<Share, BendError> {
        let d = positive(diameter, "the diameter of the cylinder")?;
        Ok(Share::new((self.sheet.value() + 2.0 * self.coat.value()) / (d + self.sheet.value())))
    }

    /// Diameter of the cylinder that stretches the outer face so far.
    ///
    /// # Errors
    /// The stretch is not above 0, or so large that no cylinder gives it.
    pub fn cylinder_for(self, stretch: Share) -> Result<Micrometres, BendError> {
        let s = stretch.value();
        if !s.is_finite() || s <= 0.0 {
            return Err(BendError::NotPositive { what: "the stretch" });
        }
        let diameter = Micrometres::new((self.sheet.value() + 2.0 * self.coat.value()) / s - self.sheet.value());
        positive(diameter, "the diameter of the cylinder").map(|_| diameter)
    }

    /// The reading, in percent: it broke between the stretch round the tightest cylinder that it survived (`held`) and the stretch round
    /// the widest that cracked it (`cracked`).
    ///
    /// # Errors
    /// Neither is named, one is not above 0, or it held round the tighter one.
    pub fn reading(self, held: Option<Micrometres>, cracked: Option<Micrometres>) -> Result<ReadingValue, BendError> {
        let percent = |diameter: Option<Micrometres>| diameter.map(|d| self.stretch(d).map(|s| s.value() * 100.0)).transpose();
        match (percent(held)?, percent(cracked)?) {
            (Some(low), Some(high)) if low < high => Ok(ReadingValue::Between(low, high)),
            (Some(_), Some(_)) => Err(BendError::WrongWayRound),
            (Some(low), None) => Ok(ReadingValue::Above(low)),
            (None, Some(high)) => Ok(ReadingValue::Below(high)),
            (None, None) => Err(BendError::NothingSeen),
        }
    }
}

/// Wet thickness that dries to `dry`: DFT (1 + thinner)/volume solids. `thinner` is what is added, as a share of the paint's volume.
/// Does not hold for matt coats that keep air, as most grounds do: they dry thicker (ASTM D4414). `None` when nothing stays.
///
/// ```
/// use measure::{Micrometres, Share};
/// let wet = trials::scales::wet_for_dry(Micrometres::new(60.0), Share::new(0.40), Share::ZERO).ok_or("nothing stays")?;
/// assert!((wet.value() - 150.0).abs() < 1e-9);
/// # Ok::<(), &'static str>(())
/// ```
pub fn wet_for_dry(dry: Micrometres, volume_solids: Share, thinner: Share) -> Option<Micrometres> {
    let wet = dry * (1.0 + thinner.value()) / volume_solids.value();
    (volume_solids.value() > 0.0 && wet.value().is_finite() && wet.value() >= 0.0).then_some(wet)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scales::ScaleBook;

    fn strip() -> BentStrip {
        BentStrip::new(Micrometres::new(300.0), Micrometres::new(100.0)).unwrap()
    }

    #[test]
    fn stretch_round_the_standard_set() {
        // Hand arithmetic, (0.3 + 0.2)/(D + 0.3): 0.5/2.3 = 21.739 %, ... 0.5/32.3 = 1.548 %. The set of ISO 1519, from memory.
        let wanted = [21.739, 15.152, 11.628, 9.434, 7.937, 6.024, 4.854, 4.065, 3.067, 2.463, 1.976, 1.548];
        let book = ScaleBook::builtin().unwrap();
        let set: Vec<_> = book.cylinders().iter().filter(|cylinder| cylinder.standard).collect();
        assert_eq!(set.len(), wanted.len());
        for (cylinder, percent) in set.iter().zip(wanted) {
            let told = strip().stretch(cylinder.diameter).unwrap().value() * 100.0;
            assert!((told - percent).abs() < 5e-4, "{}: {told}", cylinder.name);
        }
    }

    #[test]
    fn cylinders_for_a_glue_ground() {
        // Hand arithmetic: 0.5/0.005 - 0.3 = 99.7 mm, 0.5/0.002 - 0.3 = 249.7 mm.
        for (share, mm) in [(0.005, 99.7), (0.002, 249.7)] {
            assert!((strip().cylinder_for(Share::new(share)).unwrap().value() / 1000.0 - mm).abs() < 1e-9);
        }
        assert!(strip().cylinder_for(Share::ZERO).is_err() && strip().cylinder_for(Share::new(5.0)).is_err());
    }

    #[test]
    fn the_reading_lies_between_sound_and_cracked() {
        let mm = |value: f64| Some(Micrometres::new(value * 1000.0));
        assert!(
            matches!(strip().reading(mm(249.7), mm(99.7)).unwrap(), ReadingValue::Between(a, b) if (a - 0.2).abs() < 1e-9 && (b - 0.5).abs() < 1e-9)
        );
        assert!(matches!(strip().reading(None, mm(99.7)).unwrap(), ReadingValue::Below(_)));
        assert!(matches!(strip().reading(mm(99.7), None).unwrap(), ReadingValue::Above(_)));
        assert_eq!(strip().reading(mm(99.7), mm(249.7)), Err(BendError::WrongWayRound));
        assert_eq!(strip().reading(None, None), Err(BendError::NothingSeen));
        assert!(BentStrip::new(Micrometres::new(0.0), Micrometres::new(f64::NAN)).is_err());
    }

    #[test]
    fn wet_thickness_by_hand() {
        // 60/0.4 = 150; 60 x 1.25/0.4 = 187.5.
        let wet = |thinner| wet_for_dry(Micrometres::new(60.0), Share::new(0.4), Share::new(thinner)).unwrap().value();
        assert!((wet(0.0) - 150.0).abs() < 1e-9 && (wet(0.25) - 187.5).abs() < 1e-9);
        assert!(wet_for_dry(Micrometres::new(60.0), Share::ZERO, Share::ZERO).is_none());
    }
}
