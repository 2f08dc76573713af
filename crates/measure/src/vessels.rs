//! Grams as level cups and spoons of one's own, with what the rounding costs.

use crate::quantity::{Grams, GramsPerMillilitre, Millilitres, QuantityError, Share};

/// A cup or spoon that is filled level.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Vessel {
    /// A cup.
    Cup,
    /// Half a cup.
    HalfCup,
    /// A third of a cup.
    ThirdCup,
    /// A quarter of a cup.
    QuarterCup,
    /// A tablespoon.
    Tablespoon,
    /// A teaspoon.
    Teaspoon,
    /// Half a teaspoon.
    HalfTeaspoon,
    /// A quarter of a teaspoon.
    QuarterTeaspoon,
}

/// From the largest to the smallest in every set that is sold.
const ALL: [Vessel; 8] = [
    Vessel::Cup,
    Vessel::HalfCup,
    Vessel::ThirdCup,
    Vessel::QuarterCup,
    Vessel::Tablespoon,
    Vessel::Teaspoon,
    Vessel::HalfTeaspoon,
    Vessel::QuarterTeaspoon,
];

/// More cups than this and a scale is the only sense.
const MOST_CUPS: f64 = 100.0;

/// A painter's own cup and spoons.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct VesselSet {
    cup: Millilitres,
    tablespoon: Millilitres,
    teaspoon: Millilitres,
}

/// Amounts that can't be said in cups and spoons.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum VesselError {
    /// A size or a mass that can't be.
    #[error(transparent)]
    Quantity(#[from] QuantityError),
    /// Nothing of it.
    #[error("a {0} that holds nothing can't be counted; measure what it holds, in ml or in grams of the stuff")]
    Empty(&'static str),
    /// The spoons are larger than the cup, or alike.
    #[error("a cup must hold more than four tablespoons and a tablespoon more than a teaspoon; check the sizes of your set")]
    Order,
    /// Too many cups.
    #[error("that is more than 100 cups: weigh it, or make it in several pots")]
    TooMuch,
}

impl VesselSet {
    /// The US set: cup 236.588 ml, tablespoon 14.787 ml, teaspoon 4.929 ml (NIST Handbook 44, appendix C).
    pub const US: Self = Self {
        cup: Millilitres::new(236.588_236_5),
        tablespoon: Millilitres::new(14.786_764_781_25),
        teaspoon: Millilitres::new(4.928_921_593_75),
    };
    /// The metric set: 250, 15 and 5 ml (customary).
    pub const METRIC: Self = Self { cup: Millilitres::new(250.0), tablespoon: Millilitres::new(15.0), teaspoon: Millilitres::new(5.0) };

    /// A set of one's own, measured with water.
    ///
    /// # Errors
    /// A size that can't be, or a cup that does not hold more than four of its tablespoons.
    pub fn own(cup: Millilitres, tablespoon: Millilitres, teaspoon: Millilitres) -> Result<Self, VesselError> {
        for (size, name) in [(cup, "cup"), (tablespoon, "tablespoon"), (teaspoon, "teaspoon")] {
            if Millilitres::checked(size.value())?.value() <= 0.0 {
                return Err(VesselError::Empty(name));
            }
        }
        if cup.value() <= 4.0 * tablespoon.value() || tablespoon <= teaspoon {
            return Err(VesselError::Order);
        }
        Ok(Self { cup, tablespoon, teaspoon })
    }

    /// What a vessel of this set holds.
    pub fn holds(&self, vessel: Vessel) -> Millilitres {
        match vessel {
            Vessel::Cup => self.cup,
            Vessel::HalfCup => self.cup / 2.0,
            Vessel::ThirdCup => self.cup / 3.0,
            Vessel::QuarterCup => self.cup / 4.0,
            Vessel::Tablespoon => self.tablespoon,
            Vessel::Teaspoon => self.teaspoon,
            Vessel::HalfTeaspoon => self.teaspoon / 2.0,
            Vessel::QuarterTeaspoon => self.teaspoon / 4.0,
        }
    }
}

/// How much of a stuff a level vessel takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Packing {
    /// Grams of the loose stuff in a millilitre.
    Loose(GramsPerMillilitre),
    /// Grams in the painter's own level cup, weighed once.
    LevelCup(Grams),
}

