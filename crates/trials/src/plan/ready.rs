//! Ready trials: the stair board and the two by two.

use std::collections::BTreeMap;

use statistics::Chance;

use super::draft::{About, Wanted, check, controls, crossing, missing, not_too_many, numbered, shuffled, spares};
use super::error::PlanError;
use super::model::{BoardKind, Note, Per, Plan, Ready, Setting, Shape, Value};

/// Fewest stair boards and pots of a recipe that say something (judgement, no source).
const LEAST_STAIRS: (u32, u32) = (3, 2);

/// How thick can each recipe be laid? One board carries one to `strips` coats side by side.
#[derive(Debug, Clone, PartialEq)]
pub struct StairWish {
    /// Question, better, controls, sheets, losses.
    pub about: About,
    /// Settings whose combinations are the recipes; none for a single recipe.
    pub settings: Vec<Setting>,
    /// Boards of each recipe.
    pub boards: u32,
    /// Pots of each recipe.
    pub pots: u32,
    /// Days or sittings.
    pub days: u32,
    /// Strips on a board, 2 to 9.
    pub strips: u32,
}

impl Default for StairWish {
    fn default() -> Self {
        Self { about: About::default(), settings: Vec::new(), boards: LEAST_STAIRS.0, pots: LEAST_STAIRS.1, days: 2, strips: 5 }
    }
}

/// Plans stair boards. Every other board of a recipe is turned round, so that thickness and place part.
///
/// # Errors
/// Numbers out of range, names that clash, more than 2000 boards.
///
/// ```
/// let plan = trials::plan::stair(&trials::plan::StairWish::default(), 7)?;
/// assert_eq!(plan.boards.len(), 3);
/// assert!(plan.boards.iter().any(|board| board.strips == [5, 4, 3, 2, 1]));
/// # Ok::<(), trials::plan::PlanError>(())
/// ```
pub fn stair(wish: &StairWish, seed: u64) -> Result<Plan, PlanError> {
    check(&wish.settings, &wish.about, wish.days)?;
    let out = |what, found: u32, wanted| Err(PlanError::OutOfRange { what, found: found.to_string(), wanted });
    if !(2..=9).contains(&wish.strips) {
        return out("the number of strips", wish.strips, "2 to 9");
    }
    if !(1..=2000).contains(&wish.boards) {
        return out("the number of boards of each recipe", wish.boards, "1 to 2000");
    }
    if wish.pots < 1 || wish.pots > wish.boards {
        return out("the number of pots of each recipe", wish.pots, "at least 1 and no more than its boards");
    }
    let recipes = crossing(&wish.settings)?;
    not_too_many(recipes.len() * wish.boards as usize)?;
    let mut notes = missing(&wish.about);
    if wish.boards < LEAST_STAIRS.0 || wish.pots < LEAST_STAIRS.1 {
        notes.push(Note::new(
            "few-stairs",
            "size",
            "Stair boards say little below three boards from two pots of each recipe: one board may be odd, one pot may be unlucky. Make \
             three boards from two pots.",
        ));
    }
    let days = wish.days.min(wish.pots);
    if days < wish.days {
        notes.push(Note::new(
            "fewer-days",
            "size",
            format!("Each recipe has {days} pots, so it can stand on {days} days; with {} pots it could use all.", wish.days),
        ));
    }
    let mut pots = 0;
    let mut wanted = Vec::new();
    for (first, recipe) in recipes.iter().enumerate() {
        for board in 0..wish.boards {
            let pot = board % wish.pots;
            let mut one = Wanted::recipe(pot % days + 1, pots + pot as usize, recipe.clone());
            // Turned in turn within each pot, and the next pot begins the other way.
            one.strips = steps(wish.strips, (board / wish.pots + pot + u32::from(first % 2 == 1)) % 2 == 1);
            wanted.push(one);
        }
        pots += wish.pots as usize;
    }
    let plan = finish(
        Finish { about: &wish.about, settings: &wish.settings, ready: Ready::StairBoard, seed, notes },
        wanted,
        days,
        pots,
        shuffled,
    )?;
    Ok(stepped(plan, wish.strips))
}

/// Controls are stairs too: else nothing on them could be held against the others.
fn stepped(mut plan: Plan, strips: u32) -> Plan {
    let controls = plan.boards.iter_mut().filter(|board| board.kind != BoardKind::Recipe);
    for (at, board) in controls.enumerate() {
        board.strips = steps(strips, at % 2 == 1);
    }
    plan
}

/// Two settings of two, such as powder and binder, in sittings; in each sitting every recipe from its own small pot on one board.
#[derive(Debug, Clone, PartialEq)]
pub struct TwoByTwoWish {
    /// Question, better, controls, sheets, losses. A yardstick and a witness are taken as told.
    pub about: About,
    /// The first setting, with two kinds or values.
    pub first: Setting,
    /// The second.
    pub second: Setting,
    /// Sittings, from 2.
    pub sittings: u32,
    /// Strips, if every board is to be a stair.
    pub strips: Option<u32>,
}

