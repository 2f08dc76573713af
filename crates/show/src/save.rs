//! "My pot is not right", and "does this powder curdle this binder?".

use serde::Serialize;

use crate::{PotMended, RescueView};

/// What a pot wants that is not right.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct SaveView {
    /// What to do, in a sentence.
    pub sentence: String,
    /// What was told, as it was understood; empty where nothing was told.
    pub said: String,
    /// Water and grams, where it is a matter of water.
    pub mended: Option<PotMended>,
    /// What is not known.
    pub trust: Vec<String>,
    /// Ways to save it.
    pub rescues: Vec<RescueView>,
    /// Gas of its base.
    pub foam: Option<FoamView>,
}

/// Room for foam.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct FoamView {
    /// How high a pot.
    pub says: String,
    /// How that was worked out.
    pub how: String,
}

/// What a powder does to a binder.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct GoesView {
    /// The answer.
    pub sentence: String,
    /// Each thing that is known of the pair.
    pub rows: Vec<GoesRow>,
    /// What to do.
    pub advice: String,
}

/// One thing that is known of a pair.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct GoesRow {
    /// What happens.
    pub what: &'static str,
    /// Why.
    pub why: String,
    /// How well it is founded.
    pub standing: &'static str,
    /// Where it comes from.
    pub source: String,
}