/// Counted vessels, and what the rounding costs.
#[derive(Debug, Clone, PartialEq)]
pub struct Measures {
    /// What was wanted.
    pub wanted: Grams,
    /// How many of which, from the largest; empty when less than half of the smallest is wanted.
    pub fills: Vec<(Vessel, u32)>,
    /// What they hold together.
    pub holds: Grams,
    /// Whether that lies inside the tolerance.
    pub close: bool,
}

impl Measures {
    /// What the vessels hold too much, grams; below zero when it is too little.
    pub fn error(&self) -> Grams {
        self.holds - self.wanted
    }

    /// The same as a share of what was wanted; below zero when it is too little.
    pub fn error_share(&self) -> Share {
        Share::new(if self.wanted.value() > 0.0 { self.error() / self.wanted } else { 0.0 })
    }

    /// How often a vessel is filled.
    pub fn count(&self) -> u32 {
        self.fills.iter().map(|(_, count)| count).sum()
    }
}

/// The fewest level cups and spoons that come to `wanted` within `tolerance` (a share of it, 0 to 1); of several with as few, the
/// nearest. Where no spoon is fine enough for the tolerance, half of the smallest spoon stands in its place, and
/// [`Measures::close`] says so.
///
/// The search is exact: every combination that could be better is tried.
///
/// ```
/// use measure::{Grams, GramsPerMillilitre, Packing, Share, Vessel, VesselSet, measures};
/// // 500 g of a powder that lies at 0.8 g/ml are 625 ml: 2 cups and 2 thirds are 630.9 ml, 4.7 g too much.
/// let told = measures(Grams::new(500.0), Packing::Loose(GramsPerMillilitre::new(0.8)), &VesselSet::US, Share::new(0.01))?;
/// assert_eq!(told.fills, [(Vessel::Cup, 2), (Vessel::ThirdCup, 2)]);
/// assert!((told.error().value() - 4.72).abs() < 0.01);
/// # Ok::<(), measure::VesselError>(())
/// ```
///
/// # Errors
/// Nothing in a vessel, a number that can't be, or more than a hundred cups.
pub fn measures(wanted: Grams, packing: Packing, set: &VesselSet, tolerance: Share) -> Result<Measures, VesselError> {
    let wanted = Grams::checked(wanted.value())?;
    let density = match packing {
        Packing::Loose(density) => density.value(),
        Packing::LevelCup(grams) => grams.value() / set.cup.value(),
    };
    if !density.is_finite() || density <= 0.0 {
        return Err(VesselError::Empty("cup"));
    }
    let each = ALL.map(|vessel| (vessel, set.holds(vessel).value() * density));
    let [(_, cup), .., (_, least)] = each;
    if wanted.value() > cup * MOST_CUPS {
        return Err(VesselError::TooMuch);
    }
    let told = wanted.value() * tolerance.value().clamp(0.0, 1.0);
    // A hair more than half, so that a wish exactly between two fills is met in spite of rounding.
    let allowed = told.max(least * 0.5 * (1.0 + 1e-9));
    let mut search = Search { allowed, best: None, under_way: Vec::new() };
    search.go(&each, wanted.value());
    let fills = search.best.map_or_else(Vec::new, |best| best.fills);
    let holds: f64 = fills.iter().filter_map(|(vessel, count)| grams_of(&each, *vessel).map(|grams| grams * f64::from(*count))).sum();
    let close = (holds - wanted.value()).abs() <= told * (1.0 + 1e-9);
    Ok(Measures { wanted, fills, holds: Grams::new(holds), close })
}

