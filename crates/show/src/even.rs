//! The pot while one works: whether the last board is laid from the same stuff as the first.

use serde::Serialize;

/// One thing that parts the last board from the first.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct EvenRow {
    /// What it is about.
    pub about: String,
    /// What comes of it.
    pub said: String,
    /// How that was worked out, and when it does not hold.
    pub how: String,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct EvenView {
    /// In a sentence.
    pub sentence: String,
    /// Why, or what to do with it.
    pub more: String,
    /// The things one by one.
    pub rows: Vec<EvenRow>,
    /// What is not known.
    pub trust: Vec<String>,
}
