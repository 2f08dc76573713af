//! One photo, one board: everything that is measured.

use thiserror::Error;

use crate::across::across;
use crate::bar::{Bars, Darkness};
use crate::brush::{Brush, Coarse, brush};
use crate::corners::{Corners, CornersError, find_corners};
use crate::decode::{Photo, PhotoNote};
use crate::flakes::{Flakes, flakes};
use crate::flatten::{BoardSize, Flat, FlatError, flatten};
use crate::graph::Graph;
use crate::lines::{Found, Lines, MARGIN_MM, Rule, find};
use crate::rating::{Rating, rate};
use crate::ridge::bar_response;
use crate::spots::{Pinhole, islands, pinholes};
use crate::strength::{SIGMA, Strength};
use crate::width::{Traced, junctions, trace};

/// Why a board could not be measured.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum LookError {
    /// Its corners.
    #[error(transparent)]
    Corners(#[from] CornersError),
    /// Its picture.
    #[error(transparent)]
    Flat(#[from] FlatError),
    /// Blurred beyond use.
    #[error("the photo is too blurred to see cracks: hold still or rest the camera on something, and tap on the board to focus")]
    Blurred,
}

/// A value with the least and most that a coarser and a finer reading of the same picture give.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// As measured.
    pub value: f64,
    /// Least.
    pub low: f64,
    /// Most.
    pub high: f64,
}

/// What the reader should know of a measurement.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Note {
    /// A profile that is not sRGB.
    OtherProfile,
    /// Shiny or overexposed places, as a share of the board.
    Glare(f64),
    /// The camera was held at a slant: largest local scale over the least.
    Slant(f64),
    /// The blur could not be measured; a usual one was taken.
    BlurGuessed,
    /// The blur is wide, in pixels.
    Soft(f64),
    /// Cracks are narrower than the blur, so widths were worked out from how much light they take.
    WidthInferred,
    /// The board is dim.
    Dim,
    /// The ground is so restless that a crack of usual darkness is less than twice its texture: no cracks found is no finding.
    Restless,
}

/// All that one photo of one board tells.
#[derive(Debug, Clone)]
pub struct Look {
    /// The board straight on.
    pub flat: Flat,
    /// The lines.
    pub lines: Lines,
    /// Where its corners are.
    pub corners: Corners,
    /// Length of cracks an area, mm/mm2.
    pub length: Range,
    /// Share of the area that cracks take, 0 to 1.
    pub area: Range,
    /// Width that half of the length stays below, mm.
    pub width_median: Option<Range>,
    /// Width that 95 of 100 stay below, mm.
    pub width_p95: Option<Range>,
    /// Greatest width, mm.
    pub width_max: Option<Range>,
    /// Places where three or more cracks meet, 1/cm2.
    pub junctions: Range,
    /// Degrees anticlockwise from the board's upper edge, 0 to 180; `None` without cracks.
    pub direction_deg: Option<f64>,
    /// 0 all ways, 1 all one way.
    pub direction_strength: Option<f64>,
    /// Pieces of ground between cracks.
    pub islands: Range,
    /// Round dark spots.
    pub pinholes: Vec<Pinhole>,
    /// Places where the ground is gone.
    pub flakes: Flakes,
    /// Texture that runs one way; `None` if it runs no one way.
    pub brush: Option<Brush>,
    /// Classes by our own scale.
    pub rating: Rating,
    /// Response of the picture's own texture in its strongest direction, for scales of 0.9 px, twice that and so on; infinite where it can't be told.
    pub texture: [f32; 5],
    /// Narrowest crack, black on white, that this photo can show, mm.
    pub smallest_mm: f64,
    /// Measured area, mm2.
    pub measured_mm2: f64,
    /// What the reader should know.
    pub notes: Vec<Note>,
}

/// Blur taken when no edge tells it, in pixels (common practice, no source).
pub(crate) const USUAL_BLUR_PX: f64 = 1.0;
const SOFT_PX: f64 = 2.5;
const MOST_BLUR_PX: f64 = 6.0;
/// Share of clipped pixels from which shine is said (common practice, no source).
const GLARE: f64 = 0.005;
/// Largest over least local scale from which slant is said (common practice, no source).
const SLANT: f64 = 1.15;
const DIM: f64 = 0.08;
/// However still the picture is: thinner lines than this many pixels are not promised (judgement, no source).
const LEAST_SEEN_PX: f64 = 0.3;
/// Darkness taken for cracks when none is wide enough to show it.
pub(crate) const USUAL_DARKNESS: Darkness = Darkness { depth: 0.7, range: (0.4, 0.95), seen: false };

