//! Room for the foam of a base, in words.

use binder::{Base, FoamRoom, foam_room};
use materials::DataError;
use measure::{Celsius, Grams};
use show::{FoamView, number, plain};

use crate::Workbench;

impl Workbench {
    /// How much higher than the liquid a pot this wide inside has to be for the foam of so much base; `None` if it gives no gas.
    ///
    /// # Errors
    /// The data file lacks a constant.
    pub(crate) fn foam(&self, base: Base, mass: Grams, warmth: Celsius, across_cm: f64) -> Result<Option<FoamView>, DataError> {
        let Some(steam) = support::pot_steam(warmth) else { return Ok(None) };
        let Some(room) = foam_room(self.binder, base, mass, warmth, steam)? else { return Ok(None) };
        let name = self.jars.material(&base.material()).map_or("the base", |material| material.name.as_str());
        let litres = |volume: measure::Millilitres| number(volume.value() / 1000.0, 1);
        let (low, usual, high) = room.foam;
        let higher = FoamRoom::height_cm(high, across_cm).map_or_else(String::new, |cm| {
            format!(", which is {}\u{a0}cm higher than the liquid in one {}\u{a0}cm wide", number(cm.ceil(), 0), plain(across_cm))
        });
        Ok(Some(FoamView {
            says: format!("Take a pot with at least {}\u{a0}l of room above the liquid{higher}.", litres(high)),
            how: format!(
                "{}\u{a0}g of {name} can give {}\u{a0}l of gas at {}\u{a0}°C, and the bubbles hold steam as well. About {}\u{a0}l may stand as foam at one time ({} to {}\u{a0}l: judgement, no source). Put it in little by little and never shut the lid tight.",
                number(mass.value(), 1),
                litres(room.gas),
                plain(warmth.value()),
                litres(usual),
                litres(low),
                litres(high)
            ),
        }))
    }
}
