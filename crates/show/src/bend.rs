//! Strips bent round cylinders.

use serde::Serialize;

use crate::card::Card;

/// What one cylinder does to two strips.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct BendRow {
    /// What it is.
    pub name: String,
    /// How wide; empty where its name says it.
    pub wide: String,
    /// How far the first is stretched.
    pub first: String,
    /// How far the second is stretched; empty where both are alike.
    pub second: String,
    /// What that does, where it is known how far they stretch.
    pub says: String,
    /// Whether it parts the two.
    pub parts: bool,
}

/// Which cylinder parts two grounds.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct BendView {
    /// In a sentence.
    pub sentence: String,
    /// What goes with it.
    pub more: Vec<String>,
    /// Cylinders, widest first.
    pub rows: Vec<BendRow>,
}

/// Address of the page that bends strips of these two, with their dry thicknesses filled in; `None` where one is not known.
pub fn bend_address(first: &Card, second: &Card) -> Option<String> {
    let dry = |card: &Card| card.section.map(|section| crate::write::number(section.dry_um.value * f64::from(section.coats.max(1)), 0));
    Some(format!("/bend?coat={}&coat2={}", dry(first)?, dry(second)?))
}
