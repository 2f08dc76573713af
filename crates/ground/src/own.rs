//! Values that a painter measured at the kitchen table, in place of printed ones.

use materials::{Kind, Material};
use measure::{Grams, Input, InputKey, Millilitres, Spread};

/// What was measured.
#[derive(Debug, Clone, PartialEq)]
pub enum OwnMeasure {
    /// A level measure of the powder, weighed several times without the measure's own weight.
    LevelCup {
        /// What the measure holds.
        holds: Millilitres,
        /// Each weighing.
        weighed: Vec<Grams>,
    },
    /// A weighed powder stirred into water, and how far the water rose, each time.
    Displacement {
        /// Powder.
        powder: Grams,
        /// Each rise.
        rise: Vec<Millilitres>,
        /// How closely it could be read.
        read_to: Option<Millilitres>,
    },
    /// A weighed powder rubbed out with linseed oil until it just held together, each time.
    RubOut {
        /// Powder.
        powder: Grams,
        /// Oil of each try.
        oil: Vec<Grams>,
        /// One drop, where the oil was counted in drops: nobody stops closer than that.
        drop: Option<Grams>,
    },
    /// Spoonfuls weighed wet and again once their weight stood still.
    DryResidue {
        /// Wet and dry.
        dishes: Vec<(Grams, Grams)>,
    },
}

/// Why a measurement can't be taken.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum OwnError {
    /// Nothing was typed.
    #[error("write down at least one weighing; three are better")]
    None,
    /// Zero, below zero, or no number.
    #[error("every weight and volume must be above zero; one is not")]
    NotPositive,
    /// Dry weight above wet weight.
    #[error("a spoonful can't weigh more dry than wet; are the two exchanged?")]
    Heavier,
    /// Out of what such stuff can be.
    #[error("{what} would come out as {value}, where {low} to {high} is possible; look for a slip in the numbers")]
    Impossible {
        /// What comes out.
        what: &'static str,
        /// Its value, as hundredths.
        value: String,
        /// Least possible.
        low: f64,
        /// Most possible.
        high: f64,
    },
    /// This cannot be measured of this stuff.
    #[error("{0}")]
    NotOf(String),
}

/// Spread (one standard deviation, relative) of a single weighing of a level cup: how differently a cup is filled and levelled.
/// Judgement, no source; three weighings replace it by their own spread.
const ONE_CUP: f64 = 0.05;
/// Spread of a single reading of a rise of water. Judgement, no source.
const ONE_RISE: f64 = 0.05;
/// Spread of a single rub-out: half of the 10 % that operators differ by (from memory), since the hand is the same.
const ONE_RUB: f64 = 0.05;
/// Spread of a single dish. Judgement, no source.
const ONE_DISH: f64 = 0.03;
/// From so many values on, the values themselves are the spread.
const ENOUGH: usize = 3;

/// The unknowns of the film that this measurement settles, with `source` said of them.
///
/// ```
/// use ground::{OwnMeasure, own_inputs};
/// use measure::{Grams, Millilitres};
/// let jars = materials::Catalogue::builtin()?;
/// let chalk = jars.material(&materials::MaterialId::new("natural-chalk")).ok_or("no chalk")?;
/// let cup = OwnMeasure::LevelCup { holds: Millilitres::new(250.0), weighed: vec![Grams::new(200.0), Grams::new(210.0), Grams::new(190.0)] };
/// let own = own_inputs(chalk, &cup, "weighed by you")?;
/// assert!(own.first().is_some_and(|input| (input.best - 0.8).abs() < 1e-12)); // 200 g in 250 ml
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// Numbers that cannot be, or a measurement that does not apply to this material.
pub fn own_inputs(material: &Material, measured: &OwnMeasure, source: &str) -> Result<Vec<Input>, OwnError> {
    let id = material.id.as_str();
    let input = |key: String, values: Vec<f64>, alone: f64, unit: &'static str| read_input(key, &values, (alone, 0.0), unit, source);
    match measured {
        OwnMeasure::LevelCup { holds, weighed } => {
            positive(weighed.iter().map(|g| g.value()).chain([holds.value()]))?;
            some(weighed)?;
            if material.property("bulk_density").is_none() {
                return Err(OwnError::NotOf(format!("a level cup tells something of powders; {} is none", material.name)));
            }
            let values: Vec<f64> = weighed.iter().map(|g| g.value() / holds.value()).collect();
            within("the weight of a millilitre (g)", mean(&values), 0.05, 4.0)?;
            Ok(vec![input(format!("bulk_density.{id}"), values, ONE_CUP, "g/ml")])
        }
        OwnMeasure::Displacement { powder, rise, read_to } => {
            positive(rise.iter().map(|ml| ml.value()).chain([powder.value()]).chain(read_to.map(Millilitres::value)))?;
            some(rise)?;
            powder_only(material)?;
            let values: Vec<f64> = rise.iter().map(|ml| powder.value() / ml.value()).collect();
            within("the density (g/ml)", mean(&values), 1.0, 8.0)?;
            // A rise is the difference of two readings; each may be off by so much.
            let reading = read_to.map_or(0.0, |error| error.value() / mean_of(rise.iter().map(|ml| ml.value())));
            let alone = if read_to.is_some() { 0.0 } else { ONE_RISE };
            Ok(vec![read_input(format!("density.{id}"), &values, (alone, reading), "g/ml", source)])
        }
        OwnMeasure::RubOut { powder, oil, drop } => {
            positive(oil.iter().map(|g| g.value()).chain([powder.value()]).chain(drop.map(Grams::value)))?;
            some(oil)?;
            powder_only(material)?;
            let values: Vec<f64> = oil.iter().map(|g| g.value() / powder.value() * 100.0).collect();
            within("the oil to 100 g of powder (g)", mean(&values), 3.0, 300.0)?;
            let reading = drop.map_or(0.0, |drop| drop.value() / mean_of(oil.iter().map(|g| g.value())));
            Ok(vec![read_input(format!("oil_absorption.{id}"), &values, (ONE_RUB, reading), "g/100 g", source)])
        }
        OwnMeasure::DryResidue { dishes } => {
            positive(dishes.iter().flat_map(|(wet, dry)| [wet.value(), dry.value()]))?;
            some(dishes)?;
            if dishes.iter().any(|(wet, dry)| dry.value() > wet.value()) {
                return Err(OwnError::Heavier);
            }
            let Some(printed) = material.property("dry_share") else {
                return Err(OwnError::NotOf(format!("how much of {} stays when it dries does not enter the film", material.name)));
            };
            let values: Vec<f64> = dishes.iter().map(|(wet, dry)| dry.value() / wet.value()).collect();
            let key = if printed.range.is_some() { "dry_share" } else { "dry_matter" };
            let mut own = vec![input(format!("{key}.{id}"), values.clone(), ONE_DISH, "1")];
            if id == "curd-drained" {
                // Curd from milk is the same stuff, told by what it came from.
                own.push(input("curd_water".into(), values.iter().map(|dry| 1.0 - dry).collect(), ONE_DISH, "1"));
            }
            Ok(own)
        }
    }
}

