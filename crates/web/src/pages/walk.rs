//! I have never done this: show me a day.

use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use show::{WalkFrame, WalkView};

use super::pot::drawn;
use crate::layout::Place;
use crate::room::Room;

const TITLE: &str = "I have never done this: show me a day";

pub(crate) async fn page(room: Room) -> Response {
    match room.ask(workbench::Workbench::walk).await {
        Ok(view) => room.page(Place::Milk, TITLE, &body(&view)).into_response(),
        Err(why) => room.refuse(Place::Milk, StatusCode::INTERNAL_SERVER_ERROR, &why.to_string()),
    }
}

fn body(view: &WalkView) -> Markup {
    html! {
        p .second { (TITLE) }
        @if let Some(first) = view.frames.first() { h1 .sentence { a href={ "#" (first.key) } { (first.says) } } }
        p .lead { (view.lasts) }
        p .second { (view.sentence) }
        ol .walk { @for frame in &view.frames { (one(frame)) } }
        section {
            h2 { "The same day as a strip" }
            (drawn("picture far", &view.strip))
            (drawn("picture near", &view.column))
        }
        p { a .button href="/milk" { "I have milk and powder: how much of each?" } a .button href="/trials/new" { "I want to find out" } }
    }
}

fn one(frame: &WalkFrame) -> Markup {
    html! {
        li id=(frame.key) {
            (drawn("picture", &frame.picture))
            div {
                p .second { "about " (frame.about) " · hands " (frame.hands) @if !frame.stands.is_empty() { " · then it stands " (frame.stands) } }
                h2 { (frame.says) }
                p { (frame.look) }
                @if !frame.take.is_empty() {
                    ul { @for portion in &frame.take { li { (portion.name) ": " strong { (portion.written) } @if !portion.kitchen.is_empty() { ", " (portion.kitchen) } } } }
                }
                p .mind { strong { "Mind this. " } (frame.caution) }
                p .source { (frame.source) }
            }
        }
    }
}
