//! From a trial file to a plan.

use statistics::Chance;

use super::crossed::{CrossedWish, crossed};
use super::draft::{About, Pot, Wanted, controls, missing, not_too_many, numbered, shuffled, spares};
use super::error::PlanError;
use super::model::{BoardKind, Job, Note, Part, PartKind, Per, Plan, Ready};
use super::ready::{StairWish, TwoByTwoWish, stair, two_by_two};
use super::text::{Limit, Limited, TrialText, TypedBoard};

/// The seed of a trial that names none. Any would do; this one is always the same.
pub const USUAL_SEED: u64 = 1;

/// The plan of a trial file: its boards if it types any, else a ready trial or every setting with every other. `seed` goes before the
/// seed in the file.
///
/// # Errors
/// Parts without boards (choosing blends is not built), nothing to compare, too few or too many boards.
///
/// ```
/// use trials::plan::{TrialText, typed};
/// let text = TrialText::parse("trial = 1\nsetting = [{ name = \"coats\", values = [2, 3], per = \"board\" }]\nsize = { days = 2 }\n")?;
/// assert_eq!(typed(&text, None)?.boards.len(), 4);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn typed(text: &TrialText, seed: Option<u64>) -> Result<Plan, PlanError> {
    let seed = seed.or(text.seed).unwrap_or(USUAL_SEED);
    if !text.boards.is_empty() {
        return as_typed(text, seed);
    }
    if !text.parts.is_empty() {
        return Err(PlanError::BlendsNotChosen);
    }
    let about = about(text);
    let settings = text.settings.clone();
    match text.ready {
        Some(Ready::TwoByTwo) => {
            let [first, second] = settings.as_slice() else {
                return Err(PlanError::NotTwoByTwo(format!("{} settings", settings.len())));
            };
            let sittings = text.size.days.unwrap_or(2);
            two_by_two(&TwoByTwoWish { about, first: first.clone(), second: second.clone(), sittings, strips: text.strips }, seed)
        }
        Some(Ready::StairBoard) => {
            let recipes = settings.iter().map(|setting| setting.levels.len()).product::<usize>().max(1);
            let usual = StairWish::default();
            let boards = match text.size.boards {
                Some(boards) if (boards as usize) < recipes => {
                    return Err(PlanError::TooFewBoards { boards: boards as usize, needed: recipes });
                }
                Some(boards) => u32::try_from(boards as usize / recipes).unwrap_or(1),
                None => usual.boards,
            };
            let pots = text.size.boards_per_batch.map_or(usual.pots, |per_pot| boards.div_ceil(per_pot)).min(boards);
            let days = text.size.days.unwrap_or(usual.days.min(pots));
            stair(&StairWish { about, settings, boards, pots, days, strips: text.strips.unwrap_or(usual.strips) }, seed)
        }
        _ => {
            let (boards, boards_per_batch) = (text.size.boards, text.size.boards_per_batch);
            crossed(&CrossedWish { about, settings, boards, boards_per_batch, days: text.size.days.unwrap_or(1) }, seed)
        }
    }
}

fn about(text: &TrialText) -> About {
    About {
        question: text.question.clone(),
        better: text.better.clone(),
        controls: text.controls.clone(),
        sheets: text.size.sheets,
        loss: text.size.loss,
        batch_spread: text.size.batch_spread,
    }
}

fn as_typed(text: &TrialText, seed: u64) -> Result<Plan, PlanError> {
    let about = about(text);
    let mut notes = missing(&about);
    let typed_controls = text.boards.iter().any(|board| board.job.is_some());
    if typed_controls && text.boards.iter().any(|board| board.job == Some(Job::Yardstick)) {
        notes.retain(|note| note.id != "no-yardstick");
    }
    let mut pots = 0;
    let mut wanted: Vec<Wanted> = text.boards.iter().map(|board| as_wanted(board, &mut pots)).collect();
    let recipes = wanted.iter().filter(|board| board.kind == BoardKind::Recipe).count();
    if recipes == 0 {
        return Err(PlanError::NothingToCompare);
    }
    if let Some(asked) = text.size.boards.filter(|asked| *asked as usize != recipes) {
        notes.push(Note::new(
            "boards-typed",
            "size",
            format!(
                "The trial asks for {asked} boards and types {recipes}; the typed ones are planned. Type the rest, or mend the number."
            ),
        ));
    }
    if !text.found_settings.is_empty() {
        notes.push(Note::new(
            "settings-found",
            "setting",
            format!(
                "No setting is listed, so what stands on the boards was taken: {}. List them under setting, and a slip of the pen is \
                 found.",
                text.found_settings.join(", ")
            ),
        ));
    }
    notes.extend(outside(text));
    notes.extend(mixed_pots(text));
    // Controls are either typed with the boards or laid out here, never both.
    if !typed_controls {
        let mut days: Vec<u32> = wanted.iter().map(|board| board.day).collect();
        days.sort_unstable();
        days.dedup();
        wanted.extend(controls(&text.controls, &days, text.size.sheets.unwrap_or(1), &mut pots));
    }
    not_too_many(wanted.len())?;
    let orders: Option<Vec<u32>> = text.boards.iter().map(|board| board.order).collect();
    let mut chance = Chance::new(seed);
    let (wanted, order_drawn) = match orders {
        Some(orders) if orders.len() == wanted.len() => {
            let mut turns: Vec<(u32, Wanted)> = orders.into_iter().zip(wanted).collect();
            turns.sort_by_key(|(order, _)| *order);
            (turns.into_iter().map(|(_, board)| board).collect(), false)
        }
        _ => (shuffled(wanted, &mut chance), true),
    };
    let any_order = text.boards.iter().any(|board| board.order.is_some());
    if any_order && order_drawn {
        notes.push(Note::new(
            "order-drawn",
            "board",
            "Only some boards say their turn, so the order was drawn for all. Say order on every board, controls too, or on none.",
        ));
    }
    let dealt = text.boards.iter().all(|board| board.sheet.is_none());
    let boards = numbered(wanted, &text.settings, text.size.sheets.filter(|_| dealt), &mut chance);
    Ok(Plan {
        question: about.question,
        better: about.better,
        ready: Ready::Typed,
        seed,
        order_drawn,
        parts: text.parts.clone(),
        shape: text.shape,
        settings: text.settings.clone(),
        controls: about.controls,
        batch_spread: about.batch_spread,
        spares: spares(boards.len(), about.loss),
        boards,
        notes,
    })
}

