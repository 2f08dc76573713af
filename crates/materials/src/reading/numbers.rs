//! Numbers in figures or words: fractions, ranges, ratios, products, sums.

use super::lexicon::{Lexicon, NumberKind, WordId};
use super::numerals::Numeral;
use super::signals::Signal;
use super::tokens::{Kind, Mark, Token};

/// How sure it is that a number word counts something.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Weak {
    /// A number.
    No,
    /// Only "a" or "an": counts if a measure follows.
    Article,
    /// Only "half": counts if a measure follows.
    Fraction,
}

/// How a number was put together.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Form {
    /// One number.
    Plain,
    /// `12-15`: a range and nothing else.
    Range,
    /// `1 to 10`: a range, or a ratio.
    To(f64, f64),
    /// `1/15`: a fraction, or a ratio.
    Slash(f64, f64),
    /// `2 x 250`, `20 x 25`.
    Times(Vec<f64>),
    /// `1:1:1`, `1 in 9`.
    Ratio(Vec<f64>),
}

/// A number as told.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Number {
    /// Least.
    pub low: f64,
    /// Most; equal to `low` unless a range.
    pub high: f64,
    pub form: Form,
    pub weak: Weak,
    /// Written in words.
    pub words: bool,
    /// The other reading of `1,250` or `1.500`.
    pub other: Option<f64>,
    /// Not a number that can be an amount: infinite, divided by nothing, negative, left blank.
    pub absurd: bool,
    /// Something in it was guessed: the ends of a range swapped, a letter among digits.
    pub note: Option<&'static str>,
    /// Digits in a row without a mark, as in `0930`.
    pub plain_digits: usize,
}

impl Number {
    pub(super) fn one(value: f64) -> Self {
        Self {
            low: value,
            high: value,
            form: Form::Plain,
            weak: Weak::No,
            words: false,
            other: None,
            absurd: !value.is_finite(),
            note: None,
            plain_digits: 0,
        }
    }

    pub(super) fn blank() -> Self {
        Self { absurd: true, weak: Weak::Fraction, ..Self::one(f64::NAN) }
    }

    /// Both ends times a number.
    pub(super) fn times(mut self, factor: f64) -> Self {
        self.low *= factor;
        self.high *= factor;
        self
    }
}

/// The tokens with what the lexicon makes of them.
pub(super) struct Scan<'a> {
    pub tokens: &'a [Token],
    pub words: &'a [WordId],
    pub lexicon: &'a Lexicon,
}

