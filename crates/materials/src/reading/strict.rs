//! Recipe text by the rules: one ingredient a line, `AMOUNT UNIT MATERIAL [STATE] [# note]`. Parts are by volume, or by weight where
//! `parts by weight` is written; beside measured lines one line must say how big a part is: `1 part = 100 ml`.

use measure::Units;

use super::lexicon::Lexicon;
use super::model::{Amount, Fill, LineError, NotGiven, PartBasis, Pick, Piece, QuestionId, Reading, Wishes};
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
    let mut anchor: Option<Amount> = None;
    // The anchor line is no ingredient: blanked out, so that every other word keeps its place.
    let mut ingredients = String::with_capacity(text.len());
    for (index, whole) in text.split_inclusive('\n').enumerate() {
        let told = whole.split('#').next().unwrap_or("").trim();
        if let Some(size) = told.strip_prefix("1 part").and_then(|rest| rest.trim_start().strip_prefix('=')) {
            ingredients.extend(whole.bytes().map(|byte| if byte == b'\n' { '\n' } else { ' ' }));
            match size_of_part(&read_with(jars, units, lexicon, &format!("{size} water"), &wishes)) {
                Some(amount) if anchor.is_none() => anchor = Some(amount),
                Some(_) => errors.push(LineError { line: index + 1, what: "the size of a part was said before; say it once".to_owned() }),
                None => errors
                    .push(LineError { line: index + 1, what: format!("`{told}` is no size; write `1 part = 100 ml` or `1 part = 100 g`") }),
            }
            continue;
        }
        ingredients.push_str(whole);
        if told.is_empty() {
            continue;
        }
        match check(&read_with(jars, units, lexicon, told, &wishes), told) {
            Ok(true) => parts.push(index + 1),
            Ok(false) => measured += 1,
            Err(what) => errors.push(LineError { line: index + 1, what }),
        }
    }
    if let (Some(line), true, None) = (parts.first(), measured > 0, &anchor) {
        errors.push(LineError {
            line: *line,
            what:
                "parts stand among measured lines; say how big a part is on a line of its own, `1 part = 100 ml`, or use parts everywhere"
                    .to_owned(),
        });
    }
    if !errors.is_empty() {
        return Err(errors);
    }
    // By the rules a per cent is of the whole pot.
    let of_whole = Wishes::from([(QuestionId(SHARE_QUESTION.to_owned()), "whole".to_owned())]);
    let mut reading = read_with(jars, units, lexicon, &ingredients, &of_whole);
    settle_parts(&mut reading, anchor.as_ref());
    Ok(reading)
}

/// `100 ml` or `100 g`, read with some liquid behind it.
fn size_of_part(reading: &Reading) -> Option<Amount> {
    match reading.lines.as_slice() {
        [line] => match &line.amount {
            amount @ (Amount::Mass { .. } | Amount::Volume { .. }) => Some(amount.clone()),
            _ => None,
        },
        _ => None,
    }
}

/// By the rules a part is by volume unless `parts by weight` is written; with an anchor it has a size.
fn settle_parts(reading: &mut Reading, anchor: Option<&Amount>) {
    for line in &mut reading.lines {
        let Amount::Parts { number, basis } = &mut line.amount else { continue };
        if basis.candidates.len() > 1 {
            *basis = Pick::sure(PartBasis::Volume);
        }
        let sized = match (anchor, basis.first()) {
            (Some(Amount::Volume { number: size, unit, .. }), Some(PartBasis::Volume)) => {
                Some(Amount::Volume { number: number.times(size.middle()), unit: unit.clone(), fill: Fill::Level })
            }
            (Some(Amount::Mass { number: size, unit }), Some(PartBasis::Weight)) => {
                Some(Amount::Mass { number: number.times(size.middle()), unit: unit.clone() })
            }
            _ => None,
        };
        if let Some(sized) = sized {
            line.amount = sized;
        }
    }
    let settled = |id: &QuestionId| id.0 == PARTS_QUESTION || id.0 == SHARE_QUESTION;
    reading.questions.retain(|question| !settled(&question.id));
    for piece in &mut reading.pieces {
        if let Piece::Chip(chip) = piece {
            chip.questions.retain(|id| !settled(id));
        }
    }
}

/// The questions that told text raises and recipe text does not.
const PARTS_QUESTION: &str = "parts:basis";
const SHARE_QUESTION: &str = super::shares::QUESTION;

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

#[cfg(test)]
mod tests {
    use super::*;

    fn strictly(text: &str) -> Result<Reading, Vec<LineError>> {
        read_strict(Catalogue::builtin().unwrap(), &Units::builtin().unwrap(), text)
    }

    #[test]
    fn parts_are_by_volume_and_raise_no_question() {
        let reading = strictly("1 part hide glue\n10 parts water\n").unwrap();
        assert!(reading.questions.iter().all(|question| question.id.0 != PARTS_QUESTION));
        assert!(
            reading
                .lines
                .iter()
                .all(|line| matches!(&line.amount, Amount::Parts { basis, .. } if basis.candidates == [(PartBasis::Volume, 1.0)]))
        );
    }

    #[test]
    fn a_per_cent_is_of_the_whole_pot() {
        let reading = strictly("300 g chalk\n15 % titanium white\n").unwrap();
        assert!(matches!(reading.lines[1].amount, Amount::PercentOfWhole { .. }), "{:?}", reading.lines);
        assert!(reading.questions.iter().all(|question| question.id.0 != SHARE_QUESTION));
    }

    #[test]
    fn an_anchor_gives_parts_a_size() {
        let reading = strictly("20 g hide glue\n1 part = 150 ml # my tea cup\n2 parts chalk\n").unwrap();
        let [_, chalk] = reading.lines.as_slice() else { panic!("{:?}", reading.lines) };
        assert!(matches!(&chalk.amount, Amount::Volume { number, .. } if (number.low - 300.0).abs() < 1e-9), "{:?}", chalk.amount);
    }

    #[test]
    fn parts_among_measured_lines_need_an_anchor() {
        let said = strictly("20 g hide glue\n2 parts chalk\n").unwrap_err()[0].to_string();
        assert!(said.starts_with("line 2: ") && said.contains("1 part = 100 ml"), "{said}");
        assert!(strictly("1 part = some\n2 parts chalk\n").is_err());
        assert!(strictly("1 part = 1 ml\n1 part = 2 ml\n2 parts chalk\n").is_err());
    }
}
