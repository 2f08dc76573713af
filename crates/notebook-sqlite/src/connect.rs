//! Connections to the log, each with the same settings.

use std::path::Path;
use std::time::Duration;

use notebook::StoreError;
use rusqlite::config::DbConfig;
use rusqlite::{Connection, OpenFlags};

use crate::error::told;

/// How long to wait for another program that writes.
const PATIENCE: Duration = Duration::from_secs(10);

/// Looks at a log without leaving a trace: no other file is made beside it. Only for one that nobody writes to.
pub(crate) fn untouched(database: &Path) -> Result<Connection, StoreError> {
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_URI | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let connection = Connection::open_with_flags(address(database), flags).map_err(told)?;
    careful(&connection)?;
    Ok(connection)
}

/// Opens a log that is there. Until [`settle`] was called, closing it moves nothing from the `-wal` file into the log.
pub(crate) fn existing(database: &Path) -> Result<Connection, StoreError> {
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let connection = Connection::open_with_flags(database, flags).map_err(told)?;
    // Before the first look, which would make files beside it.
    if connection.is_readonly("main").map_err(told)? {
        return Err(StoreError::Disk(format!(
            "{} can only be read; give yourself the right to write in that folder, or choose another one",
            database.display()
        )));
    }
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, true).map_err(told)?;
    careful(&connection)?;
    Ok(connection)
}

/// Makes a file that is not there yet.
pub(crate) fn new(database: &Path) -> Result<Connection, StoreError> {
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_CREATE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let connection = Connection::open_with_flags(database, flags).map_err(told)?;
    careful(&connection)?;
    Ok(connection)
}

/// Makes the connection fit for writing: an entry has reached the disk when its commit returns.
pub(crate) fn settle(connection: &Connection) -> Result<(), StoreError> {
    let mode: String = connection.query_row("PRAGMA journal_mode = WAL", [], |row| row.get(0)).map_err(told)?;
    if mode != "wal" {
        return Err(StoreError::Disk("this file system can't keep a log safely; choose a folder on a disk of this computer".into()));
    }
    // The two about `fullfsync` matter on macOS, where a plain sync stops at the drive's own memory.
    connection.execute_batch("PRAGMA synchronous = FULL; PRAGMA fullfsync = ON; PRAGMA checkpoint_fullfsync = ON;").map_err(told)?;
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, false).map_err(told)?;
    Ok(())
}

/// What holds for every connection, even one that only looks: the file may come from a stranger.
fn careful(connection: &Connection) -> Result<(), StoreError> {
    connection.busy_timeout(PATIENCE).map_err(told)?;
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_DEFENSIVE, true).map_err(told)?;
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_TRUSTED_SCHEMA, false).map_err(told)?;
    connection.execute_batch("PRAGMA cell_size_check = ON").map_err(told)
}

/// The path as an address that says that nobody writes.
fn address(path: &Path) -> String {
    use std::fmt::Write as _;
    #[cfg(unix)]
    let bytes = std::os::unix::ffi::OsStrExt::as_bytes(path.as_os_str()).to_vec();
    #[cfg(not(unix))]
    let bytes = path.display().to_string().replace('\\', "/").into_bytes();
    let mut text = String::from("file://");
    // A drive's letter stands behind a slash of its own.
    if !bytes.starts_with(b"/") {
        text.push('/');
    }
    for byte in bytes {
        if byte.is_ascii_alphanumeric() || b"/-_.~:".contains(&byte) {
            text.push(char::from(byte));
        } else {
            // Writing to a text can't fail.
            let _ = write!(text, "%{byte:02X}");
        }
    }
    text + "?immutable=1"
}

#[cfg(test)]
mod tests {
    use super::*;

    #[cfg(unix)]
    #[test]
    fn an_address_escapes_what_would_steer_it() {
        // RFC 3986, section 2.1
        assert_eq!(address(Path::new("/a b/c?d#é")), "file:///a%20b/c%3Fd%23%C3%A9?immutable=1");
    }
}
