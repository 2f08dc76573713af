//! Minutes, the clock of the day, and how long something may take.

use std::ops::{Add, Sub};

use serde::{Deserialize, Serialize};

/// A stretch of whole minutes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Minutes(i32);

impl Minutes {
    /// No time at all.
    pub const ZERO: Self = Self(0);

    /// So many minutes.
    pub const fn new(minutes: i32) -> Self {
        Self(minutes)
    }

    /// Hours as minutes, rounded up: nobody waits a part of a minute less. What is no ordinary number becomes no time.
    pub fn of_hours(hours: f64) -> Self {
        let minutes = (hours * 60.0).ceil();
        // A year at most: longer waits are days of the calendar, not of this crate.
        #[expect(clippy::cast_possible_truncation, reason = "held within a year of minutes")]
        let whole = if minutes.is_finite() { minutes.clamp(0.0, 525_600.0) as i32 } else { 0 };
        Self(whole)
    }

    /// The number of minutes.
    pub const fn count(self) -> i32 {
        self.0
    }

    /// So many times this long.
    #[must_use]
    pub fn times(self, count: usize) -> Self {
        Self(self.0.saturating_mul(i32::try_from(count).unwrap_or(i32::MAX)))
    }
}

impl Add for Minutes {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

impl Sub for Minutes {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}

impl std::iter::Sum for Minutes {
    fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
        all.fold(Self::ZERO, Add::add)
    }
}

/// A moment of the day: minutes since its midnight, negative the day before.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Clock(i32);

impl Clock {
    /// So many minutes after midnight.
    pub const fn new(minutes: i32) -> Self {
        Self(minutes)
    }

    /// Minutes after midnight.
    pub const fn count(self) -> i32 {
        self.0
    }

    /// Days from the day itself and minutes since that day's midnight.
    ///
    /// ```
    /// use making::Clock;
    /// assert_eq!(Clock::new(-60).parts(), (-1, 23 * 60));
    /// ```
    pub const fn parts(self) -> (i32, i32) {
        (self.0.div_euclid(24 * 60), self.0.rem_euclid(24 * 60))
    }
}

impl Add<Minutes> for Clock {
    type Output = Self;
    fn add(self, wait: Minutes) -> Self {
        Self(self.0.saturating_add(wait.0))
    }
}

impl Sub<Minutes> for Clock {
    type Output = Self;
    fn sub(self, wait: Minutes) -> Self {
        Self(self.0.saturating_sub(wait.0))
    }
}

impl Sub for Clock {
    type Output = Minutes;
    fn sub(self, other: Self) -> Minutes {
        Minutes(self.0.saturating_sub(other.0))
    }
}

/// How long something takes: eight times of ten between `low` and `high`, most likely about `usual`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
pub struct Span {
    /// Short.
    pub low: Minutes,
    /// Usual; the day is laid out with it.
    pub usual: Minutes,
    /// Long.
    pub high: Minutes,
}

impl Span {
    /// A time that is known to the minute.
    pub const fn exactly(time: Minutes) -> Self {
        Self { low: time, usual: time, high: time }
    }
}
