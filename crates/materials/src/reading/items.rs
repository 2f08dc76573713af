//! Tokens gathered into numbers, names, units, steering words and marks: the longest phrase wins.

use super::amounts::is_abbreviation;
use super::asides;
use super::lexicon::{Lexicon, Senses};
use super::nodes::Region;
use super::numbers::{Number, Scan, Weak};
use super::signals::{Signal, Signals};
use super::strangers;
use super::tokens::{Kind, Mark, Token};
use super::typos;

/// What one item is.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum What {
    Number(Box<Number>),
    /// A name of materials, by index in the lexicon.
    Name(u32),
    /// A word for a unit, by index in the lexicon; only behind a number.
    Unit(u32),
    /// A steering word, which may be a state as well.
    Steer,
    /// Plain talk.
    Talk,
    /// A word that stands nowhere.
    Unknown,
    Mark(Mark),
    /// End of line; true if an empty line follows.
    Break(bool),
    /// An address, a date, a clock time.
    Code,
}

/// A stretch of tokens that says one thing.
#[expect(clippy::struct_excessive_bools, reason = "each says one thing of its own about the words")]
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Item {
    pub what: What,
    /// Steering meanings, of names too.
    pub signals: Signals,
    /// A state that it may name, by index in the lexicon.
    pub state: Option<u32>,
    /// First token.
    pub first: usize,
    /// One past the last token.
    pub end: usize,
    /// A misspelling was mended.
    pub mended: bool,
    /// Written without a gap behind what stands before it.
    pub tight: bool,
    /// A short word for a unit: `oz`.
    pub short: bool,
    /// Begins with a capital.
    pub capital: bool,
    /// Left out of the sense: struck through, a remark, an address.
    pub muted: bool,
}

impl Item {
    /// Whether it steers in this way.
    pub(super) fn has(&self, signal: Signal) -> bool {
        self.signals.has(signal)
    }
    /// Whether it is this mark.
    pub(super) fn is(&self, mark: Mark) -> bool {
        self.what == What::Mark(mark)
    }
    /// Whether the sentence ends here.
    pub(super) fn ends_sentence(&self) -> bool {
        matches!(self.what, What::Break(_) | What::Mark(Mark::Stop | Mark::Semicolon | Mark::Question | Mark::Exclaim))
    }
    /// Whether a clause ends here.
    pub(super) fn ends_clause(&self) -> bool {
        self.ends_sentence()
            || matches!(self.what, What::Mark(Mark::Comma | Mark::Open | Mark::Close | Mark::Tab | Mark::Pipe | Mark::Hash | Mark::Strike))
    }
}

/// Gathers the tokens of a text.
pub(super) fn gather(text: &str, tokens: &[Token], lexicon: &Lexicon) -> Vec<Item> {
    let (words, mended) = typos::mend(text, tokens, lexicon);
    let scan = Scan { tokens, words: &words, lexicon };
    let mut items: Vec<Item> = Vec::with_capacity(tokens.len());
    let mut at = 0;
    while let Some(token) = tokens.get(at) {
        if token.kind == Kind::Hidden {
            at += 1;
            continue;
        }
        let counted = counted(&items);
        let filled = items.last().is_some_and(|item| item.signals.any(&FILLS));
        let fresh = items.last().is_none_or(|item| item.ends_clause() || item.has(Signal::And) || item.is(Mark::Plus));
        let item = next_item(&scan, text, at, Place { counted, filled, fresh }, &mended);
        at = item.end.max(at + 1);
        items.push(item);
    }
    strangers::estrange(&mut items, tokens, text);
    asides::settle(&mut items, tokens, text);
    items
}

/// Words that say how a spoon or cup was filled.
pub(super) const FILLS: [Signal; 4] = [Signal::Level, Signal::Heaped, Signal::Packed, Signal::Scant];

