//! What photos of boards were measured to show. The photos themselves are records of their own.

use serde::{Deserialize, Serialize};

/// A photo as it was measured: what was told of it, and what came out by which version of the program. Figures stay as they were found.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Look {
    /// The photo.
    pub photo: String,
    /// Size of the board as told, across first; empty if it was not.
    pub board: String,
    /// Corners in pixels of the upright photo: top left, top right, bottom right, bottom left; empty if none were found.
    pub corners: Vec<[f64; 2]>,
    /// Whether a person set them.
    pub corners_told: bool,
    /// Which way the grain runs: `across`, `down` or empty.
    pub grain: String,
    /// A grey or white patch, as told; empty if there is none.
    pub patch: String,
    /// Distance from cut to cut of a lattice that was cut into the ground, as told; none if there is no lattice, empty if it is not known.
    pub lattice: Option<String>,
    /// What came out.
    pub found: Found,
}

/// What came out of one photo.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Found {
    /// Why nothing was measured; empty if it was.
    pub why: String,
    /// One sentence.
    pub sentence: String,
    /// What follows from it.
    pub more: Vec<String>,
    /// Figures as they were written: short name, name, value, why it is not known.
    pub figures: Vec<[String; 4]>,
    /// All of it as JSON.
    pub report: String,
    /// Name of the bytes that hold the lines of its cracks, in pixels of the upright photo; empty if there are none.
    pub paths: String,
    /// Width and height of the upright photo, in pixels.
    pub photo_px: Option<[u32; 2]>,
    /// Version of the program.
    pub version: String,
}

/// What a person rubbed out of the cracks that were found and drew in. What was found by itself stays in the look.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Correction {
    /// The look.
    pub look: String,
    /// Strokes of the rubber.
    pub rubbed: Vec<Rubbed>,
    /// Cracks that were missing, each as places along it, in pixels of the upright photo.
    pub drawn: Vec<Vec<[f64; 2]>>,
    /// What comes out with it.
    pub found: Found,
}

/// One stroke of the rubber.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Rubbed {
    /// Places along it, in pixels of the upright photo.
    pub along: Vec<[f64; 2]>,
    /// Half its width, in pixels.
    pub radius: f64,
}

/// Subject of the look of a photo: there is one, and measuring anew changes it.
///
/// ```
/// assert_eq!(notebook::look_of("photo-1"), "look-of-photo-1");
/// ```
pub fn look_of(photo: &str) -> String {
    format!("look-of-{photo}")
}

/// Subject of what was put right in a photo.
///
/// ```
/// assert_eq!(notebook::correction_of("photo-1"), "correction-of-photo-1");
/// ```
pub fn correction_of(photo: &str) -> String {
    format!("correction-of-{photo}")
}
