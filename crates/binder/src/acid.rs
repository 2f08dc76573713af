//! How acid turns milk.

use measure::{Celsius, Millilitres, Millimoles};

/// An acid as a substance.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Acid {
    /// Of vinegar.
    Acetic,
    /// Of lemons.
    Citric,
    /// Of sour milk.
    Lactic,
    /// A strong acid of the laboratory.
    Hydrochloric,
}

impl Acid {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Acetic, Self::Citric, Self::Lactic, Self::Hydrochloric];

    pub(crate) const fn dose_key(self) -> &'static str {
        match self {
            Self::Acetic => "acetic",
            Self::Citric => "citric",
            Self::Lactic => "lactic",
            Self::Hydrochloric => "hcl",
        }
    }

    pub(crate) const fn substance(self) -> &'static str {
        match self {
            Self::Acetic => "acetic-acid",
            Self::Citric => "citric-acid",
            Self::Lactic => "lactic-acid",
            Self::Hydrochloric => "hydrochloric-acid",
        }
    }
}

/// One thing for each acid.
#[derive(Debug, Clone)]
pub(crate) struct PerAcid<T> {
    acetic: T,
    citric: T,
    lactic: T,
    hydrochloric: T,
}

impl<T> PerAcid<T> {
    pub(crate) fn build<E>(make: impl Fn(Acid) -> Result<T, E>) -> Result<Self, E> {
        Ok(Self {
            acetic: make(Acid::Acetic)?,
            citric: make(Acid::Citric)?,
            lactic: make(Acid::Lactic)?,
            hydrochloric: make(Acid::Hydrochloric)?,
        })
    }

    pub(crate) fn get(&self, acid: Acid) -> &T {
        match acid {
            Acid::Acetic => &self.acetic,
            Acid::Citric => &self.citric,
            Acid::Lactic => &self.lactic,
            Acid::Hydrochloric => &self.hydrochloric,
        }
    }
}

/// The sourness that a dose leads to, as far as the table goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PhReached {
    /// Not known: milder than this mildest line of the table.
    NotKnownAbove(f64),
    /// This pH.
    At(f64),
    /// Not known: sourer than this sourest line of the table.
    NotKnownBelow(f64),
}

impl PhReached {
    /// The pH, or the end of the table beyond which it lies.
    pub const fn nearest(self) -> f64 {
        match self {
            Self::NotKnownAbove(ph) | Self::At(ph) | Self::NotKnownBelow(ph) => ph,
        }
    }
}

/// Doses of one acid (mmol for each litre of skim milk) against the pH that they lead to; straight between the lines of the table.
#[derive(Debug, Clone, PartialEq)]
pub struct DoseLine {
    /// (pH, mmol/l), mildest first.
    points: [(f64, f64); 4],
}

impl DoseLine {
    /// From (pH, mmol/l), mildest first; `None` unless pH falls and dose rises from line to line.
    pub(crate) fn new(points: [(f64, f64); 4]) -> Option<Self> {
        let rises = points.windows(2).all(|pair| matches!(pair, [(ph, dose), (next_ph, next)] if next_ph < ph && next > dose));
        rises.then_some(Self { points })
    }

    /// The pH of skim milk after `acid` in `milk`.
    ///
    /// ```
    /// use binder::{Acid, BinderBook, PhReached};
    /// use measure::{Millilitres, Millimoles};
    /// let citric = BinderBook::builtin()?.doses(Acid::Citric);
    /// assert_eq!(citric.ph_reached(Millilitres::new(1000.0), Millimoles::new(1.0)), PhReached::NotKnownAbove(5.5));
    /// # Ok::<(), materials::DataError>(())
    /// ```
    pub fn ph_reached(&self, milk: Millilitres, acid: Millimoles) -> PhReached {
        let dose = acid.value() / (milk.value() / 1000.0);
        let between = self.points.windows(2).find_map(|pair| match pair {
            [(mild, from), (sour, to)] if (*from..=*to).contains(&dose) => Some(mild + (sour - mild) * (dose - from) / (to - from)),
            _ => None,
        });
        let [(mildest, _), .., (sourest, most)] = self.points;
        match between {
            Some(ph) => PhReached::At(ph),
            None if dose > most => PhReached::NotKnownBelow(sourest),
            None => PhReached::NotKnownAbove(mildest),
        }
    }

    /// Acid that brings `milk` to this pH; `None` outside the table.
    ///
    /// ```
    /// use binder::{Acid, BinderBook};
    /// use measure::Millilitres;
    /// let acetic = BinderBook::builtin()?.doses(Acid::Acetic);
    /// let needed = acetic.acid_to_reach(Millilitres::new(2000.0), 4.6).unwrap();
    /// assert!((needed.value() - 190.2).abs() < 1e-9);
    /// # Ok::<(), materials::DataError>(())
    /// ```
    pub fn acid_to_reach(&self, milk: Millilitres, ph: f64) -> Option<Millimoles> {
        self.points.windows(2).find_map(|pair| match pair {
            [(mild, from), (sour, to)] if (*sour..=*mild).contains(&ph) => {
                let dose = from + (to - from) * (mild - ph) / (mild - sour);
                Some(Millimoles::new(dose * milk.value() / 1000.0))
            }
            _ => None,
        })
    }
}

