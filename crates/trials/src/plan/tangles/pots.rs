//! Pots, repeats and controls.

use std::collections::{BTreeMap, BTreeSet};

use super::{ExtraBoard, Sight, Tangle, TangleKind, words};
use crate::plan::model::{BoardKind, Plan, PlannedBoard};
use crate::plan::sheets::recipe_key;

/// Recipe boards by pot. A pot on two days is two pots: the second was mixed or warmed anew.
fn by_pot(plan: &Plan) -> BTreeMap<(u32, &str), Vec<&PlannedBoard>> {
    let mut pots: BTreeMap<(u32, &str), Vec<&PlannedBoard>> = BTreeMap::new();
    for board in plan.recipe_boards() {
        pots.entry((board.day, board.batch.as_str())).or_default().push(board);
    }
    pots
}

/// Settings that are the same on all boards of each pot: what belongs to the recipe.
pub(super) fn between(plan: &Plan) -> BTreeSet<String> {
    let pots = by_pot(plan);
    plan.settings
        .iter()
        .map(|setting| &setting.name)
        .filter(|name| {
            pots.values().all(|boards| {
                let first = boards.first().and_then(|board| board.settings.get(*name));
                boards.iter().all(|board| board.settings.get(*name) == first)
            })
        })
        .cloned()
        .collect()
}

/// A board less what changes within pots.
fn recipe_part(board: &PlannedBoard, between: &BTreeSet<String>) -> PlannedBoard {
    let mut recipe = board.clone();
    recipe.settings.retain(|name, _| between.contains(name));
    recipe
}

/// How many pots each recipe has.
fn pots_of_recipes(plan: &Plan, between: &BTreeSet<String>) -> BTreeMap<String, usize> {
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    for boards in by_pot(plan).values() {
        let recipes: BTreeSet<String> = boards.iter().map(|board| recipe_key(&recipe_part(board, between))).collect();
        for recipe in recipes {
            *counts.entry(recipe).or_default() += 1;
        }
    }
    counts
}

/// Recipes, or kinds of a setting, that rest on one pot.
pub(super) fn one_pot(sight: &Sight<'_>) -> Vec<Tangle> {
    let plan = sight.plan;
    let pots = by_pot(plan);
    if pots.values().all(|boards| boards.len() < 2) {
        // Every board from its own pot: what is missing then is repeats, and that is told elsewhere.
        return Vec::new();
    }
    let between = between(plan);
    let recipes = pots_of_recipes(plan, &between);
    if recipes.len() > 1 && recipes.values().all(|pots| *pots == 1) {
        let effects = sight.on_purpose().map(|factor| factor.name.clone()).filter(|name| between.contains(name));
        let shares = sight.parts.iter().map(|part| part.name.clone());
        let effects: Vec<String> = effects.chain(shares).chain(["batch".to_owned()]).collect();
        let add: Vec<ExtraBoard> = plan.recipe_boards().take(1).map(again).collect();
        let text = words::no_honest_error(&add, &effects);
        return vec![Tangle { kind: TangleKind::NoHonestError, effects, r: None, times: None, text, add }];
    }
    let mut out = Vec::new();
    for setting in plan.settings.iter().filter(|setting| between.contains(&setting.name)) {
        for level in &setting.levels {
            let carrying: Vec<(&str, &Vec<&PlannedBoard>)> = pots
                .iter()
                .filter(|(_, boards)| boards.first().and_then(|board| board.settings.get(&setting.name)) == Some(level))
                .map(|((_, letter), boards)| (*letter, boards))
                .collect();
            let varies = sight.settings.iter().any(|factor| factor.name == setting.name);
            if let [(letter, boards)] = carrying.as_slice()
                && boards.len() > 1
                && varies
            {
                let add: Vec<ExtraBoard> = boards.iter().take(1).map(|board| again(board)).collect();
                let text = words::one_pot(&setting.name, &level.to_string(), letter, boards.len());
                out.push(Tangle {
                    kind: TangleKind::OnePot,
                    effects: vec![setting.name.clone(), "batch".to_owned()],
                    r: None,
                    times: None,
                    text,
                    add,
                });
            }
        }
    }
    out
}

