//! Which packs to buy: the cheapest that hold enough.
//!
//! Grams are counted in tenths and money in thousandths, as whole numbers, so that the choice is exact.

use measure::Grams;

/// A mass in whole tenths of a gram.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Tenths(u64);

/// Most that is bought at once: a ton.
const MOST: f64 = 1e6;

impl Tenths {
    /// Nothing.
    pub const ZERO: Self = Self(0);

    /// A need: rounded up, so that never too little is bought. What is no ordinary number, or below zero, is nothing; a ton at most.
    pub fn needed(mass: Grams) -> Self {
        Self(counted((mass.value() * 10.0 - 1e-6).ceil()))
    }

    /// What a pack or a jar holds: rounded down.
    pub fn held(mass: Grams) -> Self {
        Self(counted((mass.value() * 10.0 + 1e-6).floor()))
    }

    /// As grams.
    #[expect(clippy::cast_precision_loss, reason = "at most ten million tenths a thousand times over")]
    pub fn grams(self) -> Grams {
        Grams::new(self.0 as f64 / 10.0)
    }

    /// What is left when this much is taken away; never below nothing.
    #[must_use]
    pub const fn less(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held between nothing and a ton")]
fn counted(tenths: f64) -> u64 {
    if tenths.is_finite() { tenths.clamp(0.0, MOST * 10.0) as u64 } else { 0 }
}

/// Money in whole thousandths of whatever it is called.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Money(u64);

impl Money {
    /// As typed, rounded to the thousandth; none for what is no ordinary number or below zero.
    pub fn of(amount: f64) -> Option<Self> {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "checked to lie in range")]
        (amount.is_finite() && (0.0..=1e12).contains(&amount)).then(|| Self((amount * 1000.0).round() as u64))
    }

    /// As a number of the whole unit.
    #[expect(clippy::cast_precision_loss, reason = "far below what a price needs")]
    pub fn amount(self) -> f64 {
        self.0 as f64 / 1000.0
    }

    /// The sum of both.
    #[must_use]
    pub const fn and(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

/// A pack that can be bought.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pack {
    /// What it holds.
    pub holds: Tenths,
    /// What it costs; `None` if nobody wrote it down.
    pub price: Option<Money>,
}

/// What to buy of one stuff.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ToBuy {
    /// What stands on the shelf is enough.
    Nothing {
        /// What stays on the shelf afterwards.
        left: Tenths,
    },
    /// These packs.
    Packs(Chosen),
    /// So many grams: no pack is known that it could be bought in.
    Loose {
        /// What is missing.
        missing: Tenths,
    },
}

/// Packs chosen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chosen {
    /// For each pack that was offered, how many.
    pub counts: Vec<u32>,
    /// What is missing from the shelf.
    pub missing: Tenths,
    /// What the packs hold together.
    pub holds: Tenths,
    /// What they cost; `None` if prices are not known.
    pub cost: Option<Money>,
    /// Packs that were left aside because nobody wrote down what they cost.
    pub unpriced: usize,
}

