//! The verdict on a recipe, as a page, as you type, and as a picture.

use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use maud::html;
use show::{card_picture, standalone};
use workbench::{TextError, Workbench};

use super::{card, kept};
use crate::form::{Fields, Sent};
use crate::layout::{Place, bare};
use crate::room::Room;

pub(crate) async fn page(room: Room, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let two_jars = room.look(|bench, state| bench.two_jars(state, fields.get("told"))).await;
    match room.ask(|bench| bench.verdict(&room.verdict(&fields, "", bench))).await {
        Ok(view) => {
            let body = html! {
                // Nothing is chosen for the painter: the books' strength stands in until one jar is named.
                @if let Some(asks) = &two_jars { p #two-jars .mind role="alert" { strong { (asks) } " Until then the strength from the books is taken." } }
                div .two {
                    (card::verdict(&view))
                    (card::recipe(&view, &room.hidden(), fields.get("wet"), fields.get("coats"), &kept::keep_recipe(&fields)))
                }
            };
            room.page(Place::Front, "What is it, really?", &body).into_response()
        }
        Err(why) => refused(&why),
    }
}

/// The card alone, while the recipe is being typed.
pub(crate) async fn live(room: Room, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    match room.ask(|bench| bench.verdict(&room.verdict(&fields, "", bench))).await {
        Ok(view) => card::brief(&view).into_response(),
        Err(why) => html! { p .lead { (why) } }.into_response(),
    }
}

pub(crate) async fn svg(room: Room, sent: Sent) -> Response {
    match picture(&room, sent).await {
        Ok(svg) => download("image/svg+xml", "ground-card.svg", svg.into_bytes()),
        Err(refusal) => refusal,
    }
}

pub(crate) async fn png(room: Room, sent: Sent) -> Response {
    let svg = match picture(&room, sent).await {
        Ok(svg) => svg,
        Err(refusal) => return refusal,
    };
    match room.ask(|_| paper::png(&svg, 2.0)).await {
        Ok(png) => download("image/png", "ground-card.png", png),
        Err(why) => (StatusCode::INTERNAL_SERVER_ERROR, bare("No picture", &why.to_string())).into_response(),
    }
}

async fn picture(room: &Room, sent: Sent) -> Result<String, Response> {
    let fields = Fields::from_sent(sent, &room.token())?;
    let view = room.ask(|bench| bench.verdict(&room.verdict(&fields, "", bench))).await.map_err(|why| refused(&why))?;
    Ok(standalone(&card_picture(&view, Workbench::edges())))
}

fn download(kind: &'static str, name: &str, bytes: Vec<u8>) -> Response {
    ([(header::CONTENT_TYPE, kind.to_owned()), (header::CONTENT_DISPOSITION, format!("attachment; filename=\"{name}\""))], bytes)
        .into_response()
}

fn refused(why: &TextError) -> Response {
    let status = if *why == TextError::TooLong { StatusCode::PAYLOAD_TOO_LARGE } else { StatusCode::UNPROCESSABLE_ENTITY };
    (status, bare("One thing first", &why.to_string())).into_response()
}
