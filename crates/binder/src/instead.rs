//! One thing in place of another: acids by what they do to milk, bases by their charges, dry stuff by its dry weight.

use materials::DataError;
use measure::{Celsius, Draws, Figure, Grams, Input, Millilitres, Unit};

use crate::book::BinderBook;
use crate::curd::curd;
use crate::dissolve::Base;
use crate::error::BinderError;
use crate::inputs::milk_inputs;
use crate::request::{AcidAtHand, AcidSource, CurdState, MilkAmount, MilkKind, MilkRequest};

/// As much of another acid as curdles the milk that this one curdles; in the other's own unit.
///
/// Not by moles: a weak acid gives up only part of its protons at the curdling point, so the balance of charges of a litre of skim milk is asked
/// for both.
///
/// # Errors
/// No amount, rennet, or a strength that can't be true.
///
/// ```
/// use binder::*;
/// use measure::{Draws, Millilitres};
/// let vinegar = AcidAtHand { source: AcidSource::Vinegar, amount: Some(AcidAmount::Volume(Millilitres::new(100.0))), strength: Some(5.0) };
/// let citric = acid_instead(&vinegar, AcidSource::CitricAcid, Draws { count: 50, ..Draws::USUAL })?;
/// assert!((2.5..4.5).contains(&citric.value));
/// # Ok::<(), BinderError>(())
/// ```
pub fn acid_instead(from: &AcidAtHand, to: AcidSource, draws: Draws) -> Result<Figure, BinderError> {
    let asked = |acid: AcidAtHand| MilkRequest {
        milk: MilkAmount::Volume(Millilitres::new(1000.0)),
        kind: MilkKind::Skim,
        heated_before: false,
        acid,
        others: Vec::new(),
        water: Millilitres::ZERO,
        warmth: Some(Celsius::new(20.0)),
        washes: 0,
        wash: Millilitres::new(250.0),
        state: CurdState::Drained,
        base: None,
    };
    let (one, other) = (asked(*from), asked(AcidAtHand { source: to, amount: None, strength: None }));
    let (from_inputs, to_inputs) = (milk_inputs(&one)?, milk_inputs(&other)?);
    let sum = |at: &dyn Fn(&Input) -> f64| -> Result<f64, BinderError> {
        let unit = from_inputs.acid.unit(at);
        let given = from_inputs.acid.units(&unit)?.ok_or(BinderError::NoAmount)?;
        Ok(given * curd(&other, &to_inputs, at)?.acid_needed / curd(&one, &from_inputs, at)?.acid_needed)
    };
    let best = sum(&|input| input.best)?;
    let drawn = (0..draws.count).map(|index| sum(&|input| draws.value(input, index))).collect::<Result<Vec<f64>, _>>()?;
    Ok(Figure::from_draws("instead", best, drawn, to.unit().unit()))
}

/// As much of another base, as it is sold, as opens the casein that this one opens.
///
/// # Errors
/// The data file lacks a molar mass.
pub fn base_instead(
    book: &BinderBook,
    (from, grams, share): (Base, Grams, &Input),
    (to, to_share): (Base, &Input),
    draws: Draws,
) -> Result<Figure, DataError> {
    let ratio = book.grams_per_milliequivalent(to)? / book.grams_per_milliequivalent(from)?;
    let sum = |at: &dyn Fn(&Input) -> f64| grams.value() * at(share) * ratio / at(to_share);
    let drawn = (0..draws.count).map(|index| sum(&|input| draws.value(input, index))).collect();
    Ok(Figure::from_draws("instead", sum(&|input| input.best), drawn, Unit::Grams))
}

/// As much of another stuff as holds the same dry weight of what binds; `share` each is the part of it that binds.
///
/// ```
/// use measure::{Draws, Grams, Input, InputKey, Spread};
/// let share = |key: &str, best| Input { key: InputKey::new(key), plain: key.into(), best, spread: Spread::Exact, unit: "1", source: "by hand".into() };
/// // 100 g curd of 0.23 is 23 g casein: 23 / 0.9 = 25.6 g of powder
/// let powder = binder::dry_instead(Grams::new(100.0), &share("curd", 0.23), &share("powder", 0.9), Draws { count: 10, ..Draws::USUAL });
/// assert!((powder.value - 25.56).abs() < 0.01);
/// ```
pub fn dry_instead(grams: Grams, share: &Input, other: &Input, draws: Draws) -> Figure {
    let sum = |at: &dyn Fn(&Input) -> f64| grams.value() * at(share) / at(other);
    let drawn = (0..draws.count).map(|index| sum(&|input| draws.value(input, index))).collect();
    Figure::from_draws("instead", sum(&|input| input.best), drawn, Unit::Grams)
}

/// Skim-milk powder that makes up as much milk: by its protein.
///
/// ```
/// // by hand: 1033 g x 3.37 / 36 = 96.7 g
/// let powder = binder::powder_for(measure::Grams::new(1033.0))?;
/// assert!((powder.value() - 96.7).abs() < 0.05);
/// # Ok::<(), materials::DataError>(())
/// ```
///
/// # Errors
/// The data file lacks a line.
pub fn powder_for(milk: Grams) -> Result<Grams, DataError> {
    let book = BinderBook::builtin()?;
    Ok(milk * (book.constant("protein.skim")?.value / book.constant("protein.powder")?.value))
}
