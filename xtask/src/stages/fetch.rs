//! What the stages need that cargo does not bring: the libraries of the comparisons, a browser, and what its walks are checked with.

use super::{browser, reference};
use crate::error::Error;
use crate::workspace::Workspace;

/// Brings in what is missing; each part says itself what could not be had.
pub(super) fn run(workspace: &Workspace) -> Result<(), Error> {
    reference::python(workspace)?;
    browser::fetch(workspace)
}
