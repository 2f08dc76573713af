//! Figures as written: decimal comma or point, thousands where that is safe.

use super::fold;

/// What a run of digits says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Numeral {
    /// Its value; infinite if it is too long to mean anything.
    pub value: f64,
    /// The other reading: `1,250` is also one and a quarter, `1.500` also fifteen hundred.
    pub other: Option<f64>,
    /// Bytes read.
    pub length: usize,
    /// Digits in a row without any mark, such as `0930`; else 0.
    pub plain_digits: usize,
    /// Whether a letter O or l stood among the digits, as scanners misread them.
    pub mended: bool,
    /// A date, a version or the like: no number at all.
    pub code: bool,
}

/// The longest figure that anybody could mean; more digits than this are not a quantity.
const MOST_DIGITS: usize = 24;

/// Reads a figure at the start of `text`, which begins with a digit, or with a mark followed by a digit.
pub(super) fn read(text: &str) -> Option<Numeral> {
    let mut groups: Vec<String> = vec![String::new()];
    let mut marks: Vec<char> = Vec::new();
    let mut ends: Vec<usize> = vec![0];
    let mut mended = false;
    let mut rest = text.char_indices().peekable();
    let mut length = 0;
    while let Some((at, c)) = rest.next() {
        if fold::is_invisible(c) && at > 0 {
            // Seen as nothing, so it parts no digits; it counts only if more digits follow.
            continue;
        }
        if let Some(value) = fold::digit(c) {
            groups.last_mut()?.push(char::from(b'0' + value));
            length = at + c.len_utf8();
            *ends.last_mut()? = length;
            continue;
        }
        let next_is_digit = rest.peek().is_some_and(|(_, next)| fold::digit(*next).is_some());
        if next_is_digit && is_mark(c) && groups.len() < 8 {
            marks.push(if matches!(c, '’' | '\u{a0}' | '\u{202f}' | '\u{2009}') { '\'' } else { c });
            groups.push(String::new());
            ends.push(length);
            continue;
        }
        let letter_o = matches!(c, 'O' | 'o') && length == at && at > 0;
        if letter_o && rest.clone().next().is_none_or(|(_, next)| !next.is_alphabetic() || matches!(next, 'O' | 'o')) {
            groups.last_mut()?.push('0');
            length = at + 1;
            *ends.last_mut()? = length;
            mended = true;
            continue;
        }
        break;
    }
    if length == 0 {
        return None;
    }
    let exponent = exponent(text.get(length..)?);
    let mut read = assemble(&groups, &marks, &ends)?;
    read.mended = mended;
    if let (Some((power, bytes)), false) = (exponent, read.code) {
        read.value *= 10f64.powi(power);
        read.other = None;
        read.length += bytes;
        read.plain_digits = 0;
    }
    Some(read)
}

fn is_mark(c: char) -> bool {
    matches!(c, '.' | ',' | '\'' | '’' | '\u{a0}' | '\u{202f}' | '\u{2009}')
}

/// `e99` or `E-3` right behind the digits and in front of no letter.
fn exponent(text: &str) -> Option<(i32, usize)> {
    let body = text.strip_prefix(['e', 'E'])?;
    let (negative, digits) = match body.strip_prefix('-') {
        Some(rest) => (true, rest),
        None => (false, body.strip_prefix('+').unwrap_or(body)),
    };
    let count = digits.bytes().take_while(u8::is_ascii_digit).count();
    if count == 0 || digits.chars().nth(count).is_some_and(char::is_alphanumeric) {
        return None;
    }
    let power: i32 = digits.get(..count)?.parse().unwrap_or(9999).min(9999);
    Some((if negative { -power } else { power }, text.len() - digits.len() + count))
}

fn assemble(groups: &[String], marks: &[char], ends: &[usize]) -> Option<Numeral> {
    let first = groups.first()?;
    let plain =
        |value: f64, length: usize, digits: usize| Numeral { value, other: None, length, plain_digits: digits, mended: false, code: false };
    let thousands = !first.is_empty() && first.len() <= 3 && groups.iter().skip(1).all(|group| group.len() == 3);
    let joined = groups.concat();
    if joined.len() > MOST_DIGITS && marks.is_empty() {
        return Some(plain(f64::INFINITY, *ends.last()?, 0));
    }
    match marks {
        [] => Some(plain(number(&joined)?, *ends.first()?, first.len())),
        ['\''] if !thousands => Some(plain(number(first)?, *ends.first()?, first.len())),
        ['\''] => Some(plain(number(&joined)?, *ends.last()?, 0)),
        [mark] => {
            let after = groups.get(1)?;
            let decimal = number(&format!("0{first}.{after}"))?;
            let whole = number(&joined)?;
            let may_be_thousands = thousands && !first.starts_with('0');
            let (value, other) = match (may_be_thousands, mark) {
                (true, ',') => (whole, Some(decimal)),
                (true, _) => (decimal, Some(whole)),
                _ => (decimal, None),
            };
            Some(Numeral { other, ..plain(value, *ends.last()?, 0) })
        }
        [mark, rest @ ..] if rest.iter().all(|other| other == mark) => {
            if thousands {
                Some(plain(number(&joined)?, *ends.last()?, 0))
            } else if *mark == '.' {
                Some(Numeral { code: true, ..plain(f64::NAN, *ends.last()?, 0) })
            } else {
                // A list such as `3,4,7`: one number at a time.
                Some(plain(number(first)?, *ends.first()?, first.len()))
            }
        }
        [mark, middle @ .., last] if middle.iter().all(|other| other == mark) => {
            let split = groups.len() - 1;
            let whole = groups.get(..split)?;
            if whole.iter().skip(1).all(|group| group.len() == 3) && first.len() <= 3 && *last != '\'' {
                let value = number(&format!("{}.{}", whole.concat(), groups.last()?))?;
                Some(plain(value, *ends.last()?, 0))
            } else {
                Some(Numeral { code: true, ..plain(f64::NAN, *ends.last()?, 0) })
            }
        }
        _ => Some(Numeral { code: true, ..plain(f64::NAN, *ends.last()?, 0) }),
    }
}

fn number(digits: &str) -> Option<f64> {
    if digits.is_empty() { None } else { digits.parse().ok() }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn value(text: &str) -> f64 {
        read(text).unwrap().value
    }

    #[test]
    fn comma_and_point() {
        for (text, expected) in [("250", 250.0), ("0,05", 0.05), ("0.75", 0.75), ("1,25", 1.25), ("1,250", 1250.0), ("1.250,5", 1250.5)] {
            assert!((value(text) - expected).abs() < 1e-12, "{text}");
        }
        for (text, expected) in
            [("1'000", 1000.0), ("1\u{202f}000", 1000.0), ("25O g", 250.0), ("3OO", 300.0), ("2.5", 2.5), ("1,234,567", 1_234_567.0)]
        {
            assert!((value(text) - expected).abs() < 1e-12, "{text}");
        }
    }

    #[test]
    fn what_could_be_either_says_so() {
        assert_eq!(read("1,250").unwrap().other, Some(1.25));
        assert_eq!(read("1.500").unwrap().other, Some(1500.0));
        assert_eq!(read("0,250").unwrap().other, None);
    }

    #[test]
    fn lists_dates_and_monsters() {
        assert_eq!(read("3,4,7").unwrap().length, 1);
        assert!(read("12.10.2024").unwrap().code);
        assert!(value("1e99") > 1e98);
        assert!(value(&"9".repeat(400)).is_infinite());
        assert!((value("20e 5") - 20.0).abs() < 1e-12);
    }
}
