//! What was laid on a board, against what was wanted.

use measure::{Grams, GramsPerSquareMetre, SquareMetres};

/// A coat by the board's weight before and after it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Laid {
    /// Wet mass on a square metre.
    pub wet: GramsPerSquareMetre,
    /// How far off it may be by the steps of the scale alone, either way.
    pub within: GramsPerSquareMetre,
    /// Against what was wanted.
    pub beside: Beside,
}

/// A coat beside the one that was wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Beside {
    /// Surely thinner than wanted.
    Thinner,
    /// Within what was wanted, as far as the scale shows.
    AsWanted,
    /// Surely thicker than wanted.
    Thicker,
    /// The scale's step is wider than what is let pass.
    ScaleTooCoarse,
}

/// Weights or sizes that can't be a coat.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum LaidError {
    /// The board weighs less after the coat.
    #[error("the board weighs {lost} g less after the coat than before; weigh it again, or swap the two weights")]
    Lighter {
        /// How much less.
        lost: f64,
    },
    /// No size, no step, or a weight that is no number.
    #[error("{what} must be an ordinary number above 0; check it")]
    NoNumber {
        /// Which one.
        what: &'static str,
    },
}

/// What was laid, from the board's weight before and after the coat, its painted area, the wet mass wanted on a square metre with what is let
/// pass either way, and the step of the scale. Water that goes while the brush is at work is not counted: weigh at once.
///
/// # Errors
/// The board grew lighter by more than a step, or a value is no number above 0.
///
/// ```
/// use measure::{Grams, GramsPerSquareMetre, SquareMetres};
/// use support::{Beside, laid};
/// // 11.2 g on 20 x 25 cm are 224 g/m2; wanted were 200 within 20.
/// let wanted = (GramsPerSquareMetre::new(200.0), GramsPerSquareMetre::new(20.0));
/// let coat = laid((Grams::new(500.0), Grams::new(511.2)), SquareMetres::new(0.05), wanted, Grams::new(0.1))?;
/// assert_eq!(coat.beside, Beside::Thicker);
/// assert!((coat.wet.value() - 224.0).abs() < 1e-9);
/// # Ok::<(), support::LaidError>(())
/// ```
pub fn laid(
    (before, after): (Grams, Grams),
    area: SquareMetres,
    (wanted, let_pass): (GramsPerSquareMetre, GramsPerSquareMetre),
    step: Grams,
) -> Result<Laid, LaidError> {
    let above = |what, value: f64| if value > 0.0 && value.is_finite() { Ok(value) } else { Err(LaidError::NoNumber { what }) };
    above("the weight before the coat", before.value())?;
    above("the weight after the coat", after.value())?;
    above("the mass wanted", wanted.value())?;
    above("what is let pass", let_pass.value())?;
    let (area, step) = (above("the size of the board", area.value())?, above("the step of the scale", step.value())?);
    let grams = (after - before).value();
    if grams < -step {
        return Err(LaidError::Lighter { lost: -grams });
    }
    // Each of two readings is off by half a step at most.
    let (wet, within) = (grams.max(0.0) / area, step / area);
    let off = wet - wanted.value();
    let beside = if off - within > let_pass.value() {
        Beside::Thicker
    } else if off + within < -let_pass.value() {
        Beside::Thinner
    } else if within > let_pass.value() {
        Beside::ScaleTooCoarse
    } else {
        Beside::AsWanted
    };
    Ok(Laid { wet: GramsPerSquareMetre::new(wet), within: GramsPerSquareMetre::new(within), beside })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn coat(before: f64, after: f64, step: f64) -> Result<Laid, LaidError> {
        let wanted = (GramsPerSquareMetre::new(200.0), GramsPerSquareMetre::new(20.0));
        laid((Grams::new(before), Grams::new(after)), SquareMetres::new(0.05), wanted, Grams::new(step))
    }

    #[test]
    fn thin_right_thick() {
        // On 0.05 m2: 8.8 g are 176, 9.2 g 184, 10.8 g 216, 11.2 g 224 g/m2; a step of 0.1 g is 2 g/m2.
        for (grams, beside) in [(8.8, Beside::Thinner), (9.2, Beside::AsWanted), (10.8, Beside::AsWanted), (11.2, Beside::Thicker)] {
            let found = coat(500.0, 500.0 + grams, 0.1).unwrap();
            assert_eq!(found.beside, beside, "{grams}: {found:?}");
            assert!((found.within.value() - 2.0).abs() < 1e-9);
        }
        // Steps of 2 g are 40 g/m2: only gross errors show.
        assert_eq!(coat(500.0, 510.0, 2.0).unwrap().beside, Beside::ScaleTooCoarse);
        assert_eq!(coat(500.0, 516.0, 2.0).unwrap().beside, Beside::Thicker);
    }

    #[test]
    fn what_can_be_no_coat() {
        assert!(coat(511.0, 500.0, 0.1).unwrap_err().to_string().contains("11 g less"));
        assert!(matches!(coat(f64::NAN, 500.0, 0.1), Err(LaidError::NoNumber { .. })));
        assert!(matches!(coat(500.0, 510.0, 0.0), Err(LaidError::NoNumber { what: "the step of the scale" })));
    }
}
