//! The notebook: what was written when, and taking it back.

use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use serde::Deserialize;
use show::LogView;
use workbench::LogPage;

use super::kept::refused;
use crate::form::{Fields, Query, Sent};
use crate::layout::Place;
use crate::room::Room;

const TITLE: &str = "What have I written down?";

/// Which part of the log.
#[derive(Debug, Default, Deserialize)]
pub(crate) struct Part {
    #[serde(default)]
    up_to: u64,
    #[serde(default)]
    find: String,
}

pub(crate) async fn page(room: Room, Query(part): Query<Part>) -> Markup {
    let page = LogPage { up_to: part.up_to, search: part.find };
    let (view, then, counts) = room
        .look(|bench, state| {
            let then = (page.up_to > 0 && page.up_to < state.n()).then(|| bench.kept(&state.kept_as_of(page.up_to), ""));
            {
                let counts = then.as_ref().map_or_else(String::new, |_| bench.counted_as_of(state, page.up_to));
                (bench.log(state, &page), then, counts)
            }
        })
        .await;
    let place = tokio::task::block_in_place(|| room.studio().keeper().info()).map(|info| info.place).unwrap_or_default();
    // Where the studio lies, and how to copy it, is for the desk.
    let place = if room.is_phone() { String::new() } else { place };
    let body = html! {
        h1 .ask { (TITLE) }
        p .lead { "Nothing here is ever overwritten. What you take back stays in its place, struck out." }
        form .search method="get" action="/notebook" role="search" {
            label for="find" { "Find a word" }
            div .row { input #find type="text" name="find" value=(view.search); button type="submit" { "Find" } }
        }
        @if let Some(then) = then {
            section .then {
                h2 { "As it was after entry " (page.up_to) }
                p { (counts) }
                ul { @for row in then.recipes.iter().chain(&then.failed) { li { (row.name) ": " (row.said) } } }
                p { a href="/notebook" { "Back to today" } }
            }
        }
        @if view.rows.is_empty() { p .sentence { @if view.search.is_empty() { "The notebook is empty. " a href="/" { "Say a recipe" } " and keep it." } @else { "No entry holds \u{201c}" (view.search) "\u{201d}." } } }
        (entries(&room, &view))
        @if !place.is_empty() { p .second { "It lies in " (place) ". Copy it, photos too, with " code { "groundproof studio backup FOLDER" } "; " code { "groundproof studio check" } " looks whether all of it is sound." } }
        @if let Some(older) = view.older { p { a href={ "/notebook?up_to=" (older) "&find=" (view.search) } { "Older entries" } } }
    };
    room.page(Place::Log, TITLE, &body)
}

fn entries(room: &Room, view: &LogView) -> Markup {
    html! {
        ol .entries {
            @for row in &view.rows {
                li value=(row.n) .struck[row.struck] {
                    p {
                        @match &row.address { Some(address) if !row.struck => a href=(address) { (row.what) }, _ if row.struck => s { (row.what) }, _ => (row.what) }
                    }
                    p .second { "Entry " (row.n) " · " (row.at) " · " (row.device) @if row.struck { " · taken back" } " · " a href={ "/notebook?up_to=" (row.n) } { "as it was then" } }
                    @if !row.struck { (take_back(room, row.n, if row.strike { "Bring it back" } else { "Take it back" })) }
                }
            }
        }
    }
}

/// A folded form that takes one entry back.
pub(crate) fn take_back(room: &Room, entry: u64, words: &str) -> Markup {
    html! {
        details .back {
            summary { (words) }
            form method="post" action="/notebook/take-back" {
                (room.hidden())
                input type="hidden" name="entry" value=(entry);
                label { "Why (may stay empty)" input type="text" name="why" maxlength="200"; }
                button type="submit" { (words) }
            }
        }
    }
}

pub(crate) async fn strike(room: Room, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let is_key = room.studio().state().entry(fields.entry("entry")).is_some_and(|entry| entry.deed.kind() == "device");
    if is_key && room.is_phone() {
        return room.refuse(
            Place::Log,
            StatusCode::FORBIDDEN,
            "Who may come in is decided at the desk. Take that key away there, under \u{201c}My phone\u{201d}.",
        );
    }
    let done = room.write(&fields, |bench, studio, stamp| bench.take_back(studio, fields.entry("entry"), fields.get("why"), stamp)).await;
    match done {
        Ok(()) => {
            // A board or trial still stands when one of its entries goes; other pages may be gone with it.
            let back = Some(room.page_before()).filter(|page| page.starts_with("/board/") || page.contains("/pot/"));
            Redirect::to(back.unwrap_or("/notebook")).into_response()
        }
        Err(why) => refused(&room, &why),
    }
}
