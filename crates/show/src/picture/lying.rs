//! Boards as they lie on the table: which are wet, which may be, which can take the next coat.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::write::plain;

use super::svg::{Svg, escaped, wrapped};

/// The table with its boards.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
pub struct LyingBoards {
    /// The boards.
    pub places: Vec<LyingBoard>,
    /// Boards side by side, counted from the left; four still read well at the width of a phone. Held between 1 and 8.
    pub columns: u32,
}

/// One board on the table.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
pub struct LyingBoard {
    /// Its number in the plan, such as `07`.
    pub number: String,
    /// Place on the table, from 1: row by row from the far left. Boards that share a place, or have none, follow in the free ones.
    pub place: u32,
    /// Coats that each strip is to get, from one end; empty for a board without strips.
    pub strips: Vec<u8>,
    /// How it lies there.
    pub state: LyingState,
    /// Coats that are laid.
    pub coats: u32,
    /// Coats that it is to get.
    pub of: u32,
    /// Some words below it, such as "matt about 11:20 to 12:10"; three short lines have room.
    pub words: String,
}

/// How a board lies there.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum LyingState {
    /// Nothing is laid on it yet.
    #[default]
    Bare,
    /// Still wet.
    Wet,
    /// Perhaps matt by now: the time lies within its doubt.
    Perhaps,
    /// Matt: the next coat may follow.
    Matt,
    /// Hard or done: nothing more is laid on it today.
    Hard,
    /// Spoilt, lost to the day.
    Spoilt,
}

impl LyingState {
    /// All, as the key of the picture lists them.
    pub const ALL: [Self; 6] = [Self::Bare, Self::Wet, Self::Perhaps, Self::Matt, Self::Hard, Self::Spoilt];

    /// The class that a page's script puts in place of another.
    pub const fn class(self) -> &'static str {
        match self {
            Self::Bare => "bare",
            Self::Wet => "wet",
            Self::Perhaps => "perhaps",
            Self::Matt => "matt",
            Self::Hard => "hard",
            Self::Spoilt => "spoilt",
        }
    }

    /// In the painter's words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Bare => "nothing on it yet",
            Self::Wet => "wet",
            Self::Perhaps => "perhaps matt",
            Self::Matt => "matt: next coat",
            Self::Hard => "done, hard",
            Self::Spoilt => "spoilt",
        }
    }

    /// How the face is filled where no style sheet says it: a saved picture, a print.
    const fn face(self) -> &'static str {
        match self {
            Self::Wet => "url(#hatch-wet)",
            Self::Perhaps => "url(#hatch-perhaps)",
            Self::Bare | Self::Matt | Self::Hard | Self::Spoilt => "none",
        }
    }
}

const CELL: (f64, f64) = (92.0, 134.0);
const BOARD: (f64, f64) = (80.0, 58.0);
const EDGE: f64 = 6.0;
/// More boards than one day lays.
const MOST: usize = 120;
/// Coats that still have room as marks; more are written as a number.
const MOST_MARKS: u32 = 8;

/// Draws the table. Each board is a group `<g id="lie-07" class="lie wet">`; a script may put another state's class there.
pub fn lying_picture(view: &LyingBoards) -> String {
    let columns = view.columns.clamp(1, 8) as usize;
    let placed = placed(&view.places);
    let rows = placed.last().map_or(1, |(place, _)| place / columns + 1);
    let width = 2.0 * EDGE + CELL.0 * columns.max(4) as f64;
    let table = 2.0 * EDGE + CELL.1 * rows as f64;
    let key = if columns >= 6 { 1 } else { 2 };
    let height = table + 66.0 + 24.0 * key as f64;
    let mut svg = Svg::new(width, height, &title(&view.places));
    svg.desc(&described(&placed));
    svg.hatching("hatch-wet", 5.0, 2.6);
    svg.hatching("hatch-perhaps", 13.0, 1.4);
    svg.marked("class=\"lq\" rx=\"5\" stroke-width=\"1.2\"", (1.0, 1.0), (width - 2.0, table));
    for (place, board) in &placed {
        let (left, top) = (EDGE + CELL.0 * (place % columns) as f64, EDGE + CELL.1 * (place / columns) as f64);
        one(&mut svg, board, (left + (CELL.0 - BOARD.0) / 2.0, top + 8.0));
    }
    svg.text("q", 13.0, "middle", (width / 2.0, table + 17.0), "the edge of the table where you stand");
    legend(&mut svg, width, table + 34.0, key);
    svg.finish()
}

