//! The language files: talk, number words, steering words, states, spoken names and measures.

use super::fold::fold;
use super::lexicon::{Lexicon, NumberKind, State, count};
use super::signals::Signals;
use crate::catalogue::MaterialId;

impl Lexicon {
    pub(super) fn add_talk(&mut self) {
        for line in include_str!("../../data/talk.txt").lines().map(str::trim).filter(|line| !line.is_empty() && !line.starts_with('#')) {
            self.phrase(line, false, |senses| senses.talk = true);
            if !line.contains(' ') {
                let id = self.intern(&fold(line));
                if let Some(word) = self.entry(id) {
                    word.talk = true;
                }
            }
        }
    }

    pub(super) fn add_numbers(&mut self) {
        for record in records(include_str!("../../data/number_words.csv")) {
            let (Some(text), Some(value), Some(kind)) = (record.get(0), record.get(1).and_then(|v| v.parse().ok()), record.get(2)) else {
                continue;
            };
            let kind = match kind {
                "small" => NumberKind::Small,
                "tens" => NumberKind::Tens,
                "hundred" => NumberKind::Hundred,
                "thousand" => NumberKind::Thousand,
                "joined" => NumberKind::Joined,
                "fraction" => NumberKind::Fraction,
                "article" => NumberKind::Article,
                "group" => NumberKind::Group,
                "point" => NumberKind::Point,
                "minus" => NumberKind::Minus,
                _ => NumberKind::Absurd,
            };
            let id = self.intern(&fold(text));
            if let Some(word) = self.entry(id) {
                word.number = word.number.or(Some((value, kind)));
            }
        }
    }

    pub(super) fn add_signals(&mut self) {
        for record in records(include_str!("../../data/signals.csv")) {
            let (Some(name), Some(value), Some(words)) = (record.get(0), record.get(1), record.get(2)) else { continue };
            let Some(mut signals) = Signals::named(name) else { continue };
            signals.value = value.parse().unwrap_or(0.0);
            for word in words.split('|') {
                self.phrase(word, false, |senses| senses.signals.join(signals));
            }
        }
    }

    pub(super) fn add_states(&mut self) {
        for record in records(include_str!("../../data/states.csv")) {
            let (Some(words), Some(materials), Some(sense)) = (record.get(0), record.get(1), record.get(2)) else { continue };
            for word in words.split('|') {
                // One state may stand in several rows (`dry`, `lean`): its materials add up.
                let fresh = count(self.states.len());
                let mut taken = fresh;
                self.phrase(word, false, |senses| taken = *senses.state.get_or_insert(fresh));
                let more = materials.split('|').filter(|id| !id.is_empty()).map(MaterialId::new);
                if let Some(state) = self.states.get_mut(taken as usize) {
                    state.materials.extend(more);
                    state.liquid |= sense == "liquid";
                    state.powder |= sense == "powder";
                } else {
                    self.states.push(State { materials: more.collect(), liquid: sense == "liquid", powder: sense == "powder" });
                }
            }
        }
    }

    /// Spoken forms that the table of names leaves out, each with the table's name for it.
    pub(super) fn add_spoken_names(&mut self) {
        for record in records(include_str!("../../data/spoken_names.csv")) {
            let known = record.get(1).and_then(|name| self.names.iter().position(|known| known.text == name)).map(count);
            if let (Some(word), Some(name)) = (record.get(0), known) {
                self.phrase(word, true, |senses| senses.name = senses.name.or(Some(name)));
            }
        }
    }

    /// Short and spoken forms that the table of units leaves out, each with the table's word for it.
    pub(super) fn add_spoken_units(&mut self) {
        for record in records(include_str!("../../data/spoken_units.csv")) {
            let (Some(word), Some(unit)) = (record.get(0), record.get(1).and_then(|unit| self.unit_word(unit))) else { continue };
            self.phrase(word, true, |senses| senses.unit = senses.unit.or(Some(unit)));
        }
    }
}

/// A name cut like the text is cut: at everything that is neither letter nor digit.
pub(super) fn words_of(text: &str) -> impl Iterator<Item = String> {
    text.split(|c: char| !c.is_alphanumeric() && !super::fold::is_invisible(c)).map(fold).filter(|word| !word.is_empty())
}

/// The ways of writing a name: with umlauts as they are or as two letters, in one word or several; and whether misspellings
/// should be led back to it.
pub(super) fn spellings(text: &str) -> Vec<(String, bool)> {
    let mut all = vec![(text.to_owned(), true)];
    if text.contains(['ä', 'ö', 'ü']) {
        all.push((text.replace('ä', "ae").replace('ö', "oe").replace('ü', "ue"), true));
    }
    let parts: Vec<String> = words_of(text).collect();
    if parts.len() > 1 && parts.iter().map(String::len).sum::<usize>() >= 8 {
        all.push((parts.concat(), false));
    }
    all
}

pub(super) fn records(text: &'static str) -> impl Iterator<Item = csv::StringRecord> {
    csv::Reader::from_reader(text.as_bytes()).into_records().filter_map(Result::ok)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_signal_in_the_file_is_known() {
        for record in records(include_str!("../../data/signals.csv")) {
            assert!(Signals::named(&record[0]).is_some(), "{}", &record[0]);
        }
    }

    #[test]
    fn talk_is_generous() {
        let words = include_str!("../../data/talk.txt").lines().filter(|line| !line.trim().is_empty()).count();
        assert!(words >= 1500, "{words}");
    }
}
