//! Lengths and two sides of something flat, as people write them.

use std::ops::RangeInclusive;

use crate::{Dimension, Millimetres, Units};

/// Two sides of something flat, across first.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sides {
    /// As it lies: from left to right.
    pub across: Millimetres,
    /// From top to bottom.
    pub down: Millimetres,
}

/// Why a text tells no size.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SidesError {
    /// Not a length, or not two of them.
    #[error("\u{201c}{told}\u{201d} is no size; say it as \u{201c}{}\u{201d}", if *.sides == 2 { "20 x 25 cm\u{201d} or \u{201c}8 x 10 in" } else { "2 cm\u{201d} or \u{201c}18 mm" })]
    NoSize {
        /// What was told, shortened.
        told: String,
        /// How many lengths were asked for.
        sides: usize,
    },
    /// Numbers alone: ten times too large or too small would be taken as readily.
    #[error("\u{201c}{0}\u{201d} in which unit? Say mm, cm or in behind it")]
    NoUnit(String),
    /// A mark between figures that divides thousands for some and tenths for others.
    #[error("\u{201c}{0}\u{201d} may mean thousands or parts of one; write it without the comma or point, or in another unit")]
    Thousands(String),
    /// Too small or too large.
    #[error("\u{201c}{told}\u{201d} is {}: a side here lies between {least} and {most} mm", if *.small { "too small" } else { "too large" })]
    Range {
        /// What was told, shortened.
        told: String,
        /// Least side, mm.
        least: f64,
        /// Largest side, mm.
        most: f64,
        /// Below the least, or above the largest.
        small: bool,
    },
}

/// Letters of a text that are said again.
const MOST_SAID: usize = 40;

impl Sides {
    /// Two sides from text such as `20x25cm`, `8 1/2 by 11 in`, `1.2 m x 90 cm`, `4' 6" x 8'`. A unit that stands on one side alone is the
    /// other's too; words come from the table of units. `range` in mm is for each side.
    ///
    /// # Errors
    /// Not two lengths, no unit, or out of range.
    ///
    /// ```
    /// use measure::{Sides, SidesError, Units};
    /// let units = Units::builtin()?;
    /// let read = |text| Sides::read(text, &units, 10.0..=3000.0);
    /// assert_eq!(read("8 x 10 in").unwrap().across.value(), 203.2); // 25.4 mm an inch, by definition
    /// assert!(matches!(read("20 x 25"), Err(SidesError::NoUnit(_))));
    /// # Ok::<(), measure::UnitsError>(())
    /// ```
    pub fn read(text: &str, units: &Units, range: RangeInclusive<f64>) -> Result<Self, SidesError> {
        match lengths(text, units, 2, &range)?.as_slice() {
            [across, down] => Ok(Self { across: Millimetres::new(*across), down: Millimetres::new(*down) }),
            _ => Err(no_size(text, 2)),
        }
    }

    /// Both sides as bare numbers, mm.
    #[must_use]
    pub const fn mm(self) -> (f64, f64) {
        (self.across.value(), self.down.value())
    }
}

impl Millimetres {
    /// A length from text such as `18 mm`, `1/2 in`; `range` in mm.
    ///
    /// # Errors
    /// Not one length, no unit, or out of range.
    ///
    /// ```
    /// let units = measure::Units::builtin()?;
    /// assert_eq!(measure::Millimetres::read("1/2 in", &units, 0.1..=500.0).unwrap().value(), 12.7);
    /// # Ok::<(), measure::UnitsError>(())
    /// ```
    pub fn read(text: &str, units: &Units, range: RangeInclusive<f64>) -> Result<Self, SidesError> {
        match lengths(text, units, 1, &range)?.as_slice() {
            [one] => Ok(Self::new(*one)),
            _ => Err(no_size(text, 1)),
        }
    }
}

fn said(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ").chars().take(MOST_SAID).collect()
}