/// The same as a sentence for the shelf: what comes out, its unit, and how far the tries lie apart.
pub fn own_result(inputs: &[Input]) -> Option<(f64, &'static str, (f64, f64))> {
    let first = inputs.first()?;
    let ends = match &first.spread {
        Spread::Measured(values) => {
            (values.iter().copied().fold(f64::INFINITY, f64::min), values.iter().copied().fold(f64::NEG_INFINITY, f64::max))
        }
        _ => (first.quantile(measure::BAND_LOW), first.quantile(measure::BAND_HIGH)),
    };
    Some((first.best, first.unit, ends))
}

/// A measured value as an unknown. `alone` is the spread of a single try, `reading` how closely one could read, both relative: no row of
/// tries is known better than it was read.
fn read_input(key: String, values: &[f64], (alone, reading): (f64, f64), unit: &'static str, source: &str) -> Input {
    let best = mean(values);
    let apart = (mean_of(values.iter().map(|value| (value - best).powi(2))).sqrt() / best).abs();
    let spread = match (values.len() >= ENOUGH, apart >= reading) {
        (true, true) => Spread::Measured(values.to_vec()),
        (true, false) => Spread::Normal(best * apart.hypot(reading)),
        (false, _) => Spread::Normal(best * alone.hypot(reading)),
    };
    Input { key: InputKey::new(key), plain: String::new(), best, spread, unit, source: source.to_owned() }
}

/// Mass of one drop of oil when so many come out of 5 ml; the oil of a rub-out is counted as 0.935 g/ml, as the customary constant has it.
pub fn oil_drop(drops_in_5_ml: f64) -> Grams {
    Millilitres::new(5.0 / drops_in_5_ml) * crate::packing::RUB_OUT_OIL
}

fn mean_of(values: impl Iterator<Item = f64>) -> f64 {
    let (sum, count) = values.fold((0.0, 0.0), |(sum, count), value| (sum + value, count + 1.0));
    sum / count
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

fn some<T>(values: &[T]) -> Result<(), OwnError> {
    if values.is_empty() { Err(OwnError::None) } else { Ok(()) }
}

fn positive(mut values: impl Iterator<Item = f64>) -> Result<(), OwnError> {
    if values.all(|value| value.is_finite() && value > 0.0) { Ok(()) } else { Err(OwnError::NotPositive) }
}

fn powder_only(material: &Material) -> Result<(), OwnError> {
    if material.kind == Kind::Filler {
        Ok(())
    } else {
        Err(OwnError::NotOf(format!("this is measured of powders; {} is none", material.name)))
    }
}

fn within(what: &'static str, value: f64, low: f64, high: f64) -> Result<(), OwnError> {
    if (low..=high).contains(&value) {
        return Ok(());
    }
    let hundredths = (value * 100.0).round() / 100.0;
    Err(OwnError::Impossible { what, value: hundredths.to_string(), low, high })
}
