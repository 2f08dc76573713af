//! The notebook page by page: what was written when, and taking it back.

use std::collections::HashMap;

use notebook::{Deed, Entry, Notebook, Stamp, Wanted, deed_name};
use show::{EntryRow, LogView};

use super::{Studio, StudioError, one_line};
use crate::Workbench;

/// Entries on one page.
const A_PAGE: usize = 40;

/// Which part of the log is looked at.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct LogPage {
    /// Entries up to this number; 0 for the newest.
    pub up_to: u64,
    /// Only what holds this word.
    pub search: String,
}

impl Workbench {
    /// Entries, newest first.
    pub fn log(&self, state: &Notebook, page: &LogPage) -> LogView {
        let wanted = one_line(&page.search).to_lowercase();
        let newest = if page.up_to == 0 { u64::MAX } else { page.up_to };
        let mut first: HashMap<&str, u64> = HashMap::new();
        for entry in state.entries() {
            first.entry(entry.subject.as_str()).or_insert(entry.n);
        }
        let is_edit = |entry: &Entry| first.get(entry.subject.as_str()).is_some_and(|n| *n < entry.n) && entry.deed.is_edited();
        let mut rows: Vec<EntryRow> = state
            .entries()
            .iter()
            .rev()
            .filter(|entry| entry.n <= newest)
            .map(|entry| row(state, entry, is_edit(entry)))
            .filter(|row| wanted.is_empty() || row.what.to_lowercase().contains(&wanted) || row.subject.to_lowercase().contains(&wanted))
            .take(A_PAGE + 1)
            .collect();
        let older = if rows.len() > A_PAGE { rows.pop().map(|row| row.n) } else { None };
        LogView { search: one_line(&page.search), up_to: page.up_to, newest: state.n(), rows, older }
    }

    /// How much was kept after an entry, in a sentence.
    pub fn counted_as_of(&self, state: &Notebook, n: u64) -> String {
        let then = state.as_of(n);
        let kinds = [
            ("recipes", then.recipes.len()),
            ("failed boards", then.failed.len()),
            ("jars", then.jars.len()),
            ("weighings", then.weighings.len()),
            ("trials", then.trials.len()),
            ("boards", then.boards.len()),
            ("pots", then.batches.len()),
            ("coats", then.coats.len()),
            ("readings", then.readings.len()),
        ];
        let some: Vec<String> = kinds.into_iter().filter(|(_, count)| *count > 0).map(|(kind, count)| format!("{kind}: {count}")).collect();
        if some.is_empty() { "Nothing was kept then.".into() } else { format!("Kept then: {}.", some.join(", ")) }
    }

    /// Takes an entry back. Nothing is erased: the entry stays in the log, struck out.
    ///
    /// # Errors
    /// Others stand on it; it was taken back already.
    pub fn take_back(&self, studio: &Studio, entry: u64, why: &str, stamp: &Stamp) -> Result<(), StudioError> {
        let why = one_line(why);
        studio.write(stamp, |_| Ok(vec![Wanted::strike(entry, why.clone())])).map(drop)
    }
}

fn row(state: &Notebook, entry: &Entry, edit: bool) -> EntryRow {
    let target = entry.strikes.and_then(|n| state.entry(n));
    let what = match (&entry.deed, target) {
        (Deed::Strike(why), Some(target)) => {
            let of = if matches!(target.deed, Deed::Strike(_)) {
                format!("brought entry {} back", target.n)
            } else {
                format!("took back {}", deed_name(&target.deed, &target.subject))
            };
            if why.is_empty() { of } else { format!("{of}: {why}") }
        }
        (deed, _) => format!("{}{}", if edit { "changed " } else { "" }, deed_name(deed, &entry.subject)),
    };
    EntryRow {
        n: entry.n,
        at: entry.at.to_string(),
        device: entry.device.clone(),
        what,
        subject: entry.subject.clone(),
        address: address(&entry.deed, &entry.subject),
        struck: state.is_struck(entry.n),
        strike: entry.strikes.is_some(),
    }
}

/// Where the thing can be looked at.
fn address(deed: &Deed, subject: &str) -> Option<String> {
    match deed {
        Deed::Recipe(_) => Some(format!("/kept/{subject}")),
        Deed::Failed(_) => Some(format!("/kept-failed/{subject}")),
        Deed::Jar(_) => Some(format!("/shelf/{subject}")),
        Deed::Trial(_) => Some(format!("/trials/{subject}")),
        Deed::Plan(plan) => Some(format!("/trials/{}", plan.trial)),
        Deed::Batch(batch) => Some(format!("/trials/{}", batch.trial)),
        Deed::Board(_) => Some(format!("/board/{subject}")),
        Deed::Coat(coat) => Some(format!("/board/{}", coat.board)),
        Deed::Reading(reading) => Some(format!("/board/{}", reading.board)),
        Deed::Lost(lost) => Some(format!("/board/{}", lost.board)),
        Deed::Paper(paper) => Some(format!("/trials/{}/paper", paper.trial)),
        Deed::Sitting(sitting) => Some(format!("/trials/{}/day/{}", sitting.trial, sitting.day)),
        Deed::BoardMass(mass) => Some(format!("/board/{}", mass.board)),
        Deed::Device(_) | Deed::Tap(_) | Deed::Air(_) | Deed::Weighing(_) | Deed::OwnScale(_) | Deed::Strike(_) => None,
        Deed::Photo(_) => Some(format!("/photos/{subject}")),
        Deed::Look(look) => Some(format!("/photos/{}", look.photo)),
        Deed::Correction(correction) => correction.look.strip_prefix("look-of-").map(|photo| format!("/photos/{photo}")),
        Deed::PotMass(mass) => Some(format!("/trials/{}/pot/{}", mass.trial, show::path_part(&mass.letter))),
        Deed::Binder(_) => Some(format!("/binder/{subject}")),
        Deed::BinderStep(step) => Some(format!("/binder/{}", step.binder)),
        Deed::BinderMeasure(measure) => Some(format!("/binder/{}", measure.binder)),
    }
}