/// Whether a number stands before, with nothing but qualities of a measure between.
fn counted(items: &[Item]) -> bool {
    let per = |item: &Item| item.has(Signal::Per);
    if let [.., before, last] = items
        && (per(last) || per(before) && Region::named(last).is_some())
    {
        return true;
    }
    if let [.., Item { what: What::Unit(_), .. }, slash] = items
        && slash.is(Mark::Slash)
        && slash.tight
    {
        return true;
    }
    for item in items.iter().rev().take(4) {
        match &item.what {
            What::Number(_) => return true,
            What::Steer | What::Mark(Mark::Open | Mark::Tab | Mark::Pipe) => {
                let quality = item.signals.any(&[
                    Signal::Level,
                    Signal::Heaped,
                    Signal::Packed,
                    Signal::Scant,
                    Signal::Small,
                    Signal::Big,
                    Signal::Us,
                    Signal::Uk,
                    Signal::Metric,
                    Signal::Adjective,
                    Signal::Approx,
                ]);
                if !quality && !matches!(item.what, What::Mark(Mark::Tab | Mark::Pipe)) {
                    return false;
                }
            }
            What::Mark(Mark::Dash | Mark::Comma | Mark::Stop) if item.tight => {}
            _ => return false,
        }
    }
    false
}

/// The longest phrases from a token on: of any sort, and per sort.
#[derive(Default)]
struct Found {
    name: Option<(u32, usize)>,
    unit: Option<(u32, usize)>,
    steer: Option<(Senses, usize)>,
}

fn longest(scan: &Scan<'_>, at: usize) -> Found {
    let mut found = Found::default();
    let (mut node, mut here) = (0u32, at);
    let single = scan
        .word(at)
        .and_then(|word| scan.lexicon.singular(word))
        .and_then(|word| scan.lexicon.next(0, word))
        .map(|node| scan.lexicon.senses(node));
    if let Some(senses) = single {
        found.name = senses.name.map(|name| (name, at + 1));
        found.unit = senses.unit.map(|unit| (unit, at + 1));
    }
    let step = |node: u32, here: usize| {
        scan.word(here).and_then(|word| {
            scan.lexicon.next(node, word).or_else(|| scan.lexicon.next(node, scan.lexicon.singular(word).filter(|_| node > 0)?))
        })
    };
    while let Some(next) = step(node, here) {
        node = next;
        let senses = scan.lexicon.senses(node);
        here += 1;
        found.name = senses.name.map(|name| (name, here)).or(found.name);
        found.unit = senses.unit.map(|unit| (unit, here)).or(found.unit);
        if senses.talk || senses.state.is_some() || !senses.signals.is_empty() {
            found.steer = Some((senses, here));
        }
        here = over_joint(scan, here);
    }
    found
}

/// Steps over what may stand inside a phrase: mark-up, a hyphen, the full stop of a word cut short.
fn over_joint(scan: &Scan<'_>, at: usize) -> usize {
    let mut at = scan.seen(at);
    match scan.kind(at) {
        Some(Kind::Mark(Mark::Dash)) if scan.tight(at) && scan.tight(at + 1) => at += 1,
        // `w/w`
        Some(Kind::Mark(Mark::Slash))
            if scan.tight(at)
                && scan.tight(at + 1)
                && length(scan, at + 1) == 1
                && at.checked_sub(1).is_some_and(|before| length(scan, before) == 1) =>
        {
            at += 1;
        }
        Some(Kind::Mark(Mark::Stop)) if scan.tight(at) => {
            let short = at.checked_sub(1).and_then(|before| scan.tokens.get(before)).is_some_and(|token| token.to - token.from <= 5);
            if short {
                at += 1;
            }
        }
        _ => {}
    }
    scan.seen(at)
}

fn length(scan: &Scan<'_>, at: usize) -> usize {
    scan.tokens.get(at).map_or(0, |token| token.to - token.from)
}

/// What stands before a word.
#[derive(Clone, Copy)]
struct Place {
    /// A number.
    counted: bool,
    /// A word for how a spoon was filled.
    filled: bool,
    /// Nothing: a clause or a member of a list begins.
    fresh: bool,
}

/// Spoons and cups, which may stand without a number: "tsp honey".
const SPOONS: [&str; 9] = ["tsp", "tbsp", "teaspoon", "tablespoon", "dessertspoon", "teaspoonful", "tablespoonful", "cup", "pinch"];

