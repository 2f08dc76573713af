//! The curve that a picture draws: sourness against the acid at hand, with its doubt.

use measure::{Draws, Input, Millilitres, Millimoles};

use crate::acid::Acid;
use crate::book::BinderBook;
use crate::curd::{Souring, curdles_from, milk};
use crate::error::BinderError;
use crate::inputs::{MilkInputs, milk_inputs};
use crate::request::MilkRequest;
use crate::souring::{CurvePoint, Pour};

/// The titration curve of this milk with the acid asked about, at the best numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct SourCurve {
    /// From what else goes in down to the sourest milk that the balance holds for; units in the acid's own unit.
    pub points: Vec<CurvePoint>,
    /// Units at which it begins to look curdled at this warmth; `None` if the warmth was not said.
    pub first_curds: Option<f64>,
}

/// Works out the curve that a picture draws, with `points` steps.
///
/// # Errors
/// As [`crate::curd`].
pub fn sour_curve(request: &MilkRequest, points: u32) -> Result<SourCurve, BinderError> {
    let (book, inputs) = (BinderBook::builtin()?, milk_inputs(request)?);
    let at = |input: &Input| input.best;
    let (_, milk_volume) = milk(request, at(&inputs.milk_density))?;
    let sour = Souring::of(book, request, &inputs, &at)?;
    let least = book.constant("model.sourest")?.value;
    let onset = curdles_from(book, request)?;
    Ok(SourCurve {
        points: sour.balance.curve(milk_volume, &sour.beside, &sour.unit, least, points),
        first_curds: onset.and_then(|ph| sour.balance.units_to(ph, milk_volume, &sour.beside, &sour.unit)),
    })
}

/// A point of the curve with its doubt; eight of ten draws lie between `low` and `high`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BandPoint {
    /// In the acid's own unit.
    pub units: f64,
    /// Sourness at the best numbers.
    pub ph: f64,
    /// Sour end of the doubt.
    pub low: f64,
    /// Mild end.
    pub high: f64,
}

/// The curve with its doubt, and what the picture marks on it.
#[derive(Debug, Clone, PartialEq)]
pub struct SourBand {
    /// From none of the acid asked about to `most` of it; ends where the balance of charges ends.
    pub points: Vec<BandPoint>,
    /// Units at which it begins to look curdled; `None` if the warmth was not said.
    pub first_curds: Option<f64>,
    /// Units that bring it to the curdling point.
    pub needed: Option<f64>,
    /// Units that move it by a tenth at the curdling point.
    pub tenth_at_goal: Option<f64>,
    /// The same where this milk stands most firmly against a strong acid: (pH there, units of the acid asked about).
    pub firmest: Option<(f64, f64)>,
}

