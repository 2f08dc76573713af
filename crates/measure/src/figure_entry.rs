//! What stands behind a figure: its formula in words, its source and its limits, as the `figures.csv` of a crate has them.

use crate::input::Input;

/// The entry of a figure.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FigureEntry {
    /// Short name.
    pub key: String,
    /// The painter's word.
    pub name: String,
    /// The word of the trade that measures it.
    pub chemist: String,
    /// Formula in words.
    pub formula: String,
    /// Where it comes from.
    pub source: String,
    /// When it holds.
    pub holds: String,
    /// When it does not.
    pub fails: String,
    /// First words of the keys of the unknowns that it rests on; none where nothing is drawn.
    from: Vec<String>,
}

impl FigureEntry {
    /// Whether this unknown goes into the figure.
    pub fn rests_on(&self, input: &Input) -> bool {
        let kind = input.key.as_str().split(['.', ':']).next().unwrap_or("");
        self.from.iter().any(|one| one == kind)
    }
}

/// A file of figures is broken: where and how.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("figures.csv, line {line}: {what}")]
pub struct FigureFileError {
    /// Line from 1.
    pub line: usize,
    /// What is wrong.
    pub what: String,
}

/// The entries of a file of figures: key, painter's word, the trade's, formula, source, when it holds, when it does not, and (where
/// figures rest on unknowns) their first words with `|` between.
///
/// # Errors
/// Names the line of a row that is not whole.
///
/// ```
/// let file = "key,name,chemist,formula,source,holds,fails,from\npvc,powder share,PVC,a / b,a book,always,never,mass|density\n";
/// assert_eq!(measure::figure_entries(file)?[0].name, "powder share");
/// assert_eq!(measure::figure_entries("key,name\npvc,powder share\n").unwrap_err().line, 2);
/// # Ok::<(), measure::FigureFileError>(())
/// ```
pub fn figure_entries(file: &str) -> Result<Vec<FigureEntry>, FigureFileError> {
    let mut out = Vec::new();
    for (index, record) in csv::Reader::from_reader(file.as_bytes()).records().enumerate() {
        let wrong = |what: String| FigureFileError { line: index + 2, what };
        let record = record.map_err(|why| wrong(why.to_string()))?;
        let field = |n: usize| record.get(n).map(str::to_owned).ok_or_else(|| wrong(format!("column {} is missing", n + 1)));
        out.push(FigureEntry {
            key: field(0)?,
            name: field(1)?,
            chemist: field(2)?,
            formula: field(3)?,
            source: field(4)?,
            holds: field(5)?,
            fails: field(6)?,
            from: record.get(7).map(|from| from.split('|').map(str::to_owned).collect()).unwrap_or_default(),
        });
    }
    Ok(out)
}
