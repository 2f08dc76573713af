//! The clock of this computer, and how far its zone stands from UTC.

use workbench::Moment;

/// Now.
pub(crate) fn now() -> Moment {
    let now = jiff::Zoned::now();
    Moment { seconds: now.timestamp().as_second(), offset_minutes: now.offset().seconds() / 60 }
}

/// The time of day of a moment, where the program runs, such as `14:32`.
pub(crate) fn hour(moment: Moment) -> String {
    moment.to_string().split(' ').nth(1).unwrap_or("").to_owned()
}