/// Works out the curve between no acid and `most` units, at `steps` amounts.
///
/// # Errors
/// As [`crate::curd`].
pub fn sour_band(request: &MilkRequest, inputs: &MilkInputs, most: f64, steps: u32, draws: Draws) -> Result<SourBand, BinderError> {
    let book = BinderBook::builtin()?;
    let least = book.constant("model.sourest")?.value;
    let goal = book.constant("curdling_point")?.value;
    let line = |at: &dyn Fn(&Input) -> f64| -> Result<Vec<f64>, BinderError> {
        let (_, milk_volume) = milk(request, at(&inputs.milk_density))?;
        let sour = Souring::of(book, request, inputs, at)?;
        let unit = |step: u32| most * f64::from(step) / f64::from(steps.max(1));
        (0..=steps).map(|step| sour.balance.ph(milk_volume, &sour.beside.and(&sour.acid.pour(unit(step), sour.need)))).collect()
    };
    let best = line(&|input| input.best)?;
    let mut lines = Vec::with_capacity(draws.count);
    for index in 0..draws.count {
        lines.push(line(&|input| draws.value(input, index))?);
    }
    let mut points = Vec::with_capacity(best.len());
    for (step, ph) in best.iter().enumerate() {
        if *ph < least {
            break;
        }
        let here = lines.iter().filter_map(|line| line.get(step)).map(|ph| ph.max(least)).collect();
        let (low, high) = measure::band(here).unwrap_or((*ph, *ph));
        #[expect(clippy::cast_precision_loss, reason = "a count of steps is far below 2^52")]
        let units = most * step as f64 / f64::from(steps.max(1));
        points.push(BandPoint { units, ph: *ph, low: low.min(*ph), high: high.max(*ph) });
    }
    let at = |input: &Input| input.best;
    let (_, milk_volume) = milk(request, at(&inputs.milk_density))?;
    let sour = Souring::of(book, request, inputs, &at)?;
    let to = |ph: f64| sour.balance.units_to(ph, milk_volume, &sour.beside, &sour.unit);
    let tenth = |ph: f64| to(ph - TENTH / 2.0).zip(to(ph + TENTH / 2.0)).map(|(more, less)| more - less);
    // A weak acid gives less of itself the sourer it gets, so the milk's own firmness shows only against a strong one.
    let strong = Pour::of(Acid::Hydrochloric, Millimoles::new(1.0), Millilitres::ZERO);
    let strong_to = |ph: f64| sour.balance.units_to(ph, milk_volume, &Pour::NOTHING, &strong);
    let firm = |ph: f64| strong_to(ph - TENTH / 2.0).zip(strong_to(ph + TENTH / 2.0)).map(|(more, less)| more - less);
    let start = best.first().copied().unwrap_or(goal);
    let firmest = FIRM_AT
        .into_iter()
        .filter_map(|ph| firm(ph).map(|holds| (ph, holds)))
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .filter(|(ph, _)| *ph < start - TENTH)
        .and_then(|(ph, _)| tenth(ph).map(|units| (ph, units)));
    Ok(SourBand { points, first_curds: curdles_from(book, request)?.and_then(to), needed: to(goal), tenth_at_goal: tenth(goal), firmest })
}

const TENTH: f64 = 0.1;
/// Where milk is looked at between its own sourness and the curdling point.
const FIRM_AT: [f64; 9] = [4.8, 4.9, 5.0, 5.1, 5.2, 5.3, 5.4, 5.5, 5.6];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::request::{AcidAtHand, AcidSource, CurdState, MilkAmount, MilkKind};
    use measure::Celsius;

    #[test]
    fn the_curve_bends_where_milk_was_seen_to_bend() {
        let request = MilkRequest {
            milk: MilkAmount::Volume(Millilitres::new(1000.0)),
            kind: MilkKind::Skim,
            heated_before: false,
            acid: AcidAtHand { source: AcidSource::Vinegar, amount: None, strength: Some(5.0) },
            others: Vec::new(),
            water: Millilitres::ZERO,
            warmth: Some(Celsius::new(25.0)),
            washes: 0,
            wash: Millilitres::new(250.0),
            state: CurdState::Drained,
            base: None,
        };
        let inputs = milk_inputs(&request).unwrap();
        let band = sour_band(&request, &inputs, 150.0, 30, Draws { count: 40, ..Draws::USUAL }).unwrap();
        // Single buffering peak of skim milk on titration with HCl at pH 5.05 (Tomasula et al., Milchwissenschaft 54, 1999) and at pH 5
        // (Lucey et al., Milchwissenschaft 48, 1993); 0.2 either way.
        let (firmest, _) = band.firmest.unwrap();
        assert!((firmest - 5.05).abs() <= 0.2 + 1e-9, "{firmest}");
        assert!(band.points.windows(2).all(|pair| pair[1].ph < pair[0].ph));
        assert!(band.points.iter().all(|point| point.low <= point.ph && point.ph <= point.high));
        // Eight of ten draws at the needed amount lie about the curdling point.
        let near =
            band.points.iter().min_by(|a, b| (a.units - band.needed.unwrap()).abs().total_cmp(&(b.units - band.needed.unwrap()).abs()));
        assert!(near.is_some_and(|point| point.low < 4.62 && point.high > 4.58));
    }
}
