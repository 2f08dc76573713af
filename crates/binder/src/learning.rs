//! What a reading of pH paper says about this milk.

use materials::Catalogue;
use measure::{Figure, Input, Millilitres, Spread, Unit};

use crate::acid_inputs::AcidInputs;
use crate::book::BinderBook;
use crate::error::BinderError;
use crate::inputs::MilkInputs;
use crate::request::AcidAtHand;
use crate::souring::{MilkBalance, MilkMakeup, Pour};

/// A reading while the acid goes in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PaperReading {
    /// All that had gone in.
    pub poured: Pour,
    /// What the paper said.
    pub ph: f64,
    /// How far the paper may be off, one standard deviation; strips for a narrow range about 0.15, wide ones 0.3 (common practice, no source).
    pub doubt: f64,
}

/// What the readings moved.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Learned {
    /// How much acid this milk takes, beside the usual.
    pub need: Figure,
    /// The same before the readings.
    pub need_before: Figure,
    /// Casein in the milk, g/l.
    pub casein: Figure,
    /// Which of the two the readings moved most.
    pub moved: Moved,
    /// Whether the readings lie further from anything in the ranges than the paper can be off: read again, or the milk or acid is another.
    pub strange: bool,
}

/// What a reading changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Moved {
    /// How much acid it takes.
    Need,
    /// How much casein there is.
    Casein,
    /// Neither by more than a tenth of its range.
    Nothing,
}

const STEPS: u32 = 21;
/// Beyond so many doubts of the paper a reading is strange (judgement, no source).
const STRANGE: f64 = 3.0;

/// Fits the need for acid and the casein of this milk to readings, inside their ranges, on a grid; each point alike before.
///
/// # Errors
/// No milk, a doubt that is none, or amounts that are none.
pub fn learn(book: &BinderBook, makeup: &MilkMakeup, milk: Millilitres, readings: &[PaperReading]) -> Result<Learned, BinderError> {
    let range = |key: &str| -> Result<(f64, f64, f64), BinderError> {
        let constant = book.constant(key)?;
        let (low, high) = constant.range.unwrap_or((constant.value, constant.value));
        Ok((low, constant.value, high))
    };
    let (need, casein) = (range("acid_need")?, range("milk.casein")?);
    if readings.iter().any(|reading| !(reading.doubt > 0.0 && reading.ph.is_finite())) {
        return Err(BinderError::Reading);
    }
    let at = |range: (f64, f64, f64), step: u32| range.0 + (range.2 - range.0) * (f64::from(step) + 0.5) / f64::from(STEPS);
    let mut grid = Vec::with_capacity((STEPS * STEPS) as usize);
    let mut nearest = f64::INFINITY;
    for i in 0..STEPS {
        let balance = MilkBalance::new(book, MilkMakeup { casein: at(casein, i), ..*makeup });
        for j in 0..STEPS {
            let mut off = 0.0f64;
            let mut worst = 0.0f64;
            for reading in readings {
                let away = (balance.ph(milk, &reading.poured.times(1.0 / at(need, j)))? - reading.ph) / reading.doubt;
                off += away * away;
                worst = worst.max(away.abs());
            }
            nearest = nearest.min(worst);
            grid.push((at(need, j), at(casein, i), off));
        }
    }
    let least = grid.iter().map(|point| point.2).fold(f64::INFINITY, f64::min);
    let weighed = |of: fn(&(f64, f64, f64)) -> f64| -> Vec<(f64, f64)> {
        grid.iter().map(|point| (of(point), (-0.5 * (point.2 - least)).exp())).collect()
    };
    let (needs, caseins) = (weighed(|point| point.0), weighed(|point| point.1));
    let shift = |found: &Figure, range: (f64, f64, f64)| (found.value - 0.5 * (range.0 + range.2)).abs() / (range.2 - range.0);
    let (need_found, casein_found) = (figure("acid_need", needs, Unit::One), figure("milk_casein", caseins, Unit::Grams));
    let (by_need, by_casein) = (shift(&need_found, need), shift(&casein_found, casein));
    let moved = match by_need.max(by_casein) {
        most if most < 0.1 => Moved::Nothing,
        _ if by_need >= by_casein => Moved::Need,
        _ => Moved::Casein,
    };
    // Every point of the grid alike.
    let even = (0..STEPS).map(|step| (at(need, step), 1.0)).collect();
    Ok(Learned {
        need: need_found,
        need_before: figure("acid_need", even, Unit::One),
        casein: casein_found,
        moved,
        strange: nearest > STRANGE,
    })
}

