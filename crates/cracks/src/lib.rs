//! A photo of a white test board becomes millimetres of cracks: upright and flat, lit evenly, its dark lines found by one rule that sets
//! itself from the picture's own texture, then measured. Bytes in, plain values out; nothing here touches the disk.
//!
//! Places: pixel centres lie at whole numbers, the board's corner at pixel (-0.5, -0.5), so `x_px = x_mm * px_per_mm - 0.5`.
#![forbid(unsafe_code)]
#![expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_possible_wrap,
    clippy::many_single_char_names,
    reason = "pixel places are small whole numbers, and formulas read best with the letters of their sources"
)]

mod across;
mod amid;
mod bar;
mod bell;
mod brush;
mod card;
mod changes;
mod colour;
mod corners;
mod correct;
mod decode;
mod depth;
mod edge;
mod figures;
mod flakes;
mod flatten;
mod graph;
mod grown;
mod homography;
mod hysteresis;
mod label;
mod lattice;
mod layer;
mod lines;
mod look;
mod mask;
mod net;
mod paths;
mod picture;
mod plane;
mod rating;
mod register;
mod ridge;
mod rooms;
mod runs;
mod specks;
mod spots;
mod strength;
mod texture;
mod thin;
mod width;
mod words;

pub use brush::Brush;
pub use card::{CARD_MM, SizeFound, find_card, size_by};
pub use colour::{Colour, ColourError, Patch, ground_colour, lab, whiteness, xyz};
pub use corners::{Corners, CornersError, find_corners};
pub use correct::{Correction, corrected};
pub use decode::{MOST_PIXELS, Photo, PhotoError, PhotoNote, open_photo};
pub use depth::{Depth, Inside, depth};
pub use figures::{FIGURE_KEYS, figure_entry, figures_are_sound};
pub use flakes::{Flake, Flakes};
pub use flatten::{BoardSize, Flat, FlatError, flatten};
pub use graph::{Branch, Graph, Point};
pub use grown::{Fate, Grown, GrownNote, Pair, Stroke, Widening, grown, grown_overlay, grown_pair};
pub use homography::Homography;
pub use label::{LABEL_PRINT_MM, Label, cover_labels, find_labels};
pub use lattice::{LATTICE_GAPS_MM, Lattice, LatticeError, LatticeNote, find_lattice};
pub use lines::{LEAST_LENGTH_MM, Lines, MARGIN_MM, Rule};
pub use look::{Look, LookError, Note, Range, look};
pub use mask::Mask;
pub use paths::crack_paths;
pub use picture::{mask_png, overlay_png};
pub use plane::Plane;
pub use rating::{Rating, SCALE, rate};
pub use register::{RegisterError, Registered, by_corners, register};
pub use ridge::{Hessian, bar_response, hessian};
pub use thin::{thin, thin_twice};
