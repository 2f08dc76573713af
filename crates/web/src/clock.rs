//! The clock of this computer, and how far its zone stands from UTC.

use workbench::Moment;

/// Now.
pub(crate) fn now() -> Moment {
    let now = jiff::Zoned::now();
    Moment { seconds: now.timestamp().as_second(), offset_minutes: now.offset().seconds() / 60 }
}
