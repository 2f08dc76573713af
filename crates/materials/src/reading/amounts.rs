//! Numbers and units put together to amounts.

use measure::{Dimension, KitchenUnit, Units};

use super::items::{FILLS, Item, What};
use super::lexicon::Lexicon;
use super::model::{Fill, PartBasis, Range};
use super::nodes::{AmountNode, Node, Of, Region, Sort, Told, name_node};
use super::numbers::{Form, Number};
use super::settings::{self, Settings};
use super::signals::Signal;
use super::tokens::Mark;

/// Amounts beyond this many of any unit are a slip or a joke.
pub(super) const MOST: f64 = 1e7;

/// What the builder needs to know of units.
#[derive(Clone, Copy)]
pub(super) struct Measures<'a> {
    pub units: &'a Units,
    pub lexicon: &'a Lexicon,
}

impl<'a> Measures<'a> {
    /// The likeliest unit of a unit word.
    pub(super) fn unit(self, word: u32) -> Option<&'a KitchenUnit> {
        self.lexicon.unit(word).and_then(|text| self.units.by_word(text).first()).map(|(id, _)| self.units.get(*id))
    }
    pub(super) fn dimension(self, word: u32) -> Option<Dimension> {
        self.unit(word).map(|unit| unit.dimension)
    }
}

/// Amounts and materials of a text in order, and the settings of the job found on the way.
pub(super) fn build(items: &[Item], measures: Measures<'_>) -> (Vec<Node>, Settings) {
    let mut builder = Builder { items, measures, nodes: Vec::new(), settings: Settings::default() };
    let mut at = 0;
    while let Some(item) = items.get(at) {
        at = if item.muted { at + 1 } else { builder.step(at) };
    }
    (builder.nodes, builder.settings)
}

/// Goes through the items and gathers nodes.
pub(super) struct Builder<'a> {
    pub(super) items: &'a [Item],
    pub(super) measures: Measures<'a>,
    pub(super) nodes: Vec<Node>,
    settings: Settings,
}

/// What stands behind a number.
pub(super) struct Behind {
    pub(super) told: Told,
    pub(super) end: usize,
    fill: Fill,
    region: Option<Region>,
    size: Option<Signal>,
    notes: Vec<String>,
}

