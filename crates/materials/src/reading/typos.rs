//! Misspelt names and units led back to the word that was meant; always told to the painter as a guess.

use std::collections::HashMap;

use super::lexicon::{Lexicon, WordId, letters};
use super::tokens::{Kind, Mark, Token};

/// How many different unknown words are looked up in one text; beyond that they stay unknown, so that a large text of noise
/// costs no more than its length.
const MOST_WORDS: usize = 4_000;

/// Leads misspelt words back, on lines that hold a number or a material. Gives the word of each token and whether it was mended.
pub(super) fn mend(text: &str, tokens: &[Token], lexicon: &Lexicon) -> (Vec<WordId>, Vec<bool>) {
    let mut words: Vec<WordId> = tokens.iter().map(|token| if let Kind::Word(id) = token.kind { id } else { WordId::UNKNOWN }).collect();
    let mut mended = vec![false; tokens.len()];
    let mut mender: Option<Mender<'_>> = None;
    let mut start = 0;
    while start < tokens.len() {
        let end = tokens.iter().skip(start).position(|token| token.kind == Kind::Break).map_or(tokens.len(), |at| start + at);
        let line = tokens.get(start..end).unwrap_or(&[]);
        let of_use = line.iter().any(|token| match token.kind {
            Kind::Figure(_) | Kind::Fraction(_) => true,
            Kind::Word(id) => lexicon.number(id).is_some() || lexicon.next(0, id).is_some_and(|node| lexicon.senses(node).name.is_some()),
            _ => false,
        });
        for (at, token) in tokens.iter().enumerate().take(end).skip(start).filter(|_| of_use) {
            let (Kind::Word(WordId::UNKNOWN), Some(raw)) = (token.kind, text.get(token.from..token.to)) else { continue };
            let dotted = matches!(tokens.get(at + 1), Some(Token { kind: Kind::Mark(Mark::Stop), gap: false, .. }));
            let mender = mender.get_or_insert_with(|| Mender::new(lexicon));
            if let (Some(id), Some(word), Some(flag)) =
                (mender.mend(&super::fold::fold(raw), raw, dotted), words.get_mut(at), mended.get_mut(at))
            {
                *word = id;
                *flag = true;
            }
        }
        start = end + 1;
    }
    (words, mended)
}

/// Looks up misspelt words and remembers what it found.
pub(super) struct Mender<'a> {
    lexicon: &'a Lexicon,
    vocabulary: Vec<(WordId, &'a str, u32)>,
    seen: HashMap<String, Option<WordId>>,
}

impl<'a> Mender<'a> {
    pub(super) fn new(lexicon: &'a Lexicon) -> Self {
        Self { lexicon, vocabulary: lexicon.mendable().collect(), seen: HashMap::new() }
    }

    /// The word of a material or unit that `folded` (unknown as it stands) most likely is. `raw` is the word as written;
    /// `dotted` says that a full stop stands right behind it, as after a word cut short.
    pub(super) fn mend(&mut self, folded: &str, raw: &str, dotted: bool) -> Option<WordId> {
        if !folded.is_ascii() || folded.len() > 30 || folded.len() < 3 {
            return None;
        }
        let key = if dotted { format!("{folded}.") } else { folded.to_owned() };
        if let Some(found) = self.seen.get(&key) {
            return *found;
        }
        if self.seen.len() >= MOST_WORDS {
            return None;
        }
        let found =
            self.misread(folded, raw).or_else(|| if dotted { self.cut_short(folded) } else { None }).or_else(|| self.nearest(folded));
        self.seen.insert(key, found);
        found
    }

    /// Letters that scanners take for each other: capital I for l, rn for m, 0 for o.
    fn misread(&self, folded: &str, raw: &str) -> Option<WordId> {
        let as_l: String = raw.chars().map(|c| if c == 'I' { 'l' } else { c.to_ascii_lowercase() }).collect();
        [as_l, folded.replace("rn", "m"), folded.replace("vv", "w")]
            .iter()
            .filter(|guess| *guess != folded)
            .map(|guess| self.lexicon.exact(guess))
            .find(|id| id.is_known())
    }

