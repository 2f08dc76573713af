//! What is in a jar of binder after all that went in and out.

use measure::{Draws, Figure, Grams, Input, Unit};

use crate::error::BinderError;

/// What a jar holds. Dry binder is casein or glue.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Contents {
    /// Dry casein or glue.
    pub dry: Grams,
    /// Water.
    pub water: Grams,
    /// What opened it, as the substance itself.
    pub base: Grams,
    /// Milk fat and what else came with the curd.
    pub other: Grams,
}

/// A change of what a jar holds, in the order of time.
#[derive(Debug, Clone, PartialEq)]
pub enum Change {
    /// Curd, casein or glue goes in: how much, and the shares of it that are dry binder and neither binder nor water.
    Stuff {
        /// Grams.
        amount: Input,
        /// Share of it that is dry binder.
        dry: Input,
        /// Share of it that is fat or milk sugar.
        other: Input,
    },
    /// A base goes in: grams, and the share of it that is base; the rest is water.
    Base {
        /// Grams.
        amount: Input,
        /// Share.
        share: Input,
    },
    /// Water goes in, grams.
    Water(Input),
    /// Some of it, well stirred, is taken out.
    Taken(Grams),
    /// The contents were weighed: only water can have come or gone.
    Weighed(Grams),
    /// Weighed spoonfuls of it were dried: the share that stays, and the part of the base that stays in the dish.
    Dried {
        /// Share.
        share: Input,
        /// Part of the base.
        base_left: Input,
    },
}

impl Contents {
    /// An empty jar.
    pub const EMPTY: Self = Self { dry: Grams::ZERO, water: Grams::ZERO, base: Grams::ZERO, other: Grams::ZERO };

    /// All of it.
    pub fn total(&self) -> Grams {
        self.dry + self.water + self.base + self.other
    }

    /// Dry binder in all of it, a share; 0 for an empty jar.
    ///
    /// ```
    /// use binder::Contents;
    /// use measure::Grams;
    /// let jar = Contents { dry: Grams::new(20.0), water: Grams::new(179.0), base: Grams::new(1.0), other: Grams::ZERO };
    /// assert!((jar.dry_share() - 0.1).abs() < 1e-12);
    /// ```
    pub fn dry_share(&self) -> f64 {
        let total = self.total();
        if total.value() > 0.0 { self.dry / total } else { 0.0 }
    }

    /// Neither dry binder nor water, a share; 0 for an empty jar.
    pub fn other_share(&self) -> f64 {
        let total = self.total();
        if total.value() > 0.0 { (self.base + self.other) / total } else { 0.0 }
    }

    fn times(self, factor: f64) -> Self {
        Self { dry: self.dry * factor, water: self.water * factor, base: self.base * factor, other: self.other * factor }
    }

    /// The jar after these changes, every doubtful number read through `at`.
    ///
    /// # Errors
    /// More is taken than there is; it weighs less than the solids in it; a dish that dries to less than the base in it.
    ///
    /// ```
    /// use binder::{Change, Contents};
    /// use measure::{Grams, Input, InputKey, Spread};
    /// let exact = |name: &str, best: f64| Input {
    ///     key: InputKey::new(name), plain: name.into(), best, spread: Spread::Exact, unit: "g", source: "by hand".into() };
    /// // 400 g of curd with a quarter of casein and 600 g of water: 100 g in 1000 g; half of it is taken.
    /// let jar = Contents::after(&[
    ///     Change::Stuff { amount: exact("curd", 400.0), dry: exact("dry_share", 0.25), other: exact("other_share", 0.0) },
    ///     Change::Water(exact("water", 600.0)), Change::Taken(Grams::new(500.0)),
    /// ], &|input| input.best)?;
    /// assert!((jar.dry.value() - 50.0).abs() < 1e-9 && (jar.water.value() - 450.0).abs() < 1e-9);
    /// # Ok::<(), binder::BinderError>(())
    /// ```
    pub fn after(changes: &[Change], at: &dyn Fn(&Input) -> f64) -> Result<Self, BinderError> {
        changes.iter().try_fold(Self::EMPTY, |jar, change| jar.changed(change, at))
    }

