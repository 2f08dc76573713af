//! What is kept in the notebook.

use serde::Serialize;

use crate::{Bar, number};

/// What a weighing did to the bar, in a sentence.
pub fn shrunk(before: Option<Bar>, after: Option<Bar>) -> String {
    match (before, after) {
        (Some(before), Some(after)) => format!(
            "The bar ran from {} to {} on the rule; now it runs from {} to {}.",
            number(before.low, 2),
            number(before.high, 2),
            number(after.low, 2),
            number(after.high, 2)
        ),
        (None, Some(_)) => "Now there is a place on the rule.".into(),
        _ => String::new(),
    }
}

/// A kept thing in a list.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct KeptRow {
    /// Subject.
    pub subject: String,
    /// Name.
    pub name: String,
    /// What was said of it.
    pub said: String,
    /// Day.
    pub on: String,
    /// Remark.
    pub note: String,
}

/// Recipes and failed boards.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct KeptView {
    /// Word that was searched for.
    pub search: String,
    /// Recipes.
    pub recipes: Vec<KeptRow>,
    /// Failed boards.
    pub failed: Vec<KeptRow>,
}

/// A version of a recipe.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct VersionRow {
    /// Entry.
    pub entry: u64,
    /// When.
    pub on: String,
    /// Name then.
    pub name: String,
    /// Text then.
    pub told: String,
    /// Remark.
    pub note: String,
    /// What was said.
    pub said: String,
    /// Taken back.
    pub struck: bool,
}

/// An entry of the log.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct EntryRow {
    /// Number.
    pub n: u64,
    /// When.
    pub at: String,
    /// Device.
    pub device: String,
    /// What was done.
    pub what: String,
    /// What it is about.
    pub subject: String,
    /// Page of it.
    pub address: Option<String>,
    /// Taken back.
    pub struck: bool,
    /// It takes another back.
    pub strike: bool,
}

/// A stretch of the log.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct LogView {
    /// Word that was searched for.
    pub search: String,
    /// Newest entry shown; 0 for all.
    pub up_to: u64,
    /// Number of the newest entry.
    pub newest: u64,
    /// Entries, newest first.
    pub rows: Vec<EntryRow>,
    /// Number from which the next page goes on.
    pub older: Option<u64>,
}
