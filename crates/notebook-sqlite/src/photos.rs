//! Photos as files, named by their bytes.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use notebook::{Blobs, StoreError, name_of};

use crate::disk::{self, Disk};
use crate::error::at;
use crate::layout;

/// Photos on disk.
#[derive(Clone)]
pub struct SqliteBlobs {
    pub(crate) folder: PathBuf,
    pub(crate) disk: Arc<dyn Disk>,
}

impl std::fmt::Debug for SqliteBlobs {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("SqliteBlobs").field("folder", &self.folder).finish_non_exhaustive()
    }
}

impl Blobs for SqliteBlobs {
    fn put(&self, bytes: &[u8]) -> Result<String, StoreError> {
        let name = name_of(bytes);
        put(self.disk.as_ref(), &self.folder, &name, bytes)?;
        Ok(name)
    }

    fn get(&self, name: &str) -> Result<Option<Vec<u8>>, StoreError> {
        let Some(path) = layout::photo(&self.folder, name) else {
            return Ok(None);
        };
        match self.disk.read(&path).map_err(at(&path))? {
            Some(bytes) if name_of(&bytes) != name => {
                Err(StoreError::Damaged(format!("the bytes of photo {name} are no longer those that were put there")))
            }
            found => Ok(found),
        }
    }
}

/// Writes bytes under their name. A photo whose bytes were hurt is written anew.
pub(crate) fn put(disk: &dyn Disk, folder: &Path, name: &str, bytes: &[u8]) -> Result<(), StoreError> {
    let path = layout::photo(folder, name).ok_or_else(|| StoreError::Disk(format!("`{name}` is no name of a photo")))?;
    let photos = layout::photos(folder);
    let shelf = path.parent().unwrap_or(&photos);
    disk.make_folder(shelf).map_err(at(shelf))?;
    let there = disk.read(&path).map_err(at(&path))?.is_some_and(|there| there == bytes);
    if !there {
        let draft = shelf.join(disk::draft_name(name));
        let written = disk::write_synced(disk, &draft, bytes).and_then(|()| disk.rename(&draft, &path));
        if let Err(error) = written {
            // The first trouble is the one to tell of; a draft that stays is found by a check.
            let _ = disk.remove(&draft);
            return Err(at(&path)(error));
        }
    }
    // Also when the photo was there: whoever wrote it may not have come this far.
    for folder in [shelf, &photos, folder] {
        disk.sync_folder(folder).map_err(at(folder))?;
    }
    Ok(())
}

/// A file among the photos.
pub(crate) enum Found {
    /// It has the name of a photo.
    Photo(String),
    /// It has not; the path below `photos`.
    Other(String),
}

/// All files among the photos, in the order of their names.
pub(crate) fn files(folder: &Path) -> Result<Vec<Found>, StoreError> {
    let photos = layout::photos(folder);
    let mut found = Vec::new();
    for shelf in disk::names(&photos).map_err(at(&photos))? {
        let path = photos.join(&shelf);
        if !path.is_dir() {
            found.push(Found::Other(shelf));
            continue;
        }
        for name in disk::names(&path).map_err(at(&path))? {
            let at_home = name.starts_with(&shelf) && layout::photo(folder, &name).is_some();
            found.push(if at_home { Found::Photo(name) } else { Found::Other(format!("{shelf}/{name}")) });
        }
    }
    Ok(found)
}

/// How many photos there are.
pub(crate) fn count(folder: &Path) -> Result<u64, StoreError> {
    Ok(files(folder)?.iter().filter(|file| matches!(file, Found::Photo(_))).count() as u64)
}

#[cfg(test)]
mod tests {
    use std::io;
    use std::sync::Mutex;

    use super::*;
    use crate::disk::{Draft, RealDisk};

    /// The real disk, with a note of each step; after so many steps the disk is full.
    struct Watched {
        steps: Arc<Mutex<Vec<String>>>,
        room: usize,
    }

