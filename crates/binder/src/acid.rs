//! How acid turns milk.

use measure::Celsius;

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

    pub(crate) const fn substance(self) -> &'static str {
        match self {
            Self::Acetic => "acetic-acid",
            Self::Citric => "citric-acid",
            Self::Lactic => "lactic-acid",
            Self::Hydrochloric => "hydrochloric-acid",
        }
    }
}

/// The sourness that the acid leads to, as far as the balance of charges holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PhReached {
    /// Not known: milder than this, the milk as it was; thinned milk is not worked out.
    NotKnownAbove(f64),
    /// This pH.
    At(f64),
    /// Not known: sourer than this, where casein dissolves again.
    NotKnownBelow(f64),
}

impl PhReached {
    /// A worked-out pH, held within what is known.
    pub(crate) fn within(ph: f64, sourest: f64, mildest: f64) -> Self {
        if ph > mildest {
            Self::NotKnownAbove(mildest)
        } else if ph < sourest {
            Self::NotKnownBelow(sourest)
        } else {
            Self::At(ph)
        }
    }

    /// The pH, or the end beyond which it lies.
    pub const fn nearest(self) -> f64 {
        match self {
            Self::NotKnownAbove(ph) | Self::At(ph) | Self::NotKnownBelow(ph) => ph,
        }
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
}
