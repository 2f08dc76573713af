//! "15 % titanium white" among weighed powders: a share of the powder rather than of the whole pot.

use measure::UnitId;

use super::cover::{Label, Mark};
use super::drafts::Draft;
use super::model::{Amount, Line, Pick, Range};
use super::questions::{Asker, Candidate};
use super::recipe::Recipe;
use crate::catalogue::Kind;

/// The question what a per cent is of.
pub(super) const QUESTION: &str = "percent:of";

/// How likely a per cent of one powder among weighed ones is of the powder.
const OF_POWDER: f64 = 0.6;

/// Asks what such a per cent is of; of the powder, it becomes a weight.
pub(super) fn settle(told: &Recipe<'_>, drafts: &[Draft], lines: &mut [Line], asker: &mut Asker<'_>, marks: &mut [Mark]) {
    let grams = |unit: UnitId| told.units.get(unit).value;
    let is_powder =
        |line: &Line| line.material.first().and_then(|id| told.jars.material(id)).is_some_and(|material| material.kind == Kind::Filler);
    let share = |line: &Line| matches!(line.amount, Amount::PercentOfWhole { .. });
    // Shares of the pot stand together: once another stuff has its per cent, or a powder is not weighed, nothing is to ask.
    if lines.iter().any(|line| share(line) && !is_powder(line)) {
        return;
    }
    let mut powder = Range::one(0.0);
    for line in lines.iter().filter(|line| is_powder(line) && !share(line)) {
        let Amount::Mass { number, unit } = &line.amount else { return };
        let Some(size) = unit.first().copied().and_then(grams) else { return };
        powder = Range { low: powder.low + number.low * size, high: powder.high + number.high * size };
    }
    let Some(gram) = told.units.by_word(GRAM).first().map(|(id, _)| *id) else { return };
    if powder.low <= 0.0 {
        return;
    }
    for (at, (line, draft)) in lines.iter_mut().zip(drafts).enumerate() {
        let Amount::PercentOfWhole { number } = line.amount else { continue };
        let (first, end) = draft.amount_items.unwrap_or((draft.first, draft.end));
        let candidates = [("powder", "of the powder", OF_POWDER), ("whole", "of the whole pot", 1.0 - OF_POWDER)];
        let candidates = candidates
            .map(|(id, label, weight)| Candidate { value: id == "powder", weight, id: id.to_owned(), label: label.to_owned() })
            .into();
        let pick = asker.pick(QUESTION, "Of what is the per cent?", candidates, told.span(first, end));
        for mark in marks.iter_mut().filter(|mark| mark.label == Label::Amount(at)) {
            mark.questions.extend(pick.question.clone());
        }
        if pick.first() == Some(&true) {
            let weight = Range { low: powder.low * number.low / 100.0, high: powder.high * number.high / 100.0 };
            line.amount = Amount::Mass { number: weight, unit: Pick::sure(gram) };
            line.guessed.push("the per cent is taken of the weight of the other powders".to_owned());
        }
    }
}

/// The word for a gram.
const GRAM: &str = "g";
