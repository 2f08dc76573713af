//! Panels as typed: number, sides, edges, backs.

use measure::{Millimetres, Sides, SidesError, Units};

use super::wrong;
use crate::milk::MilkFormError;

/// Panels of one size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct PanelKind {
    pub(super) count: u32,
    /// Millimetres.
    pub(super) sides: (f64, f64),
    /// One face, m2.
    pub(super) face: f64,
    /// Face, edges and back as asked, m2.
    pub(super) coated: f64,
}

/// Sides that a panel can have, mm.
const SIDES: std::ops::RangeInclusive<f64> = 10.0..=10_000.0;
/// Thickness of an edge, mm.
const EDGES: std::ops::RangeInclusive<f64> = 0.1..=500.0;
/// Panels that can be asked for together.
const MOST: u32 = 500;

/// Panels such as `5 x 60x80cm; 2 x 30 x 40 cm`, with edges such as `2cm`.
pub(super) fn read(text: &str, edges: &str, backs: bool, units: &Units) -> Result<Vec<PanelKind>, MilkFormError> {
    let edge = match edges.trim() {
        "" => 0.0,
        told => Millimetres::read(told, units, EDGES).map_err(|why| wrong("edges", why.to_string()))?.value(),
    };
    let mut kinds = Vec::new();
    for part in text.split([';', '\n']).map(str::trim).filter(|part| !part.is_empty()) {
        kinds.push(one(part, edge, backs, units)?);
    }
    let all = kinds.iter().fold(0_u32, |sum, kind| sum.saturating_add(kind.count));
    if all == 0 {
        return Err(wrong("panels", "say the panels as “5 x 60x80cm”, one size a line or between semicolons"));
    }
    if all > MOST {
        return Err(wrong("panels", "that is more than 500 panels; ask for a part of them"));
    }
    Ok(kinds)
}

fn one(part: &str, edge: f64, backs: bool, units: &Units) -> Result<PanelKind, MilkFormError> {
    let refused = || wrong("panels", format!("“{part}” is no panel; say how many and how large, such as “5 x 60x80cm”"));
    let plain = part.to_lowercase().replace(['\u{d7}', '*'], "x").replace(" by ", "x").replace(" of ", "x");
    let pieces: Vec<&str> = plain.split('x').collect();
    let (count, size) = match pieces.as_slice() {
        [count, first, second] => (count.trim().parse().map_err(|_| refused())?, format!("{first} x {second}")),
        [first, second] => (1, format!("{first} x {second}")),
        _ => return Err(refused()),
    };
    let sides = Sides::read(&size, units, SIDES).map_err(|why| match why {
        SidesError::NoSize { .. } => refused(),
        SidesError::NoUnit(_) | SidesError::Thousands(_) | SidesError::Range { .. } => wrong("panels", why.to_string()),
    });
    let sides = sides?.mm();
    let face = sides.0 * sides.1 / 1e6;
    let around = 2.0 * (sides.0 + sides.1) * edge / 1e6;
    Ok(PanelKind { count, sides, face, coated: face * if backs { 2.0 } else { 1.0 } + around })
}
