//! The studio on disk: opened for the pages, and looked after from the command line.

use std::io::Write;
use std::path::{Path, PathBuf};

use notebook::CheckReport;
use notebook_sqlite::{Studio as Disk, default_folder};
use serde::Serialize;
use workbench::Studio;

use crate::arguments::StudioCommand;
use crate::command::{Failure, could_not, json};

/// Opens the studio in a folder, or in the usual one.
pub(crate) fn open(folder: Option<&Path>) -> Result<Studio, Failure> {
    let folder = folder_of(folder)?;
    let (log, blobs) = Disk::open(&folder).map_err(could_not)?;
    Studio::open(Box::new(log), Box::new(blobs), false).map_err(could_not)
}

fn folder_of(folder: Option<&Path>) -> Result<PathBuf, Failure> {
    folder.map_or_else(|| default_folder().map_err(could_not), |folder| Ok(folder.to_owned()))
}

/// What a check says, for scripts.
#[derive(Debug, Serialize)]
struct Checked {
    is: &'static str,
    changes: u64,
    photos: u64,
    missing: Vec<String>,
    damaged: Vec<String>,
    format: u32,
}

pub(crate) fn run(command: &StudioCommand) -> Result<(), Failure> {
    match command {
        StudioCommand::Backup { to, studio } => {
            let info = open(studio.as_deref())?.keeper().backup(to).map_err(could_not)?;
            say(&format!("Copied {} entries and {} photos to {}.", info.changes, info.photos, to.display()))?;
            for warning in info.warnings {
                say(&warning)?;
            }
            Ok(())
        }
        StudioCommand::Restore { from, studio } => {
            let to = folder_of(studio.as_deref())?;
            let info = Disk::restore(from, &to).map_err(could_not)?;
            say(&format!("Put {} entries and {} photos back into {}.", info.changes, info.photos, to.display()))
        }
        StudioCommand::Check { studio, json: as_json } => {
            let folder = folder_of(studio.as_deref())?;
            // A studio that can't be opened can still be looked at.
            let report = match open(Some(&folder)) {
                Ok(studio) => studio.keeper().check().map_err(could_not)?,
                Err(refused) => {
                    let mut report = Disk::examine(&folder).map_err(could_not)?;
                    if let Some(why) = refused.said() {
                        report.damaged.push(why.to_owned());
                    }
                    report
                }
            };
            checked(report, *as_json)
        }
    }
}

fn checked(report: CheckReport, as_json: bool) -> Result<(), Failure> {
    let sound = report.missing.is_empty() && report.damaged.is_empty();
    if as_json {
        json(&Checked {
            is: "groundproof studio check 1",
            changes: report.changes,
            photos: report.photos,
            missing: report.missing,
            damaged: report.damaged,
            format: report.format,
        })?;
    } else {
        say(&format!("{} entries, {} photos, format {}.", report.changes, report.photos, report.format))?;
        for photo in &report.missing {
            say(&format!("Missing photo: {photo}"))?;
        }
        for hurt in &report.damaged {
            say(&format!("Hurt: {hurt}"))?;
        }
        if !report.orphans.is_empty() {
            say(&format!("{} photos that nothing names: left by uploads that broke off, harmless.", report.orphans.len()))?;
        }
        say(if sound {
            "All is sound."
        } else {
            "Put a backup back with `groundproof studio restore`, and keep this folder until you have."
        })?;
    }
    if sound { Ok(()) } else { Err(Failure::CouldNot(None)) }
}

fn say(line: &str) -> Result<(), Failure> {
    writeln!(std::io::stdout().lock(), "{line}").map_err(could_not)
}
