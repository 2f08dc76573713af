//! The documents: a view in, the bytes of a file out. The same view gives the same bytes.

use serde::Serialize;
use serde_json::{Map, Value};
use show::paper::{BoardSheetView, DaySheetsView, PaperView, PictureCardView, RecipeCardView};

use crate::figures::Figures;
use crate::typeset::typeset;
use crate::words::{drawable, fit};
use crate::{PaperError, png, square_code};

/// The paper as a tagged PDF (PDF/UA-1, ISO 14289-1), A4.
///
/// # Errors
/// No title, a picture without words or one that can't be opened, a text of no end.
pub fn pdf(view: &PaperView) -> Result<Vec<u8>, PaperError> {
    let mut data = data_of(view, &view.title, &view.language)?;
    let mut figures = Figures::none();
    data.insert("photos".into(), figures.add(&view.photos)?);
    data.insert("pictures".into(), figures.add(&view.result.pictures)?);
    typeset("recipe_paper.typ", data, figures.photos, &drawable(&view.made_with))
}

/// The recipe card as a tagged PDF: one page of A4, unless there is more on it than a page holds.
///
/// # Errors
/// No title, or a text of no end.
pub fn recipe_card_pdf(view: &RecipeCardView) -> Result<Vec<u8>, PaperError> {
    let data = data_of(view, &view.title, &view.language)?;
    typeset("recipe_card.typ", data, Vec::new(), &drawable(&view.made_with))
}

/// Labels, sheets for the pots and the order of laying as a tagged PDF, A4.
///
/// # Errors
/// No title, a mark that no square code can hold, or a text of no end.
pub fn board_sheet_pdf(view: &BoardSheetView) -> Result<Vec<u8>, PaperError> {
    let mut data = data_of(view, &view.title, &view.language)?;
    let codes: Vec<String> = view.labels.iter().map(|label| square_code(&label.board)).collect::<Result<_, _>>()?;
    let labels = data.get_mut("labels").and_then(Value::as_array_mut).into_iter().flatten().filter_map(Value::as_object_mut);
    for (label, code) in labels.zip(codes) {
        label.insert("code".into(), code.into());
    }
    typeset("board_sheet.typ", data, Vec::new(), &drawable(&view.made_with))
}

/// A making day for the kitchen as a tagged PDF, A4, black alone: the day, a sheet for each pot, what to buy, the boards.
///
/// # Errors
/// No title, a picture without words or one that can't be drawn, a text of no end.
pub fn day_sheets_pdf(view: &DaySheetsView) -> Result<Vec<u8>, PaperError> {
    let mut data = data_of(view, &view.title, &view.language)?;
    let mut figures = Figures::none();
    data.insert("strip".into(), figures.add(view.strip.as_slice())?);
    data.insert("table".into(), figures.add(view.table.as_slice())?);
    typeset("day_sheets.typ", data, figures.photos, &drawable(&view.made_with))
}

/// The picture card as PNG, 1080 by 1350 pixels.
///
/// # Errors
/// The picture can't be drawn.
pub fn picture_card_png(view: &PictureCardView) -> Result<Vec<u8>, PaperError> {
    let svg = show::standalone(&show::paper::picture_card(view));
    Ok(png(&drawable(&svg), 1.0)?)
}

/// The view as data in which every text can be set.
fn data_of(view: &impl Serialize, title: &str, language: &str) -> Result<Map<String, Value>, PaperError> {
    if drawable(title).trim().is_empty() {
        return Err(PaperError::NoTitle);
    }
    if !(2..=3).contains(&language.len()) || !language.bytes().all(|letter| letter.is_ascii_lowercase()) {
        return Err(PaperError::Language(language.chars().take(40).collect()));
    }
    let mut data = serde_json::to_value(view).map_err(|error| PaperError::Typeset(error.to_string()))?;
    fit(&mut data)?;
    match data {
        Value::Object(data) => Ok(data),
        _ => Err(PaperError::Typeset("the view has no parts".into())),
    }
}