/// The packs that hold what is needed beyond the stock: the cheapest; of those, the fewest; of those, the ones that leave least over.
///
/// Where no pack has a price, the fewest. Where some have, those without are left aside. Exact: every set is weighed up, by the step that
/// all packs are whole multiples of.
///
/// ```
/// use making::{Money, Pack, Tenths, ToBuy, to_buy};
/// use measure::Grams;
/// let pack = |grams, price| Pack { holds: Tenths::held(Grams::new(grams)), price: Money::of(price) };
/// // 1300 g: 1000 + 500 cost 7.00, two of 1000 cost 9.00, three of 500 cost 7.50.
/// let found = to_buy(Tenths::needed(Grams::new(1500.0)), Tenths::held(Grams::new(200.0)), &[pack(1000.0, 4.5), pack(500.0, 2.5)]);
/// let ToBuy::Packs(chosen) = found else { unreachable!("packs are there") };
/// assert_eq!((chosen.counts, chosen.cost), (vec![1, 1], Money::of(7.0)));
/// ```
pub fn to_buy(need: Tenths, stock: Tenths, packs: &[Pack]) -> ToBuy {
    let missing = need.less(stock);
    if missing == Tenths::ZERO {
        return ToBuy::Nothing { left: stock.less(need) };
    }
    let priced = packs.iter().any(|pack| pack.holds > Tenths::ZERO && pack.price.is_some());
    let offered: Vec<(usize, Pack)> =
        packs.iter().copied().enumerate().filter(|(_, pack)| pack.holds > Tenths::ZERO && (!priced || pack.price.is_some())).collect();
    let Some(counts) = cheapest(missing.0, &offered, packs.len()) else { return ToBuy::Loose { missing } };
    let sum = |of: &dyn Fn(&Pack) -> u64| {
        packs.iter().zip(&counts).fold(0_u64, |sum, (pack, count)| sum.saturating_add(of(pack).saturating_mul(u64::from(*count))))
    };
    ToBuy::Packs(Chosen {
        missing,
        holds: Tenths(sum(&|pack| pack.holds.0)),
        cost: priced.then(|| Money(sum(&|pack| pack.price.map_or(0, |price| price.0)))),
        unpriced: if priced { packs.iter().filter(|pack| pack.price.is_none()).count() } else { 0 },
        counts,
    })
}

/// Steps that are looked at, at most; finer packs are taken as a little smaller than they are, by less than a ten-thousandth of the need.
const STEPS: u64 = 200_000;

/// Cost, packs and mass of the best way to cover so much, and the pack that it ends with. Sums compare in that order, and adding the same
/// pack to two of them keeps their order: so the best for any amount is the best for less, plus one pack.
fn cheapest(missing: u64, offered: &[(usize, Pack)], count: usize) -> Option<Vec<u32>> {
    let step = offered.iter().fold(0, |step, (_, pack)| greatest_common(step, pack.holds.0));
    // Beyond the limit the step is coarser than some pack's own; each pack then counts for the whole steps that it surely holds.
    let step = step.max(missing.div_ceil(STEPS)).max(1);
    let kinds: Vec<(usize, usize, Pack)> = offered
        .iter()
        .map(|(at, pack)| (*at, usize::try_from(pack.holds.0 / step).unwrap_or(usize::MAX), *pack))
        .filter(|(_, steps, _)| *steps > 0)
        .collect();
    if kinds.is_empty() {
        return None;
    }
    let length = usize::try_from(missing.div_ceil(step)).ok()?;
    let mut best: Vec<((u64, u64, u64), usize)> = Vec::with_capacity(length + 1);
    best.push(((0, 0, 0), 0));
    for amount in 1..=length {
        let ways = kinds.iter().enumerate().filter_map(|(kind, (_, steps, pack))| {
            let ((cost, packs, mass), _) = best.get(amount.saturating_sub(*steps))?;
            let price = pack.price.map_or(0, |price| price.0);
            Some(((cost.saturating_add(price), packs + 1, mass.saturating_add(pack.holds.0)), kind))
        });
        best.push(ways.min()?);
    }
    let mut counts = vec![0_u32; count];
    let mut amount = length;
    while amount > 0 {
        let (_, kind) = best.get(amount)?;
        let (at, steps, _) = kinds.get(*kind)?;
        *counts.get_mut(*at)? += 1;
        amount = amount.saturating_sub(*steps);
    }
    Some(counts)
}

