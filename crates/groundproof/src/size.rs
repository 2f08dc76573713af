//! Sizes with a unit, as typed after an option.

use std::str::FromStr;

/// A length in micrometres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Length(pub(crate) f64);

/// A mass in grams.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Mass(pub(crate) f64);

/// An area in square metres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Area(pub(crate) f64);

/// A volume in millilitres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Volume(pub(crate) f64);

/// A temperature in degrees Celsius.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Temperature(pub(crate) f64);

/// A number and the unit behind it.
fn parts(text: &str) -> Result<(f64, String), String> {
    let text = text.trim();
    let digits_behind = text.split_once(',').map_or(0, |(_, behind)| behind.chars().take_while(char::is_ascii_digit).count());
    if digits_behind == 3 {
        return Err(format!("`{text}` may mean a thousand or one; write it without the comma"));
    }
    let text = text.replace(',', ".");
    let at = text.find(|c: char| c.is_alphabetic() || c == 'µ' || c == '°').unwrap_or(text.len());
    let (number, unit) = text.split_at(at);
    let value: f64 = number.trim().parse().map_err(|_| format!("`{text}` does not begin with a number"))?;
    if value.is_finite() { Ok((value, unit.trim().to_lowercase())) } else { Err(format!("`{text}` is no ordinary number")) }
}

fn scaled(text: &str, table: &[(&str, f64)], low: f64, high: f64) -> Result<f64, String> {
    let (value, unit) = parts(text)?;
    let known = table.iter().map(|(name, _)| *name).collect::<Vec<_>>().join(", ");
    let (_, scale) = table.iter().find(|(name, _)| *name == unit).ok_or_else(|| format!("the unit of `{text}` is not one of {known}"))?;
    let value = value * scale;
    if (low..=high).contains(&value) { Ok(value) } else { Err(format!("`{text}` is out of range; check the number and its unit")) }
}

impl FromStr for Length {
    type Err = String;
    fn from_str(text: &str) -> Result<Self, String> {
        scaled(text, &[("um", 1.0), ("µm", 1.0), ("μm", 1.0), ("mm", 1000.0), ("mil", 25.4)], 1.0, 20_000.0).map(Self)
    }
}

impl FromStr for Mass {
    type Err = String;
    fn from_str(text: &str) -> Result<Self, String> {
        scaled(text, &[("g", 1.0), ("kg", 1000.0), ("oz", 28.349_523), ("lb", 453.592_37)], 0.001, 1e6).map(Self)
    }
}

impl FromStr for Area {
    type Err = String;
    fn from_str(text: &str) -> Result<Self, String> {
        scaled(text, &[("m2", 1.0), ("m²", 1.0), ("cm2", 1e-4), ("cm²", 1e-4)], 1e-6, 1e4).map(Self)
    }
}

impl FromStr for Volume {
    type Err = String;
    fn from_str(text: &str) -> Result<Self, String> {
        scaled(text, &[("ml", 1.0), ("cl", 10.0), ("dl", 100.0), ("l", 1000.0)], 0.0, 200_000.0).map(Self)
    }
}

impl FromStr for Temperature {
    type Err = String;
    fn from_str(text: &str) -> Result<Self, String> {
        let (value, unit) = parts(text)?;
        match unit.as_str() {
            "c" | "°c" => Ok(Self(value)),
            "f" | "°f" => Ok(Self((value - 32.0) / 1.8)),
            _ => Err(format!("the unit of `{text}` is not C or F")),
        }
    }
}

/// Four points in pixels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Four(pub(crate) [(f64, f64); 4]);

impl FromStr for Four {
    type Err = String;
    fn from_str(text: &str) -> Result<Self, String> {
        workbench::four_corners(text).map(Self)
    }
}

/// A rectangle in pixels and the share of light that it throws back.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Patch {
    pub(crate) place: [u32; 4],
    pub(crate) reflects: f64,
}

impl FromStr for Patch {
    type Err = String;
    fn from_str(text: &str) -> Result<Self, String> {
        workbench::grey_patch(text).map(|patch| Self { place: patch.place, reflects: patch.reflects })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_patch() {
        assert_eq!("10, 20,300,200=0.18".parse(), Ok(Patch { place: [10, 20, 300, 200], reflects: 0.18 }));
        for text in ["", "1,2,3=0.2", "1,2,3,4", "1,2,3,-4=0.2", "1,2,3,4=white", "1,2,3,4=NaN"] {
            assert!(text.parse::<Patch>().is_err(), "{text}");
        }
    }

    #[test]
    fn four_corners() {
        assert_eq!("1,2; 3,4;5.5,6;7,-8".parse(), Ok(Four([(1.0, 2.0), (3.0, 4.0), (5.5, 6.0), (7.0, -8.0)])));
        for text in ["", "1,2;3,4;5,6", "1,2;3,4;5,6;7,8;9,10", "1;2;3;4", "a,b;1,2;3,4;5,6", "NaN,1;2,3;4,5;6,7", "1,2,3;4,5;6,7;8,9"] {
            assert!(text.parse::<Four>().is_err(), "{text}");
        }
    }

    #[test]
    fn lengths_areas_temperatures() {
        assert_eq!("120um".parse(), Ok(Length(120.0)));
        assert_eq!("0,12 mm".parse(), Ok(Length(120.0)));
        assert_eq!("0.6m2".parse(), Ok(Area(0.6)));
        assert_eq!("4l".parse(), Ok(Volume(4000.0)));
        assert_eq!("0,5 kg".parse(), Ok(Mass(500.0)));
        assert_eq!("2.5 dl".parse(), Ok(Volume(250.0)));
        assert!("-1l".parse::<Volume>().is_err());
        // 140 F = 60 C by definition.
        assert_eq!("140F".parse(), Ok(Temperature(60.0)));
        assert!("120".parse::<Length>().is_err());
        assert!("NaNum".parse::<Length>().is_err());
        assert!("-3um".parse::<Length>().is_err());
        assert!("1,000um".parse::<Length>().is_err());
        assert!("".parse::<Area>().is_err());
    }
}
