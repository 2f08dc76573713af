//! Back from a wish to the pot: amounts that come to a place on the rule, flow like the pot they are like, and change it least.
//!
//! All of it is straight sums. With powder volumes V, the oil that the powders drink D and dry binder B, the place is
//! (V + D) / (V + B), so "this place" is a balance of grams; so is "as crowded with grains as before".

mod simplex;

use measure::Grams;

use crate::mix::Mix;
use crate::packing::RUB_OUT_OIL;
use crate::portion::{Portion, Role};
use simplex::{Balance, least};

/// What a gram of a stuff brings into the pot.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Brings {
    /// Powder, ml.
    pub powder: f64,
    /// Oil that the powder drinks, ml: the gaps between its grains.
    pub gaps: f64,
    /// Dry binder, ml.
    pub binder: f64,
    /// Dry binder, g.
    pub dry: f64,
    /// Water, g.
    pub water: f64,
    /// All of it as it is poured, ml.
    pub wet: f64,
}

impl Brings {
    /// What these portions of one gram bring. Plaster that is not slaked counts as its volume alone, and binder in beads as if it were a
    /// solution: grounds of either have no place on the rule that could be wished for.
    pub fn of(portions: &[Portion]) -> Self {
        let mut sum = Self::default();
        for portion in portions {
            let (mass, volume) = (portion.mass.value(), portion.volume().value());
            sum.wet += volume;
            match portion.role {
                Role::Filler { oil_absorption, .. } => {
                    sum.powder += volume;
                    sum.gaps += mass * oil_absorption / (100.0 * RUB_OUT_OIL.value());
                }
                Role::DryBinder { .. } | Role::Dispersed { .. } | Role::Oil { .. } => {
                    sum.binder += volume;
                    sum.dry += mass;
                }
                Role::Water => sum.water += mass,
                Role::Plaster { .. } | Role::Volatile { .. } | Role::Other { .. } => {}
            }
        }
        sum
    }

    /// So many grams of one and so many of the other.
    #[must_use]
    pub fn plus(self, other: Self, grams: f64) -> Self {
        Self {
            powder: self.powder + grams * other.powder,
            gaps: self.gaps + grams * other.gaps,
            binder: self.binder + grams * other.binder,
            dry: self.dry + grams * other.dry,
            water: self.water + grams * other.water,
            wet: self.wet + grams * other.wet,
        }
    }

    /// Place on the rule; `None` without powder or binder.
    ///
    /// ```
    /// // 100 g chalk (2.71, oil absorption 18) and 10 g glue (1.27): 36.90 ml, 19.25 ml of gaps, 7.874 ml; (36.90 + 19.25) / 44.77.
    /// let pot = ground::Brings { powder: 36.90, gaps: 19.25, binder: 7.874, ..Default::default() };
    /// assert!((pot.place().unwrap() - 1.2541).abs() < 2e-4);
    /// ```
    pub fn place(&self) -> Option<f64> {
        let solid = self.powder + self.binder;
        (self.powder > 0.0 && self.binder > 0.0 && solid.is_finite()).then(|| (self.powder + self.gaps) / solid)
    }

    /// Share of the pot that the powder takes with its own gaps filled, 0..1: what makes it stiff. `None` for an empty pot.
    pub fn crowding(&self) -> Option<f64> {
        (self.wet > 0.0 && self.powder > 0.0).then(|| (self.powder + self.gaps) / self.wet)
    }

    /// Dry binder in dry binder and water, by weight; `None` without either.
    pub fn strength(&self) -> Option<f64> {
        let all = self.dry + self.water;
        (all > 0.0).then(|| self.dry / all)
    }
}

impl Mix {
    /// Each counted line: its grams, and what a gram of it brings, at the best values.
    pub fn brings(&self) -> Vec<(usize, Grams, Brings)> {
        let values = self.best();
        let mut pot = Vec::new();
        let lines = self.grams(&values).into_iter().zip(&self.items);
        lines
            .filter_map(|((line, grams), item)| {
                pot.clear();
                item.candidate(&values)?.composition.portions(Grams::new(1.0), &values, &mut pot);
                Some((line, grams, Brings::of(&pot)))
            })
            .collect()
    }
}

/// Something that may go into the pot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stuff {
    /// What a gram of it brings.
    pub brings: Brings,
    /// Grams in the pot that it is to be like, at the size asked for.
    pub before: f64,
    /// Grams at hand; `None` where that sets no bound.
    pub at_hand: Option<f64>,
    /// What a gram more or less counts against others: 1 for most.
    pub weight: f64,
    /// Whether makers of this powder differ too much for a word.
    pub guessed: bool,
}

