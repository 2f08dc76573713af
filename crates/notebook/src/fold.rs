//! The state of the notebook: everything recorded and not taken back.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use crate::binder::{Binder, BinderMeasure, BinderStep};
use crate::deed::{Deed, DeedError};
use crate::record::{
    Air, Batch, Board, BoardMass, Coat, Device, Failed, Jar, Lost, OwnScale, Paper, Photo, Plan, PotMass, Reading, Recipe, Sitting, Tap,
    Trial, Weighing,
};
use crate::sight::{Correction, Look};
use crate::{Change, Moment};

/// A record with where it stands in the log.
#[derive(Debug, Clone, PartialEq)]
pub struct Kept<T> {
    /// What it is about.
    pub subject: String,
    /// Entry that wrote it last; an edit is made from this one.
    pub n: u64,
    /// When it was written first.
    pub first: Moment,
    /// When it was written last.
    pub at: Moment,
    /// Device that wrote it last.
    pub device: String,
    /// The record.
    pub record: T,
}

/// Records of one kind, by subject.
pub type Shelf<T> = BTreeMap<String, Arc<Kept<T>>>;

/// An entry as the page of the notebook lists it.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// Number.
    pub n: u64,
    /// Id given by the device.
    pub id: String,
    /// When.
    pub at: Moment,
    /// Device.
    pub device: String,
    /// What it is about.
    pub subject: String,
    /// Entry that it takes back.
    pub strikes: Option<u64>,
    /// What was done.
    pub deed: Deed,
}

/// What stands on one board.
#[derive(Debug, Clone, Default)]
struct OnBoard {
    coats: Vec<Arc<Kept<Coat>>>,
    readings: Vec<Arc<Kept<Reading>>>,
    masses: Vec<Arc<Kept<BoardMass>>>,
}

/// What happened in one sitting.
#[derive(Debug, Clone, Default)]
struct InSitting {
    taps: Vec<Arc<Kept<Tap>>>,
    air: Vec<Arc<Kept<Air>>>,
}

/// The notebook at one moment. Cheap to clone: records are shared.
#[derive(Debug, Clone, Default)]
pub struct Notebook {
    entries: Vec<Arc<Entry>>,
    struck: BTreeSet<u64>,
    heads: BTreeMap<String, u64>,
    /// Boards by their trial, and what was laid and seen by its board: no page goes through all readings to find those of one board.
    by_trial: BTreeMap<String, Arc<Vec<Arc<Kept<Board>>>>>,
    by_board: BTreeMap<String, Arc<OnBoard>>,
    by_sitting: BTreeMap<String, Arc<InSitting>>,
    /// Recipes.
    pub recipes: Shelf<Recipe>,
    /// Boards that failed outside a trial.
    pub failed: Shelf<Failed>,
    /// Jars.
    pub jars: Shelf<Jar>,
    /// Own measured values.
    pub weighings: Shelf<Weighing>,
    /// Trials.
    pub trials: Shelf<Trial>,
    /// Fixed plans, by their own subject.
    pub plans: Shelf<Plan>,
    /// Boards.
    pub boards: Shelf<Board>,
    /// Pots.
    pub batches: Shelf<Batch>,
    /// Coats.
    pub coats: Shelf<Coat>,
    /// Readings.
    pub readings: Shelf<Reading>,
    /// Lost boards.
    pub lost: Shelf<Lost>,
    /// Photos.
    pub photos: Shelf<Photo>,
    /// What photos show, each under [`crate::look_of`] its photo.
    pub looks: Shelf<Look>,
    /// What was put right, each under [`crate::correction_of`] its photo.
    pub corrections: Shelf<Correction>,
    /// Own scales.
    pub scales: Shelf<OwnScale>,
    /// Finished papers.
    pub papers: Shelf<Paper>,
    /// Days of laying coats.
    pub sittings: Shelf<Sitting>,
    /// Phones that were let in.
    pub devices: Shelf<Device>,
    /// Weighings of pots, and water put into them.
    pub pot_masses: Shelf<PotMass>,
    /// Binders of the painter's own making.
    pub binders: Shelf<Binder>,
    /// Steps done on them.
    pub binder_steps: Shelf<BinderStep>,
    /// Measurements of them.
    pub binder_measures: Shelf<BinderMeasure>,
}

