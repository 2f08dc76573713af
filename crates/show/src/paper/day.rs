//! A day of the calendar, passed in: nothing here knows what day it is.

use serde::{Serialize, Serializer};

const MONTHS: [(&str, u8); 12] = [
    ("January", 31),
    ("February", 28),
    ("March", 31),
    ("April", 30),
    ("May", 31),
    ("June", 30),
    ("July", 31),
    ("August", 31),
    ("September", 30),
    ("October", 31),
    ("November", 30),
    ("December", 31),
];

/// A day of the Gregorian calendar, in the years 1 to 9999.
///
/// ```
/// use show::paper::Day;
/// assert_eq!(Day::new(2026, 3, 14).unwrap().written(), "14\u{a0}March 2026");
/// assert_eq!(Day::new(2026, 2, 29), None);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Day {
    year: u16,
    month: u8,
    /// Day of the month.
    of_month: u8,
}

impl Day {
    /// The first day that can be written; stands for days before it.
    pub const FIRST: Self = Self { year: 1, month: 1, of_month: 1 };

    /// Nothing for a day that the calendar does not have.
    pub fn new(year: u16, month: u8, day: u8) -> Option<Self> {
        let (_, usual) = MONTHS.get(usize::from(month).checked_sub(1)?)?;
        let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
        let last = if month == 2 && leap { 29 } else { *usual };
        ((1..=9999).contains(&year) && (1..=last).contains(&day)).then_some(Self { year, month, of_month: day })
    }

    /// The day in words, such as `14 March 2026`.
    pub fn written(self) -> String {
        let name = MONTHS.get(usize::from(self.month).saturating_sub(1)).map_or("", |(name, _)| name);
        format!("{}\u{a0}{name} {}", self.of_month, self.year)
    }
}

/// Written out for the page and in parts for the file's own date.
impl Serialize for Day {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        use serde::ser::SerializeStruct as _;
        let mut parts = serializer.serialize_struct("Day", 4)?;
        parts.serialize_field("year", &self.year)?;
        parts.serialize_field("month", &self.month)?;
        parts.serialize_field("day", &self.of_month)?;
        parts.serialize_field("written", &self.written())?;
        parts.end()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_calendar_of_1582_holds() {
        // Inter gravissimas, 1582: centuries are leap years only when 400 divides them.
        assert!(Day::new(2000, 2, 29).is_some());
        assert!(Day::new(1900, 2, 29).is_none());
        assert!(Day::new(2024, 2, 29).is_some());
        for (year, month, day) in [(2026, 0, 1), (2026, 13, 1), (2026, 4, 31), (2026, 1, 0), (0, 1, 1), (10_000, 1, 1)] {
            assert_eq!(Day::new(year, month, day), None, "{year}-{month}-{day}");
        }
    }
}
