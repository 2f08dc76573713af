//! The program as it is handed out: its formats, its start and its end. Not part of the test of every change: it builds everything a
//! second time, from the same sources.

use std::time::{Duration, Instant};

use super::reference;
use crate::error::Error;
use crate::served::Served;
use crate::tally::Tally;
use crate::workspace::{Build, Workspace};

/// A terminate signal must end the program within this time.
const STOPS_WITHIN: Duration = Duration::from_secs(2);

pub(crate) fn run(workspace: &Workspace) -> Result<Tally, Error> {
    let program = workspace.build_program(Build::Release)?;
    let mut tally = reference::compare(workspace, &program, &["film", "formats"])?;
    let started = Instant::now();
    let served = Served::start(&program)?;
    let status = served.first_page()?;
    let first_page = started.elapsed();
    let (exit, stopping) = served.stop()?;
    println!(
        "first page after {} ms with status {status}; stopped {} ms after the signal ({exit})",
        first_page.as_millis(),
        stopping.as_millis()
    );
    for held in [(200..400).contains(&status), exit.success(), stopping < STOPS_WITHIN] {
        tally += Tally { passed: usize::from(held), failed: usize::from(!held) };
    }
    Ok(tally)
}
