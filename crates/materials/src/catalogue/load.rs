//! Reading the data files.

use std::collections::HashMap;
use std::sync::OnceLock;

use super::model::{BinderKind, Catalogue, Family, HandbookRow, Hazard, Kind, Material, MaterialId, Pair, Property, Verdict};

/// A data file is broken: which, where and how.
#[derive(Debug, Clone, thiserror::Error)]
#[error("{file}, line {line}: {what}")]
pub struct DataError {
    /// File name.
    pub file: &'static str,
    /// Line from 1.
    pub line: usize,
    /// What is wrong.
    pub what: String,
}

impl Catalogue {
    /// The catalogue that the program carries, read once.
    ///
    /// # Errors
    /// A data file is broken; a test keeps them sound.
    ///
    /// ```
    /// use materials::{Catalogue, MaterialId};
    /// let jars = Catalogue::builtin()?;
    /// let chalk = jars.material(&MaterialId::new("natural-chalk")).unwrap();
    /// assert_eq!(chalk.property("density").unwrap().value, 2.71);
    /// # Ok::<(), materials::DataError>(())
    /// ```
    pub fn builtin() -> Result<&'static Self, DataError> {
        static ONCE: OnceLock<Result<Catalogue, DataError>> = OnceLock::new();
        ONCE.get_or_init(Self::load).as_ref().map_err(Clone::clone)
    }

    fn load() -> Result<Self, DataError> {
        let mut materials = Vec::new();
        let mut index = HashMap::new();
        for row in rows("materials.csv", include_str!("../../data/materials.csv")) {
            let row = row?;
            let id = MaterialId::new(row.at(0)?);
            index.insert(id.clone(), materials.len());
            materials.push(Material {
                id,
                name: row.at(1)?.to_owned(),
                chemist: row.at(2)?.to_owned(),
                kind: row.one_of(3, &KINDS)?,
                family: row.one_of(4, &FAMILIES)?,
                plain: row.at(5)?.to_owned(),
                properties: Vec::new(),
            });
        }
        let known = |row: &Row, id: &str| -> Result<MaterialId, DataError> {
            let id = MaterialId::new(id);
            if index.contains_key(&id) { Ok(id) } else { Err(row.wrong(format!("no material `{}`", id.as_str()))) }
        };
        for row in rows("properties.csv", include_str!("../../data/properties.csv")) {
            let row = row?;
            let id = known(&row, row.at(0)?)?;
            let property = Property {
                name: row.at(1)?.to_owned(),
                value: row.number(2)?.ok_or_else(|| row.wrong("a property needs a value".to_owned()))?,
                range: row.number(3)?.zip(row.number(4)?),
                unit: row.at(5)?.to_owned(),
                source: row.at(6)?.to_owned(),
            };
            if let Some(material) = index.get(&id).and_then(|at| materials.get_mut(*at)) {
                material.properties.push(property);
            }
        }
        let mut names: HashMap<String, Vec<(MaterialId, f64)>> = HashMap::new();
        for row in rows("names.csv", include_str!("../../data/names.csv")) {
            let row = row?;
            let meanings = names.entry(row.at(1)?.to_lowercase()).or_default();
            let id = known(&row, row.at(0)?)?;
            if !meanings.iter().any(|(other, _)| *other == id) {
                meanings.push((id, row.number(2)?.unwrap_or(1.0)));
            }
        }
        for meanings in names.values_mut() {
            meanings.sort_by(|a, b| b.1.total_cmp(&a.1));
        }
        let list = |row: &Row, n: usize| -> Result<Vec<MaterialId>, DataError> {
            row.at(n)?.split('|').filter(|id| !id.is_empty()).map(|id| known(row, id)).collect()
        };
        let mut hazards = Vec::new();
        for row in rows("hazards.csv", include_str!("../../data/hazards.csv")) {
            let row = row?;
            hazards.push(Hazard {
                group: row.at(0)?.to_owned(),
                materials: list(&row, 1)?,
                cas: row.at(2)?.to_owned(),
                h_codes: row.at(3)?.to_owned(),
                signal_word: row.at(4)?.to_owned(),
                pictograms: row.at(5)?.split(['|', ' ']).filter(|code| !code.is_empty()).map(str::to_owned).collect(),
                caution: row.at(6)?.to_owned(),
                source: row.at(7)?.to_owned(),
                as_of: row.at(8)?.to_owned(),
            });
        }
        let mut pairs = Vec::new();
        for row in rows("pairs.csv", include_str!("../../data/pairs.csv")) {
            let row = row?;
            pairs.push(Pair {
                fillers: list(&row, 0)?,
                binder: row.one_of(1, &BINDERS)?,
                verdict: row.one_of(2, &VERDICTS)?,
                why: row.at(3)?.to_owned(),
                standing: row.at(4)?.to_owned(),
                source: row.at(5)?.to_owned(),
            });
        }
        let mut handbook = Vec::new();
        for row in rows("handbook_recipes.csv", include_str!("../../data/handbook_recipes.csv")) {
            let row = row?;
            let text = |n: usize| row.at(n).map(str::to_owned);
            handbook.push(HandbookRow {
                id: text(0)?,
                name: text(1)?,
                binder: text(2)?,
                ingredient: text(3)?,
                amount: text(4)?,
                unit: text(5)?,
                note: text(6)?,
                source: text(7)?,
                verified: row.at(8)? == "yes",
            });
        }
        Ok(Self { materials, index, names, hazards, pairs, handbook })
    }
}

