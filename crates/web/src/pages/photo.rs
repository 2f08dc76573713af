//! Photos: sent from pages, shown again.

use axum::extract::multipart::{Multipart, MultipartError, MultipartRejection};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use serde_json::json;
use workbench::{Photo, StudioError, TypedLook};

use super::kept::refused;
use crate::form::{Fields, Path};
use crate::layout::Place;
use crate::room::Room;

/// Longest text field beside a photo, bytes: more than the longest remark takes, so that one that was cut here is refused and never
/// filed in part.
const MOST_TEXT: usize = 40_000;

/// What a page may send with a photo.
pub(crate) type Upload = Result<Multipart, MultipartRejection>;

/// Why a photo was not taken.
enum NotTaken {
    NotWhole,
    OldPage,
    NoPhoto(String),
    Studio(StudioError),
}

impl NotTaken {
    fn words(&self) -> (StatusCode, String) {
        match self {
            Self::NotWhole => (
                StatusCode::BAD_REQUEST,
                "The photo did not arrive whole. Choose it again and send it once more; photos up to 40 MB are taken.".into(),
            ),
            Self::OldPage => (
                StatusCode::FORBIDDEN,
                "This page is from an earlier start of the program, or from the other studio. Open it again and send the photo from there."
                    .into(),
            ),
            Self::NoPhoto(why) => (StatusCode::UNPROCESSABLE_ENTITY, format!("{}.", show::capital(why))),
            Self::Studio(why) => (StatusCode::UNPROCESSABLE_ENTITY, why.to_string()),
        }
    }

    fn page(&self, room: &Room) -> Response {
        if let Self::Studio(why) = self {
            return refused(room, why);
        }
        let (status, why) = self.words();
        room.refuse(Place::Photos, status, &why)
    }
}

/// Keeps the photo of a form; gives back its subject.
async fn kept(room: &Room, upload: Upload, of: Option<&str>) -> Result<(String, Fields), NotTaken> {
    let upload = upload.map_err(|_| NotTaken::NotWhole)?;
    let (fields, bytes) = parts(upload).await.map_err(|_| NotTaken::NotWhole)?;
    if fields.get("token") != room.token() {
        return Err(NotTaken::OldPage);
    }
    let kind = tokio::task::block_in_place(|| paper::sound_photo(&bytes)).map_err(|why| NotTaken::NoPhoto(why.to_string()))?;
    let told = fields.get("caption");
    // In a board's file a photo without words has none; in a heap the file's own name says which it is.
    let caption = if told.is_empty() && of.is_none() { fields.get("file") } else { told }.to_owned();
    let of = of.unwrap_or_else(|| fields.get("of")).to_owned();
    // Whoever goes back and chooses another photo sends another form, though its hidden mark is the same.
    let fields = fields.and("photo", &workbench::photo_name(&bytes));
    let photo = Photo { of, kind: kind.to_owned(), caption, ..Photo::default() };
    let subject = room.write(&fields, |bench, studio, stamp| bench.keep_photo(studio, &bytes, photo.clone(), stamp)).await;
    Ok((subject.map_err(NotTaken::Studio)?, fields))
}

/// Keeps the photo of a form and measures it, unless it was measured before.
async fn measured(room: &Room, upload: Upload, of: Option<&str>) -> Result<String, NotTaken> {
    let (photo, fields) = kept(room, upload, of).await?;
    let done = room.look(|_, state| state.looks.contains_key(&workbench::look_of(&photo))).await;
    if !done {
        let told = TypedLook { board: fields.get("board").to_owned(), grain: fields.get("grain").to_owned(), ..TypedLook::default() };
        let fields = fields.and("step", "measure");
        let measured = room.measure(&fields, |bench, studio, stamp| bench.measure_photo(studio, &photo, &told, stamp)).await;
        measured.map_err(NotTaken::Studio)?;
    }
    Ok(photo)
}

/// A photo for a board's file; it is not measured unless that is asked for.
pub(crate) async fn file(room: Room, Path(board): Path<String>, upload: Upload) -> Response {
    match kept(&room, upload, Some(&board)).await {
        Ok(_) => Redirect::to(&format!("/board/{board}")).into_response(),
        Err(why) => why.page(&room),
    }
}

/// A photo that is measured first and asked about afterwards.
pub(crate) async fn one(room: Room, upload: Upload) -> Response {
    match measured(&room, upload, None).await {
        Ok(photo) => Redirect::to(&format!("/photos/{photo}")).into_response(),
        Err(why) => why.page(&room),
    }
}

/// The same for a heap of photos, sent one after the other by the page's script.
pub(crate) async fn one_of_many(room: Room, upload: Upload) -> Response {
    let sight = match measured(&room, upload, None).await {
        Ok(photo) => room.ask(|bench| bench.sight(room.studio(), &photo)).await.map_err(NotTaken::Studio),
        Err(why) => Err(why),
    };
    match sight {
        Ok(view) => {
            let why = view.best().map_or("", |found| found.why.as_str());
            let of = view.of.as_ref().map_or("", |of| of.name.as_str());
            said(StatusCode::OK, &json!({ "photo": view.photo, "says": view.next, "of": of, "measured": why.is_empty() }))
        }
        Err(why) => {
            let (status, words) = why.words();
            said(status, &json!({ "why": words }))
        }
    }
}

fn said(status: StatusCode, what: &serde_json::Value) -> Response {
    (status, [(header::CONTENT_TYPE, "application/json")], what.to_string()).into_response()
}

async fn parts(mut upload: Multipart) -> Result<(Fields, Vec<u8>), MultipartError> {
    let mut texts: Vec<(String, String)> = Vec::new();
    let mut photo = Vec::new();
    while let Some(field) = upload.next_field().await? {
        let name = field.name().unwrap_or("").to_owned();
        let file = field.file_name().map(str::to_owned);
        let bytes = field.bytes().await?;
        if name == "photo" {
            photo = bytes.to_vec();
            texts.extend(file.map(|file| ("file".to_owned(), file)));
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
    let kind = |bytes: &[u8]| {
        let png = bytes.starts_with(b"\x89PNG").then_some("image/png");
        png.or_else(|| bytes.starts_with(b"\xff\xd8").then_some("image/jpeg"))
    };
    match found.map(|bytes| bytes.and_then(|bytes| Some((kind(&bytes)?, bytes)))) {
        Ok(Some((kind, bytes))) => {
            ([(header::CONTENT_TYPE, kind), (header::CACHE_CONTROL, "private, max-age=86400")], bytes).into_response()
        }
        Ok(None) => room.refuse(Place::Photos, StatusCode::NOT_FOUND, "There is no such photo in this studio."),
        Err(why) => room.refuse(Place::Photos, StatusCode::INTERNAL_SERVER_ERROR, &why.to_string()),
    }
}