/// Mean and the band of eight in ten of weighed values.
fn figure(key: &'static str, mut values: Vec<(f64, f64)>, unit: Unit) -> Figure {
    values.sort_by(|a, b| a.0.total_cmp(&b.0));
    let whole: f64 = values.iter().map(|value| value.1).sum();
    let mean = values.iter().map(|value| value.0 * value.1).sum::<f64>() / whole;
    let below = |share: f64| {
        let mut seen = 0.0;
        values.iter().find(|value| {
            seen += value.1;
            seen >= share * whole
        })
    };
    let end = |share: f64| below(share).map_or(mean, |value| value.0);
    Figure { key, value: mean, low: end(0.1).min(mean), high: end(0.9).max(mean), unit }
}

/// All that these acids and this water bring into the milk, at the best numbers: what a reading of paper was taken in.
///
/// # Errors
/// An acid without its amount, rennet, or a strength that can't be true.
pub fn poured(acids: &[AcidAtHand], water: Millilitres) -> Result<Pour, BinderError> {
    let (book, jars) = (BinderBook::builtin()?, Catalogue::builtin()?);
    let mut all = Pour { volume: Millilitres::checked(water.value())?, ..Pour::NOTHING };
    for acid in acids {
        let inputs = AcidInputs::of(book, jars, acid)?;
        let unit = inputs.unit(&|input| input.best);
        all = all.and(&unit.pour(inputs.units(&unit)?.ok_or(BinderError::NoAmount)?, 1.0));
    }
    Ok(all)
}

impl Learned {
    /// The inputs of a batch with what the paper moved: the need for acid, and the protein so that the casein is what was found.
    #[must_use]
    pub fn into_inputs(&self, inputs: &MilkInputs) -> MilkInputs {
        let usual = 10.0 * inputs.protein.best * inputs.casein_share.best * inputs.milk_density.best;
        let factor = |casein: f64| inputs.protein.best * casein / usual;
        let protein = Input {
            best: factor(self.casein.value),
            spread: Spread::Even(factor(self.casein.low), factor(self.casein.high)),
            source: "your pH paper".into(),
            ..inputs.protein.clone()
        };
        MilkInputs { acid_need: self.as_input(&inputs.acid_need), protein, ..inputs.clone() }
    }

    /// The need for acid as an input for the batches that follow.
    pub fn as_input(&self, usual: &Input) -> Input {
        Input {
            best: self.need.value,
            spread: Spread::Even(self.need.low, self.need.high),
            source: "your pH paper".into(),
            ..usual.clone()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::acid::Acid;
    use measure::Millimoles;

    const LITRE: Millilitres = Millilitres::new(1000.0);

    fn reading(dose: f64, ph: f64) -> PaperReading {
        PaperReading { poured: Pour::of(Acid::Acetic, Millimoles::new(dose), Millilitres::new(dose / 0.8326)), ph, doubt: 0.15 }
    }

    fn learned(readings: &[PaperReading]) -> Learned {
        let book = BinderBook::builtin().unwrap();
        learn(book, &MilkMakeup::usual(book).unwrap(), LITRE, readings).unwrap()
    }

    #[test]
    fn milk_that_stays_milder_needs_more() {
        let book = BinderBook::builtin().unwrap();
        let balance = MilkBalance::new(book, MilkMakeup::usual(book).unwrap());
        let milder = reading(80.0, 0.0);
        let usual = balance.ph(LITRE, &milder.poured).unwrap();
        let up = learned(&[PaperReading { ph: usual + 0.2, ..milder }]);
        let down = learned(&[PaperReading { ph: usual - 0.2, ..milder }]);
        assert!(up.need.value > 1.02 && down.need.value < 0.98, "{up:?} {down:?}");
        assert_eq!(up.moved, Moved::Need);
        assert!(!up.strange);
        // More readings of the same kind narrow the range.
        let again = learned(&[PaperReading { ph: usual + 0.2, ..milder }; 4]);
        assert!(again.need.width() < up.need.width());
    }

    #[test]
    fn a_reading_beyond_the_ranges_is_strange_and_moves_nothing_outside() {
        let found = learned(&[reading(80.0, 6.6)]);
        assert!(found.strange);
        assert!((0.87..=1.15).contains(&found.need.value) && (24.0..=30.0).contains(&found.casein.value));
        assert_eq!(learned(&[]).moved, Moved::Nothing);
    }

    #[test]
    fn a_doubt_of_nothing_is_refused() {
        let book = BinderBook::builtin().unwrap();
        let makeup = MilkMakeup::usual(book).unwrap();
        for doubt in [0.0, -1.0, f64::NAN] {
            assert_eq!(learn(book, &makeup, LITRE, &[PaperReading { doubt, ..reading(80.0, 5.0) }]), Err(BinderError::Reading));
        }
    }
}
