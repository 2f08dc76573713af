//! What one photo of a board tells.

use schemars::JsonSchema;
use serde::Serialize;

use crate::card::FigureRow;
use crate::report::{FigureReport, WarningReport};

/// `groundproof look`: one photo of one board. Several photos are a list of these.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct LookReport {
    /// `groundproof look 1`.
    pub is: &'static str,
    /// Version of the program.
    pub version: &'static str,
    /// The photo's name as it was given.
    pub photo: String,
    /// Things to know.
    pub warnings: Vec<WarningReport>,
    /// Why nothing was measured; absent if it was.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub why: Option<String>,
    /// The board and where it lies.
    pub board: SightedReport,
    /// Millimetres a pixel of the straightened picture: the board's mask has round(width / this) columns. `null` without a size.
    pub scale_mm_per_px: Option<f64>,
    /// Cracks.
    pub cracks: CracksReport,
    /// Pieces of ground between cracks.
    pub islands: FigureReport,
    /// Round dark holes.
    pub pinholes: FigureReport,
    /// Places where the ground is gone; they are left out of the cracks.
    pub flakes: FlakesReport,
    /// Whether cracks and flakes go through the ground, in words: a photo has no number for it.
    pub depth: DepthReport,
    /// Texture that runs one way, as brush ridges do.
    pub ridges: RidgesReport,
    /// Classes.
    pub rating: RatingReport,
    /// A lattice cut into the ground; `null` if none was asked for.
    pub lattice: Option<LatticeReport>,
    /// How white the ground is.
    pub colour: ColourReport,
    /// The same in sides of the board, where its size is not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub relative: Option<RelativeReport>,
    /// What the photo itself leaves in doubt.
    pub quality: Vec<QualityReport>,
    /// Square codes that were read in the photo.
    pub labels: Vec<LabelReport>,
    /// What can be handed to `groundproof why --tap`: only where the photo says it clearly.
    pub taps: Vec<SeenTap>,
    /// What to ask.
    pub questions: Vec<LookQuestion>,
}

/// A board in its photo.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct SightedReport {
    /// Millimetres along its upper edge; `null` if not known.
    pub width_mm: Option<f64>,
    /// Millimetres along its left edge; `null` if not known.
    pub height_mm: Option<f64>,
    /// Where the size comes from: `told`, `label`, `card` or `not known`.
    pub size_from: &'static str,
    /// Pixels of the upright photo: top left, top right, bottom right, bottom left; `null` if the board was not found.
    pub corners: Option<[[f64; 2]; 4]>,
    /// Where the corners come from: `told`, `found` or `not known`.
    pub corners_from: &'static str,
    /// Area that was measured, without the margin of 1 mm; `null` without a size.
    pub measured_mm2: Option<f64>,
    /// Narrowest crack, black on white, that this photo can show.
    pub narrowest_mm: Option<f64>,
}

/// Cracks in figures.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CracksReport {
    /// Length an area.
    pub length_mm_per_mm2: FigureReport,
    /// Share of the area, 0..1.
    pub area_fraction: FigureReport,
    /// Widths.
    pub width_mm: WidthReport,
    /// Places where three or more meet.
    pub junctions_per_cm2: FigureReport,
    /// Mean direction, 0 to 180 anticlockwise from the board's upper edge; the range may go past either end.
    pub direction_deg: FigureReport,
    /// 0 all ways, 1 all one way.
    pub direction_strength: FigureReport,
}

/// Widths of cracks, each counted by its length.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct WidthReport {
    /// Half of the length is narrower.
    pub median: FigureReport,
    /// 95 of 100 parts of the length are narrower.
    pub p95: FigureReport,
    /// Widest place.
    pub max: FigureReport,
}

/// Classes by a scale of our own.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct RatingReport {
    /// How much, 0 none to 5 dense; `null` if it can't be told.
    pub quantity: Option<u8>,
    /// How wide, 0 none to 5 very wide; `null` if it can't be told.
    pub size: Option<u8>,
    /// Whose scale.
    pub scale: &'static str,
}

/// Places where the ground is gone and something darker or of another colour lies bare.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct FlakesReport {
    /// How many.
    pub count: FigureReport,
    /// Share of the area, 0..1.
    pub area_fraction: FigureReport,
    /// The largest.
    pub largest_mm2: FigureReport,
}

/// What the photo tells of the depth of cracks and flakes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct DepthReport {
    /// Cracks.
    pub cracks: DepthWords,
    /// Places where the ground is gone.
    pub flakes: DepthWords,
}

/// A depth in words.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct DepthWords {
    /// `goes through the ground, as wood shows in it`, `can't be told from this photo`, `no cracks` or `no flakes`.
    pub words: &'static str,
    /// Why; empty where there is nothing to be deep.
    pub why: String,
}

/// Brush ridges, or other texture that runs one way; not known where it runs no one way.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct RidgesReport {
    /// Deviation of the light across the ridges, over the light of the ground; it hangs on where the light comes from.
    pub contrast: FigureReport,
    /// Which way they run, 0 to 180 anticlockwise from the board's upper edge; the range may go past either end.
    pub direction_deg: FigureReport,
    /// From one to the next.
    pub spacing_mm: FigureReport,
}