/// Measures the cracks of a board.
///
/// Corners are looked for if none are given. The same photo gives the same figures on any number of threads.
///
/// # Errors
/// See [`LookError`].
pub fn look(photo: &Photo, size: BoardSize, corners: Option<Corners>) -> Result<Look, LookError> {
    let corners = corners.map_or_else(|| find_corners(photo), Ok)?;
    let flat = flatten(photo, size, &corners)?;
    if flat.blur_px.is_some_and(|blur| blur > MOST_BLUR_PX) {
        return Err(LookError::Blurred);
    }
    // A flake is no wide crack: the lines are looked for on the board as if its ground still stood there.
    let flakes = flakes(photo, &flat).ok_or(FlatError::Far)?;
    let flat = match flakes.painted(photo, &flat) {
        Some(whole) => flatten(&whole, size, &corners)?,
        None => flat,
    };
    let blur = taken_blur_px(&flat);
    let rule = Rule::default();
    let strength = Strength::of(&flat.picture, flat.px_per_mm);
    // A side of the lines is one long chain: what needs no lines is done beside it.
    let (Found { lines, looser, stricter }, coarse) = rayon::join(|| find(&flat, &strength, rule), || Coarse::of(&flat));
    let texture = strength.texture;
    drop(strength);
    let (main, brush) = rayon::join(|| Figures::of(&flat, &lines, blur), || brush(&flat, &coarse, &lines));
    let near = [&lines.graph, &looser, &stricter].map(|graph| Reading::of(graph, &flat));
    let px = 1.0 / flat.px_per_mm;
    // The neighbours' readings as shares of this one's, so that all is measured in one way.
    let spread = |value: f64, get: &dyn Fn(&Reading) -> f64, add: f64| {
        let own = near.first().map_or(0.0, get);
        let moved = |reading: &Reading| if own > 0.0 { value * get(reading) / own } else { get(reading) };
        let low = near.iter().map(moved).fold(value, f64::min);
        let high = near.iter().map(moved).fold(value, f64::max);
        Range { value, low: low * (1.0 - add), high: high * (1.0 + add) }
    };
    let dark = main.darkness.unwrap_or(USUAL_DARKNESS);
    let width = |share: f64| main.width_range(share, dark, px);
    let (width_median, width_p95, width_max) = (width(0.5), width(0.95), width(1.0));
    let length = spread(main.length, &|r| r.length, 0.01);
    let area = spread(main.area, &|r| r.length, 0.02);
    let mut notes = notes(photo, &flat, &main);
    // The most that a line answers with at any width is at twice the scale; sizes whose texture can't be told say nothing.
    let most = (USUAL_DARKNESS.depth * bar_response(2.0)) as f32;
    if texture.iter().flatten().any(|texture| texture.is_finite() && most < rule.sure as f32 * texture) {
        notes.push(Note::Restless);
    }
    // Black on white, along the strongest texture: a thin line of width w gives SIGMA^2 w / (sqrt(2 pi) t^3), with t^2 the sum of the squares
    // of scale and blur (worked out from the second derivative of a bell).
    let least = texture.first().map_or(0.0, |finest| finest.iter().copied().fold(0.0, f32::max));
    let thin = SIGMA * SIGMA / std::f64::consts::TAU.sqrt() / SIGMA.hypot(blur).powi(3);
    let smallest_mm = (f64::from(least * rule.seed) / thin).max(LEAST_SEEN_PX) / flat.px_per_mm;
    Ok(Look {
        length,
        area,
        width_median,
        width_p95,
        width_max,
        junctions: spread(main.junctions, &|r| r.junctions, 0.0),
        direction_deg: main.direction.map(|d| d.0),
        direction_strength: main.direction.map(|d| d.1),
        islands: {
            let own = near.first().map_or(0.0, |r| r.rounds);
            let moved = |reading: &Reading| (main.islands + reading.rounds - own).max(0.0);
            let all = || near.iter().map(moved);
            Range { value: main.islands, low: all().fold(main.islands, f64::min), high: all().fold(main.islands, f64::max) }
        },
        flakes,
        brush,
        pinholes: pinholes(&flat, &lines, dark.depth),
        rating: rate(length.value, width_p95.map(|w| w.value)),
        texture: texture.map(|all| all.into_iter().fold(0.0, f32::max)),
        smallest_mm,
        measured_mm2: measured(&flat),
        notes,
        flat,
        lines,
        corners,
    })
}

