//! What can't be parted from something else on these boards.

use std::collections::{BTreeMap, BTreeSet};

use super::factors::{Design, Factor, Stands};
use super::model::{Tangle, Unit, UnitIs};
use super::readings::Job;

/// Settings that always moved together, or with the day.
pub(super) fn setting_tangles(design: &Design<'_>) -> Vec<Tangle> {
    let mut found: Vec<Tangle> = Vec::new();
    for (_, stands) in &design.dependent {
        let mut members: Vec<usize> = stands.iter().filter_map(|one| if let Stands::Factor(at) = one { Some(*at) } else { None }).collect();
        members.sort_unstable();
        members.dedup();
        let factors: Vec<&Factor> = members.iter().filter_map(|&at| design.factors.get(at)).collect();
        let with_day = stands.contains(&Stands::Day);
        let mut effects: Vec<String> = factors.iter().map(|factor| factor.name.clone()).collect();
        if with_day {
            effects.push("day".into());
        }
        if factors.is_empty() || effects.len() < 2 || found.iter().any(|tangle| tangle.effects == effects) {
            continue;
        }
        let tangle = match factors.as_slice() {
            [one] => day_tangle(design, one, effects),
            [a, b] if !with_day => pair_tangle(design, a, b, effects),
            _ => {
                let names = effects.join(", ");
                let text = format!(
                    "On these boards {names} never moved apart from each other. If the boards differ, you can't know which did it."
                );
                Tangle {
                    effects,
                    text,
                    add: vec![format!("one board more that differs from another in a single one of them: {names}")],
                    whole: true,
                }
            }
        };
        found.push(tangle);
    }
    found
}

fn pair_tangle(design: &Design<'_>, a: &Factor, b: &Factor, effects: Vec<String>) -> Tangle {
    let together: BTreeSet<(&str, &str)> = design.rows.iter().map(|unit| (a.level(unit), b.level(unit))).collect();
    let said: Vec<String> = together.iter().map(|(x, y)| format!("{} {x} came with {} {y}", a.name, b.name)).collect();
    let text = format!("On these boards {}. If they differ, you can't know which did it.", said.join(" and "));
    let missing =
        a.levels.iter().flat_map(|x| b.levels.iter().map(move |y| (x.as_str(), y.as_str()))).filter(|pair| !together.contains(pair));
    let add = missing.take(2).map(|(x, y)| format!("one board with {} {x} and {} {y}", a.name, b.name)).collect();
    Tangle { effects, text, add, whole: true }
}

fn day_tangle(design: &Design<'_>, factor: &Factor, effects: Vec<String>) -> Tangle {
    let together: BTreeSet<(&str, &str)> = design.rows.iter().map(|unit| (factor.level(unit), unit.day.as_str())).collect();
    let said: Vec<String> = together.iter().map(|(level, day)| format!("{} {level} on day {day}", factor.name)).collect();
    let text = format!("{} moved with the day: {}. If the boards differ, it may be the weather of the day.", factor.name, said.join(", "));
    let add = vec![format!("one board of each {} on one and the same day", factor.name)];
    Tangle { effects, text, add, whole: true }
}

/// Recipes that rest on a single pot.
pub(super) fn single_pots(units: &[Unit], is: UnitIs) -> Vec<Tangle> {
    if is == UnitIs::Board {
        return Vec::new();
    }
    let mut by_group: BTreeMap<&str, Vec<&Unit>> = BTreeMap::new();
    for unit in units.iter().filter(|unit| unit.job == Job::Recipe) {
        by_group.entry(&unit.group).or_default().push(unit);
    }
    let single = by_group.into_iter().filter_map(|(name, units)| match units.as_slice() {
        [one] if one.boards.len() > 1 => Some((name, one.boards.len())),
        _ => None,
    });
    single
        .map(|(name, boards)| Tangle {
            effects: vec![name.to_owned()],
            text: format!("All {boards} boards of {name} came from one pot. If that pot was unlucky, {name} looks worse than it is."),
            add: vec![format!("a second pot of {name}")],
            whole: false,
        })
        .collect()
}

/// Recipes that never shared a day with another one.
pub(super) fn recipe_days(units: &[Unit]) -> Vec<Tangle> {
    let recipes: BTreeSet<&str> = units.iter().filter(|unit| unit.job == Job::Recipe).map(|unit| unit.group.as_str()).collect();
    let days: BTreeSet<&str> = units.iter().map(|unit| unit.day.as_str()).collect();
    if recipes.len() < 2 || days.len() < 2 {
        return Vec::new();
    }
    let on = |name: &str| {
        units.iter().filter(|unit| unit.job == Job::Recipe && unit.group == name).map(|unit| unit.day.as_str()).collect::<BTreeSet<_>>()
    };
    let has_yardstick = |day: &str| units.iter().any(|unit| unit.job == Job::Yardstick && unit.day == day);
    let mut found = Vec::new();
    for name in &recipes {
        let own = on(name);
        let alone = recipes.iter().filter(|other| *other != name).all(|other| on(other).is_disjoint(&own));
        if !alone {
            continue;
        }
        let day = own.iter().copied().collect::<Vec<_>>().join(", ");
        let joined = own.iter().any(|day| has_yardstick(day));
        let rest = if joined { "Only the yardsticks join the days." } else { "If it differs, it may be the weather of that day." };
        found.push(Tangle {
            effects: vec![(*name).to_owned()],
            text: format!("{name} was made on day {day} and no other recipe was. {rest}"),
            add: vec![format!("{name} and another recipe on one and the same day")],
            whole: !joined,
        });
    }
    found
}

/// Two recipes that differ in several settings at once.
pub(super) fn many_at_once(units: &[Unit], names: &[String], varying: &[usize]) -> Option<Tangle> {
    if varying.len() < 2 {
        return None;
    }
    let recipes: BTreeSet<&str> = units.iter().filter(|unit| unit.job == Job::Recipe).map(|unit| unit.group.as_str()).collect();
    let list = varying.iter().filter_map(|&at| names.get(at)).cloned().collect::<Vec<_>>().join(", ");
    let recipes: Vec<&str> = recipes.into_iter().collect();
    Some(Tangle {
        effects: varying.iter().filter_map(|&at| names.get(at)).cloned().collect(),
        text: format!(
            "{} differ in several things at once: {list}. The boards compare the recipes, and can't tell which of these did it.",
            recipes.join(" and ")
        ),
        add: vec!["a recipe that differs from one of them in a single thing".into()],
        whole: false,
    })
}
