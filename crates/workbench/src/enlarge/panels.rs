//! Panels as typed: number, sides, edges, backs.

use super::wrong;
use crate::milk::{MilkFormError, sides};

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
/// Panels that can be asked for together.
const MOST: u32 = 500;

/// Panels such as `5 x 60x80cm; 2 x 30 x 40 cm`, with edges such as `2cm`.
pub(super) fn read(text: &str, edges: &str, backs: bool) -> Result<Vec<PanelKind>, MilkFormError> {
    let edge = match edges.trim() {
        "" => 0.0,
        told => sides(&format!("{told} x {told}"))
            .map(|(edge, _)| edge)
            .filter(|edge| (0.1..=500.0).contains(edge) && !told.contains(['-', '\u{2212}', 'x']))
            .ok_or_else(|| wrong("edges", format!("“{told}” is no thickness of an edge; say it as “2cm” or “18 mm”")))?,
    };
    let mut kinds = Vec::new();
    for part in text.split([';', '\n']).map(str::trim).filter(|part| !part.is_empty()) {
        kinds.push(one(part, edge, backs)?);
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

fn one(part: &str, edge: f64, backs: bool) -> Result<PanelKind, MilkFormError> {
    let refused = || wrong("panels", format!("“{part}” is no panel; say how many and how large, such as “5 x 60x80cm”"));
    let plain = part.to_lowercase().replace(['\u{d7}', '*'], "x").replace(" by ", "x").replace(" of ", "x");
    let pieces: Vec<&str> = plain.split('x').collect();
    let (count, size) = match pieces.as_slice() {
        [count, first, second] => (count.trim().parse().map_err(|_| refused())?, format!("{first} x {second}")),
        [first, second] => (1, format!("{first} x {second}")),
        _ => return Err(refused()),
    };
    let sides = sides(&size)
        .filter(|(wide, high)| SIDES.contains(wide) && SIDES.contains(high) && !part.contains(['-', '\u{2212}']))
        .ok_or_else(refused)?;
    let face = sides.0 * sides.1 / 1e6;
    let around = 2.0 * (sides.0 + sides.1) * edge / 1e6;
    Ok(PanelKind { count, sides, face, coated: face * if backs { 2.0 } else { 1.0 } + around })
}
