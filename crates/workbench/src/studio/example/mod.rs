//! The example studio: an old lighthouse's community workshop prepares small panels for a tide calendar. All of it is invented.

mod asked;
mod binder;
mod first_round;
mod jars;
mod making_day;
mod pen;
mod recipes;
mod second_round;
mod under_way;

use notebook::Moment;

use super::{Studio, StudioError};
use crate::Workbench;
use pen::Pen;

impl Workbench {
    /// A fresh example studio in memory, written as a painter would have written it over the weeks before `now`, through the same
    /// use cases as the pages.
    ///
    /// # Errors
    /// The program's own example no longer fits its own rules.
    pub fn example(&self, now: Moment) -> Result<Studio, StudioError> {
        let studio = Studio::in_memory(true)?;
        let mut pen = Pen::new(self, &studio, now);
        jars::write(&mut pen)?;
        recipes::write(&mut pen)?;
        first_round::write(&mut pen)?;
        second_round::write(&mut pen)?;
        recipes::write_later(&mut pen)?;
        under_way::write(&mut pen)?;
        asked::write(&mut pen)?;
        making_day::write(&mut pen)?;
        binder::write(&mut pen)?;
        Ok(studio)
    }
}
