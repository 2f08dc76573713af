//! What stands behind a unit and belongs to the amount: "and a half", "8 oz" behind "2 lb", "each", "(US)", "per litre".

use super::amounts::Builder;
use super::items::{Item, What};
use super::model::{PartBasis, Range};
use super::nodes::{AmountNode, Region, Sort, Told};
use super::numbers::Form;
use super::signals::Signal;
use super::tokens::Mark;

impl Builder<'_> {
    /// "an ounce and a half", "2 lb 8 oz", "1 l and 200 ml".
    pub(super) fn extend(&self, amount: &mut AmountNode, end: usize) -> usize {
        let Told::Unit(word) = amount.told else { return end };
        let mut end = end;
        if self.has(end, Signal::And)
            && let Some(part) = self.number(end + 1).filter(|part| part.low < 1.0 && !part.absurd && part.form == Form::Plain)
        {
            let measured = self.behind(end + 1).is_some();
            if !measured {
                amount.number = Range { low: amount.number.low + part.low, high: amount.number.high + part.low };
                return end + 2;
            }
        }
        // "a cup or two of water"
        if self.has(end, Signal::Or)
            && self.behind(end + 1).is_none()
            && (self.has(end + 2, Signal::Of) || self.item(end + 2).is_some_and(|item| matches!(item.what, What::Name(_))))
            && let Some(more) = self.number(end + 1).filter(|more| !more.absurd && more.low > amount.number.high && more.high <= 4.0)
        {
            amount.number = Range { low: amount.number.low, high: more.high };
            return end + 2;
        }
        let stop = usize::from(self.is(end, Mark::Stop) && self.item(end).is_some_and(|item| item.tight));
        if let (Some(number), Some(behind)) = (self.number(end + stop), self.behind(end + stop)) {
            let Told::Unit(second) = behind.told else { return end };
            if let (Some(large), Some(small)) = (self.measures.unit(word), self.measures.unit(second)) {
                let (Some(big), Some(little)) = (large.value, small.value) else { return end };
                let parted = self.between_names(end + stop, behind.end);
                if large.dimension == small.dimension
                    && !parted
                    && little < big
                    && number.form == Form::Plain
                    && !number.absurd
                    && amount.number.low.fract() == 0.0
                {
                    let more = number.low * little / big;
                    amount.number = Range { low: amount.number.low + more, high: amount.number.high + more };
                    end = behind.end;
                }
            }
        }
        end
    }

    /// Words around an amount that say how it counts.
    pub(super) fn qualify(&self, amount: &mut AmountNode, at: usize, end: usize) {
        let basis = |item: &Item| match (item.has(Signal::ByWeight), item.has(Signal::ByVolume)) {
            (true, _) => Some(PartBasis::Weight),
            (_, true) => Some(PartBasis::Volume),
            _ => None,
        };
        if let (Told::Part(None), Some(found)) = (&amount.told, self.item(end).and_then(basis)) {
            amount.told = Told::Part(Some(found));
        }
        amount.each = (end..end + 3)
            .take_while(|i| self.item(*i).is_some_and(|item| matches!(item.what, What::Steer)))
            .any(|i| self.has(i, Signal::Each));
        amount.used = at.checked_sub(1).is_some_and(|before| self.has(before, Signal::Used));
        amount.bought = self.has(end, Signal::Container);
    }

    /// `60 g/l`, "20 g per litre".
    pub(super) fn per(&self, amount: &mut AmountNode, end: usize) -> usize {
        let slash = self.is(end, Mark::Slash);
        let per = self.has(end, Signal::Per);
        if !slash && !per {
            return end;
        }
        match self.item(end + 1).filter(|item| !slash || item.tight).map(|item| &item.what) {
            Some(What::Unit(word)) if slash => {
                amount.per = Some(*word);
                end + 2
            }
            _ => end,
        }
    }

    /// "2 cups (US)": whose measure, in brackets behind it.
    pub(super) fn region_behind(&self, amount: &mut AmountNode, end: usize) -> usize {
        let inside = if self.is(end, Mark::Open) { self.item(end + 1).and_then(Region::named) } else { None };
        if let (Some(region), true) = (inside, self.is(end + 2, Mark::Close) || self.is(end + 3, Mark::Close)) {
            amount.region = Some(region);
            return if self.is(end + 2, Mark::Close) { end + 3 } else { end + 4 };
        }
        if amount.region.is_none() {
            // "5 pints imperial"
            if let Some(region) = self.item(end).filter(|item| !item.has(Signal::Us) || item.tight).and_then(Region::named) {
                amount.region = Some(region);
                return end + 1;
            }
        }
        end
    }

    /// "12 g to 15 g" and "20 g + 5 g": joined with the amount before, if nothing but the sign stands between.
    pub(super) fn merge(&mut self, at: usize, end: usize, amount: &AmountNode) -> Option<usize> {
        let sign = self.items.get(at.checked_sub(1)?)?;
        let named = self
            .items
            .get(end..(end + 3).min(self.items.len()))
            .unwrap_or(&[])
            .iter()
            .take_while(|item| !item.ends_clause())
            .any(|item| matches!(item.what, What::Name(_)));
        let last = self.nodes.last_mut().filter(|node| node.end + 1 == at)?;
        let Sort::Amount(before) = &mut last.sort else { return None };
        let same = matches!(amount.told, Told::Unit(_)) && before.told == amount.told;
        if same && (sign.has(Signal::To) || sign.is(Mark::Dash)) {
            before.number = Range { low: before.number.low.min(amount.number.low), high: before.number.high.max(amount.number.high) };
        } else if same && sign.is(Mark::Plus) && !named {
            before.number = Range { low: before.number.low + amount.number.low, high: before.number.high + amount.number.high };
        } else {
            return None;
        }
        last.end = end;
        Some(end)
    }

    /// "chalk 1 kg 20 g glue": two amounts, each with its own name, if the second name has no further amount.
    fn between_names(&self, second: usize, end: usize) -> bool {
        let is_name = |at: usize| self.item(at).is_some_and(|item| matches!(item.what, What::Name(_)));
        let before = second.checked_sub(3).is_some_and(is_name);
        before && is_name(end) && self.number(end + 1).is_none()
    }
}
