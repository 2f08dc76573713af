//! Binder amount against thickness.

use measure::Figure;

use crate::card::{Bar, Tick};
use crate::write::number;

/// A thickness of the model as it may be said: one or two figures, since it is uncertain several-fold. Micrometres.
///
/// ```
/// assert_eq!(show::about_um(73.4), "70");
/// assert_eq!(show::about_um(322.0), "300");
/// ```
pub fn about_um(um: f64) -> String {
    let step = if um < 100.0 { 10.0 } else { 50.0 };
    number((um / step).round().max(1.0) * step, 0)
}

/// One amount of binder and what is said of the thickness there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WindowColumn {
    /// Grams of dry binder to 100 g of powder.
    pub binder: f64,
    /// Micrometres below which cracks are unlikely, at most 1000.
    pub unlikely_um: f64,
    /// Micrometres from which they are likely; `None` beyond 1000.
    pub likely_um: Option<f64>,
}

/// The recipe itself, as wide as its doubt, its coats stacked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WindowMark {
    /// Grams of dry binder to 100 g of powder: low, value, high.
    pub binder: [f64; 3],
    /// One coat, dry; `None` if it is not known.
    pub coat: Option<Figure>,
    /// How many.
    pub coats: u32,
}

/// A board of the painter's own.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WindowBoard {
    /// Grams of dry binder to 100 g of powder at the same place on the rule.
    pub binder: f64,
    /// Thickest that stayed whole, micrometres.
    pub sound_um: Option<f64>,
    /// Thinnest that cracked, micrometres.
    pub cracked_um: Option<f64>,
}

/// The picture for one recipe.
#[derive(Debug, Clone, PartialEq)]
pub struct WindowPicture {
    /// What stands above it.
    pub name: String,
    /// Right end of the axis, grams of dry binder to 100 g of powder.
    pub most_binder: f64,
    /// From lean to rich.
    pub columns: Vec<WindowColumn>,
    /// Binder between which nothing is said.
    pub near: Option<(f64, f64)>,
    /// Handbook grounds, by the binder at the same place on the rule.
    pub ticks: Vec<f64>,
    /// The recipe.
    pub mark: WindowMark,
    /// Own boards.
    pub boards: Vec<WindowBoard>,
}

/// One recipe on the page.
#[derive(Debug, Clone, PartialEq)]
pub struct WindowPanel {
    /// "The first", or nothing where it is the only one.
    pub name: String,
    /// The recipe as told.
    pub told: String,
    /// Its place on the rule, if it has one.
    pub bar: Option<Bar>,
    /// How thick it may be, or why that is not known.
    pub sentence: String,
    /// What goes with it.
    pub more: Vec<String>,
    /// The picture, where there is one.
    pub picture: Option<WindowPicture>,
}

/// The whole page.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct WindowView {
    /// One for each recipe, on the same axes.
    pub panels: Vec<WindowPanel>,
    /// Handbook grounds on the rule.
    pub ticks: Vec<Tick>,
}
