//! Names and shapes on disk. They are the format: what stands here for a released format is never changed.

use std::path::{Path, PathBuf};

/// Marks the file as a studio: the letters `GPst` in the header of the database.
pub(crate) const APPLICATION: u32 = 0x4750_7374;

/// Everything that a studio of format 1 is made of, word for word as the database keeps it.
///
/// `zone` is in minutes ahead of UTC, `at` in seconds since 1970. Photos have no table: a file's name is its hash, its length is
/// known to the file system, and what kind of picture it is stands in the change that names it.
pub(crate) const PARTS: [&str; 5] = [
    "CREATE TABLE change (n INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE, at INTEGER NOT NULL, zone INTEGER NOT NULL, device TEXT NOT NULL, kind TEXT NOT NULL, version INTEGER NOT NULL, subject TEXT NOT NULL, expects INTEGER, strikes INTEGER, body TEXT NOT NULL, seal BLOB NOT NULL) STRICT",
    "CREATE TABLE studio (id TEXT NOT NULL PRIMARY KEY, format INTEGER NOT NULL) STRICT",
    "CREATE TRIGGER change_stays BEFORE UPDATE ON change BEGIN SELECT raise(ABORT, 'an entry is never rewritten'); END",
    "CREATE TRIGGER change_is_kept BEFORE DELETE ON change BEGIN SELECT raise(ABORT, 'an entry is never removed'); END",
    "CREATE TRIGGER change_follows BEFORE INSERT ON change WHEN NEW.n IS NOT (SELECT coalesce(max(n), 0) + 1 FROM change) OR EXISTS (SELECT 1 FROM change WHERE id = NEW.id) BEGIN SELECT raise(ABORT, 'an entry follows the newest one and has an id of its own'); END",
];

/// The log.
pub(crate) fn database(folder: &Path) -> PathBuf {
    folder.join("studio.db")
}

/// A file that SQLite keeps beside the log: `-wal`, `-journal`.
pub(crate) fn beside(folder: &Path, ending: &str) -> PathBuf {
    folder.join(format!("studio.db{ending}"))
}

/// Where photos lie.
pub(crate) fn photos(folder: &Path) -> PathBuf {
    folder.join("photos")
}

/// Where this photo lies; `None` if that is no name of a photo.
pub(crate) fn photo(folder: &Path, name: &str) -> Option<PathBuf> {
    let fits = name.len() == 64 && name.bytes().all(|letter| matches!(letter, b'0'..=b'9' | b'a'..=b'f'));
    Some(photos(folder).join(name.get(..2).filter(|_| fits)?).join(name))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_hashes_are_names_of_photos() {
        let hash = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(photo(Path::new("s"), hash), Some(Path::new("s/photos/ba").join(hash)));
        for wrong in ["", "ba", "../../../../etc/passwd", &hash.to_uppercase(), &format!("{hash}0"), &"é".repeat(32)] {
            assert_eq!(photo(Path::new("s"), wrong), None, "{wrong}");
        }
    }
}