/// Boards by their place, counted from 0: a place is taken once, who finds it taken or has none goes to the next free one.
fn placed(boards: &[LyingBoard]) -> Vec<(usize, &LyingBoard)> {
    let mut taken: Vec<(usize, &LyingBoard)> = Vec::new();
    let mut homeless: Vec<&LyingBoard> = Vec::new();
    for board in boards.iter().take(MOST) {
        match usize::try_from(board.place).ok().and_then(|place| place.checked_sub(1)).filter(|place| *place < MOST) {
            Some(place) if taken.iter().all(|(other, _)| *other != place) => taken.push((place, board)),
            _ => homeless.push(board),
        }
    }
    for board in homeless {
        if let Some(free) = (0..2 * MOST).find(|place| taken.iter().all(|(other, _)| other != place)) {
            taken.push((free, board));
        }
    }
    taken.sort_by_key(|(place, _)| *place);
    taken
}

fn one(svg: &mut Svg, board: &LyingBoard, (left, top): (f64, f64)) {
    let state = board.state;
    svg.open(&format!("id=\"lie-{}\" class=\"lie {}\"", name(&board.number), state.class()));
    svg.marked("class=\"wood w\"", (left, top), BOARD);
    let laid = if state == LyingState::Bare { " display=\"none\"" } else { "" };
    svg.marked(&format!("class=\"ground a\"{laid}"), (left, top), BOARD);
    svg.marked(&format!("class=\"face\" fill=\"{}\"", state.face()), (left, top), BOARD);
    let strips = board.strips.len().min(8);
    for (at, coats) in board.strips.iter().take(strips).enumerate() {
        let step = BOARD.0 / strips as f64;
        let x = left + step * at as f64;
        if at > 0 {
            svg.line("lq", 1.0, (x, top), (x, top + BOARD.1));
        }
        svg.marked("class=\"p\"", (x + step / 2.0 - 5.0, top + BOARD.1 - 15.0), (10.0, 13.0));
        svg.text("q", 12.0, "middle", (x + step / 2.0, top + BOARD.1 - 4.0), &coats.to_string());
    }
    let thick = if state == LyingState::Hard { "3.4" } else { "1.4" };
    let dash = if state == LyingState::Bare { " stroke-dasharray=\"5 4\"" } else { "" };
    svg.marked(&format!("class=\"rim l\" stroke-width=\"{thick}\"{dash}"), (left, top), BOARD);
    let (right, foot) = (left + BOARD.0, top + BOARD.1);
    let cross = format!("M{left:.1} {top:.1}L{right:.1} {foot:.1}M{right:.1} {top:.1}L{left:.1} {foot:.1}");
    let shown = if state == LyingState::Spoilt { "" } else { " display=\"none\"" };
    svg.drawn(&format!("class=\"cross le\" stroke-width=\"2.4\"{shown}"), &cross);
    // The number stands on paper, so that hatching does not cut through it.
    let number: String = board.number.chars().take(6).collect();
    let patch = 11.0 * number.chars().count() as f64 + 10.0;
    svg.marked("class=\"p\" rx=\"3\"", (left + BOARD.0 / 2.0 - patch / 2.0, top + 10.0), (patch, 26.0));
    svg.text("i s", 21.0, "middle", (left + BOARD.0 / 2.0, top + 30.0), &number);
    coats(svg, board, (left, foot + 6.0));
    for (line, words) in wrapped(&board.words, 15).iter().take(3).enumerate() {
        svg.text("i", 12.5, "start", (left, foot + 32.0 + 14.0 * line as f64), words);
    }
    svg.close();
}

/// A mark for each coat, filled once it is laid.
fn coats(svg: &mut Svg, board: &LyingBoard, (left, top): (f64, f64)) {
    if board.of > MOST_MARKS || board.coats > board.of {
        let words = format!("{} of {} coats", plain(f64::from(board.coats)), plain(f64::from(board.of)));
        svg.text("q", 12.0, "start", (left, top + 9.0), &words);
        return;
    }
    for coat in 0..board.of {
        let x = left + 10.0 * f64::from(coat);
        svg.marked(if coat < board.coats { "class=\"i\"" } else { "class=\"lq\"" }, (x + 0.5, top + 1.0), (6.0, 8.0));
    }
}

