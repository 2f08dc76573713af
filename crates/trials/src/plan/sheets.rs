//! Which board is cut from which sheet of wood.

use std::collections::BTreeMap;

use statistics::{Chance, Columns, correlations};

use super::factors::{DAY, Factor, Facts, SHEET, facts};
use super::model::{BoardKind, PlannedBoard, Setting};

/// How many ways to deal are tried. Model choice: more hardly find a better one for trials of a studio's size.
const TRIES: usize = 60;

/// Deals boards to `sheets` sheets, each recipe as evenly as it goes, controls in turn; of several ways to deal, the one in which sheets
/// go least with a setting or a day.
pub(super) fn deal(boards: &mut [PlannedBoard], settings: &[Setting], sheets: u32, chance: &mut Chance) {
    let mut best: Option<(f64, Vec<String>)> = None;
    for _ in 0..TRIES {
        let dealt = once(boards, sheets, chance);
        for (board, sheet) in boards.iter_mut().zip(&dealt) {
            board.sheet = Some(sheet.clone());
        }
        let worst = leaning(boards, settings);
        if best.as_ref().is_none_or(|(least, _)| worst < least - 1e-9) {
            best = Some((worst, dealt));
        }
        if worst < 1e-9 {
            break;
        }
    }
    for (board, sheet) in boards.iter_mut().zip(best.map(|(_, dealt)| dealt).unwrap_or_default()) {
        board.sheet = Some(sheet);
    }
}

/// One way to deal: recipe after recipe in random order, sheets in turn. A sheet asked for beforehand stays.
fn once(boards: &[PlannedBoard], sheets: u32, chance: &mut Chance) -> Vec<String> {
    let mut groups: BTreeMap<String, Vec<usize>> = BTreeMap::new();
    for (at, board) in boards.iter().enumerate() {
        let kind = match board.kind {
            BoardKind::Recipe => "",
            BoardKind::Yardstick => "yardstick",
            BoardKind::Witness => "witness",
        };
        groups.entry(format!("{kind}{}", recipe_key(board))).or_default().push(at);
    }
    let mut groups: Vec<Vec<usize>> = groups.into_values().collect();
    chance.shuffle(&mut groups);
    let mut order: Vec<u32> = (1..=sheets).collect();
    let mut dealt = vec![String::new(); boards.len()];
    let mut next = 0;
    for mut group in groups {
        chance.shuffle(&mut group);
        for at in group {
            if next % order.len().max(1) == 0 {
                chance.shuffle(&mut order);
            }
            let sheet = order.get(next % order.len().max(1)).copied().unwrap_or(1);
            next += 1;
            if let Some(slot) = dealt.get_mut(at) {
                *slot = sheet.to_string();
            }
        }
    }
    dealt
}

/// Settings and shares of a board as one text.
pub(super) fn recipe_key(board: &PlannedBoard) -> String {
    let settings = board.settings.iter().map(|(name, value)| format!("{name}={value};"));
    let shares = board.shares.iter().map(|(name, share)| format!("{name}~{share};"));
    settings.chain(shares).collect()
}

/// The largest correlation of a sheet's column with a setting or a day, plus what recipes lack of an even deal.
fn leaning(boards: &[PlannedBoard], settings: &[Setting]) -> f64 {
    let recipes: Vec<&PlannedBoard> = boards.iter().filter(|board| board.kind == BoardKind::Recipe).collect();
    let known: Vec<Facts> = recipes.iter().map(|board| facts(board)).collect();
    let Some(sheet) = Factor::group(SHEET, &known) else { return 0.0 };
    let mut worst = uneven(&recipes);
    let sheet = sheet.columns(&known);
    let others = settings.iter().filter_map(|setting| Factor::setting(setting, &known)).chain(Factor::group(DAY, &known));
    for other in others {
        let count = sheet.len();
        let all = sheet.iter().cloned().chain(other.columns(&known)).collect();
        let Ok(columns) = Columns::new(all) else { continue };
        let table = correlations(&columns);
        let beside = table.iter().take(count).flat_map(|row| row.iter().skip(count)).flatten();
        worst = beside.fold(worst, |worst, r| worst.max(r.abs()));
    }
    worst
}

/// How far the fullest and the emptiest sheet of a recipe lie apart beyond one board; whole boards count more than any leaning.
fn uneven(recipes: &[&PlannedBoard]) -> f64 {
    let mut sheets: Vec<&String> = recipes.iter().filter_map(|board| board.sheet.as_ref()).collect();
    sheets.sort();
    sheets.dedup();
    let mut counts: BTreeMap<String, BTreeMap<&String, u32>> = BTreeMap::new();
    for board in recipes {
        let row = counts.entry(recipe_key(board)).or_insert_with(|| sheets.iter().map(|sheet| (*sheet, 0)).collect());
        if let Some(count) = board.sheet.as_ref().and_then(|sheet| row.get_mut(sheet)) {
            *count += 1;
        }
    }
    let spread = |row: &BTreeMap<&String, u32>| {
        let most = row.values().copied().max().unwrap_or(0);
        let least = row.values().copied().min().unwrap_or(0);
        f64::from((most - least).saturating_sub(1))
    };
    counts.values().map(spread).fold(0.0, f64::max)
}
