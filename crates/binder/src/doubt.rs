//! The same batch with its doubt.

use measure::{Draws, Figure, Grams, Unit};

use crate::acid::PhReached;
use crate::curd::{Caught, Curd, Enough, caught, curd_near};
use crate::error::BinderError;
use crate::inputs::{MilkInputs, milk_inputs};
use crate::request::MilkRequest;
use crate::souring::Near;

/// A batch as a page shows it.
#[derive(Debug, Clone, PartialEq)]
pub struct CurdFigures {
    /// The batch at the best values, with everything that has no band of its own.
    pub best: Curd,
    /// Milk by weight.
    pub milk: Figure,
    /// Dry casein in the curd.
    pub casein: Figure,
    /// Whey protein that fell with it; `None` for milk that was not hot before.
    pub whey_protein: Option<Figure>,
    /// Wet curd.
    pub wet_curd: Figure,
    /// Water in the curd.
    pub water_in_curd: Figure,
    /// Whey by volume.
    pub whey: Figure,
    /// Acid left in the wet curd after the rinses.
    pub acid_left: Figure,
    /// Acid for the curdling point, in the acid's unit.
    pub acid_needed: Figure,
    /// The same by volume; `None` for crystals.
    pub acid_volume: Option<Figure>,
    /// The pH that the acid at hand leads to. An end at the end of what the balance of charges holds for means "there or beyond". `None` if the amount was
    /// not said or the best value itself is not known.
    pub ph_reached: Option<Figure>,
    /// Share of the draws in which the acid at hand is not too little; `None` if its amount was not said.
    pub enough: Option<f64>,
    /// Milk sugar left, g for each g of casein.
    pub sugar_left: Figure,
    /// Base that opens the curd.
    pub base: Option<Figure>,
}

/// Works out a batch and its bands.
///
/// # Errors
/// As [`curd`].
///
/// ```
/// use binder::*;
/// use measure::{Draws, Millilitres};
/// let request = MilkRequest {
///     milk: MilkAmount::Volume(Millilitres::new(2000.0)), kind: MilkKind::Skim, heated_before: false, warmth: None,
///     acid: AcidAtHand { source: AcidSource::Vinegar, amount: None, strength: None },
///     others: Vec::new(), water: Millilitres::ZERO,
///     washes: 2, wash: Millilitres::new(500.0), state: CurdState::Squeezed, base: None,
/// };
/// let figures = curd_with_ranges(&request, Draws::USUAL)?;
/// assert!(figures.casein.low < figures.casein.value && figures.casein.value < figures.casein.high);
/// # Ok::<(), BinderError>(())
/// ```
pub fn curd_with_ranges(request: &MilkRequest, draws: Draws) -> Result<CurdFigures, BinderError> {
    curd_with_inputs(request, &milk_inputs(request)?, draws)
}

/// The same with inputs that know more than the data files, such as what pH paper said.
///
/// # Errors
/// As [`curd`].
pub fn curd_with_inputs(request: &MilkRequest, inputs: &MilkInputs, draws: Draws) -> Result<CurdFigures, BinderError> {
    let mut near = Near::default();
    let best = curd_near(request, inputs, &|input| input.best, &mut near)?;
    let mut batches = Vec::with_capacity(draws.count);
    for index in 0..draws.count {
        batches.push(curd_near(request, inputs, &|input| draws.value(input, index), &mut near)?);
    }
    let figure = |key, unit, read: &dyn Fn(&Curd) -> f64| Figure::from_draws(key, read(&best), batches.iter().map(read).collect(), unit);
    let ph = |batch: &Curd| batch.ph_reached.map_or(f64::NAN, PhReached::nearest);
    let base = |batch: &Curd| batch.base.map_or(f64::NAN, Grams::value);
    Ok(CurdFigures {
        milk: figure("milk", Unit::Grams, &|batch| batch.milk.value()),
        casein: figure("casein", Unit::Grams, &|batch| batch.casein.value()),
        whey_protein: request.heated_before.then(|| figure("whey_joined", Unit::Grams, &|batch| batch.whey_protein.value())),
        wet_curd: figure("wet_curd", Unit::Grams, &|batch| batch.wet_curd.value()),
        water_in_curd: figure("water_in_curd", Unit::Grams, &|batch| batch.water_in_curd.value()),
        whey: figure("whey", Unit::Millilitres, &|batch| batch.whey_volume.value()),
        acid_left: figure("acid_left", Unit::Millimoles, &|batch| batch.acid_left.value()),
        acid_needed: figure("acid_needed", best.acid_unit.unit(), &|batch| batch.acid_needed),
        acid_volume: best.acid_volume.map(|_| {
            figure("acid_for_curdling", Unit::Millilitres, &|batch| batch.acid_volume.map_or(f64::NAN, measure::Millilitres::value))
        }),
        ph_reached: matches!(best.ph_reached, Some(PhReached::At(_))).then(|| figure("ph_reached", Unit::Ph, &ph)),
        enough: share_enough(&best, &batches),
        sugar_left: figure("sugar_left", Unit::One, &|batch| batch.sugar_left),
        base: best.base.map(|_| figure("base", Unit::Grams, &base)),
        best,
    })
}

