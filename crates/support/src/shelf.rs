//! The data files as typed tables.

use std::sync::OnceLock;

use materials::DataError;
use measure::{Celsius, Micrometres};

use crate::rows::{Row, rows};

/// A board or cloth to paint on.
#[derive(Debug, Clone, PartialEq)]
pub struct Support {
    /// Short name, such as `plywood`.
    pub id: String,
    /// The painter's word.
    pub name: String,
    /// One plain sentence.
    pub plain: String,
    /// Short names of the facts that it tells about why a board failed.
    pub facts: Vec<String>,
}

/// A wood and how it moves.
#[derive(Debug, Clone, PartialEq)]
pub struct Wood {
    /// Common name.
    pub name: String,
    /// Botanical name.
    pub latin: String,
    /// Change of size for one point of moisture between 6 and 14 %, along the radius of the tree; a share.
    pub radial: f64,
    /// The same along the rings.
    pub tangential: f64,
    /// Shrinkage from green to oven-dry along the radius, per cent.
    pub shrinkage_radial: f64,
    /// The same along the rings.
    pub shrinkage_tangential: f64,
    /// Kilograms in a cubic metre.
    pub density: f64,
    /// Where the numbers come from.
    pub source: String,
}

/// Coarse or fine half of the scale of grits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GritSeries {
    /// P12 to P220, sized by sieves.
    Macro,
    /// P240 and finer, sized by settling.
    Micro,
}

/// An abrasive paper.
#[derive(Debug, Clone, PartialEq)]
pub struct Grit {
    /// Its number, such as `P220`.
    pub grade: String,
    /// Mean size of the grains.
    pub grain: Micrometres,
    /// Which half of the scale.
    pub series: GritSeries,
    /// What it is used for; may be empty.
    pub used_for: String,
    /// Where the size comes from.
    pub source: String,
}

/// One printed cell of the table of moisture in wood.
#[derive(Debug, Clone, PartialEq)]
pub struct DampCell {
    /// Temperature of the air.
    pub warmth: Celsius,
    /// Relative humidity of the air, per cent.
    pub humidity: f64,
    /// Water in the wood, per cent of its oven-dry mass.
    pub moisture: f64,
    /// Where it is printed.
    pub source: String,
}

/// All tables of supports.
#[derive(Debug, Clone)]
pub struct Shelf {
    supports: Vec<Support>,
    woods: Vec<Wood>,
    grits: Vec<Grit>,
    damp: Vec<DampCell>,
}

impl Shelf {
    /// The tables that the program carries, read once.
    ///
    /// # Errors
    /// A data file is broken; a test keeps them sound.
    ///
    /// ```
    /// let shelf = support::Shelf::builtin()?;
    /// assert!(shelf.support("plywood").unwrap().facts.contains(&"veneer-bare".to_owned()));
    /// # Ok::<(), materials::DataError>(())
    /// ```
    pub fn builtin() -> Result<&'static Self, DataError> {
        static ONCE: OnceLock<Result<Shelf, DataError>> = OnceLock::new();
        ONCE.get_or_init(Self::load).as_ref().map_err(Clone::clone)
    }

    fn load() -> Result<Self, DataError> {
        Ok(Self {
            supports: rows("supports.csv", include_str!("../data/supports.csv"), support)?,
            woods: rows("woods.csv", include_str!("../data/woods.csv"), wood)?,
            grits: rows("grits.csv", include_str!("../data/grits.csv"), grit)?,
            damp: rows("emc.csv", include_str!("../data/emc.csv"), damp)?,
        })
    }

    /// Boards and cloths, in the order of the file.
    pub fn supports(&self) -> &[Support] {
        &self.supports
    }
    /// A support by its short name.
    pub fn support(&self, id: &str) -> Option<&Support> {
        self.supports.iter().find(|support| support.id == id)
    }
    /// All woods.
    pub fn woods(&self) -> &[Wood] {
        &self.woods
    }
    /// A wood by its common name.
    pub fn wood(&self, name: &str) -> Option<&Wood> {
        self.woods.iter().find(|wood| wood.name == name)
    }
    /// All grits, coarsest first.
    pub fn grits(&self) -> &[Grit] {
        &self.grits
    }
    /// A grit by its number, such as `P220`.
    pub fn grit(&self, grade: &str) -> Option<&Grit> {
        self.grits.iter().find(|grit| grit.grade == grade)
    }
    /// Printed cells of moisture in wood.
    pub fn damp(&self) -> &[DampCell] {
        &self.damp
    }
}

fn support(row: &Row) -> Result<Support, DataError> {
    Ok(Support {
        id: row.filled(0)?.to_owned(),
        name: row.filled(1)?.to_owned(),
        plain: row.filled(2)?.to_owned(),
        facts: row.filled(3)?.split('|').map(|fact| fact.trim().to_owned()).collect(),
    })
}

