//! What stands behind each figure: its formula in words, its source and its limits, from `data/figures.csv`.

use std::sync::OnceLock;

use measure::{Figure, FigureEntry, FigureFileError, FigureKey, Input, Spread, Unit, figure_entries};

use crate::film::Film;
use crate::mix::Mix;
use crate::ranges::FilmRanges;

/// The entry of a figure; `None` for a key that has none (a test keeps every key covered).
///
/// ```
/// assert_eq!(ground::figure_entry("pvc").unwrap().name, "powder share");
/// ```
pub fn figure_entry(key: &str) -> Option<&'static FigureEntry> {
    entries().as_ref().ok()?.iter().find(|entry| entry.key == key)
}

/// Whether the data file of the figures can be read; asked once when the program starts.
///
/// # Errors
/// Names the line and what is wrong there.
pub fn figures_are_sound() -> Result<(), FigureFileError> {
    entries().as_ref().map(|_| ()).map_err(Clone::clone)
}

fn entries() -> &'static Result<Vec<FigureEntry>, FigureFileError> {
    static ONCE: OnceLock<Result<Vec<FigureEntry>, FigureFileError>> = OnceLock::new();
    ONCE.get_or_init(|| figure_entries(include_str!("../data/figures.csv")))
}

/// A figure of the film: key, unit, and whether the pot's water must be known.
struct Kind {
    key: FigureKey,
    unit: Unit,
    wet: bool,
    of: fn(&Film) -> f64,
}

const KINDS: [Kind; 8] = [
    Kind { key: "pvc", unit: Unit::One, wet: false, of: |film| film.pvc },
    Kind { key: "cpvc", unit: Unit::One, wet: false, of: |film| film.cpvc },
    Kind { key: "lambda", unit: Unit::One, wet: false, of: Film::lambda },
    Kind { key: "porosity", unit: Unit::One, wet: false, of: |film| film.porosity },
    Kind { key: "solids_mass", unit: Unit::One, wet: true, of: |film| film.solids_mass },
    Kind { key: "solids_volume", unit: Unit::One, wet: true, of: |film| film.solids_volume },
    Kind { key: "wet_density", unit: Unit::GramsPerMillilitre, wet: true, of: |film| film.wet_density.value() },
    Kind { key: "binder_per_100_powder", unit: Unit::Grams, wet: false, of: |film| film.binder_per_100_powder },
];

/// One figure of a film, by key. Wet figures are `None` when the pot's water is not known.
pub fn film_figure(ranges: &FilmRanges, key: &str, water_known: bool) -> Option<Figure> {
    match key {
        "dry_um" => return water_known.then(|| ranges.dry()),
        "coverage" => return water_known.then(|| ranges.laid()),
        _ => {}
    }
    let kind = KINDS.iter().find(|kind| kind.key == key)?;
    (water_known || !kind.wet).then(|| ranges.figure(kind.key, kind.unit, kind.of))
}

/// The unknowns of this very recipe that move a figure: those that its entry names and that change it when they change.
pub fn moved_by<'a>(mix: &'a Mix, key: &str) -> Vec<&'a Input> {
    let Some(entry) = figure_entry(key) else { return Vec::new() };
    let of = |film: &Film| match key {
        "dry_um" => film.dry_over_wet,
        "coverage" => film.wet_density.value(),
        _ => KINDS.iter().find(|kind| kind.key == key).map_or(0.0, |kind| (kind.of)(film)),
    };
    let (best, mut pot) = (mix.best(), Vec::new());
    let Ok(film) = mix.film(&best, &mut pot) else { return Vec::new() };
    let before = of(&film);
    let moves = |place: usize, input: &Input| {
        let others: Vec<f64> = match &input.spread {
            Spread::Choice(options) => options.iter().map(|(value, _)| *value).collect(),
            _ => vec![input.best * 1.01],
        };
        others.into_iter().any(|other| {
            let mut values = best.clone();
            if let Some(slot) = values.get_mut(place) {
                *slot = other;
            }
            mix.film(&values, &mut Vec::new()).is_ok_and(|film| (of(&film) - before).abs() > 1e-9 * before.abs().max(1e-3))
        })
    };
    mix.inputs().iter().enumerate().filter(|(place, input)| entry.rests_on(input) && moves(*place, input)).map(|(_, input)| input).collect()
}

/// Keys of all figures, in the order in which they are shown.
pub const FIGURE_KEYS: [&str; 10] =
    ["lambda", "pvc", "cpvc", "porosity", "binder_per_100_powder", "dry_um", "coverage", "solids_mass", "solids_volume", "wet_density"];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Coat, Drawn, film_with_ranges, places};
    use materials::Catalogue;
    use measure::{Draws, Units};

    #[test]
    fn every_figure_has_an_entry() {
        for key in FIGURE_KEYS {
            let entry = figure_entry(key).unwrap_or_else(|| panic!("{key}"));
            for text in [&entry.name, &entry.formula, &entry.source, &entry.holds, &entry.fails] {
                assert!(!text.is_empty(), "{key}");
            }
        }
    }

    /// Nudges every unknown of every placed handbook recipe: a figure that moves must say that it rests on it.
    #[test]
    fn a_nudged_input_moves_only_figures_that_name_it() {
        let (jars, units) = (Catalogue::builtin().unwrap(), Units::builtin().unwrap());
        for place in places(jars, &units).unwrap() {
            let Ok(reading) = &place.recipe else { continue };
            let mut mix = Mix::of(jars, &units, reading);
            let draws = Draws { seed: 1, count: 0 };
            let before = film_with_ranges(&mix, Coat::USUAL, &Drawn::of(&mix, draws)).unwrap();
            for index in 0..mix.inputs.len() {
                let kept = mix.inputs[index].best;
                mix.inputs[index].best = kept * 1.01;
                let after = film_with_ranges(&mix, Coat::USUAL, &Drawn::of(&mix, draws)).unwrap();
                for key in FIGURE_KEYS {
                    let (a, b) = (film_figure(&before, key, true).unwrap().value, film_figure(&after, key, true).unwrap().value);
                    if (a - b).abs() > 1e-9 * a.abs().max(1e-3) {
                        let entry = figure_entry(key).unwrap();
                        assert!(
                            entry.rests_on(&mix.inputs[index]),
                            "{key} moved with {} but does not name it",
                            mix.inputs[index].key.as_str()
                        );
                    }
                }
                mix.inputs[index].best = kept;
            }
        }
    }
}
