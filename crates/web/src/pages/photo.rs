//! Photos: filed with a board, shown again.

use axum::extract::multipart::{Multipart, MultipartError};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use workbench::Photo;

use super::kept::refused;
use crate::form::{Fields, Path};
use crate::layout::Place;
use crate::room::Room;

/// Longest text field beside a photo, bytes: more than the longest remark takes, so that one that was cut here is refused and never
/// filed in part.
const MOST_TEXT: usize = 40_000;

pub(crate) async fn file(
    room: Room,
    Path(board): Path<String>,
    upload: Result<Multipart, axum::extract::multipart::MultipartRejection>,
) -> Response {
    let not_whole = || {
        room.refuse(
            Place::Trials,
            StatusCode::BAD_REQUEST,
            "The photo did not arrive whole. Choose it again and send it once more; photos up to 40 MB are taken.",
        )
    };
    let Ok(upload) = upload else { return not_whole() };
    let Ok((fields, bytes)) = parts(upload).await else { return not_whole() };
    if fields.get("token") != room.token() {
        return room.refuse(Place::Trials, StatusCode::FORBIDDEN, "This page is from an earlier start of the program, or from the other studio. Open the board again and file the photo from there.");
    }
    let kind = match tokio::task::block_in_place(|| paper::sound_photo(&bytes)) {
        Ok(kind) => kind,
        Err(why) => return room.refuse(Place::Trials, StatusCode::UNPROCESSABLE_ENTITY, &why.to_string()),
    };
    // Whoever goes back and chooses another photo sends another form, though its hidden mark is the same.
    let fields = fields.and("photo", &workbench::photo_name(&bytes));
    let filed = room
        .write(&fields, |bench, studio, stamp| {
            let photo = Photo { of: board.clone(), bytes: String::new(), kind: kind.to_owned(), caption: fields.get("caption").to_owned() };
            bench.file_photo(studio, &bytes, photo, stamp)
        })
        .await;
    match filed {
        Ok(()) => Redirect::to(&format!("/board/{board}")).into_response(),
        Err(why) => refused(&room, &why),
    }
}

async fn parts(mut upload: Multipart) -> Result<(Fields, Vec<u8>), MultipartError> {
    let mut texts: Vec<(String, String)> = Vec::new();
    let mut photo = Vec::new();
    while let Some(field) = upload.next_field().await? {
        let name = field.name().unwrap_or("").to_owned();
        let bytes = field.bytes().await?;
        if name == "photo" {
            photo = bytes.to_vec();
        } else {
            texts.push((name, String::from_utf8_lossy(bytes.get(..MOST_TEXT).unwrap_or(&bytes)).into_owned()));
        }
    }
    let pairs: Vec<(&str, &str)> = texts.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    Ok((Fields::of(&pairs), photo))
}

pub(crate) async fn show(room: Room, Path(name): Path<String>) -> Response {
    let is_name = name.len() == 64 && name.bytes().all(|byte| byte.is_ascii_hexdigit());
    let found = if is_name { tokio::task::block_in_place(|| room.studio().keeper().photo(&name)) } else { Ok(None) };
    match found {
        Ok(Some(bytes)) => {
            // Only sound JPEGs and PNGs were stored.
            let kind = if bytes.starts_with(b"\x89PNG") { "image/png" } else { "image/jpeg" };
            ([(header::CONTENT_TYPE, kind), (header::CACHE_CONTROL, "private, max-age=86400")], bytes).into_response()
        }
        Ok(None) => room.refuse(Place::Trials, StatusCode::NOT_FOUND, "There is no such photo in this studio."),
        Err(why) => room.refuse(Place::Trials, StatusCode::INTERNAL_SERVER_ERROR, &why.to_string()),
    }
}