fn no_size(text: &str, sides: usize) -> SidesError {
    SidesError::NoSize { told: said(text), sides }
}

/// A part of the text.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Part {
    Number(f64),
    /// Millimetres in a unit.
    Unit(f64),
    /// Between two sides.
    By,
}

fn lengths(text: &str, units: &Units, sides: usize, range: &RangeInclusive<f64>) -> Result<Vec<f64>, SidesError> {
    let parts = parts(text, units).ok_or_else(|| no_size(text, sides))?;
    let told = parts.split(|part| *part == Part::By).map(side).collect::<Option<Vec<Told>>>();
    let told = told.filter(|told| told.len() == sides).ok_or_else(|| no_size(text, sides))?;
    let unit = told.iter().find_map(|side| match side {
        Told::Bare(_) => None,
        Told::Length { unit, .. } => *unit,
    });
    let length = |side| match side {
        Told::Bare(number) => unit.map(|unit| number * unit),
        Told::Length { mm, .. } => Some(mm),
    };
    let lengths = told.into_iter().map(length).collect::<Option<Vec<f64>>>().ok_or_else(|| SidesError::NoUnit(said(text)))?;
    // Nobody cuts to a thousandth of a millimetre or a centimetre.
    let small_units = parts.iter().any(|part| matches!(part, Part::Unit(mm) if *mm <= 10.0));
    if thousands(text, ',') || (small_units && thousands(text, '.')) {
        return Err(SidesError::Thousands(said(text)));
    }
    match lengths.iter().find(|length| !range.contains(length)) {
        Some(length) => {
            Err(SidesError::Range { told: said(text), least: *range.start(), most: *range.end(), small: length < range.start() })
        }
        None => Ok(lengths),
    }
}

/// One side as told.
enum Told {
    /// A number without a unit.
    Bare(f64),
    /// A length, and what a bare number beside it has if one unit was said.
    Length { mm: f64, unit: Option<f64> },
}

/// Millimetres of units that are said one after the other: feet and inches, metres and centimetres.
const CHAINS: [(f64, f64); 2] = [(304.8, 25.4), (1000.0, 10.0)];

/// Whether a mark has three figures behind it and a number before it.
fn thousands(text: &str, mark: char) -> bool {
    let figures = |text: &str| text.chars().take_while(char::is_ascii_digit).count();
    text.match_indices(mark).any(|(at, _)| {
        let (before, behind) = (&text[..at], &text[at + mark.len_utf8()..]);
        let whole = before.trim_end_matches(|letter: char| letter.is_ascii_digit()).len();
        figures(behind) == 3 && before[whole..].contains(|letter: char| letter != '0')
    })
}

/// `25`, `25 cm`, `4 ft 6 in`.
fn side(parts: &[Part]) -> Option<Told> {
    match parts {
        [Part::Number(number)] => Some(Told::Bare(*number)),
        [Part::Number(number), Part::Unit(unit)] => Some(Told::Length { mm: number * unit, unit: Some(*unit) }),
        [Part::Number(large), Part::Unit(unit), Part::Number(small), Part::Unit(part)]
            if CHAINS.contains(&(*unit, *part)) && small * part < *unit =>
        {
            Some(Told::Length { mm: large * unit + small * part, unit: None })
        }
        _ => None,
    }
}

