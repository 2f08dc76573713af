//! "500 g whiting, 100 g of it swapped for zinc white": stuff that takes the place of some of the stuff before it.

use super::drafts::Draft;
use super::model::{Amount, Line, Range};
use super::recipe::Recipe;
use super::signals::Signal;

/// Words for putting one thing in the place of another, in their beginnings.
const SWAP: [&str; 8] = ["swap", "replac", "exchang", "substitut", "ersetz", "rempla", "sostitui", "sustitui"];
/// How far around the amount and the name such a word may stand, in items.
const NEAR: usize = 3;

/// Takes what is put in the place of a stuff off the line of that stuff.
pub(super) fn settle(told: &Recipe<'_>, drafts: &[Draft], lines: &mut [Line]) {
    for (at, draft) in drafts.iter().enumerate().skip(1) {
        if !is_swap(told, draft) {
            continue;
        }
        let (before, behind) = lines.split_at_mut(at);
        let (Some(whole), Some(part)) = (before.last_mut(), behind.first_mut()) else { continue };
        let Some(rest) = rest(told, &whole.amount, &part.amount) else { continue };
        whole.amount = rest;
        whole.guessed.push("what is put in its place is taken off".to_owned());
    }
}

fn is_swap(told: &Recipe<'_>, draft: &Draft) -> bool {
    let Some((first, end)) = draft.amount_items.filter(|_| draft.implied.is_none()) else { return false };
    let of_that = (first.saturating_sub(2)..end + 2).any(|at| told.has(Some(at), Signal::OfThat));
    let words = (first.saturating_sub(NEAR)..draft.end + NEAR).filter(|at| *at < told.items.len());
    let swaps = |at: usize| {
        let word = told.span(at, at + 1).of(told.text).to_lowercase();
        SWAP.iter().any(|swap| word.starts_with(swap))
    };
    of_that && words.into_iter().any(swaps)
}

/// The weight that is left; nothing if nothing would be left.
fn rest(told: &Recipe<'_>, whole: &Amount, part: &Amount) -> Option<Amount> {
    let (Amount::Mass { number: all, unit }, Amount::Mass { number: off, unit: other }) = (whole, part) else { return None };
    let size = |unit: measure::UnitId| told.units.get(unit).value;
    let ratio = size(*other.first()?)? / size(*unit.first()?)?;
    let left = Range { low: all.low - off.high * ratio, high: all.high - off.low * ratio };
    (left.low > 0.0).then(|| Amount::Mass { number: left, unit: unit.clone() })
}
