//! How well a ground hides, wet and dry, from what its powders scatter in water, in binder and in air.

use std::sync::OnceLock;

use materials::{Catalogue, DataError, Kind};
use measure::{Draws, Figure, Input, InputKey, Micrometres, Spread, Unit};

use crate::constants::FilmBook;
use crate::film::Film;
use crate::hiding::{FULL_HIDING, contrast, hides_wood, reflection, scattering_for};
use crate::mie::powder_scattering;
use crate::mix::Mix;
use crate::portion::Role;
use crate::ranges::FilmRanges;

const FILE: &str = "scatter.csv";

/// A powder as light meets it.
#[derive(Debug)]
struct Optics {
    material: String,
    grain: Micrometres,
    index: f64,
    spread: f64,
    crowded: (f64, f64),
    lone: OnceLock<[f64; 3]>,
}

/// Refractive indices of water, of dry protein or acrylic, and of air (from memory).
const AROUND: [f64; 3] = [1.333, 1.53, 1.00];

impl Optics {
    /// Scattering of its grains, each alone and filling the whole volume, in water, in binder and in air; per micrometre.
    fn lone(&self) -> [f64; 3] {
        *self.lone.get_or_init(|| AROUND.map(|around| powder_scattering(self.grain, self.spread, self.index, around).unwrap_or(0.0)))
    }
}

type Row = (String, f64, f64, f64, f64, f64, String);

fn table() -> Result<&'static [Optics], DataError> {
    static ONCE: OnceLock<Result<Vec<Optics>, DataError>> = OnceLock::new();
    ONCE.get_or_init(|| read(include_str!("../data/scatter.csv"))).as_deref().map_err(Clone::clone)
}

fn read(text: &str) -> Result<Vec<Optics>, DataError> {
    let mut out = Vec::new();
    for (index, row) in csv::Reader::from_reader(text.as_bytes()).deserialize::<Row>().enumerate() {
        let wrong = |what: String| DataError { file: FILE, line: index + 2, what };
        let (material, grain, index, spread, low, high, source) = row.map_err(|e| wrong(e.to_string()))?;
        if source.trim().is_empty() || low > high || grain <= 0.0 || index < 1.0 || spread <= 1.0 {
            return Err(wrong("needs a source, a grain, an index from 1 and a spread above 1".into()));
        }
        let grain = Micrometres::new(grain);
        out.push(Optics { material, grain, index, spread, crowded: (low, high), lone: OnceLock::new() });
    }
    Ok(out)
}

/// What the powders of a pot scatter together, per micrometre at full volume.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Scatter {
    water: f64,
    binder: f64,
    air: f64,
    crowded: (f64, f64),
}

/// What a powder scatters by itself, each grain alone and filling the whole volume; per micrometre.
#[derive(Debug, Clone, PartialEq)]
pub struct LonePowder {
    /// Name of the material.
    pub material: String,
    /// In water.
    pub water: f64,
    /// In dry binder.
    pub binder: f64,
    /// In air.
    pub air: f64,
}

/// What a ground looks like over something: shares of light thrown back, 0 for black to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Over {
    /// What is below, bare.
    pub behind: f64,
    /// The ground just laid.
    pub wet: f64,
    /// The ground dry.
    pub dry: f64,
}

