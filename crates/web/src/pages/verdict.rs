//! The verdict on a recipe, as a page, as you type, and as a picture.

use axum::extract::State;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use maud::html;
use show::{card_picture, standalone};
use workbench::Workbench;

use super::card;
use crate::App;
use crate::form::{Fields, Sent};
use crate::layout::{Place, bare, page as framed};

pub(crate) async fn page(State(app): State<App>, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, app.door.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    match app.bench.verdict(&fields.verdict("")) {
        Ok(view) => {
            let body = html! {
                div .two {
                    (card::verdict(&view))
                    (card::recipe(&view, app.door.token(), fields.get("wet"), fields.get("coats")))
                }
            };
            framed(Place::Front, "What is it, really?", &body).into_response()
        }
        Err(why) => refused(&why.to_string()),
    }
}

/// The card alone, while the recipe is being typed.
pub(crate) async fn live(State(app): State<App>, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, app.door.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    match app.bench.verdict(&fields.verdict("")) {
        Ok(view) => card::brief(&view).into_response(),
        Err(why) => html! { p .lead { (why) } }.into_response(),
    }
}

pub(crate) async fn svg(State(app): State<App>, sent: Sent) -> Response {
    match picture(&app, sent) {
        Ok(svg) => download("image/svg+xml", "ground-card.svg", svg.into_bytes()),
        Err(refusal) => refusal,
    }
}

pub(crate) async fn png(State(app): State<App>, sent: Sent) -> Response {
    match picture(&app, sent).map(|svg| paper::png(&svg, 2.0)) {
        Ok(Ok(png)) => download("image/png", "ground-card.png", png),
        Ok(Err(why)) => (StatusCode::INTERNAL_SERVER_ERROR, bare("No picture", &why.to_string())).into_response(),
        Err(refusal) => refusal,
    }
}

#[expect(clippy::result_large_err, reason = "the error is the answer itself, made once a request")]
fn picture(app: &App, sent: Sent) -> Result<String, Response> {
    let fields = Fields::from_sent(sent, app.door.token())?;
    let view = app.bench.verdict(&fields.verdict("")).map_err(|why| refused(&why.to_string()))?;
    Ok(standalone(&card_picture(&view, Workbench::edges())))
}

fn download(kind: &'static str, name: &str, bytes: Vec<u8>) -> Response {
    ([(header::CONTENT_TYPE, kind.to_owned()), (header::CONTENT_DISPOSITION, format!("attachment; filename=\"{name}\""))], bytes)
        .into_response()
}

fn refused(why: &str) -> Response {
    (StatusCode::UNPROCESSABLE_ENTITY, bare("One thing first", why)).into_response()
}