    /// `whit.` for whiting, `gelat.` for gelatine.
    fn cut_short(&self, folded: &str) -> Option<WordId> {
        let meaning = |id: WordId| {
            let senses = self.lexicon.next(0, id).map(|node| self.lexicon.senses(node))?;
            self.lexicon.name(senses.name?)?.meanings.first().map(|(id, _)| id.clone())
        };
        let mut found: Option<WordId> = None;
        for (id, word, _) in &self.vocabulary {
            if !word.starts_with(folded) {
                continue;
            }
            let Some(means) = meaning(*id) else { continue };
            match found {
                Some(before) if meaning(before) != Some(means) => return None,
                Some(_) => {}
                None => found = Some(*id),
            }
        }
        found
    }

    fn nearest(&self, folded: &str) -> Option<WordId> {
        let bits = letters(folded);
        let mut best: Option<(usize, usize, &str, WordId)> = None;
        for (id, word, theirs) in &self.vocabulary {
            let longer = folded.len().max(word.len());
            let allowed = match longer {
                0..=3 => continue,
                4..=7 => 1,
                _ => 2,
            };
            if (bits ^ theirs).count_ones() as usize > 2 * allowed || folded.len().abs_diff(word.len()) > allowed {
                continue;
            }
            let first_differs = folded.bytes().next() != word.bytes().next();
            if first_differs && longer < 8 {
                continue;
            }
            let far = distance(folded.as_bytes(), word.as_bytes());
            let swapped_only = longer == 4 && !(far == 1 && bits == *theirs);
            if far > allowed || far == 0 || swapped_only || word.len() < 4 {
                continue;
            }
            let rank = (far, usize::from(first_differs) + folded.len().abs_diff(word.len()), *word, *id);
            if best.is_none_or(|other| (rank.0, rank.1, rank.2) < (other.0, other.1, other.2)) {
                best = Some(rank);
            }
        }
        best.map(|(.., id)| id)
    }
}

/// Edits between two words: a letter more, less, other, or two neighbours swapped (optimal string alignment).
fn distance(a: &[u8], b: &[u8]) -> usize {
    let mut before: Vec<usize> = vec![0; b.len() + 1];
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.iter().enumerate() {
        let mut row = Vec::with_capacity(b.len() + 1);
        row.push(i + 1);
        for (j, y) in b.iter().enumerate() {
            let at = |line: &[usize], k: usize| line.get(k).copied().unwrap_or(usize::MAX - 1);
            let mut least = (at(&last, j) + usize::from(x != y)).min(at(&last, j + 1) + 1).min(at(&row, j) + 1);
            let swapped =
                i > 0 && j > 0 && Some(x) == j.checked_sub(1).and_then(|k| b.get(k)) && i.checked_sub(1).and_then(|k| a.get(k)) == Some(y);
            if swapped {
                least = least.min(at(&before, j - 1) + 1);
            }
            row.push(least);
        }
        before = last;
        last = row;
    }
    last.last().copied().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reading::lexicon::tests::small;

    #[test]
    fn near_words_are_led_back() {
        let lexicon = small();
        let mut mender = Mender::new(&lexicon);
        let mut mend = |word: &str| mender.mend(&word.to_lowercase(), word, false).map(|id| lexicon.text(id).to_owned());
        for (wrong, right) in [
            ("whitting", "whiting"),
            ("rabit", "rabbit"),
            ("caesin", "casein"),
            ("watter", "water"),
            ("gIue", "glue"),
            ("chaIk", "chalk"),
            ("gleu", "glue"),
        ] {
            assert_eq!(mend(wrong).as_deref(), Some(right), "{wrong}");
        }
        for other in ["wintergreen", "xyz", "luck"] {
            assert_eq!(mend(other), None, "{other}");
        }
    }

    #[test]
    fn edits_are_counted() {
        // Textbook pairs for the edit distance with swaps.
        for (a, b, edits) in [("kitten", "sitting", 3), ("ca", "ac", 1), ("", "abc", 3), ("same", "same", 0)] {
            assert_eq!(distance(a.as_bytes(), b.as_bytes()), edits, "{a} {b}");
        }
    }
}
