//! A photo in the notebook, and what it was measured to show.

use crate::card::FigureRow;

/// One photo with what came out of it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SightView {
    /// Its subject.
    pub photo: String,
    /// Entry that stands; filing it elsewhere starts from this one.
    pub entry: u64,
    /// Name of its bytes.
    pub bytes: String,
    /// What is to be seen.
    pub caption: String,
    /// When it was taken.
    pub taken: TakenView,
    /// Whose it is; nothing while nobody said.
    pub of: Option<SightOf>,
    /// The next thing to do, or what came out.
    pub next: String,
    /// What was told of it: size, corners as `x,y;x,y;x,y;x,y`, way of the grain, patch.
    pub told: [String; 4],
    /// Distance from cut to cut of a cut lattice as told; none without one.
    pub lattice: Option<String>,
    /// Whether a person set the corners.
    pub corners_told: bool,
    /// Entry of the look; nothing while it was not measured.
    pub look: Option<u64>,
    /// What came out by itself.
    pub found: Option<FoundView>,
    /// What comes out with what was put right by hand.
    pub corrected: Option<FoundView>,
    /// Who read it: the program alone, or a hand put it right.
    pub read: String,
    /// Entry of that correction.
    pub correction: Option<u64>,
    /// Strokes of the rubber so far, as `radius:x,y;x,y`, and cracks drawn in, as `x,y;x,y`, one a line.
    pub strokes: [String; 2],
    /// Readings that were written from it.
    pub written: Vec<String>,
    /// Other photos of the same board: subject, and day when it was taken with its name, oldest first.
    pub others: Vec<(String, String)>,
}

impl SightView {
    /// What counts: what was put right, or else what came out by itself.
    pub fn best(&self) -> Option<&FoundView> {
        self.corrected.as_ref().or(self.found.as_ref())
    }
}

/// When a photo was taken.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct TakenView {
    /// The day, such as `2026-11-25`.
    pub day: String,
    /// The day and how it is known.
    pub words: String,
    /// The same, short: `taken on 2026-11-25`, or `kept on` where nobody knows.
    pub short: String,
}

/// Whose photo it is.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct SightOf {
    /// What it is called.
    pub name: String,
    /// Where it is looked at.
    pub address: String,
    /// Whether readings can be written for it: a board of a trial that is not lost.
    pub reads: bool,
}

/// What came out of a photo.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct FoundView {
    /// Why nothing was measured; empty if it was.
    pub why: String,
    /// One sentence.
    pub sentence: String,
    /// What follows from it.
    pub more: Vec<String>,
    /// What the photo leaves in doubt, and remarks.
    pub doubts: Vec<String>,
    /// What is not known: short name and question.
    pub questions: Vec<(String, String)>,
    /// What it says to the question why a board failed: tap, answer, because.
    pub taps: Vec<[String; 3]>,
    /// Class by our own scale, such as `2(S3)`; empty if it can't be told.
    pub class: String,
    /// Crack length to the area, mm/mm2, as a scale reads it; empty if it can't be told.
    pub length: String,
    /// Class of a cut lattice, after ISO 2409; none without one, or if it can't be told.
    pub lattice: Option<String>,
    /// Figures with what stands behind them.
    pub figures: Vec<FigureRow>,
    /// Width and height of the upright photo, pixels.
    pub photo_px: Option<[u32; 2]>,
    /// The cracks as paths of a drawing whose unit is a pixel of the upright photo.
    pub paths: Vec<String>,
    /// Version of the program that measured.
    pub version: String,
}

/// All photos that want something, and how many do not.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct TrayView {
    /// The next thing to do.
    pub next: String,
    /// Measured, of no board yet.
    pub homeless: Vec<TrayPhoto>,
    /// Kept and not measured yet.
    pub waiting: Vec<TrayPhoto>,
    /// Measured in vain.
    pub refused: Vec<TrayPhoto>,
    /// Measured and filed, newest first.
    pub filed: Vec<TrayPhoto>,
}

/// One of them.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct TrayPhoto {
    /// Its subject.
    pub photo: String,
    /// Name of its bytes.
    pub bytes: String,
    /// What is to be seen, or the file's name.
    pub caption: String,
    /// Whose it is; empty while nobody said.
    pub of: String,
    /// What came out, or why not.
    pub says: String,
    /// Whether a hand put it right.
    pub by_hand: bool,
    /// When it was taken.
    pub on: String,
}

/// A line of a drawing through these places.
///
/// ```
/// assert_eq!(show::path_of(&[[1.0, 2.5], [3.0, 4.0]]), "M1 2.5L3 4");
/// assert_eq!(show::path_of(&[]), "");
/// ```
pub fn path_of(places: &[[f64; 2]]) -> String {
    use std::fmt::Write as _;
    let mut path = String::new();
    for (index, [x, y]) in places.iter().enumerate() {
        // Writing to a text can't fail.
        let _ = write!(path, "{}{x} {y}", if index == 0 { 'M' } else { 'L' });
    }
    path
}
