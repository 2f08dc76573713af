//! Constants of milk, acid and base from `data/binder.csv`.

use std::collections::HashMap;
use std::sync::OnceLock;

use materials::DataError;

use crate::acid::{Acid, Onset};
use crate::bases::{self, BaseFacts};
use crate::charge::{CaseinCharge, ChargeConstants, Davies, Protein};
use crate::dissolve::{Base, ViscosityCurve};

const FILE: &str = "binder.csv";

/// One constant.
#[derive(Debug, Clone, PartialEq)]
pub struct Constant {
    /// Its name, such as `recovery`.
    pub key: String,
    /// In plain words.
    pub plain: String,
    /// Best value.
    pub value: f64,
    /// Likely least and most, where they are known.
    pub range: Option<(f64, f64)>,
    /// Unit as written in the file.
    pub unit: String,
    /// Where it comes from.
    pub source: String,
}

/// All constants, and the lines and curves made of them.
#[derive(Debug, Clone)]
pub struct BinderBook {
    constants: HashMap<String, Constant>,
    charges: ChargeConstants,
    bases: Vec<BaseFacts>,
    repulsion: f64,
    onset: Onset,
    viscosity: ViscosityCurve,
}

impl BinderBook {
    /// The constants that the program carries, read once.
    ///
    /// # Errors
    /// The data file is broken; a test keeps it sound.
    ///
    /// ```
    /// let book = binder::BinderBook::builtin()?;
    /// assert_eq!(book.constant("recovery")?.value, 0.95);
    /// # Ok::<(), materials::DataError>(())
    /// ```
    pub fn builtin() -> Result<&'static Self, DataError> {
        static ONCE: OnceLock<Result<BinderBook, DataError>> = OnceLock::new();
        ONCE.get_or_init(|| Self::parse(include_str!("../data/binder.csv"))).as_ref().map_err(Clone::clone)
    }

    fn parse(text: &str) -> Result<Self, DataError> {
        let constants = read(text)?;
        let value = |key: &str| find(&constants, key).map(|constant| constant.value);
        let charges = ChargeConstants::read(include_str!("../data/equilibria.csv"), include_str!("../data/residues.csv"), &value)?;
        let onset = Onset {
            at_reference: value("curdle_onset.ph25")?,
            slope: value("curdle_onset.slope")?,
            reference: value("curdle_onset.t_ref")?,
            coolest: value("curdle_onset.t_low")?,
            hottest: value("curdle_onset.t_high")?,
            heated: value("curdle_onset.heated")?,
            cap: value("curdle_onset.cap")?,
        };
        let range = |key: &str| find(&constants, key).map(|found| found.range.unwrap_or((found.value, found.value)));
        let viscosity = ViscosityCurve {
            water: value("viscosity.water")?,
            growth: value("viscosity.b")?,
            growths: range("viscosity.b")?,
            brushes: range("viscosity.brush")?,
            weakest: value("viscosity.limit_low")?,
            strongest: value("viscosity.limit_high")?,
        };
        let repulsion = value("repulsion")?;
        let bases = bases::read(include_str!("../data/bases.csv"))?;
        Ok(Self { constants, charges, bases, repulsion, onset, viscosity })
    }

    /// A constant by its name.
    ///
    /// # Errors
    /// The file has no such line.
    pub fn constant(&self, key: &str) -> Result<&Constant, DataError> {
        find(&self.constants, key)
    }

    /// What a base is made of and what it leaves behind.
    ///
    /// # Errors
    /// The file lacks the base; a test keeps it whole.
    pub fn base(&self, base: Base) -> Result<&BaseFacts, DataError> {
        let lacking = || DataError { file: "bases.csv", line: 0, what: format!("no line for `{}`", base.material().as_str()) };
        self.bases.iter().find(|facts| facts.base == base).ok_or_else(lacking)
    }

    /// Grams of the base itself in a millimole.
    ///
    /// # Errors
    /// The file lacks its molar mass.
    pub fn base_grams_per_millimole(&self, base: Base) -> Result<f64, DataError> {
        Ok(self.constant(&format!("molar_mass.{}", base.substance()))?.value / 1000.0)
    }

    /// Constants of the charge balances.
    pub(crate) fn charges(&self) -> &ChargeConstants {
        &self.charges
    }

    /// How salt weakens ions.
    pub fn davies(&self) -> Davies {
        self.charges.davies
    }

    /// The proteins of milk with the groups that the balances count.
    pub fn proteins(&self) -> &[Protein] {
        &self.charges.proteins.list
    }

    /// The charge of washed casein.
    pub fn casein_charge(&self) -> CaseinCharge<'_> {
        CaseinCharge { constants: &self.charges, repulsion: self.repulsion }
    }

    /// The charge of casein with this repulsion in place of the usual (0.04 to 0.08; 0 for groups that stand alone).
    pub fn casein_charge_with(&self, repulsion: f64) -> CaseinCharge<'_> {
        CaseinCharge { constants: &self.charges, repulsion }
    }

    /// Where milk begins to curdle.
    pub fn onset(&self) -> &Onset {
        &self.onset
    }

    /// How thick a casein solution is.
    pub fn viscosity(&self) -> &ViscosityCurve {
        &self.viscosity
    }

    /// Grams of the acid itself in a millimole.
    ///
    /// # Errors
    /// The file lacks the acid's molar mass.
    pub fn grams_per_millimole(&self, acid: Acid) -> Result<f64, DataError> {
        Ok(self.constant(&format!("molar_mass.{}", acid.substance()))?.value / 1000.0)
    }

    /// Grams of the base itself that bring one milliequivalent.
    ///
    /// # Errors
    /// The file lacks the base's molar mass or its charges.
    pub fn grams_per_milliequivalent(&self, base: Base) -> Result<f64, DataError> {
        let molar_mass = self.constant(&format!("molar_mass.{}", base.substance()))?.value;
        let charges = self.constant(&format!("equivalents.{}", base.substance()))?.value;
        Ok(molar_mass / charges / 1000.0)
    }
}

