//! What to buy for boards.

use schemars::JsonSchema;
use serde::Serialize;

use crate::CautionView;
use crate::write::{number, plain};

/// One list for all pots.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct ShoppingView {
    /// The list in a sentence.
    pub say: String,
    /// What is needed, stuff by stuff.
    pub lines: Vec<ShoppingLine>,
    /// What the packs cost together, one for each money: `29.00 tokens`.
    pub sums: Vec<String>,
    /// What the stuff costs that goes onto the boards, per board and square metre; empty where nothing is known of prices.
    pub per_board: String,
    /// What is not known, and what was taken instead.
    pub notes: Vec<String>,
    /// What to know before it is bought.
    pub mind: Vec<CautionView>,
}

/// One stuff.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, JsonSchema)]
pub struct ShoppingLine {
    /// Material of the catalogue.
    pub material: String,
    /// Its name.
    pub name: String,
    /// What all pots take together: `432 g`.
    pub need: String,
    /// What stands on the shelf; empty if nothing.
    pub stock: String,
    /// What to buy: `2 × 1000 g`, `76 g`, or `nothing`.
    pub buy: String,
    /// What that costs; empty if not known.
    pub cost: String,
    /// What stays over; empty if nothing or not known.
    pub over: String,
    /// Anything odd: no pack known, price not written down.
    pub note: String,
}

/// A mass as a kitchen scale shows it: whole grams from a hundred on, three digits below.
///
/// ```
/// assert_eq!((show::weighed(1164.8), show::weighed(28.515)), ("1165\u{a0}g".to_owned(), "28.5\u{a0}g".to_owned()));
/// ```
pub fn weighed(grams: f64) -> String {
    format!("{}\u{a0}g", if grams >= 99.95 { number(grams, 0) } else { plain(grams) })
}

/// Money with two places and what it is called.
///
/// ```
/// assert_eq!(show::paid(29.0, "tokens"), "29.00\u{a0}tokens");
/// assert_eq!(show::paid(0.125, ""), "0.13 of money without a name");
/// ```
pub fn paid(amount: f64, money: &str) -> String {
    let money = money.trim();
    let amount = number(amount, 2);
    if money.is_empty() { format!("{amount} of money without a name") } else { format!("{amount}\u{a0}{money}") }
}
