//! A glue pot kept warm: it loses water, not glue. So its weight tells how strong it has become, and how much water brings it back.

use measure::Grams;

/// What happened to the pot, in the order of the day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PotEvent {
    /// It was weighed; what is in it, without the pot itself.
    Weighed(Grams),
    /// So much of it was taken out, for a coat or into a gesso.
    Took(Grams),
    /// So much water was put in.
    Water(Grams),
}

/// The pot at a weighing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PotState {
    /// Which event it was, from 0.
    pub event: usize,
    /// What is in it.
    pub mass: Grams,
    /// Dry glue in it: half-way, least and most. The three are one where nothing was taken since the weighing before.
    pub glue: (Grams, Grams, Grams),
    /// Water lost to the air since the pot was made.
    pub lost: Grams,
}

impl PotState {
    /// Strength in per cent by weight: best, least, most.
    pub fn percent(&self) -> (f64, f64, f64) {
        let of = |glue: Grams| 100.0 * glue.value() / self.mass.value();
        (of(self.glue.0), of(self.glue.1), of(self.glue.2))
    }

    /// Water that brings it to this strength: best, least, most; below 0 where it is thinner than that already.
    pub fn water_to(&self, percent: f64) -> (Grams, Grams, Grams) {
        let of = |glue: Grams| glue * (100.0 / percent) - self.mass;
        (of(self.glue.0), of(self.glue.1), of(self.glue.2))
    }
}

/// Why a log can't be followed. The event is counted from 0.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum PotLogError {
    /// It begins without glue or without water.
    #[error("the pot begins with glue and water, both above 0")]
    Empty,
    /// Heavier than all that is in it.
    #[error("it weighs more than what is left in it; take off the weight of the empty pot, or say the water that went in")]
    TooHeavy {
        /// Which event.
        event: usize,
    },
    /// Lighter than its glue alone.
    #[error("it weighs less than the dry glue in it; weigh again, or say what was taken")]
    TooLight {
        /// Which event.
        event: usize,
    },
    /// More was taken than there was.
    #[error("more was taken than there was in it")]
    TookTooMuch {
        /// Which event.
        event: usize,
    },
    /// No weight.
    #[error("a weight lies above 0")]
    NoWeight {
        /// Which event.
        event: usize,
    },
}

impl PotLogError {
    /// The event that can't be, from 0; `None` where it is the beginning.
    pub const fn event(self) -> Option<usize> {
        match self {
            Self::Empty => None,
            Self::TooHeavy { event } | Self::TooLight { event } | Self::TookTooMuch { event } | Self::NoWeight { event } => Some(event),
        }
    }
}

/// Weights may differ so far, as a share, before a heavier pot is called a mistake: a kitchen balance reads no finer (judgement, no source).
const BALANCE: f64 = 0.002;

