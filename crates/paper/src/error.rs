//! Why a file could not be made, with what to do about it.

use crate::PhotoError;

/// A paper, card or sheet could not be made.
#[derive(Debug, thiserror::Error)]
pub enum PaperError {
    /// A document needs a title.
    #[error("the paper has no title; give it one in a few words")]
    NoTitle,
    /// No code of a language.
    #[error("`{0}` is no code of a language; write two or three small letters, such as `en`")]
    Language(String),
    /// One text is far too long for a page.
    #[error("a text of {length} characters is too long (it begins `{begins}`); keep it below {most}, or divide it")]
    TooLong {
        /// Its first words.
        begins: String,
        /// Its length in characters.
        length: usize,
        /// The most that are taken.
        most: usize,
    },
    /// A picture without words.
    #[error("picture {number} has no words for those who can't see it; say in a sentence what it shows")]
    NoAlt {
        /// Its number, counted from 1.
        number: usize,
    },
    /// A drawing that is none.
    #[error("picture {number} can't be drawn ({why}); make the drawing again")]
    Drawing {
        /// Its number, counted from 1.
        number: usize,
        /// What the drawing's reader says.
        why: String,
    },
    /// A photo that can't be used.
    #[error("picture {number}: {source}")]
    Photo {
        /// Its number, counted from 1.
        number: usize,
        /// Why.
        source: PhotoError,
    },
    /// A text that no square code can hold.
    #[error("`{0}` does not go into a square code; use 1 to 128 letters, digits and hyphens")]
    Mark(String),
    /// The picture could not be drawn.
    #[error(transparent)]
    Picture(#[from] crate::PictureError),
    /// The typesetter refused. It is given plain words only, so this is a fault of the program.
    #[error("the page could not be set: {0}; please tell the makers which paper it was")]
    Typeset(String),
}
