//! Where a studio lies, and what is to be said about that place.

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use notebook::StoreError;

use crate::disk;

/// Beginnings of folder names, in small letters, that programs give to folders which they carry to other computers.
const CARRIED: [&str; 13] = [
    "dropbox",
    "onedrive",
    "icloud",
    "mobile documents",
    "cloudstorage",
    "nextcloud",
    "owncloud",
    "google drive",
    "googledrive",
    "my drive",
    "pcloud",
    "seafile",
    "syncthing",
];

/// File systems that live on another computer, as Linux calls them.
const FAR: [&str; 16] = [
    "9p",
    "afs",
    "ceph",
    "cifs",
    "davfs",
    "fuse.davfs2",
    "fuse.glusterfs",
    "fuse.rclone",
    "fuse.sshfs",
    "glusterfs",
    "ncpfs",
    "nfs",
    "nfs4",
    "smb2",
    "smb3",
    "smbfs",
];

/// The folder of the painter's own studio: in the system's place for data. In builds for development it is a folder under the one for
/// temporary files, so that trying something out never touches a real notebook.
///
/// # Errors
/// The system names no such place.
#[expect(clippy::disallowed_methods, reason = "the place for data is named by the environment")]
pub fn default_folder() -> Result<PathBuf, StoreError> {
    if cfg!(debug_assertions) {
        return Ok(std::env::temp_dir().join("groundproof-development"));
    }
    let home = || std::env::home_dir().filter(|home| home.is_absolute());
    let system = if cfg!(windows) {
        System::Windows
    } else if cfg!(target_os = "macos") {
        System::Mac
    } else {
        System::Other
    };
    folder(system, |name| std::env::var_os(name), home)
        .ok_or_else(|| StoreError::Disk("this system names no place for data; name a folder yourself".into()))
}

#[derive(Debug, Clone, Copy)]
enum System {
    Windows,
    Mac,
    Other,
}

fn folder(system: System, variable: impl Fn(&str) -> Option<OsString>, home: impl Fn() -> Option<PathBuf>) -> Option<PathBuf> {
    // A path that is not absolute is to be ignored: XDG Base Directory Specification.
    let named = |name| variable(name).map(PathBuf::from).filter(|path| path.is_absolute());
    let place = match system {
        System::Windows => named("APPDATA")?,
        System::Mac => home()?.join("Library").join("Application Support"),
        System::Other => named("XDG_DATA_HOME").or_else(|| Some(home()?.join(".local").join("share")))?,
    };
    Some(place.join("groundproof"))
}

/// The path from the root.
pub(crate) fn absolute(folder: &Path) -> Result<PathBuf, StoreError> {
    std::path::absolute(folder).map_err(crate::error::at(folder))
}

/// What is to be said about a place.
pub(crate) fn warnings(folder: &Path) -> Vec<String> {
    let found = disk::without_links(folder);
    let carried = carrier(&found).or_else(|| carrier(folder));
    let carried = carried.map(|name| format!(
        "The studio lies in a folder that seems to be synchronised (`{name}`). If two computers write there, or a half-written file is carried over, it can be damaged: keep the studio on this computer alone, and put backups there."
    ));
    let far = is_far(&found, &disk::mounts()).then(|| {
        "The studio lies on another computer, reached over the network. Two computers that write there can damage it: keep it on a disk of this computer, and put backups there.".to_owned()
    });
    carried.into_iter().chain(far).collect()
}

/// The part of the path that speaks of a synchronised folder.
fn carrier(folder: &Path) -> Option<String> {
    folder
        .components()
        .map(|part| part.as_os_str().to_string_lossy())
        .find(|part| CARRIED.iter().any(|begin| part.to_lowercase().starts_with(begin)))
        .map(std::borrow::Cow::into_owned)
}

/// Whether the folder is on another computer, going by what is mounted (proc_mounts(5): device, place, kind, ...).
fn is_far(folder: &Path, mounts: &str) -> bool {
    let kind = mounts
        .lines()
        .filter_map(|line| {
            let mut fields = line.split(' ');
            let place = fields.nth(1)?.replace("\\040", " ");
            Some((place, fields.next()?))
        })
        .filter(|(place, _)| folder.starts_with(place))
        // What was mounted last lies on top.
        .max_by_key(|(place, _)| place.len());
    kind.is_some_and(|(_, kind)| FAR.contains(&kind)) || folder.to_string_lossy().starts_with(r"\\")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn builds_for_development_keep_away_from_the_real_notebook() {
        let folder = default_folder().unwrap();
        assert!(folder.ends_with("groundproof-development"), "{}", folder.display());
    }

    #[cfg(unix)]
    #[test]
    fn data_goes_where_the_system_wants_it() {
        // XDG Base Directory Specification 0.8; Apple, File System Programming Guide.
        let home = || Some(PathBuf::from("/home/keeper"));
        let none = |_: &str| None;
        let say = |value: &'static str| move |name: &str| (name == "XDG_DATA_HOME").then(|| OsString::from(value));
        let at = |path: &str| Some(PathBuf::from(path));
        assert_eq!(folder(System::Other, none, home), at("/home/keeper/.local/share/groundproof"));
        assert_eq!(folder(System::Other, say("/data"), home), at("/data/groundproof"));
        assert_eq!(folder(System::Other, say("data"), home), at("/home/keeper/.local/share/groundproof"));
        assert_eq!(folder(System::Mac, none, home), at("/home/keeper/Library/Application Support/groundproof"));
        assert_eq!(folder(System::Other, none, || None), None);
        assert_eq!(folder(System::Windows, none, home), None);
    }

    #[test]
    fn carried_folders_are_seen() {
        for path in ["/home/k/Dropbox/gp", "/home/k/OneDrive - Workshop/gp", "/Users/k/Library/Mobile Documents/gp", "/home/k/NextCloud/gp"]
        {
            assert!(carrier(Path::new(path)).is_some(), "{path}");
        }
        for path in ["/home/k/gp", "/home/k/sky/gp", "/home/k/my boards"] {
            assert_eq!(carrier(Path::new(path)), None, "{path}");
        }
    }

    #[test]
    fn far_file_systems_are_seen() {
        let mounts =
            "/dev/sda1 / ext4 rw 0 0\nkeep:/x /mnt/the\\040keep nfs4 rw 0 0\n/dev/sdb1 /mnt/the\\040keep/stick vfat rw 0 0\n\nodd\n";
        assert!(is_far(Path::new("/mnt/the keep/gp"), mounts));
        assert!(!is_far(Path::new("/mnt/the keep/stick/gp"), mounts));
        assert!(!is_far(Path::new("/mnt/the keeper"), mounts));
        assert!(!is_far(Path::new("/home/k"), ""));
        assert!(is_far(Path::new(r"\\keep\boards"), ""));
    }
}
