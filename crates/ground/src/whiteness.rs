//! How well a ground hides, wet and dry, from what its powders scatter in water, in binder and in air.

use std::sync::OnceLock;

use materials::{Catalogue, DataError, Kind};
use measure::{Draws, Figure, Input, InputKey, Spread, Unit};

use crate::constants::FilmBook;
use crate::film::Film;
use crate::hiding::{FULL_HIDING, contrast, scattering_for};
use crate::mix::Mix;
use crate::portion::Role;
use crate::ranges::FilmRanges;

const FILE: &str = "scatter.csv";

/// What a powder scatters per micrometre when it fills the whole volume, each grain by itself.
#[derive(Debug, Clone, PartialEq)]
struct Scatter {
    material: String,
    water: f64,
    binder: f64,
    air: f64,
    crowded: (f64, f64),
}

type Row = (String, f64, f64, f64, f64, f64, f64, f64, f64, String);

fn table() -> Result<&'static [Scatter], DataError> {
    static ONCE: OnceLock<Result<Vec<Scatter>, DataError>> = OnceLock::new();
    ONCE.get_or_init(|| read(include_str!("../data/scatter.csv"))).as_deref().map_err(Clone::clone)
}

fn read(text: &str) -> Result<Vec<Scatter>, DataError> {
    let mut out = Vec::new();
    for (index, row) in csv::Reader::from_reader(text.as_bytes()).deserialize::<Row>().enumerate() {
        let wrong = |what: String| DataError { file: FILE, line: index + 2, what };
        let (material, _, _, _, water, binder, air, low, high, source) = row.map_err(|e| wrong(e.to_string()))?;
        if source.trim().is_empty() || low > high || water < 0.0 || binder < 0.0 || air < 0.0 {
            return Err(wrong("needs a source and numbers that are not below zero".into()));
        }
        out.push(Scatter { material, water, binder, air, crowded: (low, high) });
    }
    Ok(out)
}

/// How well a ground hides what is below it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hiding {
    /// All coats together just after they were laid, as one wet layer: what shows over black against white, 0..1.
    pub wet: Figure,
    /// All coats dry.
    pub dry: Figure,
    /// Coats until it hides fully; the band is wide because crowded grains scatter less than lone ones.
    pub coats: Figure,
}

