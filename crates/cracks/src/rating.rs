//! Classes by a scale of our own.

/// Name that stands beside every class.
pub const SCALE: &str = "own scale, shaped like ISO 4628-4";

/// How much and how wide.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rating {
    /// 0 none to 5 dense.
    pub quantity: u8,
    /// 0 none to 5 very wide; `None` if no width is known.
    pub size: Option<u8>,
}

/// Limits of length an area in mm/mm2 below which a class ends (model choice).
const QUANTITY: [f64; 4] = [0.005, 0.02, 0.05, 0.15];
/// Limits of the width that 95 of 100 stay below, in mm (model choice; a minute of arc at 250 mm is 0.073 mm, worked out).
const SIZE: [f64; 4] = [0.05, 0.15, 0.5, 1.0];

/// Classes from the length of cracks an area and their large widths.
///
/// ```
/// let none = cracks::rate(0.0, None);
/// assert_eq!((none.quantity, none.size), (0, Some(0)));
/// assert_eq!(cracks::rate(0.03, Some(0.2)).quantity, 3);
/// ```
pub fn rate(length_mm_per_mm2: f64, width_p95_mm: Option<f64>) -> Rating {
    let class = |value: f64, limits: [f64; 4]| 1 + limits.iter().filter(|&&limit| value >= limit).count() as u8;
    if length_mm_per_mm2 <= 0.0 {
        return Rating { quantity: 0, size: Some(0) };
    }
    Rating { quantity: class(length_mm_per_mm2, QUANTITY), size: width_p95_mm.map(|width| class(width, SIZE)) }
}
