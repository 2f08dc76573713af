//! A binder of the painter's own making: what went in, what was done, what was measured.

use serde::{Deserialize, Serialize};

use crate::Moment;

/// Which way a binder is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BinderRoad {
    /// From milk and acid.
    #[default]
    Curd,
    /// From bought curd or quark.
    Bought,
    /// From casein powder.
    Powder,
    /// From hide glue or gelatine.
    Glue,
}

/// A binder as it was begun. Closing it is a change of this record.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Binder {
    /// What stands on it, such as `Tern`.
    pub name: String,
    /// Which way it is made.
    pub road: BinderRoad,
    /// Milk as told.
    pub milk: String,
    /// Acids as told; the first is the one asked about.
    pub acids: Vec<String>,
    /// Bought curd or casein powder as told.
    pub casein: String,
    /// Glue or gelatine as told.
    pub glue: String,
    /// What opens the casein as told, with or without an amount.
    pub base: String,
    /// Water that is planned to go in, grams; none for as much as brushes well.
    pub water_g: Option<f64>,
    /// How warm the milk is, degrees Celsius.
    pub warmth_c: Option<f64>,
    /// Whether the milk was hot before.
    pub heated_before: bool,
    /// Whether the curd is squeezed, not only drained.
    pub squeezed: bool,
    /// Rinses planned.
    pub rinses: u32,
    /// Water of one rinse, millilitres.
    pub rinse_ml: Option<f64>,
    /// Lots that it was made from: jars on the shelf, by their subject.
    pub lots: Vec<String>,
    /// When it was used up or thrown away.
    pub closed: Option<Moment>,
    /// Why it was closed.
    pub closed_why: String,
    /// Any remark.
    pub note: String,
}

/// A step of its road that was done.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct BinderStep {
    /// The binder.
    pub binder: String,
    /// Step of its road, such as `curdle`.
    pub step: String,
    /// When.
    pub at: Moment,
    /// Any remark.
    pub note: String,
}

/// What was seen, or truly went in or out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", tag = "what")]
pub enum BinderSeen {
    /// pH by paper.
    Ph {
        /// What it said.
        ph: f64,
        /// How far it may be off, one standard deviation.
        slack: f64,
        /// Acids poured until then, as told; empty for all of them.
        #[serde(default)]
        poured: Vec<String>,
    },
    /// The drained curd was weighed.
    CurdWeight {
        /// Grams.
        grams: f64,
    },
    /// Weighed spoonfuls were dried until their weight stood still.
    Dishes {
        /// Wet and dry weight of each, grams.
        dishes: Vec<(f64, f64)>,
    },
    /// What is in the jar was weighed.
    Contents {
        /// Grams, without the jar.
        grams: f64,
    },
    /// Base went in.
    BaseAdded {
        /// As told, such as `1 tsp baking soda`.
        told: String,
    },
    /// Water went in.
    WaterAdded {
        /// Grams.
        grams: f64,
    },
    /// Whey ran off.
    Whey {
        /// Millilitres.
        ml: f64,
    },
    /// Binder was taken out, for a pot or to be thrown away.
    Taken {
        /// Grams.
        grams: f64,
        /// What for.
        #[serde(default)]
        what_for: String,
    },
    /// Where it stands from now on.
    Stands {
        /// In the fridge; otherwise in the room.
        cold: bool,
    },
}

/// A measurement at a step.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BinderMeasure {
    /// The binder.
    pub binder: String,
    /// Step of its road at which it was made.
    #[serde(default)]
    pub step: String,
    /// When.
    pub at: Moment,
    /// What was seen.
    pub seen: BinderSeen,
    /// Any remark.
    #[serde(default)]
    pub note: String,
}
