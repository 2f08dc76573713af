//! Pictures as SVG text. Colours come from classes, so that page, dark room, print and file can each have their own; nothing in a
//! picture needs a `style` attribute.

mod boards;
mod card;
mod drawdown;
mod grains;
mod lying;
mod movers;
mod rule;
mod section;
mod sour;
mod strip;
mod svg;
mod walk;
mod window;

pub use boards::{BoardMark, BoardsAxis, BoardsRow, boards_picture};
pub use card::card_picture;
pub use drawdown::drawdown_picture;
pub use lying::{LyingBoard, LyingBoards, LyingState, lying_picture};
pub use movers::movers_picture;
pub use rule::rule_picture;
pub use section::section_picture;
pub use sour::{SourPoint, SourView, sour_picture};
pub use strip::{DayStrip, StripBlock, StripLife, StripPot, StripWait, clock_words, day_column_picture, day_strip_picture};
pub(crate) use svg::{Svg, wrapped};
pub use svg::{in_ink, standalone};
pub use walk::{WalkScene, walk_picture};
pub use window::window_picture;
