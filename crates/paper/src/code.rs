//! A plain square code: a board's mark on its label, an address on the screen for a phone to come in by.

use std::fmt::Write as _;

use qrcode::{Color, EcLevel, QrCode};

use crate::PaperError;

/// Longest text, in characters: an address with a name of 63 letters and its secret.
const LONGEST: usize = 128;
/// White around the code, in modules (ISO/IEC 18004 asks for four).
const QUIET: usize = 4;

/// A square code (QR, ISO/IEC 18004) of this text and nothing else, as stand-alone SVG; a seventh of it may be scratched away.
///
/// ```
/// assert!(paper::square_code("GP-7K3M-Q2X")?.starts_with("<svg"));
/// # Ok::<(), paper::PaperError>(())
/// ```
///
/// # Errors
/// An empty text, or more than 128 characters.
pub fn square_code(text: &str) -> Result<String, PaperError> {
    let refused = || PaperError::Mark(text.chars().take(LONGEST).collect());
    if text.is_empty() || text.chars().count() > LONGEST || text.chars().any(char::is_control) {
        return Err(refused());
    }
    let code = QrCode::with_error_correction_level(text, EcLevel::M).map_err(|_| refused())?;
    let width = code.width();
    let side = width + 2 * QUIET;
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {side} {side}\" width=\"{side}\" height=\"{side}\" shape-rendering=\"crispEdges\">\
         <rect width=\"{side}\" height=\"{side}\" fill=\"#ffffff\"/><path fill=\"#000000\" d=\""
    );
    for (place, _) in code.to_colors().iter().enumerate().filter(|(_, color)| **color == Color::Dark) {
        let _ = write!(svg, "M{} {}h1v1h-1z", QUIET + place % width, QUIET + place / width);
    }
    svg.push_str("\"/></svg>");
    Ok(svg)
}