impl Builder<'_> {
    pub(super) fn item(&self, at: usize) -> Option<&Item> {
        self.items.get(at).filter(|item| !item.muted)
    }
    pub(super) fn has(&self, at: usize, signal: Signal) -> bool {
        self.item(at).is_some_and(|item| item.has(signal))
    }
    pub(super) fn is(&self, at: usize, mark: Mark) -> bool {
        self.item(at).is_some_and(|item| item.is(mark))
    }
    pub(super) fn number(&self, at: usize) -> Option<&Number> {
        match self.item(at).map(|item| &item.what) {
            Some(What::Number(number)) => Some(number),
            _ => None,
        }
    }

    /// Takes what starts at an item; gives the item after it.
    fn step(&mut self, at: usize) -> usize {
        let Some(item) = self.items.get(at) else { return at + 1 };
        match &item.what {
            What::Name(_) => {
                self.nodes.extend(name_node(self.items, at, self.measures.lexicon));
                at + 1
            }
            What::Number(number) => self.counted(at, number),
            // "per litre", "drop of alcohol": one of it, though no number stands there.
            What::Unit(word) => self.per_unit(at, *word),
            What::Steer => self.relation(at, item),
            _ => at + 1,
        }
    }

    pub(super) fn push(&mut self, first: usize, end: usize, amount: AmountNode) -> usize {
        self.nodes.push(Node { sort: Sort::Amount(amount), first, end });
        end
    }

    fn per_unit(&mut self, at: usize, word: u32) -> usize {
        let alone = at.checked_sub(1).and_then(|before| self.item(before)).is_none_or(|item| {
            item.ends_clause()
                || item.signals.any(&[Signal::And, Signal::Per, Signal::Adjective, Signal::Small, Signal::Big, Signal::Us, Signal::Uk])
                || item.signals.any(&FILLS)
                || item.is(Mark::Plus)
                || item.is(Mark::Dash)
                || item.is(Mark::Colon)
                || item.is(Mark::Slash)
        });
        if !alone || !matches!(self.measures.dimension(word), Some(Dimension::Volume | Dimension::Mass)) {
            return at + 1;
        }
        let before = at.checked_sub(1).and_then(|before| self.item(before));
        let region = before.and_then(Region::named);
        let fill = before.and_then(fill).unwrap_or(Fill::Unsaid);
        let amount = AmountNode { region, fill, words: true, ..plain(Range::one(1.0), Told::Unit(word)) };
        self.push(at, at + 1, amount)
    }

    /// "same again", "twice as much", "an equal volume": amounts that lean on another.
    fn relation(&mut self, at: usize, item: &Item) -> usize {
        let relative = |factor: f64| Told::Relative { factor, of: Of::Previous };
        let value = if item.signals.value > 0.0 { item.signals.value } else { 1.0 };
        let each = |end: usize| self.has(end, Signal::Each);
        let named =
            (at + 1..at + 4).map_while(|i| self.item(i)).find(|item| !item.has(Signal::Adjective) || matches!(item.what, What::Name(_)));
        let told = if item.has(Signal::Some) && named.is_some_and(|item| matches!(item.what, What::Name(_))) {
            Told::Eye
        } else if item.has(Signal::SameVolume) {
            Told::PerLiquid(value)
        } else if item.signals.any(&[Signal::SameAmount, Signal::SameWeight]) || item.has(Signal::Factor) && item.signals.value > 0.0 {
            relative(value)
        } else if item.has(Signal::AsMuch)
            && self.items.iter().skip(at + 1).take(8).take_while(|i| !i.ends_sentence()).any(|i| i.has(Signal::As))
            && !self.has(at + 1, Signal::As)
        {
            relative(1.0)
        } else {
            return at + 1;
        };
        let mut end = at + 1;
        while self.has(end, Signal::AsMuch) && !matches!(self.item(end).map(|i| &i.what), Some(What::Name(_))) {
            end += 1;
        }
        let each = each(end);
        let amount = AmountNode { each, words: true, ..plain(Range::one(1.0), told) };
        self.push(at, if each { end + 1 } else { end }, amount)
    }

    fn counted(&mut self, at: usize, number: &Number) -> usize {
        if self.is_price(at) {
            return at + 1;
        }
        if let Some(end) = settings::read(self.items, at, self.measures, &mut self.settings) {
            return end;
        }
        if let Form::Ratio(values) = &number.form {
            if number.absurd {
                return at + 1;
            }
            return self.push(at, at + 1, AmountNode { ratio: true, ..plain(Range::one(number.low), Told::Ratio(values.clone())) });
        }
        let Some(behind) = self.behind(at) else { return self.alone(at, number) };
        let mut notes = behind.notes;
        let range = settle(number, &behind.told, self.measures, &mut notes);
        let named_before = at.checked_sub(1).and_then(|before| self.item(before)).is_some_and(|item| matches!(item.what, What::Name(_)));
        let stop = usize::from(
            !named_before
                && self.is_cut_short(&behind.told)
                && self.is(behind.end, Mark::Stop)
                && self.item(behind.end).is_some_and(|item| item.tight)
                && self.items.get(behind.end + 1).is_some_and(|next| {
                    !matches!(next.what, What::Break(_)) && (!next.capital || self.items.get(at + 1).is_some_and(|unit| unit.capital))
                }),
        );
        let mut amount = AmountNode {
            fill: behind.fill,
            region: behind.region,
            size: behind.size,
            words: number.words,
            notes,
            ..plain(range, behind.told)
        };
        let measured = self.extend(&mut amount, behind.end);
        let end = if measured == behind.end { measured + stop } else { measured };
        if number.absurd || !range.low.is_finite() || range.low < 0.0 || range.high > MOST && amount.told != Told::Percent {
            amount.told = Told::Absurd;
        }
        self.qualify(&mut amount, at, end);
        let end = self.per(&mut amount, end);
        let end = self.region_behind(&mut amount, end);
        if let Some(end) = self.merge(at, end, &amount) {
            return end;
        }
        self.push(at, end, amount)
    }

    /// Whether a unit is written as people write it with a full stop: `oz.`, `tbsp.`
    fn is_cut_short(&self, told: &Told) -> bool {
        let Told::Unit(word) = told else { return false };
        self.measures.lexicon.unit(*word).is_some_and(is_abbreviation)
    }

    fn is_price(&self, at: usize) -> bool {
        let before = at.checked_sub(1).is_some_and(|before| self.is(before, Mark::Currency));
        before || self.is(at + 1, Mark::Currency)
    }

    /// The unit behind a number, over qualities such as "heaped" or "US".
    pub(super) fn behind(&self, at: usize) -> Option<Behind> {
        let mut behind = Behind { told: Told::Bare, end: at, fill: Fill::Unsaid, region: None, size: None, notes: Vec::new() };
        for look in at + 1..at + 6 {
            let item = self.item(look)?;
            match &item.what {
                What::Unit(word) => {
                    if item.mended {
                        behind.notes.push(String::new());
                    }
                    behind.told = Told::Unit(*word);
                    behind.end = look + 1;
                    return matches!(self.measures.dimension(*word), Some(Dimension::Mass | Dimension::Volume | Dimension::Count))
                        .then_some(behind);
                }
                What::Mark(Mark::Percent) => {
                    behind.told = Told::Percent;
                    behind.end = look + 1;
                    return (!self.has(look + 1, Signal::Grade)).then_some(behind);
                }
                What::Mark(Mark::Tab | Mark::Pipe) => {}
                What::Mark(Mark::Dash | Mark::Comma | Mark::Stop) if item.tight => {}
                _ if item.has(Signal::Percent) => {
                    behind.told = Told::Percent;
                    behind.end = look + 1;
                    return Some(behind);
                }
                _ if item.signals.any(&[Signal::PartWeight, Signal::PartVolume, Signal::Part]) => {
                    let basis = match (item.has(Signal::PartWeight), item.has(Signal::PartVolume)) {
                        (true, _) => Some(PartBasis::Weight),
                        (_, true) => Some(PartBasis::Volume),
                        _ => None,
                    };
                    behind.told = Told::Part(basis);
                    behind.end = look + 1;
                    return Some(behind);
                }
                _ => {
                    let fill = fill(item);
                    let size = [Signal::Small, Signal::Big].into_iter().find(|signal| item.has(*signal));
                    let region = Region::named(item);
                    if fill.is_none() && size.is_none() && region.is_none() && !item.signals.any(&[Signal::Adjective, Signal::Approx]) {
                        return None;
                    }
                    if item.has(Signal::Scant) {
                        behind.notes.push("a scant measure is taken as a level one".to_owned());
                    }
                    behind.fill = fill.unwrap_or(behind.fill);
                    behind.size = size.or(behind.size);
                    behind.region = region.or(behind.region);
                }
            }
        }
        None
    }
}

