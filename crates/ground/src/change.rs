//! Change this: how much more powder or binder would bring a ground to the middle of *usual*, and what else changes with it.

use measure::Millilitres;

use crate::film::Film;
use crate::word::USUAL_MIDDLE;

/// Volume of powder that stands at this place on the rule with this much dry binder; `None` beyond pure powder.
///
/// ```
/// use measure::Millilitres;
/// // Critical share 0.6572, place 1.2541: PVC 0.8242, so 7.874 ml of binder carry 36.9 ml of powder.
/// let powder = ground::powder_for(Millilitres::new(7.874), 0.6572, 1.2541).unwrap();
/// assert!((powder.value() - 36.9).abs() < 0.1);
/// ```
pub fn powder_for(binder: Millilitres, critical_share: f64, lambda: f64) -> Option<Millilitres> {
    let share = lambda * critical_share;
    (share < 1.0).then(|| binder * (share / (1.0 - share)))
}

/// A change of one side of the recipe.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Change {
    /// Multiply every powder by this (1 = leave).
    pub powder: f64,
    /// Multiply every binder by this (1 = leave).
    pub binder: f64,
}

/// The two plain ways to the middle of *usual*: change the powder, or change the binder. `None` where no amount of binder gets
/// there (the powder packs so tightly that the middle lies beyond pure powder).
pub fn changes_to_usual(film: &Film) -> Option<[Change; 2]> {
    // The binder's factor is the inverse of the powder's: only their ratio counts.
    let powder = powder_for(film.binder_volume, film.cpvc, USUAL_MIDDLE)? / film.filler_volume;
    Some([Change { powder, binder: 1.0 }, Change { powder: 1.0, binder: 1.0 / powder }])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Portion, Role, film};
    use measure::{Grams, GramsPerMillilitre as D};

    fn pot(chalk: f64, glue: f64) -> Vec<Portion> {
        vec![
            Portion { mass: Grams::new(chalk), role: Role::Filler { density: D::new(2.71), oil_absorption: 18.0 } },
            Portion { mass: Grams::new(glue), role: Role::DryBinder { density: D::new(1.27) } },
        ]
    }

    #[test]
    fn both_ways_end_in_the_middle() {
        let rich = film(&pot(100.0, 40.0)).unwrap();
        for change in changes_to_usual(&rich).unwrap() {
            let after = film(&pot(100.0 * change.powder, 40.0 * change.binder)).unwrap();
            assert!((after.lambda() - USUAL_MIDDLE).abs() < 1e-9);
        }
    }

    #[test]
    fn a_powder_that_packs_too_tightly_has_no_usual_middle() {
        // Oil absorption 6, density 4.45 (barite at its least): critical share 1 / (1 + 6 x 4.45 / 93.5) = 0.778, times 1.25 = 0.97; at 4, 1.05.
        let tight = vec![
            Portion { mass: Grams::new(100.0), role: Role::Filler { density: D::new(4.45), oil_absorption: 4.0 } },
            Portion { mass: Grams::new(1.0), role: Role::DryBinder { density: D::new(1.27) } },
        ];
        assert!(changes_to_usual(&film(&tight).unwrap()).is_none());
    }
}