fn wood(row: &Row) -> Result<Wood, DataError> {
    Ok(Wood {
        name: row.filled(0)?.to_owned(),
        latin: row.filled(1)?.to_owned(),
        radial: row.number(2)?,
        tangential: row.number(3)?,
        shrinkage_radial: row.number(4)?,
        shrinkage_tangential: row.number(5)?,
        density: row.number(6)?,
        source: row.filled(7)?.to_owned(),
    })
}

fn grit(row: &Row) -> Result<Grit, DataError> {
    Ok(Grit {
        grade: row.filled(0)?.to_owned(),
        grain: Micrometres::new(row.number(1)?),
        series: match row.filled(2)? {
            "macrogrit" => GritSeries::Macro,
            "microgrit" => GritSeries::Micro,
            other => return Err(row.wrong(format!("`{other}` is neither macrogrit nor microgrit"))),
        },
        used_for: row.at(3)?.to_owned(),
        source: row.filled(4)?.to_owned(),
    })
}

fn damp(row: &Row) -> Result<DampCell, DataError> {
    Ok(DampCell {
        warmth: Celsius::new(row.number(0)?),
        humidity: row.number(1)?,
        moisture: row.number(2)?,
        source: row.filled(3)?.to_owned(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn grains_of_common_papers() {
        // Mean grain sizes of the P series after FEPA and ISO 6344, as tabulated publicly.
        let shelf = Shelf::builtin().unwrap();
        for (grade, size) in [("P80", 201.0), ("P120", 125.0), ("P220", 68.0), ("P400", 35.0)] {
            assert!((shelf.grit(grade).unwrap().grain.value() - size).abs() < 1e-9, "{grade}");
        }
        assert!(shelf.grits().windows(2).all(|pair| pair[1].grain < pair[0].grain));
        assert_eq!((shelf.grit("P220").unwrap().series, shelf.grit("P240").unwrap().series), (GritSeries::Macro, GritSeries::Micro));
    }

    #[test]
    fn woods_move_more_along_the_rings() {
        // Wood Handbook FPL-GTR-190, Table 13-5: basswood 0.00230 and 0.00330; Table 4-3: shrinkage 6.6 and 9.3 %.
        let shelf = Shelf::builtin().unwrap();
        let basswood = shelf.wood("American basswood").unwrap();
        assert!((basswood.radial - 0.0023).abs() < 1e-9 && (basswood.tangential - 0.0033).abs() < 1e-9);
        assert!((basswood.shrinkage_radial - 6.6).abs() < 1e-9 && (basswood.shrinkage_tangential - 9.3).abs() < 1e-9);
        assert_eq!(shelf.woods().len(), 28);
        for wood in shelf.woods() {
            assert!(wood.radial < wood.tangential && wood.shrinkage_radial < wood.shrinkage_tangential, "{}", wood.name);
        }
    }

    #[test]
    fn movement_follows_from_shrinkage() {
        // Wood Handbook, Eq. 13-3 taken from 10 % moisture: C = (S / 3000) / (1 - 20 S / 3000). Mean values of trade groups don't obey it.
        for wood in Shelf::builtin().unwrap().woods().iter().filter(|wood| !wood.name.contains("commercial")) {
            for (shrinkage, printed) in [(wood.shrinkage_radial, wood.radial), (wood.shrinkage_tangential, wood.tangential)] {
                let movement = shrinkage / 3000.0 / (1.0 - 20.0 * shrinkage / 3000.0);
                assert!((movement - printed).abs() <= 0.000_015, "{}: {movement}", wood.name);
            }
        }
    }

    #[test]
    fn facts_of_a_support_do_not_contradict_each_other() {
        let known = ["veneer-bare", "no-veneer", "sheet-or-cloth", "solid-wood", "cloth-under-ground"];
        for support in Shelf::builtin().unwrap().supports() {
            let has = |fact: &str| support.facts.iter().any(|known| known == fact);
            assert!(support.facts.iter().all(|fact| known.contains(&fact.as_str())), "{}", support.id);
            assert!(!(has("veneer-bare") && (has("no-veneer") || has("cloth-under-ground"))), "{}", support.id);
            assert!(!(has("solid-wood") && has("sheet-or-cloth")), "{}", support.id);
        }
    }

    #[test]
    fn a_broken_line_is_named() {
        let said = |line: &str| rows("woods.csv", &format!("a,b,c,d,e,f,g,h\n{line}\n"), wood).unwrap_err().to_string();
        assert!(said("ash,Fraxinus,much,1,1,1,1,x").contains("woods.csv, line 2: `much`"));
        assert!(said("ash,Fraxinus,1,1,1,1,1,").contains("column 8 is empty"));
        assert!(rows("grits.csv", "a,b,c,d,e\nP80,201,gravel,,x\n", grit).unwrap_err().to_string().contains("gravel"));
    }
}