fn next_item(scan: &Scan<'_>, text: &str, at: usize, place: Place, mended: &[bool]) -> Item {
    let Place { counted, filled, fresh } = place;
    let tight = at > 0 && scan.tight(at);
    let item = |what: What, end: usize| Item {
        what,
        signals: Signals::NONE,
        state: None,
        first: at,
        end,
        mended: mended.get(at..end).is_some_and(|range| range.iter().any(|m| *m)),
        tight,
        short: false,
        capital: scan.tokens.get(at).and_then(|token| text.get(token.from..)).is_some_and(|rest| rest.starts_with(char::is_uppercase)),
        muted: false,
    };
    match scan.kind(at) {
        Some(Kind::Break) => {
            let mut end = at + 1;
            let mut blank = false;
            while matches!(scan.kind(end), Some(Kind::Break)) {
                blank = true;
                end += 1;
            }
            return item(What::Break(blank), end);
        }
        Some(Kind::Code) => return item(What::Code, at + 1),
        Some(Kind::Mark(Mark::And)) => {
            let mut and = item(What::Steer, at + 1);
            and.signals = Signals::named("and").unwrap_or_default();
            return and;
        }
        _ => {}
    }
    if counted
        && tight
        && scan.kind(at) == Some(Kind::Mark(Mark::Hash))
        && let Some(pound) = scan.lexicon.unit_word("lb")
    {
        // `2# whiting`: an old sign for pounds.
        return item(What::Unit(pound), at + 1);
    }
    let found = longest(scan, at);
    if let Some((number, end)) = scan.number(at) {
        // "a little", "half as much": a longer phrase that begins with a number word.
        let longer = |end_of: Option<usize>| end_of.is_some_and(|other| other > end || (number.weak == Weak::Article && other > at + 1));
        let steer = found.steer.as_ref().map(|(_, end)| *end);
        if !longer(steer) && !longer(found.name.map(|(_, end)| end)) {
            return item(What::Number(Box::new(number)), end);
        }
    }
    let Some(kind) = scan.kind(at) else { return item(What::Talk, at + 1) };
    let Kind::Word(_) = kind else {
        return match kind {
            Kind::Mark(mark) => item(What::Mark(mark), at + 1),
            _ => item(What::Code, at + 1),
        };
    };
    let ends = |end: Option<usize>| end.unwrap_or(0);
    let (name, unit, steer) = (ends(found.name.map(|f| f.1)), ends(found.unit.map(|f| f.1)), ends(found.steer.as_ref().map(|f| f.1)));
    let case = single_letter(scan, text, at).filter(|_| counted);
    let spoon = case.filter(|c| matches!(c, 't' | 'T') && found.unit.is_none()).and_then(|_| scan.lexicon.unit_word("tsp"));
    if let Some(index) = spoon {
        return item(What::Unit(spoken_unit(scan, index, case, at + 1)), at + 1);
    }
    // "à l'eau" holds no litre.
    let elided = case.is_some() && scan.tokens.get(at).and_then(|token| text.get(token.to..)).is_some_and(is_elided);
    if let (Some((index, end)), true) = (found.unit.filter(|_| !elided), counted && (unit >= name && unit >= steer || case.is_some())) {
        let mut out = item(What::Unit(spoken_unit(scan, index, case, end)), end);
        out.short = scan.lexicon.unit(index).is_some_and(is_abbreviation);
        if let Some((senses, _)) = &found.steer {
            out.signals = senses.signals;
        }
        return out;
    }
    if let (Some((index, end)), true) = (found.name, name >= steer) {
        let mut out = item(What::Name(index), end);
        if let Some((senses, _)) = found.steer.filter(|(_, steer_end)| *steer_end == end) {
            out.signals = senses.signals;
            out.state = senses.state;
        }
        return out;
    }
    // "drop of alcohol": one of it, though no number stands there.
    let each = found.steer.as_ref().is_some_and(|(senses, _)| senses.signals.has(Signal::Each));
    let goes_on = |end: usize| {
        scan.signal(scan.seen(end), Signal::Of) || filled && scan.word(scan.seen(end)).is_some_and(|word| scan.lexicon.is_stock(word))
    };
    let spoonful = |index: u32, end: usize| {
        fresh && scan.lexicon.unit(index).is_some_and(|word| SPOONS.contains(&word)) && longest(scan, scan.seen(end)).name.is_some()
    };
    if let Some((index, end)) = found.unit.filter(|(index, end)| (goes_on(*end) || spoonful(*index, *end)) && length(scan, at) > 2 && !each)
    {
        let mut out = item(What::Unit(index), end);
        if let Some((senses, _)) = &found.steer {
            out.signals = senses.signals;
        }
        return out;
    }
    if let Some((senses, end)) = found.steer {
        let plain = senses.signals.is_empty() && senses.state.is_none();
        let mut out = item(if plain { What::Talk } else { What::Steer }, end);
        out.signals = senses.signals;
        out.state = senses.state;
        return out;
    }
    if let Some((index, end)) = hyphenated(scan, text, at) {
        return Item { mended: true, ..item(What::Name(index), end) };
    }
    let lone_unit = found.unit.is_some() || scan.word(at).is_some_and(|word| scan.lexicon.number(word).is_some());
    // Marks and single letters of any script say nothing by themselves.
    let short = scan
        .tokens
        .get(at)
        .and_then(|token| text.get(token.from..token.to))
        .is_some_and(|word| word.chars().count() == 1 && word.is_ascii());
    item(if lone_unit || short { What::Talk } else { What::Unknown }, at + 1)
}

