//! What was read on a board, and how it stands in a table.

use super::model::Kind;
use super::number::number;

/// One reading in the unit of its scale. Numbers are finite, and `Between` has the smaller first.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ReadingValue {
    /// The number itself.
    Exact(f64),
    /// More than this; how much more was not seen, as when the watch was stopped.
    Above(f64),
    /// Less than this; how much less was not seen.
    Below(f64),
    /// It happened between two looks, or lies between two numbers.
    Between(f64, f64),
    /// It is so.
    Yes,
    /// It is not so.
    No,
}

/// A cell of a table that holds no reading.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("`{cell}` is no reading: write {right}, or leave the cell empty when there is none")]
pub struct ValueError {
    /// The cell, cut short.
    pub cell: String,
    /// What would be right.
    pub right: &'static str,
}

impl ReadingValue {
    /// Reads a cell of a table of readings; an empty cell is a missing reading.
    ///
    /// # Errors
    /// Neither empty nor one of the forms `2.5`, `>600`, `<0.05`, `3..7`; for yes and no: `1`, `0`, `yes`, `no`.
    ///
    /// ```
    /// use trials::scales::{Kind, ReadingValue};
    /// assert_eq!(ReadingValue::from_cell(">600", Kind::Time)?, Some(ReadingValue::Above(600.0)));
    /// assert_eq!(ReadingValue::from_cell("", Kind::Time)?, None);
    /// assert!(ReadingValue::from_cell("7..3", Kind::Time).is_err());
    /// # Ok::<(), trials::scales::ValueError>(())
    /// ```
    pub fn from_cell(cell: &str, kind: Kind) -> Result<Option<Self>, ValueError> {
        let cell = cell.trim();
        if cell.is_empty() {
            return Ok(None);
        }
        let yes_no = || match cell.to_lowercase().as_str() {
            "1" | "yes" => Some(Self::Yes),
            "0" | "no" => Some(Self::No),
            _ => None,
        };
        let found = if kind == Kind::YesNo { yes_no() } else { Self::from_number_cell(cell) };
        let right = if kind == Kind::YesNo { "`1` for yes or `0` for no" } else { "`2.5`, `>600`, `<0.05` or `3..7`" };
        found.map(Some).ok_or_else(|| ValueError { cell: cell.chars().take(40).collect(), right })
    }

    fn from_number_cell(cell: &str) -> Option<Self> {
        if let Some(rest) = cell.strip_prefix('>') {
            return number(rest.trim()).map(Self::Above);
        }
        if let Some(rest) = cell.strip_prefix('<') {
            return number(rest.trim()).map(Self::Below);
        }
        if let Some((low, high)) = cell.split_once("..") {
            return Self::between(number(low.trim())?, number(high.trim())?);
        }
        number(cell).map(Self::Exact)
    }

    /// Between two numbers; the same number twice is that number. `None` when they stand the wrong way round or are no numbers.
    pub fn between(low: f64, high: f64) -> Option<Self> {
        if !low.is_finite() || !high.is_finite() || low > high {
            return None;
        }
        Some(if low < high { Self::Between(low, high) } else { Self::Exact(low) })
    }

    /// The cell of a table: `2.5`, `>600`, `<0.05`, `3..7`; yes is `1` and no is `0`. A number that isn't finite is written as missing.
    pub fn to_cell(self) -> String {
        match self {
            Self::Exact(value) if value.is_finite() => format!("{}", value + 0.0),
            Self::Above(value) if value.is_finite() => format!(">{}", value + 0.0),
            Self::Below(value) if value.is_finite() => format!("<{}", value + 0.0),
            Self::Between(low, high) if low.is_finite() && high.is_finite() => format!("{}..{}", low + 0.0, high + 0.0),
            Self::Exact(_) | Self::Above(_) | Self::Below(_) | Self::Between(..) => String::new(),
            Self::Yes => "1".to_owned(),
            Self::No => "0".to_owned(),
        }
    }

    /// The least and the most that it can be; infinite where the reading leaves it open. Yes is 1, no is 0.
    pub fn range(self) -> (f64, f64) {
        match self {
            Self::Exact(value) => (value, value),
            Self::Above(value) => (value, f64::INFINITY),
            Self::Below(value) => (f64::NEG_INFINITY, value),
            Self::Between(low, high) => (low, high),
            Self::Yes => (1.0, 1.0),
            Self::No => (0.0, 0.0),
        }
    }
}

