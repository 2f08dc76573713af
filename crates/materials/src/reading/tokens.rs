//! Text cut into words, figures and marks, each with its place.

use super::fold;
use super::lexicon::{Lexicon, WordId};
use super::numerals::{self, Numeral};

/// What a mark does between words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Mark {
    Comma,
    Stop,
    Semicolon,
    Question,
    Exclaim,
    Colon,
    Dash,
    Equals,
    Slash,
    Plus,
    And,
    Tab,
    Pipe,
    Open,
    Close,
    Percent,
    Degree,
    Currency,
    Times,
    Arrow,
    Hash,
    Blank,
    Strike,
    Dots,
    Other,
}

/// What a token is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Kind {
    /// A word, by its number in the lexicon.
    Word(WordId),
    /// A figure.
    Figure(Numeral),
    /// A character such as ½.
    Fraction(f64),
    /// Punctuation.
    Mark(Mark),
    /// Mark-up, addresses, quotes: present in the text, absent from its sense.
    Hidden,
    /// An address, a date, a clock time: talk, whatever stands around it.
    Code,
    /// End of a line.
    Break,
}

/// One token. White space is not kept: `gap` says whether some stands before it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Token {
    pub kind: Kind,
    pub from: usize,
    pub to: usize,
    pub gap: bool,
}

/// Most bytes of an HTML tag or an entity; longer ones are read as text, so that the cutter never looks far ahead.
const TAG: usize = 200;

/// Cuts the text. The tokens are in order and do not overlap; what lies between them is white space or invisible.
pub(super) fn cut(text: &str, lexicon: &Lexicon) -> Vec<Token> {
    let mut cutter = Cutter {
        text,
        lexicon,
        at: 0,
        gap: false,
        fresh: true,
        out: Vec::with_capacity(text.len() / 4 + 8),
        folded: String::new(),
        next_closing: None,
    };
    while cutter.step() {}
    cutter.out
}

struct Cutter<'a> {
    text: &'a str,
    lexicon: &'a Lexicon,
    at: usize,
    gap: bool,
    fresh: bool,
    out: Vec<Token>,
    folded: String,
    /// Where the next `>` stands, as far as it was looked for.
    next_closing: Option<usize>,
}