impl Scan<'_> {
    pub(super) fn kind(&self, at: usize) -> Option<Kind> {
        self.tokens.get(at).map(|token| token.kind)
    }

    /// Whether the token touches the one before it.
    pub(super) fn tight(&self, at: usize) -> bool {
        self.tokens.get(at).is_some_and(|token| !token.gap)
    }

    /// The first token from `at` on that is not mark-up. Runs of mark-up are short; the walk stops after a few.
    pub(super) fn seen(&self, mut at: usize) -> usize {
        for _ in 0..6 {
            if self.kind(at) != Some(Kind::Hidden) {
                break;
            }
            at += 1;
        }
        at
    }

    fn figure(&self, at: usize) -> Option<Numeral> {
        match self.kind(at) {
            Some(Kind::Figure(numeral)) => Some(numeral),
            _ => None,
        }
    }

    pub(super) fn is_mark(&self, at: usize, mark: Mark) -> bool {
        self.kind(at) == Some(Kind::Mark(mark))
    }

    pub(super) fn word(&self, at: usize) -> Option<WordId> {
        match self.kind(at) {
            Some(Kind::Word(_)) => self.words.get(at).copied(),
            _ => None,
        }
    }

    pub(super) fn number_word(&self, at: usize) -> Option<(f64, NumberKind)> {
        self.word(at).and_then(|word| self.lexicon.number(word))
    }

    pub(super) fn signal(&self, at: usize, signal: Signal) -> bool {
        self.word(at).and_then(|word| self.lexicon.next(0, word)).is_some_and(|node| self.lexicon.senses(node).signals.has(signal))
            || (signal == Signal::And && self.is_mark(at, Mark::And))
    }

    /// Whether a measure or a material starts here.
    fn counts_something(&self, at: usize) -> bool {
        self.word(at).and_then(|word| self.lexicon.next(0, word)).is_some_and(|node| {
            let senses = self.lexicon.senses(node);
            senses.unit.is_some() || senses.name.is_some() || senses.signals.has(Signal::Part)
        }) || self.word(at).is_some_and(|word| self.lexicon.is_stock(word))
    }

    fn unit_starts(&self, at: usize) -> bool {
        self.word(at).and_then(|word| self.lexicon.next(0, word)).is_some_and(|node| self.lexicon.senses(node).unit.is_some())
    }

    /// The number that starts at this token, and the token after it.
    pub(super) fn number(&self, at: usize) -> Option<(Number, usize)> {
        if self.negative(at) {
            let (number, next) = self.simple(self.seen(at + 1))?;
            return Some((Number { absurd: true, weak: Weak::No, ..number }, next));
        }
        let (first, mut next) = self.simple(at)?;
        if first.absurd {
            return Some((first, next));
        }
        if let Some((ratio, after)) = self.ratio(at, &first, next) {
            return Some((ratio, after));
        }
        let mut number = first;
        let between = at.checked_sub(1).is_some_and(|before| self.signal(before, Signal::Between));
        if let Some((joined, after)) = self.joined(&number, next, between) {
            number = joined;
            next = after;
        }
        Some((number, next))
    }

    /// `minus 5`, or `-250` right after a colon, a comma or an equals sign.
    fn negative(&self, at: usize) -> bool {
        if let Some((_, NumberKind::Minus)) = self.number_word(at) {
            return self.figure(self.seen(at + 1)).is_some() || self.number_word(self.seen(at + 1)).is_some();
        }
        let before = at.checked_sub(1).and_then(|before| self.kind(before));
        self.is_mark(at, Mark::Dash)
            && self.tight(at + 1)
            && self.figure(at + 1).is_some()
            && matches!(before, Some(Kind::Mark(Mark::Colon | Mark::Equals | Mark::Slash | Mark::Comma | Mark::Semicolon | Mark::Open)))
    }

    /// A number without ranges and the like.
    fn simple(&self, at: usize) -> Option<(Number, usize)> {
        match self.kind(at)? {
            Kind::Fraction(value) => Some((Number::one(value), at + 1)),
            Kind::Mark(Mark::Blank) => Some((Number::blank(), at + 1)),
            Kind::Figure(numeral) => Some(self.in_figures(at, numeral)),
            Kind::Word(_) => self.in_words(at),
            _ => None,
        }
    }

    fn in_figures(&self, at: usize, numeral: Numeral) -> (Number, usize) {
        let mut number = Number { other: numeral.other, plain_digits: numeral.plain_digits, ..Number::one(numeral.value) };
        if numeral.mended {
            number.note = Some("a letter O among the digits was read as 0");
        }
        let mut next = at + 1;
        if let Some((over, under, after)) = self.slash(at) {
            let mut chain = after;
            while self.is_mark(chain, Mark::Slash) && self.figure(chain + 1).is_some() {
                chain += 2;
            }
            if chain > after {
                return (Number { absurd: true, ..number }, chain);
            }
            let value = over / under;
            if !value.is_finite() {
                return (Number { absurd: true, ..number }, after);
            }
            return (Number { form: Form::Slash(over, under), ..Number::one(value) }, after);
        }
        let whole = numeral.value.fract() == 0.0;
        while let Some(group) = self.figure(next).filter(|g| {
            numeral.plain_digits > 0 && numeral.plain_digits <= 3 && g.plain_digits == 3 && g.value == 0.0 && numeral.value > 0.0
        }) {
            number = Number { plain_digits: 0, ..Number::one(number.low * 1000.0 + group.value) };
            next += 1;
        }
        if next == at + 1
            && whole
            && let Some((part, after)) = self.fraction_part(next)
        {
            let mut total = Number::one(number.low + part);
            total.note = number.note;
            return (total, after);
        }
        self.grouped(number, next)
    }

    /// `1/2` written without gaps.
    fn slash(&self, at: usize) -> Option<(f64, f64, usize)> {
        let over = self.figure(at)?;
        let under = self.figure(at + 2)?;
        (self.is_mark(at + 1, Mark::Slash) && self.tight(at + 1) && self.tight(at + 2)).then_some((over.value, under.value, at + 3))
    }

    /// The `1/2` of `2 1/2`, `2-1/2`, `2½`, `2 and a half`.
    pub(super) fn fraction_part(&self, at: usize) -> Option<(f64, usize)> {
        let mut at = at;
        if self.is_mark(at, Mark::Dash) && self.tight(at) && self.tight(at + 1) {
            let (over, under, after) = self.slash(at + 1)?;
            return (over < under).then_some((over / under, after));
        }
        if let Some(Kind::Fraction(value)) = self.kind(at) {
            return Some((value, at + 1));
        }
        if let Some((over, under, after)) = self.slash(at) {
            return (over < under && self.figure(after).is_none()).then_some((over / under, after));
        }
        if self.signal(at, Signal::And) {
            at = self.seen(at + 1);
            if let Some(Kind::Fraction(value)) = self.kind(at) {
                return Some((value, at + 1));
            }
            if let Some((over, under, after)) = self.slash(at) {
                return (over < under).then_some((over / under, after));
            }
            if let Some((_, NumberKind::Article)) = self.number_word(at) {
                at = self.seen(at + 1);
            }
            if let Some((value, NumberKind::Fraction)) = self.number_word(at) {
                return Some((value, at + 1));
            }
        }
        None
    }

    /// "2 dozen", "2 half pints".
    pub(super) fn grouped(&self, number: Number, next: usize) -> (Number, usize) {
        let at = self.seen(next);
        match self.number_word(at) {
            Some((value, NumberKind::Group)) => (number.times(value), self.over_of(at + 1)),
            Some((value, NumberKind::Fraction)) if number.low.fract() == 0.0 && !self.unit_starts(at) => {
                (number.times(value), self.over_of(at + 1))
            }
            _ => (number, next),
        }
    }

    /// Steps over "of a" in "three quarters of a pound", if a measure follows.
    pub(super) fn over_of(&self, at: usize) -> usize {
        let mut to = self.seen(at);
        if self.signal(to, Signal::Of) {
            to = self.seen(to + 1);
        }
        if matches!(self.number_word(to), Some((_, NumberKind::Article))) {
            to = self.seen(to + 1);
        }
        let region =
            [Signal::Us, Signal::Uk, Signal::Metric, Signal::Small, Signal::Big, Signal::Level].iter().any(|s| self.signal(to, *s));
        if self.counts_something(to) || region || matches!(self.number_word(to), Some((_, NumberKind::Group))) { to } else { at }
    }

    /// `1:10`, `40 : 16 : 250`; a clock time such as `04:12` is none.
    fn ratio(&self, at: usize, first: &Number, next: usize) -> Option<(Number, usize)> {
        let head = self.figure(at)?;
        if next != at + 1 || !self.is_mark(next, Mark::Colon) {
            return None;
        }
        let mut values = vec![first.low];
        let mut after = next;
        let mut last = head;
        while self.is_mark(after, Mark::Colon) && values.len() < 12 {
            let Some(figure) = self.figure(after + 1) else { break };
            values.push(figure.value);
            last = figure;
            after += 2;
        }
        // "recipe x 3: 20 g glue"
        let measured = !self.tight(next + 1) && self.unit_starts(after);
        if values.len() < 2 || measured {
            return None;
        }
        let clock = values.len() == 2
            && head.plain_digits == 2
            && last.plain_digits == 2
            && self.tight(next)
            && self.tight(next + 1)
            && head.value < 24.0
            && last.value < 60.0;
        let absurd = clock || values.iter().all(|value| *value == 0.0) || values.iter().any(|value| !value.is_finite());
        Some((Number { form: Form::Ratio(values), absurd, ..Number::one(first.low) }, after))
    }

    /// A second number joined on: range, ratio in words, product, sum.
    fn joined(&self, first: &Number, next: usize, between: bool) -> Option<(Number, usize)> {
        let at = self.seen(next);
        let dash = self.is_mark(at, Mark::Dash);
        let to = self.signal(at, Signal::To);
        let or = self.signal(at, Signal::Or);
        let and = between && self.signal(at, Signal::And);
        if dash || to || or || and || self.is_mark(at, Mark::Dots) {
            return self.range(first, at, to);
        }
        if self.is_mark(at, Mark::Times) || self.is_word(at, "x") {
            return self.product(first, at);
        }
        if self.is_mark(at, Mark::Plus) && first.weak == Weak::No {
            let (second, after) = self.simple(self.seen(at + 1))?;
            let sum = !second.absurd && second.form == Form::Plain && second.weak == Weak::No && !self.unit_starts(next);
            return sum.then(|| (Number { words: first.words, ..Number::one(first.low + second.low) }, after));
        }
        if self.is_word(at, "in") && first.weak == Weak::No && (first.low - 1.0).abs() < 1e-9 {
            let (second, after) = self.simple(self.seen(at + 1))?;
            let ratio = !second.absurd && second.weak == Weak::No && second.low > 1.0 && !self.unit_starts(self.seen(after));
            return ratio.then(|| (Number { form: Form::Ratio(vec![first.low, second.low]), ..Number::one(first.low) }, after));
        }
        None
    }

    fn is_word(&self, at: usize, text: &str) -> bool {
        self.word(at).is_some_and(|word| word.is_known() && self.lexicon.text(word) == text)
    }

    fn range(&self, first: &Number, at: usize, to: bool) -> Option<(Number, usize)> {
        let start = self.seen(at + 1);
        let (second, after) = self.simple(start)?;
        if second.absurd || second.weak != Weak::No || first.weak == Weak::Article {
            return None;
        }
        let dash = self.is_mark(at, Mark::Dash);
        let telephone = dash && second.plain_digits >= 4 && first.plain_digits >= 3;
        if telephone {
            return Some((Number { absurd: true, weak: Weak::Fraction, ..first.clone() }, after));
        }
        // "25 g - 2 eggs" is no range: a gap on one side only marks a dash between things.
        if dash && self.tight(at) != self.tight(start) && !first.words {
            return None;
        }
        let swapped = second.low < first.low;
        let form = if to { Form::To(first.low, second.low) } else { Form::Range };
        let note = if swapped { Some("the ends of the range were swapped") } else { first.note.or(second.note) };
        let number = Number { low: first.low.min(second.low), high: first.low.max(second.low), form, note, ..first.clone() };
        let chain = to && self.signal(self.seen(after), Signal::To);
        if let (true, Some((third, end))) = (chain, self.simple(self.seen(self.seen(after) + 1))) {
            return Some((Number { form: Form::Ratio(vec![first.low, second.low, third.low]), ..number }, end));
        }
        Some((number, after))
    }

    fn product(&self, first: &Number, at: usize) -> Option<(Number, usize)> {
        let mut values = vec![first.low];
        let (mut sign, mut after) = (at, at);
        while (self.is_mark(sign, Mark::Times) || self.is_word(sign, "x")) && values.len() < 6 {
            let Some((more, next)) = self.simple(self.seen(sign + 1)).filter(|(more, _)| more.weak == Weak::No && !more.absurd) else {
                break;
            };
            values.push(more.low);
            after = next;
            sign = self.seen(next);
        }
        let product: f64 = values.iter().product();
        (values.len() > 1).then(|| (Number { form: Form::Times(values), ..Number::one(product) }, after))
    }
}