/// A lattice of 25 squares, cut with a knife.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct LatticeReport {
    /// From cut to cut.
    pub gap_mm: FigureReport,
    /// How it lies, degrees anticlockwise from the board's upper edge, -45 to 45.
    pub direction_deg: f64,
    /// How far its two families of cuts are from square, degrees.
    pub off_square_deg: f64,
    /// Width of the cuts with their blur; `null` if it does not show.
    pub cut_mm: Option<f64>,
    /// Share of the ground between the cuts that has come away, 0..1.
    pub gone: FigureReport,
    /// The part of `gone` in squares of which most still stands.
    pub along: FigureReport,
    /// Squares, of 25, that have mostly come away.
    pub squares_gone: FigureReport,
    /// Share of each square that has come away, row by row of the lattice.
    pub squares: Vec<f64>,
    /// Corners of the outermost cuts in pixels of the upright photo.
    pub corners: [[f64; 2]; 4],
    /// Its class; `null` if it can't be told.
    pub class: Option<LatticeClassReport>,
}

/// The class of a lattice and what the range allows besides.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct LatticeClassReport {
    /// The measure that a reading of it is written under.
    pub measure: &'static str,
    /// Class, 0 to 5, as it would be typed for that measure.
    pub class: f64,
    /// Least class that the range allows.
    pub least: f64,
    /// Largest.
    pub most: f64,
    /// What the class looks like.
    pub looks: String,
    /// Whose class it is.
    pub source: String,
}

/// Colour of the ground under D65, 2 degrees.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ColourReport {
    /// CIE L*; `null` if it can't be told.
    pub lightness: Option<f64>,
    /// CIE a*.
    pub a: Option<f64>,
    /// CIE b*, yellow above nought.
    pub b: Option<f64>,
    /// CIE whiteness; `null` without a patch of known lightness, and for what is no near-white.
    pub whiteness: Option<f64>,
    /// CIE tint.
    pub tint: Option<f64>,
    /// Whether all of it hangs on how the camera exposed, since no patch was told.
    pub relative: bool,
    /// Why it is not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub why: Option<String>,
}

/// Figures in sides of the board.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct RelativeReport {
    /// Length of all cracks over the board's long side.
    pub length_long_sides: FigureReport,
    /// Median width over the board's long side.
    pub width_long_sides: FigureReport,
    /// Places where three or more meet, on the whole board.
    pub junctions: FigureReport,
}

/// Something that the photo leaves in doubt, and what helps.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct QualityReport {
    /// Short name.
    pub id: String,
    /// A plain sentence.
    pub text: String,
}

/// A square code.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct LabelReport {
    /// What it reads.
    pub text: String,
    /// Pixels of the upright photo, clockwise from the code's own top left.
    pub corners: [[f64; 2]; 4],
}

/// A tap that the photo answers.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct SeenTap {
    /// The tap, such as `looks`.
    pub tap: String,
    /// The answer, such as `network of cracks`.
    pub answer: String,
    /// What in the photo says so.
    pub because: String,
}

/// A question whose answer would say more.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct LookQuestion {
    /// Short name.
    pub id: String,
    /// The question.
    pub ask: String,
    /// What is taken meanwhile.
    pub assumed: String,
    /// What the answer would add.
    pub narrows: String,
}

/// A photo as a page or a terminal shows it.
#[derive(Debug, Clone, PartialEq)]
pub struct LookView {
    /// One sentence.
    pub sentence: String,
    /// What follows from it.
    pub more: Vec<String>,
    /// Figures with what stands behind them.
    pub figures: Vec<FigureRow>,
    /// The straightened board with its cracks drawn in, as PNG, if it was asked for.
    pub overlay: Option<Vec<u8>>,
    /// The cracks alone, 255 on 0, as PNG, if it was asked for.
    pub mask: Option<Vec<u8>>,
    /// Lines of the cracks in pixels of the upright photo, if they were asked for.
    pub paths: Vec<Vec<[f64; 2]>>,
    /// Width and height of the upright photo, pixels.
    pub photo_px: [u32; 2],
    /// The same as data.
    pub report: LookReport,
}

impl LookReport {
    /// The report of a photo that could not be measured.
    pub fn not_measured(version: &'static str, photo: &str, scale: &'static str, why: &str) -> Self {
        let unknown = |unit| FigureReport::unknown(unit, why);
        Self {
            is: "groundproof look 1",
            version,
            photo: photo.to_owned(),
            warnings: Vec::new(),
            why: Some(why.to_owned()),
            board: SightedReport {
                width_mm: None,
                height_mm: None,
                size_from: "not known",
                corners: None,
                corners_from: "not known",
                measured_mm2: None,
                narrowest_mm: None,
            },
            scale_mm_per_px: None,
            cracks: CracksReport {
                length_mm_per_mm2: unknown("mm/mm2"),
                area_fraction: unknown("1"),
                width_mm: WidthReport { median: unknown("mm"), p95: unknown("mm"), max: unknown("mm") },
                junctions_per_cm2: unknown("1/cm2"),
                direction_deg: unknown("deg"),
                direction_strength: unknown("1"),
            },
            islands: unknown("1"),
            pinholes: unknown("1"),
            flakes: FlakesReport { count: unknown("1"), area_fraction: unknown("1"), largest_mm2: unknown("mm2") },
            depth: DepthReport {
                cracks: DepthWords { words: "can't be told from this photo", why: why.to_owned() },
                flakes: DepthWords { words: "can't be told from this photo", why: why.to_owned() },
            },
            ridges: RidgesReport { contrast: unknown("1"), direction_deg: unknown("deg"), spacing_mm: unknown("mm") },
            rating: RatingReport { quantity: None, size: None, scale },
            lattice: None,
            colour: ColourReport {
                lightness: None,
                a: None,
                b: None,
                whiteness: None,
                tint: None,
                relative: true,
                why: Some(why.to_owned()),
            },
            relative: None,
            quality: Vec::new(),
            labels: Vec::new(),
            taps: Vec::new(),
            questions: Vec::new(),
        }
    }
}
