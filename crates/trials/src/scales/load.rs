//! Reading the data files.

use std::sync::OnceLock;

use measure::Micrometres;

use super::cutting::{BoardFeel, Cut};
use super::model::{Better, Class, Kind, LimitRule, Rank, Scale, ScaleBook, ScaleId};
use super::number::number;
use super::{Cylinder, ReadingValue};
use crate::causes::{DataError, Row, rows};

impl ScaleBook {
    /// The book that the program carries, read once.
    ///
    /// # Errors
    /// A data file is broken; a test keeps them sound.
    ///
    /// ```
    /// let book = trials::scales::ScaleBook::builtin()?;
    /// assert!(book.scales().iter().all(|scale| scale.question.ends_with('?')));
    /// # Ok::<(), trials::causes::DataError>(())
    /// ```
    pub fn builtin() -> Result<&'static Self, DataError> {
        static ONCE: OnceLock<Result<ScaleBook, DataError>> = OnceLock::new();
        ONCE.get_or_init(|| {
            Self::parse(
                include_str!("../../data/scales.csv"),
                include_str!("../../data/classes.csv"),
                include_str!("../../data/cuts.csv"),
                include_str!("../../data/cylinders.csv"),
            )
        })
        .as_ref()
        .map_err(Clone::clone)
    }

    fn parse(scales: &str, classes: &str, cuts: &str, cylinders: &str) -> Result<Self, DataError> {
        let mut book = Self { scales: Vec::new(), cuts: Vec::new(), cylinders: Vec::new() };
        for row in rows("scales.csv", scales) {
            let row = row?;
            let scale = read_scale(&row)?;
            if book.scale(&scale.id).is_some() {
                return Err(row.wrong("this scale stands twice"));
            }
            book.scales.push(scale);
        }
        for row in rows("classes.csv", classes) {
            let row = row?;
            let (id, class) = (ScaleId::new(row.filled(0)?), read_class(&row)?);
            let scale = book.scales.iter_mut().find(|scale| scale.id == id).ok_or_else(|| row.wrong("no such scale"))?;
            if !(scale.low..=scale.high).contains(&class.value) {
                return Err(row.wrong("the class lies outside its scale"));
            }
            scale.classes.push(class);
        }
        for row in rows("cuts.csv", cuts) {
            let row = row?;
            let cut = read_cut(&row)?;
            book.scale(&cut.scale).ok_or_else(|| row.wrong("no such scale"))?;
            book.cuts.push(cut);
        }
        for row in rows("cylinders.csv", cylinders) {
            let row = row?;
            book.cylinders.push(Cylinder {
                standard: either(&row, 0, "standard", "household")?,
                name: row.filled(1)?.to_owned(),
                diameter: Micrometres::new(figure(&row, 2)? * 1000.0),
                source: row.filled(3)?.to_owned(),
            });
        }
        book.check_beside()?;
        Ok(book)
    }

    fn check_beside(&self) -> Result<(), DataError> {
        for (scale, line) in self.scales.iter().zip(2..) {
            if let Some(lost) = scale.beside.iter().find(|id| self.scale(id).is_none()) {
                return Err(DataError { file: "scales.csv", line, what: format!("no scale `{}` to stand beside", lost.as_str()) });
            }
        }
        Ok(())
    }
}

fn figure(row: &Row, column: usize) -> Result<f64, DataError> {
    number(row.filled(column)?).ok_or_else(|| row.wrong(&format!("column {} is no number", column + 1)))
}

fn figure_if_any(row: &Row, column: usize) -> Result<Option<f64>, DataError> {
    if row.at(column)?.is_empty() { Ok(None) } else { figure(row, column).map(Some) }
}

/// Whether the cell holds the first of two words.
fn either(row: &Row, column: usize, yes: &str, no: &str) -> Result<bool, DataError> {
    match row.filled(column)? {
        word if word == yes => Ok(true),
        word if word == no => Ok(false),
        other => Err(row.wrong(&format!("`{other}` is neither {yes} nor {no}"))),
    }
}

fn word<T>(row: &Row, column: usize, read: impl Fn(&str) -> Option<T>) -> Result<T, DataError> {
    let text = row.filled(column)?;
    read(text).ok_or_else(|| row.wrong(&format!("`{text}` is no word for column {}", column + 1)))
}

