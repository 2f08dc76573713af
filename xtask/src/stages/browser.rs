//! Walks in a real browser, and the page's scripts read by a type checker.

use std::process::Command;

use super::rust;
use crate::error::Error;
use crate::process;
use crate::tally::Tally;
use crate::workspace::Workspace;

/// Installs what is missing, checks the scripts, then walks.
pub(super) fn run(workspace: &Workspace) -> Result<Tally, Error> {
    browser_installed()?;
    let folder = workspace.root.join("tests").join("browser");
    process::check(Command::new("npm").args(["ci", "--no-audit", "--no-fund"]).current_dir(&folder))?;
    process::check(Command::new("npm").args(["run", "--silent", "check"]).current_dir(&folder))?;
    rust::ignored(workspace, "browser")
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
