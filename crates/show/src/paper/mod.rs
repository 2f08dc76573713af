//! What a file to keep or to hang up says. Every number is already written; the typesetter only places words.

mod board_sheet;
mod checklist;
mod day;
mod day_sheets;
mod figure;
mod picture_card;
mod recipe_card;
mod recipe_paper;

pub use board_sheet::{BatchSheet, BoardLabel, BoardSheetView, LayingRow, SheetAmount};
pub use checklist::{Checklist, ChecklistItem, Given, PaperPoint};
pub use day::Day;
pub use day_sheets::{DaySheetsView, PotRound, PotSheet};
pub use figure::{PaperFigure, Picture};
pub use picture_card::{PictureCardLine, PictureCardView, picture_card};
pub use recipe_card::{CardAmount, CardStep, RecipeCardView};
pub use recipe_paper::{
    Asked, CoatRow, Composition, CompositionRow, MaterialRow, PaperCaution, PaperView, PlanPart, PlannedBoard, ReadingRow, ResultPart,
    RoomRow,
};
