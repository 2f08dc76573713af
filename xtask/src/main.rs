//! The commands of this workspace, run as `cargo xtask COMMAND`.
//!
//! A plain Rust program in place of scripts: it runs wherever the workspace builds.
#![allow(clippy::disallowed_methods, reason = "this crate is an edge: it runs programs, reads files and times them")]
#![allow(clippy::print_stdout, clippy::print_stderr, reason = "its answer is what it prints")]

mod arrows;
mod bench;
mod error;
mod generate;
mod process;
mod prove;
mod served;
mod source;
mod stages;
mod tally;
mod test;
mod words;
mod workspace;

use std::process::ExitCode;

use error::Error;
use workspace::Workspace;

const HELP: &str = "\
cargo xtask COMMAND

  test               everything that must hold before a change goes in
  arrows             who may use whom, and what code may not do where
  words              words that have no place in text or on screens
  generate [--check] write the pages that are made from code; --check only compares
  release            the program as it is handed out: built, its formats, its start and its end
  bench              timings, printed, never judged
  prove [TABLE]      tables of docs/accuracy/cracks.md: boards [FIRST COUNT], kept FIRST COUNT, photos, speed;
                     labels reads 200 made labels
";

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    match run(&words) {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("xtask: {error}");
            ExitCode::FAILURE
        }
    }
}

/// Runs one command; `false` means that it ran and found something to mend.
fn run(words: &[&str]) -> Result<bool, Error> {
    match words {
        ["test"] => Ok(test::run(&Workspace::open()?)),
        ["arrows"] => arrows::run(&Workspace::open()?),
        ["words"] => words::run(&Workspace::open()?),
        ["generate"] => generate::run(&Workspace::open()?, generate::Mode::Write),
        ["generate", "--check"] => generate::run(&Workspace::open()?, generate::Mode::Check),
        ["prove", tables @ ..] => prove::run(&Workspace::open()?, tables).map(|()| true),
        ["release"] => stages::release::run(&Workspace::open()?).map(|tally| tally.failed == 0),
        ["bench"] => bench::run(&Workspace::open()?).map(|()| true),
        [] | ["help" | "--help" | "-h"] => {
            print!("{HELP}");
            Ok(true)
        }
        other => Err(Error::Command { given: other.join(" ") }),
    }
}
