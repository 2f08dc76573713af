//! All words that the reader knows: names of materials, units, steering words, number words, states, plain talk.

use std::collections::HashMap;

use measure::Units;

use super::hashing::QuickBuild;
use super::language::{spellings, words_of};
use super::signals::Signals;
use crate::catalogue::{Catalogue, MaterialId};

/// Number of a word in the lexicon.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(super) struct WordId(u32);

impl WordId {
    /// A word that stands nowhere.
    pub(super) const UNKNOWN: Self = Self(0);
    /// Whether the lexicon holds it.
    pub(super) const fn is_known(self) -> bool {
        self.0 != 0
    }
}

/// What a number word does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum NumberKind {
    Small,
    Tens,
    Hundred,
    Thousand,
    /// Written in one: `zweihundertfünfzig`.
    Joined,
    Fraction,
    Article,
    /// A dozen, a couple.
    Group,
    /// The decimal point, said aloud.
    Point,
    /// Infinity and the like.
    Absurd,
    Minus,
}

/// A state such as "slaked" and the materials that it points to.
#[derive(Debug, Clone)]
pub(super) struct State {
    /// Materials that it makes likely, best first.
    pub materials: Vec<MaterialId>,
    /// It says that the stuff is dissolved.
    pub liquid: bool,
    /// It says that the stuff is a dry powder.
    pub powder: bool,
}

/// A name of materials.
#[derive(Debug, Clone)]
pub(super) struct Name {
    /// As written in the data file.
    pub text: String,
    /// What it may mean, likeliest first.
    pub meanings: Vec<(MaterialId, f64)>,
}

impl Name {
    /// Stuff that people count: eggs, lemons.
    pub(super) fn is_counted(&self) -> bool {
        self.meanings.first().is_some_and(|(id, _)| COUNTED.contains(&id.as_str()))
    }
}

/// Materials that come in pieces.
pub(super) const COUNTED: [&str; 4] = ["egg", "egg-yolk", "egg-white", "lemon"];

/// What a run of words may be; at most one of each sort.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Senses {
    /// A name, by index.
    pub name: Option<u32>,
    /// A unit word, by index.
    pub unit: Option<u32>,
    /// A state, by index.
    pub state: Option<u32>,
    /// Steering meanings.
    pub signals: Signals,
    /// Plain talk.
    pub talk: bool,
}

#[derive(Debug)]
pub(super) struct Word {
    text: String,
    letters: u32,
    pub(super) number: Option<(f64, NumberKind)>,
    /// Part of a material's name or a unit, so that a misspelling may be led back to it.
    mendable: bool,
    pub(super) talk: bool,
}

/// Everything the reader knows; built once for each reading.
#[derive(Debug)]
pub(super) struct Lexicon {
    ids: HashMap<String, WordId, QuickBuild>,
    words: Vec<Word>,
    /// (node, word) to the next node of the phrase tree; node 0 is the root.
    edges: HashMap<(u32, WordId), u32, QuickBuild>,
    nodes: Vec<Senses>,
    pub(super) names: Vec<Name>,
    pub(super) units: Vec<String>,
    pub(super) states: Vec<State>,
    /// The singular of a word that is known in the plural as well.
    singulars: HashMap<WordId, WordId, QuickBuild>,
}

