//! What stands behind each figure, from `data/figures.csv`.

use std::sync::OnceLock;

/// The entry of a figure.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FigureEntry {
    /// Short name.
    pub key: String,
    /// The painter's word.
    pub name: String,
    /// The other trade's word.
    pub chemist: String,
    /// Formula in words.
    pub formula: String,
    /// Where it comes from.
    pub source: String,
    /// When it holds.
    pub holds: String,
    /// When it does not.
    pub fails: String,
}

/// Keys of all figures of a photo.
pub const FIGURE_KEYS: [&str; 17] = [
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
];

/// The entry of a figure; `None` for a key that has none.
///
/// ```
/// assert_eq!(cracks::figure_entry("islands").unwrap().name, "pieces of ground");
/// ```
pub fn figure_entry(key: &str) -> Option<&'static FigureEntry> {
    static ONCE: OnceLock<Vec<FigureEntry>> = OnceLock::new();
    ONCE.get_or_init(load).iter().find(|entry| entry.key == key)
}

/// Rows of the file; a broken row is left out, and a test misses it.
fn load() -> Vec<FigureEntry> {
    let mut reader = csv::Reader::from_reader(include_str!("../data/figures.csv").as_bytes());
    let entry = |record: csv::StringRecord| {
        let field = |n: usize| record.get(n).map(str::to_owned);
        Some(FigureEntry {
            key: field(0)?,
            name: field(1)?,
            chemist: field(2)?,
            formula: field(3)?,
            source: field(4)?,
            holds: field(5)?,
            fails: field(6)?,
        })
    };
    reader.records().filter_map(Result::ok).filter_map(entry).collect()
}

#[cfg(test)]
mod tests {
    use super::{FIGURE_KEYS, figure_entry, load};

    #[test]
    fn every_figure_has_an_entry() {
        for key in FIGURE_KEYS {
            let entry = figure_entry(key).unwrap_or_else(|| panic!("{key}"));
            for text in [&entry.name, &entry.chemist, &entry.formula, &entry.source, &entry.holds, &entry.fails] {
                assert!(!text.is_empty(), "{key}");
            }
        }
        let lines = include_str!("../data/figures.csv").lines().count();
        assert_eq!((load().len(), lines), (FIGURE_KEYS.len(), FIGURE_KEYS.len() + 1));
    }
}