const KINDS: [(&str, Kind); 11] = [
    ("filler", Kind::Filler),
    ("binder", Kind::Binder),
    ("milk", Kind::Milk),
    ("alkali", Kind::Alkali),
    ("acid", Kind::Acid),
    ("liquid", Kind::Liquid),
    ("oil", Kind::Oil),
    ("additive", Kind::Additive),
    ("primer", Kind::Primer),
    ("support", Kind::Support),
    ("hazard", Kind::Hazard),
];
const FAMILIES: [(&str, Family); 8] = [
    ("casein", Family::Casein),
    ("lime-casein", Family::LimeCasein),
    ("glue", Family::Glue),
    ("oil", Family::Oil),
    ("egg", Family::Egg),
    ("acrylic", Family::Acrylic),
    ("cellulose", Family::Cellulose),
    ("", Family::None),
];
const BINDERS: [(&str, BinderKind); 5] = [
    ("soda-casein", BinderKind::SodaCasein),
    ("borax-casein", BinderKind::BoraxCasein),
    ("ammonia-casein", BinderKind::AmmoniaCasein),
    ("lime-casein", BinderKind::LimeCasein),
    ("glue", BinderKind::Glue),
];
const VERDICTS: [(&str, Verdict); 7] = [
    ("good", Verdict::Good),
    ("thickens", Verdict::Thickens),
    ("curdles", Verdict::Curdles),
    ("sets", Verdict::Sets),
    ("foams", Verdict::Foams),
    ("stiffens", Verdict::Stiffens),
    ("unknown", Verdict::Unknown),
];

/// One record with the place that an error message needs.
struct Row {
    file: &'static str,
    line: usize,
    record: csv::StringRecord,
}

impl Row {
    fn wrong(&self, what: String) -> DataError {
        DataError { file: self.file, line: self.line, what }
    }
    fn at(&self, column: usize) -> Result<&str, DataError> {
        self.record.get(column).map(str::trim).ok_or_else(|| self.wrong(format!("column {} is missing", column + 1)))
    }
    fn number(&self, column: usize) -> Result<Option<f64>, DataError> {
        match self.at(column)? {
            "" => Ok(None),
            text => text.parse().map(Some).map_err(|_| self.wrong(format!("`{text}` is no number"))),
        }
    }
    fn one_of<T: Copy>(&self, column: usize, table: &[(&str, T)]) -> Result<T, DataError> {
        let word = self.at(column)?;
        table
            .iter()
            .find(|(name, _)| *name == word)
            .map(|(_, value)| *value)
            .ok_or_else(|| self.wrong(format!("`{word}` is not known here")))
    }
}

fn rows(file: &'static str, text: &'static str) -> impl Iterator<Item = Result<Row, DataError>> {
    let records = csv::Reader::from_reader(text.as_bytes()).into_records();
    records.enumerate().map(move |(index, record)| {
        let line = index + 2;
        record.map(|record| Row { file, line, record }).map_err(|e| DataError { file, line, what: e.to_string() })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_data_file_reads() {
        let jars = Catalogue::builtin().unwrap();
        assert!(jars.materials().len() > 60);
        // Counts of the collected tables: 34 recipes in 152 rows, 50 rows of cautions.
        assert_eq!(jars.handbook().len(), 152);
        let mut recipes: Vec<_> = jars.handbook().iter().map(|row| row.id.as_str()).collect();
        recipes.dedup();
        assert_eq!(recipes.len(), 34);
        assert_eq!(jars.hazards().len(), 50);
    }

    #[test]
    fn every_filler_has_the_numbers_that_a_film_needs() {
        for material in Catalogue::builtin().unwrap().materials().iter().filter(|m| m.kind == Kind::Filler) {
            for name in ["density", "bulk_density", "oil_absorption"] {
                let property = material.property(name).unwrap_or_else(|| panic!("{} lacks {name}", material.name));
                assert!(property.value > 0.0 && !property.source.is_empty());
            }
        }
    }

    #[test]
    fn meanings_of_a_word_have_weights_that_add_to_one() {
        for (name, meanings) in Catalogue::builtin().unwrap().names() {
            let total: f64 = meanings.iter().map(|(_, weight)| weight).sum();
            assert!((total - 1.0).abs() < 1e-6, "{name}: {total}");
        }
    }

    #[test]
    fn every_caution_defers_to_the_sheet_and_local_rules() {
        for hazard in Catalogue::builtin().unwrap().hazards() {
            assert!(hazard.caution.contains("data sheet") && hazard.caution.contains("local rules"), "{}", hazard.group);
        }
    }
}