fn as_wanted(board: &TypedBoard, pots: &mut usize) -> Wanted {
    let pot = board.batch.clone().map_or_else(
        || {
            *pots += 1;
            Pot::Fresh(*pots - 1)
        },
        Pot::Named,
    );
    Wanted {
        id: board.id.clone(),
        day: board.day,
        pot,
        sheet: board.sheet.clone(),
        place: board.place,
        kind: match board.job {
            None => BoardKind::Recipe,
            Some(Job::Yardstick) => BoardKind::Yardstick,
            Some(Job::Witness) => BoardKind::Witness,
        },
        settings: board.settings.clone(),
        shares: board.shares.clone(),
        strips: Vec::new(),
    }
}

/// Boards whose blend lies outside its own bounds or limits. They may exist already, so they are named and not refused.
fn outside(text: &TrialText) -> Vec<Note> {
    let mut notes = Vec::new();
    for board in text.boards.iter().filter(|board| board.job.is_none()) {
        let at = format!("line {}", board.line);
        let called = board.id.clone().map_or_else(|| "A board".to_owned(), |id| format!("Board {id}"));
        for part in &text.parts {
            let share = board.shares.get(&part.name).copied().unwrap_or(0.0);
            if share < part.low - 1e-9 || share > part.high + 1e-9 {
                let text = format!(
                    "{called} has {share} of {}, outside {} to {}. Mend the share, or widen the bounds.",
                    part.name, part.low, part.high
                );
                notes.push(Note::new("outside-bounds", &at, text));
            }
        }
        for limit in &text.limits {
            let Some(value) = limited(limit, &text.parts, board) else { continue };
            let low = limit.at_least.is_some_and(|least| value < least - 1e-9);
            let high = limit.at_most.is_some_and(|most| value > most + 1e-9);
            if low || high {
                let side = if low { "below the least" } else { "above the most" };
                let on = match &limit.of {
                    Limited::PowderShare => "the powder share".to_owned(),
                    Limited::Sum(terms) => terms.keys().cloned().collect::<Vec<_>>().join(" + "),
                };
                let text = format!("{called} lies {side} that the limit on {on} allows. Mend its shares, or the limit.");
                notes.push(Note::new("outside-limit", &at, text));
            }
        }
    }
    // A page of the same complaint helps nobody.
    notes.truncate(20);
    notes
}

/// The value that a limit is on; `None` if a density is missing or there is neither powder nor binder.
fn limited(limit: &Limit, parts: &[Part], board: &TypedBoard) -> Option<f64> {
    let share = |part: &Part| board.shares.get(&part.name).copied().unwrap_or(0.0);
    match &limit.of {
        Limited::Sum(terms) => Some(terms.iter().map(|(name, weight)| weight * board.shares.get(name).copied().unwrap_or(0.0)).sum()),
        Limited::PowderShare => {
            let volume = |kind: PartKind| -> Option<f64> {
                parts.iter().filter(|part| part.kind == kind).map(|part| part.density.map(|density| share(part) / density)).sum()
            };
            let (powder, binder) = (volume(PartKind::Powder)?, volume(PartKind::Binder)?);
            (powder + binder > 0.0).then(|| powder / (powder + binder))
        }
    }
}

/// Pots whose boards differ in something that belongs to the pot.
fn mixed_pots(text: &TrialText) -> Vec<Note> {
    let mut notes = Vec::new();
    let mut seen: Vec<(&str, &TypedBoard)> = Vec::new();
    for board in text.boards.iter().filter(|board| board.job.is_none()) {
        let Some(batch) = &board.batch else { continue };
        let Some((_, first)) = seen.iter().find(|(known, _)| known == batch) else {
            seen.push((batch, board));
            continue;
        };
        let differs = text.settings.iter().filter(|setting| setting.per == Per::Batch).find(|setting| {
            let name = &setting.name;
            first.settings.get(name) != board.settings.get(name)
        });
        let name = differs.map(|setting| setting.name.as_str()).or_else(|| (first.shares != board.shares).then_some("blend"));
        if let Some(name) = name {
            notes.push(Note::new(
                "mixed-pot",
                &format!("line {}", board.line),
                format!(
                    "Pot {batch} has boards that differ in {name}, which one pot can't. Give them pots of their own, or mend the board."
                ),
            ));
        }
    }
    notes.truncate(20);
    notes
}
