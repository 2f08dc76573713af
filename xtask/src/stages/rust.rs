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

/// Crates of ours whose unit tests take longer to optimise, as the dev profile asks, than to run as they are.
const LEFT_PLAIN: [&str; 7] = ["binder", "cracks", "ground", "making", "materials", "statistics", "trials"];

/// Everything that needs no browser and no bad treatment; those tests are marked
/// `#[ignore]` and have stages of their own.
pub(super) fn tests(workspace: &Workspace) -> Result<Tally, Error> {
    let program = workspace.build_program(Build::Dev)?;
    let part = |part: &[&str]| {
        process::counted(workspace.cargo().args(["test", "--locked", "--workspace", "--no-fail-fast"]).args(part).env(PROGRAM, &program))
    };
    let plain = LEFT_PLAIN.map(|package| format!("--config=profile.dev.package.{package}.opt-level=0"));
    let units: Vec<&str> = plain.iter().map(String::as_str).chain(["--lib"]).collect();
    let mut tally = part(&units)?;
    // Examples are compiled by clippy; linking them all as well would check nothing more.
    tally += part(&["--bins", "--test", "*"])?;
    tally += part(&["--doc"])?;
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