/// How a spoon or cup was filled.
fn fill(item: &Item) -> Option<Fill> {
    let fills =
        [(Signal::Level, Fill::Level), (Signal::Scant, Fill::Level), (Signal::Heaped, Fill::Heaped), (Signal::Packed, Fill::Packed)];
    fills.iter().find(|(signal, _)| item.has(*signal)).map(|(_, fill)| *fill)
}

/// Short words for units, which may have a full stop of their own.
pub(super) fn is_abbreviation(unit: &str) -> bool {
    let unit = unit.rsplit([' ', '.']).find(|word| !word.is_empty()).unwrap_or(unit);
    unit.chars().count() <= 2 || matches!(unit, "gal" | "gals" | "cup") || !unit.contains(['a', 'e', 'i', 'o', 'u'])
}

/// An amount without any quality.
pub(super) fn plain(number: Range, told: Told) -> AmountNode {
    AmountNode {
        number,
        told,
        fill: Fill::Unsaid,
        region: None,
        size: None,
        words: false,
        notes: Vec::new(),
        per: None,
        each: false,
        used: false,
        ratio: false,
        bought: false,
    }
}

/// The value of a number, with its doubtful thousands settled by the unit.
pub(super) fn settle(number: &Number, told: &Told, measures: Measures<'_>, notes: &mut Vec<String>) -> Range {
    let small_unit = match told {
        Told::Unit(word) => measures.unit(*word).and_then(|unit| unit.value).is_some_and(|value| value <= 1.0),
        _ => true,
    };
    if let Some(note) = number.note {
        notes.push(note.to_owned());
    }
    let range = Range { low: number.low, high: number.high };
    let Some(other) = number.other else { return range };
    let (few, many) = if other < number.low { (other, number.low) } else { (number.low, other) };
    // `1,250 g` and `1.500 ml` are thousands, `1,250 kg` and `21.400 g` are not.
    let thousands = small_unit && if other < number.low { true } else { few < 10.0 };
    let value = if thousands { many } else { few };
    notes.push(format!("the mark in the number was taken for {}", if thousands { "thousands" } else { "a decimal mark" }));
    Range::one(value)
}
