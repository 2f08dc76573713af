//! Numbers in words: "two hundred and fifty", "half a dozen", "quatre-vingt-dix", "zweihundertfünfzig".

use super::lexicon::NumberKind;
use super::numbers::{Number, Scan, Weak};
use super::signals::Signal;
use super::tokens::Mark;

impl Scan<'_> {
    pub(super) fn in_words(&self, at: usize) -> Option<(Number, usize)> {
        let words = |value: f64| Number { words: true, ..Number::one(value) };
        match self.number_word(at)? {
            (_, NumberKind::Absurd) => Some((Number::blank(), at + 1)),
            (_, NumberKind::Minus | NumberKind::Point) => None,
            (value, NumberKind::Group) => Some((Number { weak: Weak::Fraction, ..words(value) }, self.over_of(at + 1))),
            (value, NumberKind::Fraction) => {
                let over = self.over_of(at + 1);
                if let Some((group, NumberKind::Group)) = self.number_word(over) {
                    return Some((words(value * group), self.over_of(over + 1)));
                }
                let weak = if over > at + 1 { Weak::No } else { Weak::Fraction };
                Some((Number { weak, ..words(value) }, over))
            }
            (_, NumberKind::Article) => {
                let next = self.seen(at + 1);
                match self.number_word(next) {
                    Some((value, NumberKind::Fraction | NumberKind::Group)) => Some((words(value), self.over_of(next + 1))),
                    Some((_, NumberKind::Hundred | NumberKind::Thousand)) => {
                        let (value, after) = self.cardinal(next)?;
                        Some(self.with_part(words(value), after))
                    }
                    _ => Some((Number { weak: Weak::Article, ..words(1.0) }, at + 1)),
                }
            }
            _ => {
                let (value, next) = self.cardinal(at)?;
                if let Some((_, NumberKind::Point)) = self.number_word(next) {
                    return self.spoken_decimals(value, next + 1).map(|(value, after)| (words(value), after));
                }
                let (number, next) = self.with_part(words(value), next);
                Some(self.grouped(number, next))
            }
        }
    }

    fn with_part(&self, number: Number, next: usize) -> (Number, usize) {
        match self.fraction_part(self.seen(next)) {
            Some((part, after)) if number.low >= 1.0 => (Number { low: number.low + part, high: number.high + part, ..number }, after),
            _ => (number, next),
        }
    }

    /// The digits after "point", one word each.
    fn spoken_decimals(&self, whole: f64, mut at: usize) -> Option<(f64, usize)> {
        let (mut value, mut place, start) = (whole, 0.1, at);
        while let Some((digit, NumberKind::Small)) = self.number_word(at).filter(|(digit, _)| *digit < 10.0 && place > 1e-9) {
            value += digit * place;
            place /= 10.0;
            at += 1;
        }
        (at > start).then_some((value, at))
    }

    /// "two hundred and fifty", "quatre-vingt-dix", "zweihundertfünfzig".
    fn cardinal(&self, at: usize) -> Option<(f64, usize)> {
        let (mut total, mut current, mut next) = (0.0f64, 0.0f64, at);
        let mut any = false;
        let mut look = at;
        for _ in 0..24 {
            let Some((value, kind)) = self.number_word(look) else { break };
            let low = current % 100.0;
            let fits = match kind {
                NumberKind::Small => {
                    !any || low == 0.0 && current > 0.0
                        || current == 0.0
                        || (low >= 20.0 && low % 10.0 == 0.0 && value < 10.0)
                        || ((low - 60.0).abs() < 0.5 || (low - 80.0).abs() < 0.5) && value < 20.0
                }
                NumberKind::Tens => !any || low == 0.0 || ((current - 4.0).abs() < 0.5 && (value - 20.0).abs() < 0.5),
                NumberKind::Joined => !any || (low == 0.0 && value < 100.0) || current == 0.0,
                NumberKind::Hundred => current < 100.0,
                NumberKind::Thousand => total == 0.0,
                _ => false,
            };
            if !fits {
                break;
            }
            match kind {
                NumberKind::Hundred => current = current.max(1.0) * 100.0,
                NumberKind::Thousand => {
                    total = current.max(1.0) * 1000.0;
                    current = 0.0;
                }
                NumberKind::Tens if (current - 4.0).abs() < 0.5 => current = 80.0,
                _ => current += value,
            }
            any = true;
            next = look + 1;
            look = self.seen(next);
            let large = matches!(kind, NumberKind::Hundred | NumberKind::Thousand) || matches!(kind, NumberKind::Joined) && value >= 100.0;
            if self.signal(look, Signal::And) && (large || matches!(kind, NumberKind::Tens)) {
                let after = self.seen(look + 1);
                let goes_on = match self.number_word(after) {
                    Some((_, NumberKind::Small | NumberKind::Tens)) if large => true,
                    Some((value, NumberKind::Small)) => value < 10.0,
                    _ => false,
                };
                if goes_on {
                    look = after;
                }
            } else if self.is_mark(look, Mark::Dash) && self.tight(look) && self.tight(look + 1) {
                look += 1;
            }
        }
        any.then_some((total + current, next))
    }
}
