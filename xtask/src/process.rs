//! Running other programs.

use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use crate::error::Error;
use crate::tally::Tally;

/// Runs a program and gives back what it wrote; its complaints go to the terminal.
pub(crate) fn read(command: &mut Command) -> Result<String, Error> {
    let output = command.stderr(Stdio::inherit()).output().map_err(|source| start(command, source))?;
    if !output.status.success() {
        return Err(failed(command, &output.status.to_string()));
    }
    String::from_utf8(output.stdout)
        .map_err(|error| Error::Shape { what: format!("what `{}` wrote", name(command)), why: error.to_string() })
}

/// Runs a program with the terminal as its own and asks that it succeeds.
pub(crate) fn check(command: &mut Command) -> Result<(), Error> {
    let status = command.status().map_err(|source| start(command, source))?;
    if status.success() { Ok(()) } else { Err(failed(command, &status.to_string())) }
}

/// Runs a program, passes its lines on as they come and counts the checks in them.
///
/// A program that fails without naming a failed check counts as one failure.
pub(crate) fn counted(command: &mut Command) -> Result<Tally, Error> {
    let mut child = command.stdout(Stdio::piped()).spawn().map_err(|source| start(command, source))?;
    let mut tally = Tally::default();
    if let Some(stdout) = child.stdout.take() {
        for line in BufReader::new(stdout).lines().map_while(Result::ok) {
            println!("{line}");
            tally.read(&line);
        }
    }
    let status = child.wait().map_err(|source| start(command, source))?;
    if !status.success() && tally.failed == 0 {
        println!("`{}` failed ({status})", name(command));
        tally.failed = 1;
    }
    Ok(tally)
}

/// A program that lets others go first, where the system has a way to say so.
pub(crate) fn patient(program: &Path) -> Command {
    match find("nice") {
        Some(nice) => {
            let mut command = Command::new(nice);
            command.args(["-n", "10"]).arg(program);
            command
        }
        None => Command::new(program),
    }
}

/// Where a program lies on the path, if it does.
pub(crate) fn find(program: &str) -> Option<PathBuf> {
    let path = std::env::var_os("PATH")?;
    std::env::split_paths(&path).map(|folder| folder.join(format!("{program}{}", std::env::consts::EXE_SUFFIX))).find(|file| file.is_file())
}

fn name(command: &Command) -> String {
    let mut words = vec![command.get_program().to_string_lossy()];
    words.extend(command.get_args().map(|argument| argument.to_string_lossy()));
    words.join(" ")
}

fn start(command: &Command, source: std::io::Error) -> Error {
    Error::Start { program: name(command), source }
}

fn failed(command: &Command, status: &str) -> Error {
    Error::Failed { program: name(command), status: status.to_owned() }
}