fn read_scale(row: &Row) -> Result<Scale, DataError> {
    let kind = word(row, 3, Kind::from_word)?;
    // Yes and no have no other word for none; a scale of yes and no reads "none" as no.
    let none = if kind == Kind::YesNo {
        Some(ReadingValue::No)
    } else {
        ReadingValue::from_cell(row.at(9)?, kind).map_err(|e| row.wrong(&e.to_string()))?
    };
    let limits = match row.at(10)? {
        "" => None,
        _ => Some((word(row, 10, LimitRule::from_word)?, row.filled(11)?.to_owned())),
    };
    Ok(Scale {
        id: ScaleId::new(row.filled(0)?),
        name: row.filled(1)?.to_owned(),
        question: row.filled(2)?.to_owned(),
        kind,
        unit: row.at(4)?.to_owned(),
        better: word(row, 5, Better::from_word)?,
        low: figure(row, 6)?,
        high: figure(row, 7)?,
        step: figure_if_any(row, 8)?,
        none,
        limits,
        beside: row.at(12)?.split('|').filter(|id| !id.is_empty()).map(ScaleId::new).collect(),
        how: row.filled(13)?.to_owned(),
        spoils: either(row, 14, "yes", "no")?,
        rank: word(row, 15, Rank::from_word)?,
        scope: row.at(16)?.to_owned(),
        source: row.filled(17)?.to_owned(),
        classes: Vec::new(),
    })
}

fn read_class(row: &Row) -> Result<Class, DataError> {
    Ok(Class {
        value: figure(row, 1)?,
        mark: row.at(2)?.to_owned(),
        limit: figure_if_any(row, 3)?,
        look: row.filled(4)?.to_owned(),
        source: row.filled(5)?.to_owned(),
    })
}

