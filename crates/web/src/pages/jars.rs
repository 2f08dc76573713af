//! What is in the jars, and what the boards are.

use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use show::{JarRow, JarView};

use super::card;
use crate::form::Path;
use crate::layout::{Place, bare};
use crate::room::Room;

const TITLE: &str = "What is in the jars?";

pub(crate) async fn list(room: Room) -> Markup {
    let rows = room.ask(workbench::Workbench::jars).await;
    let mut groups: Vec<(&str, Vec<&JarRow>)> = Vec::new();
    for row in &rows {
        match groups.iter_mut().find(|(group, _)| *group == row.group) {
            Some((_, members)) => members.push(row),
            None => groups.push((row.group, vec![row])),
        }
    }
    let body = html! {
        h1 .ask { (TITLE) }
        p .lead { "Density, thirst, what a cup weighs, cautions: each number with its source. " a href="/boards" { "Woods and abrasive papers" } }
        @for (group, members) in groups {
            section {
                h2 { (group) }
                ul .jars { @for row in members { li { a href={ "/jars/" (row.id) } { (row.name) } span .chemist { (row.chemist) } p { (row.plain) } } } }
            }
        }
    };
    room.page(Place::Jars, TITLE, &body)
}

pub(crate) async fn one(room: Room, Path(id): Path<String>) -> Response {
    match room.ask(|bench| bench.jar(&id)).await {
        Some(view) => room.page(Place::Jars, &view.row.name, &jar(&view)).into_response(),
        None => (StatusCode::NOT_FOUND, bare("No jar of that name", "Look it up in the list of jars.")).into_response(),
    }
}

fn jar(view: &JarView) -> Markup {
    html! {
        h1 .ask { (view.row.name) }
        p .chemist { (view.row.chemist) }
        p .lead { (view.row.plain) }
        @if !view.cautions.is_empty() { section .mind { h2 { "Mind this" } @for caution in &view.cautions { (card::one_caution(caution)) } } }
        @if !view.properties.is_empty() {
            section {
                h2 { "In figures" }
                table .pot {
                    thead { tr { th scope="col" { "what" } th scope="col" { "value" } th scope="col" { "how well founded" } } }
                    tbody { @for row in &view.properties { tr { th scope="row" { (row.name) } td { (row.value) } td { (row.standing) span .source { (row.source) } } } } }
                }
            }
        } @else { p { "No figures are known for it." } }
        @if !view.pairs.is_empty() {
            section { h2 { "In the pot with" } dl .short { @for (binder, why) in &view.pairs { dt { (binder) } dd { (why) } } } }
        }
        @if !view.names.is_empty() { details { summary { "Also called" } p { (view.names.join(", ")) } } }
        p { a href="/jars" { "All jars" } }
    }
}

pub(crate) async fn boards(room: Room) -> Markup {
    let (woods, grits) = room.ask(|bench| (bench.woods(), bench.grits())).await;
    let body = html! {
        h1 .ask { "What are the boards?" }
        section {
            h2 { "How woods move" }
            p .second { "Change of size for one point of moisture in the wood, between 6 and 14 %." }
            (table(&["wood", "along the radius", "along the rings", "source"], &woods))
        }
        section {
            h2 { "Abrasive papers" }
            (table(&["number", "mean grain", "used for", "source"], &grits))
        }
    };
    room.page(Place::Jars, "What are the boards?", &body)
}

fn table(heads: &[&str], rows: &[[String; 4]]) -> Markup {
    html! {
        div .wide tabindex="0" role="region" aria-label=(heads.join(", ")) {
            table .pot {
                thead { tr { @for head in heads { th scope="col" { (head) } } } }
                tbody {
                    @for [first, second, third, source] in rows {
                        tr { th scope="row" { (first) } td { (second) } td { (third) } td .source { (source) } }
                    }
                }
            }
        }
    }
}
