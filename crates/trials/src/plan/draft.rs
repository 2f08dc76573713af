//! From boards that are wanted to boards in turn: order, letters of pots, numbers, places, sheets, spares.

use std::collections::{BTreeMap, BTreeSet};

use statistics::{Chance, Columns, correlations};

use super::error::PlanError;
use super::factors::{Factor, Facts};
use super::limits::{MOST_BOARDS, MOST_DAYS, MOST_LEVELS, MOST_NAME, MOST_SETTINGS, TAKEN};
use super::model::{Better, BoardKind, Control, Job, Note, Often, PlannedBoard, Setting, Value};
use super::sheets;

/// How many draws of places are looked at. Model choice.
const PLACE_DRAWS: usize = 20;

/// What every wish holds besides its boards.
#[derive(Debug, Clone, PartialEq)]
pub struct About {
    /// What the painter wants to know; may be empty.
    pub question: String,
    /// What counts as better.
    pub better: Option<Better>,
    /// Controls.
    pub controls: Vec<Control>,
    /// Sheets of wood that the boards are cut from; `None` if that is not asked.
    pub sheets: Option<u32>,
    /// Share of boards that is lost to accidents, 0 to 0.9.
    pub loss: f64,
    /// Variance between pots over variance between boards of one pot.
    pub batch_spread: f64,
}

impl Default for About {
    fn default() -> Self {
        Self { question: String::new(), better: None, controls: Vec::new(), sheets: None, loss: 0.0, batch_spread: 1.0 }
    }
}

/// Which pot a board is coated from.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Pot {
    /// As typed.
    Named(String),
    /// Numbered; its letter comes later.
    Fresh(usize),
}

/// A board that is wanted, before it has a turn.
#[derive(Debug, Clone)]
pub(super) struct Wanted {
    pub(super) id: Option<String>,
    pub(super) day: u32,
    pub(super) pot: Pot,
    pub(super) sheet: Option<String>,
    pub(super) place: Option<u32>,
    pub(super) kind: BoardKind,
    pub(super) settings: BTreeMap<String, Value>,
    pub(super) shares: BTreeMap<String, f64>,
    pub(super) strips: Vec<u32>,
}

impl Wanted {
    pub(super) fn recipe(day: u32, pot: usize, settings: BTreeMap<String, Value>) -> Self {
        Self {
            id: None,
            day,
            pot: Pot::Fresh(pot),
            sheet: None,
            place: None,
            kind: BoardKind::Recipe,
            settings,
            shares: BTreeMap::new(),
            strips: Vec::new(),
        }
    }
}

/// Boards of the controls, each time from a pot of their own. `pots` counts the fresh pots so far.
pub(super) fn controls(controls: &[Control], days: &[u32], sheets: u32, pots: &mut usize) -> Vec<Wanted> {
    let mut out = Vec::new();
    for control in controls {
        let kind = match control.job {
            Job::Yardstick => BoardKind::Yardstick,
            Job::Witness => BoardKind::Witness,
        };
        let times: Vec<(u32, Option<u32>)> = match control.per {
            Often::Day => days.iter().map(|day| (*day, None)).collect(),
            Often::Trial => days.iter().take(1).map(|day| (*day, None)).collect(),
            Often::Sheet => (1..=sheets).zip(days.iter().cycle()).map(|(sheet, day)| (*day, Some(sheet))).collect(),
        };
        for (day, sheet) in times {
            let pot = *pots;
            *pots += 1;
            for _ in 0..control.boards {
                let mut wanted = Wanted::recipe(day, pot, BTreeMap::new());
                wanted.kind = kind;
                wanted.sheet = sheet.map(|sheet| sheet.to_string());
                out.push(wanted);
            }
        }
    }
    out
}

/// Two-step random order: days in turn, pots shuffled within the day, boards within the pot.
pub(super) fn shuffled(wanted: Vec<Wanted>, chance: &mut Chance) -> Vec<Wanted> {
    let mut days: BTreeMap<u32, BTreeMap<Pot, Vec<Wanted>>> = BTreeMap::new();
    for board in wanted {
        days.entry(board.day).or_default().entry(board.pot.clone()).or_default().push(board);
    }
    let mut out = Vec::new();
    for pots in days.into_values() {
        let mut pots: Vec<Vec<Wanted>> = pots.into_values().collect();
        chance.shuffle(&mut pots);
        for mut boards in pots {
            chance.shuffle(&mut boards);
            out.extend(boards);
        }
    }
    out
}

