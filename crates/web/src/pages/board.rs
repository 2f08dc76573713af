//! One board, and laying coats one board after the other.

use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use serde::Deserialize;
use show::{BoardView, DryingView};
use workbench::{StudioError, TypedCoat};

use super::kept::refused;
use super::notebook::take_back;
use super::road::list;
use crate::form::{Fields, Path, Query, Sent};
use crate::layout::Place;
use crate::room::Room;

/// An id in the address.
#[derive(Debug, Default, Deserialize)]
pub(crate) struct Typed {
    #[serde(default)]
    id: String,
}

pub(crate) async fn find(room: Room, Query(typed): Query<Typed>) -> Response {
    match room.look(|bench, state| bench.find_board(state, &typed.id)).await {
        Ok(id) => Redirect::to(&format!("/board/{id}")).into_response(),
        Err(why) => refused(&room, &why),
    }
}

pub(crate) async fn page(room: Room, Path(id): Path<String>) -> Response {
    let found =
        room.look(|bench, state| Ok::<_, StudioError>((bench.board(state, &id)?, bench.board_drying(state, &id, Room::now())?))).await;
    match found {
        Ok((view, drying)) => room.page(Place::Trials, &format!("Board {}", view.number), &body(&room, &view, &drying)).into_response(),
        Err(why) => refused(&room, &why),
    }
}

fn body(room: &Room, view: &BoardView, drying: &DryingView) -> Markup {
    html! {
        p .second { "Board " strong { (view.number) } " · " (view.id) " · " a href={ "/trials/" (view.trial) } { (view.question) } }
        h1 .sentence { (view.next) }
        p {
            (view.recipe) ", " (view.job) ". Pot " (view.pot) ", day " (view.day) ", place " (view.place) @if !view.sheet.is_empty() { ", sheet " (view.sheet) } "."
            @if !view.strips.is_empty() { " Strips with " (list(&view.strips)) " coats." }
            @for (name, value) in &view.settings { " " (name) ": " (value) "." }
            " Blind code " (view.blind) "."
        }
        @if !view.dry.is_empty() { p .what { "Dry thickness by weight: " (view.dry) "." } }
        @if let Some(coat) = view.next_coat { section { h2 { "Coat " (coat) } (coat_form(room, &view.id, "board")) } }
        @if !view.coats.is_empty() { (coats(room, view)) }
        @if !view.coats.is_empty() { (how_it_dries(room, view, drying)) }
        @if !view.readings.is_empty() { (readings(room, view)) }
        section {
            h2 { "Photos" }
            @for photo in &view.photos {
                figure .picture { img src={ "/photo/" (photo.bytes) } alt={ "A photo of this board. " (photo.says) }; figcaption { (photo.caption) @if !photo.caption.is_empty() { " · " } (photo.on) } }
                p { a .button href={ "/photos/" (photo.photo) } { @if photo.says.is_empty() { "Measure the cracks in it" } @else { (photo.says) } } }
                (take_back(room, photo.entry, "Take this photo back"))
            }
            form method="post" action={ "/board/" (view.id) "/photo" } enctype="multipart/form-data" {
                (room.hidden())
                label { "A photo of it (JPEG or PNG)" input type="file" name="photo" accept="image/jpeg,image/png" capture="environment"; }
                label { "What is to be seen" input type="text" name="caption"; }
                button type="submit" { "File the photo" }
            }
        }
        @if view.lost.is_empty() {
            details .back {
                summary { "This board is lost" }
                form method="post" action={ "/board/" (view.id) "/lost" } { (room.hidden()) label { "Why" input type="text" name="reason" placeholder="fell off the shelf, face down"; } button type="submit" { "It is lost" } }
            }
        }
    }
}

/// The fields of one coat.
fn coat_form(room: &Room, board: &str, back: &str) -> Markup {
    html! {
        form method="post" action={ "/board/" (board) "/coat" } {
            (room.hidden())
            input type="hidden" name="back" value=(back);
            div .grid {
                label { "Board before, g" input type="text" inputmode="decimal" name="before"; }
                label { "Board after, g" input type="text" inputmode="decimal" name="after"; }
                label { "Direction" input type="text" name="direction" placeholder="along the grain"; }
                label { "Room, °C" input type="text" inputmode="decimal" name="celsius"; }
                label { "Dampness of the air, %" input type="text" inputmode="decimal" name="damp"; }
            }
            details {
                summary { "More" }
                div .grid {
                    label { "Number of the coat, if not the next (0 is size)" input type="text" inputmode="numeric" name="number"; }
                    label { "Pot, if not the planned one" input type="text" name="batch"; }
                    label { "Laid earlier than now" input type="datetime-local" name="when"; }
                    label { "Remark" input type="text" name="note"; }
                }
            }
            button .main type="submit" { "It is laid" }
        }
    }
}

