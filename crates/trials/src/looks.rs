//! When to look at a board again.

/// A day of the calendar in use today, years 1 to 9999.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Day {
    year: u16,
    month: u8,
    of_month: u8,
}

/// Three numbers that are no day.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{year}-{month}-{day} is no day of the calendar; write it as year, month, day, such as 2026-02-28")]
pub struct DayError {
    /// Year as given.
    pub year: u16,
    /// Month as given.
    pub month: u8,
    /// Day as given.
    pub day: u8,
}

/// A day on which a board wants to be looked at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Look {
    /// Short name, the same for all boards: `1-day`, `1-week`, `6-months`, `2-years`.
    pub id: String,
    /// How long after the last coat, in words.
    pub after: String,
    /// The day.
    pub day: Day,
}

impl Day {
    /// From year, month and day.
    ///
    /// # Errors
    /// No such day, such as 30 February.
    pub fn new(year: u16, month: u8, day: u8) -> Result<Self, DayError> {
        if !(1..=9999).contains(&year) || !(1..=12).contains(&month) || day == 0 || day > days_in(year, month) {
            return Err(DayError { year, month, day });
        }
        Ok(Self { year, month, of_month: day })
    }

    /// Year, month, day.
    pub fn parts(self) -> (u16, u8, u8) {
        (self.year, self.month, self.of_month)
    }

    /// So many days later; `None` beyond the year 9999.
    pub fn plus_days(self, days: u32) -> Option<Self> {
        let mut later = self;
        for _ in 0..days {
            later = later.tomorrow()?;
        }
        Some(later)
    }

    /// So many months later, on the same day of the month or, when that month is shorter, on its last day. `None` beyond the year 9999.
    ///
    /// ```
    /// use trials::looks::Day;
    /// let last_coat = Day::new(2024, 1, 31)?;
    /// assert_eq!(last_coat.plus_months(1), Some(Day::new(2024, 2, 29)?));
    /// # Ok::<(), trials::looks::DayError>(())
    /// ```
    pub fn plus_months(self, months: u32) -> Option<Self> {
        let counted = u32::from(self.year) * 12 + u32::from(self.month - 1) + months;
        let year = u16::try_from(counted / 12).ok().filter(|year| *year <= 9999)?;
        let month = u8::try_from(counted % 12 + 1).ok()?;
        Some(Self { year, month, of_month: self.of_month.min(days_in(year, month)) })
    }

    fn tomorrow(self) -> Option<Self> {
        if self.of_month < days_in(self.year, self.month) {
            return Some(Self { of_month: self.of_month + 1, ..self });
        }
        Self { of_month: 1, ..self }.plus_months(1)
    }
}

fn days_in(year: u16, month: u8) -> u8 {
    match month {
        2 if year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400)) => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    }
}

/// The looks due after the last coat: 1 day, 1 week, 1, 3, 6 and 12 months, then every year up to `years` (common practice, no source).
/// Every month is counted from the last coat, so a short February moves no later look. Looks beyond the year 9999 are left out.
///
/// ```
/// use trials::looks::{Day, due};
/// let looks = due(Day::new(2026, 8, 31)?, 2);
/// assert_eq!(looks.len(), 7);
/// assert_eq!(looks.last().map(|look| (look.after.as_str(), look.day)), Some(("2 years", Day::new(2028, 8, 31)?)));
/// # Ok::<(), trials::looks::DayError>(())
/// ```
pub fn due(last_coat: Day, years: u32) -> Vec<Look> {
    let look = |id: String, after: String, day: Option<Day>| day.map(|day| Look { id, after, day });
    let days = [("1-day", "1 day", 1), ("1-week", "1 week", 7)].map(|(id, after, n)| look(id.into(), after.into(), last_coat.plus_days(n)));
    let months = [("1-month", "1 month", 1), ("3-months", "3 months", 3), ("6-months", "6 months", 6), ("12-months", "12 months", 12)]
        .map(|(id, after, n)| look(id.into(), after.into(), last_coat.plus_months(n)));
    // A slip in `years` must not fill a calendar without end.
    let yearly = (2..=years.min(MOST_YEARS)).map(|n| look(format!("{n}-years"), format!("{n} years"), last_coat.plus_months(12 * n)));
    days.into_iter().chain(months).chain(yearly).flatten().collect()
}

/// Most years for which looks are worked out.
pub const MOST_YEARS: u32 = 100;

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn day(year: u16, month: u8, day: u8) -> Day {
        Day::new(year, month, day).unwrap()
    }

    #[test]
    fn months_end_where_they_end() {
        // dateutil 2.9 documents relativedelta(months=+1) of 31 January as the last day of February.
        assert_eq!(day(2026, 1, 31).plus_months(1), Some(day(2026, 2, 28)));
        assert_eq!(day(2024, 1, 31).plus_months(1), Some(day(2024, 2, 29)));
        assert_eq!(day(2024, 2, 29).plus_months(12), Some(day(2025, 2, 28)));
        assert_eq!(day(2024, 2, 29).plus_months(48), Some(day(2028, 2, 29)));
        assert_eq!(day(2026, 12, 31).plus_days(1), Some(day(2027, 1, 1)));
        assert_eq!(day(2100, 2, 28).plus_days(1), Some(day(2100, 3, 1)));
        assert_eq!(day(9999, 12, 31).plus_days(1), None);
        assert_eq!(day(9999, 12, 31).plus_months(1), None);
    }

    #[test]
    fn what_is_no_day_is_refused() {
        for (year, month, at) in [(2026, 2, 29), (1900, 2, 29), (2026, 4, 31), (2026, 13, 1), (2026, 0, 1), (2026, 1, 0), (0, 1, 1)] {
            assert!(Day::new(year, month, at).is_err(), "{year} {month} {at}");
        }
        assert!(Day::new(2000, 2, 29).is_ok());
    }

    #[test]
    fn looks_by_the_calendar_on_the_wall() {
        let found: Vec<_> = due(day(2026, 11, 25), 3).into_iter().map(|look| (look.id, look.day.parts())).collect();
        let wanted = [
            ("1-day", (2026, 11, 26)),
            ("1-week", (2026, 12, 2)),
            ("1-month", (2026, 12, 25)),
            ("3-months", (2027, 2, 25)),
            ("6-months", (2027, 5, 25)),
            ("12-months", (2027, 11, 25)),
            ("2-years", (2028, 11, 25)),
            ("3-years", (2029, 11, 25)),
        ];
        assert_eq!(found, wanted.map(|(id, parts)| (id.to_owned(), parts)));
        assert_eq!(due(day(2026, 1, 1), u32::MAX).len(), 6 + 99);
    }

    proptest! {
        #[test]
        fn looks_come_one_after_the_other(year in 1_u16..9800, month in 1_u8..=12, at in 1_u8..=31, years in 0_u32..60) {
            prop_assume!(Day::new(year, month, at).is_ok());
            let looks = due(day(year, month, at), years);
            prop_assert!(looks.windows(2).all(|pair| pair[0].day < pair[1].day));
        }
    }
}