fn parts(text: &str, units: &Units) -> Option<Vec<Part>> {
    let mut parts = Vec::new();
    let mut rest = text.trim().trim_end_matches('.');
    while let Some(first) = rest.chars().next() {
        let end = |inside: fn(char) -> bool| rest.find(|letter| !inside(letter)).unwrap_or(rest.len());
        let used = if first.is_whitespace() {
            first.len_utf8()
        } else if first.is_ascii_digit() {
            let used = end(|letter| letter.is_ascii_digit() || matches!(letter, '.' | ',' | '/'));
            let number = number(&rest[..used])?;
            match parts.last_mut() {
                // "8 1/2".
                Some(Part::Number(whole)) if whole.fract() == 0.0 && number < 1.0 && rest[..used].contains('/') => *whole += number,
                _ => parts.push(Part::Number(number)),
            }
            used
        } else if let Some(part) = vulgar(first) {
            match parts.last_mut() {
                Some(Part::Number(whole)) if whole.fract() == 0.0 => *whole += part,
                _ => parts.push(Part::Number(part)),
            }
            first.len_utf8()
        } else if matches!(first, '\u{d7}' | '*') {
            parts.push(Part::By);
            first.len_utf8()
        } else if rest.starts_with("''") || rest.starts_with("\u{2032}\u{2032}") {
            parts.push(Part::Unit(unit("in", units)?));
            2 * first.len_utf8()
        } else if first.is_alphabetic() {
            let used = end(char::is_alphabetic);
            word(&rest[..used], units, &mut parts)?;
            // An abbreviation's point; a number after it has a figure before its own.
            used + usize::from(rest[used..].starts_with('.'))
        } else {
            // Marks such as those of feet and inches; curly ones come from phones.
            let mark = match first {
                '\u{201d}' | '\u{201c}' => '"',
                '\u{2019}' | '\u{2018}' => '\'',
                other => other,
            };
            parts.push(Part::Unit(unit(mark.encode_utf8(&mut [0; 4]), units)?));
            first.len_utf8()
        };
        rest = &rest[used..];
    }
    Some(parts)
}

/// A unit, `x` or `by`, or a unit with the `x` written behind it.
fn word(word: &str, units: &Units, parts: &mut Vec<Part>) -> Option<()> {
    let lower = word.to_lowercase();
    if matches!(lower.as_str(), "x" | "by") {
        parts.push(Part::By);
    } else if let Some(mm) = unit(&lower, units) {
        parts.push(Part::Unit(mm));
    } else {
        parts.extend([Part::Unit(unit(lower.strip_suffix('x')?, units)?), Part::By]);
    }
    Some(())
}

/// Millimetres in a unit of length.
fn unit(word: &str, units: &Units) -> Option<f64> {
    let mut meant = units.by_word(word).iter().map(|(id, _)| units.get(*id));
    meant.find(|unit| unit.dimension == Dimension::Length)?.value
}

/// `20`, `20.5`, `20,5`, `3/4`.
fn number(text: &str) -> Option<f64> {
    let value = if let Some((above, below)) = text.split_once('/') {
        let whole = |text: &str| text.parse::<u32>().ok().map(f64::from);
        let below = whole(below).filter(|below| *below > 0.0)?;
        whole(above)? / below
    } else {
        text.replace(',', ".").parse::<f64>().ok()?
    };
    (value.is_finite() && value > 0.0).then_some(value)
}