    fn changed(self, change: &Change, at: &dyn Fn(&Input) -> f64) -> Result<Self, BinderError> {
        let grams = |input: &Input| Grams::checked(at(input));
        let share = |input: &Input| at(input).clamp(0.0, 1.0);
        Ok(match change {
            Change::Stuff { amount, dry, other } => {
                let (amount, dry) = (grams(amount)?, share(dry));
                let other = share(other).min(1.0 - dry);
                Self {
                    dry: self.dry + amount * dry,
                    other: self.other + amount * other,
                    water: self.water + amount * (1.0 - dry - other),
                    ..self
                }
            }
            Change::Base { amount, share: of } => {
                let (amount, of) = (grams(amount)?, share(of));
                Self { base: self.base + amount * of, water: self.water + amount * (1.0 - of), ..self }
            }
            Change::Water(water) => Self { water: self.water + grams(water)?, ..self },
            Change::Taken(taken) => {
                let (taken, total) = (Grams::checked(taken.value())?, self.total());
                if taken > total {
                    return Err(BinderError::MoreThanThereIs { taken: taken.value(), there: total.value() });
                }
                if total.value() > 0.0 { self.times(1.0 - taken / total) } else { self }
            }
            Change::Weighed(weighed) => {
                let water = *weighed - (self.dry + self.base + self.other);
                if !(water.value() >= 0.0 && weighed.value() > 0.0) {
                    return Err(BinderError::LighterThanItsSolids { grams: weighed.value() });
                }
                Self { water, ..self }
            }
            Change::Dried { share: stays, base_left } => {
                let total = self.total();
                let dry = total * share(stays) - self.base * share(base_left) - self.other;
                let water = total - dry - self.base - self.other;
                if !(dry.value() > 0.0 && water.value() >= 0.0) {
                    return Err(BinderError::JarDish);
                }
                Self { dry, water, ..self }
            }
        })
    }
}

/// A jar with its doubt.
#[derive(Debug, Clone, PartialEq)]
pub struct ContentsFigures {
    /// At the best numbers.
    pub best: Contents,
    /// Dry casein or glue.
    pub dry: Figure,
    /// Water.
    pub water: Figure,
    /// All of it.
    pub total: Figure,
    /// Dry casein or glue in all of it, a share.
    pub share: Figure,
    /// The share in each draw, and that of what is neither binder nor water.
    pub draws: Vec<(f64, f64)>,
}

