//! Recipes against each other, and against the yardstick.

use std::collections::{BTreeMap, BTreeSet};

use statistics::Posterior;

use super::effects::{counts, yes_no};
use super::fitted::{Fitted, Key};
use super::model::{Effect, Figure, Unit, Verdict, Way};
use super::readings::Job;
use super::rules::Rules;
use super::test::{agreement, exact, sides};
use super::thresholds::Believed;

/// More recipes than these are no trial of recipes, and more yardsticks no yardstick.
const MOST_RECIPES: usize = 60;
const MOST_YARDSTICKS: usize = 3;

/// All differences between recipes that are asked, then those to the yardstick.
pub(super) fn recipe_effects(way: Way, units: &[Unit], believed: Option<&Believed>, rules: &Rules) -> Vec<Effect> {
    let judged: Vec<&Unit> = units.iter().filter(|unit| unit.job != Job::Witness).collect();
    let keys: Vec<Key<'_>> = judged.iter().map(|unit| (unit.job, unit.group.as_str())).collect::<BTreeSet<_>>().into_iter().collect();
    let (recipes, yardsticks): (Vec<Key<'_>>, Vec<Key<'_>>) = keys.into_iter().partition(|key| key.0 == Job::Recipe);
    if recipes.len() > MOST_RECIPES {
        return Vec::new();
    }
    let mut asked: Vec<(Key<'_>, Key<'_>)> = Vec::new();
    if recipes.len() <= rules.recipes_most {
        for (index, first) in recipes.iter().enumerate() {
            asked.extend(recipes.iter().skip(index + 1).map(|second| (*first, *second)));
        }
    } else if yardsticks.is_empty() {
        asked.extend(recipes.iter().skip(1).filter_map(|second| Some((*recipes.first()?, *second))));
    }
    let beside: Vec<(Key<'_>, Key<'_>)> =
        yardsticks.iter().take(MOST_YARDSTICKS).flat_map(|first| recipes.iter().map(|second| (*first, *second))).collect();
    // A recipe alone, or too many of them: then the yardstick is what is asked.
    let yardstick_asked = asked.is_empty();
    let fitted = matches!(way, Way::Plain | Way::Class).then(|| Fitted::of(&judged));
    let of = |key: Key<'_>| judged.iter().copied().filter(|unit| (unit.job, unit.group.as_str()) == key).collect::<Vec<&Unit>>();
    let thresholds: BTreeMap<Key<'_>, Posterior> = believed
        .into_iter()
        .flat_map(|believed| recipes.iter().chain(&yardsticks).filter_map(|key| Some((*key, believed.after(&of(*key))?))))
        .collect();
    let one = |(first, second): (Key<'_>, Key<'_>), is_asked: bool| {
        let (a, b) = (of(first), of(second));
        let found = match (way, &fitted, believed) {
            (Way::YesNo, ..) => yes_no(&a, &b, rules),
            (_, Some(fitted), _) => fitted.difference(first, second, rules.range_level),
            (Way::Stair { measured: false }, ..) => {
                Err("no strip's thickness is written down; weigh the board after every coat and add the thickness of each strip".into())
            }
            (.., Some(_)) => between([a.len(), b.len()], thresholds.get(&first), thresholds.get(&second), rules),
            _ => Err("no board was seen between two marks".into()),
        };
        let strata = sides(&a, &b, |unit| unit.day.clone());
        let (figure, above) = match found {
            Ok((figure, above)) => (Ok(figure), above),
            Err(why) => (Err(why), None),
        };
        let name = |key: Key<'_>| key.1.to_owned();
        Effect {
            name: "recipe".into(),
            from: name(first),
            to: name(second),
            within: String::new(),
            asked: is_asked,
            counts: (way == Way::YesNo).then(|| [counts(&a), counts(&b)]),
            units: [a.len(), b.len()],
            figure,
            above,
            test: exact(way, &strata, rules),
            agree: agreement(way, &strata),
            rests_on_belief: false,
            verdict: Verdict::CannotTell,
        }
    };
    asked
        .into_iter()
        .map(|pair| (pair, true))
        .chain(beside.into_iter().map(|pair| (pair, yardstick_asked)))
        .map(|(pair, is)| one(pair, is))
        .collect()
}

/// Difference of two thresholds.
pub(super) fn between(
    sizes: [usize; 2],
    first: Option<&Posterior>,
    second: Option<&Posterior>,
    rules: &Rules,
) -> Result<(Figure, Option<f64>), String> {
    if sizes.iter().all(|size| *size < 2) {
        return Err("there is one of each, so nothing tells how far two boards of one kind lie apart; make repeat boards".into());
    }
    let (Some(first), Some(second)) = (first, second) else { return Err("no board was seen between two marks".into()) };
    let (figure, above) = Believed::difference(first, second, rules.range_level);
    Ok((figure, Some(above)))
}
