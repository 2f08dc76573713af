//! The data that goes with a paper: tables as CSV (RFC 4180) with a description that programs can read, a Data Package with Table Schemas
//! (Frictionless Data, specification version 1).
//!
//! **Cells that look like formulas.** A spreadsheet would run a cell that begins with `=`, `+`, `-` or `@`. In columns of free text,
//! names included, such a cell gets an apostrophe in front; a text that begins with an apostrophe gets one more. So whoever takes one
//! apostrophe off gets the text back, and a name is changed the same way in every table. Cells of numbers, days and words from a list
//! are checked instead and stand as they are.

mod cell;
mod package;
mod tables;

use std::io::{Cursor, Write};

use show::DataView;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

/// The tables can't be written.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum DataError {
    /// A cell that doesn't fit its column.
    #[error("{table}, row {row}, {column}: `{cell}` {what}")]
    Cell {
        /// File without its ending.
        table: &'static str,
        /// Row from 1, the header not counted.
        row: usize,
        /// Column.
        column: String,
        /// What stands there, cut short.
        cell: String,
        /// What is wrong, and what would be right.
        what: &'static str,
    },
    /// A column for something that was changed can't be named so.
    #[error("`{name}` is no name for a column of what was changed; write `share:NAME` or `set:NAME`")]
    Factor {
        /// The name, cut short.
        name: String,
    },
    /// One reading says twice what the same thing was set to.
    #[error("readings, row {row}: `{name}` is given twice; keep one")]
    FactorTwice {
        /// Row from 1, the header not counted.
        row: usize,
        /// The column, cut short.
        name: String,
    },
    /// The day of writing is none.
    #[error("`{created}` is no day of writing; write it as 2026-11-25, or leave it empty")]
    Created {
        /// What was given, cut short.
        created: String,
    },
    /// Writing into memory failed.
    #[error("the data could not be packed: {0}")]
    Pack(String),
}

/// The files by name: `boards.csv`, `coats.csv`, `readings.csv`, `recipes.csv` and `datapackage.json`. The same view gives the same bytes.
///
/// # Errors
/// A cell that doesn't fit its column: no number, no day, no word of the list, a name that stands nowhere else, one that stands twice.
///
/// ```
/// let files = paper::data::folder(&show::DataView { title: "Tide calendar".into(), ..Default::default() })?;
/// let names: Vec<_> = files.iter().map(|(name, _)| name.as_str()).collect();
/// assert_eq!(names, ["boards.csv", "coats.csv", "readings.csv", "recipes.csv", "datapackage.json"]);
/// # Ok::<(), paper::data::DataError>(())
/// ```
pub fn folder(view: &DataView) -> Result<Vec<(String, Vec<u8>)>, DataError> {
    let tables = tables::tables(view)?;
    let mut files = Vec::new();
    for table in &tables {
        files.push((table.file(), table.csv()?));
    }
    let package = package::describe(view, &tables, &files)?;
    files.push(("datapackage.json".to_owned(), package));
    Ok(files)
}

/// The same files in one zip. It carries no date, so that the same view gives the same bytes.
///
/// # Errors
/// As [`folder`].
pub fn data_zip(view: &DataView) -> Result<Vec<u8>, DataError> {
    let wrong = |e: &dyn std::fmt::Display| DataError::Pack(e.to_string());
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    let options = SimpleFileOptions::default()
        .compression_method(CompressionMethod::Deflated)
        .last_modified_time(DateTime::default())
        .unix_permissions(0o644);
    for (name, bytes) in folder(view)? {
        zip.start_file(name, options).map_err(|e| wrong(&e))?;
        zip.write_all(&bytes).map_err(|e| wrong(&e))?;
    }
    zip.finish().map(Cursor::into_inner).map_err(|e| wrong(&e))
}

#[cfg(test)]
mod tests;