/// Works out a jar and its bands. Draws in which a weighing can't be are left out.
///
/// # Errors
/// As [`Contents::after`], at the best numbers.
pub fn contents_with_ranges(changes: &[Change], draws: Draws) -> Result<ContentsFigures, BinderError> {
    let best = Contents::after(changes, &|input| input.best)?;
    let all: Vec<Contents> =
        (0..draws.count).filter_map(|index| Contents::after(changes, &|input| draws.value(input, index)).ok()).collect();
    let figure = |key, unit, read: fn(&Contents) -> f64| Figure::from_draws(key, read(&best), all.iter().map(read).collect(), unit);
    Ok(ContentsFigures {
        dry: figure("jar_dry", Unit::Grams, |jar| jar.dry.value()),
        water: figure("jar_water", Unit::Grams, |jar| jar.water.value()),
        total: figure("jar_total", Unit::Grams, |jar| jar.total().value()),
        share: figure("jar_share", Unit::One, Contents::dry_share),
        draws: all.iter().map(|jar| (jar.dry_share(), jar.other_share())).collect(),
        best,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use measure::{InputKey, Spread};
    use proptest::prelude::*;

    fn exact(name: &str, best: f64) -> Input {
        Input { key: InputKey::new(name), plain: name.into(), best, spread: Spread::Exact, unit: "1", source: "by hand".into() }
    }

    fn stuff(grams: f64, dry: f64, other: f64) -> Change {
        Change::Stuff { amount: exact("curd", grams), dry: exact("dry_share", dry), other: exact("other_share", other) }
    }

    fn after(changes: &[Change]) -> Result<Contents, BinderError> {
        Contents::after(changes, &|input| input.best)
    }

    /// Worked by hand: 200 g of curd with 0.24 casein: 48 g casein, 152 g water. 4 g of soda, 280 g of water: 484 g. It then weighs
    /// 480 g: 4 g of water went, 428 g are left. A dish dries to 0.11: 52.8 g stay, less 0.6 x 4 = 2.4 g of soda: 50.4 g casein and
    /// 480 - 50.4 - 4 = 425.6 g water. 120 g, a quarter, are taken: 37.8 g, 319.2 g, 3 g.
    #[test]
    fn a_jar_by_hand() {
        let base = Change::Base { amount: exact("dose", 4.0), share: exact("base_share", 1.0) };
        let made = [stuff(200.0, 0.24, 0.0), base, Change::Water(exact("water", 280.0)), Change::Weighed(Grams::new(480.0))];
        let jar = after(&made).unwrap();
        assert!((jar.dry.value() - 48.0).abs() < 1e-9 && (jar.water.value() - 428.0).abs() < 1e-9);
        let dried = Change::Dried { share: exact("jar_dish", 0.11), base_left: exact("base_left", 0.6) };
        let jar = after(&[made.as_slice(), &[dried, Change::Taken(Grams::new(120.0))]].concat()).unwrap();
        assert!((jar.dry.value() - 37.8).abs() < 1e-9 && (jar.water.value() - 319.2).abs() < 1e-9 && (jar.base.value() - 3.0).abs() < 1e-9);
        assert!((jar.dry_share() - 0.105).abs() < 1e-9);
    }

    #[test]
    fn what_cannot_be_is_refused() {
        let curd = stuff(100.0, 0.25, 0.0);
        assert!(matches!(after(&[curd.clone(), Change::Taken(Grams::new(100.1))]), Err(BinderError::MoreThanThereIs { .. })));
        assert!(matches!(after(&[curd.clone(), Change::Weighed(Grams::new(20.0))]), Err(BinderError::LighterThanItsSolids { .. })));
        let base = Change::Base { amount: exact("dose", 10.0), share: exact("base_share", 1.0) };
        let dried = Change::Dried { share: exact("jar_dish", 0.01), base_left: exact("base_left", 1.0) };
        assert!(matches!(after(&[curd, base, dried]), Err(BinderError::JarDish)));
    }

    proptest! {
        #[test]
        fn nothing_is_lost_on_the_way(
            curd in 1.0f64..1e4, dry in 0.01f64..0.9, fat in 0.0f64..0.1, soda in 0.0f64..100.0, strength in 0.0f64..1.0,
            water in 0.0f64..1e4, part in 0.0f64..1.0,
        ) {
            let made = [
                stuff(curd, dry, fat),
                Change::Base { amount: exact("dose", soda), share: exact("base_share", strength) },
                Change::Water(exact("water", water)),
            ];
            let full = after(&made).unwrap();
            prop_assert!((full.total().value() - (curd + soda + water)).abs() < 1e-6);
            prop_assert!((full.dry.value() - curd * dry).abs() < 1e-6);
            let taken = full.total() * part;
            let left = after(&[made.as_slice(), &[Change::Taken(taken)]].concat()).unwrap();
            prop_assert!((left.total().value() + taken.value() - full.total().value()).abs() < 1e-6);
            // What was taken has the strength of the jar, in casein and in water.
            prop_assert!((left.dry.value() + taken.value() * full.dry_share() - full.dry.value()).abs() < 1e-6);
            let wet = full.water / full.total();
            prop_assert!((left.water.value() + taken.value() * wet - full.water.value()).abs() < 1e-6);
        }
    }
}