/// Deviation of the blur that is reckoned with, in pixels of the straightened picture.
pub(crate) fn taken_blur_px(flat: &Flat) -> f64 {
    flat.blur_px.unwrap_or(USUAL_BLUR_PX).max(0.45)
}

fn notes(photo: &Photo, flat: &Flat, main: &Figures) -> Vec<Note> {
    let mut notes = Vec::new();
    if photo.notes.contains(&PhotoNote::OtherProfile) {
        notes.push(Note::OtherProfile);
    }
    if flat.clipped > GLARE {
        notes.push(Note::Glare(flat.clipped));
    }
    let slant = flat.local_px_per_mm.1 / flat.local_px_per_mm.0;
    if slant > SLANT {
        notes.push(Note::Slant(slant));
    }
    match flat.blur_px {
        None => notes.push(Note::BlurGuessed),
        Some(blur) if blur > SOFT_PX => notes.push(Note::Soft(blur)),
        Some(_) => {}
    }
    if !main.widths.is_empty() && !main.darkness.is_some_and(|dark| dark.seen) {
        notes.push(Note::WidthInferred);
    }
    if flat.light < DIM {
        notes.push(Note::Dim);
    }
    notes
}

/// How far the length below the middle width may be off, as a share of all: what lies in the margin, at meeting places and where a line was lost
/// has no width (judgement, no source).
const UNMEASURED: f64 = 0.05;

fn measured(flat: &Flat) -> f64 {
    let inner = |px: usize| (px as f64 / flat.px_per_mm - 2.0 * MARGIN_MM).max(0.0);
    inner(flat.picture.width()) * inner(flat.picture.height())
}

/// What a net tells without looking at the picture again.
struct Reading {
    length: f64,
    junctions: f64,
    rounds: f64,
}

impl Reading {
    fn of(graph: &Graph, flat: &Flat) -> Self {
        let mm2 = measured(flat).max(1e-9);
        let length = graph.branches.iter().map(|branch| branch.chain.len() as f64).sum::<f64>() / flat.px_per_mm / mm2;
        Self { length, junctions: junctions(graph, nearest(flat)).len() as f64 / mm2 * 100.0, rounds: graph.rounds() as f64 }
    }
}

/// Pixels within which two meeting places are one.
fn nearest(flat: &Flat) -> f64 {
    (0.2 * flat.px_per_mm).max(5.0)
}

/// Figures of the reading.
pub(crate) struct Figures {
    pub(crate) length: f64,
    pub(crate) area: f64,
    /// Widths in mm from narrow to wide, each with the length that it stands for, in mm.
    widths: Vec<(f64, f64)>,
    pub(crate) darkness: Option<Darkness>,
    pub(crate) junctions: f64,
    pub(crate) direction: Option<(f64, f64)>,
    pub(crate) islands: f64,
}

impl Figures {
    pub(crate) fn of(flat: &Flat, lines: &Lines, blur: f64) -> Self {
        let (traced, islands) = rayon::join(|| trace(flat, lines, blur), || islands(flat, lines).len());
        let mm2 = measured(flat).max(1e-9);
        let bars = Bars::of(&across(flat, lines, &traced, blur), blur, flat.blur_px.is_some());
        let darkness = bars.darkness();
        let dark = darkness.unwrap_or(USUAL_DARKNESS).depth;
        let mut widths: Vec<(f64, f64)> = bars.widths_px(dark).into_iter().map(|(px, length)| (px / flat.px_per_mm, length)).collect();
        widths.sort_by(|a, b| a.0.total_cmp(&b.0));
        let length: f64 = traced.iter().map(|line| line.length_mm).sum();
        let seen: f64 = widths.iter().map(|width| width.1).sum();
        let mean = widths.iter().map(|(width, length)| width * length).sum::<f64>() / seen.max(1e-9);
        let meetings = junctions(&lines.graph, nearest(flat)).len();
        Self {
            length: length / mm2,
            area: length * mean / mm2,
            widths,
            darkness,
            junctions: meetings as f64 / mm2 * 100.0,
            direction: direction(&traced),
            islands: islands as f64,
        }
    }

