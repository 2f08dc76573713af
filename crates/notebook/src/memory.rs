//! A store that is gone when the program ends: for the example studio and for tests.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::{Mutex, PoisonError};

use sha2::{Digest, Sha256};

use crate::{Blobs, Change, CheckReport, FORMAT, Info, Log, NewChange, StoreError};

/// A log in memory.
#[derive(Debug, Default)]
pub struct MemoryLog {
    changes: Vec<Change>,
}

/// Photos in memory.
#[derive(Debug, Default)]
pub struct MemoryBlobs {
    photos: Mutex<BTreeMap<String, Vec<u8>>>,
}

impl MemoryLog {
    fn last(&self) -> u64 {
        self.changes.last().map_or(0, |change| change.n)
    }
}

impl Log for MemoryLog {
    fn append(&mut self, changes: &[NewChange], expected: u64) -> Result<Vec<Change>, StoreError> {
        if self.last() != expected {
            return Err(StoreError::Behind);
        }
        let mut stored = Vec::with_capacity(changes.len());
        for entry in changes {
            if let Some(known) = self.changes.iter().find(|change| change.entry.id == entry.id) {
                stored.push(known.clone());
                continue;
            }
            let change = Change { n: self.last() + 1, entry: entry.clone() };
            self.changes.push(change.clone());
            stored.push(change);
        }
        Ok(stored)
    }

    fn since(&self, n: u64) -> Result<Vec<Change>, StoreError> {
        Ok(self.changes.iter().filter(|change| change.n > n).cloned().collect())
    }

    fn info(&self) -> Result<Info, StoreError> {
        Ok(Info { format: FORMAT, changes: self.last(), ..Info::default() })
    }

    fn backup(&self, _to: &Path) -> Result<Info, StoreError> {
        Err(StoreError::Disk("this studio lies in memory only and has no copy on disk".into()))
    }

    fn check(&self, _named: &[String]) -> Result<CheckReport, StoreError> {
        Ok(CheckReport { changes: self.last(), format: FORMAT, ..CheckReport::default() })
    }
}

impl Blobs for MemoryBlobs {
    fn put(&self, bytes: &[u8]) -> Result<String, StoreError> {
        let name = name_of(bytes);
        self.photos.lock().unwrap_or_else(PoisonError::into_inner).insert(name.clone(), bytes.to_vec());
        Ok(name)
    }

    fn get(&self, name: &str) -> Result<Option<Vec<u8>>, StoreError> {
        Ok(self.photos.lock().unwrap_or_else(PoisonError::into_inner).get(name).cloned())
    }
}

/// Name of these bytes: their SHA-256 in hexadecimal.
///
/// ```
/// // FIPS 180-2, appendix B.1
/// assert_eq!(notebook::name_of(b"abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
/// ```
pub fn name_of(bytes: &[u8]) -> String {
    use std::fmt::Write as _;
    Sha256::digest(bytes).iter().fold(String::with_capacity(64), |mut text, byte| {
        // Writing to a text can't fail.
        let _ = write!(text, "{byte:02x}");
        text
    })
}
