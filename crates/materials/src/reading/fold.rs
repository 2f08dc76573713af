//! Letters made alike: small, without accents, so that `Schlämmkreide`, `SCHLAMMKREIDE` and full-width letters meet.

/// Characters that are written but not seen: joiners, direction marks, accents that stand alone, control characters.
pub(super) fn is_invisible(c: char) -> bool {
    matches!(
        c,
        '\u{00ad}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}'
            | '\u{fe00}'..='\u{fe0f}' | '\u{e0000}'..='\u{e007f}'
    ) || is_accent(c)
        || (c.is_control() && !matches!(c, '\t' | '\n' | '\r' | '\u{0b}' | '\u{0c}' | '\u{85}'))
}

/// Accents that combine with the letter before them.
fn is_accent(c: char) -> bool {
    matches!(c, '\u{0300}'..='\u{036f}' | '\u{1ab0}'..='\u{1aff}' | '\u{1dc0}'..='\u{1dff}' | '\u{20d0}'..='\u{20ff}')
}

/// The value of a decimal digit of any of the scripts that painters have sent.
pub(super) fn digit(c: char) -> Option<u8> {
    let first = match c {
        '0'..='9' => '0',
        '\u{0660}'..='\u{0669}' => '\u{0660}',
        '\u{06f0}'..='\u{06f9}' => '\u{06f0}',
        '\u{0966}'..='\u{096f}' => '\u{0966}',
        '\u{09e6}'..='\u{09ef}' => '\u{09e6}',
        '\u{ff10}'..='\u{ff19}' => '\u{ff10}',
        _ => return None,
    };
    u8::try_from(u32::from(c) - u32::from(first)).ok()
}

/// The value of a character that is a fraction by itself.
pub(super) fn fraction(c: char) -> Option<f64> {
    let (over, under) = match c {
        '½' => (1, 2),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅐' => (1, 7),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        '⅑' => (1, 9),
        '⅒' => (1, 10),
        _ => return None,
    };
    Some(f64::from(over) / f64::from(under))
}

/// Appends the plain form of one character; nothing for invisible ones.
pub(super) fn push(out: &mut String, c: char) {
    if c.is_ascii() {
        if !c.is_ascii_control() {
            out.push(c.to_ascii_lowercase());
        }
        return;
    }
    if is_invisible(c) {
        return;
    }
    if let Some(plain) = latin(c) {
        out.push_str(plain);
    } else if matches!(c, '\u{ff21}'..='\u{ff3a}' | '\u{ff41}'..='\u{ff5a}') {
        // Full-width letters stand a fixed distance behind the ordinary ones.
        out.extend(char::from_u32(u32::from(c).saturating_sub(0xfee0)).map(|plain| plain.to_ascii_lowercase()));
    } else {
        out.extend(c.to_lowercase());
    }
}

/// The plain form of a word.
pub(super) fn fold(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        push(&mut out, c);
    }
    out
}

fn latin(c: char) -> Option<&'static str> {
    Some(match c {
        'À'..='Å' | 'à'..='å' | 'Ā'..='ą' | 'ª' => "a",
        'Ç' | 'ç' | 'Ć'..='č' => "c",
        'Ď'..='đ' | 'Ð' | 'ð' => "d",
        'È'..='Ë' | 'è'..='ë' | 'Ē'..='ě' => "e",
        'Ĝ'..='ģ' => "g",
        'Ĥ'..='ħ' => "h",
        'Ì'..='Ï' | 'ì'..='ï' | 'Ĩ'..='ı' => "i",
        'Ĵ' | 'ĵ' => "j",
        'Ķ'..='ĸ' => "k",
        'Ĺ'..='ł' => "l",
        'Ñ' | 'ñ' | 'Ń'..='ŋ' => "n",
        'Ò'..='Ö' | 'ò'..='ö' | 'Ø' | 'ø' | 'Ō'..='ő' | 'º' => "o",
        'Œ' | 'œ' => "oe",
        'Æ' | 'æ' => "ae",
        'Ŕ'..='ř' => "r",
        'Ś'..='š' => "s",
        'ß' | 'ẞ' => "ss",
        'Ţ'..='ŧ' => "t",
        'Ù'..='Ü' | 'ù'..='ü' | 'Ũ'..='ų' | 'µ' | 'μ' => "u",
        'Ý' | 'ý' | 'ÿ' | 'Ÿ' => "y",
        'Ź'..='ž' => "z",
        '²' | '₂' => "2",
        '³' | '₃' => "3",
        '₀' => "0",
        '₁' => "1",
        '₄' => "4",
        'ﬁ' => "fi",
        'ﬂ' => "fl",
        _ => return None,
    })
}

/// Letters that were written in one character set and read in another: `Ã` before these stands for one accented letter.
pub(super) fn mangled(after: char) -> Option<char> {
    Some(match after {
        'Ÿ' => 'ß',
        '¤' => 'ä',
        '¶' => 'ö',
        '¼' => 'ü',
        '©' => 'é',
        '¨' => 'è',
        'ª' => 'ê',
        '«' => 'ë',
        '±' => 'ñ',
        '§' => 'ç',
        '³' => 'ó',
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spelling_does_not_matter() {
        assert_eq!(fold("Schlämmkreide"), "schlammkreide");
        assert_eq!(fold("ZinkWEISS"), fold("Zinkweiß"));
        assert_eq!(fold("caséine"), fold("case\u{301}ine"));
        assert_eq!(fold("ｃｈａｌｋ"), "chalk");
        assert_eq!(fold("ch\u{200b}alk"), "chalk");
    }

    #[test]
    fn digits_of_other_scripts() {
        assert_eq!("２５٠".chars().filter_map(digit).collect::<Vec<_>>(), [2, 5, 0]);
        assert_eq!(fraction('¾'), Some(0.75));
    }
}