impl Notebook {
    /// The notebook after these changes, in order from the first.
    ///
    /// # Errors
    /// An entry that can't be understood.
    pub fn fold(changes: &[Change]) -> Result<Self, DeedError> {
        let mut entries = Vec::with_capacity(changes.len());
        for change in changes {
            entries.push(Arc::new(read(change)?));
        }
        Ok(Self::of(entries))
    }

    /// The notebook as it was after entry `n`.
    #[must_use]
    pub fn as_of(&self, n: u64) -> Self {
        Self::of(self.entries.iter().filter(|entry| entry.n <= n).cloned().collect())
    }

    /// What was kept outside of trials after entry `n`: recipes and failed boards, nothing else. Quicker than [`Notebook::as_of`].
    #[must_use]
    pub fn kept_as_of(&self, n: u64) -> Self {
        let is_kept = |entry: &Entry| matches!(entry.deed, Deed::Recipe(_) | Deed::Failed(_) | Deed::Strike(_));
        Self::of(self.entries.iter().filter(|entry| entry.n <= n && is_kept(entry)).cloned().collect())
    }

    /// The notebook with these newer changes.
    ///
    /// # Errors
    /// An entry that can't be understood.
    pub fn with(&self, newer: &[Change]) -> Result<Self, DeedError> {
        let mut read_ones = Vec::with_capacity(newer.len());
        for change in newer.iter().filter(|change| change.n > self.n()) {
            read_ones.push(Arc::new(read(change)?));
        }
        // A strike reaches back, so everything is gone through again; that is rare and quick.
        if read_ones.iter().any(|entry| entry.strikes.is_some()) {
            return Ok(Self::of(self.entries.iter().cloned().chain(read_ones).collect()));
        }
        let mut next = self.clone();
        for entry in read_ones {
            next.apply(&entry);
            next.entries.push(entry);
        }
        Ok(next)
    }

    fn of(entries: Vec<Arc<Entry>>) -> Self {
        let mut struck = BTreeSet::new();
        // From the newest back: a strike that was struck itself does nothing.
        for entry in entries.iter().rev() {
            if let Some(target) = entry.strikes
                && !struck.contains(&entry.n)
            {
                struck.insert(target);
            }
        }
        let mut state = Self { struck, ..Self::default() };
        for entry in &entries {
            if !state.struck.contains(&entry.n) {
                state.apply(entry);
            }
        }
        state.entries = entries;
        state
    }

    fn apply(&mut self, entry: &Arc<Entry>) {
        match &entry.deed {
            Deed::Recipe(record) => drop(put(&mut self.recipes, entry, record)),
            Deed::Failed(record) => drop(put(&mut self.failed, entry, record)),
            Deed::Jar(record) => drop(put(&mut self.jars, entry, record)),
            Deed::Weighing(record) => drop(put(&mut self.weighings, entry, record)),
            Deed::Trial(record) => drop(put(&mut self.trials, entry, record)),
            Deed::Plan(record) => drop(put(&mut self.plans, entry, record)),
            Deed::Board(record) => {
                let kept = put(&mut self.boards, entry, record);
                add(Arc::make_mut(self.by_trial.entry(record.trial.clone()).or_default()), kept);
            }
            Deed::Batch(record) => drop(put(&mut self.batches, entry, record)),
            Deed::Coat(record) => {
                let kept = put(&mut self.coats, entry, record);
                add(&mut Arc::make_mut(self.by_board.entry(record.board.clone()).or_default()).coats, kept);
            }
            Deed::Reading(record) => {
                let kept = put(&mut self.readings, entry, record);
                add(&mut Arc::make_mut(self.by_board.entry(record.board.clone()).or_default()).readings, kept);
            }
            Deed::Lost(record) => drop(put(&mut self.lost, entry, record)),
            Deed::Photo(record) => drop(put(&mut self.photos, entry, record)),
            Deed::Look(record) => drop(put(&mut self.looks, entry, record)),
            Deed::Correction(record) => drop(put(&mut self.corrections, entry, record)),
            Deed::OwnScale(record) => drop(put(&mut self.scales, entry, record)),
            Deed::Paper(record) => drop(put(&mut self.papers, entry, record)),
            Deed::Sitting(record) => drop(put(&mut self.sittings, entry, record)),
            Deed::Tap(record) => {
                let sitting = self.by_sitting.entry(record.sitting.clone()).or_default();
                add(&mut Arc::make_mut(sitting).taps, kept(entry, entry.at, record));
            }
            Deed::Air(record) => {
                let sitting = self.by_sitting.entry(record.sitting.clone()).or_default();
                add(&mut Arc::make_mut(sitting).air, kept(entry, entry.at, record));
            }
            Deed::BoardMass(record) => {
                let board = self.by_board.entry(record.board.clone()).or_default();
                add(&mut Arc::make_mut(board).masses, kept(entry, entry.at, record));
            }
            Deed::Device(record) => drop(put(&mut self.devices, entry, record)),
            Deed::PotMass(record) => drop(put(&mut self.pot_masses, entry, record)),
            Deed::Binder(record) => drop(put(&mut self.binders, entry, record)),
            Deed::BinderStep(record) => drop(put(&mut self.binder_steps, entry, record)),
            Deed::BinderMeasure(record) => drop(put(&mut self.binder_measures, entry, record)),
            Deed::Strike(_) => return,
        }
        self.heads.insert(entry.subject.clone(), entry.n);
    }

