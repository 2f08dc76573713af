//! The one sentence at the head of the card.

use ground::{Word, binder_beside_usual, wanted};
use materials::{Amount, PartBasis};
use show::{capital, range, times};

use super::{Standing, Worked, said};
use crate::Workbench;

impl Workbench {
    pub(crate) fn sentence(&self, worked: &Worked) -> String {
        match &worked.standing {
            Standing::Word(words) => match words.second {
                None => one_word(words.first, worked),
                Some(_) => format!("{}: the amounts as told can't part the two yet.", capital(&said(words))),
            },
            Standing::NoWord(why) => format!("No word for this one: {why}."),
            Standing::NoFilm(why) => self.how_much(worked).unwrap_or_else(|| nothing(worked, why)),
        }
    }

    /// One amount is missing: how much would sit among the handbook grounds.
    fn how_much(&self, worked: &Worked) -> Option<String> {
        let wanted = wanted(self.jars, &worked.reading, &worked.mix)?;
        let material = self.jars.material(&wanted.material)?;
        let (low, high) = (wanted.low.value(), wanted.high.value());
        let in_parts = worked.reading.lines.iter().all(|line| matches!(line.amount, Amount::Parts { .. } | Amount::NotGiven(_)));
        let amount = if in_parts {
            // One part was counted as 100 g or 100 ml: the range goes back the same way, by volume where the parts are.
            let by_weight = worked
                .reading
                .lines
                .iter()
                .any(|line| matches!(&line.amount, Amount::Parts { basis, .. } if basis.first() == Some(&PartBasis::Weight)));
            let of_part = if by_weight { 100.0 } else { 100.0 * material.property("bulk_density").map_or(1.0, |loose| loose.value) };
            format!("{} parts {}", range(low / of_part, high / of_part), if by_weight { "by weight" } else { "by volume" })
        } else {
            format!("{}\u{a0}g", range(low, high))
        };
        Some(format!("How much {} was not told in figures: {amount} of it would sit among the handbook grounds.", material.name))
    }
}

fn one_word(word: Word, worked: &Worked) -> String {
    let factor = worked.ranges.as_ref().ok().and_then(|ranges| binder_beside_usual(&ranges.best));
    let beside = factor.map(times);
    match (word, beside) {
        (Word::Rich, Some(beside)) => format!("Rich in binder for this powder: {beside} the binder of the usual grounds."),
        (Word::Rich, None) => "Rich in binder for this powder.".into(),
        (Word::Usual, _) => "Usual: as much binder for this powder as the handbook grounds hold.".into(),
        (Word::Lean, Some(beside)) => {
            format!("Lean: {beside} the binder of the usual grounds, so it may rub off more easily than they do.")
        }
        (Word::Lean, None) => "Lean: little binder for this powder, so it may rub off more easily than the handbook grounds.".into(),
    }
}

fn nothing(worked: &Worked, why: &str) -> String {
    if worked.reading.lines.is_empty() {
        return "Nothing here reads as an ingredient yet: name a powder and a binder, each with an amount, such as \u{201c}250 g chalk, 14 g hide glue, 200 ml water\u{201d}.".into();
    }
    if why.ends_with('?') { format!("No verdict yet: {why}") } else { format!("No verdict yet: {why}.") }
}
