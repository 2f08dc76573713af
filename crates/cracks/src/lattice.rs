//! A lattice cut into the ground with a knife (the cross-cut test): where its cuts run, and how much ground has come away between them.

mod cuts;
mod gone;

use std::io::Cursor;

use image::{ImageFormat, RgbImage};
use thiserror::Error;

use crate::decode::Photo;
use crate::flatten::Flat;
use crate::graph::Point;
use crate::label::paint;
use crate::lines::MARGIN_MM;
use crate::look::Range;
use crate::mask::Mask;
use cuts::{CUTS, Cuts, direction};
use gone::{Gone, measure};

/// Distances from cut to cut that are cut, in mm (ISO 2409).
pub const LATTICE_GAPS_MM: [f64; 3] = [1.0, 2.0, 3.0];
/// How far a told distance may be off: cuts are led by hand.
const BY_HAND: f64 = 0.12;
/// Pixels from one cut to the next below which nothing is told (judgement, no source).
const LEAST_GAP_PX: f64 = 12.0;
/// A square that has lost this share counts as gone: "mostly", as the reading by eye asks.
const MOSTLY: f64 = 0.5;
/// Doubt of a share whatever the colours say: rims that are shaded or curled (judgement, no source).
const DOUBT: f64 = 0.01;
/// Cuts go past the outermost ones by up to so many gaps; all of it is left out of the look for cracks (judgement, no source).
const PAST: f64 = 2.0;

/// Why a lattice could not be measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum LatticeError {
    /// A distance that no lattice has.
    #[error("say the distance from cut to cut, between 0.5 and 10 mm, such as `--lattice 2mm`")]
    Gap,
    /// None was found.
    #[error(
        "no lattice of six cuts each way was found: all of it has to be in the photo, sharp, with a little ground around; say the distance \
         from cut to cut (`--lattice 2mm`), and let the light come from the side so that the cuts look dark"
    )]
    None,
    /// Too few pixels.
    #[error("the lattice is too small in the photo: from cut to cut there have to be at least 12 pixels, so go nearer")]
    Small,
    /// Bent or fanned lines.
    #[error(
        "the cuts are not straight or not parallel in this photo: lay the board flat, hold the camera straight above, and give the board's \
         corners; if they were cut so, count the squares by eye"
    )]
    Uneven,
    /// No ground beside it.
    #[error("there is too little ground around the lattice to compare with: leave three gaps of ground on each side in the photo")]
    Edge,
}

/// What the reader should know of a lattice.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LatticeNote {
    /// What lies bare hardly differs from the ground.
    Faint,
    /// Nothing came away, as far as colours tell: on a board as white as the ground that is no finding.
    Nothing,
    /// The cuts' own width did not show; a usual one was left out.
    CutGuessed,
}

/// A lattice of 25 squares.
#[derive(Debug, Clone)]
pub struct Lattice {
    /// From cut to cut, mm.
    pub gap_mm: Range,
    /// How it lies, degrees anticlockwise from the board's upper edge, -45 to 45.
    pub direction_deg: f64,
    /// How far the two families of cuts are from square, degrees.
    pub off_square_deg: f64,
    /// Width of the cuts, mm, blur and all; `None` if it does not show.
    pub cut_mm: Option<f64>,
    /// Share of the ground between the cuts that has come away, 0 to 1.
    pub gone: Range,
    /// Squares that have mostly come away, of 25.
    pub squares_gone: Range,
    /// The part of `gone` that lies in squares of which most still stands: along cuts and at crossings.
    pub along: Range,
    /// Share of each square that has come away, row by row.
    pub squares: Vec<f64>,
    /// Corners of the outermost cuts, in pixels of the photo.
    pub corners: [Point; 4],
    /// What the reader should know.
    pub notes: Vec<LatticeNote>,
    cuts: Cuts,
    mask: Mask,
    mask_at: (i64, i64),
}

/// Looks for a lattice and measures what has come away; without a distance from cut to cut, 1, 2 and 3 mm are tried.
///
/// # Errors
/// See [`LatticeError`].
pub fn find_lattice(photo: &Photo, flat: &Flat, gap_mm: Option<f64>) -> Result<Lattice, LatticeError> {
    let gaps = match gap_mm {
        Some(gap) if (0.5..=10.0).contains(&gap) => vec![gap],
        Some(_) => return Err(LatticeError::Gap),
        None => LATTICE_GAPS_MM.to_vec(),
    };
    let mut why = None;
    let mut found: Option<Cuts> = None;
    for gap in gaps {
        let gap_px = gap * flat.px_per_mm;
        if gap_px < LEAST_GAP_PX {
            why = why.or(Some(LatticeError::Small));
            continue;
        }
        let margin = 1.5 * MARGIN_MM * flat.px_per_mm;
        match cuts::find(&flat.picture, margin, (gap_px * (1.0 - BY_HAND), gap_px * (1.0 + BY_HAND))) {
            Ok(cuts) if found.as_ref().is_none_or(|best| cuts.clear() > best.clear()) => found = Some(cuts),
            Ok(_) | Err(LatticeError::None) => {}
            Err(other) => why = Some(other),
        }
    }
    let cuts = found.ok_or(why.unwrap_or(LatticeError::None))?;
    let (cuts, gone) = measure(photo, flat, cuts)?;
    told(flat, cuts, &gone).ok_or(LatticeError::None)
}

