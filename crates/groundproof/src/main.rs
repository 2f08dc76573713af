//! The program: `groundproof` opens the workbench in the browser; each command does on the command line what a page does.
#![forbid(unsafe_code)]

mod answer;
mod arguments;
mod command;
mod curdle;
mod ear;
mod enlarge;
mod glue;
mod look;
mod lookup;
mod open;
mod paper;
mod plan;
mod size;
mod studio;
mod wish;

use std::process::ExitCode;

use clap::Parser;

use arguments::{Arguments, Command};
use command::Failure;

/// A photo takes and gives back hundreds of megabytes: the system's allocator asks for fresh pages each time, which costs a fifth of a
/// measurement.
#[global_allocator]
static MEMORY: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    let done = match arguments.command.unwrap_or_default() {
        Command::Open(options) => open::run(&options),
        Command::Film(options) => command::film(&options),
        Command::Why(options) => command::why(&options),
        Command::Milk(options) => command::milk(&options),
        Command::Curdle(options) => curdle::curdle(&options),
        Command::Dissolve(options) => curdle::dissolve(&options),
        Command::Swap(options) => curdle::swap(&options),
        Command::Glue(options) => glue::glue(&options),
        Command::Beside(options) => command::beside(&options),
        Command::Look(options) => look::run(&options),
        Command::Enlarge(options) => enlarge::enlarge(&options),
        Command::Wish(options) => wish::wish(&options),
        Command::Answer(options) => answer::run(&options),
        Command::Jars(options) => lookup::jars(&options),
        Command::Books(options) => lookup::books(&options),
        Command::Studio(command) => studio::run(&command),
        Command::Paper(options) => paper::run(&options),
        Command::Plan(options) => plan::plan(&options),
        Command::Schema { name } => command::schema(name),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            if let Some(said) = failure.said() {
                complain(said);
            }
            ExitCode::from(match failure {
                Failure::CouldNot(_) => 1,
                Failure::BadInput(_) => 2,
            })
        }
    }
}

#[expect(clippy::print_stderr, reason = "the command line speaks here")]
pub(crate) fn complain(said: &str) {
    eprintln!("{said}");
}
