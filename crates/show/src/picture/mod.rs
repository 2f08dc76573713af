//! Pictures as SVG text. Colours come from classes, so that page, dark room, print and file can each have their own; nothing in a
//! picture needs a `style` attribute.

mod boards;
mod card;
mod rule;
mod section;
mod svg;

pub use boards::{BoardMark, BoardsAxis, BoardsRow, boards_picture};
pub use card::card_picture;
pub use rule::rule_picture;
pub use section::section_picture;
pub use svg::standalone;
pub(crate) use svg::{Svg, wrapped};
