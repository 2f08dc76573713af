//! The same questions asked of other people's libraries, in Python.

use std::path::{Path, PathBuf};
use std::process::Command;

use super::some_ran;
use crate::error::Error;
use crate::process;
use crate::tally::Tally;
use crate::workspace::{Build, Workspace, read_file};

pub(super) fn run(workspace: &Workspace) -> Result<Tally, Error> {
    let program = workspace.build_program(Build::Dev)?;
    let papers = workspace.target.join("golden");
    process::check(
        Command::new(workspace.examples().join(format!("golden{}", std::env::consts::EXE_SUFFIX)))
            .arg(&papers)
            .current_dir(&workspace.root),
    )?;
    asked(workspace, &program, &[], Some((&papers, &workspace.examples())))
}

/// Runs `reference/compare.py` on a program, all of it or the parts named.
pub(super) fn compare(workspace: &Workspace, program: &Path, parts: &[&str]) -> Result<Tally, Error> {
    asked(workspace, program, parts, None)
}

/// The same, with a folder of typeset files to read back and the folder of the examples to ask.
fn asked(workspace: &Workspace, program: &Path, parts: &[&str], more: Option<(&Path, &Path)>) -> Result<Tally, Error> {
    let python = python(workspace)?;
    let mut command = process::patient(&python);
    command
        .arg(workspace.root.join("reference").join("compare.py"))
        .arg(program)
        // No compiled files beside the sources.
        .env("PYTHONDONTWRITEBYTECODE", "1");
    if let Some((papers, examples)) = more {
        command.arg("--papers").arg(papers).arg("--examples").arg(examples);
    }
    for part in parts {
        command.args(["--part", part]);
    }
    some_ran(process::counted(&mut command)?, "reference/compare.py")
}

/// The Python of a folder of its own, with exactly the versions of `requirements.txt`.
pub(crate) fn python(workspace: &Workspace) -> Result<PathBuf, Error> {
    let wanted = workspace.root.join("reference").join("requirements.txt");
    let folder = workspace.target.join("venv");
    let python = if cfg!(windows) { folder.join("Scripts").join("python.exe") } else { folder.join("bin").join("python") };
    let stamp = folder.join("requirements.txt");
    let list = read_file(&wanted)?;
    if python.is_file() && read_file(&stamp).ok().as_deref() == Some(&list) {
        return Ok(python);
    }
    if process::find("python3").is_none() {
        return Err(Error::Missing { what: "python3".to_owned(), mend: "install Python 3.11 or newer with its venv module".to_owned() });
    }
    process::check(Command::new("python3").args(["-m", "venv", "--clear"]).arg(&folder))?;
    process::check(
        Command::new(&python)
            .args(["-m", "pip", "install", "--quiet", "--no-deps"])
            .args(["--disable-pip-version-check", "--requirement"])
            .arg(&wanted),
    )?;
    // Written last: a broken installation is made again next time.
    std::fs::write(&stamp, list).map_err(|source| Error::File { path: stamp, source })?;
    Ok(python)
}
