//! Constants of drying from `data/drying.csv`, as unknowns with their spread.

use std::collections::HashMap;
use std::sync::OnceLock;

use materials::DataError;
use measure::{Input, InputKey, Spread};

use crate::rows::{Row, rows};

const FILE: &str = "drying.csv";
/// Units that the file may use: an [`Input`] borrows its unit for ever.
const UNITS: [&str; 8] = ["m/s", "C", "%", "1", "kg/(m2 s^0.5)", "m2/s", "h", "g/(m2 h)"];

/// All constants of drying.
#[derive(Debug, Clone)]
pub struct DryingBook {
    inputs: HashMap<String, Input>,
}

impl DryingBook {
    /// The constants that the program carries, read once.
    ///
    /// # Errors
    /// The data file is broken; a test keeps it sound.
    ///
    /// ```
    /// let book = support::DryingBook::builtin()?;
    /// assert_eq!(book.input("packing")?.best, 0.55);
    /// assert!(book.input("packing")?.source.contains("model choice"));
    /// # Ok::<(), materials::DataError>(())
    /// ```
    pub fn builtin() -> Result<&'static Self, DataError> {
        static ONCE: OnceLock<Result<DryingBook, DataError>> = OnceLock::new();
        ONCE.get_or_init(|| Self::parse(include_str!("../data/drying.csv"))).as_ref().map_err(Clone::clone)
    }

    fn parse(text: &str) -> Result<Self, DataError> {
        let mut inputs = HashMap::new();
        for input in rows(FILE, text, input)? {
            let key = input.key.as_str().to_owned();
            if inputs.insert(key.clone(), input).is_some() {
                return Err(DataError { file: FILE, line: 0, what: format!("`{key}` stands twice") });
            }
        }
        Ok(Self { inputs })
    }

    /// An unknown by its name, such as `uptake.bare`, with spread, unit and source.
    ///
    /// # Errors
    /// The file has no such line.
    pub fn input(&self, key: &str) -> Result<&Input, DataError> {
        self.inputs.get(key).ok_or_else(|| DataError { file: FILE, line: 0, what: format!("no line for `{key}`") })
    }

    /// The best value of an unknown.
    ///
    /// # Errors
    /// The file has no such line.
    pub(crate) fn value(&self, key: &str) -> Result<f64, DataError> {
        Ok(self.input(key)?.best)
    }
}

fn input(row: &Row) -> Result<Input, DataError> {
    let best = row.number(2)?;
    let range = || Ok((row.number(3)?, row.number(4)?));
    let spread = match row.filled(5)? {
        "exact" => Spread::Exact,
        "even" => range().map(|(low, high)| Spread::Even(low, high))?,
        "log" => range().map(|(low, high)| Spread::LogNormal90(low, high))?,
        other => return Err(row.wrong(format!("`{other}` is none of exact, even, log"))),
    };
    if let Spread::Even(low, high) | Spread::LogNormal90(low, high) = spread {
        if !(low <= best && best <= high) {
            return Err(row.wrong("the value lies outside its range".to_owned()));
        }
        if matches!(spread, Spread::LogNormal90(..)) && low <= 0.0 {
            return Err(row.wrong("a range in the logarithm begins above 0".to_owned()));
        }
    }
    let unit = row.filled(6)?;
    Ok(Input {
        key: InputKey::new(row.filled(0)?),
        plain: row.filled(1)?.to_owned(),
        best,
        spread,
        unit: UNITS.iter().find(|known| **known == unit).ok_or_else(|| row.wrong(format!("`{unit}` is no unit of drying")))?,
        source: row.filled(7)?.to_owned(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_file_reads() {
        let book = DryingBook::builtin().unwrap();
        assert_eq!(book.input("draught.room").unwrap().spread, Spread::LogNormal90(0.05, 0.3));
        assert!(book.input("tide").unwrap_err().to_string().contains("no line for `tide`"));
    }

    #[test]
    fn a_broken_line_is_named() {
        let head = "key,plain,value,low,high,spread,unit,source\n";
        for (line, word) in [
            ("a,b,much,,,exact,h,x", "no number"),
            ("a,b,1,,,exact,h,", "column 8 is empty"),
            ("a,b,5,1,2,even,h,x", "outside its range"),
            ("a,b,1,0,2,log,h,x", "above 0"),
            ("a,b,1,0,2,bell,h,x", "`bell`"),
            ("a,b,1,0,2,even,fathom,x", "`fathom`"),
        ] {
            let said = DryingBook::parse(&format!("{head}{line}\n")).unwrap_err().to_string();
            assert!(said.contains("drying.csv, line 2") && said.contains(word), "{said}");
        }
        assert!(DryingBook::parse(&format!("{head}a,b,1,,,exact,h,x\na,b,1,,,exact,h,x\n")).unwrap_err().to_string().contains("twice"));
    }
}
