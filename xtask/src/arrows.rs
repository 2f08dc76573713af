//! `cargo xtask arrows`: the shape of the house, checked.
//!
//! Who may use whom stands in `arrows.csv`; what a pure crate may not bring along in
//! `outside.csv`; what code may not do where in [`habits`].

mod habits;
mod outside;
mod table;

pub(crate) use table::rows;

use crate::error::Error;
use crate::workspace::Workspace;

/// Prints every arrow that points the wrong way; `true` when there is none.
pub(crate) fn run(workspace: &Workspace) -> Result<bool, Error> {
    let table = table::Table::read()?;
    let mut findings = table.wrong_arrows(workspace);
    findings.extend(outside::brought_along(workspace, &table)?);
    findings.extend(habits::broken(workspace, &table)?);
    for finding in &findings {
        println!("{finding}");
    }
    println!("arrows: {} to mend", findings.len());
    Ok(findings.is_empty())
}
