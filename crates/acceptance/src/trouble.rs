//! What can go wrong while asking.

/// The asking itself went wrong, before any check.
#[derive(Debug, thiserror::Error)]
pub enum Trouble {
    /// The system refused.
    #[error("{what}: {source}")]
    System {
        /// What was being done.
        what: String,
        /// What the system said.
        source: std::io::Error,
    },
    /// Something answered in a shape that nobody expects.
    #[error("{0}")]
    Odd(String),
    /// The browser refused.
    #[error("the browser: {0}")]
    Browser(#[from] fantoccini::error::CmdError),
    /// No browser could be started.
    #[error("no browser session: {0}; are chromium and chromedriver there, of the same version?")]
    Session(#[from] fantoccini::error::NewSessionError),
}

impl Trouble {
    /// Wraps what the system said, for `map_err`.
    pub(crate) fn system(what: impl Into<String>) -> impl FnOnce(std::io::Error) -> Self {
        let what = what.into();
        move |source| Self::System { what, source }
    }

    /// Something answered in a shape that nobody expects.
    pub fn odd(what: impl Into<String>) -> Self {
        Self::Odd(what.into())
    }
}