/// The pot at each weighing of the log.
///
/// Glue stays, whatever the air takes. A coat takes glue along at the strength of its hour, and nobody knows how much of the loss up to the
/// next weighing came before it: least glue is left if all of it did, most if none; the best is half-way.
///
/// # Errors
/// A log that can't be: the first event that does not fit.
///
/// ```
/// use binder::{PotEvent, warm_pot};
/// use measure::Grams;
/// // 70 g of glue in 1000 g of water; an hour later 1020 g are left: 50 g of water have gone, and 50 g bring it back.
/// let states = warm_pot(Grams::new(70.0), Grams::new(1000.0), &[PotEvent::Weighed(Grams::new(1020.0))])?;
/// assert!((states[0].lost.value() - 50.0).abs() < 1e-9);
/// assert!((states[0].percent().0 - 7000.0 / 1020.0).abs() < 1e-9);
/// assert!((states[0].water_to(7000.0 / 1070.0).0.value() - 50.0).abs() < 1e-9);
/// # Ok::<(), binder::PotLogError>(())
/// ```
pub fn warm_pot(glue: Grams, water: Grams, events: &[PotEvent]) -> Result<Vec<PotState>, PotLogError> {
    if !(glue.value() > 0.0 && water.value() > 0.0) {
        return Err(PotLogError::Empty);
    }
    // Since the weighing before: what the pot held then, and what was done to it.
    let mut known = PotState { event: 0, mass: glue + water, glue: (glue, glue, glue), lost: Grams::ZERO };
    let mut done: Vec<PotEvent> = Vec::new();
    let mut left = known.mass.value();
    let mut states = Vec::new();
    for (event, what) in events.iter().enumerate() {
        let amount = match what {
            PotEvent::Weighed(amount) | PotEvent::Took(amount) | PotEvent::Water(amount) => amount.value(),
        };
        if !(amount > 0.0 && amount.is_finite()) {
            return Err(PotLogError::NoWeight { event });
        }
        match *what {
            PotEvent::Took(_) if amount >= left => return Err(PotLogError::TookTooMuch { event }),
            PotEvent::Took(_) => {
                left -= amount;
                done.push(*what);
            }
            PotEvent::Water(_) => {
                left += amount;
                done.push(*what);
            }
            PotEvent::Weighed(mass) => {
                if amount > left * (1.0 + BALANCE) {
                    return Err(PotLogError::TooHeavy { event });
                }
                let gone = (left - amount).max(0.0);
                let most = glue_left(known.glue.2.value(), known.mass.value(), &done);
                let least = glue_left(known.glue.1.value(), known.mass.value() - gone, &done);
                // No strength above that of dry glue: more loss than there was water before the coat can't all have come first.
                let least = least.filter(|least| *least > 0.0).unwrap_or(0.0);
                let most = most.ok_or(PotLogError::TookTooMuch { event })?;
                if amount <= most {
                    return Err(PotLogError::TooLight { event });
                }
                let best = f64::midpoint(least, most);
                known = PotState {
                    event,
                    mass,
                    glue: (Grams::new(best), Grams::new(least), Grams::new(most)),
                    lost: Grams::new(known.lost.value() + gone),
                };
                left = amount;
                done.clear();
                states.push(known);
            }
        }
    }
    Ok(states)
}

/// A coat, or what else was taken, and how strong it was.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PotCoat {
    /// Which event it was, from 0.
    pub event: usize,
    /// Its strength in per cent by weight: best, least, most. The three are one where the pot lost nothing between the weighings around it.
    pub percent: (f64, f64, f64),
    /// Whether the pot was weighed after it. If not, what it lost before this coat is not known, and the strength is a least one.
    pub bounded: bool,
}

/// How strong each coat of the log was. Nobody knows when, between two weighings, the water went: the weakest is a coat before all of the
/// loss, the strongest one after it; the loss is also taken as gone between any two things that were done. The best is half-way.
///
/// # Errors
/// As [`warm_pot`].
///
/// ```
/// use binder::{PotEvent, coats_laid};
/// use measure::Grams;
/// // 100 g of glue in 900 g of water, 200 g taken, 700 g left: 100 g of water went. Before the coat it was 100 / 1000, after the loss 100 / 900.
/// let coats = coats_laid(Grams::new(100.0), Grams::new(900.0), &[PotEvent::Took(Grams::new(200.0)), PotEvent::Weighed(Grams::new(700.0))])?;
/// let (_, least, most) = coats[0].percent;
/// assert!((least - 10.0).abs() < 1e-9 && (most - 11.111).abs() < 1e-3);
/// # Ok::<(), binder::PotLogError>(())
/// ```
pub fn coats_laid(glue: Grams, water: Grams, events: &[PotEvent]) -> Result<Vec<PotCoat>, PotLogError> {
    let states = warm_pot(glue, water, events)?;
    let mut known = PotState { event: 0, mass: glue + water, glue: (glue, glue, glue), lost: Grams::ZERO };
    let mut coats = Vec::new();
    let mut from = 0;
    for state in states.iter().copied().map(Some).chain(std::iter::once(None)) {
        let until = state.map_or(events.len(), |state| state.event);
        let done = events.get(from..until).unwrap_or_default();
        let gone = state.map_or(0.0, |state| state.lost.value() - known.lost.value());
        // One row for each time at which all of the loss may have gone: before the first thing done, between two, or after the last.
        let ways: Vec<Vec<f64>> = [known.glue.1, known.glue.2]
            .into_iter()
            .flat_map(|glue| (0..=done.len()).map(move |at| (glue, at)))
            .filter_map(|(glue, at)| strengths(glue.value(), known.mass.value(), done, gone, at))
            .collect();
        let taken = done.iter().enumerate().filter(|(_, what)| matches!(what, PotEvent::Took(_)));
        for (coat, (index, _)) in taken.enumerate() {
            let found = ways.iter().filter_map(|way| way.get(coat).copied());
            let (least, most) = found.fold((f64::INFINITY, 0.0_f64), |(least, most), share| (least.min(share), most.max(share)));
            if least <= most {
                let percent = (100.0 * f64::midpoint(least, most), 100.0 * least, 100.0 * most);
                coats.push(PotCoat { event: from + index, percent, bounded: state.is_some() });
            }
        }
        from = until + 1;
        known = state.unwrap_or(known);
    }
    Ok(coats)
}