fn missing(key: &str) -> DataError {
    DataError { file: FILE, line: 0, what: format!("no line for `{key}`") }
}

fn find<'a>(constants: &'a HashMap<String, Constant>, key: &str) -> Result<&'a Constant, DataError> {
    constants.get(key).ok_or_else(|| missing(key))
}

fn read(text: &str) -> Result<HashMap<String, Constant>, DataError> {
    let mut constants = HashMap::new();
    for (index, record) in csv::Reader::from_reader(text.as_bytes()).into_records().enumerate() {
        let line = index + 2;
        let wrong = |what: String| DataError { file: FILE, line, what };
        let record = record.map_err(|e| wrong(e.to_string()))?;
        let text = |column: usize| record.get(column).map(str::trim).ok_or_else(|| wrong(format!("column {} is missing", column + 1)));
        let number = |column: usize| match text(column)? {
            "" => Ok(None),
            word => word.parse::<f64>().map(Some).map_err(|_| wrong(format!("`{word}` is no number"))),
        };
        let constant = Constant {
            key: text(0)?.to_owned(),
            plain: text(1)?.to_owned(),
            value: number(2)?.ok_or_else(|| wrong("a constant needs a value".to_owned()))?,
            range: number(3)?.zip(number(4)?),
            unit: text(5)?.to_owned(),
            source: text(6)?.to_owned(),
        };
        if constant.source.is_empty() {
            return Err(wrong("a constant needs a source".to_owned()));
        }
        if constant.range.is_some_and(|(low, high)| !(low..=high).contains(&constant.value)) {
            return Err(wrong("the value lies outside its range".to_owned()));
        }
        if let Some(twice) = constants.insert(constant.key.clone(), constant) {
            return Err(wrong(format!("`{}` stands twice", twice.key)));
        }
    }
    Ok(constants)
}

#[cfg(test)]
mod tests {
    use super::*;
    use materials::{Catalogue, MaterialId};

    #[test]
    fn the_file_reads_and_every_acid_and_base_has_its_numbers() {
        let book = BinderBook::builtin().unwrap();
        for acid in Acid::ALL {
            assert!(book.grams_per_millimole(acid).unwrap() > 0.0);
        }
        for base in Base::ALL {
            assert!(book.grams_per_milliequivalent(base).unwrap() > 0.0);
        }
    }

    #[test]
    fn numbers_that_stand_in_two_files_agree() {
        let (book, jars) = (BinderBook::builtin().unwrap(), Catalogue::builtin().unwrap());
        for (key, material, property) in [
            ("protein.skim", "skim-milk", "protein"),
            ("protein.whole", "whole-milk", "protein"),
            ("density.skim.20", "skim-milk", "density"),
            ("density.whole.20", "whole-milk", "density"),
            ("casein_share", "skim-milk", "casein_share_of_protein"),
            ("recovery", "skim-milk", "recovery"),
            ("curd_water.drained", "curd-drained", "water_share"),
            ("curd_water.pressed", "curd-pressed", "water_share"),
            ("lemon.juice", "lemon", "piece_volume"),
            ("molar_mass.borax", "borax", "molar_mass"),
            ("molar_mass.baking-soda", "baking-soda", "molar_mass"),
        ] {
            let there = jars.material(&MaterialId::new(material)).and_then(|material| material.property(property)).unwrap();
            let here = book.constant(key).unwrap();
            assert!((here.value - there.value).abs() < 1e-12, "{key}");
            assert_eq!(here.range, there.range, "{key}");
        }
    }

    #[test]
    fn a_broken_line_is_named() {
        let head = "key,plain,value,low,high,unit,source\n";
        for (line, word) in [
            ("a,,much,,,g,x", "no number"),
            ("a,,,,,g,x", "needs a value"),
            ("a,,1,,,g,", "needs a source"),
            ("a,,5,1,2,g,x", "outside its range"),
        ] {
            let said = BinderBook::parse(&format!("{head}{line}\n")).unwrap_err().to_string();
            assert!(said.contains("binder.csv, line 2") && said.contains(word), "{said}");
        }
        assert!(BinderBook::parse(head).unwrap_err().to_string().contains("no line for"));
    }
}
