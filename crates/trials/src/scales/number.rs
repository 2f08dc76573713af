//! The one form in which numbers stand in tables.

/// A number written as digits with an optional point and minus sign: no plus sign, no exponent, no bare point, never infinite.
pub(super) fn number(text: &str) -> Option<f64> {
    let digits = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    let unsigned = text.strip_prefix('-').unwrap_or(text);
    let sound = match unsigned.split_once('.') {
        Some((whole, part)) => digits(whole) && digits(part),
        None => digits(unsigned),
    };
    if !sound {
        return None;
    }
    // Minus nought reads as nought, so that it is written back without its sign.
    text.parse::<f64>().ok().filter(|value| value.is_finite()).map(|value| value + 0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_plain_digits_are_numbers() {
        assert_eq!((number("2.5"), number("-0.05"), number("600")), (Some(2.5), Some(-0.05), Some(600.0)));
        for text in ["", "-", ".5", "5.", "1e3", "+2", "nan", "inf", "1.2.3", "1 2", "--1"] {
            assert_eq!(number(text), None, "{text}");
        }
        assert_eq!(number(&"9".repeat(400)), None);
        assert!(number("-0").unwrap().is_sign_positive());
    }
}
