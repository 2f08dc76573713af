//! What can go wrong in a command, with what to do about it.

use std::io;
use std::path::PathBuf;

/// Why a command could not finish.
#[derive(Debug, thiserror::Error)]
pub(crate) enum Error {
    #[error("no command `{given}`; `cargo xtask help` lists them")]
    Command { given: String },
    #[error("`{program}` did not start ({source}); is it installed and on the path?")]
    Start { program: String, source: io::Error },
    #[error("`{program}` failed ({status})")]
    Failed { program: String, status: String },
    #[error("{path}: {source}", path = path.display())]
    File { path: PathBuf, source: io::Error },
    #[error("{what} is not what was expected: {why}")]
    Shape { what: String, why: String },
    #[error("{what} is missing: {mend}")]
    Missing { what: String, mend: String },
}