fn grams_of(each: &[(Vessel, f64)], vessel: Vessel) -> Option<f64> {
    each.iter().find(|(one, _)| *one == vessel).map(|(_, grams)| *grams)
}

struct Found {
    count: u32,
    off: f64,
    fills: Vec<(Vessel, u32)>,
}

struct Search {
    allowed: f64,
    best: Option<Found>,
    under_way: Vec<(Vessel, u32)>,
}

impl Search {
    /// Goes through all counts of the first vessel, largest count first, then through the rest in the same way.
    fn go(&mut self, vessels: &[(Vessel, f64)], rest: f64) {
        if rest.abs() <= self.allowed {
            self.keep(rest.abs());
        }
        let Some(((vessel, grams), smaller)) = vessels.split_first() else {
            return;
        };
        let used: u32 = self.under_way.iter().map(|(_, count)| count).sum();
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at most 100 cups of 1/188 part are some 20,000 fills")]
        let most = ((rest + self.allowed) / grams).floor().max(0.0) as u32;
        for count in (0..=most).rev() {
            let left = rest - grams * f64::from(count);
            // What is left needs at least so many of the next vessel.
            let more = smaller.first().map_or(0.0, |(_, next)| ((left - self.allowed) / next).ceil().max(0.0));
            if self.best.as_ref().is_some_and(|best| f64::from(used + count) + more > f64::from(best.count)) {
                // As soon as something is left, one fewer of this vessel costs at least one more of a smaller one.
                if more > 0.0 {
                    return;
                }
                continue;
            }
            if count > 0 {
                self.under_way.push((*vessel, count));
            }
            self.go(smaller, left);
            if count > 0 {
                self.under_way.pop();
            }
        }
    }

