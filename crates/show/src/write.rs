//! The one writer of numbers: digits follow the doubt, so that no page claims more than it knows.

use measure::{Figure, Unit, Vessel, VesselSet};

/// A figure in words: `about 39` with `33 to 45` and its unit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Written {
    /// The value.
    pub value: String,
    /// The range that holds eight draws of ten; empty for a figure without doubt.
    pub range: String,
    /// The unit as a painter reads it; empty for bare ratios.
    pub unit: &'static str,
}

impl Written {
    /// All in one line, such as `39 µm (33 to 45)`.
    pub fn line(&self) -> String {
        let unit = if self.unit.is_empty() { String::new() } else { format!("\u{a0}{}", self.unit) };
        if self.range.is_empty() { format!("{}{unit}", self.value) } else { format!("{}{unit} ({})", self.value, self.range) }
    }
}

/// Writes a figure with as many digits as half its width carries; three digits when there is no doubt.
///
/// ```
/// use measure::{Figure, Unit};
/// let dry = Figure { key: "dry_um", value: 38.73, low: 32.9, high: 44.6, unit: Unit::Micrometres };
/// assert_eq!(show::write(&dry).line(), "39\u{a0}µm (33 to 45)");
/// ```
pub fn write(figure: &Figure) -> Written {
    let step = step_of(figure.value, figure.width() / 2.0);
    let range =
        if figure.width() > 0.0 { format!("{} to {}", stepped(figure.low, step), stepped(figure.high, step)) } else { String::new() };
    Written { value: stepped(figure.value, step), range, unit: unit_word(figure.unit) }
}

fn unit_word(unit: Unit) -> &'static str {
    match unit {
        Unit::One => "",
        Unit::Micrometres => "µm",
        Unit::GramsPerSquareMetre => "g/m²",
        Unit::MillimetresPerSquareMillimetre => "mm/mm²",
        Unit::SquareMillimetres => "mm²",
        Unit::PerSquareCentimetre => "a\u{a0}cm²",
        Unit::Degrees => "°",
        other => other.symbol(),
    }
}

/// The place of the last digit worth writing: the first digit of the half-width, one finer if that digit is a 1.
fn step_of(value: f64, half: f64) -> f64 {
    if half > 0.0 && half.is_finite() {
        let place = half.log10().floor();
        let first = half / 10f64.powf(place);
        let step = 10f64.powf(if first < 2.0 { place - 1.0 } else { place });
        // Four digits are enough for anything that is weighed at a table.
        let finest = if value.abs() < f64::MIN_POSITIVE { 1e-6 } else { 10f64.powf(value.abs().log10().floor() - 3.0) };
        return step.max(finest).clamp(1e-6, 1e6);
    }
    let size = value.abs();
    if size > 0.0 { 10f64.powf(size.log10().floor() - 2.0).clamp(1e-6, 1e6) } else { 1.0 }
}

