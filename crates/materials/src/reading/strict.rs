//! Recipe text by the rules: one ingredient a line, `AMOUNT UNIT MATERIAL [STATE] [# note]`.

use measure::Units;

use super::lexicon::Lexicon;
use super::model::{Amount, LineError, NotGiven, Piece, Reading, Wishes};
use super::{read_with, usual};
use crate::catalogue::Catalogue;

/// Reads recipe text strictly.
///
/// # Errors
/// Every line that breaks the rules, with its number and how to mend it.
///
/// ```
/// use materials::{Catalogue, read_strict};
/// let (jars, units) = (Catalogue::builtin()?, measure::Units::builtin()?);
/// assert_eq!(read_strict(jars, &units, "250 g chalk\n0,05 kg hide glue # soaked\n").unwrap().lines.len(), 2);
/// let errors = read_strict(jars, &units, "250 g chalk\nsome water").unwrap_err();
/// assert!(errors[0].to_string().starts_with("line 2: "));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn read_strict(jars: &Catalogue, units: &Units, text: &str) -> Result<Reading, Vec<LineError>> {
    usual::with_lexicon(jars, units, |lexicon| strict(jars, units, lexicon, text))
}

fn strict(jars: &Catalogue, units: &Units, lexicon: &Lexicon, text: &str) -> Result<Reading, Vec<LineError>> {
    let wishes = Wishes::new();
    let mut errors = Vec::new();
    let mut parts: Vec<usize> = Vec::new();
    let mut measured = 0usize;
    for (index, line) in text.lines().enumerate() {
        let told = line.split('#').next().unwrap_or("").trim();
        if told.is_empty() {
            continue;
        }
        match check(&read_with(jars, units, lexicon, told, &wishes), told) {
            Ok(true) => parts.push(index + 1),
            Ok(false) => measured += 1,
            Err(what) => errors.push(LineError { line: index + 1, what }),
        }
    }
    // Parts and one measured line give the size of a part; parts among several measured lines can't be weighed against them.
    if let (Some(line), true) = (parts.first(), measured > 1) {
        errors.push(LineError {
            line: *line,
            what: "parts stand among several measured lines; use parts everywhere, with at most one measured line".to_owned(),
        });
    }
    if errors.is_empty() { Ok(read_with(jars, units, lexicon, text, &wishes)) } else { Err(errors) }
}

/// Whether a line keeps the rules; true if it counts parts.
fn check(reading: &Reading, told: &str) -> Result<bool, String> {
    let starts_with_amount = told.starts_with(|c: char| c.is_ascii_digit() || super::fold::fraction(c).is_some() || c == '.');
    if !starts_with_amount {
        return Err(format!("`{told}` does not begin with an amount; write amount, unit, material, such as `250 g chalk`"));
    }
    let line = match reading.lines.as_slice() {
        [line] => line,
        [] => return Err(no_line(reading, told)),
        [_, _, ..] => return Err(format!("`{told}` holds more than one ingredient; put each on a line of its own")),
    };
    if let Some(struck) = reading.struck().next() {
        return Err(format!("`{}` is not understood ({}); a remark goes behind a `#`", struck.span.of(told).trim(), struck.why));
    }
    if line.guessed.iter().any(|guess| guess.starts_with("read `")) {
        return Err(format!("a word of `{told}` is misspelt; write the name as the list of materials has it"));
    }
    match &line.amount {
        Amount::Parts { .. } => Ok(true),
        Amount::NotGiven(NotGiven::Absurd) => Err(format!("the amount in `{told}` can't be used; write a number above 0")),
        Amount::NotGiven(NotGiven::SizeUnknown) => {
            Err(format!("the measure in `{told}` has no known size; weigh it, or use cups, spoons, ml or g"))
        }
        Amount::NotGiven(_) => Err(format!("`{told}` has no amount; write one such as `250 g`")),
        Amount::Mass { .. } | Amount::Volume { .. } if line.guessed.iter().any(|guess| guess.starts_with("no unit")) => {
            Err(format!("`{told}` has no unit; write g, ml, cup, parts ... behind the number"))
        }
        _ => Ok(false),
    }
}

fn no_line(reading: &Reading, told: &str) -> String {
    let named = reading.pieces.iter().any(|piece| matches!(piece, Piece::Chip(_)));
    if named {
        format!("`{told}` has an amount but no material that is known; say which powder, binder or liquid it is")
    } else {
        format!("no material is known in `{told}`; write amount, unit, material, such as `250 g chalk`")
    }
}
