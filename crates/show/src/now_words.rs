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

/// Milliseconds of a day.
const DAY_MS: i64 = 24 * 60 * 60 * 1000;
/// From the first of January 1970 on, a Thursday.
const WEEKDAYS: [&str; 7] = ["Thursday", "Friday", "Saturday", "Sunday", "Monday", "Tuesday", "Wednesday"];

/// The day of a time where it is not the day of `now_ms`: " tomorrow", " on Sunday".
fn other_day(ms: i64, now_ms: i64, offset_minutes: i32) -> String {
    let day = |ms: i64| ms.saturating_add(i64::from(offset_minutes) * 60_000).div_euclid(DAY_MS);
    match day(ms).saturating_sub(day(now_ms)) {
        0 => String::new(),
        1 => " tomorrow".to_owned(),
        _ => {
            let at = usize::try_from(day(ms).rem_euclid(7)).unwrap_or(0);
            format!(" on {}", WEEKDAYS.get(at).copied().unwrap_or_default())
        }
    }
}

/// A time of the day with the day, where that is not today's.
///
/// ```
/// // 1970-01-02 00:20 UTC, said at 22:00 of the day before and at 00:10 of the same day.
/// assert_eq!(show::hour_and_day(87_600_000, 79_200_000, 0), "0:20 tomorrow");
/// assert_eq!(show::hour_and_day(87_600_000, 87_000_000, 0), "0:20");
/// ```
pub fn hour_and_day(ms: i64, now_ms: i64, offset_minutes: i32) -> String {
    format!("{}{}", hour(ms, offset_minutes), other_day(ms, now_ms, offset_minutes))
}

/// From one time to another; a day that both share is said once.
fn span_words(from: i64, to: i64, now_ms: i64, offset_minutes: i32) -> String {
    let to_words = hour_and_day(to, now_ms, offset_minutes);
    if other_day(from, now_ms, offset_minutes) == other_day(to, now_ms, offset_minutes) {
        format!("about {} to {to_words}", hour(from, offset_minutes))
    } else {
        format!("about {} to {to_words}", hour_and_day(from, now_ms, offset_minutes))
    }
}

/// Whether a step is still closed: its wait can't be over yet, however fast things go.
pub fn too_early(step: &NowStep, now_ms: i64) -> bool {
    step.opens_ms.is_some_and(|[short, ..]| now_ms < short)
}

/// In the largest type while nothing can be done: what is waited for, and until when; empty if the step may begin.
pub fn hold_words(step: &NowStep, board: Option<&NowBoard>, now_ms: i64, offset_minutes: i32) -> String {
    let Some([short, _, long]) = step.opens_ms.filter(|_| too_early(step, now_ms)) else { return String::new() };
    let span = span_words(short, long, now_ms, offset_minutes);
    match board.filter(|board| board.coats > 0) {
        Some(board) => format!("Wait: board {} dries until {span}", spoken(&board.number)),
        None if step.waits_for.is_empty() => format!("Wait until {span}"),
        None => format!("Wait: {} until {span}", step.waits_for),
    }
}

/// A step with its pot, where its own words don't name it.
pub fn with_pot(step: &NowStep) -> String {
    // What is made once for several pots names them all below.
    let several = step.more.strip_prefix("for ").filter(|more| more.starts_with("pots "));
    let pot = several.map_or_else(|| format!("pot {}", step.pot), str::to_owned);
    if step.pot.is_empty() || step.say.to_lowercase().contains(&pot.to_lowercase()) {
        step.say.clone()
    } else {
        format!("{} ({pot})", step.say)
    }
}

/// The answer to "not yet".
pub fn heard_words(step: &NowStep, now_ms: i64, offset_minutes: i32) -> String {
    let say = with_pot(step);
    match Some(step.from_ms).filter(|from| now_ms < *from) {
        Some(from) => format!("Heard: not yet. {say}: asked again at {}.", hour_and_day(from, now_ms, offset_minutes)),
        None => format!("Heard: not yet. {say}: asked again when nothing else can be done."),
    }
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
    let span = span_words(short, long, now_ms, offset_minutes);
    let begun = now_ms >= short;
    let number = board.map_or("", |board| spoken(&board.number));
    match board {
        Some(board) if board.coats > 0 => {
            let when = if begun { format!("now; surely by {}", hour_and_day(long, now_ms, offset_minutes)) } else { span };
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
            waits_for: String::new(),
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
    fn another_day_is_named() {
        // The first of January 1970 was a Thursday, so the fourth was a Sunday: 3 * 86,400 s = 259,200 s, and 20 minutes are 1,200 s.
        assert_eq!(hour_and_day(260_400_000, 0, 0), "0:20 on Sunday");
        assert_eq!(hour_and_day(260_400_000, 259_199_999, 0), "0:20 tomorrow");
        // An hour ahead it is Sunday already.
        assert_eq!(hour_and_day(260_400_000, 259_199_999, 60), "1:20");
        let step = waiting(Some([85_800_000, 86_400_000, 87_600_000]));
        assert_eq!(hold_words(&step, None, 80_000_000, 0), "Wait until about 23:50 to 0:20 tomorrow");
        assert_eq!(hold_words(&step, Some(&board(1)), 80_000_000, 60), "Wait: board 5 dries until about 0:50 to 1:20 tomorrow");
        assert_eq!(hold_words(&step, None, 85_800_000, 0), "");
        let hung = NowStep { waits_for: "the curd hangs".to_owned(), ..step };
        assert_eq!(hold_words(&hung, None, 0, 0), "Wait: the curd hangs until about 23:50 to 0:20 tomorrow");
    }

    #[test]
    fn a_pot_is_named_once() {
        let step = |say: &str| NowStep { say: say.to_owned(), ..waiting(None) };
        assert_eq!(with_pot(&step("Soak the glue")), "Soak the glue (pot A)");
        assert_eq!(with_pot(&step("Mix pot A once more")), "Mix pot A once more");
        assert_eq!(
            heard_words(&NowStep { from_ms: OPENS[0], ..step("Mix pot A") }, 0, 0),
            "Heard: not yet. Mix pot A: asked again at 11:20."
        );
    }

    #[test]
    fn hours_stay_hours_at_the_ends_of_time() {
        for ms in [i64::MIN, -1, 0, i64::MAX] {
            assert!((4..=5).contains(&hour(ms, i32::MAX).len()));
        }
        assert_eq!(hour(-60_000, 0), "23:59");
    }
}
