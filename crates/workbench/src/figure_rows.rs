//! Figures with what stands behind them.

use measure::{Figure, FigureEntry};
use show::{FigureRow, InputRow, Sheet, write};

/// A row that opens to its sheet; `value` is `None` where the figure is not known, and `why` says why.
pub(crate) fn figure_row(key: &'static str, entry: &FigureEntry, value: Option<String>, why: &str, inputs: Vec<InputRow>) -> FigureRow {
    FigureRow {
        key,
        name: entry.name.clone(),
        chemist: entry.chemist.clone(),
        why: if value.is_some() { String::new() } else { why.to_owned() },
        value: value.unwrap_or_else(|| "not known".into()),
        sheet: Sheet {
            formula: entry.formula.clone(),
            source: entry.source.clone(),
            holds: entry.holds.clone(),
            fails: entry.fails.clone(),
            inputs,
        },
    }
}

/// The sheet of a figure as text.
pub(crate) fn sheet(entry: &FigureEntry) -> String {
    format!(
        "{} ({})\n{}\nSource: {}\nHolds for: {}\nDoes not hold when: {}\n",
        entry.name, entry.chemist, entry.formula, entry.source, entry.holds, entry.fails
    )
}

/// A share in hundredths, which read best.
pub(crate) fn hundredths(share: &Figure) -> String {
    let text = write(&share.times(100.0));
    if text.range.is_empty() { format!("{}\u{a0}%", text.value) } else { format!("{}\u{a0}% ({})", text.value, text.range) }
}
