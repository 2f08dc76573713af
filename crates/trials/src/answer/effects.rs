//! What all differences share: counts, shares of yes, and the verdict.

use statistics::TwoGroups;

use super::model::{Effect, Figure, Tangle, Unit, Verdict};
use super::rules::Rules;

/// Yes of so many units; a pot whose boards part counts by its share, rounded over the group.
pub(super) fn counts(units: &[&Unit]) -> (u32, u32) {
    let yes: f64 = units.iter().map(|unit| unit.seen.low).sum();
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a sum of shares over at most 20,000 units")]
    let yes = yes.round() as u32;
    (yes, u32::try_from(units.len()).unwrap_or(u32::MAX))
}

/// Share of yes on the second side less that on the first, with its range.
pub(super) fn yes_no(a: &[&Unit], b: &[&Unit], rules: &Rules) -> Result<(Figure, Option<f64>), String> {
    if a.len() < 2 && b.len() < 2 {
        return Err("there is one of each; one board of a kind can't tell recipe from luck: make repeat boards".into());
    }
    let (first, second) = (counts(a), counts(b));
    let found = TwoGroups::of(first, second, rules.prior_log_odds).ok_or("one side has no board")?;
    let share = |(yes, all): (u32, u32)| f64::from(yes) / f64::from(all);
    let value = share(second) - share(first);
    let [low, high] = found.difference;
    Ok((Figure { value, low: low.min(value), high: high.max(value) }, Some(found.second_higher)))
}

/// The share that the exact test of one difference may give for *told*, the custom parted among all that were asked.
pub(super) fn limit(effects: &[Effect], rules: &Rules) -> f64 {
    rules.exact_limit / effects.iter().filter(|effect| effect.asked).count().max(1) as f64
}

/// Gives every effect its verdict; returns the one that the whole measure rests on.
pub(super) fn settle(effects: &mut [Effect], tangles: &[Tangle], rules: &Rules) -> Option<usize> {
    let limit = limit(effects, rules);
    for effect in effects.iter_mut() {
        let tangle = |whole: bool| tangles.iter().any(|tangle| tangle.whole == whole && concerns(tangle, effect));
        let Ok(figure) = &effect.figure else { continue };
        if tangle(true) {
            continue;
        }
        let leaves_out = figure.low > 0.0 || figure.high < 0.0;
        let rests_on_belief = leaves_out && effect.counts.is_some_and(|counts| rests_on_belief(counts, rules));
        let parted = effect.test.as_ref().is_some_and(|test| test.least_p <= limit && test.p <= limit);
        let (most, all) = effect.agree;
        effect.verdict = if parted && leaves_out && !tangle(false) {
            Verdict::Told
        } else if leaves_out || (all >= rules.least_pairs && most == all) {
            Verdict::Leans
        } else {
            Verdict::CannotTell
        };
        effect.rests_on_belief = rests_on_belief;
    }
    let rank = |effect: &Effect| {
        let p = effect.test.as_ref().map_or(1.0, |test| test.p);
        (effect.verdict, -p, effect.above.map_or(0.0, |above| (above - 0.5).abs()))
    };
    let mut lead: Option<usize> = None;
    for (index, effect) in effects.iter().enumerate().filter(|(_, effect)| effect.asked) {
        let better = lead
            .and_then(|at| effects.get(at))
            .is_none_or(|best| rank(effect).partial_cmp(&rank(best)) == Some(std::cmp::Ordering::Greater));
        if better {
            lead = Some(index);
        }
    }
    lead
}

/// Whether the range leaves out "no difference" only with beliefs of this width: with half or twice the width it would not.
fn rests_on_belief([first, second]: [(u32, u32); 2], rules: &Rules) -> bool {
    [0.5, 2.0].into_iter().any(|width| {
        TwoGroups::of(first, second, rules.prior_log_odds * width).is_none_or(|found| {
            let [low, high] = found.difference;
            low <= 0.0 && high >= 0.0
        })
    })
}

/// Whether a tangle names this effect.
pub(super) fn concerns(tangle: &Tangle, effect: &Effect) -> bool {
    let named = |name: &str| tangle.effects.iter().any(|known| known == name);
    if effect.name == "recipe" { named("recipe") || named(&effect.from) || named(&effect.to) } else { named(&effect.name) }
}
