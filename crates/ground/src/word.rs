//! Rich, usual, lean: words anchored on handbook grounds that are known to work, not on a law.

use crate::change::powder_for;
use crate::film::Film;
use crate::ranges::FilmRanges;

/// Powder share over critical share below which a ground is called rich. Anchored on ten handbook grounds; known to 0.1 at best (model
/// choice, docs/methods).
pub const RICH_BELOW: f64 = 1.10;
/// Above which it is called lean. No failing recipe in print marks this edge (model choice, docs/methods).
pub const LEAN_ABOVE: f64 = 1.40;
/// The middle of *usual*, towards which changes are advised.
pub const USUAL_MIDDLE: f64 = 1.25;
/// How sharply the two edges are known: they are drawn as bands this wide.
pub const EDGE_WIDTH: f64 = 0.1;
/// A word stands alone when this share of the draws agrees (model choice).
pub const ALONE: f64 = 0.8;
/// Where a protein ground stands beside the handbook grounds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Word {
    /// Much binder for this powder.
    Rich,
    /// As the handbook grounds.
    Usual,
    /// Little binder for this powder.
    Lean,
}

impl Word {
    /// The word for this ratio of powder share to critical share.
    pub fn of(lambda: f64) -> Self {
        if lambda < RICH_BELOW {
            Self::Rich
        } else if lambda > LEAN_ABOVE {
            Self::Lean
        } else {
            Self::Usual
        }
    }
    /// As written.
    pub const fn text(self) -> &'static str {
        match self {
            Self::Rich => "rich",
            Self::Usual => "usual",
            Self::Lean => "lean",
        }
    }
}

/// How the draws fall among the three words.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Words {
    /// Share of draws that are rich, usual, lean; adds to 1.
    pub shares: [f64; 3],
    /// The word of most draws.
    pub first: Word,
    /// The word beside it, when the first does not stand alone.
    pub second: Option<Word>,
}

impl Words {
    /// Sorts the draws into words. `None` without draws.
    pub fn of(ranges: &FilmRanges) -> Option<Self> {
        Self::of_lambdas(ranges.draws.iter().map(Film::lambda))
    }

    /// The same for bare ratios.
    ///
    /// ```
    /// use ground::{Word, Words};
    /// let words = Words::of_lambdas([1.0, 1.2, 1.2, 1.3, 1.5]).unwrap();
    /// assert_eq!(words.first, Word::Usual); // 3 of 5
    /// assert!(words.second.is_some()); // too few to stand alone
    /// ```
    pub fn of_lambdas(lambdas: impl IntoIterator<Item = f64>) -> Option<Self> {
        let mut counts = [0u32; 3];
        let [rich, usual, lean] = &mut counts;
        for lambda in lambdas {
            match Word::of(lambda) {
                Word::Rich => *rich += 1,
                Word::Usual => *usual += 1,
                Word::Lean => *lean += 1,
            }
        }
        let all: u32 = counts.iter().sum();
        if all == 0 {
            return None;
        }
        let shares = counts.map(|count| f64::from(count) / f64::from(all));
        let mut order: Vec<(Word, f64)> = [Word::Rich, Word::Usual, Word::Lean].into_iter().zip(shares).collect();
        order.sort_by(|a, b| b.1.total_cmp(&a.1));
        let (first, share) = *order.first()?;
        let second = order.get(1).filter(|_| share < ALONE).map(|(word, _)| *word);
        Some(Self { shares, first, second })
    }

    /// Share of the draws behind the word or the two words shown.
    pub fn share(&self) -> f64 {
        self.share_of(self.first) + self.second.map_or(0.0, |word| self.share_of(word))
    }

    /// Share of the draws behind one word.
    pub fn share_of(&self, word: Word) -> f64 {
        let [rich, usual, lean] = self.shares;
        match word {
            Word::Rich => rich,
            Word::Usual => usual,
            Word::Lean => lean,
        }
    }
}

/// Binder in the pot over the binder that would put the same powder in the middle of *usual*. `None` where no amount of binder
/// does: the powder packs so tightly that the middle lies beyond pure powder.
pub fn binder_beside_usual(film: &Film) -> Option<f64> {
    // The powder that this binder would carry in the middle, beside the powder that is there: only the ratio of the two counts.
    Some(powder_for(film.binder_volume, film.cpvc, USUAL_MIDDLE)? / film.filler_volume)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn edges_belong_to_usual() {
        assert_eq!(Word::of(1.10), Word::Usual);
        assert_eq!(Word::of(1.40), Word::Usual);
        assert_eq!(Word::of(1.099), Word::Rich);
        assert_eq!(Word::of(1.401), Word::Lean);
    }

    #[test]
    fn two_words_when_the_first_does_not_stand_alone() {
        let words = Words::of_lambdas([1.2, 1.2, 1.3, 1.39, 1.38, 1.5, 1.5, 1.5]).unwrap();
        assert_eq!((words.first, words.second), (Word::Usual, Some(Word::Lean)));
        assert!((words.share() - 1.0).abs() < 1e-12);
        assert_eq!(Words::of_lambdas([]), None);
    }
}