/// What the pot is to come to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wanted {
    /// Grams in all.
    pub total: f64,
    /// Place on the rule, from and to; `None` where any will do.
    pub place: Option<(f64, f64)>,
    /// How crowded with grains, from and to.
    pub crowding: (f64, f64),
    /// Most dry binder in binder and water, by weight.
    pub strongest: f64,
    /// Grams of dry binder to a millilitre of powder; `None` where the place decides.
    pub dry_to_powder: Option<f64>,
}

/// Largest share of the powder's volume that may come from powders whose thirst is a guess, so that a word can still be given.
const GUESSED: f64 = 0.45;

/// Grams of each stuff that come to what is wanted and differ least from the pot before, gram for gram. `None` where nothing does.
///
/// ```
/// use ground::{Brings, Stuff, Wanted, nearest_pot};
/// let chalk = Brings { powder: 1.0 / 2.71, gaps: 18.0 / 93.5, wet: 1.0 / 2.71, ..Brings::default() };
/// let glue = Brings { binder: 1.0 / 1.27, dry: 1.0, wet: 1.0 / 1.27, ..Brings::default() };
/// let water = Brings { water: 1.0, wet: 1.0 / 0.998, ..Brings::default() };
/// let stuff = |brings, before| Stuff { brings, before, at_hand: None, weight: 1.0, guessed: false };
/// let wanted = Wanted { total: 210.0, place: Some((1.2541, 1.2541)), crowding: (0.3, 0.3873), strongest: 0.1, dry_to_powder: None };
/// let pot = nearest_pot(&[stuff(chalk, 100.0), stuff(glue, 10.0), stuff(water, 100.0)], &wanted).unwrap();
/// assert!((pot[0] - 100.0).abs() < 0.1 && (pot[1] - 10.0).abs() < 0.05); // the pot itself keeps all of it
/// ```
pub fn nearest_pot(stuffs: &[Stuff], wanted: &Wanted) -> Option<Vec<f64>> {
    // Amounts, then what is more than before, then what is less.
    let count = stuffs.len();
    let mut costs = vec![0.0; count];
    costs.extend(stuffs.iter().chain(stuffs).map(|stuff| stuff.weight));
    let mut balances = balances(stuffs, wanted);
    for balance in &mut balances {
        balance.factors.resize(3 * count, 0.0);
    }
    for (number, stuff) in stuffs.iter().enumerate() {
        let mut factors = vec![0.0; 3 * count];
        for (at, factor) in [(number, 1.0), (count + number, -1.0), (2 * count + number, 1.0)] {
            *factors.get_mut(at)? = factor;
        }
        balances.push(Balance { factors, exactly: true, so_much: stuff.before });
    }
    balances.push(Balance {
        factors: (0..3 * count).map(|at| f64::from(u8::from(at < count))).collect(),
        exactly: true,
        so_much: wanted.total,
    });
    let mut found = least(&costs, &balances)?;
    found.truncate(count);
    is_ground(stuffs, &found).then_some(found)
}

/// Whether there is both powder and binder in it.
fn is_ground(stuffs: &[Stuff], grams: &[f64]) -> bool {
    stuffs.iter().zip(grams).fold(Brings::default(), |sum, (stuff, grams)| sum.plus(stuff.brings, *grams)).place().is_some()
}

/// The largest such pot that what is at hand gives, up to the size wanted; `None` where not even a little can be made.
pub fn largest_pot(stuffs: &[Stuff], wanted: &Wanted) -> Option<Vec<f64>> {
    let mut balances = balances(stuffs, wanted);
    balances.push(Balance { factors: vec![1.0; stuffs.len()], exactly: false, so_much: wanted.total });
    let found = least(&vec![-1.0; stuffs.len()], &balances)?;
    (found.iter().sum::<f64>() > 1e-3 * wanted.total && is_ground(stuffs, &found)).then_some(found)
}