fn stepped(value: f64, step: f64) -> String {
    if !value.is_finite() {
        return "not known".into();
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a step of 1e-6 or more gives at most six places")]
    let places = if step >= 1.0 { 0 } else { (-step.log10()).round() as usize };
    let rounded = (value / step).round() * step;
    let text = format!("{rounded:.places$}");
    // Minus zero is zero, and a minus sign is not a hyphen.
    let text =
        if text.trim_start_matches('-').chars().all(|c| matches!(c, '0' | '.')) { text.trim_start_matches('-').to_owned() } else { text };
    text.replacen('-', "\u{2212}", 1)
}

/// A number with this many digits after the point.
pub fn number(value: f64, places: usize) -> String {
    stepped(value, 10f64.powi(-i32::try_from(places).unwrap_or(0)))
}

/// A number with three digits that matter, without an idle tail of zeros: `250`, `2.75`, `0.31`.
pub fn plain(value: f64) -> String {
    let text = stepped(value, step_of(value, 0.0));
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// A range as `80 to 110`, with digits that follow its width.
pub fn range(low: f64, high: f64) -> String {
    let step = step_of(high, (high - low) / 2.0);
    format!("{} to {}", stepped(low, step), stepped(high, step))
}

/// A share as a whole number of hundredths: `45 %`.
pub fn percent(share: f64) -> String {
    format!("{}\u{a0}%", stepped(share * 100.0, 1.0))
}

/// A factor as people say it: "half", "about twice", "1.6 times".
pub fn times(factor: f64) -> String {
    for (at, words) in [
        (0.25, "about a quarter of"),
        (1.0 / 3.0, "about a third of"),
        (0.5, "about half"),
        (2.0 / 3.0, "about two thirds of"),
        (0.75, "about three quarters of"),
        (2.0, "about twice"),
        (3.0, "about three times"),
        (4.0, "about four times"),
    ] {
        if (factor / at - 1.0).abs() < 0.08 {
            return words.into();
        }
    }
    if (factor - 1.0).abs() < 0.12 {
        return "about as much as".into();
    }
    if factor < 0.2 {
        return "less than a fifth of".into();
    }
    if factor > 9.5 {
        return "more than nine times".into();
    }
    format!("about {} times", stepped(factor, 0.1))
}

/// A volume in US cups or spoons, to the nearest quarter or third that a kitchen has: `1¼ US cups`, `2 tsp`; empty from a hundred cups.
/// Quantities under an eighth of a teaspoon are "a pinch".
pub fn kitchen(ml: f64) -> String {
    let [cup, tablespoon, teaspoon] = [Vessel::Cup, Vessel::Tablespoon, Vessel::Teaspoon].map(|vessel| VesselSet::US.holds(vessel).value());
    if !ml.is_finite() || ml <= 0.0 {
        return "none".into();
    }
    // Nobody counts cups by the hundred.
    if ml >= cup * 100.0 {
        return String::new();
    }
    if ml >= cup * 0.24 {
        return counted(ml / cup, "US cup", "US cups");
    }
    if ml >= tablespoon * 0.9 {
        return counted(ml / tablespoon, "tbsp", "tbsp");
    }
    if ml >= teaspoon / 8.0 {
        return counted(ml / teaspoon, "tsp", "tsp");
    }
    "a pinch".into()
}

fn counted(amount: f64, one: &str, many: &str) -> String {
    const PARTS: [(f64, &str); 7] = [(0.0, ""), (0.25, "¼"), (1.0 / 3.0, "⅓"), (0.5, "½"), (2.0 / 3.0, "⅔"), (0.75, "¾"), (1.0, "")];
    if amount >= 10.0 {
        return format!("{} {many}", stepped(amount, 1.0));
    }
    let whole = amount.floor();
    let rest = amount - whole;
    let (part, sign) = PARTS.into_iter().min_by(|a, b| (a.0 - rest).abs().total_cmp(&(b.0 - rest).abs())).unwrap_or((0.0, ""));
    let (whole, part) = if part > 0.99 { (whole + 1.0, 0.0) } else { (whole, part) };
    let name = if whole + part > 1.01 { many } else { one };
    match (whole < 0.5, sign.is_empty()) {
        (true, true) => format!("¼ {one}"),
        (true, false) => format!("{sign} {name}"),
        (false, _) => format!("{}{sign} {name}", stepped(whole, 1.0)),
    }
}

/// Minutes as people say them: `25 min`, `3 h 20 min`, `2 days`.
///
/// ```
/// assert_eq!(show::lasting(200), "3\u{a0}h 20\u{a0}min");
/// assert_eq!(show::lasting(2 * 1440 + 30), "2 days");
/// ```
pub fn lasting(minutes: i64) -> String {
    let minutes = minutes.max(0);
    match (minutes / 60, minutes % 60) {
        (0, rest) => format!("{rest}\u{a0}min"),
        (hours, 0) if hours < 48 => format!("{hours}\u{a0}h"),
        (hours, rest) if hours < 10 => format!("{hours}\u{a0}h {rest}\u{a0}min"),
        (hours, rest) if hours < 48 => format!("{}\u{a0}h", hours + i64::from(rest >= 30)),
        (hours, _) => format!("{} days", hours / 24),
    }
}

/// A name as a part of an address: what is neither letter nor digit goes in as its bytes.
///
/// ```
/// assert_eq!(show::path_part("A/2 ü"), "A%2F2%20%C3%BC");
/// ```
pub fn path_part(name: &str) -> String {
    use std::fmt::Write as _;
    let mut out = String::with_capacity(name.len());
    for byte in name.bytes() {
        if byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'_' | b'~') {
            out.push(char::from(byte));
        } else {
            let _ = write!(out, "%{byte:02X}");
        }
    }
    out
}

/// The words with a capital at the head, as a sentence wants them.
pub fn capital(words: &str) -> String {
    let mut chars = words.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn figure(value: f64, low: f64, high: f64) -> Figure {
        Figure { key: "x", value, low, high, unit: Unit::One }
    }

    #[test]
    fn digits_follow_the_doubt() {
        assert_eq!(write(&figure(0.824_12, 0.79, 0.85)).line(), "0.82 (0.79 to 0.85)");
        assert_eq!(write(&figure(1234.0, 1000.0, 1500.0)).line(), "1200 (1000 to 1500)");
        assert_eq!(write(&figure(12.34, 12.34, 12.34)).line(), "12.3");
        assert_eq!(write(&figure(0.0, 0.0, 0.0)).line(), "0");
        assert_eq!(write(&figure(-1.5, -2.5, -0.5)).value, "\u{2212}1.5");
        assert_eq!(write(&figure(f64::NAN, 0.0, 1.0)).value, "not known");
    }

    #[test]
    fn factors_as_people_say_them() {
        assert_eq!(times(2.05), "about twice");
        assert_eq!(times(0.48), "about half");
        assert_eq!(times(1.05), "about as much as");
        assert_eq!(times(1.6), "about 1.6 times");
        assert_eq!(times(25.0), "more than nine times");
    }

    #[test]
    fn kitchen_measures_by_nist_definitions() {
        // NIST Handbook 44: cup 236.588 ml, tablespoon 14.787 ml, teaspoon 4.929 ml.
        assert_eq!(kitchen(236.6), "1 US cup");
        assert_eq!(kitchen(215.0), "1 US cup");
        assert_eq!(kitchen(591.5), "2½ US cups");
        assert_eq!(kitchen(78.9), "⅓ US cup");
        assert_eq!(kitchen(29.6), "2 tbsp");
        assert_eq!(kitchen(4.93), "1 tsp");
        assert_eq!(kitchen(0.3), "a pinch");
        assert_eq!(kitchen(4000.0), "17 US cups");
    }

    proptest::proptest! {
        #[test]
        fn any_number_is_written_without_panic(value in proptest::num::f64::ANY, low in proptest::num::f64::ANY, high in proptest::num::f64::ANY) {
            let _ = write(&figure(value, low, high)).line();
            let _ = (kitchen(value), times(value), plain(value), percent(value));
        }
    }
}