impl Lexicon {
    /// Gathers the words of these materials and units with those of the language files.
    pub(super) fn new(jars: &Catalogue, units: &Units) -> Self {
        let nobody = Word { text: String::new(), letters: 0, number: None, mendable: false, talk: false };
        let mut lexicon = Self {
            ids: HashMap::with_capacity_and_hasher(16_384, QuickBuild::default()),
            words: vec![nobody],
            edges: HashMap::with_capacity_and_hasher(16_384, QuickBuild::default()),
            nodes: vec![Senses::default()],
            names: Vec::new(),
            units: Vec::new(),
            states: Vec::new(),
            singulars: HashMap::default(),
        };
        lexicon.add_talk();
        lexicon.add_numbers();
        lexicon.add_signals();
        lexicon.add_states();
        // The tables behind are hash maps: sort, so that the same text is read in the same way every time.
        let mut names: Vec<_> = jars.names().collect();
        names.sort_by(|a, b| a.0.cmp(b.0));
        lexicon.names = names.into_iter().map(|(text, meanings)| Name { text: text.to_owned(), meanings: meanings.to_vec() }).collect();
        // Names as they stand come first: "tablespoon" is itself before it is "table spoon" in one word.
        for as_is in [true, false] {
            for at in 0..lexicon.names.len() {
                let index = count(at);
                for (spelling, mendable) in lexicon.names.get(at).map(|name| spellings(&name.text)).unwrap_or_default() {
                    if mendable == as_is {
                        lexicon.phrase(&spelling, mendable, |senses| senses.name = senses.name.or(Some(index)));
                    }
                }
            }
        }
        lexicon.add_spoken_names();
        let mut words: Vec<_> = units.words().collect();
        words.sort_unstable();
        for as_is in [true, false] {
            for (at, word) in words.iter().enumerate() {
                for (spelling, mendable) in spellings(word) {
                    if mendable == as_is {
                        lexicon.phrase(&spelling, mendable, |senses| senses.unit = senses.unit.or(Some(count(at))));
                    }
                }
            }
        }
        lexicon.units = words.into_iter().map(str::to_owned).collect();
        lexicon.add_spoken_units();
        lexicon.singulars = lexicon
            .words
            .iter()
            .filter(|word| !word.talk && word.text.len() > 3)
            .filter_map(|word| Some((lexicon.exact(&word.text), lexicon.exact(word.text.strip_suffix('s')?))))
            .filter(|(_, one)| one.is_known())
            .collect();
        lexicon
    }

    /// The index of a unit word.
    pub(super) fn unit_word(&self, text: &str) -> Option<u32> {
        self.units.iter().position(|known| known == text).map(count)
    }

    /// The entry of a word.
    pub(super) fn entry(&mut self, id: WordId) -> Option<&mut Word> {
        self.words.get_mut(id.0 as usize)
    }

    pub(super) fn intern(&mut self, folded: &str) -> WordId {
        if let Some(id) = self.ids.get(folded) {
            return *id;
        }
        let id = WordId(count(self.words.len()));
        self.words.push(Word { text: folded.to_owned(), letters: letters(folded), number: None, mendable: false, talk: false });
        self.ids.insert(folded.to_owned(), id);
        id
    }

    pub(super) fn phrase(&mut self, text: &str, mendable: bool, put: impl FnOnce(&mut Senses)) {
        let mut node = 0u32;
        for part in words_of(text) {
            let id = self.intern(&part);
            if let Some(word) = self.words.get_mut(id.0 as usize) {
                word.mendable |= mendable;
            }
            let fresh = count(self.nodes.len());
            node = *self.edges.entry((node, id)).or_insert(fresh);
            if node == fresh {
                self.nodes.push(Senses::default());
            }
        }
        if let (true, Some(senses)) = (node > 0, self.nodes.get_mut(node as usize)) {
            put(senses);
        }
    }

    /// The word exactly as folded.
    pub(super) fn exact(&self, folded: &str) -> WordId {
        self.ids.get(folded).copied().unwrap_or(WordId::UNKNOWN)
    }

    /// The word, or the word that it is a form of (plural, case ending).
    pub(super) fn word(&self, folded: &str) -> WordId {
        let id = self.exact(folded);
        if id.is_known() || folded.len() < 4 || folded.len() > 40 {
            return id;
        }
        for ending in ["s", "es", "n", "en", "e", "er"] {
            let shortest = if ending == "s" { 3 } else { 4 };
            if let Some(stem) = folded.strip_suffix(ending).filter(|stem| stem.len() >= shortest) {
                let id = self.exact(stem);
                if id.is_known() {
                    return id;
                }
            }
        }
        if let Some(stem) = folded.strip_suffix("ies") {
            let id = self.exact(&format!("{stem}y"));
            if id.is_known() {
                return id;
            }
        }
        self.form_of_talk(folded)
    }