/// The middle of several readings on one board, such as three to five drops. Of an even number, half way between the two middle ones.
/// Readings that were stopped keep their meaning: the middle of 40, 90 and "over 600" is 90, of 40, "over 600" and "over 600" it is
/// "over 600". `None` for no reading, and where nothing at all can be said.
///
/// ```
/// use trials::scales::{ReadingValue::{Above, Exact}, median};
/// assert_eq!(median(&[Above(600.0), Exact(40.0), Exact(90.0)]), Some(Exact(90.0)));
/// assert_eq!(median(&[Above(600.0), Exact(40.0), Above(600.0)]), Some(Above(600.0)));
/// ```
pub fn median(readings: &[ReadingValue]) -> Option<ReadingValue> {
    // The middle grows with every reading, so its ends are the middles of the ends.
    let (lows, highs): (Vec<f64>, Vec<f64>) = readings.iter().map(|reading| reading.range()).unzip();
    let (low, high) = (middle(lows)?, middle(highs)?);
    match (low.is_finite(), high.is_finite()) {
        (true, true) => ReadingValue::between(low, high),
        (true, false) => Some(ReadingValue::Above(low)),
        (false, true) => Some(ReadingValue::Below(high)),
        (false, false) => None,
    }
}

fn middle(mut values: Vec<f64>) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    let upper = *values.get(values.len() / 2)?;
    let lower = if values.len().is_multiple_of(2) { *values.get(values.len() / 2 - 1)? } else { upper };
    // Two infinite ends of different sign leave nothing to halve.
    let halfway = if (lower - upper).abs() > 0.0 { f64::midpoint(lower, upper) } else { upper };
    (!halfway.is_nan()).then_some(halfway)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::ReadingValue::{Above, Below, Between, Exact, No, Yes};
    use super::*;

    #[test]
    fn cells_are_written_as_the_table_of_readings_wants_them() {
        for (value, cell) in [
            (Exact(2.5), "2.5"),
            (Above(600.0), ">600"),
            (Below(0.05), "<0.05"),
            (Between(3.0, 7.0), "3..7"),
            (Exact(-0.0), "0"),
            (Yes, "1"),
            (No, "0"),
            (Exact(f64::NAN), ""),
            (Above(f64::INFINITY), ""),
        ] {
            assert_eq!(value.to_cell(), cell);
        }
    }

    #[test]
    fn what_is_no_reading_is_refused_with_what_would_be_right() {
        for cell in ["3...7", "7..3", ">>6", "1e3", "NaN", "yes", "2,5", "..", ">"] {
            assert!(ReadingValue::from_cell(cell, Kind::Count).unwrap_err().to_string().contains("3..7"), "{cell}");
        }
        assert!(ReadingValue::from_cell("2", Kind::YesNo).unwrap_err().to_string().contains("`1` for yes"));
        assert_eq!(ReadingValue::from_cell(" 3..3 ", Kind::Count), Ok(Some(Exact(3.0))));
        assert_eq!(ReadingValue::from_cell("yes", Kind::YesNo), Ok(Some(Yes)));
    }

    #[test]
    fn the_middle_of_drops_by_hand() {
        assert_eq!(median(&[Exact(3.0), Exact(9.0), Exact(4.0), Exact(6.0)]), Some(Exact(5.0)));
        // Two of four were stopped: the middle lies above half way from 6 to 600.
        assert_eq!(median(&[Exact(4.0), Above(600.0), Exact(6.0), Above(600.0)]), Some(Above(303.0)));
        assert_eq!(median(&[Between(2.0, 4.0), Exact(3.0), Exact(9.0)]), Some(Between(3.0, 4.0)));
        assert_eq!(median(&[Below(1.0), Below(1.0), Exact(9.0)]), Some(Below(1.0)));
        assert_eq!(median(&[Below(1.0), Above(9.0)]), None);
        assert_eq!(median(&[]), None);
    }

    fn any_value() -> impl Strategy<Value = ReadingValue> {
        let finite = || prop::num::f64::NORMAL | prop::num::f64::SUBNORMAL | prop::num::f64::ZERO;
        prop_oneof![
            finite().prop_map(Exact),
            finite().prop_map(Above),
            finite().prop_map(Below),
            (finite(), finite()).prop_filter_map("apart", |(a, b)| ReadingValue::between(a.min(b), a.max(b))),
        ]
    }

    proptest! {
        #[test]
        fn a_reading_comes_back_from_its_cell(value in any_value()) {
            prop_assert_eq!(ReadingValue::from_cell(&value.to_cell(), Kind::Length), Ok(Some(value)));
        }

        #[test]
        fn no_cell_breaks_the_reader(cell in ".*") {
            for kind in [Kind::YesNo, Kind::Time] {
                let _ = ReadingValue::from_cell(&cell, kind);
            }
        }
    }
}
