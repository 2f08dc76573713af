//! What grew since then? Two photos of one board, one over the other.

use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use show::{SinceView, path_of};

use super::card::figures;
use super::kept::refused;
use crate::form::{Fields, Path};
use crate::layout::Place;
use crate::room::Room;

/// Fates of a piece of crack, with the words for each.
const FATES: [(&str, &str); 5] = [
    ("known", "there before"),
    ("longer", "longer than before"),
    ("new", "new"),
    ("gone", "gone"),
    ("unsure", "can't be told: only one of the photos could show it"),
];

pub(crate) async fn page(room: Room, Path((photo, other)): Path<(String, String)>) -> Response {
    // Nothing is written; it is only as long a sum as measuring.
    match room.measure(&Fields::default(), |bench, studio, _| bench.photos_since(studio, &photo, &other)).await {
        Ok(view) => {
            let days = room.look(|bench, state| bench.days_of(state, &photo, &other)).await.unwrap_or_default();
            room.page(Place::Photos, "What grew since then?", &body(&photo, &other, &view, &days)).into_response()
        }
        Err(why) => refused(&room, &why),
    }
}

fn body(photo: &str, other: &str, view: &SinceView, [(older, old), (newer, new)]: &[(String, String); 2]) -> Markup {
    let picture = |which: &str| format!("/photos/{photo}/since/{other}/{which}.jpg");
    html! {
        p .second { a href="/photos" { "All photos" } " · " a href={ "/photos/" (older) } { "The older photo" } " · " a href={ "/photos/" (newer) } { "The newer photo" } }
        h1 .sentence { (view.sentence) }
        dl .short {
            dt { "The older photo" } dd { (show::capital(old)) "." }
            dt { "The newer photo" } dd { (show::capital(new)) "." }
        }
        @if let Some(pictures) = &view.pictures {
            div .since {
                label .since-slide hidden { "Slide from the older photo to the newer one" input type="range" min="0" max="100" value="50" data-slide; }
                div .since-pair {
                    figure { img src=(picture("old")) width=(pictures.width) height=(pictures.height) alt="The board in the older photo."; figcaption { "The older photo" } }
                    figure {
                        img src=(picture("new")) width=(pictures.width) height=(pictures.height) alt={ "The board in the newer photo. " (view.sentence) };
                        svg .since-over viewBox={ "0 0 " (pictures.width) " " (pictures.height) } aria-hidden="true" {
                            @for stroke in &view.strokes { path class=(stroke.fate) d=(path_of(&stroke.points)) {} }
                        }
                        figcaption { "The newer photo, with its cracks" }
                    }
                }
                ul .since-legend {
                    @for (fate, words) in FATES {
                        @if view.strokes.iter().any(|stroke| stroke.fate == fate) {
                            li { svg .since-key viewBox="0 0 48 8" width="48" height="8" aria-hidden="true" { path class=(fate) d="M2 4L46 4" {} } " " (words) }
                        }
                    }
                }
            }
        }
        @for more in &view.more { p .what { (more) } }
        @if !view.report.warnings.is_empty() { section { h2 { "To know" } ul { @for warning in &view.report.warnings { li { (warning.text) } } } } }
        section { h2 { "In figures" } (figures(&view.figures)) }
    }
}

/// One of the two boards, straightened, both of one size.
pub(crate) async fn picture(room: Room, Path((photo, other, which)): Path<(String, String, String)>) -> Response {
    let found = room.measure(&Fields::default(), |bench, studio, _| bench.photos_since(studio, &photo, &other)).await;
    let pictures = match found {
        Ok(view) => view.pictures.clone(),
        Err(why) => return refused(&room, &why),
    };
    let bytes = pictures.and_then(|pictures| match which.as_str() {
        "old.jpg" => Some(pictures.old),
        "new.jpg" => Some(pictures.new),
        _ => None,
    });
    match bytes {
        Some(bytes) => ([(header::CONTENT_TYPE, "image/jpeg"), (header::CACHE_CONTROL, "private, no-store")], bytes).into_response(),
        None => room.refuse(Place::Photos, StatusCode::NOT_FOUND, "There is no such picture of these two photos."),
    }
}
