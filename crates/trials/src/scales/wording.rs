//! The ways in which people write numbers, ranges and units.

use super::number::number;

/// Longer texts are no readings.
pub(super) const LONGEST: usize = 60;

/// Words for a unit, and how many of the scale's unit it is; definitions.
const UNIT_WORDS: [(&str, &str, f64); 29] = [
    ("s", "s", 1.0),
    ("s", "sec", 1.0),
    ("s", "secs", 1.0),
    ("s", "second", 1.0),
    ("s", "seconds", 1.0),
    ("s", "min", 60.0),
    ("s", "mins", 60.0),
    ("s", "minute", 60.0),
    ("s", "minutes", 60.0),
    ("s", "h", 3600.0),
    ("s", "hour", 3600.0),
    ("s", "hours", 3600.0),
    ("mm", "mm", 1.0),
    ("mm", "cm", 10.0),
    ("mm", "um", 0.001),
    ("mm", "µm", 0.001),
    ("mm", "in", 25.4),
    ("um", "um", 1.0),
    ("um", "µm", 1.0),
    ("um", "micron", 1.0),
    ("um", "microns", 1.0),
    ("um", "mm", 1000.0),
    ("um", "mil", 25.4),
    ("um", "mils", 25.4),
    ("%", "%", 1.0),
    ("%", "percent", 1.0),
    ("%", "per cent", 1.0),
    ("coats", "coat", 1.0),
    ("coats", "coats", 1.0),
];

/// How many of `unit` the unit called `word` is.
pub(super) fn factor_of(word: &str, unit: &str) -> Option<f64> {
    UNIT_WORDS.iter().find(|(of, name, _)| *of == unit && *name == word).map(|(_, _, factor)| *factor)
}

/// Small letters, single spaces, points for decimals, plain minus and dots.
pub(super) fn tidy(typed: &str) -> String {
    let mut text: String = typed.chars().take(LONGEST * 4).collect::<String>().to_lowercase();
    for (from, to) in [("½", " 1/2"), ("–", "-"), ("—", "-"), ("−", "-"), ("…", ".."), ("\u{3bc}m", "µm")] {
        text = text.replace(from, to);
    }
    let mut words: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match words.last_mut() {
            Some(whole) if word == "1/2" && number(whole).is_some_and(|value| value.fract() == 0.0) => whole.push_str(".5"),
            _ => words.push(word.to_owned()),
        }
    }
    decimal_points(&words.join(" "))
}

/// A comma between figures is a decimal point, unless three figures follow it: `1,000` may be a thousand, so it keeps its comma.
fn decimal_points(text: &str) -> String {
    let letters: Vec<char> = text.chars().collect();
    let figure = |at: Option<usize>| at.and_then(|at| letters.get(at)).is_some_and(char::is_ascii_digit);
    let decimal = |at: usize| {
        let behind = letters.iter().skip(at + 1).take_while(|letter| letter.is_ascii_digit()).count();
        let nought_before = letters.get(at.wrapping_sub(1)) == Some(&'0') && !figure(at.checked_sub(2));
        figure(at.checked_sub(1)) && behind > 0 && (behind != 3 || nought_before)
    };
    letters.iter().enumerate().map(|(at, letter)| if *letter == ',' && decimal(at) { '.' } else { *letter }).collect()
}

/// `2(s3)b` as number, size and depth; the last may be empty.
pub(super) fn parts(text: &str) -> Option<(&str, &str, &str)> {
    let (main, rest) = text.split_once('(')?;
    let (size, depth) = rest.split_once(')')?;
    Some((main.trim(), size.trim().strip_prefix('s')?.trim(), depth.trim()))
}

/// `5 of 25`, `5 out of 25`, `5/25`.
pub(super) fn counted(text: &str) -> Option<(f64, f64)> {
    let (lost, of) = text.split_once(" out of ").or_else(|| text.split_once(" of ")).or_else(|| text.split_once('/'))?;
    Some((number(lost.trim())?, number(of.trim().trim_end_matches("squares").trim())?))
}

/// A number with a word for the unit behind it, in that unit; several may follow each other, as in `1 min 30 s`.
pub(super) fn with_unit(text: &str, unit: &str) -> Option<f64> {
    let mut rest = text.trim();
    let mut sum = 0.0;
    if rest.is_empty() {
        return None;
    }
    while !rest.is_empty() {
        let split = rest.find(|letter: char| !letter.is_ascii_digit() && letter != '.').filter(|at| *at > 0)?;
        let (figures, behind) = rest.split_at(split);
        let behind = behind.trim_start();
        let end = behind.find(|letter: char| letter.is_ascii_digit()).unwrap_or(behind.len());
        let (word, next) = behind.split_at(end);
        let factor = factor_of(word.trim(), unit)?;
        sum += number(figures)? * factor;
        rest = next;
    }
    Some(sum)
}

/// `3-7`; a minus in front is a sign.
pub(super) fn split_at_dash(text: &str) -> Option<(&str, &str)> {
    let at = text.char_indices().skip(1).find(|(_, letter)| *letter == '-')?.0;
    let (low, high) = text.split_at(at);
    Some((low, high.strip_prefix('-')?))
}
