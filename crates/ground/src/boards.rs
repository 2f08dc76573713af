//! From casein to boards: a usual pot for a gram of casein, and how far it goes.

use binder::{BinderError, MilkRequest, caught, milk_inputs};
use materials::Material;
use measure::{Draws, Figure, Grams, GramsPerMillilitre, GramsPerSquareMetre, Input, Share, SquareMetres, Unit};

use crate::change::powder_for;
use crate::mix::thirst_input;
use crate::packing::critical_share;
use crate::word::USUAL_MIDDLE;

/// Casein in casein and water that still brushes well: 11 % (up to 12.5 % in print: caseinate solutions 2.5-12.5 % are smooth,
/// Gawalek and Wesolowski; the value inside is a model choice).
pub const BRUSHABLE: Share = Share::new(0.11);

/// Density of dry casein, g/ml (1.26, from memory).
const CASEIN: GramsPerMillilitre = GramsPerMillilitre::new(1.26);

/// What goes with so much dry casein to make a usual ground.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CaseinPot {
    /// Dry casein.
    pub casein: Grams,
    /// Powder.
    pub powder: Grams,
    /// Water in all, that of the curd included.
    pub water: Grams,
}

impl CaseinPot {
    /// The whole pot.
    pub fn all(&self) -> Grams {
        self.casein + self.powder + self.water
    }
}

/// A usual pot for this much casein with one powder; `None` for a powder that packs too tightly for the middle of *usual*.
///
/// ```
/// use measure::{Grams, GramsPerMillilitre};
/// let pot = ground::casein_pot(Grams::new(10.0), GramsPerMillilitre::new(2.71), 18.0).unwrap();
/// assert!((pot.powder.value() - 99.0).abs() < 0.5); // by hand: 7.937 ml x 0.8215 / 0.1785 x 2.71
/// ```
pub fn casein_pot(casein: Grams, density: GramsPerMillilitre, oil_absorption: f64) -> Option<CaseinPot> {
    let share = critical_share(&[(1.0, density.value(), oil_absorption)]);
    let powder = powder_for(casein / CASEIN, share, USUAL_MIDDLE)? * density;
    let water = casein * (1.0 / BRUSHABLE.value() - 1.0);
    Some(CaseinPot { casein, powder, water })
}

/// What goes with the casein of a batch of curd, with its doubt: that of the milk and that of the powder's thirst.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PotFigures {
    /// Powder.
    pub powder: Figure,
    /// Water to add to that which the curd brings.
    pub added_water: Figure,
}

/// The pot for a batch of curd. Draws share their keys with the curd's own figures, so both tell of the same milk.
///
/// # Errors
/// As [`binder::curd`].
pub fn pot_with_ranges(request: &MilkRequest, powder: &Material, draws: Draws) -> Result<Option<PotFigures>, BinderError> {
    let (Some(density), Some(thirst)) = (powder.property("density"), powder.property("oil_absorption")) else { return Ok(None) };
    let density = GramsPerMillilitre::new(density.value);
    let thirst = thirst_input(powder, thirst);
    let inputs = milk_inputs(request)?;
    let at = |value: &dyn Fn(&Input) -> f64| -> Result<Option<(f64, f64)>, BinderError> {
        let curd = caught(request, &inputs, value)?;
        Ok(casein_pot(curd.casein, density, value(&thirst))
            .map(|pot| (pot.powder.value(), (pot.water - curd.water_in_curd).value().max(0.0))))
    };
    let Some((powder, water)) = at(&|input| input.best)? else { return Ok(None) };
    let (mut powders, mut waters) = (Vec::with_capacity(draws.count), Vec::with_capacity(draws.count));
    for index in 0..draws.count {
        if let Some((powder, water)) = at(&|input| draws.value(input, index))? {
            powders.push(powder);
            waters.push(water);
        }
    }
    Ok(Some(PotFigures {
        powder: Figure::from_draws("powder", powder, powders, Unit::Grams),
        added_water: Figure::from_draws("added_water", water, waters, Unit::Grams),
    }))
}

/// Boards to be covered.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Boards {
    /// How many.
    pub count: u32,
    /// One face of one board.
    pub face: SquareMetres,
    /// Coats on each.
    pub coats: u32,
    /// Wet mass of one coat.
    pub coat: GramsPerSquareMetre,
    /// Share that stays in brush and pot.
    pub loss: Share,
}

impl Boards {
    /// All faces together.
    pub fn area(&self) -> SquareMetres {
        self.face * f64::from(self.count)
    }
    /// Wet mass that one board takes, loss included.
    pub fn for_one(&self) -> Grams {
        self.coat * self.face * (f64::from(self.coats) * (1.0 + self.loss.value()))
    }
    /// Wet mass that all boards take, loss included.
    pub fn wet(&self) -> Grams {
        self.for_one() * f64::from(self.count)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn twelve_boards_by_hand() {
        // 12 boards of 20 x 25 cm: 0.600 m2; 3 coats of 200 g/m2: 360 g; with a fifth of loss 432 g.
        let boards =
            Boards { count: 12, face: SquareMetres::new(0.05), coats: 3, coat: GramsPerSquareMetre::new(200.0), loss: Share::new(0.2) };
        assert!((boards.area().value() - 0.6).abs() < 1e-9);
        assert!((boards.wet().value() - 432.0).abs() < 1e-9);
    }

    #[test]
    fn milk_for_twelve_boards_by_hand() {
        // 28.515 g casein at 3.4 % protein, 80 % of it casein, 90 % caught: 1164.8 g of milk; at 1.035 g/ml 1125.4 ml.
        let milk = binder::milk_for_casein(Grams::new(28.515), 3.4, Share::new(0.8), Share::new(0.9)).unwrap();
        assert!((milk.value() - 1164.8).abs() < 0.1, "{milk:?}");
        let back = binder::milk_mass(measure::Millilitres::new(1125.4), GramsPerMillilitre::new(1.035));
        assert!((back.value() - milk.value()).abs() < 0.1);
    }

    #[test]
    fn boards_on_an_instruction_sheet() {
        // 8 boards of 8 x 10 in: 0.41290 m2; 9 coats 3.71612 m2; 3.5 lb of powder over that: 427.2 g/m2 a coat (hand arithmetic).
        let face = 8.0 * 0.0254 * 10.0 * 0.0254;
        let boards = Boards { count: 8, face: SquareMetres::new(face), coats: 9, coat: GramsPerSquareMetre::new(1.0), loss: Share::ZERO };
        assert!((boards.area().value() - 0.412_90).abs() < 1e-5);
        assert!((3.5 * 453.592_37 / (boards.area().value() * 9.0) - 427.2).abs() < 0.1);
    }
}
