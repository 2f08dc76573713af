//! I have none of that: what instead?

use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use show::SwapView;
use workbench::SwapForm;

use super::card;
use crate::form::{Fields, Sent};
use crate::layout::Place;
use crate::room::Room;

const TITLE: &str = "I have none of that: what instead?";

pub(crate) async fn empty(room: Room) -> Markup {
    let body = html! {
        h1 .ask { (TITLE) }
        p .lead { "Say what is missing, with its amount if you know it." }
        (fields(&room, ""))
    };
    room.page(Place::Swap, TITLE, &body)
}

pub(crate) async fn page(room: Room, sent: Sent) -> Response {
    let sent = match Fields::from_sent(sent, &room.token()) {
        Ok(sent) => sent,
        Err(refusal) => return refusal,
    };
    let form = SwapForm { missing: sent.get("missing").to_owned() };
    match room.ask(|bench| bench.swap(&form)).await {
        Ok(view) => room.page(Place::Swap, TITLE, &answer(&room, &view, &form)).into_response(),
        Err(why) => {
            let body = html! { h1 .sentence { "One thing first" } p .lead role="alert" { (show::capital(&why.to_string())) } (fields(&room, &form.missing)) };
            (StatusCode::UNPROCESSABLE_ENTITY, room.page(Place::Swap, TITLE, &body)).into_response()
        }
    }
}

fn answer(room: &Room, view: &SwapView, form: &SwapForm) -> Markup {
    html! {
        h1 #sentence .sentence { (view.sentence) }
        @for line in &view.more { p .lead { (line) } }
        table .pot {
            caption { "Any one of these" }
            thead { tr { th scope="col" { "instead" } th scope="col" { "how much" } th scope="col" { "in cups and spoons" } } }
            tbody {
                @for row in &view.rows {
                    tr { th scope="row" { a href={ "/jars/" (row.material) } { (row.name) } p .second { (row.words) "." } } td { (row.amount) } td { (row.kitchen) } }
                }
            }
        }
        (card::mind(&view.mind))
        section { h2 { "Something else is missing" } (fields(room, &form.missing)) }
    }
}

fn fields(room: &Room, missing: &str) -> Markup {
    html! {
        form .tell method="post" action="/swap" {
            (room.hidden())
            label { "I have no" input type="text" name="missing" value=(missing) placeholder="10 g borax"; }
            button .main type="submit" { "What instead?" }
        }
    }
}
