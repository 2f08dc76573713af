//! What is left of a day under way, as a strip.

use crate::{DayNow, DayStrip, NowStep, StripBlock, StripLife, StripPot, StripWait};

/// Minutes since the midnight before the desk's own time.
fn minutes(day: &DayNow, ms: i64) -> i32 {
    let offset = i64::from(day.offset_minutes);
    let local = |ms: i64| ms.div_euclid(60_000).saturating_add(offset);
    let midnight = local(day.desk_ms).div_euclid(24 * 60).saturating_mul(24 * 60);
    let since = local(ms).saturating_sub(midnight);
    i32::try_from(since).unwrap_or(if since < 0 { i32::MIN } else { i32::MAX })
}

/// The steps that are left, from now to the end; `None` when nothing is left. Steps of one round stand as one block.
pub fn strip_now(day: &DayNow) -> Option<DayStrip> {
    let now = minutes(day, day.desk_ms);
    let last = day.steps.iter().map(|step| step.to_ms).max()?;
    let rounds = rounds(&day.steps);
    let block = |round: &[&NowStep], label: String, mark: String| StripBlock {
        from: round.first().map_or(now, |step| minutes(day, step.from_ms)),
        to: round.last().map_or(now, |step| minutes(day, step.to_ms)),
        label,
        mark,
    };
    let hands = rounds.iter().filter_map(|round| {
        let first = round.first()?;
        let (label, mark) = match (first.kind, first.coat) {
            ("lay", Some(coat)) => (format!("coat {coat}, pot {}", first.pot), format!("{}{coat}", first.pot)),
            ("mix", _) => (format!("mix pot {}", first.pot), first.pot.clone()),
            ("prepare", _) => (format!("make ready, pot {}", first.pot), first.pot.to_lowercase()),
            _ => ("wash up".to_owned(), "w".to_owned()),
        };
        Some(block(round, label, mark))
    });
    let pots = day.pots.iter().map(|pot| StripPot {
        letter: pot.letter.clone(),
        words: pot.recipe.clone(),
        life: pot
            .ready_ms
            .zip(pot.old_ms)
            .map(|(ready, [low, high])| StripLife { from: minutes(day, ready), low: minutes(day, low), high: minutes(day, high) })
            .into_iter()
            .collect(),
        rounds: rounds
            .iter()
            .filter_map(|round| round.first().filter(|first| first.kind == "lay" && first.pot == pot.letter).map(|first| (round, first)))
            .map(|(round, first)| {
                let coat = first.coat.unwrap_or_default();
                block(round, format!("coat {coat}"), format!("{}{coat}", pot.letter))
            })
            .collect(),
        waits: waits(day, &pot.letter, now),
    });
    Some(DayStrip { from: now, to: minutes(day, last), hands: hands.collect(), pots: pots.collect(), now: Some(now) })
}

/// Steps that follow each other and lay the same coat from the same pot.
fn rounds(steps: &[NowStep]) -> Vec<Vec<&NowStep>> {
    let mut out: Vec<Vec<&NowStep>> = Vec::new();
    for step in steps {
        match out.last_mut() {
            Some(round)
                if round
                    .last()
                    .is_some_and(|last| last.kind == "lay" && (last.kind, &last.pot, last.coat) == (step.kind, &step.pot, step.coat)) =>
            {
                round.push(step);
            }
            _ => out.push(vec![step]),
        }
    }
    out
}

/// The boards of a pot that dry now, as one wait: from the first that may be matt to the last that surely is.
fn waits(day: &DayNow, pot: &str, now: i32) -> Vec<StripWait> {
    let drying = || day.boards.iter().filter(|board| board.pot == pot && board.coats < board.of).filter_map(|board| board.matt_ms);
    let (low, high) = (drying().map(|[low, ..]| low).min(), drying().map(|[_, _, high]| high).max());
    let wait = low.zip(high).map(|(low, high)| StripWait { from: now, low: minutes(day, low).max(now), high: minutes(day, high) });
    wait.filter(|wait| wait.high > now).into_iter().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn step(kind: &'static str, pot: &str, coat: Option<u8>, from: i64) -> NowStep {
        NowStep {
            id: format!("{kind}:{pot}:{from}"),
            kind,
            say: String::new(),
            more: String::new(),
            how: String::new(),
            caution: String::new(),
            pot: pot.to_owned(),
            board: None,
            coat,
            aim_g: None,
            from_ms: from * 60_000,
            from: String::new(),
            to_ms: (from + 4) * 60_000,
            after: None,
            wait_min: [0; 3],
            opens_ms: None,
            closes_ms: None,
            may_spoil: true,
        }
    }

    fn day(steps: Vec<NowStep>) -> DayNow {
        DayNow {
            sitting: String::new(),
            trial: String::new(),
            question: String::new(),
            day: 1,
            seen: 0,
            // 1970-01-01 09:00 UTC, eleven o'clock two hours ahead.
            desk_ms: 540 * 60_000,
            offset_minutes: 120,
            steps,
            pots: Vec::new(),
            boards: Vec::new(),
            risks: Vec::new(),
            air: None,
            done: Vec::new(),
            ends: String::new(),
            finished: false,
        }
    }

    #[test]
    fn a_round_is_one_block_by_the_clock_of_the_desk() {
        let steps = vec![
            step("mix", "B", None, 545),
            step("lay", "B", Some(1), 550),
            step("lay", "B", Some(1), 554),
            step("lay", "C", Some(1), 558),
            step("wash", "", None, 562),
        ];
        let strip = strip_now(&day(steps)).unwrap();
        let hands: Vec<(i32, i32, &str)> = strip.hands.iter().map(|one| (one.from, one.to, one.mark.as_str())).collect();
        // Worked by hand: 545 minutes UTC are 11:05, that is 665.
        assert_eq!(hands, [(665, 669, "B"), (670, 678, "B1"), (678, 682, "C1"), (682, 686, "w")]);
        assert_eq!((strip.from, strip.to, strip.now), (660, 686, Some(660)));
    }

    #[test]
    fn nothing_left_is_no_strip() {
        assert_eq!(strip_now(&day(Vec::new())), None);
    }
}
