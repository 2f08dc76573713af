//! What two photos of one board tell together.

use schemars::JsonSchema;
use serde::Serialize;

use crate::card::FigureRow;
use crate::report::{FigureReport, WarningReport};

/// `groundproof look --since`: an older and a newer photo of one board.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct SinceReport {
    /// `groundproof since 1`.
    pub is: &'static str,
    /// Version of the program.
    pub version: &'static str,
    /// The older photo's name as it was given.
    pub old: String,
    /// The newer photo's name as it was given.
    pub new: String,
    /// Things to know; `at` is `old`, `new` or `both`.
    pub warnings: Vec<WarningReport>,
    /// Millimetres along the upper edge of the board in the newer photo; `null` if not known.
    pub width_mm: Option<f64>,
    /// Millimetres along its left edge; `null` if not known.
    pub height_mm: Option<f64>,
    /// How the older photo lies on the newer one; `null` if only the corners say so.
    pub laid: Option<LaidReport>,
    /// Area that both photos measured; `null` without a size.
    pub compared_mm2: Option<f64>,
    /// Narrowest crack, black on white, that both photos can show; `null` without a size.
    pub narrowest_mm: Option<f64>,
    /// Cracks that both photos show.
    pub known_mm_per_mm2: FigureReport,
    /// Cracks that only the newer one shows and the older would have.
    pub added_mm_per_mm2: FigureReport,
    /// The part of it that grew from tips of cracks that were there.
    pub longer_mm_per_mm2: FigureReport,
    /// Cracks that only the older one shows and the newer would.
    pub gone_mm_per_mm2: FigureReport,
    /// Cracks of which it can't be told whether they are new or gone.
    pub unsure_mm_per_mm2: Option<f64>,
    /// New crack over the crack that was there before, a share; `null` where there was none.
    pub added_share: Option<f64>,
    /// Places with new cracks that start at no old tip.
    pub new_places: usize,
    /// How much wider known cracks became; below 0 they closed.
    pub widening_mm: FigureReport,
    /// All pieces of crack; none without a size.
    pub cracks: Vec<SinceCrack>,
}

/// How an older photo lies on a newer one.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct LaidReport {
    /// Quarters clockwise that the board was turned from the older photo to the newer.
    pub quarters: u8,
    /// What nine of ten pieces of the board lie off by at most; `null` without a size.
    pub residual_mm: Option<f64>,
    /// Correlation of both pictures' marks, 0 to 1.
    pub likeness: f64,
    /// From mm on the board in the older photo to mm on the board in the newer one: nine entries of a homography, row by row; `null` without
    /// a size.
    pub map: Option<[f64; 9]>,
}

/// A piece of crack.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct SinceCrack {
    /// `known`, `longer`, `new`, `gone` or `unsure`.
    pub fate: &'static str,
    /// Millimetres along it.
    pub length_mm: f64,
    /// Places along it, in mm from the upper left corner of the board in the newer photo.
    pub points_mm: Vec<[f64; 2]>,
}

/// Both boards in pictures of one size.
#[derive(Debug, Clone, PartialEq)]
pub struct SincePictures {
    /// Pixels in a row.
    pub width: usize,
    /// Rows.
    pub height: usize,
    /// The older board, warped onto the newer, as JPEG.
    pub old: Vec<u8>,
    /// The newer board as JPEG.
    pub new: Vec<u8>,
}

/// A piece of crack in those pictures.
#[derive(Debug, Clone, PartialEq)]
pub struct SinceStroke {
    /// `known`, `longer`, `new`, `gone` or `unsure`.
    pub fate: &'static str,
    /// Pixels of the pictures.
    pub points: Vec<[f64; 2]>,
}

/// Two photos as a page or a terminal shows them.
#[derive(Debug, Clone, PartialEq)]
pub struct SinceView {
    /// One sentence.
    pub sentence: String,
    /// What follows from it.
    pub more: Vec<String>,
    /// Figures with what stands behind them.
    pub figures: Vec<FigureRow>,
    /// Both boards, one on the other.
    pub pictures: Option<SincePictures>,
    /// Cracks in the pixels of `pictures`.
    pub strokes: Vec<SinceStroke>,
    /// The newer board with all pieces drawn in, as PNG, if it was asked for.
    pub overlay: Option<Vec<u8>>,
    /// The same as data.
    pub report: SinceReport,
}
