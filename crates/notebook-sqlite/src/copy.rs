//! A whole copy, and a studio from a copy. Both are made under another name beside their place and get their own name at the end.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use notebook::{Blobs as _, CheckReport, Info, StoreError};
use rusqlite::Connection;

use crate::disk::{self, Disk, RealDisk};
use crate::error::{at, told};
use crate::photos::{self, Found};
use crate::{SqliteBlobs, SqliteLog, Studio, check, connect, examine, layout, log, place};

/// Writes a copy of an open studio.
pub(crate) fn backup(log: &SqliteLog, to: &Path) -> Result<Info, StoreError> {
    let to = free(to)?;
    build(&to, |draft| fill(draft, &to, &log.connection, &log.folder))
}

impl Studio {
    /// Makes a studio from a copy, also from the folder of a studio that was copied by hand. The copy is looked at first and left as it is.
    /// Photos that are hurt are left out and named in the warnings.
    ///
    /// # Errors
    /// There is something at `to`; the copy is no studio, or its log is hurt; disk trouble. Nothing is left at `to` then.
    pub fn restore(from: &Path, to: &Path) -> Result<Info, StoreError> {
        let (from, to) = (place::absolute(from)?, free(to)?);
        let connection = examine::look(&from)?;
        build(&to, |draft| fill(draft, &to, &connection, &from))
    }
}

/// A place where nothing is yet.
fn free(to: &Path) -> Result<PathBuf, StoreError> {
    let to = place::absolute(to)?;
    if disk::is_there(&to) {
        return Err(StoreError::Disk(format!(
            "there is something at {} already, and nothing is written over; choose another name",
            to.display()
        )));
    }
    Ok(to)
}

/// Makes a folder under a name of its own; if all goes well it becomes `to`, if not it goes away.
fn build(to: &Path, fill: impl FnOnce(&Path) -> Result<Info, StoreError>) -> Result<Info, StoreError> {
    let above = to.parent().unwrap_or(to);
    let name = to.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    let draft = above.join(disk::draft_name(&name));
    disk::make_lasting(&draft).map_err(at(&draft))?;
    let filled = fill(&draft).and_then(|info| {
        free(to)?;
        RealDisk.rename(&draft, to).map_err(at(to))?;
        RealDisk.sync_folder(above).map_err(at(above))?;
        Ok(info)
    });
    if filled.is_err() {
        disk::discard(&draft);
    }
    filled
}

/// Copies the log, looks at each entry of the copy, then copies the photos.
fn fill(draft: &Path, to: &Path, connection: &Connection, from: &Path) -> Result<Info, StoreError> {
    let database = layout::database(draft);
    let text = database.to_str().ok_or_else(|| StoreError::Disk(format!("{}: choose a name in plain letters", to.display())))?;
    // One step that sees one state of the log, whoever writes meanwhile. Photos are older than the entries that name them, so those
    // that are found after it are enough.
    connection.execute("VACUUM INTO ?1", [text]).map_err(told)?;
    disk::sync_file(&database).map_err(at(&database))?;
    let copy = connect::untouched(&database)?;
    let mut report = CheckReport::default();
    check::entries(&copy, &mut report)?;
    if let Some(first) = report.damaged.first() {
        return Err(StoreError::Damaged(format!("the log can't be copied as a whole: {first}")));
    }
    let format = log::format(&copy)?;
    let (photos, warnings) = photos(from, draft)?;
    RealDisk.sync_folder(draft).map_err(at(draft))?;
    Ok(Info { format, changes: report.changes, photos, place: to.display().to_string(), warnings })
}

/// Copies photos, each read again and compared with its name. Gives how many, and a sentence about each that is hurt.
fn photos(from: &Path, draft: &Path) -> Result<(u64, Vec<String>), StoreError> {
    let place = |folder: &Path| SqliteBlobs { folder: folder.to_owned(), disk: Arc::new(RealDisk) };
    let (source, target) = (place(from), place(draft));
    let (mut count, mut warnings) = (0, Vec::new());
    for file in photos::files(from)? {
        let Found::Photo(name) = file else {
            continue;
        };
        match source.get(&name) {
            Ok(Some(bytes)) => {
                target.put(&bytes)?;
                // Reading it back compares it with its name.
                target.get(&name)?;
                count += 1;
            }
            Ok(None) => {}
            Err(StoreError::Damaged(_)) => warnings.push(format!("Photo {name} is hurt and was left out.")),
            Err(error) => return Err(error),
        }
    }
    Ok((count, warnings))
}
