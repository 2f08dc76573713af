//! What each rinse leaves, with its doubt.

use measure::{Draws, Figure, Input, Millilitres, Millimoles, Unit};

use crate::book::BinderBook;
use crate::curd::curd;
use crate::error::BinderError;
use crate::inputs::MilkInputs;
use crate::request::MilkRequest;
use crate::wash::{washed_share, washes_needed};

/// The curd after so many rinses.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rinsed {
    /// How many.
    pub times: u32,
    /// Acid left in it, mmol.
    pub acid: Figure,
    /// Milk sugar left, g for each g of casein.
    pub sugar: Figure,
}

/// All rinses up to some number, and how many are wanted.
#[derive(Debug, Clone, PartialEq)]
pub struct Rinsing {
    /// From no rinse on.
    pub rows: Vec<Rinsed>,
    /// Rinses to 1 % of milk sugar in the casein, the legal limit of dried casein; `None` if none do.
    pub to_limit: Option<u32>,
    /// Rinses to 0.2 %, which good casein has; `None` if none do.
    pub to_good: Option<u32>,
}

/// Works out what each of `most` rinses leaves.
///
/// # Errors
/// As [`crate::curd`].
pub fn rinsing(request: &MilkRequest, inputs: &MilkInputs, most: u32, draws: Draws) -> Result<Rinsing, BinderError> {
    let book = BinderBook::builtin()?;
    let unwashed = MilkRequest { washes: 0, ..request.clone() };
    let one = |at: &dyn Fn(&Input) -> f64| -> Result<Vec<(f64, f64)>, BinderError> {
        let batch = curd(&unwashed, inputs, at)?;
        let hold = Millilitres::new(batch.water_in_curd.value());
        let wash = Millilitres::checked(request.wash.value())? * at(&inputs.wash_efficiency);
        let left = |times| washed_share(hold, wash, times).value();
        Ok((0..=most).map(|times| (batch.acid_left.value() * left(times), batch.sugar_left * left(times))).collect())
    };
    let best = one(&|input| input.best)?;
    let mut all = Vec::with_capacity(draws.count);
    for index in 0..draws.count {
        all.push(one(&|input| draws.value(input, index))?);
    }
    let rows = (0..=most)
        .zip(&best)
        .enumerate()
        .map(|(place, (times, (acid, sugar)))| {
            let drawn = |of: fn(&(f64, f64)) -> f64| all.iter().filter_map(|line| line.get(place)).map(of).collect::<Vec<f64>>();
            Rinsed {
                times,
                acid: Figure::from_draws("acid_left", *acid, drawn(|pair| pair.0), Unit::Millimoles),
                sugar: Figure::from_draws("sugar_left", *sugar, drawn(|pair| pair.1), Unit::One),
            }
        })
        .collect();
    let batch = curd(&unwashed, inputs, &|input| input.best)?;
    let wash = request.wash * inputs.wash_efficiency.best;
    let hold = Millilitres::new(batch.water_in_curd.value());
    let to = |key: &str| -> Result<Option<u32>, BinderError> {
        Ok(washes_needed(batch.sugar_left / (book.constant(key)?.value / 100.0), hold, wash))
    };
    Ok(Rinsing { rows, to_limit: to("wash.lactose_limit")?, to_good: to("wash.lactose_good")? })
}

/// Acetic acid in the water of a told curd after so many rinses, if it was curdled with vinegar as usual (two US cups to the gallon).
///
/// # Errors
/// A water that is none.
///
/// ```
/// use binder::acid_in_curd;
/// use measure::Millilitres;
/// // by hand: 293 ml x 92.5 mmol/l = 27.1 mmol
/// let left = acid_in_curd(Millilitres::new(293.0), 0, Millilitres::new(1000.0))?;
/// assert!((left.value() - 27.1).abs() < 0.01);
/// # Ok::<(), binder::BinderError>(())
/// ```
pub fn acid_in_curd(water: Millilitres, rinses: u32, wash: Millilitres) -> Result<Millimoles, BinderError> {
    let book = BinderBook::builtin()?;
    let (water, wash) = (Millilitres::checked(water.value())?, Millilitres::checked(wash.value())?);
    let mixes = wash * book.constant("wash.efficiency")?.value;
    Ok(Millimoles::new(water.value() / 1000.0 * book.constant("wash.whey_acid")?.value) * washed_share(water, mixes, rinses).value())
}
