//! The film with its doubt: the plain engine, asked once for every draw.

use materials::Catalogue;
use measure::{Figure, GramsPerSquareMetre, Micrometres, Unit};

use crate::drawn::Drawn;
use crate::film::{Film, FilmError};
use crate::mix::Mix;

/// How a coat is laid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Coat {
    /// Wet thickness, best value.
    pub wet: Micrometres,
    /// Whether it was told or is taken for granted.
    pub told: bool,
}

impl Coat {
    /// A brushed coat when nothing is told: 100 um wet (common practice, no source).
    pub const USUAL: Self = Self { wet: Micrometres::new(100.0), told: false };
}

/// Relative spread of a wet thickness laid by brush, one standard deviation: 15 % (model choice).
pub const WET_SPREAD: f64 = 0.15;

/// The film at the best inputs and at every draw.
#[derive(Debug, Clone)]
pub struct FilmRanges {
    /// At the best inputs.
    pub best: Film,
    /// One for every draw that was a film.
    pub draws: Vec<Film>,
    /// Wet thickness in each draw.
    wet: Vec<f64>,
    coat: Coat,
}

/// Runs the engine at the best inputs and at every draw. The loop lives here, in the crate that is compiled for speed.
///
/// # Errors
/// The recipe holds no powder or no binder that can be counted.
pub fn film_with_ranges(mix: &Mix, coat: Coat, drawn: &Drawn) -> Result<FilmRanges, FilmError> {
    let mut pot = Vec::with_capacity(16);
    let best = mix.film(&mix.best(), &mut pot)?;
    let draws = drawn.draws();
    let wet_input = measure::Input {
        key: measure::InputKey::new("wet_thickness"),
        plain: "how thick the coat was laid".into(),
        best: coat.wet.value(),
        spread: measure::Spread::Normal(WET_SPREAD * coat.wet.value()),
        unit: "um",
        source: "15 % spread of a brushed coat: model choice".into(),
    };
    let mut films = Vec::with_capacity(draws.count);
    let mut wet = Vec::with_capacity(draws.count);
    for (index, row) in drawn.rows().enumerate() {
        if let Ok(film) = mix.film(row, &mut pot) {
            films.push(film);
            wet.push(draws.value(&wet_input, index).max(0.0));
        }
    }
    Ok(FilmRanges { best, draws: films, wet, coat })
}

/// Grams of every counted line with their doubt, as poured into the pot.
pub fn line_masses(mix: &Mix, drawn: &Drawn) -> Vec<(usize, Figure)> {
    let best = mix.grams(&mix.best());
    let mut columns: Vec<Vec<f64>> = best.iter().map(|_| Vec::with_capacity(drawn.draws().count)).collect();
    for row in drawn.rows() {
        for (column, (_, grams)) in columns.iter_mut().zip(mix.grams(row)) {
            column.push(grams.value());
        }
    }
    best.into_iter()
        .zip(columns)
        .map(|((line, grams), column)| (line, Figure::from_draws("mass_g", grams.value(), column, Unit::Grams)))
        .collect()
}

impl FilmRanges {
    /// A figure of the film.
    pub fn figure(&self, key: &'static str, unit: Unit, of: impl Fn(&Film) -> f64) -> Figure {
        Figure::from_draws(key, of(&self.best), self.draws.iter().map(of).collect(), unit)
    }

    /// Powder share over critical share.
    pub fn lambda(&self) -> Figure {
        self.figure("lambda", Unit::One, Film::lambda)
    }

    /// Dry thickness of one coat.
    pub fn dry(&self) -> Figure {
        let draws = self.draws.iter().zip(&self.wet).map(|(film, wet)| film.dry_over_wet * wet).collect();
        Figure::from_draws("dry_um", self.best.dry(self.coat.wet).value(), draws, Unit::Micrometres)
    }

    /// Each draw of the film with the dry thickness of one coat in it, micrometres.
    pub(crate) fn coats_drawn(&self) -> impl Iterator<Item = (&Film, f64)> {
        self.draws.iter().zip(&self.wet).map(|(film, wet)| (film, film.dry_over_wet * wet))
    }

    /// Wet mass on a square metre for one coat.
    pub fn laid(&self) -> Figure {
        let draws = self.draws.iter().zip(&self.wet).map(|(film, wet)| film.wet_density.value() * wet).collect();
        Figure::from_draws("coverage", self.best.laid(self.coat.wet).value(), draws, Unit::GramsPerSquareMetre)
    }

    /// Dry thickness of what was truly laid: several coats, each from its own pot, by their wet mass on a square metre.
    pub fn dry_of(coats: &[(&Self, GramsPerSquareMetre)]) -> Figure {
        let best = coats.iter().map(|(ranges, laid)| ranges.best.dry_of(*laid).value()).sum();
        let count = coats.iter().map(|(ranges, _)| ranges.draws.len()).min().unwrap_or(0);
        let draw = |index: usize| {
            coats.iter().map(|(ranges, laid)| ranges.draws.get(index).map_or(f64::NAN, |film| film.dry_of(*laid).value())).sum()
        };
        Figure::from_draws("dry_um", best, (0..count).map(draw).collect(), Unit::Micrometres)
    }

    /// The coat that was asked for.
    pub fn coat(&self) -> Coat {
        self.coat
    }

    /// Whether makers of this powder differ so much that no word is given on it as the main powder.
    pub fn thirst_is_unknown(material: &materials::Material) -> bool {
        crate::mix::THIRST_UNKNOWN.contains(&material.id.as_str())
    }

    /// Share of the powder's volume that comes from powders whose thirst is not known well enough for a word.
    pub fn unknown_thirst_share(mix: &Mix, jars: &Catalogue) -> f64 {
        let (mut unknown, mut all) = (0.0, 0.0);
        let values = mix.best();
        for ((_, grams), (_, id)) in mix.grams(&values).into_iter().zip(mix.materials()) {
            let Some(material) = jars.material(id).filter(|m| m.kind == materials::Kind::Filler) else { continue };
            let volume = grams.value() / material.property("density").map_or(1.0, |density| density.value);
            all += volume;
            if crate::mix::THIRST_UNKNOWN.contains(&id.as_str()) && !mix.is_own(&format!("oil_absorption.{}", id.as_str())) {
                unknown += volume;
            }
        }
        if all > 0.0 { unknown / all } else { 0.0 }
    }
}
