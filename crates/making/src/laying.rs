//! What laying coats takes: wet mass, loss, how even, how much table; from `data/laying.csv`, and from the pot's own figures.

use std::sync::OnceLock;

use measure::{GramsPerSquareMetre, Share, SquareMetres};

use crate::PotBook;
use crate::rows::{RowsError, rows};

const FILE: &str = "laying.csv";

/// Usual figures of laying coats; each is common practice or judgement, as its row says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Laying {
    /// Wet mass of one brushed coat.
    pub coat: GramsPerSquareMetre,
    /// How far a coat may lie beside its aim, as a share of it.
    pub tolerance: Share,
    /// What stays in brush and pot, as a share of what is laid.
    pub loss: Share,
    /// Free room on the table beside each board, millimetres.
    pub gap_mm: f64,
}

impl Laying {
    /// The figures that the program carries, read once.
    ///
    /// # Errors
    /// A data file is broken; a test keeps them sound.
    ///
    /// ```
    /// let usual = making::Laying::builtin()?;
    /// assert_eq!((usual.coat.value(), usual.loss.value()), (200.0, 0.2));
    /// # Ok::<(), making::RowsError>(())
    /// ```
    pub fn builtin() -> Result<&'static Self, RowsError> {
        static ONCE: OnceLock<Result<Laying, RowsError>> = OnceLock::new();
        ONCE.get_or_init(|| read(include_str!("../data/laying.csv"))).as_ref().map_err(Clone::clone)
    }

    /// Table that so many boards want, lying side by side with room between them.
    ///
    /// ```
    /// let usual = making::Laying::builtin()?;
    /// // Twelve boards of 20 x 25 cm with 5 cm of room: 12 x 0.25 m x 0.30 m = 0.9 m2, by hand.
    /// assert!((usual.table(12, 200.0, 250.0).value() - 0.9).abs() < 1e-9);
    /// # Ok::<(), making::RowsError>(())
    /// ```
    pub fn table(&self, boards: u32, width_mm: f64, height_mm: f64) -> SquareMetres {
        SquareMetres::new(f64::from(boards) * (width_mm + self.gap_mm) * (height_mm + self.gap_mm) / 1e6)
    }
}

fn read(text: &str) -> Result<Laying, RowsError> {
    let mut found = Vec::new();
    for (line, [key, _, value, _, _, _, source]) in rows(FILE, text, ["key", "plain", "value", "low", "high", "unit", "source"])? {
        let value = value.parse().ok().filter(|value: &f64| value.is_finite() && *value > 0.0 && !source.is_empty());
        let value =
            value.ok_or_else(|| RowsError { file: FILE, line, what: "a value must be a number above zero and have a source".into() })?;
        found.push((key, value));
    }
    let of = |key: &str| {
        let value = found.iter().find(|(name, _)| name == key).map(|(_, value)| *value);
        value.ok_or_else(|| RowsError { file: FILE, line: 0, what: format!("{key} is missing") })
    };
    let target = PotBook::builtin()?.coat_target();
    Ok(Laying { coat: target.per_area, tolerance: target.tolerance, loss: Share::new(of("loss")?), gap_mm: of("gap")? })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_broken_row_names_its_line() {
        let head = "key,plain,value,low,high,unit,source\n";
        let told = |row: &str| read(&format!("{head}{row}")).unwrap_err();
        assert_eq!(told("loss,x,much,,,-,me\n").line, 2);
        assert_eq!(told("loss,x,0.2,,,-,\n").line, 2);
        assert!(told("loss,x,0.2,,,-,me\n").what.contains("gap"));
    }
}