/// Gives boards, already in turn, their letters, numbers, places and sheets.
pub(super) fn numbered(wanted: Vec<Wanted>, settings: &[Setting], sheets: Option<u32>, chance: &mut Chance) -> Vec<PlannedBoard> {
    let mut letters = Letters::beside(&wanted);
    let mut ids: BTreeSet<String> = wanted.iter().filter_map(|board| board.id.clone()).collect();
    let width = wanted.len().to_string().len().max(2);
    let mut number = 0;
    let places = places(&wanted, settings, chance);
    let mut boards: Vec<PlannedBoard> = Vec::new();
    for ((board, place), order) in wanted.into_iter().zip(places).zip(1..) {
        let id = board.id.unwrap_or_else(|| {
            loop {
                number += 1;
                let id = format!("{number:0width$}");
                if ids.insert(id.clone()) {
                    break id;
                }
            }
        });
        boards.push(PlannedBoard {
            id,
            day: board.day,
            batch: letters.of(board.pot),
            sheet: board.sheet,
            order,
            place,
            kind: board.kind,
            settings: board.settings,
            shares: board.shares,
            strips: board.strips,
        });
    }
    if let Some(sheets) = sheets.filter(|sheets| *sheets > 1) {
        let asked: Vec<Option<String>> = boards.iter().map(|board| board.sheet.clone()).collect();
        sheets::deal(&mut boards, settings, sheets, chance);
        // A control that belongs to a sheet stays on it.
        for (board, asked) in boards.iter_mut().zip(asked) {
            if asked.is_some() {
                board.sheet = asked;
            }
        }
    } else if sheets == Some(1) {
        for board in &mut boards {
            board.sheet.get_or_insert_with(|| "1".to_owned());
        }
    }
    boards
}

/// Places on the shelf: as typed if every board has one, else drawn within each day; of several draws the one in which no setting keeps
/// to one end of the shelf. The rule stands beforehand, so no draw is chosen for its looks.
fn places(wanted: &[Wanted], settings: &[Setting], chance: &mut Chance) -> Vec<u32> {
    if let Some(typed) = wanted.iter().map(|board| board.place).collect::<Option<Vec<u32>>>() {
        return typed;
    }
    let mut best: Option<(f64, Vec<u32>)> = None;
    for _ in 0..PLACE_DRAWS {
        let drawn = drawn_places(wanted, chance);
        let worst = one_sided(wanted, settings, &drawn);
        if best.as_ref().is_none_or(|(least, _)| worst < least - 1e-9) {
            best = Some((worst, drawn));
        }
    }
    best.map(|(_, drawn)| drawn).unwrap_or_default()
}

fn drawn_places(wanted: &[Wanted], chance: &mut Chance) -> Vec<u32> {
    let mut free: BTreeMap<u32, Vec<u32>> = BTreeMap::new();
    for board in wanted {
        let places = free.entry(board.day).or_default();
        places.push(u32::try_from(places.len()).unwrap_or(u32::MAX).saturating_add(1));
    }
    for places in free.values_mut() {
        chance.shuffle(places);
    }
    wanted.iter().map(|board| free.get_mut(&board.day).and_then(Vec::pop).unwrap_or(1)).collect()
}

/// The largest correlation of a setting with the place, over recipe boards.
fn one_sided(wanted: &[Wanted], settings: &[Setting], places: &[u32]) -> f64 {
    let recipes: Vec<(&Wanted, u32)> =
        wanted.iter().zip(places.iter().copied()).filter(|(board, _)| board.kind == BoardKind::Recipe).collect();
    let known: Vec<Facts> = recipes.iter().map(|(board, _)| board.settings.clone()).collect();
    let place: Vec<f64> = recipes.iter().map(|(_, place)| f64::from(*place)).collect();
    let factors = settings.iter().filter_map(|setting| Factor::setting(setting, &known));
    factors.map(|factor| most_alike(&factor.columns(&known), &place)).fold(0.0, f64::max)
}

/// The largest correlation, without its sign, of any of the columns with one more.
pub(super) fn most_alike(columns: &[Vec<f64>], other: &[f64]) -> f64 {
    let all = columns.iter().cloned().chain([other.to_vec()]).collect();
    let Ok(all) = Columns::new(all) else { return 0.0 };
    let table = correlations(&all);
    table.iter().take(columns.len()).filter_map(|row| row.last().copied().flatten()).fold(0.0, |most, r| most.max(r.abs()))
}

/// Letters for pots, in the order in which they come up: A to Z, then AA, AB and so on.
struct Letters {
    taken: BTreeSet<String>,
    given: BTreeMap<Pot, String>,
    next: usize,
}

impl Letters {
    fn beside(wanted: &[Wanted]) -> Self {
        let taken = wanted
            .iter()
            .filter_map(|board| match &board.pot {
                Pot::Named(name) => Some(name.clone()),
                Pot::Fresh(_) => None,
            })
            .collect();
        Self { taken, given: BTreeMap::new(), next: 0 }
    }

    fn of(&mut self, pot: Pot) -> String {
        if let Pot::Named(name) = pot {
            return name;
        }
        if let Some(letter) = self.given.get(&pot) {
            return letter.clone();
        }
        let letter = loop {
            let letter = letter(self.next);
            self.next += 1;
            if !self.taken.contains(&letter) {
                break letter;
            }
        };
        self.given.insert(pot, letter.clone());
        letter
    }
}