/// Plans it: 4 recipe boards a sitting. Every second sitting goes through the recipes in reversed order, so that no recipe is always
/// early.
///
/// # Errors
/// A setting without two kinds or values, fewer than two sittings, names that clash.
///
/// ```
/// use trials::plan::{About, Per, Setting, TwoByTwoWish, Value, two_by_two};
/// let two = |name: &str, a: &str, b: &str| Setting {
///     name: name.into(),
///     levels: vec![Value::Kind(a.into()), Value::Kind(b.into())],
///     per: Per::Batch,
/// };
/// let wish = TwoByTwoWish {
///     about: About::default(),
///     first: two("powder", "chalk", "gypsum"),
///     second: two("binder", "little", "much"),
///     sittings: 2,
///     strips: None,
/// };
/// assert_eq!(two_by_two(&wish, 1)?.recipe_boards().count(), 8);
/// # Ok::<(), trials::plan::PlanError>(())
/// ```
pub fn two_by_two(wish: &TwoByTwoWish, seed: u64) -> Result<Plan, PlanError> {
    let settings = [wish.first.clone(), wish.second.clone()].map(|setting| Setting { per: Per::Batch, ..setting });
    for setting in &settings {
        if setting.levels.len() != 2 {
            return Err(PlanError::NotTwoByTwo(format!("`{}` with {}", setting.name, setting.levels.len())));
        }
    }
    check(&settings, &wish.about, wish.sittings)?;
    if wish.sittings < 2 {
        return Err(PlanError::OutOfRange {
            what: "the number of sittings",
            found: wish.sittings.to_string(),
            wanted: "2 or more, or nothing is made twice",
        });
    }
    if let Some(strips) = wish.strips.filter(|strips| !(2..=9).contains(strips)) {
        return Err(PlanError::OutOfRange { what: "the number of strips", found: strips.to_string(), wanted: "2 to 9" });
    }
    let recipes = crossing(&settings)?;
    let mut pots = 0;
    let mut wanted = Vec::new();
    for sitting in 1..=wish.sittings {
        for (at, recipe) in recipes.iter().enumerate() {
            let mut one = Wanted::recipe(sitting, pots, recipe.clone());
            one.strips = wish.strips.map(|strips| steps(strips, (at + sitting as usize) % 2 == 1)).unwrap_or_default();
            wanted.push(one);
            pots += 1;
        }
    }
    let notes = missing(&wish.about);
    let plan = finish(
        Finish { about: &wish.about, settings: &settings, ready: Ready::TwoByTwo, seed, notes },
        wanted,
        wish.sittings,
        pots,
        reversed_in_turn,
    )?;
    Ok(match wish.strips {
        Some(strips) => stepped(plan, strips),
        None => plan,
    })
}

/// Coats on the strips from left to right.
fn steps(strips: u32, turned: bool) -> Vec<u32> {
    if turned { (1..=strips).rev().collect() } else { (1..=strips).collect() }
}

/// What both ready trials hand on.
struct Finish<'w> {
    about: &'w About,
    settings: &'w [Setting],
    ready: Ready,
    seed: u64,
    notes: Vec<Note>,
}

fn finish(
    made: Finish<'_>,
    mut wanted: Vec<Wanted>,
    days: u32,
    mut pots: usize,
    order: impl FnOnce(Vec<Wanted>, &mut Chance) -> Vec<Wanted>,
) -> Result<Plan, PlanError> {
    let all_days: Vec<u32> = (1..=days).collect();
    wanted.extend(controls(&made.about.controls, &all_days, made.about.sheets.unwrap_or(1), &mut pots));
    not_too_many(wanted.len())?;
    let strips = wanted.iter().map(|board| board.strips.len()).max().unwrap_or(0);
    // The yardstick is a stair as well: it brackets its own threshold beside the others.
    for (at, board) in wanted.iter_mut().filter(|board| board.kind == BoardKind::Yardstick).enumerate() {
        if strips > 0 {
            board.strips = steps(u32::try_from(strips).unwrap_or(5), at % 2 == 1);
        }
    }
    let mut chance = Chance::new(made.seed);
    let boards = numbered(order(wanted, &mut chance), made.settings, made.about.sheets, &mut chance);
    Ok(Plan {
        question: made.about.question.clone(),
        better: made.about.better.clone(),
        ready: made.ready,
        seed: made.seed,
        order_drawn: true,
        parts: Vec::new(),
        shape: Shape::Linear,
        settings: made.settings.to_vec(),
        controls: made.about.controls.clone(),
        batch_spread: made.about.batch_spread,
        spares: spares(boards.len(), made.about.loss),
        boards,
        notes: made.notes,
    })
}

/// Odd sittings in drawn order, even ones in the order of the sitting before, from its end.
fn reversed_in_turn(wanted: Vec<Wanted>, chance: &mut Chance) -> Vec<Wanted> {
    let mut sittings: BTreeMap<u32, Vec<Wanted>> = BTreeMap::new();
    for board in wanted {
        sittings.entry(board.day).or_default().push(board);
    }
    let mut out = Vec::new();
    let mut before: Vec<(BoardKind, BTreeMap<String, Value>)> = Vec::new();
    for (sitting, mut boards) in sittings {
        let known = |board: &Wanted| (board.kind, board.settings.clone());
        if sitting % 2 == 1 {
            chance.shuffle(&mut boards);
            before = boards.iter().map(known).collect();
        } else {
            // What the sitting before did not have goes last.
            boards.sort_by_key(|board| before.iter().rev().position(|earlier| *earlier == known(board)).unwrap_or(usize::MAX));
        }
        out.extend(boards);
    }
    out
}
