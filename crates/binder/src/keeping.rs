//! How fast a binder spoils, one way of keeping it beside another. It ranks; it gives no times.

use materials::DataError;
use measure::Celsius;

use crate::book::BinderBook;

/// How long a binder is kept at all.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Keeping {
    /// On the day it is made.
    Today,
    /// In the fridge within two hours, in a scalded jar with a lid, without dipping the brush.
    TomorrowIfColdAndClean,
    /// Not any more; also at once on smell, thinning, gas, skin or spots of colour.
    ThenBinIt,
}

impl Keeping {
    /// In plain words.
    pub const fn text(self) -> &'static str {
        match self {
            Self::Today => "Use it on the day it is made.",
            Self::TomorrowIfColdAndClean => {
                "Tomorrow, if cold and clean: in the fridge within two hours of making, in a scalded jar with a lid, and never dip the brush in."
            }
            Self::ThenBinIt => "Then bin it; at once if it smells, thins, gives gas, or shows a skin or spots of colour. Do not taste it.",
        }
    }
}

impl Keeping {
    /// What holds for a binder made so many calendar days ago that went into the fridge so many minutes after it was made and stands
    /// there; `None` for one that stands in the room, or did. "Cold" is within two hours: common practice, no source.
    ///
    /// ```
    /// use binder::Keeping;
    /// assert_eq!(Keeping::of(0, None), Keeping::Today);
    /// assert_eq!(Keeping::of(1, Some(90)), Keeping::TomorrowIfColdAndClean);
    /// assert_eq!(Keeping::of(1, Some(150)), Keeping::ThenBinIt);
    /// ```
    pub const fn of(days: i64, cold_after: Option<i64>) -> Self {
        let cold = matches!(cold_after, Some(minutes) if minutes <= COLD_WITHIN);
        match (days, cold) {
            (..=0, false) => Self::Today,
            (..=1, true) => Self::TomorrowIfColdAndClean,
            _ => Self::ThenBinIt,
        }
    }
}

/// Minutes within which a binder goes into the fridge (common practice, no source).
const COLD_WITHIN: i64 = 120;

/// A law of growth in milk (Ratkowsky et al. 1982, square root of the speed straight in warmth; Rosso et al. 1995 for pH). It is food
/// science with an assumed cold limit and remembered pH limits, on milk and not on binder: for ranks only.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Growth {
    b: f64,
    t_min: f64,
    lag: (f64, f64),
    ph: (f64, f64, f64),
    factor: f64,
    relative_t_min: f64,
}

impl Growth {
    /// From the data file.
    ///
    /// # Errors
    /// It lacks a line.
    pub fn of(book: &BinderBook) -> Result<Self, DataError> {
        let value = |key: &str| book.constant(key).map(|constant| constant.value);
        Ok(Self {
            b: value("growth.b")?,
            t_min: value("growth.t_min")?,
            lag: (value("growth.lag_a")?, value("growth.lag_b")?),
            ph: (value("growth.ph_min")?, value("growth.ph_best")?, value("growth.ph_max")?),
            factor: value("growth.factor")?,
            relative_t_min: value("growth.relative_t_min")?,
        })
    }

    /// The same with another warmth at which growth stands still (-2 to +1 C).
    #[must_use]
    pub fn standing_still_at(self, warmth: Celsius) -> Self {
        Self { t_min: warmth.value(), ..self }
    }

    /// How many times longer it keeps at `cold` than at `warm` by the rule of relative rates; `None` where nothing grows.
    ///
    /// ```
    /// use measure::Celsius;
    /// let growth = binder::Growth::of(binder::BinderBook::builtin()?)?;
    /// // by hand: (24.3 / 8.3)^2 = 8.571
    /// assert!((growth.longer(Celsius::new(4.0), Celsius::new(20.0)).unwrap() - 8.571).abs() < 0.01);
    /// # Ok::<(), materials::DataError>(())
    /// ```
    pub fn longer(&self, cold: Celsius, warm: Celsius) -> Option<f64> {
        let above = |warmth: Celsius| Some(warmth.value() - self.relative_t_min).filter(|above| *above > 0.0);
        let ratio = above(warm)? / above(cold)?;
        Some(ratio * ratio)
    }

