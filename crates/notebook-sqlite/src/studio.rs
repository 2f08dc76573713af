//! Opening a studio, and making one.

use std::path::Path;
use std::sync::Arc;

use notebook::{FORMAT, StoreError};
use rusqlite::Connection;

use crate::disk::{self, Disk as _, RealDisk};
use crate::error::{at, told};
use crate::{SqliteBlobs, SqliteLog, connect, examine, layout, place};

/// How the drafts of a new log begin.
const DRAFT: &str = "studio.db";

/// A folder with a log and photos.
#[derive(Debug, Clone, Copy)]
pub enum Studio {}

impl Studio {
    /// Opens the studio in this folder. If there is no such folder, or nothing in it, a new studio is made there.
    ///
    /// Something to be said about the place, such as a folder that is synchronised, stands in [`notebook::Info::warnings`].
    ///
    /// # Errors
    /// A newer format; no studio, or a damaged one; a folder that can't be written. Nothing is changed then.
    pub fn open(folder: &Path) -> Result<(SqliteLog, SqliteBlobs), StoreError> {
        let folder = &place::absolute(folder)?;
        let database = layout::database(folder);
        if !disk::is_there(&database) {
            make(folder)?;
        }
        drop(examine::look(folder)?);
        let connection = connect::existing(&database)?;
        examine::shape(&connection)?;
        connect::settle(&connection)?;
        let log = SqliteLog { connection, folder: folder.clone(), warnings: place::warnings(folder) };
        Ok((log, SqliteBlobs { folder: folder.clone(), disk: Arc::new(RealDisk) }))
    }
}

/// Makes a studio. The log gets its name when it is whole, so nobody ever sees half of one; if another process was faster, its log
/// stays.
fn make(folder: &Path) -> Result<(), StoreError> {
    disk::make_lasting(folder).map_err(at(folder))?;
    let database = layout::database(folder);
    let strange = disk::names(folder).map_err(at(folder))?.into_iter().find(|name| !is_nothing(name));
    if let Some(name) = strange {
        if disk::is_there(&database) {
            return Ok(());
        }
        return Err(StoreError::Damaged(format!(
            "{} holds other things, such as `{name}`, and no studio.db; choose an empty folder, or one that does not exist yet",
            folder.display()
        )));
    }
    let draft = folder.join(disk::draft_name(DRAFT));
    let made = connect::new(&draft).and_then(|connection| {
        fill(&connection)?;
        connection.close().map_err(|(_, error)| told(error))
    });
    let named = made.and_then(|()| disk::rename_new(&draft, &database).map_err(at(&database)));
    if named.is_err() {
        // The first trouble is the one to tell of.
        let _ = RealDisk.remove(&draft);
    }
    named?;
    RealDisk.sync_folder(folder).map_err(at(folder))
}

/// Files that may lie in a folder that is still taken as empty: drafts of a log, and what file managers leave.
fn is_nothing(name: &str) -> bool {
    name.starts_with('.') || name.starts_with(&format!("{DRAFT}.new-")) || ["desktop.ini", "Thumbs.db"].contains(&name)
}

/// Writes tables and marks into an empty database. The mark and the format go into its header before it becomes one that is written
/// beside, so that they can be read there without opening it.
fn fill(connection: &Connection) -> Result<(), StoreError> {
    let parts = layout::PARTS.join(";\n");
    let sql = format!(
        "PRAGMA synchronous = FULL; PRAGMA fullfsync = ON;
         BEGIN IMMEDIATE;
         PRAGMA application_id = {};
         PRAGMA user_version = {FORMAT};
         {parts};
         INSERT INTO studio (id, format) VALUES (lower(hex(randomblob(16))), {FORMAT});
         COMMIT;",
        layout::APPLICATION
    );
    connection.execute_batch(&sql).map_err(told)?;
    connect::settle(connection)
}

#[cfg(test)]
mod tests {
    use super::*;
    use notebook::Log as _;

    #[test]
    fn every_connection_syncs_each_commit() {
        let place = tempfile::tempdir().unwrap();
        let studios = [Studio::open(place.path()).unwrap().0, Studio::open(place.path()).unwrap().0];
        for log in &studios {
            let ask = |name: &str| log.connection.query_row(&format!("PRAGMA {name}"), [], |row| row.get::<_, i64>(0)).unwrap();
            // 2 is FULL: https://www.sqlite.org/pragma.html#pragma_synchronous
            assert_eq!((ask("synchronous"), ask("fullfsync"), ask("checkpoint_fullfsync")), (2, 1, 1));
            let mode: String = log.connection.query_row("PRAGMA journal_mode", [], |row| row.get(0)).unwrap();
            assert_eq!(mode, "wal");
            assert_eq!(ask("application_id"), i64::from(layout::APPLICATION));
        }
    }

    #[test]
    fn many_who_make_the_same_studio_get_the_same_one() {
        let place = tempfile::tempdir().unwrap();
        let folder = place.path().join("new");
        let ids: Vec<String> = std::thread::scope(|scope| {
            let opened: Vec<_> = (0..8).map(|_| scope.spawn(|| Studio::open(&folder).unwrap().0)).collect();
            let logs: Vec<_> = opened.into_iter().map(|log| log.join().unwrap()).collect();
            logs.iter().map(|log| log.connection.query_row("SELECT id FROM studio", [], |row| row.get(0)).unwrap()).collect()
        });
        assert!(ids.iter().all(|id| *id == ids[0] && id.len() == 32), "{ids:?}");
        assert_eq!(disk::names(&folder).unwrap(), ["studio.db"], "no draft stays");
    }

    #[test]
    fn nothing_is_rewritten_or_taken_out() {
        let place = tempfile::tempdir().unwrap();
        let (mut log, _) = Studio::open(place.path()).unwrap();
        let entry = notebook::NewChange {
            id: "a".into(),
            at: notebook::Moment::default(),
            device: "desk".into(),
            kind: "sample".into(),
            version: 1,
            subject: String::new(),
            expects: None,
            strikes: None,
            body: "{}".into(),
        };
        log.append(&[entry], 0).unwrap();
        let insert =
            "INTO change SELECT n + 1, id || 'b', at, zone, device, kind, version, subject, expects, strikes, body, seal FROM change";
        for sql in [
            "UPDATE change SET body = 'x'",
            "DELETE FROM change",
            "REPLACE INTO change SELECT * FROM change",
            &format!("REPLACE {insert}").replace("id || 'b'", "id"),
            &format!("INSERT {insert}").replace("n + 1", "n + 2"),
            &format!("INSERT {insert}").replace("n + 1", "n"),
            &format!("INSERT {insert}").replace("version,", "'one',"),
        ] {
            assert!(log.connection.execute(sql, []).is_err(), "{sql}");
        }
        assert_eq!(log.connection.execute(&format!("INSERT {insert}"), []), Ok(1));
    }
}
