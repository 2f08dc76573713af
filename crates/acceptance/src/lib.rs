//! The finished program, asked from outside: [`Program`] starts it, [`Visitor`] speaks raw HTTP to it, [`Browser`] walks its pages
//! as a person would, [`run`] gives it a command. The checks themselves are in `tests/`.
#![forbid(unsafe_code)]

mod browser;
mod command;
mod driver;
mod program;
mod stopwatch;
mod trouble;
mod wire;

pub use browser::{Browser, DESK, PHONE, Screen};
pub use command::{Said, run};
pub use program::{HOUSE, Program, program_path};
pub use stopwatch::Stopwatch;
pub use trouble::Trouble;
pub use wire::{Answer, Request, Visitor, send};