/// Glue in the pot as a share at each taking, if so much water goes before the thing done that stands at `at`; `None` if that can't be.
fn strengths(mut glue: f64, mut mass: f64, done: &[PotEvent], gone: f64, at: usize) -> Option<Vec<f64>> {
    let mut found = Vec::new();
    for (index, what) in done.iter().enumerate() {
        if index == at {
            mass -= gone;
        }
        match *what {
            PotEvent::Took(grams) => {
                let (share, part) = (glue / mass, grams.value() / mass);
                if !((0.0..1.0).contains(&share) && (0.0..1.0).contains(&part)) {
                    return None;
                }
                found.push(share);
                glue *= 1.0 - part;
                mass -= grams.value();
            }
            PotEvent::Water(grams) => mass += grams.value(),
            PotEvent::Weighed(_) => {}
        }
    }
    Some(found)
}

/// Glue left of so much in so much after coats and water, if no water leaves meanwhile; `None` where a coat took more than there was.
fn glue_left(mut glue: f64, mut mass: f64, done: &[PotEvent]) -> Option<f64> {
    for what in done {
        match *what {
            PotEvent::Took(grams) => {
                let share = grams.value() / mass;
                if !(0.0..1.0).contains(&share) || glue > mass {
                    return None;
                }
                glue *= 1.0 - share;
                mass -= grams.value();
            }
            PotEvent::Water(grams) => mass += grams.value(),
            PotEvent::Weighed(_) => {}
        }
    }
    Some(glue)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn pot(glue: f64, water: f64, events: &[PotEvent]) -> Result<Vec<PotState>, PotLogError> {
        warm_pot(Grams::new(glue), Grams::new(water), events)
    }

    fn weighed(grams: f64) -> PotEvent {
        PotEvent::Weighed(Grams::new(grams))
    }

    fn took(grams: f64) -> PotEvent {
        PotEvent::Took(Grams::new(grams))
    }

    #[test]
    fn a_coat_between_two_weighings_is_a_span() {
        // By hand: 100 g of glue in 900 g of water, 200 g taken, 700 g left: 100 g of water gone. None before the coat: 20 g of glue went,
        // 80 stay. All before: 200 of 900 g took 22.22 g, 77.78 stay. Half-way 78.89 g, 11.27 %; back to 10 % takes 88.9 g of water.
        let states = pot(100.0, 900.0, &[took(200.0), weighed(700.0)]).unwrap();
        let state = states[0];
        assert!((state.lost.value() - 100.0).abs() < 1e-9);
        assert!((state.glue.1.value() - 77.778).abs() < 0.001 && (state.glue.2.value() - 80.0).abs() < 1e-9);
        assert!((state.percent().0 - 11.270).abs() < 0.001);
        assert!((state.water_to(10.0).0.value() - 88.89).abs() < 0.01);
        // Weighed before the coat too, nothing is in doubt: 100 of 900 g is 11.11 %, 22.22 g went.
        let states = pot(100.0, 900.0, &[weighed(900.0), took(200.0), weighed(700.0)]).unwrap();
        let state = states[1];
        assert!((state.glue.1.value() - 77.778).abs() < 0.001 && (state.glue.2.value() - 77.778).abs() < 0.001);
    }

    #[test]
    fn each_coat_has_its_strength() {
        // By hand: 70 g in 1000 g, weighed at 1070 (6.542 %), a coat of 100 g takes 6.542 g of glue: 63.458 g in 970 g, weighed 950 (20 g
        // gone). A second coat then is 63.458 / 950 = 6.680 %; weighed before each, so no doubt but the first's: before or after the 20 g,
        // 70 / 1070 = 6.542 or 70 / 1050 = 6.667 %. A third after the last weighing is a least strength.
        let log = [weighed(1070.0), took(100.0), weighed(950.0), took(50.0), weighed(900.0), took(50.0)];
        let coats = coats_laid(Grams::new(70.0), Grams::new(1000.0), &log).unwrap();
        assert_eq!(coats.iter().map(|coat| coat.event).collect::<Vec<_>>(), [1, 3, 5]);
        assert!((coats[0].percent.1 - 6.542).abs() < 0.001 && (coats[0].percent.2 - 6.667).abs() < 0.001, "{coats:?}");
        // 70 g less what the first coat took: 6.542 g (63.458 stay) or, if the water went first, 6.667 g (63.333 stay), in 950 g.
        assert!((coats[1].percent.1 - 6.667).abs() < 0.001 && (coats[1].percent.2 - 6.680).abs() < 0.001, "{coats:?}");
        assert!(coats[1].bounded && !coats[2].bounded);
        assert!((coats[2].percent.1 - coats[1].percent.1).abs() < 1e-9, "nothing was lost since");
    }

    #[test]
    fn two_coats_between_weighings_may_part_the_loss() {
        // By hand: 100 g in 900 g, two coats of 200 g, 500 g left: 100 g gone. The second coat is weakest with all the loss after it
        // (80 / 800 = 10 %), strongest with all of it between the two (80 / 700 = 11.429 %), not with all of it first (100 / 900 = 11.111 %).
        let coats = coats_laid(Grams::new(100.0), Grams::new(900.0), &[took(200.0), took(200.0), weighed(500.0)]).unwrap();
        assert!((coats[1].percent.1 - 10.0).abs() < 1e-9 && (coats[1].percent.2 - 11.429).abs() < 0.001, "{coats:?}");
        assert!((coats[0].percent.2 - 11.111).abs() < 0.001);
    }

    #[test]
    fn a_log_that_cannot_be_names_its_event() {
        assert_eq!(pot(70.0, 1000.0, &[weighed(1400.0)]), Err(PotLogError::TooHeavy { event: 0 }));
        assert_eq!(pot(70.0, 1000.0, &[weighed(1000.0), weighed(60.0)]), Err(PotLogError::TooLight { event: 1 }));
        assert_eq!(pot(70.0, 1000.0, &[took(1100.0)]), Err(PotLogError::TookTooMuch { event: 0 }));
        assert_eq!(pot(70.0, 1000.0, &[weighed(0.0)]), Err(PotLogError::NoWeight { event: 0 }));
        assert_eq!(pot(70.0, 1000.0, &[weighed(f64::NAN)]), Err(PotLogError::NoWeight { event: 0 }));
        assert_eq!(pot(0.0, 1000.0, &[]), Err(PotLogError::Empty));
        assert_eq!(PotLogError::TooHeavy { event: 3 }.event(), Some(3));
    }

    proptest! {
        /// Glue is conserved, and adding what was lost brings the strength back exactly.
        #[test]
        fn the_air_takes_water_alone(glue in 1.0f64..500.0, water in 50.0f64..5000.0, kept in proptest::collection::vec(0.3f64..1.0, 1..6)) {
            let begun = 100.0 * glue / (glue + water);
            let mut mass = glue + water;
            let mut events = Vec::new();
            for share in kept {
                mass = glue + (mass - glue) * share;
                events.push(weighed(mass));
            }
            for state in pot(glue, water, &events).unwrap() {
                for left in [state.glue.0, state.glue.1, state.glue.2] {
                    prop_assert!((left.value() - glue).abs() < 1e-9 * glue);
                }
                prop_assert!(state.percent().0 >= begun - 1e-9);
                let back = state.water_to(begun).0;
                prop_assert!((back.value() - state.lost.value()).abs() < 1e-6);
                prop_assert!((100.0 * glue / (state.mass.value() + back.value()) - begun).abs() < 1e-9);
            }
        }

        /// A coat alone changes no strength; water put in and told is not taken for a loss.
        #[test]
        fn coats_and_water_that_are_told_are_no_loss(glue in 1.0f64..200.0, water in 300.0f64..5000.0, coat in 0.01f64..0.9, more in 1.0f64..500.0) {
            let whole = glue + water;
            let out = coat * whole;
            let states = pot(glue, water, &[took(out), weighed(whole - out), PotEvent::Water(Grams::new(more)), weighed(whole - out + more)]).unwrap();
            let begun = 100.0 * glue / whole;
            prop_assert!((states[0].percent().1 - begun).abs() < 1e-6 && (states[0].percent().2 - begun).abs() < 1e-6);
            prop_assert!(states[1].lost.value().abs() < 1e-6);
            prop_assert!(states[1].percent().0 < begun);
        }

        /// Water lost at any hour, coats weighed where they are taken: the true strength of each coat lies in its span, and glue taken
        /// and glue left make up what went in.
        #[test]
        fn the_true_strength_lies_in_the_span(glue in 10.0f64..200.0, water in 500.0f64..5000.0, day in proptest::collection::vec((0.0f64..0.1, 0.02f64..0.2), 1..5)) {
            let (mut left, mut mass, mut given) = (glue, glue + water, 0.0);
            let (mut events, mut truth) = (Vec::new(), Vec::new());
            for (dries, coat) in day {
                mass -= dries * (mass - left);
                let out = coat * mass;
                truth.push(100.0 * left / mass);
                given += left * coat;
                left *= 1.0 - coat;
                mass -= out;
                events.push(took(out));
            }
            events.push(weighed(mass));
            let coats = coats_laid(Grams::new(glue), Grams::new(water), &events).unwrap();
            prop_assert_eq!(coats.len(), truth.len());
            for (coat, truth) in coats.iter().zip(&truth) {
                prop_assert!(coat.percent.1 <= truth + 1e-9 && *truth <= coat.percent.2 + 1e-9, "{coat:?} {truth}");
            }
            prop_assert!((given + left - glue).abs() < 1e-9 * glue);
        }

        /// Whatever is told, the least is no more than the best and the best no more than the most.
        #[test]
        fn spans_stand_in_order(glue in 1.0f64..100.0, water in 100.0f64..2000.0, steps in proptest::collection::vec((0u8..3, 1.0f64..900.0), 0..8)) {
            let events: Vec<PotEvent> = steps.into_iter().map(|(kind, grams)| match kind {
                0 => weighed(grams),
                1 => took(grams),
                _ => PotEvent::Water(Grams::new(grams)),
            }).collect();
            if let Ok(states) = pot(glue, water, &events) {
                for state in states {
                    let (best, least, most) = state.percent();
                    prop_assert!(0.0 <= least && least <= best && best <= most && most < 100.0, "{state:?}");
                    prop_assert!(state.lost.value() >= 0.0);
                }
            }
        }
    }
}
