//! What laying a coat takes: wet mass, loss, how even, how much table; from `data/laying.csv`.

use std::sync::OnceLock;

use materials::DataError;
use measure::{GramsPerSquareMetre, Share, SquareMetres};

/// Usual figures of laying coats; each is common practice or judgement, as its row says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Laying {
    /// Wet mass of one brushed coat.
    pub coat: GramsPerSquareMetre,
    /// What stays in brush and pot, as a share of what is laid.
    pub loss: Share,
    /// How far a coat's wet mass may lie off its aim, as a share of it.
    pub tolerance: Share,
    /// Free room on the table beside each board, millimetres.
    pub gap_mm: f64,
}

impl Laying {
    /// The figures that the program carries, read once.
    ///
    /// # Errors
    /// The data file is broken; a test keeps it sound.
    ///
    /// ```
    /// let usual = ground::Laying::builtin()?;
    /// assert_eq!((usual.coat.value(), usual.loss.value()), (200.0, 0.2));
    /// # Ok::<(), materials::DataError>(())
    /// ```
    pub fn builtin() -> Result<&'static Self, DataError> {
        static ONCE: OnceLock<Result<Laying, DataError>> = OnceLock::new();
        ONCE.get_or_init(|| read(include_str!("../data/laying.csv"))).as_ref().map_err(Clone::clone)
    }

    /// Table that so many boards want, lying side by side with room between them.
    ///
    /// ```
    /// let usual = ground::Laying::builtin()?;
    /// // Twelve boards of 20 x 25 cm with 5 cm of room: 12 x 0.25 m x 0.30 m = 0.9 m2, by hand.
    /// assert!((usual.table(12, 200.0, 250.0).value() - 0.9).abs() < 1e-9);
    /// # Ok::<(), materials::DataError>(())
    /// ```
    pub fn table(&self, boards: u32, width_mm: f64, height_mm: f64) -> SquareMetres {
        SquareMetres::new(f64::from(boards) * (width_mm + self.gap_mm) * (height_mm + self.gap_mm) / 1e6)
    }
}

fn read(text: &str) -> Result<Laying, DataError> {
    let wrong = |line: usize, what: String| DataError { file: "laying.csv", line, what };
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let mut rows = Vec::new();
    for (index, record) in reader.records().enumerate() {
        let record = record.map_err(|why| wrong(index + 2, why.to_string()))?;
        let field = |at: usize| record.get(at).unwrap_or("").to_owned();
        let value: f64 = field(2).parse().map_err(|_| wrong(index + 2, format!("`{}` is no number", field(2))))?;
        if !value.is_finite() || value <= 0.0 || field(6).is_empty() {
            return Err(wrong(index + 2, "a value must be above zero and have a source".into()));
        }
        rows.push((field(0), value));
    }
    let of = |key: &str| {
        rows.iter().find(|(name, _)| name == key).map(|(_, value)| *value).ok_or_else(|| wrong(1, format!("there is no row {key}")))
    };
    Ok(Laying {
        coat: GramsPerSquareMetre::new(of("coat.wet")?),
        loss: Share::new(of("coat.loss")?),
        tolerance: Share::new(of("coat.tolerance")?),
        gap_mm: of("board.gap")?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_broken_row_names_its_line() {
        let told = |text: &str| read(text).unwrap_err().to_string();
        assert!(told("key,plain,value,low,high,unit,source\ncoat.wet,x,much,,,g/m2,me\n").contains("much"));
        assert!(told("key,plain,value,low,high,unit,source\ncoat.wet,x,200,,,g/m2,me\n").contains("coat.loss"));
        assert!(told("key,plain,value,low,high,unit,source\ncoat.wet,x,200,,,g/m2,\n").contains("source"));
    }
}