    /// Width that this share of the length stays below, mm.
    fn width_at(&self, share: f64) -> Option<f64> {
        let mut left = share * self.widths.iter().map(|width| width.1).sum::<f64>();
        let reached = self.widths.iter().find(|width| {
            left -= width.1;
            left <= 0.0
        });
        reached.or(self.widths.last()).map(|width| width.0)
    }

    /// The same with its doubt: by the length that has no width, which weighs most in the middle (as a share's own deviation does), by the
    /// darkness inside, and by a fifth of a pixel (judgement, no source).
    pub(crate) fn width_range(&self, share: f64, dark: Darkness, px: f64) -> Option<Range> {
        let off = 2.0 * UNMEASURED * (share * (1.0 - share)).max(0.0).sqrt();
        let (low, value, high) = (self.width_at(share - off)?, self.width_at(share)?, self.width_at(share + off)?);
        let low = (low * dark.depth / dark.range.1 - 0.2 * px).max(0.0);
        Some(Range { value, low, high: high * dark.depth / dark.range.0 + 0.2 * px })
    }
}

/// Mean direction and its strength from all short strokes: angles are doubled, since a line has no front (Mardia and Jupp 2000, from memory).
fn direction(traced: &[Traced]) -> Option<(f64, f64)> {
    let strokes = traced.iter().flat_map(|line| {
        let ends = line.points.iter().step_by(4);
        ends.clone().zip(ends.skip(1)).map(|(p, q)| (p.to(*q), -(q.y - p.y).atan2(q.x - p.x)))
    });
    axial_mean(strokes)
}

/// Direction in degrees 0 to 180 and strength 0 to 1 of lengths and angles in radians.
fn axial_mean(strokes: impl Iterator<Item = (f64, f64)>) -> Option<(f64, f64)> {
    let (c, s, sum) = strokes.fold((0.0, 0.0, 0.0), |(c, s, sum), (length, angle)| {
        (c + length * (2.0 * angle).cos(), s + length * (2.0 * angle).sin(), sum + length)
    });
    (sum > 0.0).then(|| ((s.atan2(c).to_degrees() / 2.0).rem_euclid(180.0), c.hypot(s) / sum))
}

#[cfg(test)]
mod tests {
    use super::{Darkness, Figures, axial_mean};

    // Lengths 3, 2, 1, 1 at 10, 20, 30, 100 degrees, with numpy 2.4.6: strength 0.690171, direction 17.9702 degrees.
    #[test]
    fn a_mean_of_lines_as_the_reference_has_it() {
        let strokes = [(3.0, 10.0_f64), (2.0, 20.0), (1.0, 30.0), (1.0, 100.0)].map(|(l, a)| (l, a.to_radians()));
        let (direction, strength) = axial_mean(strokes.into_iter()).expect("strokes");
        assert!((direction - 17.9702).abs() < 1e-4 && (strength - 0.690_171).abs() < 1e-6);
    }

    // By hand: 51 mm of 0.3 mm and 49 mm of 0.1 mm have their middle at 0.3, but three more unmeasured millimetres of the narrow one would bring it
    // down to 0.1; 5 of 100 parts are meant. The darkness may be 0.5 to 0.8 where 0.6 was taken, and a pixel is 0.05 mm: 0.1 * 0.6 / 0.8 - 0.01 and
    // 0.3 * 0.6 / 0.5 + 0.01.
    #[test]
    fn the_middle_of_few_cracks_is_told_with_its_neighbours() {
        let figures = Figures {
            length: 0.01,
            area: 0.002,
            widths: vec![(0.1, 49.0), (0.3, 51.0)],
            darkness: None,
            junctions: 0.0,
            direction: None,
            islands: 1.0,
        };
        let dark = Darkness { depth: 0.6, range: (0.5, 0.8), seen: true };
        let range = figures.width_range(0.5, dark, 0.05).expect("widths");
        assert!((range.value - 0.3).abs() < 1e-12 && (range.low - 0.065).abs() < 1e-12 && (range.high - 0.37).abs() < 1e-12, "{range:?}");
        let widest = figures.width_range(1.0, dark, 0.05).expect("widths");
        assert!((widest.low - 0.215).abs() < 1e-12, "{widest:?}");
    }
}
