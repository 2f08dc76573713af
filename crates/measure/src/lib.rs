//! Quantities with the unit in the type, kitchen and laboratory measures, and numbers that carry their doubt.
//!
//! This crate knows no trade. Three small types hold everything that the program says about doubt:
//! [`Input`] (one physical unknown), [`Draws`] (how it is sampled) and [`Figure`] (what a page ever sees).
#![forbid(unsafe_code)]

mod figure;
mod figure_entry;
mod input;
mod quantity;
mod sides;
mod units;
mod vessels;

pub use figure::{BAND_HIGH, BAND_LOW, Figure, FigureKey, Standing, Unit, band};
pub use figure_entry::{FigureEntry, FigureFileError, figure_entries};
pub use input::{Draws, Input, InputKey, Spread};
pub use quantity::{
    Celsius, Grams, GramsPerCubicMetre, GramsPerKilogram, GramsPerMillilitre, GramsPerSquareMetre, GramsPerSquareMetreHour, Hours,
    JoulesPerSquareMetre, MetresPerSecond, Micrometres, Millilitres, Millimetres, Millimoles, Pascals, QuantityError, RelativeHumidity,
    Share, SquareMetres,
};
pub use sides::{Sides, SidesError};
pub use units::{Dimension, KitchenUnit, UnitId, Units, UnitsError};
pub use vessels::{Measures, Packing, Vessel, VesselError, VesselSet, measures};
