//! Amounts of something that nobody knows: the words that name it are struck with them, and figures that steer the whole recipe.

use super::cover::{Label, Mark};
use super::items::{Item, What};
use super::nodes::Node;
use super::numbers::Weak;
use super::signals::Signal;
use super::tokens::Mark as Sign;

const STRANGER: &str = "no material of this name is known; if it is a powder or a binder, say which";
/// Why an amount is struck that no material took.
pub(super) const NO_MATERIAL: &str = "no material is told for this amount; say what it is of";
const MANY_TIMES: &str = "the amounts are taken as they stand; write them already multiplied";

/// Longest name of something unknown, in words.
const WORDS: usize = 6;

/// Marks the names of stuff that only its amount is known of, amounts such as "a few drops of" it, and a multiple of the recipe.
pub(super) fn find(nodes: &[Node], items: &[Item], marks: &mut Vec<Mark>) {
    let mut shown = vec![false; items.len()];
    for mark in marks.iter() {
        cover(&mut shown, mark.first, mark.end);
    }
    let amounts: Vec<(usize, usize)> = marks
        .iter()
        .filter(|mark| matches!(&mark.label, Label::Struck(why, true) if why == NO_MATERIAL))
        .map(|mark| (mark.first, mark.end))
        .collect();
    let mut found = Found { items, shown, marks };
    for (first, end) in amounts {
        found.name_of(first, end);
    }
    found.uncounted();
    found.multiples(nodes);
}

fn cover(shown: &mut [bool], first: usize, end: usize) {
    for slot in shown.iter_mut().take(end).skip(first) {
        *slot = true;
    }
}

struct Found<'a> {
    items: &'a [Item],
    shown: Vec<bool>,
    marks: &'a mut Vec<Mark>,
}

impl Found<'_> {
    fn strike(&mut self, first: usize, end: usize, why: &str) {
        cover(&mut self.shown, first, end);
        self.marks.push(Mark { first, end, label: Label::Struck(why.to_owned(), true), questions: Vec::new() });
    }

    fn free(&self, at: usize) -> Option<&Item> {
        self.items.get(at).filter(|item| !item.muted && self.shown.get(at) == Some(&false))
    }

    /// A word that may be part of a name.
    fn wordy(&self, at: usize) -> bool {
        self.free(at).is_some_and(|item| {
            matches!(item.what, What::Talk | What::Unknown)
                || matches!(item.what, What::Steer) && (item.has(Signal::Adjective) || item.state.is_some() || item.has(Signal::Solution))
        })
    }

    /// The words behind an amount, or before it where none stand behind.
    fn name_of(&mut self, first: usize, end: usize) {
        // "5 g of it is lost"
        if self.free(end).is_some_and(|item| item.has(Signal::OfThat)) {
            return;
        }
        let start = self.over_of(end);
        let behind = self.run(start);
        if behind > start {
            self.strike(start, behind, STRANGER);
            return;
        }
        let joint = |item: &Item| matches!(item.what, What::Mark(Sign::Colon | Sign::Dash | Sign::Equals | Sign::Tab | Sign::Pipe));
        let to = first - (1..=2).take_while(|back| first.checked_sub(*back).and_then(|at| self.free(at)).is_some_and(joint)).count();
        let mut from = to;
        while from > 0 && to - from < WORDS && self.wordy(from - 1) {
            from -= 1;
        }
        // Talk alone before an amount is a verb as likely as a name: its last word stands for it.
        let stuff = |item: &Item| matches!(item.what, What::Name(_) | What::Number(_));
        let told = from.checked_sub(1).and_then(|before| self.items.get(before)).is_some_and(stuff);
        let unknown = (from..to).find(|at| self.free(*at).is_some_and(|item| item.what == What::Unknown));
        let from = unknown.unwrap_or_else(|| to.saturating_sub(1).max(from));
        if from < to
            && !(told && unknown.is_none())
            && (from..to).any(|at| self.free(at).is_some_and(|item| matches!(item.what, What::Talk | What::Unknown)))
        {
            self.strike(from, to, STRANGER);
        }
    }

    /// Over "of the".
    fn over_of(&self, at: usize) -> usize {
        let passes = |at: &usize| {
            self.free(*at).is_some_and(|item| matches!(item.what, What::Steer) && (item.has(Signal::Of) || item.has(Signal::Approx)))
        };
        at + (at..at + 3).take_while(passes).count()
    }

    /// End of the run of words that starts here; nothing if it holds no word but qualities.
    fn run(&self, start: usize) -> usize {
        let end = start + (start..start + WORDS).take_while(|at| self.wordy(*at) || self.possessive(*at)).count();
        let holds = |at: usize| self.free(at).is_some_and(|item| matches!(item.what, What::Talk | What::Unknown));
        if (start..end).any(holds) { end } else { start }
    }

    /// The mark in "baker's".
    fn possessive(&self, at: usize) -> bool {
        self.free(at).is_some_and(|item| item.is(Sign::Other) && item.tight) && self.wordy(at + 1)
    }

    /// "a few drops of wintergreen", "a splash of wintergreen".
    fn uncounted(&mut self) {
        for at in 0..self.items.len() {
            let Some(item) = self.free(at) else { continue };
            let vague = |item: &Item| item.signals.any(&[Signal::Some, Signal::ByEye]);
            let measure = matches!(item.what, What::Unit(_));
            let quantity = matches!(item.what, What::Steer) && item.has(Signal::Some);
            let start = self.over_of(at + 1);
            let led = at.checked_sub(1).and_then(|before| self.free(before)).is_some_and(vague);
            let stranger = self.free(start).is_some_and(|item| item.what == What::Unknown || led && item.what == What::Talk);
            let of = (at + 1..start).any(|at| self.free(at).is_some_and(|item| item.has(Signal::Of)));
            if !(measure && of || quantity) || !stranger {
                continue;
            }
            let end = self.run(start);
            // A known material further on has the amount.
            if self.items.get(end).is_some_and(|item| matches!(item.what, What::Name(_))) {
                continue;
            }
            self.strike(if led { at - 1 } else { at }, at + 1, NO_MATERIAL);
            self.strike(start, end, STRANGER);
        }
    }

    /// "... x 2" behind a recipe, "recipe x 3:" before it.
    fn multiples(&mut self, nodes: &[Node]) {
        if !nodes.iter().any(|node| node.name().is_some()) {
            return;
        }
        for at in 0..self.items.len() {
            let counts = self.free(at).is_some_and(|item| matches!(&item.what, What::Number(number) if number.weak == Weak::No));
            let Some(before) = at.checked_sub(1).filter(|_| counts) else { continue };
            let times = self.free(before).is_some_and(|item| item.is(Sign::Times) || item.has(Signal::Times));
            let ends = self.items.get(at + 1).is_none_or(|item| item.ends_clause() || item.is(Sign::Colon));
            // "coats x 2" tells of coats.
            let job = before.checked_sub(1).and_then(|first| self.items.get(first));
            let job = job.is_some_and(|item| item.signals.any(&[Signal::Coats, Signal::Boards]) || matches!(item.what, What::Number(_)));
            if times && ends && !job {
                self.strike(before, at + 1, MANY_TIMES);
            }
        }
    }
}