const fn greatest_common(mut a: u64, mut b: u64) -> u64 {
    while b > 0 {
        (a, b) = (b, a % b);
    }
    a
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn pack(tenths: u64, price: Option<u64>) -> Pack {
        Pack { holds: Tenths(tenths), price: price.map(Money) }
    }

    /// Every set of up to so many of each pack, looked at one by one.
    fn by_hand(missing: u64, packs: &[Pack]) -> Option<(u64, u64, u64)> {
        let mut best = None;
        let mut counts = vec![0_u64; packs.len()];
        loop {
            let sum = |of: &dyn Fn(&Pack) -> u64| packs.iter().zip(&counts).map(|(pack, count)| of(pack) * count).sum::<u64>();
            let held = sum(&|pack| pack.holds.0);
            if held >= missing {
                let way = (sum(&|pack| pack.price.map_or(0, |price| price.0)), counts.iter().sum::<u64>(), held);
                best = best.into_iter().chain([way]).min();
            }
            let Some(at) = (0..packs.len()).find(|at| counts[*at] * packs[*at].holds.0 < missing) else { return best };
            counts[at] += 1;
            counts[..at].fill(0);
        }
    }

    proptest! {
        #[test]
        fn no_other_set_of_packs_is_better(
            missing in 1_u64..90,
            kinds in prop::collection::vec((5_u64..60, 0_u64..40), 1..4),
            priced in any::<bool>(),
        ) {
            let packs: Vec<Pack> = kinds.iter().map(|(holds, price)| pack(*holds, priced.then_some(*price))).collect();
            let ToBuy::Packs(chosen) = to_buy(Tenths(missing), Tenths::ZERO, &packs) else { panic!("there are packs") };
            let count = chosen.counts.iter().map(|count| u64::from(*count)).sum();
            prop_assert_eq!(Some((chosen.cost.map_or(0, |cost| cost.0), count, chosen.holds.0)), by_hand(missing, &packs));
        }

        #[test]
        fn it_is_always_enough_whatever_is_typed(
            need in prop::num::f64::ANY, stock in prop::num::f64::ANY,
            kinds in prop::collection::vec((prop::num::f64::ANY, prop::num::f64::ANY), 0..3),
        ) {
            let packs: Vec<Pack> =
                kinds.iter().map(|(holds, price)| Pack { holds: Tenths::held(Grams::new(*holds)), price: Money::of(*price) }).collect();
            let (need, stock) = (Tenths::needed(Grams::new(need)), Tenths::held(Grams::new(stock)));
            match to_buy(need, stock, &packs) {
                ToBuy::Nothing { .. } => prop_assert!(stock >= need),
                ToBuy::Loose { missing } => prop_assert_eq!(missing, need.less(stock)),
                ToBuy::Packs(chosen) => prop_assert!(chosen.holds >= need.less(stock)),
            }
        }
    }

    #[test]
    fn without_prices_the_fewest_packs_and_then_the_least_left_over() {
        // 12 g from packs of 10, 7 and 5: two packs in any case; 7 + 5 leave nothing over.
        let ToBuy::Packs(chosen) = to_buy(Tenths(120), Tenths::ZERO, &[pack(100, None), pack(70, None), pack(50, None)]) else {
            panic!("there are packs")
        };
        assert_eq!((chosen.counts, chosen.cost, chosen.unpriced), (vec![0, 1, 1], None, 0));
    }

    #[test]
    fn a_pack_without_a_price_is_left_aside_and_counted() {
        let ToBuy::Packs(chosen) = to_buy(Tenths(120), Tenths::ZERO, &[pack(1000, None), pack(70, Some(3000))]) else {
            panic!("there are packs")
        };
        assert_eq!((chosen.counts, chosen.cost, chosen.unpriced), (vec![0, 2], Some(Money(6000)), 1));
    }

    #[test]
    fn what_stands_on_the_shelf_is_taken_first() {
        assert_eq!(to_buy(Tenths(100), Tenths(130), &[]), ToBuy::Nothing { left: Tenths(30) });
        assert_eq!(to_buy(Tenths(100), Tenths(60), &[]), ToBuy::Loose { missing: Tenths(40) });
        assert_eq!(to_buy(Tenths(100), Tenths(60), &[pack(0, Some(1))]), ToBuy::Loose { missing: Tenths(40) });
    }

    #[test]
    fn milk_for_a_kilogram_of_casein() {
        // A gallon at 4.00 gives 97.65 g of casein: 4.00 / 97.65 x 1000 = 40.96 a kilogram, by hand.
        let gallon = Pack { holds: Tenths::held(Grams::new(97.65)), price: Money::of(4.0) };
        let ToBuy::Packs(chosen) = to_buy(Tenths::needed(Grams::new(1000.0)), Tenths::ZERO, &[gallon]) else {
            panic!("a gallon is a pack")
        };
        // Whole gallons: 1000 / 97.65 = 10.24, so eleven, which cost 44.00.
        assert_eq!((chosen.counts, chosen.cost), (vec![11], Money::of(44.0)));
    }
}