/// All that is asked but the size.
fn balances(stuffs: &[Stuff], wanted: &Wanted) -> Vec<Balance> {
    let row = |of: &dyn Fn(&Stuff) -> f64| -> Vec<f64> { stuffs.iter().map(of).collect() };
    let at_most = |factors: Vec<f64>| Balance { factors, exactly: false, so_much: 0.0 };
    let mut out = Vec::new();
    if let Some((low, high)) = wanted.place {
        let beside = |place: f64, side: f64| {
            row(&|stuff| side * (stuff.brings.powder + stuff.brings.gaps - place * (stuff.brings.powder + stuff.brings.binder)))
        };
        out.push(at_most(beside(high, 1.0)));
        out.push(at_most(beside(low, -1.0)));
    }
    let crowd = |share: f64, side: f64| row(&|stuff| side * (stuff.brings.powder + stuff.brings.gaps - share * stuff.brings.wet));
    out.push(at_most(crowd(wanted.crowding.1, 1.0)));
    out.push(at_most(crowd(wanted.crowding.0, -1.0)));
    out.push(at_most(row(&|stuff| stuff.brings.dry - wanted.strongest * (stuff.brings.dry + stuff.brings.water))));
    if let Some(ratio) = wanted.dry_to_powder {
        out.push(Balance { factors: row(&|stuff| stuff.brings.dry - ratio * stuff.brings.powder), exactly: true, so_much: 0.0 });
    }
    if stuffs.iter().any(|stuff| stuff.guessed) && stuffs.iter().any(|stuff| !stuff.guessed && stuff.brings.powder > 0.0) {
        out.push(at_most(row(&|stuff| stuff.brings.powder * (f64::from(u8::from(stuff.guessed)) - GUESSED))));
    }
    for (number, stuff) in stuffs.iter().enumerate() {
        if let Some(grams) = stuff.at_hand {
            out.push(Balance {
                factors: (0..stuffs.len()).map(|at| f64::from(u8::from(at == number))).collect(),
                exactly: false,
                so_much: grams,
            });
        }
    }
    out
}

/// Most amounts whose rounding up or down is tried in every combination: 4096 of them.
const TRIED: usize = 12;

/// Grams rounded to whole steps of a scale so that the place on the rule moves least: of powders and binders every way of rounding up
/// or down is tried; what neither fills nor binds goes to the nearest step. What is below half a step stays as it is.
///
/// ```
/// use ground::{Brings, to_steps};
/// let chalk = Brings { powder: 1.0 / 2.71, gaps: 18.0 / 93.5, ..Brings::default() };
/// let glue = Brings { binder: 1.0 / 1.27, ..Brings::default() };
/// // 104.4 to 10.6 is 9.85 to 1. By the nearest step 104 to 11 is 9.45; 105 to 11 is 9.55 and lies nearer; 104 to 10 is 10.4.
/// assert_eq!(to_steps(&[(104.4, chalk), (10.6, glue)], 1.0), [105.0, 11.0]);
/// ```
pub fn to_steps(amounts: &[(f64, Brings)], step: f64) -> Vec<f64> {
    let nearest = |grams: f64| if grams < step / 2.0 { grams } else { (grams / step).round() * step };
    let plain: Vec<f64> = amounts.iter().map(|(grams, _)| nearest(*grams)).collect();
    let sum = |grams: &[f64]| {
        let start = Brings::default();
        grams.iter().zip(amounts).fold(start, |sum, (grams, (_, brings))| sum.plus(*brings, *grams)).place()
    };
    let exact: Vec<f64> = amounts.iter().map(|(grams, _)| *grams).collect();
    let Some(aim) = sum(&exact) else { return plain };
    let counts = |brings: &Brings| brings.powder > 0.0 || brings.binder > 0.0;
    let open: Vec<usize> =
        amounts.iter().enumerate().filter(|(_, (grams, brings))| *grams >= step / 2.0 && counts(brings)).map(|(at, _)| at).collect();
    if open.is_empty() || open.len() > TRIED || step <= 0.0 {
        return plain;
    }
    let ways = (0..1_u32 << open.len()).map(|way| {
        let mut grams = plain.clone();
        for (bit, at) in open.iter().enumerate() {
            if let (Some(place), Some((exact, _))) = (grams.get_mut(*at), amounts.get(*at)) {
                let down = (exact / step).floor().max(1.0);
                *place = step * if way >> bit & 1 == 1 { down + 1.0 } else { down };
            }
        }
        let off = sum(&grams).map_or(f64::INFINITY, |place| (place - aim).abs());
        let moved: f64 = grams.iter().zip(&exact).map(|(a, b)| (a - b).abs()).sum();
        (off, moved, grams)
    });
    ways.min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1))).map_or(plain, |(_, _, grams)| grams)
}

#[cfg(test)]
mod tests;
