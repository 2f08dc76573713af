//! Counted cups and spoons in words.

use measure::{Measures, Vessel};

use crate::write::{number, plain};

/// Cups and spoons with what the rounding costs: `3 level cups and 2 tablespoons, 4 g too much`.
///
/// ```
/// use measure::{Grams, GramsPerMillilitre, Packing, Share, VesselSet};
/// let told = measure::measures(Grams::new(740.0), Packing::Loose(GramsPerMillilitre::new(1.0)), &VesselSet::US, Share::new(0.01))?;
/// assert_eq!(show::measures(&told), "3 level cups and 2 tablespoons, 0.7\u{a0}g too little");
/// # Ok::<(), measure::VesselError>(())
/// ```
pub fn measures(told: &Measures) -> String {
    if told.fills.is_empty() {
        return "less than half of the smallest spoon: weigh it".into();
    }
    let mut parts: Vec<String> =
        told.fills.iter().enumerate().map(|(place, (vessel, count))| counted(*vessel, *count, place == 0)).collect();
    let last = parts.pop().unwrap_or_default();
    let counted = if parts.is_empty() { last } else { format!("{} and {last}", parts.join(", ")) };
    format!("{counted}, {}", error(told))
}

/// What the rounding costs, in grams, and in per cent where it is not close.
fn error(told: &Measures) -> String {
    let grams = told.error().value();
    // A kitchen scale shows grams, a fine one tenths.
    let written = if grams.abs() >= 10.0 { number(grams.abs(), 0) } else { plain(number(grams.abs(), 1).parse().unwrap_or(0.0)) };
    if written == "0" {
        return "to the tenth of a gram".into();
    }
    let way = if grams > 0.0 { "too much" } else { "too little" };
    if told.close {
        return format!("{written}\u{a0}g {way}");
    }
    format!("{written}\u{a0}g ({}\u{a0}%) {way}: weigh it if you can", write_share(told))
}

/// Per cent with a tenth while it is small.
fn write_share(told: &Measures) -> String {
    let per_cent = told.error_share().value().abs() * 100.0;
    number(per_cent, usize::from(per_cent < 9.95))
}

fn counted(vessel: Vessel, count: u32, first: bool) -> String {
    let (one, many) = match vessel {
        Vessel::Cup => ("cup", "cups"),
        Vessel::HalfCup => ("half cup", "half cups"),
        Vessel::ThirdCup => ("third of a cup", "thirds of a cup"),
        Vessel::QuarterCup => ("quarter cup", "quarter cups"),
        Vessel::Tablespoon => ("tablespoon", "tablespoons"),
        Vessel::Teaspoon => ("teaspoon", "teaspoons"),
        Vessel::HalfTeaspoon => ("half teaspoon", "half teaspoons"),
        Vessel::QuarterTeaspoon => ("quarter teaspoon", "quarter teaspoons"),
    };
    let level = if first { "level " } else { "" };
    format!("{count} {level}{}", if count == 1 { one } else { many })
}

#[cfg(test)]
mod tests {
    use measure::{Grams, GramsPerMillilitre, Packing, Share, VesselSet};

    use super::*;

    fn told(grams: f64, density: f64, tolerance: f64) -> String {
        let packing = Packing::Loose(GramsPerMillilitre::new(density));
        measures(&measure::measures(Grams::new(grams), packing, &VesselSet::US, Share::new(tolerance)).unwrap())
    }

    #[test]
    fn worked_by_hand() {
        // 2 cups and 2 thirds of 236.588 ml at 0.8 g/ml are 504.72 g.
        assert_eq!(told(500.0, 0.8, 0.01), "2 level cups and 2 thirds of a cup, 4.7\u{a0}g too much");
        assert_eq!(told(236.588, 1.0, 0.01), "1 level cup, to the tenth of a gram");
        // A quarter teaspoon of water is 1.232 g: 0.23 g over one gram, 23 %.
        assert_eq!(told(1.0, 1.0, 0.01), "1 level quarter teaspoon, 0.2\u{a0}g (23\u{a0}%) too much: weigh it if you can");
        assert_eq!(told(0.3, 1.0, 0.01), "less than half of the smallest spoon: weigh it");
    }
}
