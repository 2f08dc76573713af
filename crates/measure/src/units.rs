//! The words in which painters and cooks measure, read from `data/units.csv`.

use std::collections::HashMap;

/// Index of a unit in [`Units`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct UnitId(usize);

/// What a unit measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dimension {
    /// Grams.
    Mass,
    /// Millilitres.
    Volume,
    /// Millimetres.
    Length,
    /// Square millimetres.
    Area,
    /// Degrees.
    Temperature,
    /// Seconds.
    Time,
    /// Pieces.
    Count,
}

/// One unit of measure.
#[derive(Debug, Clone, PartialEq)]
pub struct KitchenUnit {
    /// Short name, such as `cup.us`.
    pub id: String,
    /// What it measures.
    pub dimension: Dimension,
    /// Size in g, ml, mm, mm2, s or pieces; `None` for words without a size ("a bowl").
    pub value: Option<f64>,
    /// Likely least and most, where the size itself is in doubt (a pinch).
    pub range: Option<(f64, f64)>,
    /// Whose measure it is, for people: "US", "metric", "UK" or empty.
    pub region: String,
    /// Where the size comes from.
    pub source: String,
}

/// The data file could not be read; names the line.
#[derive(Debug, thiserror::Error)]
#[error("units data, line {line}: {what}")]
pub struct UnitsError {
    /// Line of the file, from 1.
    pub line: usize,
    /// What is wrong there.
    pub what: String,
}

/// All units, and the words for them. A word listed for several units is ambiguous: the first has the largest weight.
#[derive(Debug, Clone)]
pub struct Units {
    all: Vec<KitchenUnit>,
    words: HashMap<String, Vec<(UnitId, f64)>>,
}

#[derive(Debug)]
struct Row<'a> {
    id: &'a str,
    kind: &'a str,
    value: &'a str,
    low: &'a str,
    high: &'a str,
    region: &'a str,
    words: &'a str,
    weight: &'a str,
    source: &'a str,
}

impl Units {
    /// The units that the program carries.
    ///
    /// # Errors
    /// The data file is broken; a test keeps it sound.
    ///
    /// ```
    /// let units = measure::Units::builtin()?;
    /// let cups = units.by_word("cup");
    /// assert!(cups.len() >= 3); // US, metric, UK half pint: a question for the painter
    /// # Ok::<(), measure::UnitsError>(())
    /// ```
    pub fn builtin() -> Result<Self, UnitsError> {
        Self::parse(include_str!("../data/units.csv"))
    }

    /// Reads units from text in the form of `data/units.csv`.
    ///
    /// # Errors
    /// Names the line and what is wrong there.
    pub fn parse(text: &str) -> Result<Self, UnitsError> {
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let mut all = Vec::new();
        let mut words: HashMap<String, Vec<(UnitId, f64)>> = HashMap::new();
        for (index, record) in reader.records().enumerate() {
            let line = index + 2;
            let record = record.map_err(|e| UnitsError { line, what: e.to_string() })?;
            let field =
                |n: usize| record.get(n).map(str::trim).ok_or_else(|| UnitsError { line, what: format!("column {} is missing", n + 1) });
            let row = Row {
                id: field(0)?,
                kind: field(1)?,
                value: field(2)?,
                low: field(3)?,
                high: field(4)?,
                region: field(6)?,
                words: field(7)?,
                weight: field(8)?,
                source: field(9)?,
            };
            // A unit may stand in several rows: words that mean it alone, and words that it shares.
            let id = if let Some(place) = all.iter().position(|unit: &KitchenUnit| unit.id == row.id) {
                UnitId(place)
            } else {
                all.push(unit(&row, line)?);
                UnitId(all.len() - 1)
            };
            let weight = number(row.weight, line)?.unwrap_or(1.0);
            for word in row.words.split('|').map(str::trim).filter(|word| !word.is_empty()) {
                words.entry(word.to_lowercase()).or_default().push((id, weight));
            }
        }
        for choices in words.values_mut() {
            choices.sort_by(|a, b| b.1.total_cmp(&a.1));
        }
        Ok(Self { all, words })
    }

