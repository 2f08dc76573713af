//! Makes any text fit to be set: no control characters, nothing that turns the line round, no sign without a shape, no word wider
//! than a page.

use std::fmt::Write as _;

use serde_json::Value;

use crate::PaperError;
use crate::world;

/// Longest single text, in characters: some ten pages of it.
pub(crate) const MOST: usize = 30_000;
/// Letters without a gap that stay whole.
const LONGEST_WORD: usize = 40;
/// Where a longer one may be parted.
const PART: usize = 12;
/// A place to part a line that leaves no mark.
const MAY_PART: char = '\u{200b}';

/// Every text in the data, made fit.
///
/// # Errors
/// A text beyond [`MOST`] characters.
pub(crate) fn fit(data: &mut Value) -> Result<(), PaperError> {
    match data {
        Value::String(text) => {
            *text = settable(text)?;
            Ok(())
        }
        Value::Array(each) => each.iter_mut().try_for_each(fit),
        Value::Object(each) => each.values_mut().try_for_each(fit),
        _ => Ok(()),
    }
}

/// One text, made fit.
///
/// # Errors
/// More than [`MOST`] characters.
pub(crate) fn settable(text: &str) -> Result<String, PaperError> {
    let length = text.chars().count();
    if length > MOST {
        return Err(PaperError::TooLong { begins: drawable(text).chars().take(40).collect(), length, most: MOST });
    }
    Ok(parted(&drawable(text)))
}

/// The text in signs that the program's faces can draw. A sign without a shape is written as its number, such as `[U+1F600]`, so that
/// a reader sees that something stood there.
pub(crate) fn drawable(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for sign in text.chars() {
        match sign {
            sign if sign.is_control() => out.push(' '),
            sign if leaves_no_mark(sign) => {}
            sign if sign == ' ' || (!is_private(sign) && world::draws(sign)) => out.push(sign),
            sign => {
                let number = u32::from(sign);
                let _ = write!(out, "[U+{number:04X}]");
            }
        }
    }
    out
}

/// Joiners, selectors of a shape, marks of order, and signs that turn the line: a page set from many people's words must not let one
/// of them reorder its neighbours.
fn leaves_no_mark(sign: char) -> bool {
    matches!(sign,
        '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}'
        | '\u{fe00}'..='\u{fe0f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{e0000}'..='\u{e0fff}')
}

fn is_private(sign: char) -> bool {
    matches!(u32::from(sign), 0xe000..=0xf8ff | 0xf_0000..=0x10_ffff)
}

/// Lets very long words part.
fn parted(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for piece in text.split_inclusive(' ') {
        if piece.chars().count() <= LONGEST_WORD {
            out.push_str(piece);
            continue;
        }
        for (place, sign) in piece.chars().enumerate() {
            if place > 0 && place % PART == 0 {
                out.push(MAY_PART);
            }
            out.push(sign);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn signs_without_a_shape_are_written_as_numbers() {
        assert_eq!(drawable("chalk \u{1f3a8} and glue"), "chalk [U+1F3A8] and glue");
        assert_eq!(drawable("a\tb\u{0}c\nd"), "a b c d");
        assert_eq!(drawable("\u{e000}"), "[U+E000]");
        for plain in ["½ µm ≤ 3 ² – „Kreide“ žluť Ω ж", "שלום", "#$*_@\\<>[]{}`~=-+/"] {
            assert_eq!(drawable(plain), plain);
        }
    }

    #[test]
    fn nobody_turns_the_line_round() {
        assert_eq!(drawable("lot \u{202e}321\u{202c} a\u{200d}b\u{feff}"), "lot 321 ab");
    }

    #[test]
    fn a_word_wider_than_the_page_may_part() {
        let parted = parted(&"a".repeat(100));
        assert_eq!(parted.matches(MAY_PART).count(), 8);
        assert_eq!(parted.replace(MAY_PART, "").len(), 100);
        assert_eq!(super::parted("short words stay as they are, each of them"), "short words stay as they are, each of them");
    }

    #[test]
    fn a_text_without_end_is_refused_with_its_first_words() {
        let mut data = serde_json::json!({ "a": ["x", "tide ".repeat(10_000)] });
        let error = fit(&mut data).unwrap_err().to_string();
        assert!(error.contains("50000 characters") && error.contains("tide tide"), "{error}");
    }
}
