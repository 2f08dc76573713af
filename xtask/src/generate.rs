//! `cargo xtask generate`: pages that are made from code, and their check.

use std::path::PathBuf;
use std::process::Command;

use crate::error::Error;
use crate::process;
use crate::workspace::{Build, Workspace, read_file};

/// The JSON answers that have a schema; `groundproof schema NAME` prints it.
const SCHEMAS: [&str; 15] =
    ["film", "why", "milk", "curdle", "dissolve", "glue", "beside", "wish", "enlarge", "jars", "books", "plan", "answer", "look", "since"];

/// Whether to write the files or only to compare them.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Mode {
    Write,
    Check,
}

/// Makes each page anew; with [`Mode::Check`] `false` when a stored one differs.
pub(crate) fn run(workspace: &Workspace, mode: Mode) -> Result<bool, Error> {
    let program = workspace.build_program(Build::Dev)?;
    let folder = workspace.root.join("docs").join("json");
    let mut stale = 0;
    for name in SCHEMAS {
        let fresh = process::read(Command::new(&program).args(["schema", name]))?;
        let path = folder.join(format!("{name}.schema.json"));
        match mode {
            Mode::Write => write(path, &fresh)?,
            Mode::Check if read_file(&path).ok().as_deref() != Some(&fresh) => {
                println!("docs/json/{name}.schema.json is not what the program says today");
                stale += 1;
            }
            Mode::Check => {}
        }
    }
    if stale > 0 {
        println!("run `cargo xtask generate` and commit what it writes");
    }
    Ok(stale == 0)
}

fn write(path: PathBuf, text: &str) -> Result<(), Error> {
    let folder = path.parent().map_or(Ok(()), std::fs::create_dir_all);
    folder.and_then(|()| std::fs::write(&path, text)).map_err(|source| Error::File { path, source })
}
