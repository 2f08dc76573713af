//! Words of a making day that change with the clock. `crates/web/assets/day.js` says the same where the desk can't be asked.

use crate::{NowBoard, NowStep};

/// A time of the day as people write it.
///
/// ```
/// // 1970-01-01 10:05 UTC in a zone two hours ahead.
/// assert_eq!(show::hour(36_300_000, 120), "12:05");
/// ```
pub fn hour(ms: i64, offset_minutes: i32) -> String {
    let minutes = ms.div_euclid(60_000).saturating_add(i64::from(offset_minutes)).rem_euclid(24 * 60);
    format!("{}:{:02}", minutes / 60, minutes % 60)
}

/// A number of the plan without the noughts in front: nobody says "board nought five".
pub fn spoken(number: &str) -> &str {
    let plain = number.trim_start_matches('0');
    if plain.is_empty() { number } else { plain }
}

/// What a step waits for at this moment; empty if it may begin. `board` is the one that it lays a coat on.
pub fn wait_words(step: &NowStep, board: Option<&NowBoard>, now_ms: i64, offset_minutes: i32) -> String {
    let Some([short, _, long]) = step.opens_ms else { return String::new() };
    if now_ms >= long {
        return String::new();
    }
    let span = format!("about {} to {}", hour(short, offset_minutes), hour(long, offset_minutes));
    let begun = now_ms >= short;
    let number = board.map_or("", |board| spoken(&board.number));
    match board {
        Some(board) if board.coats > 0 => {
            let when = if begun { format!("now; surely by {}", hour(long, offset_minutes)) } else { span };
            format!("Board {number} may be matt {when}. Touch it with the back of a finger.")
        }
        Some(_) if begun => format!("Board {number} may be ready now."),
        Some(_) => format!("Board {number} may be ready {span}."),
        None if begun => "It may be ready now.".to_owned(),
        None => format!("It may be ready {span}."),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn waiting(opens: Option<[i64; 3]>) -> NowStep {
        NowStep {
            id: "lay-05-2".to_owned(),
            kind: "lay",
            say: String::new(),
            more: String::new(),
            how: String::new(),
            caution: String::new(),
            pot: "A".to_owned(),
            board: Some("05".to_owned()),
            coat: Some(2),
            aim_g: None,
            from_ms: 0,
            from: String::new(),
            to_ms: 0,
            after: None,
            wait_min: [20, 30, 50],
            opens_ms: opens,
            closes_ms: None,
            may_spoil: true,
        }
    }

    fn board(coats: u32) -> NowBoard {
        NowBoard {
            id: "GP-7K3M-Q2X".to_owned(),
            number: "05".to_owned(),
            place: 1,
            pot: "A".to_owned(),
            strips: Vec::new(),
            coats,
            of: 3,
            state: "wet",
            matt_ms: None,
            hard_ms: None,
            words: String::new(),
            pace: String::new(),
        }
    }

    /// 11:20, 11:30 and 11:50 of the first of January 1970, worked by hand: 11 h 20 min = 680 min = 40,800 s.
    const OPENS: [i64; 3] = [40_800_000, 41_400_000, 42_600_000];

    #[test]
    fn a_wait_is_said_as_a_span_then_as_a_touch_then_not_at_all() {
        let step = waiting(Some(OPENS));
        let said = |now| wait_words(&step, Some(&board(1)), now, 0);
        assert_eq!(said(40_799_999), "Board 5 may be matt about 11:20 to 11:50. Touch it with the back of a finger.");
        assert_eq!(said(40_800_000), "Board 5 may be matt now; surely by 11:50. Touch it with the back of a finger.");
        assert_eq!(said(42_600_000), "");
        assert_eq!(wait_words(&waiting(None), Some(&board(1)), 0, 0), "");
        assert_eq!(wait_words(&step, Some(&board(0)), 0, 0), "Board 5 may be ready about 11:20 to 11:50.");
        assert_eq!(wait_words(&step, None, 0, 0), "It may be ready about 11:20 to 11:50.");
    }

    #[test]
    fn hours_stay_hours_at_the_ends_of_time() {
        for ms in [i64::MIN, -1, 0, i64::MAX] {
            assert!((4..=5).contains(&hour(ms, i32::MAX).len()));
        }
        assert_eq!(hour(-60_000, 0), "23:59");
    }
}
