//! Every setting with every other, over days and pots.

use statistics::Chance;

use super::draft::{About, Wanted, check, controls, crossing, missing, not_too_many, numbered, shuffled, spares};
use super::error::PlanError;
use super::model::{Note, Per, Plan, Ready, Setting, Shape};

/// A trial in which every setting comes with every other.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct CrossedWish {
    /// Question, better, controls, sheets, losses.
    pub about: About,
    /// At least one setting.
    pub settings: Vec<Setting>,
    /// Boards with a recipe; one of each combination a day if not said.
    pub boards: Option<u32>,
    /// Boards that one pot coats; one of each combination of the settings per board if not said.
    pub boards_per_batch: Option<u32>,
    /// Days, from 1.
    pub days: u32,
}

/// Plans it: each combination equally often, each recipe on every day, from pots of its own.
///
/// # Errors
/// No setting, names that clash, fewer boards than combinations, more than 2000 boards.
///
/// ```
/// use trials::plan::{CrossedWish, Per, Setting, Value, crossed};
/// let kinds = |kinds: &[&str]| kinds.iter().map(|kind| Value::Kind((*kind).to_owned())).collect();
/// let powder = Setting { name: "powder".into(), levels: kinds(&["chalk", "gypsum"]), per: Per::Batch };
/// let plan = crossed(&CrossedWish { settings: vec![powder], days: 2, ..CrossedWish::default() }, 1)?;
/// assert_eq!(plan.boards.len(), 4);
/// # Ok::<(), trials::plan::PlanError>(())
/// ```
pub fn crossed(wish: &CrossedWish, seed: u64) -> Result<Plan, PlanError> {
    if wish.settings.is_empty() {
        return Err(PlanError::NothingToCompare);
    }
    check(&wish.settings, &wish.about, wish.days)?;
    let recipes = crossing(wish.settings.iter().filter(|setting| setting.per == Per::Batch))?;
    let on_boards = crossing(wish.settings.iter().filter(|setting| setting.per == Per::Board))?;
    let each = recipes.len() * on_boards.len();
    not_too_many(each)?;
    let asked = wish.boards.map_or(each * wish.days as usize, |boards| boards as usize);
    if asked < each {
        return Err(PlanError::TooFewBoards { boards: asked, needed: each });
    }
    not_too_many(asked)?;
    let mut notes = missing(&wish.about);
    let repeats = asked / each;
    if asked > repeats * each {
        notes.push(Note::new(
            "boards-left",
            "size",
            format!(
                "{asked} boards don't divide into {each} combinations: {} are planned and {} are left over. Keep those as spares, or ask \
                 for {} boards.",
                repeats * each,
                asked - repeats * each,
                (repeats + 1) * each
            ),
        ));
    }
    let days = wish.days.min(u32::try_from(repeats).unwrap_or(u32::MAX));
    if days < wish.days {
        notes.push(Note::new(
            "fewer-days",
            "size",
            format!(
                "{} days were asked for, and {asked} boards put every recipe on {days}. A recipe that misses a day can't be told from \
                 that day, so the plan keeps to {days}; ask for {} boards to use all.",
                wish.days,
                each * wish.days as usize
            ),
        ));
    }
    let per_pot = wish.boards_per_batch.map_or(on_boards.len(), |boards| boards as usize).max(1);
    let mut pots = 0;
    let mut wanted = Vec::new();
    for day in 1..=days {
        let today = repeats / days as usize + usize::from((day as usize) <= repeats % days as usize);
        for recipe in &recipes {
            // Combinations in turn, so that a pot carries as many different ones as it can.
            let boards: Vec<_> = std::iter::repeat_n(&on_boards, today).flatten().collect();
            for pot in boards.chunks(per_pot) {
                wanted.extend(pot.iter().map(|on_board| {
                    let mut settings = recipe.clone();
                    settings.extend((*on_board).clone());
                    Wanted::recipe(day, pots, settings)
                }));
                pots += 1;
            }
        }
    }
    let all_days: Vec<u32> = (1..=days).collect();
    wanted.extend(controls(&wish.about.controls, &all_days, wish.about.sheets.unwrap_or(1), &mut pots));
    not_too_many(wanted.len())?;
    let mut chance = Chance::new(seed);
    let boards = numbered(shuffled(wanted, &mut chance), &wish.settings, wish.about.sheets, &mut chance);
    Ok(Plan {
        question: wish.about.question.clone(),
        better: wish.about.better.clone(),
        ready: Ready::Crossed,
        seed,
        order_drawn: true,
        parts: Vec::new(),
        shape: Shape::Linear,
        settings: wish.settings.clone(),
        controls: wish.about.controls.clone(),
        batch_spread: wish.about.batch_spread,
        spares: spares(boards.len(), wish.about.loss),
        boards,
        notes,
    })
}
