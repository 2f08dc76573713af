//! What stands behind each figure: its formula in words, its source and its limits, from `data/figures.csv`.

use std::sync::OnceLock;

use measure::{FigureEntry, FigureFileError, figure_entries};

/// Keys of all figures of curd, of opened casein, of jars and of glue.
pub const FIGURE_KEYS: [&str; 33] = [
    "jar_dry",
    "jar_water",
    "jar_total",
    "jar_share",
    "ph",
    "casein_g",
    "curd_wet_g",
    "whey_ml",
    "acid_for_curdling",
    "residual_acid",
    "curdles_from_ph",
    "open_casein",
    "open_water",
    "casein_share",
    "open_ph",
    "film_ph",
    "base_for_ph",
    "first_dose",
    "times_needed",
    "sugar_left",
    "whey_joined",
    "foam_room",
    "glue_dry",
    "glue_water",
    "glue_share",
    "glue_add_water",
    "glue_add_glue",
    "ratio_by_weight",
    "ratio_by_volume",
    "ratio_water",
    "pot_share",
    "pot_add_water",
    "coat_share",
];

/// The entry of a figure; `None` for a key that has none (a test keeps every key covered).
///
/// ```
/// assert_eq!(binder::figure_entry("casein_g").unwrap().chemist, "casein");
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::request::{AcidAmount, AcidAtHand, AcidSource, CurdState, MilkAmount, MilkKind, MilkRequest};
    use crate::{Curd, curd, milk_inputs};
    use measure::Millilitres;

    #[test]
    fn every_figure_has_an_entry() {
        for key in FIGURE_KEYS {
            let entry = figure_entry(key).unwrap_or_else(|| panic!("{key}"));
            for text in [&entry.name, &entry.chemist, &entry.formula, &entry.source, &entry.holds, &entry.fails] {
                assert!(!text.is_empty(), "{key}");
            }
        }
        assert_eq!(entries().as_ref().unwrap().len(), FIGURE_KEYS.len());
    }

    /// A figure of a batch by its key.
    fn read(batch: &Curd, key: &str) -> Option<f64> {
        Some(match key {
            "ph" => batch.ph_reached?.nearest(),
            "casein_g" => batch.casein.value(),
            "curd_wet_g" => batch.wet_curd.value(),
            "whey_ml" => batch.whey_volume.value(),
            "acid_for_curdling" => batch.acid_needed,
            "residual_acid" => batch.acid_left.value(),
            "curdles_from_ph" => batch.curdles_from?,
            _ => return None,
        })
    }

    /// Nudges every unknown of three batches: a figure that moves must say that it rests on it.
    #[test]
    fn a_nudged_input_moves_only_figures_that_name_it() {
        for (kind, source, amount) in [
            (MilkKind::Skim, AcidSource::Vinegar, Some(AcidAmount::Volume(Millilitres::new(120.0)))),
            (MilkKind::Whole, AcidSource::Lemon, Some(AcidAmount::Pieces(2.0))),
            (MilkKind::PartSkim, AcidSource::LacticAcid, None),
        ] {
            let request = MilkRequest {
                milk: MilkAmount::Volume(Millilitres::new(1000.0)),
                kind,
                heated_before: false,
                acid: AcidAtHand { source, amount, strength: None },
                others: Vec::new(),
                water: Millilitres::ZERO,
                warmth: Some(measure::Celsius::new(30.0)),
                washes: 2,
                wash: Millilitres::new(500.0),
                state: CurdState::Drained,
                base: None,
            };
            let inputs = milk_inputs(&request).unwrap();
            let before = curd(&request, &inputs, &|input| input.best).unwrap();
            for nudged in inputs.all() {
                let after = curd(&request, &inputs, &|input| if input.key == nudged.key { input.best * 1.01 } else { input.best }).unwrap();
                for key in FIGURE_KEYS {
                    if let (Some(a), Some(b)) = (read(&before, key), read(&after, key))
                        && (a - b).abs() > 1e-8 * a.abs().max(1e-3)
                    {
                        assert!(
                            figure_entry(key).unwrap().rests_on(nudged),
                            "{key} moved with {} but does not name it",
                            nudged.key.as_str()
                        );
                    }
                }
            }
        }
    }
}