/// How well a ground hides what is below it.
#[derive(Debug, Clone, PartialEq)]
pub struct Hiding {
    /// All coats together just after they were laid, as one wet layer: what shows over black against white, 0..1.
    pub wet: Figure,
    /// All coats dry.
    pub dry: Figure,
    /// Coats until it hides black fully; the band is wide because crowded grains scatter less than lone ones.
    pub coats: Figure,
    /// Coats until wood below it makes no difference that is seen; fewer, since wood is not black.
    pub coats_on_wood: Figure,
    /// What one coat looks like at the best values, over black and over dark, usual and pale wood.
    pub shown: [Over; 4],
    /// Its powders by themselves.
    pub powders: Vec<LonePowder>,
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

/// How well so many coats of this ground hide. The scattering of every powder is that of lone grains ([`powder_scattering`]) in
/// water, in binder and in air, added by volume, and weakened by crowding, which is known only as a range: order, not measure.
///
/// # Errors
/// A powder without optical constants.
pub fn hiding(jars: &Catalogue, mix: &Mix, ranges: &FilmRanges, coats: u32) -> Result<Option<Hiding>, HidingError> {
    let Some((powder, powders)) = blend(jars, mix)? else { return Ok(None) };
    let book = FilmBook::builtin()?;
    let ratio = book.constant("whiteness.absorption")?.value;
    let full = scattering_for(FULL_HIDING, ratio);
    let wood = book.constant("whiteness.wood")?;
    let (low, high) = wood.range.unwrap_or((wood.value, wood.value));
    let on_wood = Input {
        key: InputKey::new("film.wood"),
        plain: wood.plain.clone(),
        best: wood.value,
        spread: Spread::Even(low, high),
        unit: "1",
        source: wood.source.clone(),
    };
    let coats = f64::from(coats);
    let crowded = Input {
        key: InputKey::new("film.crowded"),
        plain: "how much less crowded grains scatter".into(),
        best: (powder.crowded.0 * powder.crowded.1).sqrt(),
        spread: Spread::Even(powder.crowded.0, powder.crowded.1),
        unit: "1",
        source: "model choice".into(),
    };
    let layer = |film: &Film, dry: f64, crowd: f64| {
        let wet = crowd * film.solids_volume * film.pvc * powder.water * dry / film.dry_over_wet;
        (wet, crowd * dry_scattering(film, &powder) * dry)
    };
    let at = |(wet, dry): (f64, f64)| {
        (contrast(coats * wet, ratio * coats * wet), contrast(coats * dry, ratio * coats * dry), (full / dry).ceil())
    };
    // How much scattering hides wood depends on the wood alone: a few dozen woods stand for all.
    let woods: Vec<f64> = (0..WOODS).map(|index| hides_wood(ratio, Draws::USUAL.value(&on_wood, index))).collect();
    let best = layer(&ranges.best, ranges.best.dry(ranges.coat().wet).value(), crowded.best);
    let (wet, dry, needed) = at(best);
    let mut drawn = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    for ((index, (film, thickness)), wood) in ranges.coats_drawn().enumerate().zip(woods.iter().cycle()) {
        let one = layer(film, thickness, Draws::USUAL.value(&crowded, index));
        let (wet, dry, needed) = at(one);
        drawn.0.push(wet);
        drawn.1.push(dry);
        drawn.2.push(needed);
        drawn.3.push((wood / one.1).ceil());
    }
    let seen = |layer: f64, behind: f64| reflection(layer, ratio * layer, behind);
    Ok(Some(Hiding {
        wet: Figure::from_draws("hiding_wet", wet, drawn.0, Unit::One),
        dry: Figure::from_draws("hiding_dry", dry, drawn.1, Unit::One),
        coats: Figure::from_draws("hiding_coats", needed, drawn.2, Unit::One),
        coats_on_wood: Figure::from_draws("hiding_wood", (hides_wood(ratio, wood.value) / best.1).ceil(), drawn.3, Unit::One),
        shown: [0.0, low, wood.value, high].map(|behind| Over { behind, wet: seen(best.0, behind), dry: seen(best.1, behind) }),
        powders,
    }))
}

/// Woods that stand for all in the draws.
const WOODS: usize = 64;

/// Scattering of the dry film for each micrometre: grains that touch air scatter more than grains sunk in binder.
fn dry_scattering(film: &Film, powder: &Scatter) -> f64 {
    let grains = film.pvc.min(film.cpvc);
    let air = film.porosity / (1.0 - film.cpvc);
    grains * (air * powder.air + (1.0 - air) * powder.binder)
}

/// The powders of a pot as one, by volume at the best values; `None` without powder.
fn blend(jars: &Catalogue, mix: &Mix) -> Result<Option<(Scatter, Vec<LonePowder>)>, HidingError> {
    let values = mix.best();
    let mut sum = Scatter { water: 0.0, binder: 0.0, air: 0.0, crowded: (0.0, 0.0) };
    let mut all = 0.0;
    let mut powders: Vec<LonePowder> = Vec::new();
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
        let [water, binder, air] = row.lone();
        sum.water += volume * water;
        sum.binder += volume * binder;
        sum.air += volume * air;
        if !powders.iter().any(|known| known.material == name) {
            powders.push(LonePowder { material: name.to_owned(), water, binder, air });
        }
        sum.crowded.0 += volume * row.crowded.0;
        sum.crowded.1 += volume * row.crowded.1;
        all += volume;
    }
    let each = |value: f64| value / all;
    let blended = Scatter {
        water: each(sum.water),
        binder: each(sum.binder),
        air: each(sum.air),
        crowded: (each(sum.crowded.0), each(sum.crowded.1)),
    };
    Ok((all > 0.0).then_some((blended, powders)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Coat, Drawn, film_with_ranges};
    use materials::{Wishes, read as read_recipe};
    use measure::Units;

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
    /// between the grains 0.2026 / 0.3428 = 0.591; 0.6572 (0.591 x 0.513 + 0.409 x 0.008) = 0.201; x 38.73 = 7.80. Crowded to 0.5..1 the
    /// contrast is that of 1.9..3.9 wet and 3.9..7.8 dry: below 0.90 and between 0.90 and 0.97 (contrast 0.90 at 3.95, 0.95 at 6.40).
    #[test]
    fn a_chalk_ground_by_hand() {
        let ground = of("100 g chalk, 10 g hide glue, 100 g water", 100.0, 1);
        assert!((0.78..0.90).contains(&ground.wet.value), "{:?}", ground.wet);
        assert!((0.90..0.96).contains(&ground.dry.value), "{:?}", ground.dry);
        assert!((1.0..=3.0).contains(&ground.coats.value), "{:?}", ground.coats);
    }

    /// What miepython 3.3.0 gives for the same grains (chalk 2.5 um of index 1.60, gypsum 4 um of 1.523, titanium white 0.25 um of 2.70,
    /// zinc white 0.3 um of 2.01), with some thousand sizes out to four spreads; `reference/scatter.py` asks it anew for all powders.
    #[test]
    fn powders_scatter_as_another_program_says() {
        for (name, printed) in [
            ("natural-chalk", [0.151, 0.0079, 0.513]),
            ("gypsum", [0.0577, 0.0001, 0.252]),
            ("titanium-white", [8.99, 6.41, 13.0]),
            ("zinc-white", [2.61, 1.11, 6.64]),
        ] {
            let row = table().unwrap().iter().find(|row| row.material == name).unwrap();
            for (ours, printed) in row.lone().into_iter().zip(printed) {
                assert!((ours - printed).abs() < 0.02 * printed + 1e-4, "{name}: {ours} for {printed}");
            }
        }
    }

    /// Regression of the code, no evidence: the same equations worked apart in Python from chalk that scatters 0.152 in water, 0.0079 in
    /// binder and 0.495 in air, lone grains, absorption a thousandth: 100 um wet and 38.73 um dry, and the same grains drowned in binder.
    #[test]
    fn contrasts_of_a_chalk_ground() {
        let chalk = Scatter { water: 0.152, binder: 0.0079, air: 0.495, crowded: (1.0, 1.0) };
        let (jars, units) = (Catalogue::builtin().unwrap(), Units::builtin().unwrap());
        let film = |told: &str| {
            let mix = Mix::of(jars, &units, &read_recipe(jars, &units, told, &Wishes::new()));
            mix.film(&mix.best(), &mut Vec::new()).unwrap()
        };
        let lean = film("100 g chalk, 10 g hide glue, 100 g water");
        let wet = lean.solids_volume * lean.pvc * chalk.water * 100.0;
        assert!((contrast(wet, 0.001 * wet) / 0.897 - 1.0).abs() < 0.02, "{wet}");
        let each = dry_scattering(&lean, &chalk);
        let dry = each * lean.dry(Micrometres::new(100.0)).value();
        assert!((contrast(dry, 0.001 * dry) / 0.961 - 1.0).abs() < 0.02, "{dry}");
        assert!((scattering_for(FULL_HIDING, 0.001) / each / 56.6 - 1.0).abs() < 0.02, "{each}");
        // Powder share one half, by hand 46.86 g of glue to 100 g of chalk: 36.90 ml each.
        let drowned = dry_scattering(&film("100 g chalk, 46.86 g hide glue, 100 g water"), &chalk) * 100.0;
        assert!((drowned / 0.39 - 1.0).abs() < 0.02 && (contrast(drowned, 0.001 * drowned) - 0.35).abs() < 0.01, "{drowned}");
    }

    /// By hand: lightness 116 Y^(1/3) - 16. Without absorption and with scattering 10, over wood of 0.4 (0.4 + 6)/(1 + 6) = 0.91429 and over
    /// white of 0.8 (0.8 + 2)/(1 + 2) = 0.93333: 96.588 and 97.362 less 16 each are 0.77 apart; with 7: 0.88462 and 0.91667, 1.33 apart.
    #[test]
    fn wood_is_hidden_sooner_than_black() {
        let needed = hides_wood(0.0, 0.4);
        assert!((7.0..10.0).contains(&needed), "{needed}");
        assert!(needed < scattering_for(FULL_HIDING, 0.0));
        assert!(hides_wood(0.0, 0.3) > needed && hides_wood(0.0, 0.5) < needed);
        let lean = of("100 g chalk, 10 g hide glue, 100 g water", 100.0, 1);
        assert!(lean.coats_on_wood.value <= lean.coats.value && lean.coats_on_wood.high <= lean.coats.high);
        let [black, .., pale] = lean.shown;
        assert!(black.dry > black.wet && pale.wet > black.wet && pale.behind > 0.0);
    }

    #[test]
    fn a_broken_line_is_named() {
        assert!(read("a,b,c,d,e,f,g\nchalk,1,1.6,2,1,0.5,x\n").unwrap_err().to_string().contains("scatter.csv"));
        assert!(read("a,b,c,d,e,f,g\nchalk,0,1.6,2,0.5,1,x\n").is_err());
    }
}