    /// Part of the best speed at this pH, 0 to 1; 0 outside the limits.
    pub fn ph_factor(&self, ph: f64) -> f64 {
        let (least, best, most) = self.ph;
        if ph <= least || ph >= most {
            return 0.0;
        }
        let inside = (ph - least) * (ph - most);
        inside / (inside - (ph - best) * (ph - best))
    }

    /// Hours until milk at this warmth has spoilt, by the law. For ranks and checks only; no page shows it.
    pub(crate) fn hours(&self, warmth: Celsius) -> Option<f64> {
        let warmth = warmth.value();
        let root = self.b * (warmth - self.t_min);
        let lag = if warmth > 0.0 { (self.lag.0 + self.lag.1 / warmth).max(0.0) } else { return None };
        (root > 0.0).then(|| lag + self.factor.ln() / (root * root))
    }

    /// How many times longer it keeps at `cold` than at `warm` by the growth law of one spoiler; `None` where it does not grow.
    pub fn longer_by_growth(&self, cold: Celsius, warm: Celsius) -> Option<f64> {
        Some(self.hours(cold)? / self.hours(warm)?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn growth() -> Growth {
        Growth::of(BinderBook::builtin().unwrap()).unwrap()
    }

    #[test]
    fn the_printed_lag_and_speed() {
        // Valik, Goerner, Laukova 2003: lag -45.667 + 1035.3 / T: 7 C 102.2 h, 13 C 34.0 h. Speed at 20 C: (0.026 x 20)^2 = 0.2704 / h;
        // by hand 6.098 + 11.513 / 0.2704 = 48.67 h.
        let growth = growth();
        let lag = |t: f64| growth.lag.0 + growth.lag.1 / t;
        assert!((lag(7.0) - 102.2).abs() < 0.1 && (lag(13.0) - 34.0).abs() < 0.1);
        assert!((growth.hours(Celsius::new(20.0)).unwrap() - 48.7).abs() < 0.1);
        // Same equation at other warmths, by hand, standing still at 0 and at -2 C.
        for (warmth, at_zero, at_minus_two) in
            [(4.0, 1278.0, 686.0), (7.0, 450.0, 312.0), (10.0, 228.0, 176.0), (15.0, 99.0, 82.0), (25.0, 27.0, 23.0), (30.0, 19.0, 17.0)]
        {
            let warmth = Celsius::new(warmth);
            assert!((growth.hours(warmth).unwrap() - at_zero).abs() < 1.0);
            assert!((growth.standing_still_at(Celsius::new(-2.0)).hours(warmth).unwrap() - at_minus_two).abs() < 1.0);
        }
        assert_eq!(growth.hours(Celsius::new(0.0)), None);
    }

    #[test]
    fn ranks_by_warmth_and_sourness() {
        // By hand: (24.3 / 8.3)^2 = 8.571; 1278 / 48.7 = 26.24. At pH 8.8: 3.9 x -0.5 = -1.95; -1.95 / (-1.95 - 3.24) = 0.376.
        let growth = growth();
        let (fridge, room) = (Celsius::new(4.0), Celsius::new(20.0));
        assert!((growth.longer(fridge, room).unwrap() / 8.571 - 1.0).abs() < 0.005);
        assert!((growth.longer_by_growth(fridge, room).unwrap() / 26.24 - 1.0).abs() < 0.005);
        for (ph, factor) in [(6.5, 0.947), (7.0, 1.0), (8.0, 0.801), (8.5, 0.561), (8.8, 0.376), (9.0, 0.235)] {
            assert!((growth.ph_factor(ph) - factor).abs() < 0.001, "{ph}");
        }
        assert!(growth.ph_factor(4.9).abs() < 1e-12 && growth.ph_factor(9.3).abs() < 1e-12);
    }
}
