//! Licences, bans and sources of everything that is built in.

use std::path::PathBuf;
use std::process::Command;

use super::one;
use crate::error::Error;
use crate::process;
use crate::tally::Tally;
use crate::workspace::Workspace;

/// Runs `cargo deny` on `deny.toml`; puts it into a folder of the build when it is missing.
pub(super) fn run(workspace: &Workspace) -> Result<Tally, Error> {
    let tool = installed(workspace)?;
    println!("advisories are skipped: their list lies outside and would make this depend on the day");
    process::check(
        Command::new(tool)
            .current_dir(&workspace.root)
            .args(["--workspace", "--locked", "check", "--hide-inclusion-graph"])
            .args(["licenses", "bans", "sources"]),
    )?;
    Ok(one(true))
}

fn installed(workspace: &Workspace) -> Result<PathBuf, Error> {
    if let Some(tool) = process::find("cargo-deny") {
        return Ok(tool);
    }
    let folder = workspace.target.join("tools");
    let tool = folder.join("bin").join(format!("cargo-deny{}", std::env::consts::EXE_SUFFIX));
    if !tool.is_file() {
        println!("cargo-deny is not here yet; it is built once into the target folder");
        // It runs for a second: the quick build without debug information is enough.
        process::check(
            workspace
                .cargo()
                .args(["install", "cargo-deny", "--locked", "--debug", "--root"])
                .arg(&folder)
                .env("CARGO_PROFILE_DEV_DEBUG", "0")
                // Built in a temporary folder that cargo clears away, not among our own crates.
                .env_remove("CARGO_TARGET_DIR"),
        )?;
    }
    Ok(tool)
}
