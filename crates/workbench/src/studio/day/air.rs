//! The air of the room, and boards on the scale while they dry.

use notebook::{Air, BoardMass, Deed, Stamp, Wanted};

use super::super::trial::sound;
use super::super::{Studio, StudioError, above_zero, number};
use super::sitting_of;
use crate::Workbench;

/// Heaviest board that a kitchen scale is asked to hold, grams.
const HEAVIEST: f64 = 50_000.0;

impl Workbench {
    /// Writes down the air of a sitting. One of the two may be left out.
    ///
    /// # Errors
    /// Neither said; air that no room has; no such day.
    pub fn read_air(&self, studio: &Studio, sitting: &str, celsius: &str, damp: &str, stamp: &Stamp) -> Result<(), StudioError> {
        let celsius = number(celsius, "the warmth of the air", "19.5")?;
        let damp = above_zero(damp, "the dampness of the air", "55")?;
        if celsius.is_none() && damp.is_none() {
            return Err(StudioError::Typed(
                "read the warmth or the dampness of the air off an instrument in the room, such as 20 and 55".into(),
            ));
        }
        room_air(celsius, damp)?;
        studio
            .write(stamp, |state| {
                sitting_of(state, sitting)?;
                let air = Air { sitting: sitting.to_owned(), celsius, damp, read: stamp.at };
                Ok(vec![Wanted::new(stamp.subject("air", 0), Deed::Air(air))])
            })
            .map(drop)
    }

    /// Writes down what a board weighs while it dries.
    ///
    /// # Errors
    /// No weight; a lost or unknown board.
    pub fn weigh_drying(&self, studio: &Studio, board: &str, grams: &str, stamp: &Stamp) -> Result<(), StudioError> {
        let Some(grams) = above_zero(grams, "the board on the scale", "131.5")? else {
            return Err(StudioError::Typed("put the board on the scale and say what it shows, such as 131.5".into()));
        };
        if grams > HEAVIEST {
            return Err(StudioError::Typed("that is more than 50 kg; say the weight in grams, such as 131.5".into()));
        }
        studio
            .write(stamp, |state| {
                let board = self.find_board(state, board)?;
                sound(state, &board)?;
                let mass = BoardMass { board, grams, at: stamp.at };
                Ok(vec![Wanted::new(stamp.subject("mass", 0), Deed::BoardMass(mass))])
            })
            .map(drop)
    }
}

/// Air that a room can have.
pub(in super::super) fn room_air(celsius: Option<f64>, damp: Option<f64>) -> Result<(), StudioError> {
    if damp.is_some_and(|damp| damp > 100.0) {
        return Err(StudioError::Typed("air can't be damper than 100 per cent".into()));
    }
    if celsius.is_some_and(|warm| !(-20.0..=60.0).contains(&warm)) {
        return Err(StudioError::Typed("the warmth of a room lies between -20 and 60 degrees Celsius".into()));
    }
    Ok(())
}
