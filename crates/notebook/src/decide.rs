//! Whether an entry may be written: what it was made from must still stand, and nothing may be pulled from under something else.

use crate::deed::Deed;
use crate::fold::Notebook;
use crate::record::{PotWhat, Tap, TapKind};
use crate::{NewChange, Stamp};

/// What a request wants to write.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    /// What it is about.
    pub subject: String,
    /// For an edit: the entry that it was made from.
    pub expects: Option<u64>,
    /// For a strike: the entry that it takes back.
    pub strikes: Option<u64>,
    /// What is done.
    pub deed: Deed,
}

impl Wanted {
    /// Something new, or a fact.
    pub fn new(subject: impl Into<String>, deed: Deed) -> Self {
        Self { subject: subject.into(), expects: None, strikes: None, deed }
    }

    /// A change of something that stands.
    pub fn edit(subject: impl Into<String>, from: u64, deed: Deed) -> Self {
        Self { expects: Some(from), ..Self::new(subject, deed) }
    }

    /// Takes an entry back.
    pub fn strike(n: u64, why: impl Into<String>) -> Self {
        Self { subject: format!("entry-{n}"), expects: None, strikes: Some(n), deed: Deed::Strike(why.into()) }
    }
}

/// Why an entry may not be written.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Refusal {
    /// Somebody else changed it first.
    #[error(
        "this was changed on {device} at {at} while you had it open. Nothing was overwritten: look at that version first, then say yours again"
    )]
    Stale {
        /// Device of the other entry.
        device: String,
        /// When.
        at: String,
        /// Entry that stands.
        n: u64,
    },
    /// What it is about does not exist, or was taken back.
    #[error("what this belongs to is no longer in the notebook: {0}")]
    Gone(String),
    /// There is one already.
    #[error("there is already {0} of that kind; change that one, or take it back first")]
    Twice(String),
    /// Others stand on what would be taken back.
    #[error("it can't be taken back while others stand on it: {}. Take those back first", .0.join(", "))]
    StoodOn(Vec<String>),
    /// It was taken back already.
    #[error("this was taken back already; open the page anew")]
    Struck,
    /// A later entry changed it further.
    #[error("a later change stands on this one (entry {0}); take that back first")]
    Later(u64),
    /// A binder that was used up or thrown away is only looked at.
    #[error("{0} was closed; nothing more is written down about it. Take its closing back first if that was a slip")]
    Closed(String),
    /// A key that was taken away would come to life again.
    #[error("a key that was taken away stays away; let the phone in anew")]
    KeyGone,
}

impl Notebook {
    /// The entries of a request, ready for the log.
    ///
    /// # Errors
    /// One of them may not be written; then none is.
    pub fn decide(&self, wanted: &[Wanted], stamp: &Stamp) -> Result<Vec<NewChange>, Refusal> {
        let mut new = Vec::with_capacity(wanted.len());
        for (index, one) in wanted.iter().enumerate() {
            let id = stamp.entry(u32::try_from(index).unwrap_or(u32::MAX));
            // The same request again: the store answers with what it holds.
            if !self.entries().iter().rev().any(|entry| entry.id == id) {
                self.may(one, wanted)?;
            }
            new.push(NewChange {
                id,
                at: stamp.at,
                device: stamp.device.clone(),
                kind: one.deed.kind().to_owned(),
                version: one.deed.version(),
                subject: one.subject.clone(),
                expects: one.expects,
                strikes: one.strikes,
                body: one.deed.body(),
            });
        }
        Ok(new)
    }

    fn may(&self, one: &Wanted, all: &[Wanted]) -> Result<(), Refusal> {
        if let Some(n) = one.strikes {
            return self.may_strike(n);
        }
        match (self.head(&one.subject), one.expects) {
            (None, None) => {}
            // What was a jar can't be changed into a recipe.
            (Some(head), Some(from)) if head == from => match self.entry(head) {
                Some(entry) if entry.deed.kind() == one.deed.kind() => {}
                _ => return Err(Refusal::Gone(format!("{} is something else", one.subject))),
            },
            (None, Some(_)) => return Err(Refusal::Gone("it was taken back".into())),
            (Some(_), None) if !one.deed.is_edited() => return Err(Refusal::Twice(one.subject.clone())),
            (Some(head), _) => return Err(self.stale(head)),
        }
        for need in needs(&one.deed) {
            if self.head(need).is_none() && !all.iter().any(|other| other.subject == need) {
                return Err(Refusal::Gone(need.to_owned()));
            }
        }
        self.still_open(&one.deed)?;
        self.only_one(one)
    }

