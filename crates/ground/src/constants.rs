//! Constants of stiffness, shrinkage and cracking from `data/film.csv`, and the table of energy release in `data/mismatch.csv`.

use std::collections::HashMap;
use std::sync::OnceLock;

use materials::DataError;

const FILE: &str = "film.csv";
const MISMATCH: &str = "mismatch.csv";

/// One constant of the film.
#[derive(Debug, Clone, PartialEq)]
pub struct FilmConstant {
    /// In plain words.
    pub plain: String,
    /// Best value.
    pub value: f64,
    /// Likely least and most, where they are known.
    pub range: Option<(f64, f64)>,
    /// Spread of its logarithm (one standard deviation), where it is drawn so.
    pub spread: Option<f64>,
    /// Unit as written in the file.
    pub unit: String,
    /// Where it comes from.
    pub source: String,
}

/// All constants of the film.
#[derive(Debug, Clone)]
pub struct FilmBook {
    constants: HashMap<String, FilmConstant>,
    mismatch: Vec<(f64, f64)>,
}

impl FilmBook {
    /// The constants that the program carries, read once.
    ///
    /// # Errors
    /// A data file is broken; a test keeps both sound.
    ///
    /// ```
    /// let book = ground::FilmBook::builtin()?;
    /// assert_eq!(book.constant("stiffness.glue")?.value, 3.0);
    /// # Ok::<(), materials::DataError>(())
    /// ```
    pub fn builtin() -> Result<&'static Self, DataError> {
        static ONCE: OnceLock<Result<FilmBook, DataError>> = OnceLock::new();
        ONCE.get_or_init(|| {
            Ok(Self { constants: read(include_str!("../data/film.csv"))?, mismatch: read_mismatch(include_str!("../data/mismatch.csv"))? })
        })
        .as_ref()
        .map_err(Clone::clone)
    }

    /// A constant by its name.
    ///
    /// # Errors
    /// The file has no such line.
    pub fn constant(&self, key: &str) -> Result<&FilmConstant, DataError> {
        self.constants.get(key).ok_or_else(|| DataError { file: FILE, line: 0, what: format!("no line for `{key}`") })
    }

    /// The stiffest-mismatch table: (alpha, release) in rising order of alpha.
    pub(crate) fn mismatch(&self) -> &[(f64, f64)] {
        &self.mismatch
    }
}

type Row = (String, String, f64, Option<f64>, Option<f64>, Option<f64>, String, String);

fn read(text: &str) -> Result<HashMap<String, FilmConstant>, DataError> {
    let mut constants = HashMap::new();
    for (index, row) in csv::Reader::from_reader(text.as_bytes()).deserialize::<Row>().enumerate() {
        let wrong = |what: String| DataError { file: FILE, line: index + 2, what };
        let (key, plain, value, low, high, spread, unit, source) = row.map_err(|e| wrong(e.to_string()))?;
        let range = low.zip(high);
        if source.trim().is_empty() {
            return Err(wrong(format!("`{key}` needs a source")));
        }
        if range.is_some_and(|(low, high)| !(low..=high).contains(&value)) {
            return Err(wrong(format!("`{key}` lies outside its range")));
        }
        let constant = FilmConstant { plain, value, range, spread, unit, source };
        if constants.insert(key.clone(), constant).is_some() {
            return Err(wrong(format!("`{key}` stands twice")));
        }
    }
    Ok(constants)
}

fn read_mismatch(text: &str) -> Result<Vec<(f64, f64)>, DataError> {
    let mut rows: Vec<(f64, f64)> = Vec::new();
    for (index, row) in csv::Reader::from_reader(text.as_bytes()).deserialize::<(f64, f64, String)>().enumerate() {
        let wrong = |what: String| DataError { file: MISMATCH, line: index + 2, what };
        let (alpha, release, source) = row.map_err(|e| wrong(e.to_string()))?;
        if release <= 0.0 || source.trim().is_empty() || rows.last().is_some_and(|last| last.0 >= alpha) {
            return Err(wrong("needs rising alpha, a release above zero and a source".into()));
        }
        rows.push((alpha, release));
    }
    Ok(rows)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_files_read() {
        let book = FilmBook::builtin().unwrap();
        assert!(book.constants.len() > 20 && book.mismatch.len() == 11);
        assert!(book.constant("nothing").unwrap_err().to_string().contains("no line for"));
    }

    #[test]
    fn a_broken_line_is_named() {
        let head = "key,plain,value,low,high,spread,unit,source\n";
        for (line, word) in
            [("a,,1,,,,g,", "needs a source"), ("a,,5,1,2,,g,x", "outside its range"), ("a,,1,,,,g,x\na,,1,,,,g,x", "twice")]
        {
            assert!(read(&format!("{head}{line}\n")).unwrap_err().to_string().contains(word), "{line}");
        }
        assert!(read_mismatch("alpha,release,source\n0,1,x\n0,1,x\n").is_err());
    }
}
