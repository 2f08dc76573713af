//! The same batch with its doubt.

use measure::{Draws, Figure, Grams, Unit};

use crate::acid::PhReached;
use crate::curd::{Curd, Enough, curd};
use crate::error::BinderError;
use crate::inputs::{MilkInputs, milk_inputs};
use crate::request::MilkRequest;

/// A batch as a page shows it.
#[derive(Debug, Clone, PartialEq)]
pub struct CurdFigures {
    /// The batch at the best values, with everything that has no band of its own.
    pub best: Curd,
    /// Milk by weight.
    pub milk: Figure,
    /// Dry casein in the curd.
    pub casein: Figure,
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

/// The same with these inputs, such as a need for acid that pH paper told.
///
/// # Errors
/// As [`curd`].
pub fn curd_with_inputs(request: &MilkRequest, inputs: &MilkInputs, draws: Draws) -> Result<CurdFigures, BinderError> {
    let best = curd(request, inputs, &|input| input.best)?;
    let batches = (0..draws.count).map(|index| curd(request, inputs, &|input| draws.value(input, index))).collect::<Result<Vec<_>, _>>()?;
    let figure = |key, unit, read: &dyn Fn(&Curd) -> f64| Figure::from_draws(key, read(&best), batches.iter().map(read).collect(), unit);
    let ph = |batch: &Curd| batch.ph_reached.map_or(f64::NAN, PhReached::nearest);
    let base = |batch: &Curd| batch.base.map_or(f64::NAN, Grams::value);
    Ok(CurdFigures {
        milk: figure("milk", Unit::Grams, &|batch| batch.milk.value()),
        casein: figure("casein", Unit::Grams, &|batch| batch.casein.value()),
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

fn share_enough(best: &Curd, batches: &[Curd]) -> Option<f64> {
    best.enough?;
    let enough = batches.iter().filter(|batch| !matches!(batch.enough, Some(Enough::No { .. }))).count();
    #[expect(clippy::cast_precision_loss, reason = "counts of draws are far below 2^52")]
    (!batches.is_empty()).then(|| enough as f64 / batches.len() as f64)
}
