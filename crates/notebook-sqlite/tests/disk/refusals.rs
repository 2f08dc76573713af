//! What is no studio is refused, in a sentence, and left as it was.

use std::fs;
use std::path::{Path, PathBuf};

use notebook::{Log as _, StoreError};
use notebook_sqlite::Studio;
use rusqlite::Connection;
use tempfile::TempDir;

use super::{copy_folder, fill, picture};

fn studio() -> (TempDir, PathBuf) {
    let place = tempfile::tempdir().unwrap();
    let folder = place.path().join("studio");
    let (mut log, _) = Studio::open(&folder).unwrap();
    fill(&mut log, 20);
    drop(log);
    (place, folder)
}

/// Opening fails; the folder stays the same byte for byte, and a check of it names the same trouble.
fn refused(folder: &Path) -> StoreError {
    let before = picture(folder);
    let error = Studio::open(folder).unwrap_err();
    assert!(picture(folder) == before, "something changed after: {error}");
    assert!(error.to_string().len() > 40, "{error}");
    if !matches!(error, StoreError::Disk(_)) {
        let report = Studio::examine(folder).unwrap();
        assert!(report.damaged.contains(&error.to_string()), "{error}\n{report:?}");
        assert!(picture(folder) == before);
    }
    error
}

fn damaged(folder: &Path, says: &str) {
    let error = refused(folder);
    assert!(matches!(&error, StoreError::Damaged(text) if text.contains(says)), "{error}");
}

#[test]
fn a_newer_format() {
    let newer = StoreError::Newer { found: 2, known: 1 };
    let (_place, folder) = studio();
    // As a newer program would leave it: the header says it, and the table.
    for sql in
        ["PRAGMA user_version = 2", "UPDATE studio SET format = 2; ALTER TABLE studio ADD COLUMN mood TEXT", "PRAGMA user_version = 1"]
    {
        Connection::open(folder.join("studio.db")).unwrap().execute_batch(sql).unwrap();
        assert_eq!(refused(&folder), newer, "{sql}");
    }
    assert_eq!(Studio::restore(&folder, &folder.with_extension("copy")).unwrap_err(), newer);
    assert!(!folder.with_extension("copy").exists());
}

#[test]
fn a_newer_format_that_still_waits_beside_the_log() {
    let (place, folder) = studio();
    let writer = Connection::open(folder.join("studio.db")).unwrap();
    writer.execute_batch("UPDATE studio SET format = 2; PRAGMA user_version = 2").unwrap();
    let copy = place.path().join("copy");
    copy_folder(&folder, &copy);
    fs::remove_file(copy.join("studio.db-shm")).unwrap();
    let before = picture(&copy);
    assert_eq!(Studio::open(&copy).unwrap_err(), StoreError::Newer { found: 2, known: 1 });
    // Finding one's way in the waiting entries makes an index; the entries themselves stay.
    let mut after = picture(&copy);
    after.remove("studio.db-shm");
    assert!(after == before, "{:?} {:?}", after.keys(), before.keys());
}

#[test]
fn other_files_under_its_name() {
    let place = tempfile::tempdir().unwrap();
    let folder = place.path();
    let file = folder.join("studio.db");
    Connection::open(&file).unwrap().execute_batch("CREATE TABLE tide (hour, height)").unwrap();
    damaged(folder, "another program");
    Connection::open(&file).unwrap().execute_batch("PRAGMA journal_mode = WAL").unwrap();
    damaged(folder, "another program");
    for bytes in [b"".as_slice(), b"x", b"SQLite format 3\0", &[0; 5000], "invented words of the keeper. ".repeat(900).as_bytes()] {
        fs::write(&file, bytes).unwrap();
        assert!(matches!(refused(folder), StoreError::Damaged(_)));
    }
    fs::remove_file(&file).unwrap();
    fs::create_dir(&file).unwrap();
    damaged(folder, "is a folder");
}

#[test]
fn right_marks_and_wrong_tables() {
    for sql in [
        "DROP TRIGGER change_stays",
        "CREATE TABLE tide (hour)",
        "DELETE FROM studio",
        "UPDATE studio SET format = 0",
        "INSERT INTO studio VALUES ('x', 1)",
        "PRAGMA user_version = 0",
        "PRAGMA user_version = -1",
        "DROP TABLE change",
    ] {
        let (_place, folder) = studio();
        Connection::open(folder.join("studio.db")).unwrap().execute_batch(sql).unwrap();
        assert!(matches!(refused(&folder), StoreError::Damaged(_)), "{sql}");
    }
}

#[test]
fn cut_short_anywhere() {
    let (_place, folder) = studio();
    let file = folder.join("studio.db");
    let whole = fs::read(&file).unwrap();
    for length in (0..whole.len()).step_by(509) {
        fs::write(&file, &whole[..length]).unwrap();
        assert!(matches!(refused(&folder), StoreError::Damaged(_)), "{length}");
    }
    fs::write(&file, &whole).unwrap();
    assert_eq!(Studio::open(&folder).unwrap().0.info().unwrap().changes, 20);
}

#[test]
fn a_folder_full_of_other_things() {
    let place = tempfile::tempdir().unwrap();
    fs::write(place.path().join("letter.txt"), "invented").unwrap();
    damaged_without_check(place.path());
    // A studio whose log went away is not silently begun anew.
    let (_place, folder) = studio();
    fs::create_dir_all(folder.join("photos/ba")).unwrap();
    fs::remove_file(folder.join("studio.db")).unwrap();
    damaged_without_check(&folder);
    // What a file manager leaves is nothing.
    let place = tempfile::tempdir().unwrap();
    fs::write(place.path().join(".DS_Store"), "").unwrap();
    Studio::open(place.path()).unwrap();
}

fn damaged_without_check(folder: &Path) {
    let before = picture(folder);
    let error = Studio::open(folder).unwrap_err();
    assert!(error.to_string().contains("choose an empty folder"), "{error}");
    assert!(picture(folder) == before);
    assert_eq!(Studio::examine(folder).unwrap().damaged.len(), 1);
}

#[test]
fn places_that_can_not_be_written() {
    let place = tempfile::tempdir().unwrap();
    let file = place.path().join("file");
    fs::write(&file, "x").unwrap();
    for folder in [file.clone(), file.join("below")] {
        let error = Studio::open(&folder).unwrap_err();
        assert!(matches!(&error, StoreError::Disk(text) if text.contains("choose another folder")), "{error}");
    }
    assert!(matches!(Studio::examine(&place.path().join("nothing")), Err(StoreError::Disk(_))));
}

#[cfg(unix)]
#[test]
fn folders_without_the_right_to_write() {
    use std::os::unix::fs::PermissionsExt as _;
    let (place, folder) = studio();
    let empty = place.path().join("empty");
    fs::create_dir(&empty).unwrap();
    let allow = |path: &Path, mode| fs::set_permissions(path, fs::Permissions::from_mode(mode)).unwrap();
    allow(&empty, 0o555);
    // Rights don't bind the superuser, so for that one there is nothing to see here.
    if fs::write(empty.join("probe"), "").is_ok() {
        return;
    }
    allow(&folder, 0o555);
    assert!(matches!(refused(&empty), StoreError::Disk(_)));
    assert!(matches!(refused(&folder), StoreError::Disk(_)));
    allow(&folder, 0o755);
    allow(&folder.join("studio.db"), 0o444);
    let error = refused(&folder);
    assert!(matches!(&error, StoreError::Disk(text) if text.contains("right to write")), "{error}");
}