    /// The unit behind an id.
    ///
    /// # Panics
    /// Never for ids that this table gave out.
    #[expect(clippy::indexing_slicing, reason = "ids are made by this table only")]
    pub fn get(&self, id: UnitId) -> &KitchenUnit {
        &self.all[id.0]
    }

    /// Units that this word may mean, likeliest first, with weights; empty if the word is no unit. Case does not matter.
    pub fn by_word(&self, word: &str) -> &[(UnitId, f64)] {
        self.words.get(word).or_else(|| self.words.get(&word.to_lowercase())).map_or(&[], Vec::as_slice)
    }

    /// The unit with this short name.
    pub fn by_id(&self, id: &str) -> Option<UnitId> {
        self.all.iter().position(|unit| unit.id == id).map(UnitId)
    }

    /// Every word that names a unit.
    pub fn words(&self) -> impl Iterator<Item = &str> {
        self.words.keys().map(String::as_str)
    }

    /// Every unit.
    pub fn all(&self) -> &[KitchenUnit] {
        &self.all
    }
}

fn unit(row: &Row<'_>, line: usize) -> Result<KitchenUnit, UnitsError> {
    let dimension = match row.kind {
        "mass" => Dimension::Mass,
        "volume" => Dimension::Volume,
        "length" => Dimension::Length,
        "area" => Dimension::Area,
        "temperature" => Dimension::Temperature,
        "time" => Dimension::Time,
        "count" => Dimension::Count,
        other => return Err(UnitsError { line, what: format!("`{other}` is no kind of measure") }),
    };
    let range = match (number(row.low, line)?, number(row.high, line)?) {
        (Some(low), Some(high)) => Some((low, high)),
        _ => None,
    };
    Ok(KitchenUnit {
        id: row.id.to_owned(),
        dimension,
        value: number(row.value, line)?,
        range,
        region: row.region.to_owned(),
        source: row.source.to_owned(),
    })
}

fn number(text: &str, line: usize) -> Result<Option<f64>, UnitsError> {
    if text.is_empty() {
        return Ok(None);
    }
    text.parse().map(Some).map_err(|_| UnitsError { line, what: format!("`{text}` is no number") })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn size(units: &Units, word: &str) -> f64 {
        let (id, _) = units.by_word(word)[0];
        units.get(id).value.unwrap()
    }

    #[test]
    fn legal_definitions_nist_handbook_44_appendix_c() {
        // NIST Handbook 44, Appendix C (exact): 1 gallon = 231 cubic inches = 3785.411784 ml; 1 lb = 453.59237 g; 1 grain = 64.79891 mg.
        let units = Units::builtin().unwrap();
        for (word, expected) in [
            ("us cup", 236.588_236_5),
            ("us quart", 946.352_946),
            ("us gallon", 3_785.411_784),
            ("us fl oz", 29.573_529_562_5),
            ("us tablespoon", 14.786_764_781_25),
            ("us teaspoon", 4.928_921_593_75),
            ("lb", 453.592_37),
            ("oz", 28.349_523_125),
            ("grain", 0.064_798_91),
        ] {
            assert!((size(&units, word) - expected).abs() < 1e-8 * expected, "{word}");
        }
    }

    #[test]
    fn imperial_measures_uk_weights_and_measures_act_1985() {
        // UK Weights and Measures Act 1985, Schedule 1: 1 gallon = 4.54609 litres exactly.
        let units = Units::builtin().unwrap();
        for (word, expected) in [("imperial gallon", 4546.09), ("imperial pint", 568.261_25), ("imperial fl oz", 28.413_062_5)] {
            assert!((size(&units, word) - expected).abs() < 1e-8 * expected, "{word}");
        }
    }

    #[test]
    fn a_broken_line_is_named() {
        let broken = "id,kind,value,low,high,unit,region,words,weight,source\ncup,speed,1,,,ml,,cup,,x\n";
        let said = Units::parse(broken).unwrap_err().to_string();
        assert!(said.contains("line 2") && said.contains("speed"), "{said}");
    }
}
