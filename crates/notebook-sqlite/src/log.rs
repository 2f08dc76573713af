//! The log on disk.

use std::path::{Path, PathBuf};

use notebook::{Change, CheckReport, Info, Log, Moment, NewChange, StoreError};
use rusqlite::{Connection, OptionalExtension as _, Row, TransactionBehavior, params};

use crate::error::told;
use crate::seal::seal;
use crate::{check, copy, photos};

const COLUMNS: &str = "n, id, at, zone, device, kind, version, subject, expects, strikes, body";

/// A log on disk. Other processes may use the same one at the same time.
pub struct SqliteLog {
    pub(crate) connection: Connection,
    pub(crate) folder: PathBuf,
    pub(crate) warnings: Vec<String>,
}

impl std::fmt::Debug for SqliteLog {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("SqliteLog").field("folder", &self.folder).finish_non_exhaustive()
    }
}

impl Log for SqliteLog {
    fn append(&mut self, changes: &[NewChange], expected: u64) -> Result<Vec<Change>, StoreError> {
        let transaction = self.connection.transaction_with_behavior(TransactionBehavior::Immediate).map_err(told)?;
        let mut last = newest(&transaction)?;
        if last != expected {
            return Err(StoreError::Behind);
        }
        let mut stored = Vec::with_capacity(changes.len());
        {
            let mut known = transaction.prepare(&format!("SELECT {COLUMNS} FROM change WHERE id = ?1")).map_err(told)?;
            let mut insert = transaction
                .prepare(&format!("INSERT INTO change ({COLUMNS}, seal) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12)"))
                .map_err(told)?;
            for entry in changes {
                if let Some(change) = known.query_row([&entry.id], read).optional().map_err(told)? {
                    stored.push(change);
                    continue;
                }
                last += 1;
                let NewChange { id, at, device, kind, version, subject, expects, strikes, body } = entry;
                insert
                    .execute(params![
                        last.cast_signed(),
                        id,
                        at.seconds,
                        at.offset_minutes,
                        device,
                        kind,
                        version,
                        subject,
                        expects.map(u64::cast_signed),
                        strikes.map(u64::cast_signed),
                        body,
                        seal(last, entry),
                    ])
                    .map_err(told)?;
                stored.push(Change { n: last, entry: entry.clone() });
            }
        }
        transaction.commit().map_err(told)?;
        Ok(stored)
    }

    fn since(&self, n: u64) -> Result<Vec<Change>, StoreError> {
        let Ok(after) = i64::try_from(n) else {
            return Ok(Vec::new());
        };
        let sql = format!("SELECT {COLUMNS} FROM change WHERE n > ?1 ORDER BY n");
        let mut statement = self.connection.prepare(&sql).map_err(told)?;
        let mut rows = statement.query([after]).map_err(told)?;
        let mut changes: Vec<Change> = Vec::new();
        while let Some(row) = rows.next().map_err(told)? {
            let change = read(row).map_err(told)?;
            let before = changes.last().map_or(n, |change| change.n);
            if before.checked_add(1) != Some(change.n) {
                return Err(StoreError::Damaged(format!("after entry {before} the log of this studio goes on with entry {}", change.n)));
            }
            changes.push(change);
        }
        Ok(changes)
    }

    fn info(&self) -> Result<Info, StoreError> {
        Ok(Info {
            format: format(&self.connection)?,
            changes: newest(&self.connection)?,
            photos: photos::count(&self.folder)?,
            place: self.folder.display().to_string(),
            warnings: self.warnings.clone(),
        })
    }

    fn backup(&self, to: &Path) -> Result<Info, StoreError> {
        copy::backup(self, to)
    }

    fn check(&self, named: &[String]) -> Result<CheckReport, StoreError> {
        check::all(&self.connection, &self.folder, named)
    }
}

/// Number of the newest entry.
pub(crate) fn newest(connection: &Connection) -> Result<u64, StoreError> {
    connection.query_row("SELECT coalesce(max(n), 0) FROM change", [], |row| number(row, 0)).map_err(told)
}

/// Format that the studio says it has.
pub(crate) fn format(connection: &Connection) -> Result<u32, StoreError> {
    connection.query_row("SELECT format FROM studio", [], |row| row.get(0)).map_err(told)
}

/// Goes through all entries, oldest first; the seal is given beside each. One that can't be read doesn't end it.
pub(crate) fn each(connection: &Connection, mut seen: impl FnMut(rusqlite::Result<(Change, Vec<u8>)>)) -> Result<(), StoreError> {
    let mut statement = connection.prepare(&format!("SELECT {COLUMNS}, seal FROM change ORDER BY n")).map_err(told)?;
    let mut rows = statement.query([]).map_err(told)?;
    while let Some(row) = rows.next().map_err(told)? {
        seen(read(row).and_then(|change| Ok((change, row.get(11)?))));
    }
    Ok(())
}

fn read(row: &Row<'_>) -> rusqlite::Result<Change> {
    let any = |at| row.get::<_, Option<i64>>(at).map(|value| value.map(i64::cast_unsigned));
    Ok(Change {
        n: number(row, 0)?,
        entry: NewChange {
            id: row.get(1)?,
            at: Moment { seconds: row.get(2)?, offset_minutes: row.get(3)? },
            device: row.get(4)?,
            kind: row.get(5)?,
            version: row.get(6)?,
            subject: row.get(7)?,
            expects: any(8)?,
            strikes: any(9)?,
            body: row.get(10)?,
        },
    })
}

fn number(row: &Row<'_>, at: usize) -> rusqlite::Result<u64> {
    let value: i64 = row.get(at)?;
    u64::try_from(value).map_err(|_| rusqlite::Error::IntegralValueOutOfRange(at, value))
}
