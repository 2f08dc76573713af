//! Is this a studio that we may open? Whatever the answer, looking writes nothing into it.
//!
//! The log is read through SQLite alone: a file that this process opens and closes beside it would drop the locks that another
//! connection of this process holds (<https://www.sqlite.org/howtocorrupt.html>, section 2.2).

use std::path::Path;

use notebook::{FORMAT, StoreError};
use rusqlite::Connection;

use crate::error::told;
use crate::{connect, disk, layout, log};

/// Opens a studio for looking; an error for anything else.
pub(crate) fn look(folder: &Path) -> Result<Connection, StoreError> {
    let database = layout::database(folder);
    let say = |what: &str| Err(StoreError::Damaged(format!("{} {what}", database.display())));
    match database.metadata() {
        Err(_) => return Err(StoreError::Damaged(format!("there is no studio.db in {}", folder.display()))),
        Ok(found) if found.is_dir() => return say("is a folder where the log of a studio should be"),
        Ok(found) if !found.is_file() => return say("is no file"),
        Ok(found) if found.len() == 0 => return say("is empty"),
        Ok(_) => {}
    }
    let alone = connect::untouched(&database)?;
    match marks(&alone, &database) {
        Ok(()) => {}
        // Half of a studio may be hurt while what waits beside it makes it whole.
        Err(StoreError::Damaged(_)) if pending(folder) && !strange(&alone) => {}
        refused => refused?,
    }
    if !pending(folder) {
        let looked = sound(&alone).and_then(|()| shape(&alone));
        // If somebody began to write in between, what was seen may be neither old nor new: look again, together with them.
        if looked.is_ok() || !pending(folder) {
            return looked.map(|()| alone);
        }
    }
    drop(alone);
    let connection = connect::existing(&database)?;
    marks(&connection, &database)?;
    sound(&connection)?;
    shape(&connection)?;
    Ok(connection)
}

/// Whether entries wait beside the log, so that the log alone is not the whole.
fn pending(folder: &Path) -> bool {
    ["-wal", "-journal"].iter().any(|ending| disk::length(&layout::beside(folder, ending)) > 0)
}

/// Whose it is and which format it has, as its header says.
fn marks(connection: &Connection, database: &Path) -> Result<(), StoreError> {
    let hurt = |what: &str| Err(StoreError::Damaged(format!("{} {what}", database.display())));
    let read = |name: &str| connection.query_row(&format!("PRAGMA {name}"), [], |row| row.get::<_, i64>(0)).map_err(told);
    if read("application_id")? != i64::from(layout::APPLICATION) {
        return hurt("belongs to another program");
    }
    match u32::try_from(read("user_version")?) {
        Ok(found) if found > FORMAT => Err(StoreError::Newer { found, known: FORMAT }),
        Ok(1..) => Ok(()),
        _ => hurt("names no format"),
    }
}

/// Whether the header can be read and is that of another program.
fn strange(connection: &Connection) -> bool {
    let application = connection.query_row("PRAGMA application_id", [], |row| row.get::<_, i64>(0));
    application.is_ok_and(|found| found != i64::from(layout::APPLICATION))
}

/// Whether the database holds together.
fn sound(connection: &Connection) -> Result<(), StoreError> {
    let found: String = connection.query_row("PRAGMA quick_check(1)", [], |row| row.get(0)).map_err(told)?;
    if found == "ok" { Ok(()) } else { Err(StoreError::Damaged(format!("the log of this studio is hurt ({})", on_one_line(&found)))) }
}

/// What the database finds in itself comes in several lines under a heading of its own; a sentence is one line.
pub(crate) fn on_one_line(found: &str) -> String {
    found.lines().filter(|line| !line.starts_with("***")).map(str::trim).collect::<Vec<_>>().join(", ")
}

/// Whether it has the tables of a studio, and a format that we know.
pub(crate) fn shape(connection: &Connection) -> Result<(), StoreError> {
    let hurt = |what: &str| Err(StoreError::Damaged(format!("the log of this studio is hurt ({what})")));
    if let Ok(found) = log::format(connection)
        && found > FORMAT
    {
        return Err(StoreError::Newer { found, known: FORMAT });
    }
    let mut statement = connection.prepare("SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL ORDER BY sql").map_err(told)?;
    let parts = statement.query_map([], |row| row.get(0)).map_err(told)?.collect::<Result<Vec<String>, _>>().map_err(told)?;
    let mut wanted = layout::PARTS;
    wanted.sort_unstable();
    if parts != wanted {
        return hurt("its tables are not those of a studio");
    }
    let (rows, format): (u32, Option<u32>) =
        connection.query_row("SELECT count(*), max(format) FROM studio", [], |row| Ok((row.get(0)?, row.get(1)?))).map_err(told)?;
    if (rows, format) == (1, Some(FORMAT)) { Ok(()) } else { hurt("it does not say which format it has") }
}
