//! How long something took.

use std::time::{Duration, Instant};

/// A stopwatch that runs from the moment it is made.
#[derive(Debug, Clone, Copy)]
pub struct Stopwatch(Instant);

impl Stopwatch {
    /// Starts it.
    #[expect(clippy::disallowed_methods, reason = "how long an answer takes is one of the things that are checked")]
    pub fn start() -> Self {
        Self(Instant::now())
    }

    /// Time since the start.
    pub fn elapsed(self) -> Duration {
        self.0.elapsed()
    }
}
