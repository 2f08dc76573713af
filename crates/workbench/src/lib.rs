//! Use cases, one a file: each takes what a person typed or tapped, asks the knowledge crates and returns a view. The only place
//! that sequences work; pages and command line are thin.
#![forbid(unsafe_code)]

mod beside;
mod books;
mod failed;
mod jars;
mod milk;
mod verdict;

use materials::Catalogue;
use measure::Units;
use trials::causes::CauseBook;

pub use beside::{Beside, BesideRequest};
pub use failed::{FailedRequest, TapError};
pub use milk::{MilkForm, MilkFormError};
pub use verdict::{TextError, VerdictRequest};

/// Version of the program, as printed in reports.
pub const VERSION: &str = env!("CARGO_PKG_VERSION");

/// The data files, ready to be asked. Cheap to share; holds nothing that changes.
#[derive(Debug)]
pub struct Workbench {
    jars: &'static Catalogue,
    units: Units,
    causes: &'static CauseBook,
    shelf: &'static support::Shelf,
}

/// A data file that ships with the program is broken. Only a faulty build can cause it.
#[derive(Debug, thiserror::Error)]
#[error("the program's own data is broken: {0}; get a sound copy of the program")]
pub struct OpenError(String);

impl Workbench {
    /// Reads the data files.
    ///
    /// # Errors
    /// A data file is broken.
    pub fn open() -> Result<Self, OpenError> {
        Ok(Self {
            jars: Catalogue::builtin().map_err(|e| OpenError(e.to_string()))?,
            units: Units::builtin().map_err(|e| OpenError(e.to_string()))?,
            causes: CauseBook::builtin().map_err(|e| OpenError(e.to_string()))?,
            shelf: support::Shelf::builtin().map_err(|e| OpenError(e.to_string()))?,
        })
    }

    /// The edges between lean, usual and rich, and the width to which they are known, for pictures of the rule.
    pub const fn edges() -> (f64, f64, f64) {
        (ground::RICH_BELOW, ground::LEAN_ABOVE, ground::EDGE_WIDTH)
    }
}