    /// A step or a measurement belongs to a binder, and to one that is not closed.
    fn still_open(&self, deed: &Deed) -> Result<(), Refusal> {
        let id = match deed {
            Deed::BinderStep(step) => &step.binder,
            Deed::BinderMeasure(measure) => &measure.binder,
            _ => return Ok(()),
        };
        match self.binders.get(id) {
            Some(binder) if binder.record.closed.is_some() => {
                Err(Refusal::Closed(format!("binder \u{201c}{}\u{201d}", binder.record.name)))
            }
            Some(_) => Ok(()),
            None => Err(Refusal::Gone(id.clone())),
        }
    }

    /// Things of which there is one: a pot of a letter, the plan of a trial, the loss of a board.
    fn only_one(&self, one: &Wanted) -> Result<(), Refusal> {
        match &one.deed {
            Deed::Plan(plan) if self.plan_of(&plan.trial).is_some() => Err(Refusal::Twice("a plan".into())),
            Deed::Sitting(sitting) if self.sitting_of(&sitting.trial, sitting.day).is_some_and(|known| known.subject != one.subject) => {
                Err(Refusal::Twice(format!("a day {} under way", sitting.day)))
            }
            Deed::BinderStep(step)
                if self.binder_steps.values().any(|known| known.record.binder == step.binder && known.record.step == step.step) =>
            {
                Err(Refusal::Twice("a note that this step is done".into()))
            }
            Deed::Lost(lost) if self.loss_of(&lost.board).is_some() => Err(Refusal::Twice("a note of its loss".into())),
            Deed::Batch(batch) if self.batch_of(&batch.trial, &batch.letter).is_some_and(|known| known.subject != one.subject) => {
                Err(Refusal::Twice(format!("a pot {}", batch.letter)))
            }
            _ => Ok(()),
        }
    }

    fn stale(&self, head: u64) -> Refusal {
        let (device, at) = self.entry(head).map_or_else(Default::default, |entry| (entry.device.clone(), entry.at.to_string()));
        Refusal::Stale { device, at, n: head }
    }

    fn may_strike(&self, n: u64) -> Result<(), Refusal> {
        let Some(entry) = self.entry(n) else { return Err(Refusal::Gone(format!("entry {n}"))) };
        if self.is_struck(n) {
            return Err(Refusal::Struck);
        }
        if let Some(back) = entry.strikes.and_then(|n| self.entry(n)) {
            // The phone may be in other hands by now.
            if matches!(back.deed, Deed::Device(_)) {
                return Err(Refusal::KeyGone);
            }
            // Taking a strike back brings that entry to life again: what it belongs to must still be there, and its place be free.
            if let Some(need) = needs(&back.deed).find(|need| self.head(need).is_none()) {
                return Err(Refusal::Gone(need.to_owned()));
            }
            return self.only_one(&Wanted::new(back.subject.clone(), back.deed.clone()));
        }
        // Boards stand on their plan, and a closed plan on the question that it was drawn for.
        match &entry.deed {
            Deed::Plan(plan) if !self.boards_of(&plan.trial).is_empty() => {
                return Err(Refusal::StoodOn(vec![format!("{} boards", self.boards_of(&plan.trial).len())]));
            }
            Deed::Trial(_) if self.plan_of(&entry.subject).is_some() => return Err(Refusal::StoodOn(vec!["the closed plan".into()])),
            _ => {}
        }
        match self.head(&entry.subject) {
            Some(head) if head > n => return Err(Refusal::Later(head)),
            _ => {}
        }
        // An edit can go: the version before it stands again. The first entry takes the whole thing away.
        let first = !self.entries().iter().any(|other| other.subject == entry.subject && other.n < n && !self.is_struck(other.n));
        let stands_on = if first { self.stands_on(&entry.subject) } else { Vec::new() };
        if stands_on.is_empty() { Ok(()) } else { Err(Refusal::StoodOn(stands_on)) }
    }

