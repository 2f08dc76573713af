//! Files and folders. A port, so that a test can watch what is synced before what.
#![expect(clippy::disallowed_methods, reason = "this is the notebook's door to the disk")]

use std::fs::{self, DirBuilder, File, OpenOptions};
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};

/// What putting and getting photos asks of a disk.
pub(crate) trait Disk: Send + Sync {
    /// All bytes of a file; `None` if there is no such file.
    fn read(&self, path: &Path) -> io::Result<Option<Vec<u8>>>;
    /// A new file; an error if there is one of that name.
    fn create(&self, path: &Path) -> io::Result<Box<dyn Draft>>;
    /// Gives a file another name, in place of any file of that name.
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()>;
    /// Removes a file.
    fn remove(&self, path: &Path) -> io::Result<()>;
    /// Makes a folder and those above it, for the owner alone; no harm if it is there.
    fn make_folder(&self, path: &Path) -> io::Result<()>;
    /// Returns when the names in a folder have reached the disk.
    fn sync_folder(&self, path: &Path) -> io::Result<()>;
}

/// A file that is being written.
pub(crate) trait Draft {
    /// Adds bytes.
    fn write(&mut self, bytes: &[u8]) -> io::Result<()>;
    /// Returns when the bytes have reached the disk.
    fn sync(&mut self) -> io::Result<()>;
}

/// The disk of this computer.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct RealDisk;

impl Disk for RealDisk {
    fn read(&self, path: &Path) -> io::Result<Option<Vec<u8>>> {
        match fs::read(path) {
            Ok(bytes) => Ok(Some(bytes)),
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
            Err(error) => Err(error),
        }
    }

    fn create(&self, path: &Path) -> io::Result<Box<dyn Draft>> {
        let file = OpenOptions::new().write(true).create_new(true).open(path)?;
        Ok(Box::new(file))
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        fs::rename(from, to)
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        fs::remove_file(path)
    }

    fn make_folder(&self, path: &Path) -> io::Result<()> {
        let mut builder = DirBuilder::new();
        builder.recursive(true);
        #[cfg(unix)]
        std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
        builder.create(path)
    }

    fn sync_folder(&self, path: &Path) -> io::Result<()> {
        // Windows opens no folder as a file and keeps names in its own journal.
        if cfg!(unix) { File::open(path)?.sync_all() } else { Ok(()) }
    }
}

impl Draft for File {
    fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.write_all(bytes)
    }

    fn sync(&mut self) -> io::Result<()> {
        self.sync_all()
    }
}

/// Writes a new file; its bytes have reached the disk when this returns.
pub(crate) fn write_synced(disk: &dyn Disk, path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut draft = disk.create(path)?;
    draft.write(bytes)?;
    draft.sync()
}

/// Whether anything is there, even a link that leads nowhere.
pub(crate) fn is_there(path: &Path) -> bool {
    path.symlink_metadata().is_ok()
}

/// Length of a file; 0 if there is none.
pub(crate) fn length(path: &Path) -> u64 {
    path.metadata().map_or(0, |file| file.len())
}

/// Names in a folder, in order; empty if there is no such folder.
pub(crate) fn names(folder: &Path) -> io::Result<Vec<String>> {
    let entries = match fs::read_dir(folder) {
        Ok(entries) => entries,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
        Err(error) => return Err(error),
    };
    let mut names = entries.map(|entry| Ok(entry?.file_name().to_string_lossy().into_owned())).collect::<io::Result<Vec<_>>>()?;
    names.sort();
    Ok(names)
}

/// Makes a folder and those above it, and returns when their names have reached the disk.
pub(crate) fn make_lasting(folder: &Path) -> io::Result<()> {
    let new: Vec<&Path> = folder.ancestors().take_while(|path| !is_there(path)).collect();
    RealDisk.make_folder(folder)?;
    new.iter().filter_map(|path| path.parent()).try_for_each(|above| RealDisk.sync_folder(above))
}

/// Gives a file its name unless that name is taken; `false` if it is.
pub(crate) fn rename_new(from: &Path, to: &Path) -> io::Result<bool> {
    match fs::hard_link(from, to) {
        Ok(()) => fs::remove_file(from).map(|()| true),
        Err(_) if is_there(to) => fs::remove_file(from).map(|()| false),
        // Some file systems, such as that of a memory stick, know no second name for a file.
        Err(_) => fs::rename(from, to).map(|()| true),
    }
}

/// Syncs a file that somebody else wrote.
pub(crate) fn sync_file(path: &Path) -> io::Result<()> {
    OpenOptions::new().write(true).open(path)?.sync_all()
}

/// Removes a folder that never became anything. What can't be removed is left: it has a name that nobody takes for a studio.
pub(crate) fn discard(folder: &Path) {
    let _ = fs::remove_dir_all(folder);
}

/// A name that no other draft has, here or in another process.
pub(crate) fn draft_name(stem: &str) -> String {
    static COUNT: AtomicU64 = AtomicU64::new(0);
    format!("{stem}.new-{}-{}", std::process::id(), COUNT.fetch_add(1, Ordering::Relaxed))
}

/// The path without links, as far as it exists.
pub(crate) fn without_links(path: &Path) -> PathBuf {
    fs::canonicalize(path).unwrap_or_else(|_| path.to_owned())
}

/// What is mounted, where the system tells; empty elsewhere.
pub(crate) fn mounts() -> String {
    if cfg!(target_os = "linux") { fs::read_to_string("/proc/mounts").unwrap_or_default() } else { String::new() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_taken_name_stays_with_its_file() {
        let place = tempfile::tempdir().unwrap();
        let (first, second, name) = (place.path().join("1"), place.path().join("2"), place.path().join("name"));
        fs::write(&first, "first").unwrap();
        fs::write(&second, "second").unwrap();
        assert!(rename_new(&first, &name).unwrap());
        assert!(!rename_new(&second, &name).unwrap());
        assert_eq!(fs::read_to_string(&name).unwrap(), "first");
        assert_eq!(names(place.path()).unwrap(), ["name"]);
    }

    #[cfg(unix)]
    #[test]
    fn folders_are_for_the_owner_alone() {
        use std::os::unix::fs::PermissionsExt as _;
        let place = tempfile::tempdir().unwrap();
        let folder = place.path().join("a/b");
        RealDisk.make_folder(&folder).unwrap();
        RealDisk.make_folder(&folder).unwrap();
        assert_eq!(folder.metadata().unwrap().permissions().mode() & 0o777, 0o700);
    }
}