/// Why nothing can be said about hiding.
#[derive(Debug, Clone, thiserror::Error)]
pub enum HidingError {
    /// No optical constants of a powder.
    #[error("how light goes through {0} is not known here")]
    NotKnown(String),
    /// A data file is broken.
    #[error(transparent)]
    Data(#[from] DataError),
}

/// How well so many coats of this ground hide. The scattering of every powder is that of lone grains (Mie theory, `data/scatter.csv`) in
/// water, in binder and in air, added by volume, and weakened by crowding, which is known only as a range: order, not measure.
///
/// # Errors
/// A powder without optical constants.
pub fn hiding(jars: &Catalogue, mix: &Mix, ranges: &FilmRanges, coats: u32) -> Result<Option<Hiding>, HidingError> {
    let Some(powder) = blend(jars, mix)? else { return Ok(None) };
    let book = FilmBook::builtin()?;
    let ratio = book.constant("whiteness.absorption")?.value;
    let full = scattering_for(FULL_HIDING, ratio);
    let coats = f64::from(coats);
    let crowded = Input {
        key: InputKey::new("film.crowded"),
        plain: "how much less crowded grains scatter".into(),
        best: (powder.crowded.0 * powder.crowded.1).sqrt(),
        spread: Spread::Even(powder.crowded.0, powder.crowded.1),
        unit: "1",
        source: "model choice".into(),
    };
    let at = |film: &Film, dry: f64, crowd: f64| {
        let wet = crowd * film.solids_volume * film.pvc * powder.water * dry / film.dry_over_wet;
        let dry = crowd * dry_scattering(film, &powder) * dry;
        (contrast(coats * wet, ratio * coats * wet), contrast(coats * dry, ratio * coats * dry), (full / dry).ceil())
    };
    let (wet, dry, needed) = at(&ranges.best, ranges.best.dry(ranges.coat().wet).value(), crowded.best);
    let mut drawn = (Vec::new(), Vec::new(), Vec::new());
    for (index, (film, thickness)) in ranges.coats_drawn().enumerate() {
        let (wet, dry, needed) = at(film, thickness, Draws::USUAL.value(&crowded, index));
        drawn.0.push(wet);
        drawn.1.push(dry);
        drawn.2.push(needed);
    }
    Ok(Some(Hiding {
        wet: Figure::from_draws("hiding_wet", wet, drawn.0, Unit::One),
        dry: Figure::from_draws("hiding_dry", dry, drawn.1, Unit::One),
        coats: Figure::from_draws("hiding_coats", needed, drawn.2, Unit::One),
    }))
}

/// Scattering of the dry film for each micrometre: grains that touch air scatter more than grains sunk in binder.
fn dry_scattering(film: &Film, powder: &Scatter) -> f64 {
    let grains = film.pvc.min(film.cpvc);
    let air = film.porosity / (1.0 - film.cpvc);
    grains * (air * powder.air + (1.0 - air) * powder.binder)
}

/// The powders of a pot as one, by volume at the best values; `None` without powder.
fn blend(jars: &Catalogue, mix: &Mix) -> Result<Option<Scatter>, HidingError> {
    let values = mix.best();
    let mut sum = Scatter { material: String::new(), water: 0.0, binder: 0.0, air: 0.0, crowded: (0.0, 0.0) };
    let mut all = 0.0;
    let mut portions = Vec::new();
    for item in &mix.items {
        let Some(candidate) = item.candidate(&values) else { continue };
        let Some(material) = jars.material(&candidate.material).filter(|material| material.kind == Kind::Filler) else { continue };
        let Some((_, grams)) = mix.grams(&values).into_iter().find(|(line, _)| *line == item.line) else { continue };
        portions.clear();
        candidate.composition.portions(grams, &values, &mut portions);
        let volume: f64 = portions
            .iter()
            .filter(|portion| matches!(portion.role, Role::Filler { .. } | Role::Plaster { .. }))
            .map(|portion| portion.volume().value())
            .sum();
        // Plaster is gypsum once it has set.
        let name = if material.id.as_str() == "plaster-of-paris" { "gypsum" } else { material.id.as_str() };
        let row = table()?.iter().find(|row| row.material == name).ok_or_else(|| HidingError::NotKnown(material.name.clone()))?;
        sum.water += volume * row.water;
        sum.binder += volume * row.binder;
        sum.air += volume * row.air;
        sum.crowded.0 += volume * row.crowded.0;
        sum.crowded.1 += volume * row.crowded.1;
        all += volume;
    }
    let each = |value: f64| value / all;
    Ok((all > 0.0).then(|| Scatter {
        material: String::new(),
        water: each(sum.water),
        binder: each(sum.binder),
        air: each(sum.air),
        crowded: (each(sum.crowded.0), each(sum.crowded.1)),
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Coat, Drawn, film_with_ranges};
    use materials::{Wishes, read as read_recipe};
    use measure::{Micrometres, Units};

    fn of(told: &str, wet: f64, coats: u32) -> Hiding {
        let (jars, units) = (Catalogue::builtin().unwrap(), Units::builtin().unwrap());
        let mix = Mix::of(jars, &units, &read_recipe(jars, &units, told, &Wishes::new()));
        let coat = Coat { wet: Micrometres::new(wet), told: true };
        let ranges = film_with_ranges(&mix, coat, &Drawn::of(&mix, Draws::USUAL)).unwrap();
        hiding(jars, &mix, &ranges, coats).unwrap().unwrap()
    }

    /// Common knowledge of the bench, no source: a chalk ground goes on grey and dries white; binder that drowns the chalk makes it clear;
    /// titanium white hides where chalk does not.
    #[test]
    fn directions_of_the_bench() {
        let lean = of("100 g chalk, 10 g hide glue, 100 g water", 100.0, 1);
        assert!(lean.dry.value > lean.wet.value);
        let drowned = of("100 g chalk, 60 g hide glue, 100 g water", 100.0, 1);
        assert!(drowned.dry.value < lean.dry.value && drowned.coats.value > 5.0 * lean.coats.value);
        let titanium = of("60 g chalk, 40 g titanium white, 60 g hide glue, 100 g water", 100.0, 1);
        assert!(titanium.dry.value > drowned.dry.value);
    }

    /// By hand, for lone grains: 36.90 ml of 144.97 ml wet is 0.2545; x 0.152 x 100 um = 3.87; dry 38.73 um: critical share 0.6572, air
    /// between the grains 0.2026 / 0.3428 = 0.591; 0.6572 (0.591 x 0.522 + 0.409 x 0.008) = 0.205; x 38.73 = 7.93. Crowded to 0.5..1 the
    /// contrast is that of 1.9..3.9 wet and 4.0..7.9 dry: below 0.90 and between 0.90 and 0.97 (contrast 0.90 at 3.95, 0.95 at 6.40).
    #[test]
    fn a_chalk_ground_by_hand() {
        let ground = of("100 g chalk, 10 g hide glue, 100 g water", 100.0, 1);
        assert!((0.78..0.90).contains(&ground.wet.value), "{:?}", ground.wet);
        assert!((0.90..0.96).contains(&ground.dry.value), "{:?}", ground.dry);
        assert!((1.0..=3.0).contains(&ground.coats.value), "{:?}", ground.coats);
    }

    #[test]
    fn a_broken_line_is_named() {
        assert!(read("a,b,c,d,e,f,g,h,i,j\nchalk,1,1,1,1,1,1,1,0.5,x\n").unwrap_err().to_string().contains("scatter.csv"));
    }
}