    /// Number of the newest entry; 0 for an empty notebook.
    pub fn n(&self) -> u64 {
        self.entries.last().map_or(0, |entry| entry.n)
    }

    /// All entries, oldest first, struck ones among them.
    pub fn entries(&self) -> &[Arc<Entry>] {
        &self.entries
    }

    /// One entry.
    pub fn entry(&self, n: u64) -> Option<&Arc<Entry>> {
        let at = self.entries.binary_search_by_key(&n, |entry| entry.n).ok()?;
        self.entries.get(at)
    }

    /// Whether an entry was taken back.
    pub fn is_struck(&self, n: u64) -> bool {
        self.struck.contains(&n)
    }

    /// Entry that wrote this subject last and still stands.
    pub fn head(&self, subject: &str) -> Option<u64> {
        self.heads.get(subject).copied()
    }

    /// The plan that was fixed for a trial.
    pub fn plan_of(&self, trial: &str) -> Option<&Arc<Kept<Plan>>> {
        self.plans.values().find(|plan| plan.record.trial == trial)
    }

    /// Boards of a trial in the order of laying.
    pub fn boards_of(&self, trial: &str) -> Vec<&Arc<Kept<Board>>> {
        let mut boards: Vec<_> = self.by_trial.get(trial).map(|boards| boards.iter().collect()).unwrap_or_default();
        boards.sort_by(|a, b| {
            (a.record.planned.day, a.record.planned.order, &a.subject).cmp(&(b.record.planned.day, b.record.planned.order, &b.subject))
        });
        boards
    }

    /// Coats of a board in the order laid.
    pub fn coats_of(&self, board: &str) -> Vec<&Arc<Kept<Coat>>> {
        let mut coats: Vec<_> = self.by_board.get(board).map(|on| on.coats.iter().collect()).unwrap_or_default();
        coats.sort_by_key(|coat| (coat.record.number, coat.record.laid, coat.n));
        coats
    }

    /// Readings of a board, oldest first.
    pub fn readings_of(&self, board: &str) -> Vec<&Arc<Kept<Reading>>> {
        let mut readings: Vec<_> = self.by_board.get(board).map(|on| on.readings.iter().collect()).unwrap_or_default();
        readings.sort_by_key(|reading| reading.n);
        readings
    }

    /// Weighings of a board while it dries, in the order of time.
    pub fn masses_of(&self, board: &str) -> Vec<&Arc<Kept<BoardMass>>> {
        let mut masses: Vec<_> = self.by_board.get(board).map(|on| on.masses.iter().collect()).unwrap_or_default();
        masses.sort_by_key(|mass| (mass.record.at, mass.n));
        masses
    }

    /// Taps of a sitting in the order in which they were written down.
    pub fn taps_of(&self, sitting: &str) -> &[Arc<Kept<Tap>>] {
        self.by_sitting.get(sitting).map_or(&[], |all| all.taps.as_slice())
    }

    /// Air of a sitting in the order in which it was written down.
    pub fn air_of(&self, sitting: &str) -> &[Arc<Kept<Air>>] {
        self.by_sitting.get(sitting).map_or(&[], |all| all.air.as_slice())
    }