const fn vulgar(letter: char) -> Option<f64> {
    Some(match letter {
        '\u{bd}' => 0.5,
        '\u{bc}' => 0.25,
        '\u{be}' => 0.75,
        '\u{215b}' => 0.125,
        '\u{215c}' => 0.375,
        '\u{215d}' => 0.625,
        '\u{215e}' => 0.875,
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn read(text: &str) -> Result<(f64, f64), SidesError> {
        Sides::read(text, &Units::builtin().unwrap(), 10.0..=10_000.0).map(Sides::mm)
    }

    // An inch is 25.4 mm and a foot 304.8 mm by definition (international yard and pound agreement, 1959).
    #[test]
    fn sizes_as_people_write_them() {
        for (text, mm) in [
            ("20x25cm", (200.0, 250.0)),
            ("20 cm x 25", (200.0, 250.0)),
            ("20cmx25cm", (200.0, 250.0)),
            ("20 cm x 250 mm", (200.0, 250.0)),
            ("20,5 \u{d7} 25 cm", (205.0, 250.0)),
            ("200 mm by 250 mm", (200.0, 250.0)),
            ("1.2 m * 90 cm", (1200.0, 900.0)),
            ("20 X 25 CM.", (200.0, 250.0)),
            ("8 x 10 in.", (203.2, 254.0)),
            ("8 in. x 10 in.", (203.2, 254.0)),
            ("8\" x 10\"", (203.2, 254.0)),
            ("8\u{201d} x 10\u{201d}", (203.2, 254.0)),
            ("8'' x 10''", (203.2, 254.0)),
            ("8\u{bd} x 11 inches", (215.9, 279.4)),
            ("8 1/2 x 11 in", (215.9, 279.4)),
            ("4 x 8 ft", (1219.2, 2438.4)),
            ("4' 6\" x 8'", (1371.6, 2438.4)),
            ("1 m 20 cm x 90 cm", (1200.0, 900.0)),
            ("1.220 m x 0,900 m", (1220.0, 900.0)),
            ("8.125 x 10 in", (206.375, 254.0)),
        ] {
            let (across, down) = read(text).unwrap_or_else(|why| panic!("{text}: {why}"));
            assert!((across - mm.0).abs() < 1e-9 && (down - mm.1).abs() < 1e-9, "{text}: {across} x {down}");
        }
    }

    #[test]
    fn what_tells_no_size_is_refused_with_the_way_out() {
        for text in ["20 x 25", "20x25", "8\u{bd} by 11", "4' 6\" x 8"] {
            assert!(matches!(read(text), Err(SidesError::NoUnit(_))), "{text}: {:?}", read(text));
        }
        for text in [
            "",
            " ",
            "x",
            "big",
            "20 cm",
            "20 x 25 x 3 cm",
            "-20 x 25 cm",
            "20 x 25 km",
            "20 x 25 g",
            "0 x 25 cm",
            "1/0 x 3 in",
            "1/2/3 x 3 in",
            "1e3 x 25 cm",
            "20 x 25 cm ply",
            "6 in 4 ft x 8 ft",
            "4 ft 60 in x 8 ft",
            "1'220 mm x 2'440 mm",
            "8 in 20 cm x 10 in",
            "20 25 cm",
            "NaN x 25 cm",
            "2.5.1 x 3 cm",
            "x 25 cm",
            "20 cm x",
        ] {
            assert!(matches!(read(text), Err(SidesError::NoSize { .. })), "{text}: {:?}", read(text));
        }
        for text in ["1,220 x 2,440 mm", "1,000 x 80 cm", "1.000 x 80 cm", "1,220 m x 2 m"] {
            assert!(matches!(read(text), Err(SidesError::Thousands(_))), "{text}: {:?}", read(text));
        }
        for (text, is_small) in [("20 x 25 mil", true), ("9.9 x 100 mm", true), ("20 x 25 m", false)] {
            assert!(matches!(read(text), Err(SidesError::Range { small, .. }) if small == is_small), "{text}: {:?}", read(text));
        }
        assert_eq!(
            read("9 x 100 mm").unwrap_err().to_string(),
            "\u{201c}9 x 100 mm\u{201d} is too small: a side here lies between 10 and 10000 mm"
        );
    }

    proptest! {
        #[test]
        fn any_text_is_read_or_refused(text in "\\PC{0,40}", near in "[0-9 x./,'\"cmin½-]{0,16}") {
            for text in [text, near] {
                if let Ok((across, down)) = read(&text) {
                    prop_assert!((10.0..=10_000.0).contains(&across) && (10.0..=10_000.0).contains(&down));
                }
            }
        }

        #[test]
        fn the_unit_does_not_change_the_board(across in 10_u32..3000, down in 10_u32..3000) {
            let mm = read(&format!("{across} x {down} mm")).unwrap();
            let cm = read(&format!("{} x {} cm", f64::from(across) / 10.0, f64::from(down) / 10.0)).unwrap();
            prop_assert!((mm.0 - cm.0).abs() < 1e-9 && (mm.1 - cm.1).abs() < 1e-9);
        }
    }
}
