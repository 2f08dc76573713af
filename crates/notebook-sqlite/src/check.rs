//! Looks at everything, mends nothing.

use std::collections::BTreeSet;
use std::path::Path;

use notebook::{CheckReport, FORMAT, StoreError, name_of};
use rusqlite::Connection;

use crate::disk::{self, Disk as _, RealDisk};
use crate::error::told;
use crate::photos::{self, Found};
use crate::seal::seal;
use crate::{Studio, examine, layout, log, place};

/// At most so many findings of the database itself are listed.
const FINDINGS: u32 = 20;

impl Studio {
    /// Looks at a studio without opening it, even at one that can't be opened; why not then stands in `damaged`. Which photos are named
    /// is not asked, so none is missing and none is an orphan.
    ///
    /// # Errors
    /// Disk trouble, no such folder.
    pub fn examine(folder: &Path) -> Result<CheckReport, StoreError> {
        let folder = &place::absolute(folder)?;
        if !disk::is_there(folder) {
            return Err(StoreError::Disk(format!("there is no folder {}; name that of a studio", folder.display())));
        }
        let mut report = CheckReport::default();
        match examine::look(folder) {
            Ok(connection) => entries(&connection, &mut report)?,
            Err(error @ (StoreError::Damaged(_) | StoreError::Newer { .. })) => report.damaged.push(error.to_string()),
            Err(error) => return Err(error),
        }
        photos_of(folder, &mut report)?;
        Ok(report)
    }
}

/// Looks at every entry and every photo of an open studio.
pub(crate) fn all(connection: &Connection, folder: &Path, named: &[String]) -> Result<CheckReport, StoreError> {
    let mut report = CheckReport::default();
    entries(connection, &mut report)?;
    let (there, others) = photos_of(folder, &mut report)?;
    let named: BTreeSet<&String> = named.iter().collect();
    report.missing = named.iter().filter(|name| !there.contains(**name)).map(|name| (*name).clone()).collect();
    report.orphans = there.iter().filter(|name| !named.contains(name)).cloned().chain(others).collect();
    Ok(report)
}

/// Every entry can be read, none is left out, each says what was written.
pub(crate) fn entries(connection: &Connection, report: &mut CheckReport) -> Result<(), StoreError> {
    report.format = FORMAT;
    let damaged = &mut report.damaged;
    if let Err(error) = database(connection, damaged) {
        damaged.push(hurt(error)?);
    }
    let mut last = 0;
    let gone_through = log::each(connection, |row| match row {
        Ok((change, stored)) => {
            for n in (last + 1..change.n).take(FINDINGS as usize) {
                damaged.push(format!("entry {n} is missing"));
            }
            if seal(change.n, &change.entry).as_slice() != stored {
                damaged.push(format!("entry {} no longer says what was written", change.n));
            }
            last = change.n;
        }
        Err(error) => {
            last += 1;
            damaged.push(format!("entry {last} can't be read ({error})"));
        }
    });
    if let Err(error) = gone_through {
        damaged.push(format!("after entry {last} nothing can be read: {}", hurt(error)?));
    }
    report.changes = last;
    Ok(())
}

/// What the database finds in itself.
fn database(connection: &Connection, damaged: &mut Vec<String>) -> Result<(), StoreError> {
    let mut statement = connection.prepare(&format!("PRAGMA integrity_check({FINDINGS})")).map_err(told)?;
    let lines = statement.query_map([], |row| row.get::<_, String>(0)).map_err(told)?;
    for line in lines {
        let line = line.map_err(told)?;
        if line != "ok" {
            damaged.push(format!("the file of the log: {}", examine::on_one_line(&line)));
        }
    }
    Ok(())
}

/// Damage is a finding; anything else ends the check.
fn hurt(error: StoreError) -> Result<String, StoreError> {
    if let StoreError::Damaged(what) = error { Ok(what) } else { Err(error) }
}

/// Every photo has the bytes of its name. Gives the names that are there, and files that are no photos.
fn photos_of(folder: &Path, report: &mut CheckReport) -> Result<(BTreeSet<String>, Vec<String>), StoreError> {
    let (mut there, mut others) = (BTreeSet::new(), Vec::new());
    for file in photos::files(folder)? {
        let name = match file {
            Found::Photo(name) => name,
            Found::Other(path) => {
                others.push(path);
                continue;
            }
        };
        report.photos += 1;
        let bytes = layout::photo(folder, &name).map(|path| RealDisk.read(&path));
        match bytes {
            Some(Ok(Some(bytes))) if name_of(&bytes) == name => {}
            Some(Err(error)) => report.damaged.push(format!("photo {name} can't be read ({error})")),
            _ => report.damaged.push(format!("the bytes of photo {name} are no longer those that were put there")),
        }
        there.insert(name);
    }
    Ok((there, others))
}
