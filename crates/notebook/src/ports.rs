//! What a store must be able to do. One engine writes to disk, one keeps everything in memory.

use std::path::Path;

use crate::{Change, NewChange};

/// Newest shape of the log that this program writes and reads.
pub const FORMAT: u32 = 1;

/// The store could not do it.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum StoreError {
    /// Others wrote in the meantime: read what is new and decide again.
    #[error("the notebook has grown in the meantime; look at it again")]
    Behind,
    /// Written by a later version of the program.
    #[error(
        "this studio was written by a newer groundproof (format {found}, this one reads up to {known}); nothing in it was touched. Open it with that version"
    )]
    Newer {
        /// Format found.
        found: u32,
        /// Format known.
        known: u32,
    },
    /// Not a studio, or hurt.
    #[error(
        "{0}; nothing in it was touched. `groundproof studio check` says more, and a backup can be put back with `groundproof studio restore`"
    )]
    Damaged(String),
    /// Disk, rights, space.
    #[error("the studio could not be written or read: {0}")]
    Disk(String),
}

/// State of a store.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Info {
    /// Format of the log.
    pub format: u32,
    /// Number of the newest change.
    pub changes: u64,
    /// Photos stored.
    pub photos: u64,
    /// Where it lies, as a person would say it; empty in memory.
    pub place: String,
    /// Something to be said when it is opened, such as a folder that is synchronised.
    pub warnings: Vec<String>,
}

/// What a check found.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct CheckReport {
    /// Changes in the log.
    pub changes: u64,
    /// Photos on disk.
    pub photos: u64,
    /// Photos that a change names and that are not there.
    pub missing: Vec<String>,
    /// What is hurt: photos whose bytes changed, entries that can't be read.
    pub damaged: Vec<String>,
    /// Photos that nothing names; harmless, left by an upload that broke off.
    pub orphans: Vec<String>,
    /// Format of the log.
    pub format: u32,
}

/// The log of changes. Entries are only ever added.
pub trait Log: Send {
    /// Adds these entries in one step, if `expected` is still the number of the newest one. They are on disk when this returns.
    /// An id that is stored already is left out and keeps its number.
    ///
    /// # Errors
    /// [`StoreError::Behind`] if others wrote in the meantime; disk trouble.
    fn append(&mut self, changes: &[NewChange], expected: u64) -> Result<Vec<Change>, StoreError>;

    /// Entries after number `n`, oldest first.
    ///
    /// # Errors
    /// Disk trouble; a damaged log.
    fn since(&self, n: u64) -> Result<Vec<Change>, StoreError>;

    /// State of the store.
    ///
    /// # Errors
    /// Disk trouble.
    fn info(&self) -> Result<Info, StoreError>;

    /// Writes a whole copy, photos too, into a folder that does not exist yet.
    ///
    /// # Errors
    /// The folder exists; disk trouble.
    fn backup(&self, to: &Path) -> Result<Info, StoreError>;

    /// Looks at every entry and every photo. `named` are the photos that the notebook speaks of.
    ///
    /// # Errors
    /// Disk trouble.
    fn check(&self, named: &[String]) -> Result<CheckReport, StoreError>;
}

/// Photos and other large things, named by the SHA-256 of their bytes in hexadecimal.
pub trait Blobs: Send + Sync {
    /// Stores bytes; they are on disk when this returns. The same bytes again are the same photo.
    ///
    /// # Errors
    /// Disk trouble.
    fn put(&self, bytes: &[u8]) -> Result<String, StoreError>;

    /// Bytes of that name; `None` if there are none.
    ///
    /// # Errors
    /// Disk trouble; bytes that no longer fit their name.
    fn get(&self, name: &str) -> Result<Option<Vec<u8>>, StoreError>;
}
