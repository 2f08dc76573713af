//! What has happened of a day, read off what is written down: coats, pots and losses count whoever wrote them; taps tell the rest.

use std::collections::BTreeMap;
use std::sync::Arc;

use making::{DayAsked, Happened, How, Minutes, Mixed, PotAsked, StepId, StepKind};
use notebook::{Board, Kept, Notebook, Sitting, Tap, TapKind};

use super::clock;

/// Boards of a sitting by their number in the plan.
pub(super) type Boards<'a> = BTreeMap<&'a str, &'a Arc<Kept<Board>>>;

/// The boards of this day of the trial.
pub(super) fn boards_of<'a>(state: &'a Notebook, sitting: &Sitting) -> Boards<'a> {
    let of_day = state.boards_of(&sitting.trial).into_iter().filter(|board| board.record.planned.day == sitting.day);
    of_day.map(|board| (board.record.planned.number.as_str(), board)).collect()
}

/// The board of a step `lay:NUMBER:COAT`, with the coat.
pub(super) fn laying<'a, 'b>(boards: &Boards<'a>, step: &'b str) -> Option<(&'a Arc<Kept<Board>>, &'b str, u32)> {
    let (number, coat) = step.strip_prefix("lay:")?.rsplit_once(':')?;
    Some((boards.get(number)?, number, coat.parse().ok()?))
}

/// The pot of a step `mix:LETTER`, `mix:LETTER:COAT` or either with `+AGAIN` behind it: letter, and whether it is the first mixing of it.
pub(super) fn mixing(step: &str) -> Option<(&str, bool)> {
    let rest = step.strip_prefix("mix:")?;
    let (name, again) = rest.split_once('+').map_or((rest, false), |(name, _)| (name, true));
    let (letter, coat) = name.split_once(':').unwrap_or((name, "1"));
    Some((letter, !again && coat == "1"))
}

/// Taps that counted and were not taken back, in the order written down.
pub(super) fn standing(taps: &[Arc<Kept<Tap>>]) -> Vec<&Kept<Tap>> {
    let undone: Vec<&str> =
        taps.iter().filter(|tap| tap.record.kind == TapKind::Undo && tap.record.counted).map(|tap| tap.record.of.as_str()).collect();
    taps.iter()
        .map(AsRef::as_ref)
        .filter(|tap| tap.record.counted && tap.record.kind != TapKind::Undo && !undone.contains(&tap.record.id.as_str()))
        .collect()
}

/// Everything that happened, oldest first.
pub(super) fn happened(state: &Notebook, kept: &Kept<Sitting>, asked: &DayAsked) -> Vec<Happened> {
    let sitting = &kept.record;
    let zero = sitting.midnight;
    let mut all: Vec<(i64, Happened)> = Vec::new();
    let mut add = |n: u64, step: String, at, how| {
        all.push((i64::try_from(n).unwrap_or(i64::MAX), Happened { step: StepId(step), at: clock(zero, at), how }))
    };
    let boards = boards_of(state, sitting);
    for pot in &asked.pots {
        let first = if pot.mixed == Mixed::Once { format!("mix:{}", pot.letter) } else { format!("mix:{}:1", pot.letter) };
        if let Some(batch) = state.batch_of(&sitting.trial, &pot.letter) {
            add(batch.n, first, batch.record.ready.unwrap_or(batch.first), How::Done);
        }
        for asked_board in &pot.boards {
            let Some(board) = boards.get(asked_board.number.as_str()) else { continue };
            let mut laid = 0;
            for coat in state.coats_of(&board.subject).iter().filter(|coat| coat.record.number > 0) {
                if usize::try_from(coat.record.number).is_ok_and(|number| number <= asked_board.coats.len()) {
                    add(coat.n, format!("lay:{}:{}", asked_board.number, coat.record.number), coat.record.laid, How::Done);
                    laid = laid.max(coat.record.number);
                }
            }
            let lost = state.lost.values().find(|lost| lost.record.board == board.subject);
            if let Some(lost) = lost {
                let next = usize::try_from(laid + 1).unwrap_or(1).min(asked_board.coats.len());
                add(lost.n, format!("lay:{}:{next}", asked_board.number), lost.at, How::Spoilt);
            }
        }
    }
    for tap in standing(state.taps_of(&kept.subject)) {
        let record = &tap.record;
        let how = match record.kind {
            TapKind::Done => How::Done,
            TapKind::NotYet => How::NotYet,
            TapKind::Spoilt => How::Spoilt,
            TapKind::Undo => continue,
        };
        // Coats, losses and first pots were told above by their own entries.
        let told = record.step.starts_with("lay:") && how != How::NotYet
            || how == How::Done && mixing(&record.step).is_some_and(|(_, first)| first);
        if !told {
            add(tap.n, record.step.clone(), record.at, how);
        }
    }
    all.sort_by_key(|(n, event)| (event.at, *n));
    let mut all: Vec<Happened> = all.into_iter().map(|(_, event)| event).collect();
    // What is made once for several pots is done for all of them.
    for (pot, at) in shared_steps(asked) {
        let Some(original) = original(asked, pot, at) else { continue };
        if let Some(done) = all.iter().find(|event| event.how == How::Done && event.step.0 == original).cloned() {
            all.push(Happened { step: StepId(step_name(asked, pot, at)), ..done });
        }
    }
    all.sort_by_key(|event| event.at);
    all
}

