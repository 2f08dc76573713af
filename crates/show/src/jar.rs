//! The catalogue and the books, as pages.

use schemars::JsonSchema;
use serde::Serialize;

use crate::card::CautionView;
use crate::report::FilmReport;

/// A material in the list.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct JarRow {
    /// Short name.
    pub id: String,
    /// The painter's word.
    pub name: String,
    /// The chemist's word.
    pub chemist: String,
    /// Heading under which it stands.
    pub group: &'static str,
    /// One plain sentence.
    pub plain: String,
}

/// A number of a material.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PropertyRow {
    /// In words.
    pub name: String,
    /// Value with range and unit.
    pub value: String,
    /// Where it comes from.
    pub source: String,
    /// How well it is founded, in words.
    pub standing: &'static str,
}

/// A material's own page.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct JarView {
    /// The row in the list.
    pub row: JarRow,
    /// Other names.
    pub names: Vec<String>,
    /// Its numbers.
    pub properties: Vec<PropertyRow>,
    /// Cautions.
    pub cautions: Vec<CautionView>,
    /// What it does with each binder.
    pub pairs: Vec<(String, String)>,
}

/// A handbook recipe.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct BookView {
    /// R01 to R34.
    pub id: String,
    /// Its name.
    pub name: String,
    /// What it says: ingredient, amount, note.
    pub rows: Vec<(String, String, String)>,
    /// Where it was read.
    pub source: String,
    /// Whether it has a place on the rule.
    pub has_place: bool,
    /// Where it stands on the rule, or why it has no place.
    pub place: String,
    /// What had to be assumed; may be empty.
    pub assumption: String,
    /// The same in one told line, to put in the box; may be empty.
    pub told: String,
}

/// The list of jars, as data.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct JarsReport {
    /// `groundproof jars 1`.
    pub is: &'static str,
    /// Version of the program.
    pub version: &'static str,
    /// The jars asked for, with all that is known of each.
    pub jars: Vec<JarView>,
}

/// The handbook recipes, as data.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct BooksReport {
    /// `groundproof books 1`.
    pub is: &'static str,
    /// Version of the program.
    pub version: &'static str,
    /// The recipes.
    pub books: Vec<BookView>,
}

/// Two recipes beside each other, as data.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct BesideReport {
    /// `groundproof beside 1`.
    pub is: &'static str,
    /// Version of the program.
    pub version: &'static str,
    /// The difference in sentences, the most telling first.
    pub differences: Vec<String>,
    /// The first film.
    pub left: FilmReport,
    /// The second film.
    pub right: FilmReport,
}
