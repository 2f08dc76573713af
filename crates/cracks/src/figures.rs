//! What stands behind each figure, from `data/figures.csv`.

use std::sync::OnceLock;

use measure::{FigureEntry, FigureFileError, figure_entries};

/// Keys of all figures of a photo.
pub const FIGURE_KEYS: [&str; 33] = [
    "length_mm_per_mm2",
    "area_fraction",
    "width_median",
    "width_p95",
    "width_max",
    "junctions_per_cm2",
    "direction_deg",
    "direction_strength",
    "islands",
    "pinholes",
    "rating",
    "scale_mm_per_px",
    "length_long_sides",
    "width_long_sides",
    "junctions",
    "lightness",
    "whiteness",
    "known_mm_per_mm2",
    "added_mm_per_mm2",
    "longer_mm_per_mm2",
    "gone_mm_per_mm2",
    "widening",
    "residual",
    "lattice_gap",
    "lattice_gone",
    "lattice_along",
    "lattice_squares",
    "flakes",
    "flake_area",
    "flake_largest",
    "ridge_contrast",
    "ridge_direction",
    "ridge_spacing",
];

/// The entry of a figure; `None` for a key that has none.
///
/// ```
/// assert_eq!(cracks::figure_entry("islands").unwrap().name, "pieces of ground");
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
    use super::{FIGURE_KEYS, entries, figure_entry};

    #[test]
    fn every_figure_has_an_entry() {
        for key in FIGURE_KEYS {
            let entry = figure_entry(key).unwrap_or_else(|| panic!("{key}"));
            for text in [&entry.name, &entry.chemist, &entry.formula, &entry.source, &entry.holds, &entry.fails] {
                assert!(!text.is_empty(), "{key}");
            }
        }
        let lines = include_str!("../data/figures.csv").lines().count();
        assert_eq!((entries().as_ref().unwrap().len(), lines), (FIGURE_KEYS.len(), FIGURE_KEYS.len() + 1));
    }
}
