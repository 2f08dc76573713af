//! A pot's log gone through in order: weighings, water put in, coats laid in between.

use std::sync::Arc;

use making::{Gone, Minutes, PotError, PotMix, PotSeen, water_lost};
use measure::Grams;
use notebook::{Board, Coat, Kept, Moment, Notebook, PotMass, PotWhat};

use super::boards::pot_of;

/// A coat and the board that it lies on.
pub(super) type CoatOn<'a> = (&'a Arc<Kept<Board>>, &'a Arc<Kept<Coat>>);

/// Coats laid from a pot, in the order of their time; size comes from another.
pub(super) fn coats_from<'a>(state: &'a Notebook, trial: &str, letter: &str) -> Vec<CoatOn<'a>> {
    let mut found: Vec<CoatOn<'a>> = state
        .boards_of(trial)
        .into_iter()
        .flat_map(|board| state.coats_of(&board.subject).into_iter().map(move |coat| (board, coat)))
        .filter(|(board, coat)| coat.record.number > 0 && pot_of(&board.record, &coat.record) == letter)
        .collect();
    found.sort_by_key(|(_, coat)| (coat.record.laid, coat.n));
    found
}

/// What a coat took out of the pot, if it was weighed.
pub(super) fn wet(coat: &Coat) -> Option<Grams> {
    coat.laid_g().map(Grams::new)
}

/// The ground alone, without the vessel.
pub(super) fn ground_alone(mass: &PotMass) -> Grams {
    Grams::new(mass.grams - if mass.what == PotWhat::WaterAdded { 0.0 } else { mass.vessel_g.unwrap_or(0.0) })
}

/// Where a pot stands after its log.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Stood {
    /// As mixed.
    pub(super) first: PotMix,
    /// As it stands if the water always went before the coats, and if it always went after them.
    pub(super) ends: (PotMix, PotMix),
    /// Water lost between weighings; none while it was weighed only once.
    pub(super) lost: Option<Grams>,
    /// How long the pot was between its first and its last weighing.
    pub(super) over: Minutes,
    /// Whether it was weighed when it was mixed; otherwise the sum of what went in stands for that.
    pub(super) weighed_first: bool,
    /// Coats without weights between two weighings: what they took can't be told from water.
    pub(super) unweighed: usize,
}

/// Goes through the log. `mixed` is the pot as it was mixed by its recipe, and when.
///
/// # Errors
/// Weights that do not fit together.
pub(super) fn stood(
    mixed: &PotMix,
    ready: Option<Moment>,
    masses: &[&Arc<Kept<PotMass>>],
    coats: &[CoatOn<'_>],
    scale: Grams,
) -> Result<Stood, PotError> {
    let at_first = masses.iter().position(|mass| mass.record.what == PotWhat::AsMixed);
    let first = match at_first.and_then(|at| masses.get(at)) {
        Some(mass) => PotMix::of(ground_alone(&mass.record), mixed.share())?,
        None => *mixed,
    };
    let begin = at_first.and_then(|at| masses.get(at)).map(|mass| mass.record.at).or(ready);
    let mut since = begin.unwrap_or_default();
    let mut ends = (first, first);
    let mut lost: Option<Grams> = None;
    let (mut added, mut unweighed, mut last) = (Grams::ZERO, 0, begin);
    let laid_between = |from: Moment, to: Moment| {
        let between = coats.iter().filter(move |(_, coat)| coat.record.laid > from && coat.record.laid <= to);
        let laid: Grams = between.clone().filter_map(|(_, coat)| wet(&coat.record)).sum();
        (laid, between.filter(|(_, coat)| wet(&coat.record).is_none()).count())
    };
    for mass in masses.iter().skip(at_first.map_or(0, |at| at + 1)).map(|kept| &kept.record) {
        match mass.what {
            PotWhat::WaterAdded => added = added + ground_alone(mass),
            PotWhat::AsMixed => {}
            PotWhat::Now => {
                let (laid, without) = laid_between(since, mass.at);
                unweighed += without;
                let seen = PotSeen { before: ends.0.total, added, laid, now: ground_alone(mass) };
                if without == 0 {
                    lost = Some(lost.unwrap_or(Grams::ZERO) + water_lost(&seen, scale)?);
                    ends = (ends.0.after(&seen, Gone::BeforeTheCoats, scale)?, ends.1.after(&seen, Gone::AfterTheCoats, scale)?);
                } else {
                    // What the unweighed coats took stands in for what is missing: no loss is claimed.
                    let settled = |end: PotMix| PotMix::of(seen.now, end.with(added).share());
                    ends = (settled(ends.0)?, settled(ends.1)?);
                }
                (added, since, last) = (Grams::ZERO, mass.at, Some(mass.at));
            }
        }
    }
    // After the last weighing: only what is written down.
    let (laid, _) = laid_between(since, Moment { seconds: i64::MAX, ..since });
    let seen = |end: &PotMix| PotSeen { before: end.total, added, laid, now: end.total + added - laid };
    if laid.value() > 0.0 || added.value() > 0.0 {
        let going = |end: PotMix| end.after(&seen(&end), Gone::BeforeTheCoats, scale);
        ends = (going(ends.0)?, going(ends.1)?);
    }
    let over = begin.zip(last).map_or(0, |(from, to)| (to.seconds - from.seconds).max(0) / 60);
    Ok(Stood {
        first,
        ends,
        lost,
        over: Minutes::new(i32::try_from(over).unwrap_or(i32::MAX)),
        weighed_first: at_first.is_some(),
        unweighed,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: a scale set to zero under the bare board shows 9.5 g, and 9.5 g on 0.2 x 0.25 m are 190 g/m2; 321.0 - 312.4 = 8.6 g.
    #[test]
    fn a_coat_weighs_alike_however_it_was_weighed() {
        let tapped = Coat { wet_g: Some(9.5), ..Coat::default() };
        assert_eq!(wet(&tapped), Some(Grams::new(9.5)));
        let typed = Coat { before_g: Some(312.4), after_g: Some(321.0), ..Coat::default() };
        assert!(wet(&typed).is_some_and(|grams| (grams.value() - 8.6).abs() < 1e-9));
        // What was aimed at is no weight.
        assert_eq!(wet(&Coat { aim_g: Some(10.0), ..Coat::default() }), None);
    }
}
