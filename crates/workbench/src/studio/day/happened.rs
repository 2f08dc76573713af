//! What has happened of a day, read off what is written down: coats, pots and losses count whoever wrote them; taps tell the rest.

use std::collections::BTreeMap;
use std::sync::Arc;

use making::{DayAsked, Happened, How, Minutes, Mixed, PotAsked, StepId, StepKind};
use notebook::{Board, Kept, Notebook, Sitting, Tap, TapKind};

use super::clock;
use super::habits::made_once;

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
    // In the order in which things were written down: a clock that was put right in between does not turn them about.
    let mut add = |n: u64, step: String, at, how| {
        all.push((i64::try_from(n).unwrap_or(i64::MAX), Happened { step: StepId(step), at: clock(zero, at), how }));
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
    all.sort_by_key(|(n, _)| *n);
    let mut all: Vec<Happened> = all.into_iter().map(|(_, event)| event).collect();
    // Of a day that was begun anew otherwise, steps may be gone that were tapped before.
    let mut given_up: Vec<String> = Vec::new();
    all.retain(|event| {
        let step = event.step.0.as_str();
        let stands = match step.split_once('+') {
            Some((base, again)) => again.parse().is_ok_and(|again| given_up.iter().filter(|name| *name == base).count() >= again),
            None => is_step(asked, step),
        };
        if stands && event.how == How::Spoilt {
            given_up.push(step.split('+').next().unwrap_or(step).to_owned());
        }
        stands
    });
    // What is made once for several pots is done for all of them.
    for (pot, at) in shared_steps(asked) {
        let Some(original) = original(asked, pot, at) else { continue };
        if let Some(done) = all.iter().find(|event| event.how == How::Done && event.step.0 == original).cloned() {
            all.push(Happened { step: StepId(step_name(asked, pot, at)), ..done });
        }
    }
    all
}

/// Whether a day has a step of this name. Pots that were mixed again are told by [`may_be_mixed`].
pub(super) fn is_step(asked: &DayAsked, step: &str) -> bool {
    if step == "wash" {
        return asked.washing_up > Minutes::ZERO;
    }
    let mut parts = step.split(':');
    let (kind, name, number) = (parts.next(), parts.next().unwrap_or(""), parts.next());
    if parts.next().is_some() {
        return false;
    }
    let pot = || asked.pots.iter().find(|pot| pot.letter == name && !pot.boards.is_empty());
    let number = || number.and_then(|number| number.parse::<usize>().ok());
    match kind {
        Some("prepare") => pot().zip(number()).is_some_and(|(pot, at)| at < pot.preparation.len()),
        Some("mix") => pot().is_some_and(|pot| match (pot.mixed, number()) {
            (Mixed::Once, None) => step.matches(':').count() == 1,
            (Mixed::EachCoat, Some(coat)) => (1..=pot.boards.iter().map(|board| board.coats.len()).max().unwrap_or(0)).contains(&coat),
            _ => false,
        }),
        Some("lay") => {
            let board = asked.pots.iter().flat_map(|pot| &pot.boards).find(|board| board.number == name);
            board.zip(number()).is_some_and(|(board, coat)| (1..=board.coats.len()).contains(&coat))
        }
        _ => false,
    }
}

/// Whether a pot can be mixed under this name: the first time always, again after so many were spoilt.
pub(super) fn may_be_mixed(asked: &DayAsked, taps: &[&Kept<Tap>], step: &str) -> bool {
    let (base, again) = step.split_once('+').map_or((step, Some(0)), |(base, again)| (base, again.parse::<usize>().ok()));
    let spoilt = taps.iter().filter(|tap| tap.record.kind == TapKind::Spoilt && tap.record.step.split('+').next() == Some(base)).count();
    is_step(asked, base) && again.is_some_and(|again| again <= spoilt)
}

/// The name under which a pot that is mixed can be said to be spoilt.
pub(super) fn mixed_as(asked: &DayAsked, pot: usize, coat: Option<u8>, again: u32) -> Option<String> {
    let letter = &asked.pots.get(pot)?.letter;
    let coat = coat.map_or_else(String::new, |coat| format!(":{coat}"));
    let again = if again > 0 { format!("+{again}") } else { String::new() };
    Some(format!("mix:{letter}{coat}{again}"))
}

/// Leaves to the first pot that has boards what is made once for several pots; the others take it over and it takes no hands again.
pub(super) fn share(asked: &mut DayAsked) {
    let mut made: Vec<String> = Vec::new();
    for pot in asked.pots.iter_mut().filter(|pot| !pot.boards.is_empty()) {
        for one in pot.preparation.iter_mut().filter(|one| made_once(&one.key)) {
            if made.contains(&one.key) {
                one.hands_on = Minutes::ZERO;
            } else {
                made.push(one.key.clone());
            }
        }
    }
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
    asked.pots.iter().enumerate().take(pot).filter(|(_, of)| !of.boards.is_empty()).find_map(|(first, of)| {
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
    let takers = asked.pots.iter().filter(|pot| !pot.boards.is_empty() && has(pot, true)).map(|pot| pot.letter.as_str());
    let mut all: Vec<&str> = std::iter::once(letter).chain(takers).collect();
    all.dedup();
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_day_knows_its_steps_and_no_others() {
        use making::{BoardAsked, PotAsked, Preparing};
        let min = Minutes::new;
        let board = BoardAsked { number: "07".into(), coats: vec![min(3), min(3)] };
        let one = Preparing { key: "glue/grains/soak".into(), hands_on: min(5), ..Preparing::default() };
        let pot = PotAsked { letter: "A".into(), boards: vec![board], preparation: vec![one.clone()], ..PotAsked::default() };
        let empty = PotAsked { letter: "B".into(), preparation: vec![one], ..PotAsked::default() };
        let mut day = DayAsked { pots: vec![empty, pot], washing_up: min(5), ..DayAsked::default() };
        for step in ["prepare:A:0", "mix:A", "lay:07:1", "lay:07:2", "wash"] {
            assert!(is_step(&day, step), "{step}");
        }
        for step in
            ["prepare:A:1", "prepare:B:0", "mix:B", "mix:A:1", "lay:07:0", "lay:07:3", "lay:7:1", "mix:A+1", "", "wash:1", "lay:07:2:1"]
        {
            assert!(!is_step(&day, step), "{step}");
        }
        // A pot without boards makes nothing for others: the work stays with the first that has some.
        share(&mut day);
        assert_eq!(day.pots[1].preparation[0].hands_on, min(5));
        assert_eq!(shown_as(&day, StepKind::Prepare { pot: 1, at: 0 }), None);
    }

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
