//! Coarse and fine powder in one pot.

use materials::{Catalogue, Kind};

use crate::film::Film;
use crate::mix::Mix;
use crate::packing::{INFILL_RATIO, critical_share, ideal_infill};

/// Most that fine grains in the gaps of coarse ones are taken to add to a critical share (model choice).
const MOST_GAIN: f64 = 0.10;

/// How high the critical share of a blend could lie if its fine powder sat in the gaps of its coarse one; `None` unless two powders
/// differ more than fivefold in size. The film itself is worked out as if every powder kept its own gaps, as for the handbook grounds.
pub fn tightest_packing(jars: &Catalogue, mix: &Mix, film: &Film) -> Option<f64> {
    let mut powders: Vec<(f64, f64)> = Vec::new();
    for (_, id) in mix.materials() {
        let Some(material) = jars.material(id).filter(|material| material.kind == Kind::Filler) else { continue };
        let value = |name: &str| material.property(name).map(|property| property.value);
        let (size, density, oil) = (value("size")?, value("density")?, value("oil_absorption")?);
        powders.push((size, critical_share(&[(1.0, density, oil)])));
    }
    let coarse = powders.iter().copied().max_by(|a, b| a.0.total_cmp(&b.0))?;
    let fine = powders.iter().copied().min_by(|a, b| a.0.total_cmp(&b.0))?;
    (coarse.0 > INFILL_RATIO * fine.0).then(|| ideal_infill(coarse.1, fine.1).min(film.cpvc + MOST_GAIN))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::handbook::places;
    use measure::Units;

    #[test]
    fn chalk_with_titanium_white_could_pack_tighter() {
        // Chalk about 3 um, titanium white about 0.26 um: twelvefold. Ideal infill lies above the blend plus 0.10, so the cap counts.
        let (jars, units) = (Catalogue::builtin().unwrap(), Units::builtin().unwrap());
        let all = places(jars, &units).unwrap();
        let bound = |id: &str| {
            let place = all.iter().find(|place| place.id == id).unwrap();
            let mix = Mix::of(jars, &units, place.recipe.as_ref().unwrap());
            let film = mix.film(&mix.best(), &mut Vec::new()).unwrap();
            tightest_packing(jars, &mix, &film).map(|bound| bound - film.cpvc)
        };
        assert!((bound("R09").unwrap() - 0.10).abs() < 1e-9);
        assert_eq!(bound("R11"), None);
    }
}