    struct WatchedDraft {
        steps: Arc<Mutex<Vec<String>>>,
        draft: Box<dyn Draft>,
    }

    impl Watched {
        fn note(&self, step: &str, path: &Path) -> io::Result<()> {
            let mut steps = self.steps.lock().unwrap();
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            steps.push(format!("{step} {}", if name.contains(".new-") { "draft" } else { name.get(..6).unwrap_or(&name) }));
            if steps.len() > self.room { Err(io::ErrorKind::StorageFull.into()) } else { Ok(()) }
        }
    }

    impl Disk for Watched {
        fn read(&self, path: &Path) -> io::Result<Option<Vec<u8>>> {
            RealDisk.read(path)
        }
        fn create(&self, path: &Path) -> io::Result<Box<dyn Draft>> {
            self.note("create", path)?;
            Ok(Box::new(WatchedDraft { steps: Arc::clone(&self.steps), draft: RealDisk.create(path)? }))
        }
        fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
            self.note("rename to", to)?;
            RealDisk.rename(from, to)
        }
        fn remove(&self, path: &Path) -> io::Result<()> {
            RealDisk.remove(path)
        }
        fn make_folder(&self, path: &Path) -> io::Result<()> {
            RealDisk.make_folder(path)
        }
        fn sync_folder(&self, path: &Path) -> io::Result<()> {
            self.note("sync folder", path)?;
            RealDisk.sync_folder(path)
        }
    }

    impl Draft for WatchedDraft {
        fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
            self.steps.lock().unwrap().push("write".to_owned());
            self.draft.write(bytes)
        }
        fn sync(&mut self) -> io::Result<()> {
            self.steps.lock().unwrap().push("sync file".to_owned());
            self.draft.sync()
        }
    }

    fn watched(room: usize) -> (tempfile::TempDir, SqliteBlobs, Arc<Mutex<Vec<String>>>) {
        let place = tempfile::tempdir().unwrap();
        let steps = Arc::new(Mutex::new(Vec::new()));
        let folder = place.path().join("studio");
        (place, SqliteBlobs { folder, disk: Arc::new(Watched { steps: Arc::clone(&steps), room }) }, steps)
    }

    #[test]
    fn bytes_are_synced_before_they_get_their_name_and_folders_after() {
        let (_place, photos, steps) = watched(99);
        photos.put(b"abc").unwrap();
        let folders = ["sync folder ba", "sync folder photos", "sync folder studio"];
        let mut wanted = vec!["create draft", "write", "sync file", "rename to ba7816"];
        wanted.extend(folders);
        assert_eq!(*steps.lock().unwrap(), wanted);

        // The same bytes again: nothing is written.
        steps.lock().unwrap().clear();
        photos.put(b"abc").unwrap();
        assert_eq!(*steps.lock().unwrap(), folders);
    }

    #[test]
    fn a_full_disk_leaves_no_photo_and_no_draft() {
        // The draft can't be made; the photo can't get its name.
        for room in [0, 3] {
            let (place, photos, _) = watched(room);
            let error = photos.put(b"abc").unwrap_err();
            assert!(matches!(&error, StoreError::Disk(text) if text.contains("make room")), "{error}");
            assert_eq!(photos.get(&name_of(b"abc")).unwrap(), None);
            assert_eq!(files(&place.path().join("studio")).unwrap().len(), 0);
        }
    }

    #[test]
    fn hurt_bytes_are_refused_and_can_be_put_again() {
        let (_place, photos, _) = watched(99);
        let name = photos.put(b"abc").unwrap();
        let path = layout::photo(&photos.folder, &name).unwrap();
        RealDisk.remove(&path).unwrap();
        disk::write_synced(&RealDisk, &path, b"abd").unwrap();
        assert!(matches!(photos.get(&name), Err(StoreError::Damaged(_))));
        photos.put(b"abc").unwrap();
        assert_eq!(photos.get(&name).unwrap().as_deref(), Some(b"abc".as_slice()));
        assert_eq!(photos.get("../../studio.db").unwrap(), None);
    }
}