    fn keep(&mut self, off: f64) {
        let count: u32 = self.under_way.iter().map(|(_, count)| count).sum();
        let better = self.best.as_ref().is_none_or(|best| count < best.count || (count == best.count && off < best.off - 1e-12));
        if better {
            self.best = Some(Found { count, off, fills: self.under_way.clone() });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn us(grams: f64, density: f64, tolerance: f64) -> Measures {
        measures(Grams::new(grams), Packing::Loose(GramsPerMillilitre::new(density)), &VesselSet::US, Share::new(tolerance)).unwrap()
    }

    #[test]
    fn worked_by_hand() {
        // 625 ml. Within 0.7 % (4.375 ml) nothing of four fills fits; of five, 2 cups (473.176) + 1/3 (78.863) + 1/4 (59.147)
        // + 1 tbsp (14.787) = 625.973 ml = 500.778 g, nearer than 2 cups + 1/2 + 2 tbsp = 621.044 ml = 496.835 g.
        let told = us(500.0, 0.8, 0.007);
        assert_eq!(told.fills, [(Vessel::Cup, 2), (Vessel::ThirdCup, 1), (Vessel::QuarterCup, 1), (Vessel::Tablespoon, 1)]);
        assert!((told.error().value() - 0.778).abs() < 0.001, "{told:?}");
        assert!((told.error_share().value() - 0.00156).abs() < 0.00001);
        // One cup of water of 1 g/ml is 236.588 g.
        assert_eq!(us(236.588, 1.0, 0.001).fills, [(Vessel::Cup, 1)]);
        // 3 cups are 709.76 ml, 2 tbsp 29.57 ml: 739.34 g of water.
        assert_eq!(us(739.34, 1.0, 0.001).fills, [(Vessel::Cup, 3), (Vessel::Tablespoon, 2)]);
        // Two of three fifths of a gram: 1/4 tsp holds 1.232 ml, so 0.5 g of water is less than half of it.
        let pinch = us(0.5, 1.0, 0.01);
        assert!(pinch.fills.is_empty() && !pinch.close, "{pinch:?}");
        // 1 g of water lies nearest to a quarter teaspoon, 0.232 g too much: outside 1 %, and it says so.
        let coarse = us(1.0, 1.0, 0.01);
        assert_eq!((coarse.fills.as_slice(), coarse.close), ([(Vessel::QuarterTeaspoon, 1)].as_slice(), false));
        assert!((coarse.error().value() - 0.232).abs() < 0.001);
    }

    #[test]
    fn an_own_level_cup_stands_for_the_density() {
        // A cup that took 190 g: 380 g are two of it, whatever the cup holds.
        let own = VesselSet::own(Millilitres::new(233.0), Millilitres::new(14.0), Millilitres::new(5.5)).unwrap();
        let told = measures(Grams::new(380.0), Packing::LevelCup(Grams::new(190.0)), &own, Share::new(0.01)).unwrap();
        assert_eq!(told.fills, [(Vessel::Cup, 2)]);
        assert!(told.error().value().abs() < 1e-9);
    }

    #[test]
    fn what_can_not_be_is_refused() {
        let one = Millilitres::new(1.0);
        assert_eq!(VesselSet::own(Millilitres::ZERO, one, one), Err(VesselError::Empty("cup")));
        assert_eq!(VesselSet::own(one, one, one), Err(VesselError::Order));
        assert!(VesselSet::own(Millilitres::new(f64::NAN), one, one).is_err());
        let at = |grams: f64, packing| measures(Grams::new(grams), packing, &VesselSet::METRIC, Share::new(0.02));
        assert_eq!(at(30_000.0, Packing::Loose(GramsPerMillilitre::new(1.0))), Err(VesselError::TooMuch));
        assert_eq!(at(1.0, Packing::LevelCup(Grams::ZERO)), Err(VesselError::Empty("cup")));
        assert!(at(f64::INFINITY, Packing::LevelCup(Grams::new(9.0))).is_err());
        assert!(at(-4.0, Packing::LevelCup(Grams::new(9.0))).is_err());
    }

    #[test]
    fn a_whole_sack_with_no_tolerance_is_counted_too() {
        // 23,000 ml of water: 97 cups are 22,949.06 ml, the rest is 50.94 ml = a fifth of a cup; half of 1.232 ml is the least doubt.
        let told = us(23_000.0, 1.0, 0.0);
        assert!(told.error().value().abs() <= 0.617 && told.count() <= 103, "{told:?}");
        assert!(!told.close);
    }

    /// Every way to take at most `most` fills, the plain way: no bound, no order.
    fn fewest_by_trying_all(wanted: f64, allowed: f64, sizes: &[f64], most: u32) -> Option<(u32, f64)> {
        let Some((size, others)) = sizes.split_first() else {
            return (wanted.abs() <= allowed).then_some((0, wanted.abs()));
        };
        (0..=most)
            .filter_map(|count| {
                let (more, off) = fewest_by_trying_all(wanted - size * f64::from(count), allowed, others, most - count)?;
                Some((count + more, off))
            })
            .min_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)))
    }

    proptest::proptest! {
        #![proptest_config(proptest::prelude::ProptestConfig::with_cases(256))]
        #[test]
        fn no_combination_is_better(wanted in 2.0..900.0f64, density in 0.3..2.0f64, tolerance in 0.005..0.05f64, cup in 180.0..300.0f64) {
            let set = VesselSet::own(Millilitres::new(cup), Millilitres::new(15.0), Millilitres::new(5.0)).unwrap();
            let told = measures(Grams::new(wanted), Packing::Loose(GramsPerMillilitre::new(density)), &set, Share::new(tolerance)).unwrap();
            let sizes = ALL.map(|vessel| set.holds(vessel).value() * density);
            let allowed = (wanted * tolerance).max(sizes[7] / 2.0);
            proptest::prop_assert!(told.error().value().abs() <= allowed * 1.000_001);
            if let Some((count, off)) = fewest_by_trying_all(wanted, allowed, &sizes, told.count().min(6)) {
                proptest::prop_assert_eq!(told.count(), count);
                proptest::prop_assert!((told.error().value().abs() - off).abs() < 1e-6);
            }
        }
    }
}
