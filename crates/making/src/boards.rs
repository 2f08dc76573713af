//! How each board looks in the middle of a day.

use serde::{Deserialize, Serialize};

use crate::so_far::SoFar;
use crate::{Clock, DayAsked, DayError, Happened};

/// How a board looks, told from the time since its last coat.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Look {
    /// Nothing laid yet.
    Bare,
    /// Too early for the next coat even if it dries fast.
    Wet,
    /// Open for the next coat if it dries fast, not if it dries slowly: look at it.
    PerhapsMatt,
    /// Open for the next coat.
    Matt,
    /// Coats are left, but the last is past the time for the next.
    Hard,
    /// Given up.
    Spoilt,
}

/// A board in the middle of a day.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct BoardState {
    /// Place of the pot in [`DayAsked::pots`].
    pub pot: usize,
    /// Place of the board in that pot.
    pub board: usize,
    /// Coats laid.
    pub laid: usize,
    /// Coats that it gets in all.
    pub of: usize,
    /// How it looks.
    pub look: Look,
    /// When its last coat is matt: if it dries fast, as usual, slowly. None on a bare board.
    pub matt: Option<[Clock; 3]>,
}

/// How each board looks at a time, in the order of pots and boards.
///
/// # Errors
/// A step that this day does not have.
pub fn boards(asked: &DayAsked, happened: &[Happened], now: Clock) -> Result<Vec<BoardState>, DayError> {
    let so_far = SoFar::of(asked, happened)?;
    let mut states = Vec::new();
    for (p, (pot, pot_so_far)) in asked.pots.iter().zip(&so_far.pots).enumerate() {
        let opens = pot.recoat.opens;
        for (board, asked_board) in pot.boards.iter().enumerate() {
            let behind = pot_so_far.board(board);
            let last = behind.ends.last().copied();
            let matt = last.map(|end| [end + opens.low, end + opens.usual, end + opens.high.max(opens.usual)]);
            let (laid, of) = (behind.laid(), asked_board.coats.len());
            let too_hard = |end: Clock| laid < of && pot.recoat.missed_after.is_some_and(|missed| now > end + missed.max(opens.usual));
            let look = match (last, matt) {
                _ if behind.spoilt.is_some() => Look::Spoilt,
                (Some(end), _) if too_hard(end) => Look::Hard,
                (_, Some([fast, _, slow])) => {
                    if now < fast {
                        Look::Wet
                    } else if now < slow {
                        Look::PerhapsMatt
                    } else {
                        Look::Matt
                    }
                }
                _ => Look::Bare,
            };
            states.push(BoardState { pot: p, board, laid, of, look, matt });
        }
    }
    Ok(states)
}
