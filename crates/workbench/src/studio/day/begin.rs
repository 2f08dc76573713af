//! A day begins and ends.

use notebook::{Deed, Moment, Notebook, Sitting, Stamp, Wanted};

use super::super::{Studio, StudioError};
use super::wish::Wish;
use super::{MINUTE, TypedWish, clock, midnight, sitting_of};
use crate::{VERSION, Workbench};

impl Workbench {
    /// Begins a day of a closed plan, with what is done otherwise than the plan has it: other hours, small pots, pots and boards that stay
    /// for another day. From here on it is tapped through. Returns the sitting.
    ///
    /// # Errors
    /// No such trial or day; its plan is not closed; another day is under way; hours that can't be read; a pot or board that this day does not
    /// have.
    pub fn begin_day(&self, studio: &Studio, trial: &str, day: u32, wish: &TypedWish, stamp: &Stamp) -> Result<String, StudioError> {
        let wish = wish.read()?;
        let subject = format!("sitting-{day}-of-{trial}");
        studio.write(stamp, |state| {
            if let Some(other) = under_way(state) {
                let what = state.trials.get(&other.record.trial).map_or("another trial", |kept| kept.record.question.as_str());
                return Err(StudioError::Typed(format!(
                    "a day is under way already: day {} of \u{201c}{what}\u{201d}; end that one first",
                    other.record.day
                )));
            }
            let asked = wish.on_day(&self.day_asked(state, trial, day, wish.hours)?.asked)?;
            making::work(&asked).map(drop).or_else(|why| match why {
                // It may be begun all the same: what is at risk is said on the day itself.
                making::DayError::TooLong { .. } | making::DayError::PotsTooOld { .. } => Ok(()),
                other => Err(StudioError::typed(other)),
            })?;
            let asked = serde_json::to_string(&asked).map_err(StudioError::typed)?;
            let midnight = midnight_of(&wish, stamp.at);
            let sitting = Sitting { trial: trial.to_owned(), day, midnight, asked, version: VERSION.to_owned(), ended: None };
            Ok(vec![match state.head(&subject) {
                None => Wanted::new(subject.clone(), Deed::Sitting(sitting)),
                // A day that was ended too early goes on.
                Some(n) => {
                    let before = sitting_of(state, &subject)?;
                    Wanted::edit(subject.clone(), n, Deed::Sitting(Sitting { ended: None, ..before.record.clone() }))
                }
            }])
        })?;
        Ok(subject)
    }

    /// Says that a day is over. What was not laid stays open.
    ///
    /// # Errors
    /// No such day under way.
    pub fn end_day(&self, studio: &Studio, sitting: &str, stamp: &Stamp) -> Result<(), StudioError> {
        studio
            .write(stamp, |state| {
                let kept = sitting_of(state, sitting)?;
                let over = Sitting { ended: Some(stamp.at), ..kept.record.clone() };
                Ok(vec![Wanted::edit(sitting, kept.n, Deed::Sitting(over))])
            })
            .map(drop)
    }
}

/// Midnight before the day that is meant: the one named, else today, or tomorrow when the hours of today are over.
fn midnight_of(wish: &Wish, at: Moment) -> Moment {
    let today = midnight(at);
    let later = |days: i64| Moment { seconds: today.seconds + days * 24 * 60 * MINUTE, ..today };
    match wish.on {
        Some(on) => later(on.number() - at.local().0.number()),
        None if clock(today, at) > wish.hours.ends => later(1),
        None => today,
    }
}

/// The day that was begun last and is not over.
pub(super) fn under_way(state: &Notebook) -> Option<&std::sync::Arc<notebook::Kept<Sitting>>> {
    state.sittings.values().filter(|sitting| sitting.record.ended.is_none()).max_by_key(|sitting| sitting.n)
}