impl Cutter<'_> {
    fn put(&mut self, kind: Kind, length: usize) {
        let (from, to) = (self.at, self.at + length);
        if let (Kind::Hidden, false, Some(Token { kind: Kind::Hidden, to: end, .. })) = (kind, self.gap, self.out.last_mut()) {
            *end = to;
            self.at = to;
            return;
        }
        self.out.push(Token { kind, from, to, gap: self.gap });
        self.at = to;
        self.gap = false;
        self.fresh = kind == Kind::Break || (self.fresh && kind == Kind::Hidden);
    }

    fn step(&mut self) -> bool {
        let text = self.text;
        let Some(rest) = text.get(self.at..) else { return false };
        let mut chars = rest.chars();
        let Some(c) = chars.next() else { return false };
        let next = chars.next();
        let size = c.len_utf8();
        match c {
            '\r' if next == Some('\n') => self.put(Kind::Break, 2),
            '\n' | '\r' | '\u{85}' | '\u{2028}' | '\u{2029}' | '\u{0b}' | '\u{0c}' => self.put(Kind::Break, size),
            '\t' => self.put(Kind::Mark(Mark::Tab), 1),
            _ if c.is_whitespace() => {
                self.gap = true;
                self.at += size;
            }
            _ if fold::is_invisible(c) => self.at += size,
            _ if fold::digit(c).is_some() => self.figure(rest),
            '.' | ',' if self.starts_decimal(next) => self.figure(rest),
            'Â' if next.is_some_and(|c| !c.is_alphabetic()) => self.put(Kind::Hidden, size),
            'â' if next == Some('€') => self.mangled_mark(rest),
            'ï' if rest.starts_with("ï»¿") => self.put(Kind::Hidden, "ï»¿".len()),
            _ if c.is_alphabetic() => self.word(rest),
            _ => match fold::fraction(c) {
                Some(value) => self.put(Kind::Fraction(value), size),
                None => self.mark(c, rest),
            },
        }
        true
    }

    /// `.25`: a figure that starts with its mark, in front of no other figure or word.
    fn starts_decimal(&self, next: Option<char>) -> bool {
        let free = self.gap || self.out.last().is_none_or(|token| token.to < self.at || matches!(token.kind, Kind::Break | Kind::Mark(_)));
        let dots =
            matches!(self.out.last(), Some(Token { kind: Kind::Mark(Mark::Stop | Mark::Comma | Mark::Dots), to, .. }) if *to == self.at);
        free && !dots && next.is_some_and(|c| fold::digit(c).is_some())
    }

    fn figure(&mut self, rest: &str) {
        match numerals::read(rest) {
            Some(numeral) if numeral.code => self.put(Kind::Code, numeral.length),
            Some(numeral) => self.put(Kind::Figure(numeral), numeral.length),
            None => self.put(Kind::Mark(Mark::Other), rest.chars().next().map_or(1, char::len_utf8)),
        }
    }

    fn mangled_mark(&mut self, rest: &str) {
        let third = rest.chars().nth(2);
        let length = 'â'.len_utf8() + '€'.len_utf8() + third.map_or(0, char::len_utf8);
        match third {
            Some('“' | '”') => self.put(Kind::Mark(Mark::Dash), length),
            Some(_) => self.put(Kind::Hidden, length),
            None => self.put(Kind::Mark(Mark::Other), length),
        }
    }

    fn word(&mut self, rest: &str) {
        let mut folded = std::mem::take(&mut self.folded);
        folded.clear();
        let mut length = 0;
        let mut chars = rest.chars().peekable();
        while let Some(c) = chars.next() {
            let next = chars.peek().copied();
            if let ('Ã', Some(meant)) = (c, next.and_then(fold::mangled)) {
                fold::push(&mut folded, meant);
                length += c.len_utf8() + chars.next().map_or(0, char::len_utf8);
            } else if c.is_alphabetic()
                || (fold::is_invisible(c) && next.is_some_and(|n| n.is_alphabetic() || fold::is_invisible(n)))
                || matches!(c, '²' | '³' | '₂' | '₃')
            {
                fold::push(&mut folded, c);
                length += c.len_utf8();
            } else {
                break;
            }
        }
        let mut id = self.lexicon.word(&folded);
        if !id.is_known()
            && matches!(self.out.last(), Some(Token { kind: Kind::Figure(_) | Kind::Fraction(_), .. }))
            && let Some((unit, bytes)) = self.unit_ahead(rest.get(..length).unwrap_or(""))
        {
            self.put(Kind::Word(unit), bytes);
            self.folded = folded;
            return;
        }
        let tail = rest.get(length..).unwrap_or("");
        if tail.starts_with(|c: char| fold::digit(c).is_some()) && folded.len() < 24 {
            // `H2O`, `m2`: letters and figures are one word only where the lexicon knows it.
            let more: usize =
                tail.chars().take(24).take_while(|c| c.is_alphanumeric() && fold::fraction(*c).is_none()).map(char::len_utf8).sum();
            let whole = fold::fold(rest.get(..length + more).unwrap_or(""));
            let known = self.lexicon.exact(&whole);
            if known.is_known() {
                id = known;
                length += more;
            }
        }
        if tail.starts_with("://") {
            let more: usize = tail.chars().take_while(|c| !c.is_whitespace()).map(char::len_utf8).sum();
            self.put(Kind::Code, length + more);
        } else {
            self.put(Kind::Word(id), length);
        }
        self.folded = folded;
    }

    /// The unit that a word begins with, if the rest is a word as well: `gchalk` behind a figure.
    fn unit_ahead(&self, word: &str) -> Option<(WordId, usize)> {
        word.char_indices().skip(1).take(12).find_map(|(at, _)| {
            let unit = self.lexicon.exact(&fold::fold(word.get(..at)?));
            let is_unit = self.lexicon.next(0, unit).is_some_and(|node| self.lexicon.senses(node).unit.is_some());
            let rest = self.lexicon.exact(&fold::fold(word.get(at..)?));
            (is_unit && self.lexicon.is_stock(rest)).then_some((unit, at))
        })
    }

    fn mark(&mut self, c: char, rest: &str) {
        let size = c.len_utf8();
        let mark = match c {
            ',' | '،' | '、' | '，' => Mark::Comma,
            '.' if rest.starts_with("..") => {
                let dots = rest.bytes().take_while(|b| *b == b'.').count();
                return self.put(Kind::Mark(Mark::Dots), dots);
            }
            '…' => Mark::Dots,
            '.' | '。' => Mark::Stop,
            ';' | '；' => Mark::Semicolon,
            '?' | '？' => Mark::Question,
            '!' | '！' => Mark::Exclaim,
            ':' | '：' | '∶' => Mark::Colon,
            '-' if rest.starts_with("->") => return self.put(Kind::Mark(Mark::Arrow), 2),
            '=' if rest.starts_with("=>") => return self.put(Kind::Mark(Mark::Arrow), 2),
            '→' | '⇒' => Mark::Arrow,
            '-' | '‐' | '‑' | '‒' | '–' | '—' | '―' | '−' => Mark::Dash,
            '=' => Mark::Equals,
            '/' | '⁄' | '∕' | '÷' => Mark::Slash,
            '+' => Mark::Plus,
            '&' => return self.entity(rest),
            '|' | '¦' => Mark::Pipe,
            '(' | '[' | '{' | '（' => Mark::Open,
            ')' | ']' | '}' | '）' => Mark::Close,
            '%' | '％' | '٪' => Mark::Percent,
            '°' | 'º' | '℃' | '℉' => Mark::Degree,
            '$' | '£' | '€' | '¥' | '₽' => Mark::Currency,
            '*' if self.fresh || !rest.starts_with("* ") || !self.gap => return self.put(Kind::Hidden, size),
            '*' | '×' | '✕' | '✖' => Mark::Times,
            '#' => Mark::Hash,
            '∞' => Mark::Blank,
            '_' => {
                let run = rest.bytes().take_while(|b| *b == b'_').count();
                return self.put(if run > 1 { Kind::Mark(Mark::Blank) } else { Kind::Hidden }, run);
            }
            '~' if rest.starts_with("~~") => return self.put(Kind::Mark(Mark::Strike), 2),
            '~' | '≈' | '±' | '^' | '•' | '·' | '◦' | '▪' | '●' | '■' | '‣' | '⁃' | '✓' | '☐' | '☑' | '\\' | '"' | '“' | '”' | '„'
            | '«' | '»' | '\'' | '‘' | '’' | '‚' | '`' | '´' => {
                return self.put(Kind::Hidden, size);
            }
            '<' => return self.tag(rest),
            _ => Mark::Other,
        };
        // A run of one mark says no more than the mark; a row of empty cells does not either.
        let run = rest.chars().take_while(|other| *other == c).count();
        self.put(Kind::Mark(mark), size * run);
    }

    fn tag(&mut self, rest: &str) {
        let looks = rest.get(1..).is_some_and(|r| r.starts_with(|c: char| c.is_ascii_alphabetic() || c == '/' || c == '!'));
        // Looked for once and remembered: a text full of `<` costs no more than its length.
        let closing = self.next_closing.filter(|at| *at >= self.at).unwrap_or_else(|| rest.find('>').map_or(usize::MAX, |at| self.at + at));
        self.next_closing = Some(closing);
        let length = closing.saturating_sub(self.at).saturating_add(1);
        if looks && length <= TAG && !rest.get(..length).is_some_and(|tag| tag.contains('\n')) {
            self.put(Kind::Hidden, length);
        } else {
            self.put(Kind::Mark(Mark::Other), 1);
        }
    }

    fn entity(&mut self, rest: &str) {
        let body = rest.get(1..).unwrap_or("");
        let name = body.bytes().take(10).take_while(|b| b.is_ascii_alphanumeric() || *b == b'#').count();
        if name > 1 && body.as_bytes().get(name) == Some(&b';') {
            self.put(Kind::Hidden, name + 2);
            self.gap = true;
        } else {
            self.put(Kind::Mark(Mark::And), 1);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reading::lexicon::tests::small;
    use proptest::prelude::*;

    static WORDS: std::sync::LazyLock<Lexicon> = std::sync::LazyLock::new(small);

    proptest! {
        #[test]
        fn tokens_are_in_order_and_on_character_boundaries(text in any::<String>()) {
            let mut end = 0;
            for token in cut(&text, &WORDS) {
                prop_assert!(token.from >= end && token.to > token.from);
                prop_assert!(text.get(token.from..token.to).is_some());
                end = token.to;
            }
        }
    }

    #[test]
    fn marks_words_and_figures() {
        let kinds = |text: &str| cut(text, &WORDS).iter().filter(|t| !matches!(t.kind, Kind::Hidden)).count();
        assert_eq!(kinds("250g chalk"), 3);
        assert_eq!(kinds("<b>250 g</b> chalk"), 3);
        assert_eq!(kinds("12..15"), 3);
        assert_eq!(kinds("https://example.org/chalk-250g?x=20 chalk"), 2);
    }
}
