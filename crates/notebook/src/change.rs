//! One entry of the log.

use std::fmt;

use serde::{Deserialize, Serialize};

/// When something was written down: the clock of the device and how far its zone stands from UTC.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize)]
pub struct Moment {
    /// Seconds since 1970-01-01, UTC.
    pub seconds: i64,
    /// Minutes that the zone is ahead of UTC.
    pub offset_minutes: i32,
}

/// A day of the calendar (proleptic Gregorian).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Day {
    /// Year, such as 2026.
    pub year: i32,
    /// 1 to 12.
    pub month: u8,
    /// 1 to 31.
    pub day: u8,
}

impl Moment {
    /// The day where it was written down, and the minutes since that day's midnight.
    ///
    /// ```
    /// use notebook::Moment;
    /// let (day, minutes) = Moment { seconds: 951_868_799, offset_minutes: 60 }.local();
    /// assert_eq!((day.to_string().as_str(), minutes), ("2000-03-01", 59));
    /// ```
    pub fn local(self) -> (Day, u32) {
        let minutes = self.seconds.div_euclid(60) + i64::from(self.offset_minutes);
        let within = minutes.rem_euclid(24 * 60);
        (Day::from_number(minutes.div_euclid(24 * 60)), u32::try_from(within).unwrap_or(0))
    }
}

impl fmt::Display for Moment {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (day, minutes) = self.local();
        write!(f, "{day} {:02}:{:02}", minutes / 60, minutes % 60)
    }
}

impl Day {
    /// The day so many days after 1970-01-01.
    pub fn from_number(number: i64) -> Self {
        // Howard Hinnant, "chrono-compatible low-level date algorithms", civil_from_days: years begin in March, eras have 400 years.
        let shifted = number + 719_468;
        let era = shifted.div_euclid(146_097);
        let of_era = shifted.rem_euclid(146_097);
        let year_of_era = (of_era - of_era / 1_460 + of_era / 36_524 - of_era / 146_096) / 365;
        let of_year = of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
        let from_march = (5 * of_year + 2) / 153;
        let day = of_year - (153 * from_march + 2) / 5 + 1;
        let month = if from_march < 10 { from_march + 3 } else { from_march - 9 };
        let year = year_of_era + era * 400 + i64::from(month <= 2);
        Self { year: i32::try_from(year).unwrap_or(i32::MAX), month: u8::try_from(month).unwrap_or(1), day: u8::try_from(day).unwrap_or(1) }
    }

    /// Days since 1970-01-01.
    pub fn number(self) -> i64 {
        let year = i64::from(self.year) - i64::from(self.month <= 2);
        let era = year.div_euclid(400);
        let of_era = year.rem_euclid(400);
        let from_march = i64::from(self.month) + if self.month > 2 { -3 } else { 9 };
        let of_year = (153 * from_march + 2) / 5 + i64::from(self.day) - 1;
        era * 146_097 + of_era * 365 + of_era / 4 - of_era / 100 + of_year - 719_468
    }

    /// Reads `2026-11-25`; `None` for anything that is no day.
    pub fn read(text: &str) -> Option<Self> {
        let mut parts = text.trim().split('-');
        let (year, month, day) = (parts.next()?, parts.next()?, parts.next()?);
        if parts.next().is_some() || year.len() != 4 {
            return None;
        }
        let day = Self { year: year.parse().ok()?, month: month.parse().ok()?, day: day.parse().ok()? };
        ((1..=12).contains(&day.month) && Self::from_number(day.number()) == day).then_some(day)
    }
}

impl fmt::Display for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

/// An entry that is to be written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewChange {
    /// Made by the device that writes it; the same id again is the same entry, so a repeat does no harm.
    pub id: String,
    /// When it was written down.
    pub at: Moment,
    /// Which device wrote it.
    pub device: String,
    /// Kind of the record, such as `recipe`.
    pub kind: String,
    /// Version of the record's shape.
    pub version: u16,
    /// What it is about.
    pub subject: String,
    /// For an edit: number of the entry that it was made from. Additive facts have none.
    pub expects: Option<u64>,
    /// For a strike: number of the entry that it takes back.
    pub strikes: Option<u64>,
    /// The record as JSON.
    pub body: String,
}

/// An entry of the log.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    /// Its number: 1, 2, 3 ... without gaps.
    pub n: u64,
    /// What was written.
    pub entry: NewChange,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_agree_with_the_calendar() {
        // Known days: the Unix epoch; 2000-02-29 is day 11016 (30 years of 365 days, 7 leap days before 2000, 59 days on).
        assert_eq!(Day::from_number(0).to_string(), "1970-01-01");
        assert_eq!(Day::from_number(11_016).to_string(), "2000-02-29");
        assert_eq!(Day::read("2026-11-25").map(Day::number), Some(20_782));
        assert_eq!(Day::read("2023-02-29"), None);
        assert_eq!(Day::read("2026-13-01"), None);
        assert_eq!(Day::read("26-1-1"), None);
    }

    proptest::proptest! {
        #[test]
        fn numbers_and_days_are_one_to_one(number in -1_000_000i64..1_000_000) {
            proptest::prop_assert_eq!(Day::from_number(number).number(), number);
        }
    }
}
