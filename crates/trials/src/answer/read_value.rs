//! One value of the table: `2.5`, `>600`, `<0.05`, `3..7`, `yes`, or nothing.

use super::readings::{Kind, Seen};

/// Beyond this no measure of a board lies.
const MOST: f64 = 1e9;

/// What is wrong with a value, and a text that would be right.
pub(super) type Wrong = (String, &'static str);

/// Reads a value of this kind; `None` for an empty field.
pub(super) fn read_value(text: &str, kind: Kind) -> Result<Option<Seen>, Wrong> {
    let text = text.trim();
    if text.is_empty() {
        return Ok(None);
    }
    if kind == Kind::YesNo {
        return match text.to_ascii_lowercase().as_str() {
            "yes" | "y" | "true" | "1" => Ok(Some(Seen::exactly(1.0))),
            "no" | "n" | "false" | "0" => Ok(Some(Seen::exactly(0.0))),
            _ => Err((format!("`{text}` is neither yes nor no"), "write yes or no")),
        };
    }
    let seen = open_or_exact(text)?;
    let exact = seen.exact();
    if exact.is_none() && matches!(kind, Kind::Class | Kind::Count) {
        return Err((format!("`{text}` is no single number"), "a class or a count is one number, such as 3"));
    }
    let whole = exact.is_some_and(|value| value.fract().abs() <= 0.0);
    let least = if exact.is_none() { 0.0 } else { least(kind) };
    let most = if kind == Kind::Class {
        5.0
    } else if kind == Kind::Share {
        1.0
    } else {
        MOST
    };
    if seen.low < least || (seen.high > most && seen.high.is_finite()) || seen.low > most {
        return Err((format!("`{text}` lies outside what a {} can be", kind.name()), range_words(kind)));
    }
    if kind == Kind::Count && !whole {
        return Err((format!("`{text}` is no whole number"), "a count is a whole number, such as 3"));
    }
    Ok(Some(seen))
}

fn least(kind: Kind) -> f64 {
    if matches!(kind, Kind::Strain | Kind::Number) { -MOST } else { 0.0 }
}

fn range_words(kind: Kind) -> &'static str {
    match kind {
        Kind::Class => "write a class from 0 to 5",
        Kind::Share => "write a share from 0 to 1, such as 0.25 for a quarter",
        _ => "write a number from 0 up, below a thousand million, such as 2.5",
    }
}

fn open_or_exact(text: &str) -> Result<Seen, Wrong> {
    if let Some(above) = text.strip_prefix('>') {
        return Ok(Seen { low: number(above)?, high: f64::INFINITY });
    }
    if let Some(below) = text.strip_prefix('<') {
        let high = number(below)?;
        return if high > 0.0 {
            Ok(Seen { low: 0.0, high })
        } else {
            Err((format!("`{text}` leaves nothing below"), "write `<` and a number above 0"))
        };
    }
    if let Some((low, high)) = text.split_once("..") {
        let (low, high) = (number(low)?, number(high)?);
        return if low < high {
            Ok(Seen { low, high })
        } else {
            Err((format!("`{text}` runs backwards"), "write the smaller end first, such as `3..7`"))
        };
    }
    number(text).map(Seen::exactly)
}

/// A number with a point; no words such as `inf` that some readers take.
pub(super) fn number(text: &str) -> Result<f64, Wrong> {
    let text = text.trim();
    let plain = !text.is_empty() && text.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | '-' | '+' | 'e' | 'E'));
    let value = if plain { text.parse::<f64>().ok().filter(|value| value.is_finite()) } else { None };
    value.ok_or_else(|| {
        (format!("`{text}` is no number"), "write a number with a point, such as 2.5, or >600, <0.05, 3..7, or leave it empty")
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ways_to_write_a_value() {
        let seen = |text, kind| read_value(text, kind).unwrap();
        assert_eq!(seen("2.5", Kind::Length), Some(Seen::exactly(2.5)));
        assert_eq!(seen(">600", Kind::Thickness), Some(Seen { low: 600.0, high: f64::INFINITY }));
        assert_eq!(seen("<0.05", Kind::Share), Some(Seen { low: 0.0, high: 0.05 }));
        assert_eq!(seen(" 3..7 ", Kind::Time), Some(Seen { low: 3.0, high: 7.0 }));
        assert_eq!(seen("", Kind::YesNo), None);
        assert_eq!(seen("Yes", Kind::YesNo), Some(Seen::exactly(1.0)));
        assert_eq!(seen("-0.002", Kind::Strain), Some(Seen::exactly(-0.002)));
        for (text, kind) in [
            ("maybe", Kind::YesNo),
            ("6", Kind::Class),
            ("2..3", Kind::Class),
            ("1.5", Kind::Count),
            ("-1", Kind::Length),
            ("7..3", Kind::Time),
            ("inf", Kind::Number),
            ("nan", Kind::Number),
            ("1e999", Kind::Number),
            ("<0", Kind::Time),
            ("25", Kind::Share),
            (">", Kind::Time),
            ("2,5", Kind::Length),
        ] {
            assert!(read_value(text, kind).is_err(), "{text}");
        }
    }

    proptest::proptest! {
        #[test]
        fn nothing_panics(text in ".{0,20}") {
            for (_, kind) in Kind::NAMED {
                let _ = read_value(&text, kind);
            }
        }
    }
}
