//! How long a coat waits for the next: from the film, the board and the air, by the physics of `support`.

use making::{Minutes, Recoat, Span};
use measure::{Celsius, GramsPerMillilitre, GramsPerSquareMetre, Millimetres, RelativeHumidity, Share};
use notebook::{Air, Trial};
use support::{
    Back, CoatAsked, DRYING_DRAWS, Draught, DryingAsked, DryingSpans, Face, GroundKind, OpenFaces, Reading, WaitFor, drying_spans,
};

use super::super::StudioError;
use super::asked::PotInfo;
use crate::Workbench;

/// How far a brushed coat may lie from its aim, nine of ten: a quarter, as the spread of a wet coat in `ground` says (15 %, model choice).
const COAT_WITHIN: f64 = 1.645 * ground::WET_SPREAD;
/// A thermometer of the household and its dial for damp, nine of ten (judgement, no source).
const WARM_WITHIN: f64 = 1.0;
const DAMP_WITHIN: f64 = 5.0;
/// A board whose thickness nobody wrote down (model choice).
const USUAL_THICKNESS: f64 = 4.0;
/// Sides of a board whose size nobody wrote down: 20 x 25 cm (model choice).
const USUAL_SIDES: (f64, f64) = (200.0, 250.0);
/// A coat of which no film is known, as a bought primer (judgement, no source): density of the wet ground, share of solids by volume.
const BOUGHT: (GramsPerMillilitre, Share) = (GramsPerMillilitre::new(1.4), Share::new(0.35));

impl Workbench {
    /// When one coat of a pot turns matt and dries, on a board of this trial.
    pub(super) fn coat_dries(&self, trial: &Trial, pot: &PotInfo, air: Option<&Air>) -> Result<DryingSpans, StudioError> {
        let (width, height) = trial.width_mm.zip(trial.height_mm).unwrap_or(USUAL_SIDES);
        let (density, solids) = pot.film.map_or(BOUGHT, |film| (film.wet_density, Share::new(film.solids_volume)));
        let laid = pot.laid.unwrap_or(self.laying.coat);
        let asked = DryingAsked {
            warmth: air.and_then(|air| air.celsius).map(|warm| Reading { value: Celsius::new(warm), within: Celsius::new(WARM_WITHIN) }),
            damp: air
                .and_then(|air| air.damp)
                .map(|damp| Reading { value: RelativeHumidity::new(damp), within: RelativeHumidity::new(DAMP_WITHIN) }),
            draught: Draught::Room,
            length: Millimetres::new(width.max(height)),
            width: Millimetres::new(width.min(height)),
            thickness: Millimetres::new(thickness(&trial.support).unwrap_or(USUAL_THICKNESS)),
            // Boards lie flat on the table while they are coated.
            open: OpenFaces::One,
            back: Back::Insulated,
            // A sized face or an earlier coat: it drinks little, so the wait is the longer one.
            face: Face::Sized,
            coat: CoatAsked {
                laid: Reading { value: laid, within: GramsPerSquareMetre::new(laid.value() * COAT_WITHIN) },
                density,
                solids,
                packing: None,
            },
            ground: pot.family,
        };
        self.drying
            .answer(&asked, || drying_spans(&asked, DRYING_DRAWS).map_err(|why| why.to_string()))
            .map_err(|why| StudioError::Typed(format!("pot {}: {why}", pot.letter)))
    }

    /// When the next coat may follow.
    pub(super) fn recoat(&self, trial: &Trial, pot: &PotInfo, air: Option<&Air>) -> Result<Recoat, StudioError> {
        let spans = self.coat_dries(trial, pot, air)?;
        let next = spans.next_coat.ok_or_else(|| {
            let rule = &self.waits.wait(pot.family, WaitFor::RecoatOpens).rule;
            StudioError::Typed(format!(
                "how long a coat of \u{201c}{}\u{201d} waits for the next is not known ({rule}), so no day can be worked out; lay it by hand from the boards' own pages",
                pot.recipe
            ))
        })?;
        Ok(Recoat {
            opens: minutes(&next.opens),
            best_until: next.best_until.map(|span| Minutes::of_hours(span.usual.value())),
            missed_after: next.closes.map(|span| Minutes::of_hours(span.low.value())),
        })
    }

    /// What a coat risks that comes too late, and the mend.
    pub(super) fn missed_words(&self, family: GroundKind) -> (&str, &str) {
        let missed = self.waits.missed(family);
        (&missed.risk, &missed.mend)
    }
}

/// A span of hours in whole minutes.
pub(super) fn minutes(span: &support::Span<measure::Hours>) -> Span {
    let of = |hours: measure::Hours| Minutes::of_hours(hours.value());
    Span { low: of(span.low), usual: of(span.usual), high: of(span.high) }
}

/// The thickness of a board as told with it: "birch plywood, 4 mm".
fn thickness(support: &str) -> Option<f64> {
    let front = support.split("mm").next().filter(|front| front.len() < support.len())?;
    let number: String = front.trim_end().chars().rev().take_while(|c| c.is_ascii_digit() || matches!(c, '.' | ',')).collect();
    let number: f64 = number.chars().rev().collect::<String>().replace(',', ".").parse().ok()?;
    // Thinner is paper, thicker is a beam.
    (0.5..=60.0).contains(&number).then_some(number)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thickness_is_found_where_it_is_told() {
        assert_eq!(thickness("birch plywood, 4 mm, cut from two sheets"), Some(4.0));
        assert_eq!(thickness("hardboard 3,2mm"), Some(3.2));
        assert_eq!(thickness("oak"), None);
        assert_eq!(thickness("mm"), None);
        assert_eq!(thickness("5000 mm long"), None);
    }
}
