//! Plaster of Paris turning into gypsum: CaSO4.0.5H2O + 1.5 H2O -> CaSO4.2H2O.

use measure::{Grams, Millilitres};

use crate::portion::{GYPSUM, HEMIHYDRATE};

/// Water that one gram of plaster takes to set, g/g: 1.5 x 18.015 / 145.1415 (atomic weights Ca 40.078, S 32.06, O 15.999, H 1.008).
pub const WATER_TAKEN: f64 = 1.5 * 18.015 / 145.1415;

/// Gypsum made from one gram of plaster, g/g: 172.164 / 145.1415.
pub const GYPSUM_MADE: f64 = 172.164 / 145.1415;

/// Plaster after it has set as far as its water goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SetPlaster {
    /// Gypsum formed.
    pub gypsum: Grams,
    /// Plaster left for want of water.
    pub left: Grams,
    /// Water still free.
    pub free_water: Grams,
    /// Volume of gypsum and plaster left.
    pub solid: Millilitres,
}

/// Sets all the plaster that the water allows. Mass is kept: plaster + water = gypsum + left + free water.
///
/// ```
/// use measure::Grams;
/// let set = ground::set_plaster(Grams::new(100.0), Grams::new(60.0));
/// assert!((set.gypsum.value() - 118.62).abs() < 0.01); // 100 g x 172.164 / 145.1415
/// assert!((set.free_water.value() - 41.38).abs() < 0.01);
/// ```
pub fn set_plaster(plaster: Grams, water: Grams) -> SetPlaster {
    let degree = if plaster.value() > 0.0 { (water.value() / (WATER_TAKEN * plaster.value())).min(1.0) } else { 0.0 };
    let gypsum = plaster * (GYPSUM_MADE * degree);
    let left = plaster * (1.0 - degree);
    // Taken as the difference, so that mass is kept to the last digit.
    let free = (plaster + water - gypsum - left).value().max(0.0);
    SetPlaster { gypsum, left, free_water: Grams::new(free), solid: gypsum / GYPSUM + left / HEMIHYDRATE }
}

/// Heat that plaster gives off as it sets, joules to the gram of plaster: 19.235 kJ/mol for the beta kind (NBS tables, from memory;
/// the alpha kind gives 17.145, NBS row of a published table) over 145.1415 g/mol.
pub const HEAT_OF_SETTING: f64 = 19_235.0 / 145.1415;

