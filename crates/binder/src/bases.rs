//! What each base is made of and what it leaves behind, from `data/bases.csv`.

use materials::DataError;

use crate::dissolve::Base;

const FILE: &str = "bases.csv";

/// A base by its parts.
#[derive(Debug, Clone, PartialEq)]
pub struct BaseFacts {
    /// Which.
    pub base: Base,
    /// What is in a mole of it, mol.
    pub(crate) parts: BaseParts,
    /// What stays in the dry film, in plain words.
    pub film: String,
    /// How the dry film stands water, in plain words.
    pub water: String,
    /// Where that comes from.
    pub source: String,
    /// How long a pot of it keeps, in plain words; ranks, never hours.
    pub keeping: String,
}

/// Parts that count for charge, mol in a mole.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct BaseParts {
    pub(crate) sodium: f64,
    pub(crate) boron: f64,
    pub(crate) nitrogen: f64,
    pub(crate) carbon: f64,
    pub(crate) amine: f64,
    pub(crate) calcium: f64,
}

pub(crate) fn read(text: &str) -> Result<Vec<BaseFacts>, DataError> {
    let mut out = Vec::new();
    for (index, record) in csv::Reader::from_reader(text.as_bytes()).into_records().enumerate() {
        let wrong = |what: String| DataError { file: FILE, line: index + 2, what };
        let record = record.map_err(|e| wrong(e.to_string()))?;
        let text = |column: usize| record.get(column).map(str::trim).unwrap_or_default();
        let number = |column: usize| text(column).parse::<f64>().map_err(|_| wrong(format!("`{}` is no number", text(column))));
        let base = Base::ALL
            .into_iter()
            .find(|base| base.material().as_str() == text(0))
            .ok_or_else(|| wrong(format!("`{}` is no base known here", text(0))))?;
        if text(7).is_empty() || text(8).is_empty() || text(9).is_empty() || text(10).is_empty() {
            return Err(wrong("a base needs words for the film, for water and for keeping, and a source".to_owned()));
        }
        let parts = BaseParts {
            sodium: number(1)?,
            boron: number(2)?,
            nitrogen: number(3)?,
            carbon: number(4)?,
            amine: number(5)?,
            calcium: number(6)?,
        };
        out.push(BaseFacts {
            base,
            parts,
            film: text(7).to_owned(),
            water: text(8).to_owned(),
            source: text(9).to_owned(),
            keeping: text(10).to_owned(),
        });
    }
    match Base::ALL.into_iter().find(|base| !out.iter().any(|facts| facts.base == *base)) {
        Some(lacking) => Err(DataError { file: FILE, line: 0, what: format!("no line for `{}`", lacking.material().as_str()) }),
        None => Ok(out),
    }
}
