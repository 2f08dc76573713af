//! The example studio: an old lighthouse's community workshop prepares small panels for a tide calendar. All of it is invented.

use notebook::{Moment, Stamp};

use super::{KeepRecipe, Studio, StudioError, TypedJar};
use crate::{VerdictRequest, Workbench};

/// Seconds of a day.
const DAY: i64 = 86_400;

impl Workbench {
    /// A fresh example studio in memory, written as a painter would have written it over the weeks before `now`.
    ///
    /// # Errors
    /// The program's own example no longer fits its own rules.
    pub fn example(&self, now: Moment) -> Result<Studio, StudioError> {
        let studio = Studio::in_memory(true)?;
        let mut count = 0;
        let mut stamp = |days_ago: i64| {
            count += 1;
            Stamp { at: Moment { seconds: now.seconds - days_ago * DAY, ..now }, device: "desk".into(), chance: count }
        };
        self.put_jar(
            &studio,
            &TypedJar {
                material: "natural-chalk".into(),
                name: "chalk, the workshop's blue bin".into(),
                stock: "3200".into(),
                ..TypedJar::default()
            },
            &stamp(40),
        )?;
        self.keep_recipe(
            &studio,
            &KeepRecipe {
                request: VerdictRequest {
                    told: "15 g rabbit skin glue, 210 ml water, 320 g whiting, 4 coats".into(),
                    ..VerdictRequest::default()
                },
                name: "the workshop's chalk ground".into(),
                ..KeepRecipe::default()
            },
            &stamp(39),
        )?;
        Ok(studio)
    }
}
