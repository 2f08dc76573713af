//! The sour curve, as a picture and in words.

use binder::{AcidUnit, BinderBook, BinderError, CurdFigures, PhReached, sour_band};
use measure::{Celsius, Draws};
use show::{SourPoint, SourView, number, plain, sour_picture};

use super::acids::amount_of;
use super::told::Told;
use crate::milk::MilkFormError;

pub(super) struct Curve {
    pub(super) picture: String,
    pub(super) words: Vec<String>,
}

const STEPS: u32 = 30;
const DRAWS: Draws = Draws { count: 120, ..Draws::USUAL };
/// How far beyond what is needed the curve is drawn.
const BEYOND: f64 = 1.5;

pub(super) fn of(told: &Told, figures: &CurdFigures) -> Result<Curve, MilkFormError> {
    let source = told.request.acid.source;
    let given = match told.request.acid.amount {
        None => None,
        Some(_) => given(told, figures),
    };
    let most = (BEYOND * figures.acid_needed.value).max(given.map_or(0.0, |here| 1.05 * here.0)).max(1e-6);
    let band = sour_band(&told.request, &told.inputs, most, STEPS, DRAWS)?;
    let points = band.points.iter().map(|point| SourPoint { acid: point.units, ph: point.ph, low: point.low, high: point.high }).collect();
    let warmth = told.request.warmth.map_or(0.0, Celsius::value);
    let beside = if told.request.others.is_empty() { "" } else { ", beside the rest" };
    let acid = match source.unit() {
        AcidUnit::Pieces => format!("lemons{beside}"),
        unit => format!("{} of {}{beside}", unit.unit().symbol(), source.words()),
    };
    let view = SourView {
        points,
        acid,
        curdles_from: figures.best.curdles_from,
        at: format!("at {}\u{a0}°C", plain(warmth)),
        goal: BinderBook::builtin().map_err(BinderError::from)?.constant("curdling_point").map_err(BinderError::from)?.value,
        here: given,
    };
    let mut words = Vec::new();
    if let (Some(first), Some(onset)) = (band.first_curds, figures.best.curdles_from) {
        words.push(format!(
            "First curds come at about {} (pH {}), long before most casein has let go of its lime.",
            amount_of(first, source),
            number(onset, 1)
        ));
    }
    if let (Some((ph, firm)), Some(goal)) = (band.firmest, band.tenth_at_goal) {
        words.push(format!(
            "Milk itself stands firmest near pH {}, where the lime of its grains goes into the whey: a tenth takes about {} there. At 4.6 a tenth takes {}; go slowly all the same.",
            number(ph, 1),
            amount_of(firm, source),
            amount_of(goal, source)
        ));
    }
    words.push("The hatching is as wide as the doubt of milk and acid: eight of ten times you end in it.".into());
    Ok(Curve { picture: sour_picture(&view), words })
}

/// How much is at hand, in the acid's unit, and where it leads.
fn given(told: &Told, figures: &CurdFigures) -> Option<(f64, f64)> {
    let units = told.inputs.acid.at_hand(&|input| input.best)?;
    match figures.best.ph_reached? {
        PhReached::At(ph) | PhReached::NotKnownBelow(ph) => Some((units, ph)),
        PhReached::NotKnownAbove(_) => None,
    }
}
