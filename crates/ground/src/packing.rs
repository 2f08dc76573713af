//! How grains pack: the share of powder at which binder just fills the gaps between them.

use measure::{GramsPerMillilitre, Micrometres};

/// Density of the oil in which oil absorption is measured, g/ml. The customary constant: 93.5 in the usual printed form
/// (R. Lewarchik, "Effect of Pigment Volume Concentration on Coatings Properties, Part II", 2014).
pub const RUB_OUT_OIL: GramsPerMillilitre = GramsPerMillilitre::new(0.935);

/// Critical share of a powder or a blend from its oil demand: every powder keeps its own gaps.
///
/// `1 / (1 + OA rho / (100 rho_oil))` for one powder (Asbeck and Van Loo 1949; worked in Lewarchik 2014); blends by additive oil demand.
///
/// ```
/// // Worked example in Lewarchik 2014: rutile, oil absorption 20, density 4.2 -> 0.5268.
/// let share = ground::critical_share(&[(100.0 / 4.2, 100.0, 20.0)]);
/// assert!((share - 0.5268).abs() < 0.0005);
/// ```
///
/// Each powder is (volume ml, mass g, oil absorption g/100 g). Zero for no powder.
pub fn critical_share(powders: &[(f64, f64, f64)]) -> f64 {
    let mut solid = 0.0;
    let mut gaps = 0.0;
    for (volume, mass, oil_absorption) in powders {
        solid += volume;
        gaps += mass * oil_absorption / (100.0 * RUB_OUT_OIL.value());
    }
    if solid > 0.0 { solid / (solid + gaps) } else { 0.0 }
}

/// Critical share when the fine powder sits wholly in the gaps of the coarse one: the most that a blend of two sizes can reach
/// (Furnas' ideal infill, from memory). `coarse` and `fine` are the critical shares of each alone, 0..1.
///
/// ```
/// assert!((ground::ideal_infill(0.64, 0.64) - 0.8704).abs() < 1e-4); // 0.64 + 0.36 x 0.64
/// ```
pub fn ideal_infill(coarse: f64, fine: f64) -> f64 {
    coarse + (1.0 - coarse) * fine
}

/// Size ratio of coarse to fine from which grains of the one can sit between grains of the other (model choice).
pub const INFILL_RATIO: f64 = 5.0;

/// Critical share in a dispersed binder, whose particles fill gaps worse than a solution: `1/c - 1` grows by `1 / index`
/// (binder index, Patton 1979, from memory). `index` is 1 for glue and dissolved casein, 0.5 to 0.9 for dispersions.
///
/// ```
/// assert!((ground::dispersed_share(0.6572, 0.7) - 0.5730).abs() < 5e-4);
/// ```
pub fn dispersed_share(dissolved: f64, index: f64) -> f64 {
    1.0 / (1.0 + (1.0 / dissolved - 1.0) / index)
}

/// Mean (hydraulic) radius of the pores of a powder bed: `2 eps / ((1 - eps) rho S)`, with the share of gaps `eps` 0..1 and the
/// surface `S` in square metres to the gram. Textbook of porous media; the grains' own pores are not counted.
pub fn pore_radius(gaps: f64, density: GramsPerMillilitre, surface_m2_per_g: f64) -> Micrometres {
    // g/ml times m2/g is 1e6 per metre, so the quotient is in micrometres as it stands.
    Micrometres::new(2.0 * gaps / ((1.0 - gaps) * density.value() * surface_m2_per_g))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn critical_share_of_chalk_and_of_a_blend() {
        // Chalk, oil absorption 18: 0.6572 with oil of 0.935 g/ml. Blend of 60 chalk, 30 gypsum, 10 rutile by hand: 0.6334 (mean OA 20.3).
        assert!((critical_share(&[(100.0 / 2.71, 100.0, 18.0)]) - 0.6572).abs() < 0.0005);
        let blend = critical_share(&[(60.0 / 2.71, 60.0, 18.0), (30.0 / 2.32, 30.0, 25.0), (10.0 / 4.1, 10.0, 20.0)]);
        assert!((blend - 0.6334).abs() < 0.0005);
        let solid = 60.0 / 2.71 + 30.0 / 2.32 + 10.0 / 4.1;
        // The mean by volume of the single critical shares, 0.6353, has no physical ground and is never lower than the blend.
        let each = [(60.0 / 2.71, 2.71, 18.0), (30.0 / 2.32, 2.32, 25.0), (10.0 / 4.1, 4.1, 20.0)];
        let mean: f64 = each.iter().map(|(volume, rho, oil)| volume / solid * critical_share(&[(1.0, *rho, *oil)])).sum();
        assert!((mean - 0.6353).abs() < 5e-4 && mean >= blend);
        let by_mean: f64 = 1.0 / (1.0 + 20.3 * (100.0 / solid) / 93.5);
        assert!((blend - by_mean).abs() < 1e-4, "additive oil demand is the mean oil absorption by mass");
    }

    #[test]
    fn rutile_as_worked_in_print() {
        // Lewarchik 2014: oil absorption 20, density 4.2 -> 1 / (1 + 20 x 4.2 / 93.5) = 0.5268.
        assert!((critical_share(&[(100.0 / 4.2, 100.0, 20.0)]) - 0.5268).abs() < 0.0005);
    }

    #[test]
    fn pores_of_a_chalk_bed() {
        // By hand: 0.9 / (0.55 x 2.71 x 2) = 0.302 um.
        assert!((pore_radius(0.45, GramsPerMillilitre::new(2.71), 2.0).value() - 0.302).abs() < 0.003);
    }

    #[test]
    fn chalk_in_a_dispersion_by_hand() {
        // 1 + (1 / 0.6572 - 1) / 0.7 = 1 + 0.52161 / 0.7 = 1.74516; 1 / 1.74516 = 0.5730.
        assert!((dispersed_share(0.6572, 0.7) - 0.5730).abs() < 5e-4);
    }

    #[test]
    fn operators_and_drops_by_hand() {
        // 10 g of chalk of oil absorption 18 take 1.8 g = 1.925 ml; 0.2 ml more or less is 19.87 or 16.13 g to 100 g:
        // 1 / (1 + 0.028984 x 19.87) = 0.6346, 0.6814: -0.0226, +0.0243. 1 ml: 27.35 and 8.65 g: 0.5578, 0.7995: -0.099, +0.142.
        let at = |ml: f64| critical_share(&[(100.0 / 2.71, 100.0, 100.0 * 0.935 * ml / 10.0)]);
        let middle = at(1.925);
        assert!((middle - 0.6572).abs() < 5e-4);
        for (more, falls, rises) in [(0.2, 0.0226, 0.0243), (1.0, 0.0993, 0.1424)] {
            assert!(((middle - at(1.925 + more)) / falls - 1.0).abs() < 0.01 && ((at(1.925 - more) - middle) / rises - 1.0).abs() < 0.01);
        }
        // The printed form with oil of 0.93 instead of 0.935: 1 / (1 + 18 x 2.71 / 93) = 0.6559.
        assert!((1.0f64 / (1.0 + 18.0 * 2.71 / 93.0) - 0.6559).abs() < 5e-5);
    }

    #[test]
    fn a_solution_packs_no_worse_than_oil() {
        assert!((dispersed_share(0.6572, 1.0) - 0.6572).abs() < 1e-12);
        assert!(dispersed_share(0.6572, 0.5) < dispersed_share(0.6572, 0.9));
    }
}
