//! The painter's own shelf.

use serde::Serialize;

/// A measured value.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct OwnValue {
    /// Entry of the notebook.
    pub entry: u64,
    /// What was measured.
    pub name: String,
    /// Value, unit, range.
    pub value: String,
    /// The tries behind it.
    pub tries: String,
    /// Day.
    pub on: String,
    /// Remark.
    pub note: String,
    /// Whether films use it: the newest of its kind.
    pub in_use: bool,
}

/// A jar.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ShelfJar {
    /// Subject.
    pub subject: String,
    /// Entry that it was shown from.
    pub from: u64,
    /// What stands on it.
    pub name: String,
    /// Material of the catalogue.
    pub material: String,
    /// The material's name.
    pub material_name: String,
    /// Whether it is a powder.
    pub is_powder: bool,
    /// Maker or shop.
    pub maker: String,
    /// Lot.
    pub lot: String,
    /// Price of a pack.
    pub price: String,
    /// Money.
    pub money: String,
    /// Grams in a pack.
    pub pack: String,
    /// Grams left.
    pub stock: String,
    /// Best before.
    pub best_before: String,
    /// Opened on.
    pub opened: String,
    /// Remark.
    pub note: String,
    /// What is due; empty for nothing.
    pub due: String,
    /// 0 for what wants a look, then what is empty, then the rest.
    pub rank: u8,
    /// Own values of its material.
    pub own: Vec<OwnValue>,
}

/// A material that a jar can hold.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct JarChoice {
    /// Short name.
    pub id: String,
    /// Name.
    pub name: String,
}

/// The shelf.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ShelfView {
    /// The next thing to do.
    pub next: String,
    /// Jars.
    pub jars: Vec<ShelfJar>,
    /// What a new jar can hold.
    pub choices: Vec<JarChoice>,
}