/// The pH at which milk begins to curdle; warm milk curdles earlier. A straight line, held level outside its range.
#[derive(Debug, Clone, PartialEq)]
pub struct Onset {
    pub(crate) at_reference: f64,
    pub(crate) slope: f64,
    pub(crate) reference: f64,
    pub(crate) coolest: f64,
    pub(crate) hottest: f64,
    pub(crate) heated: f64,
    pub(crate) cap: f64,
}

impl Onset {
    /// The pH from which milk of this warmth curdles. `heated_before`: it was hot (70 C and more, some minutes) at any time.
    ///
    /// That it has curdled is no sign to stop: the most casein with the least lime comes at pH 4.6, at any warmth.
    ///
    /// ```
    /// let onset = binder::BinderBook::builtin()?.onset();
    /// assert!((onset.curdles_from_ph(measure::Celsius::new(25.0), false) - 5.1).abs() < 1e-9);
    /// # Ok::<(), materials::DataError>(())
    /// ```
    pub fn curdles_from_ph(&self, warmth: Celsius, heated_before: bool) -> f64 {
        let warmth = warmth.value().clamp(self.coolest, self.hottest);
        let line = self.at_reference + self.slope * (warmth - self.reference);
        (line + if heated_before { self.heated } else { 0.0 }).min(self.cap)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::BinderBook;
    use proptest::prelude::*;

    const LITRE: Millilitres = Millilitres::new(1000.0);

    #[test]
    fn one_lemon_in_a_litre() {
        // Penniston et al. 2008, J. Endourol.: lemon juice holds 48 g/l citric acid; 45 ml hold 2.16 g, / 192.124 = 11.243 mmol. Between
        // 5.7 mmol (pH 5.5) and 13.1 (pH 5.0): 5.5 - 0.5 x 5.543 / 7.4 = 5.125. To pH 4.6: 21.0 x 0.192124 = 4.035 g, / 2.16 = 1.868.
        let book = BinderBook::builtin().unwrap();
        let grams = book.grams_per_millimole(Acid::Citric).unwrap();
        let lemon = Millimoles::new(2.16 / grams);
        assert!((lemon.value() - 11.24).abs() < 0.02);
        let citric = book.doses(Acid::Citric);
        assert!((citric.ph_reached(LITRE, lemon).nearest() - 5.13).abs() < 0.02);
        let needed = citric.acid_to_reach(LITRE, 4.6).unwrap();
        assert!((needed / lemon - 1.87).abs() < 0.02);
    }

    #[test]
    fn milk_curdles_earlier_when_warm() {
        // Bringe and Kinsella 1993, Food Hydrocolloids 7, abstract: pH 5.1 at 25 C, 5.8 at 47 C; straight between (model choice):
        // 36 C 5.45. Heated for 7 min at 70-95 C: 0.4 higher.
        let onset = BinderBook::builtin().unwrap().onset();
        for (warmth, heated, ph) in [(25.0, false, 5.10), (36.0, false, 5.45), (47.0, false, 5.80), (25.0, true, 5.50), (90.0, true, 6.0)] {
            assert!((onset.curdles_from_ph(Celsius::new(warmth), heated) - ph).abs() < 0.01, "{warmth}");
        }
        assert!((onset.curdles_from_ph(Celsius::new(5.0), false) - onset.curdles_from_ph(Celsius::new(20.0), false)).abs() < 1e-12);
    }

    #[test]
    fn outside_the_table_nothing_is_said() {
        let acetic = BinderBook::builtin().unwrap().doses(Acid::Acetic);
        assert_eq!(acetic.ph_reached(LITRE, Millimoles::new(17.9)), PhReached::NotKnownAbove(5.5));
        assert_eq!(acetic.ph_reached(LITRE, Millimoles::new(140.1)), PhReached::NotKnownBelow(4.4));
        assert_eq!(acetic.acid_to_reach(LITRE, 4.3), None);
        assert_eq!(acetic.acid_to_reach(LITRE, 5.6), None);
    }

    proptest! {
        #[test]
        fn more_acid_never_raises_the_ph(dose in 0.0f64..300.0, more in 0.0f64..300.0, number in 0usize..4) {
            let line = BinderBook::builtin().unwrap().doses(Acid::ALL[number]);
            let ph = |mmol| line.ph_reached(LITRE, Millimoles::new(mmol)).nearest();
            prop_assert!(ph(dose + more) <= ph(dose));
        }

        #[test]
        fn the_dose_to_a_ph_leads_there(ph in 4.4f64..5.5, millilitres in 1.0f64..1e5, number in 0usize..4) {
            let line = BinderBook::builtin().unwrap().doses(Acid::ALL[number]);
            let milk = Millilitres::new(millilitres);
            let acid = line.acid_to_reach(milk, ph).unwrap();
            prop_assert!((line.ph_reached(milk, acid).nearest() - ph).abs() < 1e-9);
        }
    }
}
