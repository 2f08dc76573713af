//! Stages that cargo runs alone.

use std::process::Command;

use super::{one, some_ran};
use crate::error::Error;
use crate::process;
use crate::tally::Tally;
use crate::workspace::{Build, Workspace};

/// Says to the acceptance tests which program to ask.
pub(super) const PROGRAM: &str = "GROUNDPROOF_PROGRAM";

pub(super) fn format(workspace: &Workspace) -> Result<Tally, Error> {
    held(workspace.cargo().args(["fmt", "--all", "--check"]))
}

pub(super) fn clippy(workspace: &Workspace) -> Result<Tally, Error> {
    held(workspace.cargo().args(["clippy", "--locked", "--workspace", "--all-targets", "--", "-D", "warnings"]))
}

/// Crates of ours that the dev profile optimises. Their unit tests are small and take longer to optimise than to run.
const OPTIMISED: [&str; 7] = ["binder", "cracks", "ground", "making", "materials", "statistics", "trials"];

/// Everything that needs no browser and no bad treatment; those tests are marked
/// `#[ignore]` and have stages of their own.
pub(super) fn tests(workspace: &Workspace) -> Result<Tally, Error> {
    let program = workspace.build_program(Build::Dev)?;
    let plain = OPTIMISED.map(|package| format!("--config=profile.dev.package.{package}.opt-level=0"));
    let part = |part: &mut dyn Iterator<Item = &str>| {
        process::counted(workspace.cargo().args(["test", "--locked", "--workspace", "--no-fail-fast"]).args(part).env(PROGRAM, &program))
    };
    let mut tally = part(&mut plain.iter().map(String::as_str).chain(["--lib"]))?;
    // Examples are compiled by clippy; linking them all as well would check nothing more.
    tally += part(&mut ["--bins", "--test", "*"].into_iter())?;
    tally += part(&mut ["--doc"].into_iter())?;
    some_ran(tally, "the workspace")
}

pub(super) fn faults(workspace: &Workspace) -> Result<Tally, Error> {
    ignored(workspace, "faults")
}

/// Runs the `#[ignore]`d tests of one file of the acceptance crate.
pub(super) fn ignored(workspace: &Workspace, file: &str) -> Result<Tally, Error> {
    let program = workspace.build_program(Build::Dev)?;
    let tally = process::counted(
        workspace
            .cargo()
            .args(["test", "--locked", "--no-fail-fast"])
            .args(["--workspace", "--test", file])
            .args(["--", "--ignored"])
            .env(PROGRAM, program),
    )?;
    some_ran(tally, file)
}

fn held(command: &mut Command) -> Result<Tally, Error> {
    process::check(command).map(|()| one(true))
}
