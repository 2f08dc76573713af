//! The making day: laid out from the plan, begun, tapped through, and what is to be done now.

mod air;
mod asked;
mod begin;
mod drying;
mod habits;
mod happened;
mod hours;
mod now;
mod outline;
mod portion;
mod quiet;
mod recipe;
mod sheets;
mod tap;
mod view;
mod waits;
mod wish;
mod words;

pub use hours::TypedHours;
pub use recipe::RecipeDay;
pub use tap::TypedTap;
pub use wish::TypedWish;

pub(super) use air::room_air;
pub(crate) use habits::{laying as laying_time, times};
pub(crate) use hours::Hours;

use making::Clock;
use notebook::{Kept, Moment, Notebook, Sitting};

use super::StudioError;

/// Seconds and milliseconds.
const MINUTE: i64 = 60;
const MILLI: i64 = 1000;

/// A moment by the clock of a day that counts from `midnight`.
fn clock(midnight: Moment, at: Moment) -> Clock {
    let minutes = (at.seconds - midnight.seconds).div_euclid(MINUTE);
    Clock::new(i32::try_from(minutes).unwrap_or(if minutes < 0 { i32::MIN } else { i32::MAX }))
}

/// Milliseconds since 1970 of a clock of that day.
fn milliseconds(midnight: Moment, clock: Clock) -> i64 {
    (midnight.seconds + i64::from(clock.count()) * MINUTE) * MILLI
}

/// Midnight before this moment, where it was said.
fn midnight(at: Moment) -> Moment {
    let (_, minutes) = at.local();
    Moment { seconds: at.seconds - i64::from(minutes) * MINUTE - at.seconds.rem_euclid(MINUTE), ..at }
}

/// A day that was begun.
fn sitting_of<'a>(state: &'a Notebook, subject: &str) -> Result<&'a Kept<Sitting>, StudioError> {
    state.sittings.get(subject).map(AsRef::as_ref).ok_or(StudioError::Missing("day under way"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_day_counts_from_the_midnight_of_its_zone() {
        // 2000-03-01 00:59:59 in a zone an hour ahead (the day that notebook's own example names): a minute short of one o'clock.
        let at = Moment { seconds: 951_868_799, offset_minutes: 60 };
        let zero = midnight(at);
        assert_eq!(zero.local().1, 0);
        assert_eq!(clock(zero, at).count(), 59);
        assert_eq!(milliseconds(zero, Clock::new(59)), 951_868_740_000);
        assert_eq!(clock(zero, Moment { seconds: zero.seconds - 1, ..zero }).count(), -1);
    }
}