/// Preparations that an earlier pot of the day has made already, by pot and place.
fn shared_steps(asked: &DayAsked) -> impl Iterator<Item = (usize, usize)> + '_ {
    asked.pots.iter().enumerate().flat_map(|(pot, of)| {
        of.preparation.iter().enumerate().filter(|(_, one)| one.hands_on == Minutes::ZERO).map(move |(at, _)| (pot, at))
    })
}

fn step_name(asked: &DayAsked, pot: usize, at: usize) -> String {
    format!("prepare:{}:{at}", asked.pots.get(pot).map_or("", |pot| pot.letter.as_str()))
}

/// The step of the earlier pot by which a shared preparation is done.
fn original(asked: &DayAsked, pot: usize, at: usize) -> Option<String> {
    let key = &asked.pots.get(pot)?.preparation.get(at)?.key;
    asked.pots.iter().enumerate().take(pot).find_map(|(first, of)| {
        let at = of.preparation.iter().position(|one| one.key == *key && one.hands_on > Minutes::ZERO)?;
        Some(step_name(asked, first, at))
    })
}

/// For a preparation that is made once for several pots: the step under which it is shown. `None` for a step of its own.
pub(super) fn shown_as(asked: &DayAsked, kind: StepKind) -> Option<String> {
    match kind {
        StepKind::Prepare { pot, at } if shared_steps(asked).any(|shared| shared == (pot, at)) => original(asked, pot, at),
        _ => None,
    }
}

/// Pots for which a preparation is made: those that take it over from this one, or this one alone.
pub(super) fn made_for<'a>(asked: &'a DayAsked, key: &str, letter: &'a str) -> Vec<&'a str> {
    let has = |pot: &PotAsked, shared: bool| pot.preparation.iter().any(|one| one.key == key && (one.hands_on == Minutes::ZERO) == shared);
    let takers = asked.pots.iter().filter(|pot| has(pot, true)).map(|pot| pot.letter.as_str());
    let mut all: Vec<&str> = std::iter::once(letter).chain(takers).collect();
    all.dedup();
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_name_their_pot() {
        assert_eq!(mixing("mix:A"), Some(("A", true)));
        assert_eq!(mixing("mix:A:1"), Some(("A", true)));
        assert_eq!(mixing("mix:A:2"), Some(("A", false)));
        assert_eq!(mixing("mix:A+1"), Some(("A", false)));
        assert_eq!(mixing("mix:B:1+2"), Some(("B", false)));
        assert_eq!(mixing("lay:07:2"), None);
    }
}