fn told(flat: &Flat, cuts: Cuts, gone: &Gone) -> Option<Lattice> {
    let per = flat.px_per_mm;
    let main = gone.levels.first()?;
    let range = |of: &dyn Fn(&gone::Away) -> f64| {
        let all = || gone.levels.iter().map(of);
        Range { value: of(main), low: all().fold(f64::INFINITY, f64::min), high: all().fold(f64::NEG_INFINITY, f64::max) }
    };
    let mostly = |away: &gone::Away| away.squares.iter().filter(|&&share| share >= MOSTLY).count() as f64;
    let along = |away: &gone::Away| {
        let rest = away.squares.iter().filter(|&&share| share < MOSTLY).fold(0.0, |sum, share| sum + share);
        rest / away.squares.len().max(1) as f64
    };
    // What hardly differs from the ground may be its own texture.
    let least = |low: f64| if gone.faint { 0.0 } else { (low - DOUBT).max(0.0) };
    let wider = |range: Range| match range {
        Range { value, low, high } if value > 0.0 => Range { value, low: least(low), high: (high + DOUBT).min(1.0) },
        none => none,
    };
    let gap = f64::midpoint(cuts.one.gap, cuts.other.gap);
    let doubt = f64::midpoint(cuts.one.gap_doubt, cuts.other.gap_doubt);
    let (direction_deg, off_square_deg) = direction(&cuts);
    let mut notes = Vec::new();
    if gone.faint {
        notes.push(LatticeNote::Faint);
    }
    if main.squares.iter().all(|&share| share <= 0.0) {
        notes.push(LatticeNote::Nothing);
    }
    if gone.cut_px.is_none() {
        notes.push(LatticeNote::CutGuessed);
    }
    let corners = cuts.corners(0.0)?.map(|(x, y)| {
        let (x, y) = flat.map.map((x + 0.5) / per, (y + 0.5) / per);
        Point { x, y }
    });
    Some(Lattice {
        gap_mm: Range { value: gap / per, low: (gap - doubt) / per, high: (gap + doubt) / per },
        direction_deg,
        off_square_deg,
        cut_mm: gone.cut_px.map(|px| px / per),
        gone: wider(range(&|away| away.squares.iter().sum::<f64>() / away.squares.len().max(1) as f64)),
        squares_gone: range(&mostly),
        along: range(&along),
        squares: main.squares.clone(),
        corners,
        notes,
        mask: main.mask.clone(),
        mask_at: gone.corner,
        cuts,
    })
}

impl Cuts {
    fn clear(&self) -> f64 {
        self.one.clear().min(self.other.clear())
    }

    /// Corners of the outermost cuts and so many gaps more, in pixels of the straightened picture.
    fn corners(&self, more: f64) -> Option<[(f64, f64); 4]> {
        let ends = |family: &cuts::Family| {
            let (mut first, mut last) = (*family.lines.first()?, *family.lines.last()?);
            first.rho -= more * family.gap;
            last.rho += more * family.gap;
            Some((first, last))
        };
        let ((a, b), (c, d)) = (ends(&self.one)?, ends(&self.other)?);
        Some([a.meets(&c)?, b.meets(&c)?, b.meets(&d)?, a.meets(&d)?])
    }
}

impl Lattice {
    /// Squares that it has.
    pub const SQUARES: usize = (CUTS - 1) * (CUTS - 1);

    /// Paints the lattice over with the ground around it, so that its cuts are not taken for cracks; the share of the board that it took.
    pub fn cover(&self, photo: &mut Photo, flat: &Flat) -> f64 {
        let Some(corners) = self.cuts.corners(PAST) else { return 0.0 };
        let per = flat.px_per_mm;
        // No further than the board.
        let (w, h) = (flat.picture.width() as f64, flat.picture.height() as f64);
        let inside = corners.map(|(x, y)| (x.clamp(0.0, w - 1.0), y.clamp(0.0, h - 1.0)));
        paint(photo, inside.map(|(x, y)| flat.map.map((x + 0.5) / per, (y + 0.5) / per)));
        let [a, b, c, d] = inside;
        let cross = |p: (f64, f64), q: (f64, f64)| p.0 * q.1 - q.0 * p.1;
        ((cross(a, b) + cross(b, c) + cross(c, d) + cross(d, a)).abs() / 2.0 / (w * h)).min(1.0)
    }

    /// The lattice as a PNG: its cuts dotted, what has come away coloured.
    pub fn overlay_png(&self, flat: &Flat) -> Option<Vec<u8>> {
        let (width, height) = (self.mask.width(), self.mask.height());
        let (left, top) = self.mask_at;
        let picture = RgbImage::from_fn(width as u32, height as u32, |i, j| {
            let (i, j) = (i64::from(i), i64::from(j));
            let grey = (flat.picture.at(left + i, top + j).clamp(0.0, 1.2).sqrt() * 225.0) as u8;
            let (x, y) = ((left + i) as f64, (top + j) as f64);
            let mut lines = self.cuts.one.lines.iter().chain(&self.cuts.other.lines);
            if (i + j) % 6 < 2 && lines.any(|line| line.beyond(x, y).abs() < 0.75) {
                image::Rgb([20, 90, 160])
            } else if self.mask.has(i, j) {
                image::Rgb([grey.saturating_add(90), grey / 2, grey / 3])
            } else {
                image::Rgb([grey; 3])
            }
        });
        let mut bytes = Cursor::new(Vec::new());
        picture.write_to(&mut bytes, ImageFormat::Png).ok()?;
        Some(bytes.into_inner())
    }
}
