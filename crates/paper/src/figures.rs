//! Pictures of a document, checked one by one before the typesetter sees them.

use image::ImageFormat;
use resvg::usvg::Tree;
use serde_json::{Value, json};
use show::paper::{PaperFigure, Picture};

use crate::photo::plain_size;
use crate::words::{drawable, settable};
use crate::{PaperError, svg_options};

/// A picture higher than this many times its width is set by its height.
const TALL: f64 = 1.1;

/// Pictures as the template wants them; photos go to a pile of files.
pub(crate) struct Figures {
    count: usize,
    /// Photos by name.
    pub(crate) photos: Vec<(String, Vec<u8>)>,
}

impl Figures {
    pub(crate) const fn none() -> Self {
        Self { count: 0, photos: Vec::new() }
    }

    /// Checks and adds pictures.
    ///
    /// # Errors
    /// No words, a drawing that can't be drawn, a photo that can't be opened or is not plain.
    pub(crate) fn add(&mut self, figures: &[PaperFigure]) -> Result<Value, PaperError> {
        figures.iter().map(|figure| self.one(figure)).collect()
    }

    fn one(&mut self, figure: &PaperFigure) -> Result<Value, PaperError> {
        self.count += 1;
        let number = self.count;
        if drawable(&figure.alt).trim().is_empty() {
            return Err(PaperError::NoAlt { number });
        }
        let (key, body, format, tall): (&str, String, &str, bool) = match &figure.picture {
            Picture::Drawing(svg) => {
                let svg = drawable(svg);
                let tree = Tree::from_str(&svg, &svg_options()).map_err(|error| PaperError::Drawing { number, why: error.to_string() })?;
                let tall = f64::from(tree.size().height()) > TALL * f64::from(tree.size().width());
                ("svg", svg, "svg", tall)
            }
            Picture::Photo(bytes) => {
                let (format, width, height) = plain_size(bytes).map_err(|source| PaperError::Photo { number, source })?;
                let format = if format == ImageFormat::Png { "png" } else { "jpg" };
                let name = format!("photo-{number}.{format}");
                self.photos.push((name.clone(), bytes.clone()));
                ("file", name, format, f64::from(height) > TALL * f64::from(width))
            }
        };
        Ok(json!({
            key: body,
            "format": format,
            "tall": tall,
            "alt": settable(&figure.alt)?,
            "caption": settable(&figure.caption)?,
        }))
    }
}
