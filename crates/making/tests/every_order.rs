//! Small days against every order there is, with times by plain relaxation. Nothing here knows the engine: steps and waits are written
//! down anew from what is asked.
#![allow(clippy::unwrap_used, clippy::indexing_slicing, clippy::print_stdout, reason = "in a test a panic is the report")]

mod common;

use common::{Dice, Size, age_alone, day, min, wants_pauses};
use making::{DayAsked, DayError, Found, Mixed, PotAsked, work};

/// One step of one pot.
struct Item {
    /// Begins not before.
    from: i64,
    lasts: i64,
    /// May only be followed by the next item of the pot.
    holds_hands: bool,
}

/// `later` begins at least so long after `earlier` begins; a longest wait is a negative gap the other way.
struct Gap {
    earlier: usize,
    later: usize,
    least: i64,
}

/// All steps and gaps, and the steps of each pot in order.
#[derive(Default)]
struct Work {
    items: Vec<Item>,
    gaps: Vec<Gap>,
    pots: Vec<Vec<usize>>,
}

fn minutes(minutes: making::Minutes) -> i64 {
    i64::from(minutes.count())
}

impl Work {
    fn of(asked: &DayAsked) -> Self {
        let mut day = Self::default();
        for pot in &asked.pots {
            day.pot(pot, i64::from(asked.begins.count()));
        }
        day
    }

    fn item(&mut self, from: i64, lasts: i64) -> usize {
        self.items.push(Item { from, lasts, holds_hands: false });
        self.items.len() - 1
    }

    fn least(&mut self, earlier: usize, later: usize, gap: i64) {
        self.gaps.push(Gap { earlier, later, least: gap });
    }

    fn most(&mut self, earlier: usize, later: usize, gap: i64) {
        self.gaps.push(Gap { earlier: later, later: earlier, least: -gap });
    }

    fn pot(&mut self, pot: &PotAsked, begins: i64) {
        let mut order = Vec::new();
        for (at, preparing) in pot.preparation.iter().enumerate() {
            let item = self.item(begins - 10_000, minutes(preparing.hands_on));
            if at > 0 {
                let before = &pot.preparation[at - 1];
                self.prepared(order[at - 1], item, before);
            }
            order.push(item);
        }
        let last_prepared = order.last().copied();
        let mut ready: Option<usize> = None;
        let mut first_mixed = true;
        let mut last_laid: Vec<Option<usize>> = vec![None; pot.boards.len()];
        for coat in 0..pot.boards.iter().map(|board| board.coats.len()).max().unwrap_or(0) {
            if ready.is_none() || pot.mixed == Mixed::EachCoat {
                let mix = self.item(begins, minutes(pot.mixing));
                if let Some(prepared) = last_prepared {
                    let before = pot.preparation.last().unwrap();
                    if first_mixed {
                        self.prepared(prepared, mix, before);
                    } else if let Some(keeps) = before.keeps {
                        self.most(prepared, mix, minutes(before.hands_on) + minutes(keeps));
                    }
                }
                first_mixed = false;
                self.items[mix].holds_hands = pot.mixed == Mixed::EachCoat;
                ready = Some(mix);
                order.push(mix);
            }
            let mut before: Option<usize> = (pot.mixed == Mixed::EachCoat).then_some(ready).flatten();
            for (board, asked) in pot.boards.iter().enumerate() {
                let Some(lasts) = asked.coats.get(coat) else { continue };
                let lay = self.item(begins, minutes(*lasts));
                if let Some(before) = before {
                    // A round goes on without a pause.
                    self.items[before].holds_hands = true;
                    self.least(before, lay, self.items[before].lasts);
                    self.most(before, lay, self.items[before].lasts);
                }
                before = Some(lay);
                let mix = ready.unwrap();
                self.least(mix, lay, minutes(pot.mixing));
                self.most(mix, lay, minutes(pot.mixing) + minutes(pot.life.low) - minutes(*lasts));
                if let Some(last) = last_laid[board] {
                    self.least(last, lay, self.items[last].lasts + minutes(pot.recoat.opens.usual));
                    if let Some(missed) = pot.recoat.missed_after {
                        self.most(last, lay, self.items[last].lasts + minutes(missed));
                    }
                }
                last_laid[board] = Some(lay);
                order.push(lay);
            }
        }
        self.pots.push(order);
    }

    fn prepared(&mut self, before: usize, item: usize, preparing: &making::Preparing) {
        self.least(before, item, minutes(preparing.hands_on) + minutes(preparing.stands.usual));
        if let Some(keeps) = preparing.keeps {
            self.most(before, item, minutes(preparing.hands_on) + minutes(keeps));
        }
    }