    /// The sitting of this day of a trial, if it was begun.
    pub fn sitting_of(&self, trial: &str, day: u32) -> Option<&Arc<Kept<Sitting>>> {
        self.sittings.values().find(|sitting| sitting.record.trial == trial && sitting.record.day == day)
    }

    /// Why a board is lost, if it is.
    pub fn loss_of(&self, board: &str) -> Option<&str> {
        self.lost.values().find(|lost| lost.record.board == board).map(|lost| lost.record.reason.as_str())
    }

    /// Pot of this letter in a trial.
    pub fn batch_of(&self, trial: &str, letter: &str) -> Option<&Arc<Kept<Batch>>> {
        self.batches.values().find(|batch| batch.record.trial == trial && batch.record.letter == letter)
    }

    /// Weighings of a pot and water put into it, in the order of their time.
    pub fn pot_masses_of(&self, trial: &str, letter: &str) -> Vec<&Arc<Kept<PotMass>>> {
        let mut found: Vec<_> =
            self.pot_masses.values().filter(|kept| kept.record.trial == trial && kept.record.letter == letter).collect();
        found.sort_by_key(|kept| (kept.record.at, kept.n));
        found
    }

    /// Steps done on a binder, in the order of their time.
    pub fn steps_of_binder(&self, binder: &str) -> Vec<&Arc<Kept<BinderStep>>> {
        let mut found: Vec<_> = self.binder_steps.values().filter(|kept| kept.record.binder == binder).collect();
        found.sort_by_key(|kept| (kept.record.at, kept.n));
        found
    }

    /// Measurements of a binder, in the order of their time.
    pub fn measures_of_binder(&self, binder: &str) -> Vec<&Arc<Kept<BinderMeasure>>> {
        let mut found: Vec<_> = self.binder_measures.values().filter(|kept| kept.record.binder == binder).collect();
        found.sort_by_key(|kept| (kept.record.at, kept.n));
        found
    }

    /// Pots that a binder went into.
    pub fn batches_with_binder(&self, binder: &str) -> Vec<&Arc<Kept<Batch>>> {
        self.batches.values().filter(|kept| kept.record.binder.as_deref() == Some(binder)).collect()
    }

    /// Names of all photos and papers that any entry speaks of, struck ones too: nothing recorded is thrown away.
    pub fn photo_names(&self) -> Vec<String> {
        let mut names: Vec<String> = self
            .entries
            .iter()
            .flat_map(|entry| match &entry.deed {
                Deed::Photo(photo) => vec![photo.bytes.clone()],
                Deed::Reading(reading) => reading.photo.iter().cloned().collect(),
                Deed::Look(look) => vec![look.found.paths.clone()],
                Deed::Correction(correction) => vec![correction.found.paths.clone()],
                Deed::Paper(paper) => vec![paper.pdf.clone(), paper.data.clone()],
                _ => Vec::new(),
            })
            .filter(|name| !name.is_empty())
            .collect();
        names.sort();
        names.dedup();
        names
    }
}

fn read(change: &Change) -> Result<Entry, DeedError> {
    let entry = &change.entry;
    Ok(Entry {
        n: change.n,
        id: entry.id.clone(),
        at: entry.at,
        device: entry.device.clone(),
        subject: entry.subject.clone(),
        strikes: entry.strikes,
        deed: Deed::read(change.n, &entry.kind, entry.version, &entry.body)?,
    })
}

/// Adds a record to an index, in place of an older one about the same.
fn add<T>(list: &mut Vec<Arc<Kept<T>>>, kept: Arc<Kept<T>>) {
    list.retain(|known| known.subject != kept.subject);
    list.push(kept);
}

fn put<T: Clone>(shelf: &mut Shelf<T>, entry: &Entry, record: &T) -> Arc<Kept<T>> {
    let first = shelf.get(&entry.subject).map_or(entry.at, |known| known.first);
    let kept = kept(entry, first, record);
    shelf.insert(entry.subject.clone(), Arc::clone(&kept));
    kept
}

fn kept<T: Clone>(entry: &Entry, first: Moment, record: &T) -> Arc<Kept<T>> {
    let device = entry.device.clone();
    Arc::new(Kept { subject: entry.subject.clone(), n: entry.n, first, at: entry.at, device, record: record.clone() })
}
