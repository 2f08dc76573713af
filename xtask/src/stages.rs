//! The stages of `cargo xtask test`.

mod browser;
mod fetch;
mod licences;
mod reference;
pub(crate) mod release;
mod rust;

pub(crate) use reference::python;

use crate::error::Error;
use crate::tally::Tally;
use crate::workspace::Workspace;
use crate::{arrows, generate, words};

/// Whether a stage runs in any case or only when all before it held.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Cost {
    /// In any case.
    Cheap,
    /// Only when all before it held.
    Dear,
}

/// One stage: it gives back how many checks passed and failed.
pub(crate) struct Stage {
    pub(crate) name: &'static str,
    pub(crate) what: &'static str,
    pub(crate) cost: Cost,
    pub(crate) run: fn(&Workspace) -> Result<Tally, Error>,
}

const fn stage(cost: Cost, name: &'static str, what: &'static str, run: fn(&Workspace) -> Result<Tally, Error>) -> Stage {
    Stage { name, what, cost, run }
}

/// All stages in rounds, in order; those of one round run side by side.
pub(crate) const ROUNDS: &[&[Stage]] = &[
    &[stage(Cost::Cheap, "format", "layout of the code", rust::format)],
    &[stage(Cost::Cheap, "words", "words that have no place here", |workspace| words::run(workspace).map(one))],
    &[stage(Cost::Cheap, "arrows", "who may use whom", |workspace| arrows::run(workspace).map(one))],
    &[stage(Cost::Cheap, "licences", "licences, bans and sources of what we use", licences::run)],
    // One waits for the network, the other for the processors.
    &[
        stage(Cost::Cheap, "fetch", "what later stages need from elsewhere", |workspace| fetch::run(workspace).map(|()| one(true))),
        stage(Cost::Cheap, "clippy", "warnings count as errors", rust::clippy),
    ],
    &[stage(Cost::Cheap, "generated", "pages made from code", |workspace| generate::run(workspace, generate::Mode::Check).map(one))],
    &[stage(Cost::Dear, "tests", "unit, property, published and doc tests", rust::tests)],
    &[stage(Cost::Dear, "faults", "a server that is treated badly", rust::faults)],
    // A walk mostly waits for its browser; the comparisons take what it leaves of the processors.
    &[
        stage(Cost::Dear, "reference", "other people's libraries asked the same questions", reference::run),
        stage(Cost::Dear, "browser", "walks in a real browser", browser::run),
    ],
];

/// A yes-or-no stage: a yes is no test and counts as none, a no is one failure.
fn one(held: bool) -> Tally {
    Tally { passed: 0, failed: usize::from(!held) }
}

/// A stage of tests in which none ran has checked nothing, so it fails.
fn some_ran(tally: Tally, what: &str) -> Result<Tally, Error> {
    if tally == Tally::default() {
        return Err(Error::Missing { what: format!("any test in {what}"), mend: "a stage that checks nothing must not pass".to_owned() });
    }
    Ok(tally)
}
