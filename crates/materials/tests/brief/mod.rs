//! Readings in short words, as the checks write them.

use materials::{Amount, Catalogue, PartBasis, Reading, Strength, Wishes, read};
use measure::Units;

/// A text read with no answers given.
pub(crate) fn told(text: &str) -> Reading {
    read(Catalogue::builtin().unwrap(), &Units::builtin().unwrap(), text, &Wishes::new())
}

/// A line in short: `natural-chalk 250 gram`.
pub(crate) fn brief(text: &str) -> Vec<String> {
    let units = Units::builtin().unwrap();
    let range = |low: f64, high: f64| {
        if (high - low).abs() < 1e-9 { format!("{}", (low * 1000.0).round() / 1000.0) } else { format!("{low}..{high}") }
    };
    let line = |line: &materials::Line| {
        let amount = match &line.amount {
            Amount::Mass { number, unit } | Amount::Volume { number, unit, .. } => {
                format!("{} {}", range(number.low, number.high), units.get(*unit.first().unwrap()).id)
            }
            Amount::Parts { number, basis } => {
                let basis = match basis.candidates.as_slice() {
                    [(PartBasis::Weight, _)] => "weight parts",
                    [(PartBasis::Volume, _)] => "volume parts",
                    _ => "parts",
                };
                format!("{} {basis}", range(number.low, number.high))
            }
            Amount::VolumePerLiquid { number } => format!("{} volumes", range(number.low, number.high)),
            Amount::PercentOfWhole { number } => format!("{} %", range(number.low, number.high)),
            Amount::Pieces { number } => format!("{} pieces", range(number.low, number.high)),
            Amount::NotGiven(why) => format!("{why:?}"),
        };
        let strength = match &line.strength {
            Some(Strength::Percent(percent)) => format!(" at {} %", range(percent.low, percent.high)),
            Some(Strength::OneToWater(water)) => format!(" at 1:{}", range(water.low, water.high)),
            Some(Strength::Unknown) => " at ?".to_owned(),
            None => String::new(),
        };
        format!("{} {amount}{strength}{}", line.material.first().unwrap().as_str(), if line.said_dry { " dry" } else { "" })
    };
    told(text).lines.iter().map(line).collect()
}

/// The struck stretches of a text that are amounts or name what an amount is of.
pub(crate) fn lost(text: &str) -> Vec<String> {
    told(text).struck().filter(|struck| struck.amount).map(|struck| struck.span.of(text).to_owned()).collect()
}
