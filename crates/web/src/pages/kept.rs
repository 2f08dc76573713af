//! What I keep: recipes and failed boards.

use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use serde::Deserialize;
use show::{KeptRow, KeptView};
use workbench::{KeepFailed, KeepRecipe, KeptRecipe, StudioError};

use super::{card, failed};
use crate::form::{Fields, Path, Query, Sent};
use crate::layout::Place;
use crate::room::Room;

const TITLE: &str = "What have I kept?";

/// A search word in the address.
#[derive(Debug, Default, Deserialize)]
pub(crate) struct Search {
    #[serde(default)]
    find: String,
}

/// The part of a recipe's form that keeps it: as a new recipe, or as a change of the one that it came from.
pub(crate) fn keep_recipe(fields: &Fields) -> Markup {
    let (subject, from, name) = (fields.get("subject"), fields.get("from"), fields.get("name"));
    html! {
        fieldset .keep {
            legend { "Keep it in the notebook" }
            input type="hidden" name="subject" value=(subject);
            input type="hidden" name="from" value=(from);
            label { "What do you call it?" input type="text" name="name" maxlength="200" value=(name) placeholder="tide calendar ground, leaner"; }
            label { "What did you change, or any remark" input type="text" name="note" maxlength="2000" value=(fields.get("note")); }
            @if subject.is_empty() {
                button type="submit" formaction="/kept" { "Keep this recipe" }
            } @else {
                button type="submit" formaction="/kept" name="as" value="change" { "Keep it as a change of that recipe" }
                button .quiet type="submit" formaction="/kept" name="as" value="copy" { "Keep it as a recipe of its own" }
            }
        }
    }
}

pub(crate) async fn list(room: Room, Query(search): Query<Search>) -> Markup {
    let view = room.look(|bench, state| bench.kept(state, &search.find)).await;
    room.page(Place::Kept, TITLE, &body(&view))
}

fn body(view: &KeptView) -> Markup {
    html! {
        h1 .ask { (TITLE) }
        form .search method="get" action="/kept" role="search" {
            label for="find" { "Find a word in them" }
            div .row { input #find type="text" name="find" value=(view.search); button type="submit" { "Find" } }
        }
        @if view.recipes.is_empty() && view.failed.is_empty() {
            @if view.search.is_empty() {
                p .sentence { "Nothing yet. " a href="/" { "Say a recipe" } " and keep it." }
            } @else {
                p .lead { "Nothing here holds \u{201c}" (view.search) "\u{201d}. " a href="/kept" { "Show everything" } }
            }
        }
        @if !view.recipes.is_empty() { section { h2 { "Recipes" } (rows("/kept/", &view.recipes)) } }
        @if !view.failed.is_empty() { section { h2 { "Boards that failed" } (rows("/kept-failed/", &view.failed)) } }
    }
}

fn rows(address: &str, rows: &[KeptRow]) -> Markup {
    html! {
        ul .jars {
            @for row in rows {
                li { a href={ (address) (row.subject) } { (row.name) } p { (row.said) } p .second { (row.on) @if !row.note.is_empty() { " · " (row.note) } } }
            }
        }
    }
}

pub(crate) async fn keep(room: Room, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let copy = fields.get("as") == "copy";
    let (old, from) = (fields.get("subject").to_owned(), fields.entry("from"));
    let kept = room
        .write(&fields, |bench, studio, stamp| {
            let keep = KeepRecipe {
                request: room.verdict(&fields, "", bench),
                name: fields.get("name").to_owned(),
                note: fields.get("note").to_owned(),
                change: if copy { Default::default() } else { (old.clone(), from) },
                copied_from: if copy { old.clone() } else { String::new() },
            };
            bench.keep_recipe(studio, &keep, stamp)
        })
        .await;
    match kept {
        Ok(subject) => Redirect::to(&format!("/kept/{subject}")).into_response(),
        Err(why) => refused(&room, &why),
    }
}

/// What went wrong while writing, as a page.
pub(crate) fn refused(room: &Room, why: &StudioError) -> Response {
    let status = match why {
        StudioError::Missing(_) => StatusCode::NOT_FOUND,
        StudioError::Typed(_) => StatusCode::UNPROCESSABLE_ENTITY,
        StudioError::Keep(_) => StatusCode::CONFLICT,
    };
    room.refuse(Place::Kept, status, &why.to_string())
}

pub(crate) async fn one(room: Room, Path(subject): Path<String>) -> Response {
    match room.look(|bench, state| bench.kept_recipe(state, &subject)).await {
        Ok(kept) => room.page(Place::Kept, &kept.name, &recipe(&room, &kept)).into_response(),
        Err(why) => refused(&room, &why),
    }
}

fn recipe(room: &Room, kept: &KeptRecipe) -> Markup {
    let fields = Fields::of(&[("subject", &kept.subject), ("from", &kept.from.to_string()), ("name", &kept.name)]);
    let wet = kept.request.wet_um.map_or_else(String::new, |wet| wet.to_string());
    let coats = kept.request.coats.map_or_else(String::new, |coats| coats.to_string());
    html! {
        p .second {
            "Kept on " (kept.on) " as " strong { (kept.name) } "."
            @if !kept.note.is_empty() { " " (kept.note) }
            @if let Some((name, from)) = &kept.copied_from { " Copied from " a href={ "/kept/" (from) } { (name) } "." }
        }
        @if !kept.said_then.is_empty() { p .second { "When it was kept the program said: \u{201c}" (kept.said_then) "\u{201d} Today it says:" } }
        div .two {
            (card::verdict(&kept.card))
            (card::recipe(&kept.card, &room.hidden(), &wet, &coats, &keep_recipe(&fields)))
        }
        @if kept.versions.len() > 1 {
            section {
                h2 { "How it became this" }
                @for version in &kept.versions {
                    details {
                        summary { (version.on) " · " (version.name) @if version.struck { " · taken back" } }
                        @if !version.note.is_empty() { p { (version.note) } }
                        p .told { (version.told) }
                        p .second { (version.said) }
                    }
                }
            }
        }
        (super::notebook::take_back(room, kept.from, "Take this recipe's last change back"))
    }
}

pub(crate) async fn keep_failed(room: Room, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let kept = room
        .write(&fields, |bench, studio, stamp| {
            let keep = KeepFailed { request: room.failed(&fields, bench), name: fields.get("name").to_owned() };
            bench.keep_failed(studio, &keep, stamp)
        })
        .await;
    match kept {
        Ok(subject) => Redirect::to(&format!("/kept-failed/{subject}")).into_response(),
        Err(why) => refused(&room, &why),
    }
}

pub(crate) async fn one_failed(room: Room, Path(subject): Path<String>) -> Response {
    let found = room
        .look(|bench, state| {
            bench
                .kept_failed(state, &subject)
                .map(|(name, request, view)| (name, failed::body(bench, &room.hidden(), &maud::html! {}, &request, &view)))
        })
        .await;
    match found {
        Ok((name, body)) => room.page(Place::Kept, &name, &html! { p .second { "Kept as " strong { (name) } "." } (body) }).into_response(),
        Err(why) => refused(&room, &why),
    }
}