fn letter(mut number: usize) -> String {
    let mut out = Vec::new();
    loop {
        out.push(char::from(b'A' + u8::try_from(number % 26).unwrap_or(0)));
        if number < 26 {
            break;
        }
        number = number / 26 - 1;
    }
    out.iter().rev().collect()
}

/// How many boards to cut besides, so that `boards` are left when the share `loss` of all is spoilt.
pub(super) fn spares(boards: usize, loss: f64) -> u32 {
    let needed = boards as f64 / (1.0 - loss.clamp(0.0, 0.9));
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a plan has at most 2000 boards")]
    let cut = (needed - 1e-9).ceil().max(0.0) as u32;
    cut.saturating_sub(u32::try_from(boards).unwrap_or(u32::MAX))
}

/// What is missing for a fair trial, whatever its plan.
pub(super) fn missing(about: &About) -> Vec<Note> {
    let mut notes = Vec::new();
    if about.question.is_empty() {
        notes.push(Note::new("no-question", "question", "The trial asks nothing yet. Say in one sentence what the boards are to answer."));
    }
    if about.better.is_none() {
        notes.push(Note::new(
            "no-better",
            "better",
            "It is not said what counts as better. Say it before the first reading, or the readings will choose for you: \
             better = { measure = \"cracking\", way = \"smaller\" }.",
        ));
    }
    let yardsticks: u32 = about.controls.iter().filter(|control| control.job == Job::Yardstick).map(|control| control.boards).sum();
    if yardsticks == 0 {
        notes.push(Note::new(
            "no-yardstick",
            "control",
            "There is no yardstick: when all boards crack, nothing says whether it was the recipes or the day. Add a known ground of the \
             same family on every day: control = [{ name = \"known ground\", job = \"yardstick\", per = \"day\" }].",
        ));
    }
    notes
}

/// Names and sizes of a wish that came from a page.
pub(super) fn check(settings: &[Setting], about: &About, days: u32) -> Result<(), PlanError> {
    let out = |what, found: String, wanted| Err(PlanError::OutOfRange { what, found, wanted });
    if settings.len() > MOST_SETTINGS {
        return out("the number of settings", settings.len().to_string(), "at most 12");
    }
    let mut known = BTreeSet::new();
    for setting in settings {
        let name = &setting.name;
        let odd = name.trim().is_empty() || name.chars().count() > MOST_NAME || TAKEN.contains(&name.as_str());
        if odd || !known.insert(name) {
            return Err(PlanError::Name(name.chars().take(MOST_NAME).collect()));
        }
        let mut levels = setting.levels.clone();
        levels.dedup();
        let doubled = levels.iter().enumerate().any(|(at, level)| levels.iter().skip(at + 1).any(|other| other == level));
        let mixed = !setting.is_numeric() && levels.iter().any(|level| matches!(level, Value::Number(_)));
        let endless = levels.iter().any(|level| matches!(level, Value::Number(number) if !number.is_finite()));
        if setting.levels.len() < 2
            || setting.levels.len() > MOST_LEVELS
            || levels.len() < setting.levels.len()
            || doubled
            || mixed
            || endless
        {
            return Err(PlanError::Levels(name.clone()));
        }
    }
    if !(1..=MOST_DAYS).contains(&days) {
        return out("the number of days", days.to_string(), "1 to 366");
    }
    if !(0.0..=0.9).contains(&about.loss) {
        return out("the share of boards lost", about.loss.to_string(), "0 to 0.9");
    }
    if !(0.0..=1e6).contains(&about.batch_spread) {
        return out("the spread between pots", about.batch_spread.to_string(), "0 or more");
    }
    if about.sheets == Some(0) || about.sheets.is_some_and(|sheets| sheets as usize > MOST_BOARDS) {
        return out("the number of sheets", about.sheets.unwrap_or(0).to_string(), "1 to 2000");
    }
    Ok(())
}

/// Every kind or value of each setting with every one of the others; one empty entry without settings.
pub(super) fn crossing<'s>(settings: impl IntoIterator<Item = &'s Setting>) -> Result<Vec<BTreeMap<String, Value>>, PlanError> {
    let mut out = vec![BTreeMap::new()];
    for setting in settings {
        let boards = out.len() * setting.levels.len();
        if boards > MOST_BOARDS {
            return Err(PlanError::TooManyBoards { boards, most: MOST_BOARDS });
        }
        out = out
            .into_iter()
            .flat_map(|row| {
                setting.levels.iter().map(move |level| {
                    let mut row = row.clone();
                    row.insert(setting.name.clone(), level.clone());
                    row
                })
            })
            .collect();
    }
    Ok(out)
}

/// Refuses a plan that is too big to handle.
pub(super) fn not_too_many(boards: usize) -> Result<(), PlanError> {
    if boards > MOST_BOARDS { Err(PlanError::TooManyBoards { boards, most: MOST_BOARDS }) } else { Ok(()) }
}