    /// What stands on a subject, in words, at most five.
    pub fn stands_on(&self, subject: &str) -> Vec<String> {
        let mut names: Vec<String> = Vec::new();
        for entry in self.entries().iter().filter(|entry| !self.is_struck(entry.n)) {
            // What a photo shows goes and comes with it.
            if matches!(entry.deed, Deed::Look(_) | Deed::Correction(_)) {
                continue;
            }
            if needs(&entry.deed).any(|need| need == subject) && self.head(&entry.subject).is_some() {
                let name = name_of(&entry.deed, &entry.subject);
                if !names.contains(&name) {
                    names.push(name);
                }
            }
        }
        let more = names.len().saturating_sub(5);
        names.truncate(5);
        if more > 0 {
            names.push(format!("and {more} more"));
        }
        names
    }
}

/// Subjects that must exist for this record.
fn needs(deed: &Deed) -> impl Iterator<Item = &str> {
    let also = match deed {
        Deed::Batch(batch) => batch.binder.as_deref(),
        Deed::Recipe(recipe) => recipe.binder.as_deref(),
        _ => None,
    };
    let one = match deed {
        Deed::Plan(plan) => Some(plan.trial.as_str()),
        Deed::Board(board) => Some(board.trial.as_str()),
        Deed::Batch(batch) => Some(batch.trial.as_str()),
        Deed::Coat(coat) => Some(coat.board.as_str()),
        Deed::Reading(reading) => Some(reading.board.as_str()),
        Deed::Lost(lost) => Some(lost.board.as_str()),
        // A photo may be kept before anybody says whose it is.
        Deed::Photo(photo) => Some(photo.of.as_str()).filter(|of| !of.is_empty()),
        Deed::Paper(paper) => Some(paper.trial.as_str()),
        Deed::Sitting(sitting) => Some(sitting.trial.as_str()),
        Deed::Tap(tap) => Some(tap.sitting.as_str()),
        Deed::Air(air) => Some(air.sitting.as_str()),
        Deed::BoardMass(mass) => Some(mass.board.as_str()),
        Deed::PotMass(mass) => Some(mass.trial.as_str()),
        Deed::Weighing(weighing) => weighing.jar.as_deref(),
        Deed::BinderStep(step) => Some(step.binder.as_str()),
        Deed::BinderMeasure(measure) => Some(measure.binder.as_str()),
        Deed::Look(look) => Some(look.photo.as_str()),
        Deed::Correction(correction) => Some(correction.look.as_str()),
        Deed::Recipe(_)
        | Deed::Failed(_)
        | Deed::Jar(_)
        | Deed::Trial(_)
        | Deed::OwnScale(_)
        | Deed::Device(_)
        | Deed::Strike(_)
        | Deed::Binder(_) => None,
    };
    one.into_iter().chain(also)
}

