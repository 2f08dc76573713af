//! How far a bent strip is stretched, and how thick wet and dry coats go together.

use measure::{Micrometres, Millimetres, Share};

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

    /// The same for a coat as stiff as its sheet, so that the middle of both together keeps its length: (h + f)/(D + h + f). On canvas,
    /// paper and card the truth lies between this and [`Self::stretch`].
    ///
    /// # Errors
    /// The diameter is not above 0.
    ///
    /// ```
    /// use measure::Micrometres;
    /// use trials::scales::BentStrip;
    /// // By hand: canvas 0.6 mm, ground 0.3 mm, 100 mm: 0.9 / 100.9 = 0.892 %.
    /// let strip = BentStrip::new(Micrometres::new(600.0), Micrometres::new(300.0))?;
    /// assert!((strip.stretch_as_one(Micrometres::new(100_000.0))?.value() - 0.00892).abs() < 1e-5);
    /// # Ok::<(), trials::scales::BendError>(())
    /// ```
    pub fn stretch_as_one(self, diameter: Micrometres) -> Result<Share, BendError> {
        let d = positive(diameter, "the diameter of the cylinder")?;
        let both = self.sheet.value() + self.coat.value();
        Ok(Share::new(both / (d + both)))
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

/// Diameter of the bending cone so far from its narrow end: 3 mm growing evenly to 38 mm over 200 mm (ASTM D522/D522M-17, 7.1.1).
///
/// ```
/// let d = trials::scales::cone_at(measure::Millimetres::new(100.0));
/// assert!((d.value() / 1000.0 - 20.5).abs() < 1e-9); // by hand: 3 + 0.175 x 100
/// ```
pub fn cone_at(along: Millimetres) -> Micrometres {
    Micrometres::new(1000.0 * (3.0 + 0.175 * along.value()))
}

/// How far from its narrow end the cone is so wide; `None` where it is nowhere.
pub fn along_cone(diameter: Micrometres) -> Option<Millimetres> {
    let along = (diameter.value() / 1000.0 - 3.0) / 0.175;
    (0.0..=200.0).contains(&along).then(|| Millimetres::new(along))
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

    /// Stretch printed for a film of 1 mil (25.4 um) on cold-rolled steel of 1/32 inch (0.794 mm), ASTM D522 table as reprinted: 3.3, 4.4,
    /// 6.75, 9.0, 14.0 and 28.0 % round 25.4 to 3.175 mm. The bare geometry, by hand (0.794 + 0.0508)/(D + 0.794), lies below it, by 2 %
    /// round wide cylinders and by a quarter round the tightest, because the steel gives way. Grounds are bent round wide ones.
    #[test]
    fn the_printed_table_for_steel_and_the_bare_geometry() {
        let strip = BentStrip::new(Micrometres::new(794.0), Micrometres::new(25.4)).unwrap();
        for (mm, printed, hand) in
            [(25.4, 3.3, 3.23), (19.05, 4.4, 4.26), (12.7, 6.75, 6.26), (9.525, 9.0, 8.19), (6.35, 14.0, 11.83), (3.175, 28.0, 21.28)]
        {
            let told = 100.0 * strip.stretch(Micrometres::new(1000.0 * mm)).unwrap().value();
            assert!((told - hand).abs() < 0.01, "{mm}: {told}");
            assert!(told < printed && told > 0.75 * printed, "{mm}: {told}");
        }
        let wide = 100.0 * strip.stretch(Micrometres::new(25_400.0)).unwrap().value();
        assert!((wide / 3.3 - 1.0).abs() < 0.03);
    }

    #[test]
    fn rolled_canvas_by_hand() {
        // Canvas 0.6 mm, ground 0.3 mm: 1.2/75.6 = 1.587 %, 0.9/75.9 = 1.186 %; 1.2/100.6 = 1.193, 0.9/100.9 = 0.892; 1.2/300.6 = 0.399,
        // 0.9/300.9 = 0.299; for 0.3 % 1.2/0.003 - 0.6 = 399.4 mm.
        let canvas = BentStrip::new(Micrometres::new(600.0), Micrometres::new(300.0)).unwrap();
        for (mm, upper, middle) in [(75.0, 1.587, 1.186), (100.0, 1.193, 0.892), (300.0, 0.399, 0.299)] {
            let d = Micrometres::new(1000.0 * mm);
            assert!((100.0 * canvas.stretch(d).unwrap().value() - upper).abs() < 1e-3);
            assert!((100.0 * canvas.stretch_as_one(d).unwrap().value() - middle).abs() < 1e-3);
        }
        assert!((canvas.cylinder_for(Share::new(0.003)).unwrap().value() / 1000.0 - 399.4).abs() < 1e-6);
    }

    #[test]
    fn places_on_the_cone() {
        // ASTM D522/D522M-17, 7.1.1: 3 mm at the narrow end, 38 mm after 200 mm; half-way 20.5 mm by hand.
        for (mm, d) in [(0.0, 3.0), (100.0, 20.5), (200.0, 38.0)] {
            assert!((cone_at(Millimetres::new(mm)).value() / 1000.0 - d).abs() < 1e-9);
            assert!((along_cone(Micrometres::new(1000.0 * d)).unwrap().value() - mm).abs() < 1e-6);
        }
        assert!(along_cone(Micrometres::new(2e3)).is_none() && along_cone(Micrometres::new(5e4)).is_none());
    }

    proptest::proptest! {
        #[test]
        fn a_wider_cylinder_stretches_less(sheet in 10.0f64..3000.0, coat in 1.0f64..2000.0, a in 1e3f64..1e6, b in 1e3f64..1e6) {
            let strip = BentStrip::new(Micrometres::new(sheet), Micrometres::new(coat)).unwrap();
            let round = |d: f64| (strip.stretch(Micrometres::new(d)).unwrap().value(), strip.stretch_as_one(Micrometres::new(d)).unwrap().value());
            let (tight, wide) = (round(a.min(b)), round(a.max(b)));
            proptest::prop_assert!(wide.0 <= tight.0 && wide.1 <= tight.1);
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