    /// End of an order with all begins as early as can be; none if some longest wait can't be kept.
    fn end(&self, order: &[usize]) -> Option<i64> {
        let mut begins: Vec<i64> = self.items.iter().map(|item| item.from).collect();
        let mut here = vec![false; self.items.len()];
        for &item in order {
            here[item] = true;
        }
        for _ in 0..=2 * self.items.len() {
            let mut moved = false;
            for pair in order.windows(2) {
                let least = begins[pair[0]] + self.items[pair[0]].lasts;
                moved |= begins[pair[1]] < least;
                begins[pair[1]] = begins[pair[1]].max(least);
            }
            for gap in self.gaps.iter().filter(|gap| here[gap.earlier] && here[gap.later]) {
                let least = begins[gap.earlier] + gap.least;
                moved |= begins[gap.later] < least;
                begins[gap.later] = begins[gap.later].max(least);
            }
            if !moved {
                return order.iter().map(|&item| begins[item] + self.items[item].lasts).max();
            }
        }
        None
    }

    /// Goes through every order; one that can't be kept or is no better already is not carried on, since times only grow.
    fn every_order(&self, order: &mut Vec<usize>, next: &mut Vec<usize>, best: &mut Option<i64>, orders: &mut u64) {
        if order.len() == self.items.len() {
            *orders += 1;
            let end = self.end(order);
            *best = (*best).into_iter().chain(end).min();
            return;
        }
        let held = order.last().copied().filter(|&last| self.items[last].holds_hands);
        for pot in 0..self.pots.len() {
            let Some(&item) = self.pots[pot].get(next[pot]) else { continue };
            if held.is_some_and(|held| next[pot] == 0 || self.pots[pot][next[pot] - 1] != held) {
                continue;
            }
            order.push(item);
            if self.end(order).is_some_and(|end| best.is_none_or(|best| end < best)) {
                next[pot] += 1;
                self.every_order(order, next, best, orders);
                next[pot] -= 1;
            }
            order.pop();
        }
    }
}

fn best_of_all(asked: &DayAsked) -> Option<i64> {
    let day = Work::of(asked);
    let (mut best, mut orders) = (None, 0);
    day.every_order(&mut Vec::new(), &mut vec![0; day.pots.len()], &mut best, &mut orders);
    best.map(|end| end + i64::from(asked.washing_up.count()))
}

fn compare(seed: u64, count: usize, size: Size) {
    compare_with(seed, count, size, |_, _| {});
}

fn compare_with(seed: u64, count: usize, size: Size, change: fn(&mut Dice, &mut PotAsked)) {
    let mut dice = Dice(seed);
    let (mut kept, mut not_kept) = (0, 0);
    let mut done = 0;
    while done < count {
        let mut asked = day(&mut dice, size);
        for pot in &mut asked.pots {
            change(&mut dice, pot);
        }
        if asked.pots.iter().any(wants_pauses) {
            continue;
        }
        done += 1;
        let best = best_of_all(&asked);
        match work(&asked) {
            Ok(worked) => {
                assert_eq!(Some(i64::from(worked.ends.count())), best, "{asked:?}");
                assert_eq!(worked.found, Found::Best, "{asked:?}");
                assert!(worked.ends <= asked.ends);
                kept += 1;
            }
            Err(DayError::TooLong { by }) => {
                assert_eq!(Some(i64::from(asked.ends.count() + by)), best, "{asked:?}");
                assert!(by > 0);
                kept += 1;
            }
            Err(error) => {
                assert!(
                    matches!(error, DayError::PotsTooOld { .. } | DayError::CoatsTooHard { .. } | DayError::LifeTooShort { .. }),
                    "{error} {asked:?}"
                );
                assert_eq!(best, None, "{error} {asked:?}");
                not_kept += 1;
            }
        }
    }
    println!("{kept} days, {not_kept} that can't be kept");
    assert!(kept * 3 > count, "too few days that can be kept: {kept}");
}

#[test]
fn days_with_short_lives() {
    compare(1, 300, Size { pots: 3, coats: 3, boards: 3, preparations: 0, tight: true });
}

#[test]
fn days_with_long_lives() {
    compare(2, 150, Size { pots: 3, coats: 3, boards: 3, preparations: 0, tight: false });
}

#[test]
fn days_with_preparations() {
    compare(3, 300, Size { pots: 2, coats: 2, boards: 2, preparations: 3, tight: true });
}

#[test]
fn three_pots_with_preparations() {
    compare(4, 150, Size { pots: 3, coats: 2, boards: 2, preparations: 2, tight: true });
}

#[test]
fn lives_that_just_suffice() {
    // Then what was mixed too early has to be mixed later, and pushes all between.
    compare_with(5, 800, Size { pots: 3, coats: 3, boards: 2, preparations: 0, tight: false }, |dice, pot| {
        pot.mixed = Mixed::Once;
        pot.life.low = age_alone(pot) + min(dice.between(0, 45));
        pot.recoat.missed_after = dice.once_in(3).then(|| pot.recoat.opens.usual + min(dice.between(12, 40)));
    });
}
