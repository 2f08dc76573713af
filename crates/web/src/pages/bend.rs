//! Which cylinder parts these two?

use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use serde::Deserialize;
use show::BendView;
use workbench::BendForm;

use crate::form::Query;
use crate::layout::Place;
use crate::room::Room;

const TITLE: &str = "Which cylinder parts these two?";

/// Two strips, in the address.
#[derive(Debug, Default, Deserialize)]
pub(crate) struct Asked {
    #[serde(default)]
    sheet: String,
    #[serde(default)]
    coat: String,
    #[serde(default)]
    coat2: String,
    #[serde(default)]
    breaks: String,
    #[serde(default)]
    breaks2: String,
}

pub(crate) async fn page(room: Room, Query(asked): Query<Asked>) -> Response {
    let asked = BendForm { sheet: asked.sheet, coat: asked.coat, coat2: asked.coat2, breaks: asked.breaks, breaks2: asked.breaks2 };
    match room.ask(|bench| bench.bend(&asked)).await {
        Ok(view) => {
            room.page(Place::Beside, TITLE, &html! { p .second { (TITLE) } (answer(&view)) (form(&asked)) (on_canvas()) }).into_response()
        }
        Err(why) => {
            let body =
                html! { h1 .sentence { "One thing first" } p .lead role="alert" { (show::capital(&why.to_string())) } (form(&asked)) };
            (StatusCode::UNPROCESSABLE_ENTITY, room.page(Place::Beside, TITLE, &body)).into_response()
        }
    }
}

fn answer(view: &BendView) -> Markup {
    let two = view.rows.iter().any(|row| !row.second.is_empty());
    html! {
        h1 .sentence { (view.sentence) }
        table .pot {
            caption { "How far the face of a strip is stretched, face outside" }
            thead { tr { th scope="col" { "round" } th scope="col" { @if two { "the first" } @else { "stretched" } } @if two { th scope="col" { "the second" } } th scope="col" { "so" } } }
            tbody {
                @for row in &view.rows {
                    tr { th scope="row" { (row.name) @if !row.wide.is_empty() { ", " (row.wide) } } td { (row.first) } @if two { td { (row.second) } } td { @if row.parts { strong { (row.says) } } @else { (row.says) } } }
                }
            }
        }
        @for line in &view.more { p .second { (line) } }
    }
}

fn form(asked: &BendForm) -> Markup {
    let field = |name: &str, label: &str, second: &str, value: &str| {
        html! { label { (label) span .second { (second) } input type="text" inputmode="decimal" name=(name) value=(value); } }
    };
    html! {
        section {
            h2 { "Your two strips" }
            form .tell method="get" action="/bend" {
                div .grid {
                    (field("sheet", "The sheet below, mm", "0.6 if empty: canvas", &asked.sheet))
                    (field("coat", "The first ground, dry, µm", "150 if empty", &asked.coat))
                    (field("coat2", "The second ground, dry, µm", "as the first if empty", &asked.coat2))
                    (field("breaks", "The first cracks at a stretch of, %", "empty if not known", &asked.breaks))
                    (field("breaks2", "The second cracks at, %", "empty if not known", &asked.breaks2))
                }
                button .main type="submit" { "Which parts them?" }
            }
        }
    }
}

/// What is and is not shown about grounds on canvas; evidence in words, each with its source.
fn on_canvas() -> Markup {
    html! {
        section {
            h2 { "On canvas" }
            p { "Glue and casein grounds are brittle, and the general advice is a rigid board. Casein on canvas has been done; it must be thin, or fine cracks come." }
            p .source { "MITRA, University of Delaware (B. Baade, 2016)" }
            p { "Glue answers damp more than any other layer: brittle in dry air, with little hold above about 80 % damp." }
            p .source { "MITRA moderators" }
            p { "Acrylic grounds bend at room warmth and stiffen in the cold: some are brittle at 0 °C, artists' alkyd primers at 10 °C, and the two families overlap." }
            p .source { "Young and Hagan 2008" }
            p { "Oil paint on acrylic grounds is usually taken as sound. Of paint 8 to 9 years old some came off, above all where zinc in the paint had made soaps; rougher grounds held better." }
            p .source { "Maor and Murray, MRS Proc. 1047 (2008)" }
            p { "What holds oil paint on a ground is mostly its pores and roughness. Clean, matt and a little thirsty matters more than the name of the binder; nobody is known here to have measured a chemical bond." }
            p .source { "the same, and own reading; no source measures it" }
            p { "Prime after stretching, and roll face outside on the widest tube at hand: inside, the ground is pressed and may lift." }
            p .source { "common practice, no source" }
        }
    }
}
