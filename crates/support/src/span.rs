//! A result with its doubt.

use measure::{Hours, band};

/// A value at the best inputs, and the ends that hold eight draws of ten and always the value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span<T> {
    /// One draw of ten lies below.
    pub low: T,
    /// The plain physics at the best inputs, so that hand arithmetic checks it.
    pub usual: T,
    /// One draw of ten lies above.
    pub high: T,
}

impl<T> Span<T> {
    /// From the value at the best inputs and the draws; without draws the value alone.
    pub(crate) fn of(usual: f64, draws: Vec<f64>, unit: impl Fn(f64) -> T) -> Self {
        let (low, high) = band(draws).unwrap_or((usual, usual));
        Self { low: unit(low.min(usual)), usual: unit(usual), high: unit(high.max(usual)) }
    }

    /// The same in another measure; `to` must not turn the order about.
    pub fn map<U>(self, to: impl Fn(T) -> U) -> Span<U> {
        Span { low: to(self.low), usual: to(self.usual), high: to(self.high) }
    }
}

impl Span<Hours> {
    /// When both have happened: a coat must be free of its water and have set.
    ///
    /// ```
    /// use measure::Hours;
    /// use support::Span;
    /// let span = |low, usual, high| Span { low: Hours::new(low), usual: Hours::new(usual), high: Hours::new(high) };
    /// assert_eq!(span(1.0, 5.0, 9.0).and(&span(3.0, 4.0, 5.0)), span(3.0, 5.0, 9.0));
    /// ```
    #[must_use]
    pub fn and(&self, other: &Self) -> Self {
        let later = |a: Hours, b: Hours| if a < b { b } else { a };
        Self { low: later(self.low, other.low), usual: later(self.usual, other.usual), high: later(self.high, other.high) }
    }
}
