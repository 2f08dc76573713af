//! What the boards can answer, and the least that any result could show.

use serde::{Deserialize, Serialize};
use statistics::least;

use super::{Sight, Tangle, TangleKind, words};
use crate::plan::model::Ready;

/// Luck that would do as much oftener than once in so many trials settles nothing (common practice, no source). Never shown as a line
/// to cross: sentences give the count itself.
const SETTLES: f64 = 20.0;

/// How boards are read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Reading {
    /// Cracked or not; exact two-sided rule for tables of two by two.
    YesNo,
    /// Put in order or measured, no two alike; all exchanges of boards.
    Ordered,
    /// Within pairs of the same sitting and the same other setting; all changes of sign.
    Paired,
}

impl Reading {
    /// The smallest chance with `size` pots, boards or pairs of each.
    fn least(self, size: usize) -> f64 {
        match self {
            Self::YesNo => least::yes_no(size, size),
            Self::Ordered => least::ordered(size, size),
            Self::Paired => least::paired(size),
        }
    }
}

/// The least that any result of one comparison could show.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Least {
    /// The setting.
    pub effect: String,
    /// The two kinds or values compared.
    pub between: [String; 2],
    /// How boards are read.
    pub reading: Reading,
    /// Independent pots or boards of each.
    pub split: [usize; 2],
    /// Whether pots are counted, not boards.
    pub pots: bool,
    /// How often luck alone would do as much at least, 0..1, for the clearest result that is possible.
    pub least_p: f64,
}

pub(super) fn least(sight: &Sight<'_>) -> Vec<Least> {
    let mut out = Vec::new();
    for factor in &sight.settings {
        let (pots, mut carriers) = super::pots::carriers(sight.plan, &factor.name);
        // The two levels that have most; of equals the first two.
        carriers.sort_by_key(|(_, count)| std::cmp::Reverse(*count));
        let [first, second, ..] = carriers.as_slice() else { continue };
        let split = [first.1, second.1];
        let between = [first.0.clone(), second.0.clone()];
        let mut push = |reading, split: [usize; 2], least_p| {
            out.push(Least { effect: factor.name.clone(), between: between.clone(), reading, split, pots, least_p });
        };
        push(Reading::YesNo, split, least::yes_no(split[0], split[1]));
        push(Reading::Ordered, split, least::ordered(split[0], split[1]));
        if sight.plan.ready == Ready::TwoByTwo {
            push(Reading::Paired, split, least::paired(split[0].min(split[1])));
        }
    }
    out
}

/// What can be answered and what can't, one sentence each.
pub(super) fn sentences(sight: &Sight<'_>, found: &[Tangle], least: &[Least]) -> (Vec<String>, Vec<String>) {
    let tangled = |name: &str| {
        found.iter().any(|tangle| {
            let exact = tangle.r.is_some_and(|r| r > 1.0 - 1e-9) && tangle.kind != TangleKind::Hidden;
            exact && tangle.effects.iter().any(|effect| effect == name)
        })
    };
    let names: Vec<String> = sight.on_purpose().map(|factor| factor.name.clone()).collect();
    let (bad, good): (Vec<String>, Vec<String>) = names.into_iter().partition(|name| tangled(name));
    let (mut can, mut cannot) = (Vec::new(), Vec::new());
    let boards = sight.boards.len();
    if good.len() == 1 {
        can.push(format!("The {} boards can show which way {} works and about how much.", words::count(boards), words::listed(&good)));
    } else if good.len() > 1 {
        can.push(format!("The {} boards can tell the work of {} apart.", words::count(boards), words::listed(&good)));
    }
    // A stair is read by the strip that cracks first; else boards crack or don't.
    let read = if sight.plan.ready == Ready::StairBoard { Reading::Ordered } else { Reading::YesNo };
    for one in least.iter().filter(|one| one.reading == read && good.contains(&one.effect)) {
        let (sentence, settles) = clearest(one);
        if settles { can.push(sentence) } else { cannot.push(sentence) }
    }
    for one in least.iter().filter(|one| one.reading == Reading::Paired && 1.0 / one.least_p < SETTLES) {
        cannot.push(format!(
            "Compared sitting by sitting there are {} pairs for “{}”. Even if all of them point the same way, luck alone would do that \
             once in {} such trials: direction and size, no more. {} pairs, that is {} sittings, are the fewest that can say more.",
            words::count(one.split[0].min(one.split[1])),
            one.effect,
            (1.0 / one.least_p).round(),
            words::capital(&words::count(fewest(|pairs| Reading::Paired.least(pairs)))),
            // Each sitting holds two pairs of every setting.
            words::count(fewest(|pairs| Reading::Paired.least(pairs)).div_ceil(2))
        ));
    }
    if !bad.is_empty() {
        cannot.push(format!("They can't tell what {} did: see the tangles.", words::listed(&bad)));
    }
    let recipes_on_pots = found.iter().any(|tangle| tangle.kind == TangleKind::NoHonestError);
    if recipes_on_pots {
        cannot.push("They can't tell a poor recipe from a poor pot.".to_owned());
    }
    (can, cannot)
}

/// The smallest size from which on the clearest result would be clear.
fn fewest(least_of: impl Fn(usize) -> f64) -> usize {
    (1..1000).find(|size| (1.0 / least_of(*size)).round() > SETTLES).unwrap_or(1000)
}

/// The clearest result that is possible, and whether it would be clear.
fn clearest(one: &Least) -> (String, bool) {
    let once_in = (1.0 / one.least_p).round();
    let settles = once_in > SETTLES;
    let what = if one.pots { "pots" } else { "boards" };
    let [a, b] = one.split;
    let [from, to] = &one.between;
    let case = if one.reading == Reading::YesNo {
        format!("if every board of {} {from} cracks and none of {to}", one.effect)
    } else {
        format!("if every board of {} {from} cracks at fewer coats than any of {to}", one.effect)
    };
    let (a, b) = (words::count(a), words::count(b));
    let sentence = if settles {
        format!("“{}”, {a} {what} against {b}: {case}, luck alone would do that once in {once_in} such trials.", one.effect)
    } else {
        format!(
            "“{}”, {a} {what} against {b}: even {case}, luck alone would do that once in {once_in} such trials. They can't settle it: \
             direction and size only. {} {what} of each are the fewest that can say more.",
            one.effect,
            words::capital(&words::count(fewest(|size| one.reading.least(size))))
        )
    };
    (sentence, settles)
}
