//! Numbers without a unit: pieces, ratios, multiples, or nothing.

use super::amounts::{Builder, MOST, plain, settle};
use super::items::What;
use super::lexicon::Name;
use super::model::Range;
use super::nodes::{AmountNode, Of, Told};
use super::numbers::{Form, Number, Weak};
use super::signals::Signal;
use super::tokens::Mark;

impl Builder<'_> {
    /// A number without a unit.
    pub(super) fn alone(&mut self, at: usize, number: &Number) -> usize {
        // "six times the casein"
        if self.has(at + 1, Signal::Times) && number.weak == Weak::No && matches!(number.form, Form::Plain) {
            return self.push(at, at + 2, plain(Range::one(1.0), Told::Relative { factor: number.low, of: Of::Previous }));
        }
        // "a tenth as much glue"
        if self.has(at + 1, Signal::AsMuch) && !number.absurd && matches!(self.item(at + 1).map(|i| &i.what), Some(What::Steer)) {
            return self.push(at, at + 2, plain(Range::one(1.0), Told::Relative { factor: number.low, of: Of::Previous }));
        }
        // "a third of that in borax"
        if self.has(at + 1, Signal::OfThat) && number.low <= 1.0 && !number.absurd && number.weak != Weak::Article {
            return self.push(at, at + 2, plain(Range::one(1.0), Told::Relative { factor: number.low, of: Of::Previous }));
        }
        // "of which a third titanium white"
        if at.checked_sub(1).is_some_and(|before| self.has(before, Signal::OfThat))
            && number.low < 1.0
            && number.low > 0.0
            && !number.absurd
        {
            return self.push(at, at + 1, plain(Range::one(1.0), Told::Relative { factor: number.low, of: Of::Previous }));
        }
        // "two 1 kg bags": the first number counts the second amount.
        if let Some(second) = self.number(at + 1).filter(|second| second.weak == Weak::No && !second.absurd)
            && let (Some(behind), false, Weak::No) = (self.behind(at + 1), number.absurd, number.weak)
        {
            let bags = self.has(behind.end, Signal::Container);
            let told = if bags { behind.told } else { Told::Absurd };
            let range = if bags { Range { low: second.low, high: second.high }.times(number.low) } else { Range::one(0.0) };
            return self.push(at, behind.end, plain(range, told));
        }
        let crowded = |at: Option<usize>| at.and_then(|at| self.number(at)).is_some_and(|other| other.weak == Weak::No);
        if number.weak == Weak::No && (crowded(Some(at + 1)) || crowded(at.checked_sub(1))) {
            // "250 300 g", "1 2 3": nobody knows which of them counts.
            return self.push(at, at + 1, plain(Range::one(0.0), Told::Absurd));
        }
        let next = self.item(at + 1);
        let named = (at + 1..at + 4).find(|i| {
            !self.item(*i).is_some_and(|item| {
                item.signals.any(&[Signal::Adjective, Signal::Small, Signal::Big]) && !matches!(item.what, What::Name(_))
            })
        });
        let named = named.and_then(|i| self.item(i));
        // "a yolk" counts, "a gesso" does not.
        let names_next = match named.map(|item| &item.what) {
            Some(What::Name(name)) => number.weak == Weak::No || self.measures.lexicon.name(*name).is_some_and(Name::is_counted),
            _ => false,
        };
        let graded = next
            .is_some_and(|item| item.signals.any(&[Signal::Grade, Signal::Month, Signal::Coats, Signal::Boards]) || item.is(Mark::Degree));
        let before = at.checked_sub(1).and_then(|before| self.item(before));
        let labelled = before.is_some_and(|item| {
            item.signals.any(&[Signal::Month]) || item.has(Signal::GradeBefore) && !names_next && matches!(item.what, What::Steer)
        });
        let useless = number.weak != Weak::No && !names_next || graded || labelled;
        let told = if number.absurd { Told::Absurd } else { Told::Bare };
        if useless || matches!(number.form, Form::Times(_)) {
            return at + 1;
        }
        if let (Form::Slash(over, under) | Form::To(over, under), false) = (&number.form, names_next) {
            return self.push(
                at,
                at + 1,
                AmountNode { words: number.words, ..plain(Range { low: number.low, high: number.high }, Told::Ratio(vec![*over, *under])) },
            );
        }
        let mut notes = Vec::new();
        let range = settle(number, &told, self.measures, &mut notes);
        let told = if range.high > MOST || !range.low.is_finite() { Told::Absurd } else { told };
        let mut amount = AmountNode { words: number.words, notes, ..plain(range, told) };
        self.qualify(&mut amount, at, at + 1);
        let end = self.per(&mut amount, at + 1);
        if let (Told::Bare, true) = (&amount.told, amount.per.is_some()) {
            return end;
        }
        self.push(at, at + 1, amount)
    }
}