/// What the cloth catches, as figures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CaughtFigures {
    /// Dry casein.
    pub casein: Figure,
    /// Whey protein that fell with it.
    pub whey_protein: Figure,
    /// Milk fat in the curd.
    pub fat: Figure,
    /// Wet curd.
    pub wet_curd: Figure,
}

/// The curd's masses with their bands; they don't depend on the acid, as long as it is enough.
///
/// # Errors
/// As [`caught`].
pub fn caught_with_ranges(request: &MilkRequest, inputs: &MilkInputs, draws: Draws) -> Result<CaughtFigures, BinderError> {
    let best = caught(request, inputs, &|input| input.best)?;
    let all = (0..draws.count).map(|index| caught(request, inputs, &|input| draws.value(input, index))).collect::<Result<Vec<_>, _>>()?;
    let figure = |key, read: fn(&Caught) -> f64| Figure::from_draws(key, read(&best), all.iter().map(read).collect(), Unit::Grams);
    Ok(CaughtFigures {
        casein: figure("casein", |caught| caught.casein.value()),
        whey_protein: figure("whey_joined", |caught| caught.whey_protein.value()),
        fat: figure("fat", |caught| caught.fat.value()),
        wet_curd: figure("wet_curd", |caught| caught.wet_curd.value()),
    })
}

fn share_enough(best: &Curd, batches: &[Curd]) -> Option<f64> {
    best.enough?;
    let enough = batches.iter().filter(|batch| !matches!(batch.enough, Some(Enough::No { .. }))).count();
    #[expect(clippy::cast_precision_loss, reason = "counts of draws are far below 2^52")]
    (!batches.is_empty()).then(|| enough as f64 / batches.len() as f64)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::request::{AcidAtHand, AcidSource, CurdState, MilkAmount, MilkKind};
    use measure::Millilitres;

    fn litre(heated_before: bool) -> MilkRequest {
        MilkRequest {
            milk: MilkAmount::Volume(Millilitres::new(1000.0)),
            kind: MilkKind::Skim,
            heated_before,
            acid: AcidAtHand { source: AcidSource::Vinegar, amount: None, strength: None },
            others: Vec::new(),
            water: Millilitres::ZERO,
            warmth: None,
            washes: 0,
            wash: Millilitres::new(250.0),
            state: CurdState::Drained,
            base: None,
        }
    }

    #[test]
    fn whey_protein_falls_with_the_casein_of_milk_that_was_hot() {
        // By hand: 1 l x 6.0 g/l x 0.6 x 0.95 = 3.42 g; at most 6.5 x 0.9 x 0.98 = 5.73 g, at least 5.5 x 0.2 x 0.85 = 0.94 g.
        // Wet curd is larger by 3.42 / (1 - 0.77) = 14.87 g.
        let figures = |heated| {
            let request = litre(heated);
            caught_with_ranges(&request, &milk_inputs(&request).unwrap(), Draws { count: 300, ..Draws::USUAL }).unwrap()
        };
        let (fresh, hot) = (figures(false), figures(true));
        assert!((hot.whey_protein.value - 3.42).abs() < 1e-9 && fresh.whey_protein.value.abs() < 1e-12);
        assert!(hot.whey_protein.low > 0.94 && hot.whey_protein.high < 5.73);
        assert!((hot.wet_curd.value - fresh.wet_curd.value - 3.42 / 0.23).abs() < 1e-6);
        assert!((hot.casein.value - fresh.casein.value).abs() < 1e-12);
    }
}