/// How many degrees a pot could warm if all its plaster set at once and no heat got away: `dH m / (gypsum 1.08 + water 4.18)`, specific
/// heats in J/(g K) (from memory). Measured pots reach about 60 C.
///
/// ```
/// use measure::Grams;
/// let rise = ground::warming(Grams::new(100.0), Grams::new(60.0));
/// assert!((rise - 44.0).abs() < 0.3); // by hand: 13253 / (118.62 x 1.08 + 41.38 x 4.18)
/// ```
pub fn warming(plaster: Grams, water: Grams) -> f64 {
    let set = set_plaster(plaster, water);
    let reacted = set.gypsum.value() / GYPSUM_MADE;
    let capacity = set.gypsum.value() * 1.08 + set.left.value() * 1.0 + set.free_water.value() * 4.18;
    if capacity > 0.0 { reacted * HEAT_OF_SETTING / capacity } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn stoichiometry_of_setting() {
        // Own arithmetic from atomic weights: 0.18618 g water per g, 1.18618 g gypsum per g.
        assert!((WATER_TAKEN - 0.18618).abs() < 1e-5);
        assert!((GYPSUM_MADE - 1.18618).abs() < 1e-5);
        // Water in gypsum, printed as 20.93 % in an old plaster paper (e-text 15708) and found so: 2 x 18.015 / 172.164; in plaster as
        // bought 0.5 x 18.015 / 145.1415 = 6.206 %, printed as 6.2.
        let gypsum = GYPSUM_MADE * 145.1415;
        assert!((2.0 * 18.015 / gypsum - 0.2093).abs() < 1e-4);
        assert!(((gypsum - 1.5 * 18.015 - 136.134) / 145.1415 - 0.0621).abs() < 1e-4);
    }

    /// The sums behind the table of powder against binder (`materials/data/pairs.csv`, docs/methods/pairs.md), by hand.
    #[test]
    fn calcium_that_gypsum_gives_and_casein_ties() {
        let gypsum = GYPSUM_MADE * 145.1415;
        // 2.14 g of gypsum in a litre (a conservators' table of salts): 12.43 mmol. 6 to 9 g of plaster (from memory): 41.3 to 62.0.
        assert!((1000.0 * 2.14 / gypsum - 12.43).abs() < 0.01);
        assert!((1000.0f64 * 6.0 / 145.1415 - 41.3).abs() < 0.05 && (1000.0f64 * 9.0 / 145.1415 - 62.0).abs() < 0.05);
        // A gram of casein at 0.6 meq of base ties 0.3 mmol of calcium: 0.0516 g of gypsum.
        assert!((0.3e-3 * gypsum - 0.0516).abs() < 1e-4);
        // A level teaspoon of soda, 4.6 g or 54.76 mmol, makes half as much sodium sulphate of 142.04 g/mol: 3.89 g.
        assert!((4.6f64 / 84.007 / 2.0 * 142.04 - 3.89).abs() < 0.005);
        // The curd of a gallon, 97.65 g at 0.6 meq, on chalk: 29.3 mmol of gas of 24.055 ml each: 0.705 l; unrinsed with 27.1 meq more,
        // 0.705 + 0.326 = 1.03 l.
        let gas = |meq: f64| meq / 2.0 * 24.055 / 1000.0;
        assert!((gas(0.6 * 97.65) - 0.705).abs() < 5e-4 && (gas(0.6 * 97.65 + 27.1) - 1.03).abs() < 5e-3);
    }

    #[test]
    fn dried_plaster_weighs_what_makers_print() {
        // Makers' data for casting plasters (table at glasstips.blogspot.com, 18 Nov 2009): water to plaster and dry density, kg/m3. No bleeding
        // and no shrinkage: the dry block keeps the volume of the wet mix. Holds within 2 % from 0.38 to 0.74.
        for (ratio, printed) in [(0.70, 1106.0), (0.65, 1162.0), (0.74, 1057.0), (0.45, 1442.0), (0.38, 1588.0)] {
            let (plaster, water) = (Grams::new(100.0), Grams::new(100.0 * ratio));
            let wet = plaster / HEMIHYDRATE + water / crate::portion::WATER;
            let dry = 1000.0 * set_plaster(plaster, water).gypsum.value() / wet.value();
            assert!((dry / printed - 1.0).abs() < 0.02, "{ratio}: {dry}");
        }
    }

    #[test]
    fn heat_of_setting() {
        // By hand: 132.5 J/g (beta); water to plaster 0.8: 13253 / (118.62 x 1.08 + 61.38 x 4.18) = 34.5 K.
        assert!((HEAT_OF_SETTING - 132.5).abs() < 0.1);
        // Of the alpha kind, 17.145 kJ/mol by the NBS row of a published table (PMC7233307, table 3): -18.275 + 1.130; 118.1 J/g.
        assert!((1000.0f64 * (18.275 - 1.130) / 145.1415 - 118.1).abs() < 0.1);
        assert!((warming(Grams::new(100.0), Grams::new(80.0)) - 34.5).abs() < 0.2);
        assert!(warming(Grams::ZERO, Grams::new(80.0)).abs() < 1e-12);
    }

    #[test]
    fn too_little_water_leaves_plaster() {
        // 15 g water for 100 g: degree 0.15 / 0.18618 = 0.8057; 200 g water leave 181.38 g free.
        let dry = set_plaster(Grams::new(100.0), Grams::new(15.0));
        assert!((1.0 - dry.left.value() / 100.0 - 0.8057).abs() < 1e-4);
        assert!((set_plaster(Grams::new(100.0), Grams::new(200.0)).free_water.value() - 181.38).abs() < 0.01);
    }

    #[test]
    fn solid_grows_by_two_fifths() {
        // 1.18618 / 2.32 over 1 / 2.75.
        let set = set_plaster(Grams::new(100.0), Grams::new(60.0));
        assert!((set.solid.value() / (100.0 / 2.75) - 1.406).abs() < 1e-3);
    }

    proptest! {
        #[test]
        fn mass_is_kept(plaster in 0.0f64..1e4, water in 0.0f64..1e4) {
            let set = set_plaster(Grams::new(plaster), Grams::new(water));
            let after = set.gypsum.value() + set.left.value() + set.free_water.value();
            prop_assert!((after - plaster - water).abs() < 1e-8 * (1.0 + plaster + water));
        }
    }
}
