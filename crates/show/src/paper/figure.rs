//! A picture in a paper, with its words for those who can't see it.

/// What is drawn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Picture {
    /// A drawing as stand-alone SVG.
    Drawing(String),
    /// A photo as JPEG or PNG, already plain: turned upright, no metadata.
    Photo(Vec<u8>),
}

/// A picture with its words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PaperFigure {
    /// What is drawn.
    pub picture: Picture,
    /// What it shows, in a sentence or two; may not be empty.
    pub alt: String,
    /// What stands below it.
    pub caption: String,
}
