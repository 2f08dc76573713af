//! Boards of the notebook that were read for cracks, as thickness and verdict.

use std::collections::BTreeMap;
use std::sync::Arc;

use ground::{Film, Mix, Protein};
use materials::Wishes;
use notebook::{Board, Kept, Notebook, Trial};

use super::answer::FIRST_STRIP;
use super::boards::{PotFilms, age_days, pot_of};
use crate::Workbench;
use crate::seen::{BoardsSeen, CrackBoard};

/// Days after the last coat from which a whole board counts as whole: before, it is still drying (judgement, no source).
const DRY_DAYS: i64 = 7;
/// Class of a scale from which there is a crack; half of it is "between none and one".
const A_CRACK: f64 = 1.0;
/// Class of depth up to which a crack is only in the skin of the last coat.
const SKIN: f64 = 1.0;

/// Votes by strip, 0 for a board without strips: with a crack, and in all.
type Votes = BTreeMap<u8, (u32, u32)>;

/// A family and its film, by pot and planned recipe of one trial.
type Families = BTreeMap<(String, String), Option<((Protein, String), Film)>>;

impl Workbench {
    /// All boards of a notebook that were read for cracks and whose thickness is known.
    pub fn boards_seen(&self, state: &Notebook) -> BoardsSeen {
        // An entry's own id is never used twice, so the last one names the whole state.
        let last = state.entries().last().map(|entry| entry.id.clone());
        self.seen.answer(&(state.n(), last), || Arc::new(self.look_at_boards(state)))
    }

    fn look_at_boards(&self, state: &Notebook) -> Vec<CrackBoard> {
        let mut out = Vec::new();
        for (subject, trial) in &state.trials {
            let (mut films, mut families) = (PotFilms::new(), Families::new());
            for board in state.boards_of(subject) {
                if board.record.planned.job != "witness" && state.loss_of(&board.subject).is_none() {
                    out.extend(self.cracks_of(state, &trial.record, board, &mut films, &mut families));
                }
            }
        }
        out
    }

    fn cracks_of(
        &self,
        state: &Notebook,
        trial: &Trial,
        board: &Kept<Board>,
        films: &mut PotFilms,
        families: &mut Families,
    ) -> Option<CrackBoard> {
        let votes = votes(state, board);
        if votes.is_empty() {
            return None;
        }
        let cracked = |&(yes, all): &(u32, u32)| 2 * yes >= all;
        let strip = |strip: u8| (strip > 0).then_some(strip);
        let first = votes.iter().find(|(_, vote)| cracked(vote)).map(|(number, _)| *number);
        let whole = votes.iter().rev().find(|(number, vote)| first.is_none_or(|first| **number < first) && !cracked(vote));
        let mut thick = |number: u8| self.dry_best(state, trial, board, strip(number), films);
        let (whole_um, cracked_um) = (whole.and_then(|(number, _)| thick(*number)), first.and_then(&mut thick));
        if whole_um.is_none() && cracked_um.is_none() {
            return None;
        }
        let coats = state.coats_of(&board.subject);
        let pot = coats.iter().find(|coat| coat.record.number > 0).map(|coat| pot_of(&board.record, &coat.record))?;
        let key = (pot, board.record.planned.recipe.clone());
        let (family, film) =
            families.entry(key).or_insert_with_key(|(pot, _)| self.family_of_pot(state, trial, &board.record, pot)).clone()?;
        CrackBoard::of(family, &film, &trial.support, whole_um, cracked_um)
    }

    fn family_of_pot(&self, state: &Notebook, trial: &Trial, board: &Board, pot: &str) -> Option<((Protein, String), Film)> {
        let request = self.pot_request(state, trial, board, pot);
        let reading = materials::read(self.jars, &self.units, &request.told, &Wishes::new());
        let mix = Mix::of(self.jars, &self.units, &reading).with_own(&request.own);
        let film = mix.film(&mix.best(), &mut Vec::new()).ok()?;
        Some((self.family_of_mix(&mix)?, film))
    }
}

/// What people said of each strip; the newest reading of each person and scale counts. A crack never heals; a board is only called whole
/// once it is dry, and a crack in the skin alone is none through the ground.
fn votes(state: &Notebook, board: &Kept<Board>) -> Votes {
    let mut last: BTreeMap<(&str, &str, Option<u8>), &notebook::Reading> = BTreeMap::new();
    let readings = state.readings_of(&board.subject);
    for reading in &readings {
        let reading = &reading.record;
        last.insert((&reading.measure, &reading.rater, reading.strip), reading);
    }
    let skin = |rater: &str, strip: Option<u8>| {
        last.get(&("crack_depth", rater, strip)).and_then(|depth| value(&depth.value)).is_some_and(|depth| depth <= SKIN)
    };
    let mut votes = Votes::new();
    for ((measure, rater, strip), reading) in &last {
        let dry = age_days(state, &board.subject, reading.read).is_some_and(|days| days >= DRY_DAYS);
        let mut vote = |number: u8, cracked: bool| {
            if cracked || dry {
                let (yes, all) = votes.entry(number).or_default();
                *yes += u32::from(cracked);
                *all += 1;
            }
        };
        match *measure {
            "cracked" | "cracking" => {
                if let Some(class) = value(&reading.value) {
                    vote(strip.unwrap_or(0), class >= A_CRACK && !skin(rater, *strip));
                }
            }
            FIRST_STRIP => {
                let first = value(&reading.value);
                for number in &board.record.planned.strips {
                    // Thicker strips than the first with a crack were not looked at for this.
                    if first.is_none_or(|first| f64::from(*number) <= first) {
                        vote(*number, first.is_some_and(|first| (f64::from(*number) - first).abs() < 1e-9));
                    }
                }
            }
            _ => {}
        }
    }
    // A board with strips read as a whole says nothing of one thickness.
    if !board.record.planned.strips.is_empty() {
        votes.remove(&0);
    }
    votes
}

/// The number that a value of the log begins with; `None` for ">5", which is "none of them".
fn value(text: &str) -> Option<f64> {
    let end = text.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(text.len());
    text.get(..end)?.parse().ok()
}

#[cfg(test)]
mod tests {
    use super::value;

    #[test]
    fn values_of_the_log() {
        assert_eq!([value("1"), value("2.5"), value("1a"), value(">5"), value("")], [Some(1.0), Some(2.5), Some(1.0), None, None]);
    }
}
