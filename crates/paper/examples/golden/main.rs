//! Writes the golden documents into a folder: `cargo run -p paper --example golden -- FOLDER`. All data in them are invented.
#![expect(clippy::disallowed_methods, reason = "an example program is an edge: it takes a folder and writes files")]

mod lighthouse;

use std::error::Error;
use std::path::PathBuf;

fn main() -> Result<(), Box<dyn Error>> {
    let folder = PathBuf::from(std::env::args_os().nth(1).ok_or("say which folder to write to")?);
    std::fs::create_dir_all(&folder)?;
    let files = [
        ("paper.pdf", paper::pdf(&lighthouse::study::paper())?),
        ("paper-empty.pdf", paper::pdf(&lighthouse::odd::empty_paper())?),
        ("paper-odd.pdf", paper::pdf(&lighthouse::odd::odd_paper())?),
        ("recipe-card.pdf", paper::recipe_card_pdf(&lighthouse::sheets::recipe_card())?),
        ("board-sheet.pdf", paper::board_sheet_pdf(&lighthouse::sheets::board_sheet())?),
        ("day-sheets.pdf", paper::day_sheets_pdf(&lighthouse::day_sheets::day_sheets())?),
        ("picture-card.png", paper::picture_card_png(&lighthouse::sheets::picture_card())?),
    ];
    for (name, bytes) in files {
        std::fs::write(folder.join(name), bytes)?;
    }
    Ok(())
}