fn legend(svg: &mut Svg, width: f64, top: f64, rows: usize) {
    let in_row = LyingState::ALL.len() / rows;
    let step = (width - 2.0 * EDGE) / in_row as f64;
    for (index, state) in LyingState::ALL.into_iter().enumerate() {
        let (x, y) = (EDGE + step * (index % in_row) as f64, top + 24.0 * (index / in_row) as f64);
        svg.rect(if state == LyingState::Bare { "w" } else { "a" }, x, y, 18.0, 14.0);
        svg.marked(&format!("fill=\"{}\"", state.face()), (x, y), (18.0, 14.0));
        let thick = if state == LyingState::Hard { "3" } else { "1.2" };
        let dash = if state == LyingState::Bare { " stroke-dasharray=\"4 3\"" } else { "" };
        svg.marked(&format!("class=\"l\" stroke-width=\"{thick}\"{dash}"), (x, y), (18.0, 14.0));
        if state == LyingState::Spoilt {
            svg.drawn("class=\"le\" stroke-width=\"2\"", &format!("M{x:.1} {y:.1}l18 14m0 -14l-18 14"));
        }
        svg.text("q", 13.0, "start", (x + 24.0, y + 12.0), state.words());
    }
    let foot = top + 24.0 * rows as f64 + 14.0;
    svg.rect("i", EDGE + 0.5, foot - 9.0, 6.0, 8.0);
    svg.marked("class=\"lq\"", (EDGE + 10.5, foot - 9.0), (6.0, 8.0));
    svg.text("q", 13.0, "start", (EDGE + 24.0, foot), "a coat that is laid, one to come");
}

fn title(boards: &[LyingBoard]) -> String {
    let counted: Vec<String> = LyingState::ALL
        .into_iter()
        .filter_map(|state| {
            let count = boards.iter().filter(|board| board.state == state).count();
            (count > 0).then(|| format!("{count} {}", state.words()))
        })
        .collect();
    if counted.is_empty() { "The table is empty.".into() } else { format!("Boards on the table: {}.", counted.join("; ")) }
}

fn described(boards: &[(usize, &LyingBoard)]) -> String {
    let each: Vec<String> = boards
        .iter()
        .map(|(place, board)| {
            let words = if board.words.is_empty() { String::new() } else { format!(", {}", board.words) };
            format!("Place {}: board {}, {}, {} of {} coats{words}", place + 1, board.number, board.state.words(), board.coats, board.of)
        })
        .collect();
    each.join(". ")
}

/// What may stand in an id: letters, digits, and a stroke for anything else.
fn name(number: &str) -> String {
    escaped(number).chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn board(number: &str, place: u32, state: LyingState) -> LyingBoard {
        LyingBoard {
            number: number.into(),
            place,
            state,
            coats: 1,
            of: 3,
            words: "matt about 11:20 to 12:10".into(),
            ..LyingBoard::default()
        }
    }

    #[test]
    fn each_board_is_a_group_that_a_script_can_find() {
        let view = LyingBoards {
            places: vec![board("07", 1, LyingState::Wet), board("08", 2, LyingState::Spoilt), board("<9>", 2, LyingState::Bare)],
            columns: 4,
        };
        let svg = lying_picture(&view);
        assert!(svg.contains("<g id=\"lie-07\" class=\"lie wet\">") && svg.contains("<g id=\"lie-08\" class=\"lie spoilt\">"));
        assert!(svg.contains("fill=\"url(#hatch-wet)\"") && !svg.contains("style") && !svg.contains("<9>"));
        assert!(svg.contains("<title>Boards on the table: 1 nothing on it yet; 1 wet; 1 spoilt.</title>"), "{svg}");
    }

    #[test]
    fn nobody_lies_on_another() {
        let boards: Vec<LyingBoard> = [3, 3, 0, 1, u32::MAX].into_iter().map(|place| board("01", place, LyingState::Matt)).collect();
        let places: Vec<usize> = placed(&boards).iter().map(|(place, _)| *place).collect();
        assert_eq!(places, [0, 1, 2, 3, 4]);
    }
}
