//! `cargo xtask prove`: how well and how fast cracks are measured, written into `docs/accuracy/cracks.md`.
//!
//! Each table stands there between two marks and is made anew alone: `boards FIRST COUNT` made boards of 12 million pixels, all kinds, with seeds
//! from the first on; `kept FIRST COUNT` the same for seeds that nothing was tried on; `photos` the open photographs; `speed` the time and
//! memory beside two pipelines of general libraries. Without words all but `kept` are made. `labels` makes no table: it reads 200 made labels
//! and prints how they were read.

use std::fmt::Write;
use std::path::PathBuf;
use std::process::Command;

use crate::error::Error;
use crate::process;
use crate::stages::python;
use crate::workspace::{Workspace, read_file};

/// Seeds of the boards when none are named, and how many of each kind.
const BOARDS: [&str; 2] = ["101", "5"];

/// Makes the tables that the words name.
pub(crate) fn run(workspace: &Workspace, words: &[&str]) -> Result<(), Error> {
    match words {
        [] => {
            boards(workspace, "boards", BOARDS)?;
            photos(workspace)?;
            speed(workspace)
        }
        ["boards"] => boards(workspace, "boards", BOARDS),
        [kind @ ("boards" | "kept"), first, count] => boards(workspace, kind, [first, count]),
        ["photos"] => photos(workspace),
        ["speed"] => speed(workspace),
        ["labels"] => process::check(workspace.cargo().args([
            "test",
            "--package",
            "cracks",
            "--test",
            "photos",
            "of_200",
            "--",
            "--ignored",
            "--nocapture",
        ])),
        other => Err(Error::Command { given: format!("prove {}", other.join(" ")) }),
    }
}

fn boards(workspace: &Workspace, mark: &str, [first, count]: [&str; 2]) -> Result<(), Error> {
    let (program, commit) = (example(workspace, "accuracy")?, commit(workspace)?);
    let told = process::read(Command::new(program).args([first, count, "12 MP"]))?;
    put(workspace, &commit, mark, &format!("{mark} {first} {count}"), &told)
}

fn photos(workspace: &Workspace) -> Result<(), Error> {
    let (program, commit) = (example(workspace, "open_photos")?, commit(workspace)?);
    let told = process::read(&mut Command::new(program))?;
    put(workspace, &commit, "photos", "photos", &told)
}

fn speed(workspace: &Workspace) -> Result<(), Error> {
    let python = python(workspace)?;
    let folder = workspace.root.join("reference");
    let quiet = ["-m", "pip", "install", "--quiet", "--no-deps", "--disable-pip-version-check", "--requirement"];
    process::check(Command::new(&python).args(quiet).arg(folder.join("peers.txt")))?;
    let commit = commit(workspace)?;
    let mut command = Command::new(&python);
    command.arg(folder.join("peers.py")).arg(example(workspace, "time")?).env("PYTHONDONTWRITEBYTECODE", "1");
    let told = process::read(&mut command)?;
    put(workspace, &commit, "speed", "speed", &told)
}

/// Builds an example of the photo reader as it is handed out.
fn example(workspace: &Workspace, name: &str) -> Result<PathBuf, Error> {
    process::check(workspace.cargo().args(["build", "--locked", "--release", "--package", "cracks", "--example", name]))?;
    Ok(workspace.target.join("release").join("examples").join(format!("{name}{}", std::env::consts::EXE_SUFFIX)))
}

/// What is measured, asked before it is: others may go on working on it.
fn commit(workspace: &Workspace) -> Result<String, Error> {
    process::read(Command::new("git").current_dir(&workspace.root).args(["describe", "--always", "--dirty=, changed since"]))
}

/// Puts a table between its marks, with what it was made on and how.
fn put(workspace: &Workspace, commit: &str, mark: &str, words: &str, table: &str) -> Result<(), Error> {
    let path = workspace.root.join("docs").join("accuracy").join("cracks.md");
    let page = read_file(&path)?;
    let (begin, end) = (format!("<!-- {mark} -->\n"), format!("<!-- /{mark} -->"));
    let parts = page.split_once(&begin).and_then(|(before, rest)| rest.split_once(&end).map(|(_, after)| (before, after)));
    let Some((before, after)) = parts else {
        return Err(Error::Shape { what: path.display().to_string(), why: format!("no `<!-- {mark} -->` and `<!-- /{mark} -->`") });
    };
    let mut made = before.to_owned();
    // Writing to memory can't fail.
    let _ = write!(
        made,
        "{begin}*`cargo xtask prove {words}`, commit {}, {}.*\n\n{}\n{end}{after}",
        commit.trim(),
        machine(),
        table.trim_end()
    );
    std::fs::write(&path, made).map_err(|source| Error::File { path, source })
}

/// Cores and clock.
fn machine() -> String {
    let cores = std::thread::available_parallelism().map_or_else(|_| "cores not known".to_owned(), |cores| format!("{cores} cores"));
    let told = std::fs::read_to_string("/proc/cpuinfo").unwrap_or_default();
    let clock = told.lines().find_map(|line| line.strip_prefix("cpu MHz")).and_then(|rest| rest.split(['.', ':']).nth(1));
    clock.map_or_else(|| format!("{cores}, clock not known"), |clock| format!("{cores} of {} MHz", clock.trim()))
}