/// The same board from another pot.
fn again(board: &PlannedBoard) -> ExtraBoard {
    ExtraBoard { kind: BoardKind::Recipe, day: None, sheet: None, settings: board.settings.clone(), shares: board.shares.clone() }
}

/// No recipe comes twice: nothing says what luck alone does.
pub(super) fn no_repeats(sight: &Sight<'_>) -> Vec<Tangle> {
    let boards: Vec<&PlannedBoard> = sight.plan.recipe_boards().collect();
    let kinds: BTreeSet<String> = boards.iter().map(|board| recipe_key(board)).collect();
    if boards.is_empty() || kinds.len() < boards.len() {
        return Vec::new();
    }
    let add: Vec<ExtraBoard> = boards.iter().take(1).map(|board| again(board)).collect();
    let effects = sight.on_purpose().map(|factor| factor.name.clone()).collect();
    vec![Tangle { kind: TangleKind::NoRepeats, effects, r: None, times: None, text: words::no_repeats(&add), add }]
}

/// Days and sheets without a yardstick.
pub(super) fn no_control(plan: &Plan) -> Vec<Tangle> {
    let yardsticks: Vec<&PlannedBoard> = plan.boards.iter().filter(|board| board.kind == BoardKind::Yardstick).collect();
    let extra = |day: Option<u32>, sheet: Option<String>| ExtraBoard {
        kind: BoardKind::Yardstick,
        day,
        sheet,
        settings: BTreeMap::new(),
        shares: BTreeMap::new(),
    };
    let mut out = Vec::new();
    let bare: Vec<u32> = plan.days().into_iter().filter(|day| !yardsticks.iter().any(|board| board.day == *day)).collect();
    if !bare.is_empty() {
        out.push(Tangle {
            kind: TangleKind::NoControl,
            effects: vec!["yardstick".to_owned(), "day".to_owned()],
            r: None,
            times: None,
            text: words::no_control("day", &bare.iter().map(ToString::to_string).collect::<Vec<_>>()),
            add: bare.iter().map(|day| extra(Some(*day), None)).collect(),
        });
    }
    let sheets: BTreeSet<&String> = plan.boards.iter().filter_map(|board| board.sheet.as_ref()).collect();
    let bare: Vec<&String> = sheets.iter().copied().filter(|sheet| !yardsticks.iter().any(|b| b.sheet.as_ref() == Some(sheet))).collect();
    // Without any yardstick the days have said it all.
    if !yardsticks.is_empty() && sheets.len() > 1 && !bare.is_empty() {
        out.push(Tangle {
            kind: TangleKind::NoControl,
            effects: vec!["yardstick".to_owned(), "sheet".to_owned()],
            r: None,
            times: None,
            text: words::no_control("sheet", &bare.iter().map(ToString::to_string).collect::<Vec<_>>()),
            add: bare.iter().map(|sheet| extra(None, Some((*sheet).clone()))).collect(),
        });
    }
    out
}

/// Independent carriers of each level of a setting: pots if the pot sets it, boards if the board does.
pub(super) fn carriers(plan: &Plan, name: &str) -> (bool, Vec<(String, usize)>) {
    let by_pots = between(plan).contains(name);
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    let mut count = |board: &PlannedBoard| {
        if let Some(level) = board.settings.get(name) {
            *counts.entry(level.to_string()).or_default() += 1;
        }
    };
    if by_pots {
        by_pot(plan).values().filter_map(|boards| boards.first()).for_each(|board| count(board));
    } else {
        plan.recipe_boards().for_each(&mut count);
    }
    (by_pots, counts.into_iter().collect())
}
