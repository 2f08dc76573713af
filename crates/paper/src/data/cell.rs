//! What may stand in a cell.

use std::borrow::Cow;

use crate::calendar::is_day;

/// What a column holds.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Sort {
    /// Free text, kept from being taken for a formula.
    Text,
    /// A number with a point, in these limits.
    Number { least: Option<f64>, most: Option<f64> },
    /// A whole number from 0.
    Whole,
    /// A day as `2026-11-25`.
    Day,
    /// One word of a list.
    Word(Vec<String>),
    /// `yes` or `no`.
    YesNo,
    /// A reading: `2.5`, `>600`, `<0.05`, `3..7`.
    Reading,
}

/// The form of a reading, as Table Schema wants patterns: the whole cell, without anchors.
pub(super) const READING: &str = r"([<>]?-?[0-9]+(\.[0-9]+)?|-?[0-9]+(\.[0-9]+)?\.\.-?[0-9]+(\.[0-9]+)?)";

impl Sort {
    /// The cell as it is written, or what is wrong with it. An empty cell is always a missing one.
    pub(super) fn write<'a>(&self, cell: &'a str) -> Result<Cow<'a, str>, &'static str> {
        if cell.is_empty() {
            return Ok(Cow::Borrowed(cell));
        }
        let held = |holds: bool, what: &'static str| if holds { Ok(Cow::Borrowed(cell)) } else { Err(what) };
        match self {
            Self::Text => Ok(guarded(cell)),
            Self::Number { least, most } => {
                let value = number(cell).ok_or("is no number; write figures with a point, such as 2.5")?;
                let inside = least.is_none_or(|least| value >= least) && most.is_none_or(|most| value <= most);
                held(inside, "is outside what can be; check the amount and its unit")
            }
            Self::Whole => held(
                cell.bytes().all(|byte| byte.is_ascii_digit()) && number(cell).is_some_and(|value| value < 1e9),
                "is no whole number; write figures, such as 3",
            ),
            Self::Day => held(day(cell), "is no day; write it as 2026-11-25"),
            Self::Word(words) => held(words.iter().any(|word| word == cell), "is not in the list of this column"),
            Self::YesNo => held(cell == "yes" || cell == "no", "is neither yes nor no"),
            Self::Reading => held(reading(cell), "is no reading; write 2.5, >600, <0.05 or 3..7"),
        }
    }
}

/// Free text that no spreadsheet takes for a formula.
pub(super) fn guarded(text: &str) -> Cow<'_, str> {
    // The wide forms count as their narrow ones in some spreadsheets.
    const STARTS: [char; 9] = ['=', '+', '-', '@', '\'', '＝', '＋', '－', '＠'];
    if text.starts_with(char::is_whitespace) || text.starts_with(char::is_control) || text.starts_with(STARTS) {
        Cow::Owned(format!("'{text}"))
    } else {
        Cow::Borrowed(text)
    }
}

fn number(cell: &str) -> Option<f64> {
    let digits = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    let unsigned = cell.strip_prefix('-').unwrap_or(cell);
    let sound = match unsigned.split_once('.') {
        Some((whole, part)) => digits(whole) && digits(part),
        None => digits(unsigned),
    };
    if sound { cell.parse::<f64>().ok().filter(|value| value.is_finite()) } else { None }
}

fn reading(cell: &str) -> bool {
    match cell.split_once("..") {
        Some((low, high)) => number(low).zip(number(high)).is_some_and(|(low, high)| low < high),
        None => number(cell.strip_prefix(['<', '>']).unwrap_or(cell)).is_some(),
    }
}

pub(super) fn day(cell: &str) -> bool {
    let digits = |part: &&str, count: usize| part.len() == count && part.bytes().all(|byte| byte.is_ascii_digit());
    let parts: Vec<&str> = cell.split('-').collect();
    let [year, month, day] = parts.as_slice() else {
        return false;
    };
    if !digits(year, 4) || !digits(month, 2) || !digits(day, 2) {
        return false;
    }
    let (Ok(year), Ok(month), Ok(day)) = (year.parse(), month.parse(), day.parse()) else {
        return false;
    };
    is_day((year, month, day))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn formulas_become_text() {
        for text in ["=1+1", "+1", "-2", "@sum", "'tis", "\t=1", " =1", "\r=1", "＝1"] {
            assert_eq!(guarded(text), format!("'{text}"));
        }
        assert_eq!((guarded("7 - 2 = 5"), guarded("")), (Cow::Borrowed("7 - 2 = 5"), Cow::Borrowed("")));
    }

    #[test]
    fn cells_are_checked_where_they_are_no_text() {
        let number = Sort::Number { least: Some(0.0), most: Some(100.0) };
        assert!(number.write("-1").is_err() && number.write("101").is_err() && number.write("1e1").is_err() && number.write("=1").is_err());
        assert!(number.write("2.5").is_ok() && number.write("").is_ok());
        assert!(Sort::Whole.write("3.0").is_err() && Sort::Whole.write("-3").is_err() && Sort::Whole.write("03").is_ok());
        assert!(Sort::Day.write("2026-02-29").is_err() && Sort::Day.write("25.11.2026").is_err() && Sort::Day.write("2024-02-29").is_ok());
        for cell in ["=1", ">>1", "7..3", "3..3", "1..2..3", "-", "+5", ">", "NaN"] {
            assert!(Sort::Reading.write(cell).is_err(), "{cell}");
        }
        for cell in ["2.5", ">600", "<0.05", "3..7", "-1..2"] {
            assert!(Sort::Reading.write(cell).is_ok(), "{cell}");
        }
    }

    proptest! {
        #[test]
        fn one_apostrophe_off_brings_the_text_back(text in "(?s).{0,40}") {
            let cell = guarded(&text);
            prop_assert_eq!(cell.strip_prefix('\'').unwrap_or(&cell), text.as_str());
            prop_assert!(!cell.starts_with(['=', '+', '-', '@', '\t', '\r']));
        }
    }
}