    /// `stirring`, `stirred`, `slowly`: forms of a word of talk.
    fn form_of_talk(&self, folded: &str) -> WordId {
        for ending in ["ing", "ed", "d", "ly", "er", "est", "ish", "y", "ness"] {
            let Some(stem) = folded.strip_suffix(ending).filter(|stem| stem.len() >= 3) else { continue };
            let mut shorter = stem.chars();
            let doubled = match (shorter.next_back(), shorter.as_str().chars().next_back()) {
                (Some(last), Some(before)) if last == before => shorter.as_str(),
                _ => stem,
            };
            for candidate in [stem, doubled, &format!("{stem}e")] {
                let id = self.exact(candidate);
                if self.words.get(id.0 as usize).is_some_and(|word| word.talk) {
                    return id;
                }
            }
        }
        WordId::UNKNOWN
    }

    /// The next node of the phrase tree.
    pub(super) fn next(&self, node: u32, word: WordId) -> Option<u32> {
        self.edges.get(&(node, word)).copied()
    }

    /// The singular, where both are words of their own: "yolks" is a state, "yolk" a name.
    pub(super) fn singular(&self, word: WordId) -> Option<WordId> {
        self.singulars.get(&word).copied()
    }

    /// What the phrase that ends at a node may be.
    pub(super) fn senses(&self, node: u32) -> Senses {
        self.nodes.get(node as usize).copied().unwrap_or_default()
    }

    /// What a number word says.
    pub(super) fn number(&self, word: WordId) -> Option<(f64, NumberKind)> {
        self.words.get(word.0 as usize).and_then(|word| word.number)
    }

    /// A name by index.
    pub(super) fn name(&self, index: u32) -> Option<&Name> {
        self.names.get(index as usize)
    }

    /// A unit word by index.
    pub(super) fn unit(&self, index: u32) -> Option<&str> {
        self.units.get(index as usize).map(String::as_str)
    }

    /// A state by index.
    pub(super) fn state(&self, index: u32) -> Option<&State> {
        self.states.get(index as usize)
    }

    /// Words of names and units with their letters as bits, for mending misspellings.
    pub(super) fn mendable(&self) -> impl Iterator<Item = (WordId, &str, u32)> {
        self.words
            .iter()
            .enumerate()
            .filter(|(_, word)| word.mendable)
            .map(|(at, word)| (WordId(count(at)), word.text.as_str(), word.letters))
    }

    /// Whether the word is part of a material's name or of a unit.
    pub(super) fn is_stock(&self, word: WordId) -> bool {
        self.words.get(word.0 as usize).is_some_and(|word| word.mendable)
    }

    /// The text of a word.
    pub(super) fn text(&self, word: WordId) -> &str {
        self.words.get(word.0 as usize).map_or("", |word| word.text.as_str())
    }
}

/// The letters of a word as bits (a to z; others share the last bits).
pub(super) fn letters(word: &str) -> u32 {
    word.bytes().fold(0, |bits, b| bits | 1 << if b.is_ascii_lowercase() { b - b'a' } else { 26 + b % 6 })
}

/// Table positions as 32 bits; the tables hold a few thousand entries.
pub(super) fn count(at: usize) -> u32 {
    u32::try_from(at).unwrap_or(u32::MAX)
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;

    /// The lexicon of the real data files.
    pub(crate) fn small() -> Lexicon {
        Lexicon::new(Catalogue::builtin().unwrap(), &Units::builtin().unwrap())
    }

    #[test]
    fn forms_lead_to_their_word() {
        let lexicon = small();
        assert_eq!(lexicon.word("pumices"), lexicon.word("pumice"));
        assert_eq!(lexicon.word("clouding"), lexicon.word("cloud"));
        assert_eq!(lexicon.word("xyzzy"), WordId::UNKNOWN);
    }

    #[test]
    fn every_state_points_to_materials_that_exist() {
        let jars = Catalogue::builtin().unwrap();
        for state in small().states {
            for id in state.materials {
                assert!(jars.material(&id).is_some(), "{}", id.as_str());
            }
        }
    }
}