/// Whether what follows a letter is an apostrophe and the word that it leans on.
fn is_elided(rest: &str) -> bool {
    rest.strip_prefix(['\'', '’']).is_some_and(|word| word.starts_with(char::is_alphabetic))
}

/// A name broken by a hyphen: `bor-ax`.
fn hyphenated(scan: &Scan<'_>, text: &str, at: usize) -> Option<(u32, usize)> {
    let (first, last) = (scan.tokens.get(at)?, scan.tokens.get(at + 2)?);
    let joined =
        scan.kind(at + 1) == Some(Kind::Mark(Mark::Dash)) && scan.tight(at + 1) && scan.tight(at + 2) && last.to - first.from <= 40;
    let whole = joined.then(|| super::fold::fold(&text.get(first.from..last.to).unwrap_or("").replace('-', "")))?;
    let node = scan.lexicon.next(0, scan.lexicon.exact(&whole))?;
    scan.lexicon.senses(node).name.map(|name| (name, at + 3))
}

/// The unit that is meant: a cook's `T` and `t` are spoons, a small number of `c.` are cups, "mils" that are not of a wet coat are
/// millilitres.
fn spoken_unit(scan: &Scan<'_>, index: u32, letter: Option<char>, end: usize) -> u32 {
    let lexicon = scan.lexicon;
    let small = |at: usize| {
        at.checked_sub(2).and_then(|at| scan.kind(at)).is_some_and(|kind| match kind {
            Kind::Figure(figure) => figure.value < 9.0,
            Kind::Fraction(_) => true,
            _ => false,
        })
    };
    let meant = match (letter, lexicon.unit(index)) {
        (Some('T'), _) => lexicon.unit_word("tbsp"),
        (Some('t'), _) => lexicon.unit_word("tsp"),
        (Some('c' | 'C'), _) if small(end) => lexicon.unit_word("cup"),
        (_, Some("mil" | "mils")) if !scan.signal(scan.seen(end), Signal::Wet) && !scan.signal(scan.seen(end), Signal::Thick) => {
            lexicon.unit_word("ml")
        }
        _ => None,
    };
    meant.unwrap_or(index)
}

/// A single letter that may be a unit.
fn single_letter(scan: &Scan<'_>, text: &str, at: usize) -> Option<char> {
    let token = scan.tokens.get(at)?;
    let mut chars = text.get(token.from..token.to)?.chars();
    chars.next().filter(|c| chars.next().is_none() && c.is_ascii_alphabetic())
}
