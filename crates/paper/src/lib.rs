//! Views as files to keep and to send: papers, cards and labels as tagged PDF, pictures as PNG, photos made plain, [`calendar`] files,
//! the [`data`] that goes with a paper, and the faces that pages and pictures are set in.
#![forbid(unsafe_code)]

pub mod calendar;
mod code;
pub mod data;
mod documents;
mod error;
mod figures;
mod photo;
mod typeset;
mod words;
mod world;

pub use code::square_code;
pub use data::data_zip;
pub use documents::{board_sheet_pdf, day_sheets_pdf, pdf, picture_card_png, recipe_card_pdf};
pub use error::PaperError;
pub use photo::{PhotoError, photo_figure, plain_photo, sound_photo};

use std::sync::{Arc, OnceLock};

use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{ImageHrefResolver, Options, Tree, fontdb};

/// The picture could not be drawn.
#[derive(Debug, thiserror::Error)]
#[error("the picture could not be drawn: {0}")]
pub struct PictureError(String);

/// Largest side of a picture, pixels: beyond it memory would run out long before anybody could look at it.
const MOST_PIXELS: u32 = 8_000;

/// Draws a stand-alone SVG as PNG, `scale` times as large.
///
/// # Errors
/// The text is no SVG, or too large.
///
/// ```
/// let svg = "<svg xmlns='http://www.w3.org/2000/svg' width='4' height='2'><rect width='4' height='2' fill='red'/></svg>";
/// let png = paper::png(svg, 2.0)?;
/// assert_eq!(&png[1..4], b"PNG");
/// # Ok::<(), paper::PictureError>(())
/// ```
pub fn png(svg: &str, scale: f32) -> Result<Vec<u8>, PictureError> {
    let wrong = |what: &dyn std::fmt::Display| PictureError(what.to_string());
    let tree = Tree::from_str(svg, &svg_options()).map_err(|e| wrong(&e))?;
    let size = tree.size().to_int_size().scale_by(scale).ok_or_else(|| wrong(&"it has no size"))?;
    if size.width() > MOST_PIXELS || size.height() > MOST_PIXELS {
        return Err(wrong(&"it is larger than 8000 pixels"));
    }
    let mut pixels = Pixmap::new(size.width(), size.height()).ok_or_else(|| wrong(&"it has no size"))?;
    resvg::render(&tree, Transform::from_scale(scale, scale), &mut pixels.as_mut());
    pixels.encode_png().map_err(|e| wrong(&e))
}

/// How drawings are read: with the program's own faces, and without a way to any file that they may name.
fn svg_options() -> Options<'static> {
    let nothing = ImageHrefResolver { resolve_string: Box::new(|_, _| None), ..ImageHrefResolver::default() };
    Options { fontdb: fonts(), font_family: FAMILY.into(), image_href_resolver: nothing, ..Options::default() }
}

/// Family of the face that pictures and pages are set in.
pub const FAMILY: &str = "Libertinus Serif";

/// The upright face, as an OpenType file.
pub fn face() -> &'static [u8] {
    named(b"LibertinusSerif-Regular")
}

/// The heavier face, as an OpenType file.
pub fn heavy_face() -> &'static [u8] {
    named(b"LibertinusSerif-Semibold")
}

/// A face that ships with the program, found by the PostScript name inside the file.
fn named(name: &[u8]) -> &'static [u8] {
    typst_assets::fonts().find(|file| file.windows(name.len()).take(200_000).any(|window| window == name)).unwrap_or(&[])
}

fn fonts() -> Arc<fontdb::Database> {
    static ONCE: OnceLock<Arc<fontdb::Database>> = OnceLock::new();
    Arc::clone(ONCE.get_or_init(|| {
        let mut faces = fontdb::Database::new();
        for file in [face(), heavy_face()] {
            faces.load_font_data(file.to_vec());
        }
        Arc::new(faces)
    }))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_faces_ship_and_are_open_type() {
        for file in [face(), heavy_face()] {
            assert!(file.starts_with(b"OTTO") || file.starts_with(&[0, 1, 0, 0]), "{:?}", file.get(..4));
        }
        assert_eq!(fonts().len(), 2);
    }

    #[test]
    fn words_leave_ink() {
        let draw = |words: &str| {
            png(
                &format!(
                    "<svg xmlns='http://www.w3.org/2000/svg' width='200' height='40'><text x='5' y='30' font-size='30'>{words}</text></svg>"
                ),
                1.0,
            )
            .unwrap()
        };
        assert_ne!(draw("chalk"), draw(""));
    }

    #[test]
    fn what_is_no_picture_is_refused() {
        assert!(png("<p>no", 1.0).is_err());
        assert!(png("<svg xmlns='http://www.w3.org/2000/svg' width='90000' height='2'/>", 1.0).is_err());
    }
}
