//! Walks in a real browser, and the page's scripts read by a type checker.

use std::path::PathBuf;
use std::process::Command;

use super::rust;
use crate::error::Error;
use crate::process;
use crate::tally::Tally;
use crate::workspace::Workspace;

/// Checks the scripts, then walks.
pub(super) fn run(workspace: &Workspace) -> Result<Tally, Error> {
    process::check(Command::new("npm").args(["run", "--silent", "check"]).current_dir(folder(workspace)))?;
    rust::ignored(workspace, "browser")
}

/// Installs the browser if it is missing, and the packages of the walks.
pub(super) fn fetch(workspace: &Workspace) -> Result<(), Error> {
    browser_installed()?;
    process::check(Command::new("npm").args(["ci", "--no-audit", "--no-fund"]).current_dir(folder(workspace)))
}

fn folder(workspace: &Workspace) -> PathBuf {
    workspace.root.join("tests").join("browser")
}

fn browser_installed() -> Result<(), Error> {
    let missing = || ["chromium", "chromedriver"].map(process::find).contains(&None);
    if !missing() {
        return Ok(());
    }
    println!("chromium or its driver is missing; asking apt-get for both");
    let installed = process::find("apt-get").is_some()
        && process::check(Command::new("apt-get").args(["update", "-qq"])).is_ok()
        && process::check(
            Command::new("apt-get")
                .args(["install", "-y", "-qq", "--no-install-recommends"])
                .args(["chromium", "chromium-driver"])
                .env("DEBIAN_FRONTEND", "noninteractive"),
        )
        .is_ok();
    if installed && !missing() {
        return Ok(());
    }
    Err(Error::Missing {
        what: "chromium or chromedriver".to_owned(),
        mend: "install both, of the same version, and see that they are on the path".to_owned(),
    })
}