fn read_cut(row: &Row) -> Result<Cut, DataError> {
    let board = match row.filled(4)? {
        "hard" => Some(BoardFeel::Hard),
        "soft" => Some(BoardFeel::Soft),
        "any" => None,
        other => return Err(row.wrong(&format!("`{other}` is no board; use hard, soft or any"))),
    };
    Ok(Cut {
        standard: row.filled(0)?.to_owned(),
        scale: ScaleId::new(row.filled(1)?),
        above: Micrometres::new(figure(row, 2)?),
        up_to: figure_if_any(row, 3)?.map(Micrometres::new),
        board,
        spacing: figure_if_any(row, 5)?.map(|mm| Micrometres::new(mm * 1000.0)),
        source: row.filled(6)?.to_owned(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn scale(id: &str) -> &'static Scale {
        ScaleBook::builtin().unwrap().scale(&ScaleId::new(id)).unwrap()
    }

    #[test]
    fn every_scale_is_whole() {
        for scale in ScaleBook::builtin().unwrap().scales() {
            let id = scale.id.as_str();
            assert!(scale.low < scale.high && !scale.how.is_empty(), "{id}");
            assert_eq!(scale.limits.is_some(), scale.classes.iter().any(|class| class.limit.is_some()), "{id}");
            if scale.kind == Kind::Class {
                let mut values: Vec<f64> = scale.classes.iter().map(|class| class.value).collect();
                values.sort_by(f64::total_cmp);
                let wanted: Vec<f64> = (0..values.len()).map(|n| n as f64).collect();
                assert_eq!(values, wanted, "{id}: a class for each number");
                assert!((scale.high - wanted.last().unwrap()).abs() < 1e-9, "{id}");
            }
        }
    }

    #[test]
    fn what_spoils_comes_after_what_does_not() {
        // Looking and drops leave the place as it was; pencils, cuts and bending never do.
        for scale in ScaleBook::builtin().unwrap().scales() {
            match scale.rank {
                Rank::Look => assert!(!scale.spoils),
                Rank::Pencil | Rank::Cut | Rank::Bend => assert!(scale.spoils),
                Rank::Drop | Rank::Rub => {}
            }
        }
    }

    #[test]
    fn squares_lost_find_their_class() {
        // ISO 2409 and ASTM D3359 B as reprinted: 25 squares, one is 4 %; "not appreciably over" keeps the edge in the lower class.
        let cut = scale("cross_cut");
        for (lost, class, mark) in
            [(1.0, 1.0, "4B"), (2.0, 2.0, "3B"), (4.0, 3.0, "2B"), (9.0, 4.0, "1B"), (16.0, 4.0, "1B"), (17.0, 5.0, "0B")]
        {
            let found = cut.class_of(lost * 4.0).unwrap();
            assert_eq!((found.value, found.mark.as_str()), (class, mark), "{lost}");
        }
        for (percent, class) in [(0.0, 0.0), (5.0, 1.0), (15.0, 2.0), (35.0, 3.0), (65.0, 4.0), (65.1, 5.0), (100.0, 5.0)] {
            assert_eq!(cut.class_of(percent).map(|class| class.value), Some(class), "{percent}");
        }
        assert!(cut.class_of(f64::NAN).is_none() && cut.class_of(-1.0).is_none());
        assert!(scale("finger_rub").class_of(1.0).is_none());
    }

    #[test]
    fn areas_and_widths_find_their_class() {
        // ISO 4628-5 areas, from memory.
        for (percent, class) in [(0.0, 0.0), (0.1, 1.0), (0.3, 2.0), (1.0, 3.0), (3.0, 4.0), (15.0, 5.0), (90.0, 5.0), (0.000_1, 1.0)] {
            assert_eq!(scale("flaking").class_of(percent).map(|class| class.value), Some(class), "{percent}");
        }
        // By hand: the border between 3 and 15 is the square root of 45, 6.708.
        assert_eq!((scale("flaking").class_of(6.70).unwrap().value, scale("flaking").class_of(6.72).unwrap().value), (4.0, 5.0));
        for (mm, class) in [(0.04, 1.0), (0.05, 2.0), (0.149, 2.0), (0.15, 3.0), (0.5, 4.0), (1.0, 5.0)] {
            assert_eq!(scale("crack_width").class_of(mm).map(|class| class.value), Some(class), "{mm}");
        }
        for (mm, class) in [(1.0, 1.0), (3.0, 2.0), (10.0, 3.0), (30.0, 4.0), (31.0, 5.0)] {
            assert_eq!(scale("flake_size").class_of(mm).map(|class| class.value), Some(class), "{mm}");
        }
    }

    #[test]
    fn pencils_stand_in_their_order() {
        // ISO 15184 and ASTM D3363: 9B softest, 9H hardest, HB tenth.
        let grade = |mark: &str| scale("pencil").classes.iter().find(|class| class.mark == mark).unwrap().value;
        assert_eq!((grade("9B"), grade("HB"), grade("F"), grade("H"), grade("9H")), (1.0, 10.0, 11.0, 12.0, 20.0));
    }

    const HEAD: &str = "id,name,question,kind,unit,better,low,high,step,none,limit_rule,limit_unit,beside,how,spoils,rank,scope,source\n";
    const CLASS: &str = "scale,value,mark,limit,look,source\n";

    fn said(scales: &str, classes: &str) -> String {
        let cuts = "standard,scale,above_um,up_to_um,board,spacing_mm,source\n";
        let cylinders = "set,name,diameter_mm,source\n";
        ScaleBook::parse(&format!("{HEAD}{scales}"), &format!("{CLASS}{classes}"), cuts, cylinders).unwrap_err().to_string()
    }

    #[test]
    fn a_broken_line_is_named() {
        let good = "salt,salt,Is there salt?,class_0_5,,smaller,0,5,0.5,0,,,,look,no,look,,invented";
        for (scales, classes, words) in [
            (good.replace("class_0_5", "grade"), "", "scales.csv, line 2: `grade`"),
            (good.replace(",0,5,", ",low,5,"), "", "column 7 is no number"),
            (good.replace(",look,no,", ",look,maybe,"), "", "neither yes nor no"),
            (good.replace("0,,,,look", "0,,,tar,look"), "", "no scale `tar`"),
            (format!("{good}\n{good}"), "", "line 3: this scale stands twice"),
            (good.to_owned(), "pepper,1,,,little,invented\n", "classes.csv, line 2: no such scale"),
            (good.to_owned(), "salt,6,,,much,invented\n", "outside its scale"),
            (good.to_owned(), "salt,1,,some,much,invented\n", "column 4 is no number"),
        ] {
            let said = said(&scales, classes);
            assert!(said.contains(words), "{said}");
        }
    }
}
