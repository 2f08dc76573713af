//! Photos of boards that never were: crack patterns whose every length, width and meeting place is known, drawn with grain, brushwork,
//! uneven light, blur, noise and a tilted camera. The same seed gives the same photo. For checks only; no such photo is evidence of a ground.
#![forbid(unsafe_code)]
#![expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_possible_wrap,
    clippy::many_single_char_names,
    reason = "pixel places are small whole numbers"
)]

mod chance;
mod growth;
mod label;
mod marks;
mod patterns;
mod photo;
mod score;

pub use chance::Chance;
pub use growth::{Stage, make_at};
pub use label::Sheet;
pub use marks::{Lattice, Marks, Ridges, area_mm2, torn};
pub use patterns::{Crack, Pattern};
pub use photo::{Made, Recipe, make, make_marked, make_with};
pub use score::{Found, Score, places, score};