fn coats(room: &Room, view: &BoardView) -> Markup {
    html! {
        section {
            h2 { "Coats laid" }
            @for coat in &view.coats {
                div .own {
                    p { strong { @if coat.number == 0 { "Size" } @else { "Coat " (coat.number) } } ", pot " (coat.pot) ": " (coat.wet) @if !coat.per_area.is_empty() { ", " (coat.per_area) } @if !coat.direction.is_empty() { ", " (coat.direction) } }
                    p .second { (coat.laid) @if !coat.air.is_empty() { " · " (coat.air) } @if !coat.note.is_empty() { " · " (coat.note) } }
                    (take_back(room, coat.entry, "Take this coat back"))
                }
            }
        }
    }
}

fn how_it_dries(room: &Room, view: &BoardView, drying: &DryingView) -> Markup {
    html! {
        section #drying {
            h2 { "Drying" }
            @for ready in &drying.ready { p { (ready) } }
            @for says in &drying.says { p .what { (says) } }
            @for (entry, at, grams) in &drying.masses { div .own { p { (at) ": " strong { (grams) } } (take_back(room, *entry, "Take this weighing back")) } }
            @if view.lost.is_empty() {
                form method="post" action={ "/board/" (view.id) "/mass" } {
                    (room.hidden())
                    label { "Board on the scale now, g" input type="text" inputmode="decimal" name="grams"; }
                    button type="submit" { "Write the weight down" }
                }
            }
        }
    }
}

pub(crate) async fn mass(room: Room, Path(id): Path<String>, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    match room.write(&fields, |bench, studio, stamp| bench.weigh_drying(studio, &id, fields.get("grams"), stamp)).await {
        Ok(()) => Redirect::to(&format!("/board/{id}#drying")).into_response(),
        Err(why) => refused(&room, &why),
    }
}

fn readings(room: &Room, view: &BoardView) -> Markup {
    html! {
        section {
            h2 { "What was seen" }
            @for reading in &view.readings {
                div .own {
                    p { strong { (reading.measure) ": " (reading.value) } @if let Some(strip) = reading.strip { ", strip with " (strip) " coats" } }
                    p .second {
                        (reading.on) @if !reading.rater.is_empty() { " · " (reading.rater) } @if reading.blind { " · recipe hidden" } @else { " · recipe known" } @if !reading.note.is_empty() { " · " (reading.note) }
                    }
                    (take_back(room, reading.entry, "Take this reading back"))
                }
            }
        }
    }
}

pub(crate) async fn coat(room: Room, Path(id): Path<String>, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let get = |name: &str| fields.get(name).to_owned();
    let typed = TypedCoat {
        board: id.clone(),
        number: get("number"),
        batch: get("batch"),
        before: get("before"),
        after: get("after"),
        direction: get("direction"),
        celsius: get("celsius"),
        damp: get("damp"),
        note: get("note"),
        when: get("when"),
    };
    match room.write(&fields, |bench, studio, stamp| bench.lay_coat(studio, &typed, stamp)).await {
        Ok(()) => {
            let back = fields.get("back");
            // Only pages of this program are gone back to.
            let to = back.strip_prefix("lay ").map_or_else(|| format!("/board/{id}"), |trial| format!("/trials/{trial}/lay"));
            Redirect::to(&to).into_response()
        }
        Err(why) => refused(&room, &why),
    }
}

pub(crate) async fn lost(room: Room, Path(id): Path<String>, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    match room.write(&fields, |bench, studio, stamp| bench.lose_board(studio, &id, fields.get("reason"), stamp)).await {
        Ok(()) => Redirect::to(&format!("/board/{id}")).into_response(),
        Err(why) => refused(&room, &why),
    }
}

pub(crate) async fn lay(room: Room, Path(trial): Path<String>) -> Response {
    let body = match room.look(|bench, state| bench.lay_sheet(state, &trial)).await {
        Err(why) => return refused(&room, &why),
        Ok(None) => html! { h1 .sentence { "All coats are laid." } p { a href={ "/trials/" (trial) "/read" } { "Read the boards" } } },
        Ok(Some((view, coat))) => html! {
            p .lead { (view.question) }
            h1 .sentence { "Board " (view.number) ", coat " (coat) ", from pot " (view.pot) "." }
            p .what { (view.id) ". " (view.recipe) ". Day " (view.day) ", place " (view.place) "."
                @if !view.strips.is_empty() { " It goes on the strips with " (coat) " coats or more; strips stand " (list(&view.strips)) "." } }
            @if let Some(last) = view.coats.last() { p .second { "The last coat: " (last.wet) @if !last.direction.is_empty() { ", " (last.direction) } ", " (last.laid) "." } }
            (coat_form(&room, &view.id, &format!("lay {trial}")))
            p .second { a href={ "/board/" (view.id) } { "Something else happened to this board" } " · " a href={ "/trials/" (trial) } { "The whole trial" } }
        },
    };
    room.page(Place::Trials, "Lay the next coat", &body).into_response()
}