/// What a person would call this entry.
pub fn name_of(deed: &Deed, subject: &str) -> String {
    match deed {
        Deed::Recipe(recipe) => format!("recipe \u{201c}{}\u{201d}", recipe.name),
        Deed::Failed(failed) => format!("failed board \u{201c}{}\u{201d}", failed.name),
        Deed::Jar(jar) => format!("jar \u{201c}{}\u{201d}", jar.name),
        Deed::Weighing(weighing) => format!("a weighing of {}", weighing.material),
        Deed::Trial(trial) => format!("trial \u{201c}{}\u{201d}", trial.question),
        Deed::Plan(_) => "a plan".into(),
        Deed::Board(board) => format!("board {} ({subject})", board.planned.number),
        Deed::Batch(batch) => format!("pot {}", batch.letter),
        Deed::Coat(coat) => format!("coat {} on {}", coat.number, coat.board),
        Deed::Reading(reading) => format!("a reading of {} on {}", reading.measure, reading.board),
        Deed::Lost(lost) => format!("the loss of {}", lost.board),
        Deed::Photo(photo) if photo.of.is_empty() => "a photo of no board yet".into(),
        Deed::Photo(photo) => format!("a photo of {}", photo.of),
        Deed::OwnScale(scale) => format!("scale \u{201c}{}\u{201d}", scale.name),
        Deed::Sitting(sitting) => format!("day {} of laying coats", sitting.day),
        Deed::Tap(tap) => tap_words(tap),
        Deed::Air(_) => "the air of a sitting".into(),
        Deed::BoardMass(mass) => format!("a weighing of board {}", mass.board),
        Deed::Paper(paper) => format!("paper \u{201c}{}\u{201d}", paper.title),
        Deed::Device(device) => format!("the key of phone \u{201c}{}\u{201d}", device.name),
        Deed::PotMass(mass) if mass.what == PotWhat::WaterAdded => format!("water put into pot {}", mass.letter),
        Deed::PotMass(mass) => format!("a weighing of pot {}", mass.letter),
        Deed::Binder(binder) => format!("binder \u{201c}{}\u{201d}", binder.name),
        Deed::BinderStep(step) => format!("step \u{201c}{}\u{201d} of a binder", step.step),
        Deed::BinderMeasure(_) => "a measurement of a binder".into(),
        Deed::Look(_) => "what a photo shows".into(),
        Deed::Correction(_) => "what was put right in a photo".into(),
        Deed::Strike(_) => "taken back".into(),
    }
}

/// A tap of a making day as a painter says it: the step, and what was said of it.
fn tap_words(tap: &Tap) -> String {
    let how = match tap.kind {
        TapKind::Done => "done",
        TapKind::NotYet => "not yet",
        TapKind::Spoilt => "spoilt",
        TapKind::Undo => "taken back",
    };
    let step = step_words(&tap.step);
    // "pot A: mixed" says all; only what is not so needs more.
    if tap.step.starts_with("mix:") && tap.kind == TapKind::Done { step } else { format!("{step}: {how}") }
}

/// Steps are named `lay:BOARD:COAT`, `mix:POT`, `mix:POT:COAT` (either with `+AGAIN` behind it), `prepare:POT:PLACE` and `wash`.
fn step_words(step: &str) -> String {
    let (kind, rest) = step.split_once(':').unwrap_or((step, ""));
    let (name, place) = rest.split_once(':').unwrap_or((rest, ""));
    match kind {
        "lay" => {
            let number = name.trim_start_matches('0');
            format!("board {}, {} coat", if number.is_empty() { name } else { number }, nth(place))
        }
        "mix" => {
            let (letter, again) = name.split_once('+').map_or((name, false), |(letter, _)| (letter, true));
            let afresh = again || place.contains('+') || !matches!(place, "" | "1");
            if afresh { format!("pot {letter}: mixed afresh") } else { format!("pot {letter}: mixed") }
        }
        "prepare" => format!("a step of getting pot {name} ready"),
        "wash" => "washing up".into(),
        _ => "a step of the day".into(),
    }
}

fn nth(count: &str) -> String {
    match count {
        "1" => "first".into(),
        "2" => "second".into(),
        "3" => "third".into(),
        "4" => "fourth".into(),
        other => format!("{other}th"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tap_is_said_in_a_painters_words() {
        let said = |step: &str, kind| name_of(&Deed::Tap(Tap { step: step.into(), kind, ..Tap::default() }), "tap-1");
        assert_eq!(said("lay:05:2", TapKind::Done), "board 5, second coat: done");
        assert_eq!(said("lay:12:5", TapKind::Spoilt), "board 12, 5th coat: spoilt");
        assert_eq!(said("mix:A", TapKind::Done), "pot A: mixed");
        assert_eq!(said("mix:A:1", TapKind::Done), "pot A: mixed");
        assert_eq!(said("mix:B+1", TapKind::NotYet), "pot B: mixed afresh: not yet");
        assert_eq!(said("mix:B:1+2", TapKind::Done), "pot B: mixed afresh");
        assert_eq!(said("prepare:A:0", TapKind::NotYet), "a step of getting pot A ready: not yet");
        assert_eq!(said("wash", TapKind::Undo), "washing up: taken back");
    }
}
