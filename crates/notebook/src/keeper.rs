//! Joins the log to its fold: decides, writes, then shows. What is shown is always on disk.

use std::path::Path;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError, RwLock};

use crate::decide::{Refusal, Wanted};
use crate::deed::DeedError;
use crate::fold::Notebook;
use crate::{Blobs, CheckReport, Info, Log, Stamp, StoreError};

/// Why nothing was written.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum KeepError {
    /// The notebook does not allow it.
    #[error(transparent)]
    Refused(#[from] Refusal),
    /// The store could not.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// The log holds something that can't be understood.
    #[error(transparent)]
    Unread(#[from] DeedError),
}

/// Tries before giving up when another process keeps writing.
const TRIES: usize = 20;

/// Keeps one studio: many may read at once, one writes.
pub struct Keeper {
    log: Mutex<Box<dyn Log>>,
    blobs: Box<dyn Blobs>,
    state: RwLock<Arc<Notebook>>,
}

impl std::fmt::Debug for Keeper {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Keeper").field("n", &self.state().n()).finish_non_exhaustive()
    }
}

impl Keeper {
    /// Reads the log and folds it.
    ///
    /// # Errors
    /// The store can't be read, or holds something that can't be understood.
    pub fn open(log: Box<dyn Log>, blobs: Box<dyn Blobs>) -> Result<Self, KeepError> {
        let state = Notebook::fold(&log.since(0)?)?;
        Ok(Self { log: Mutex::new(log), blobs, state: RwLock::new(Arc::new(state)) })
    }

    fn writing(&self) -> MutexGuard<'_, Box<dyn Log>> {
        // A thread that panicked while writing left the log as the store keeps it: whole.
        self.log.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn show(&self, state: &Arc<Notebook>) {
        *self.state.write().unwrap_or_else(PoisonError::into_inner) = Arc::clone(state);
    }

    /// The notebook as it stands.
    pub fn state(&self) -> Arc<Notebook> {
        Arc::clone(&self.state.read().unwrap_or_else(PoisonError::into_inner))
    }

    /// Reads what other processes wrote.
    ///
    /// # Errors
    /// The store can't be read, or holds something that can't be understood.
    pub fn refresh(&self) -> Result<Arc<Notebook>, KeepError> {
        let log = self.writing();
        let state = self.state();
        let newer = log.since(state.n())?;
        if newer.is_empty() {
            return Ok(state);
        }
        let next = Arc::new(state.with(&newer)?);
        self.show(&next);
        Ok(next)
    }

    /// Writes what `wish` makes of the notebook as it stands, all of it or nothing. It is on disk when this returns.
    ///
    /// # Errors
    /// The notebook does not allow it; the store could not.
    pub fn record<E: From<KeepError>>(
        &self,
        stamp: &Stamp,
        wish: impl Fn(&Notebook) -> Result<Vec<Wanted>, E>,
    ) -> Result<Arc<Notebook>, E> {
        let mut log = self.writing();
        for _ in 0..TRIES {
            let state = self.state();
            let newer = log.since(state.n()).map_err(KeepError::from)?;
            let state = if newer.is_empty() { state } else { Arc::new(state.with(&newer).map_err(KeepError::from)?) };
            // The same request again: it is written already, or was taken back since.
            if let Some(known) = state.entries().iter().rev().find(|entry| entry.id == stamp.entry(0)) {
                if state.is_struck(known.n) {
                    return Err(KeepError::from(Refusal::Struck).into());
                }
                self.show(&state);
                return Ok(state);
            }
            let wanted = wish(&state)?;
            let changes = state.decide(&wanted, stamp).map_err(KeepError::from)?;
            match log.append(&changes, state.n()) {
                Ok(stored) => {
                    let next = Arc::new(state.with(&stored).map_err(KeepError::from)?);
                    self.show(&next);
                    return Ok(next);
                }
                Err(StoreError::Behind) => {}
                Err(other) => return Err(KeepError::from(other).into()),
            }
        }
        Err(KeepError::from(StoreError::Behind).into())
    }

    /// Stores a photo; it is on disk when this returns.
    ///
    /// # Errors
    /// The store could not.
    pub fn put_photo(&self, bytes: &[u8]) -> Result<String, KeepError> {
        Ok(self.blobs.put(bytes)?)
    }

    /// A photo.
    ///
    /// # Errors
    /// The store could not.
    pub fn photo(&self, name: &str) -> Result<Option<Vec<u8>>, KeepError> {
        Ok(self.blobs.get(name)?)
    }

    /// State of the store.
    ///
    /// # Errors
    /// The store could not.
    pub fn info(&self) -> Result<Info, KeepError> {
        Ok(self.writing().info()?)
    }

    /// Copies the studio into a new folder.
    ///
    /// # Errors
    /// The folder exists; disk trouble.
    pub fn backup(&self, to: &Path) -> Result<Info, KeepError> {
        Ok(self.writing().backup(to)?)
    }

    /// Looks at every entry and every photo.
    ///
    /// # Errors
    /// The store could not.
    pub fn check(&self) -> Result<CheckReport, KeepError> {
        let named = self.state().photo_names();
        Ok(self.writing().check(&named)?)
    }
}
