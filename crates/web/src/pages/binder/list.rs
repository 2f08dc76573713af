//! What stands in my jars of binder, and how one is begun.

use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use show::{BinderRow, BindersView};
use workbench::TypedBinder;

use crate::form::{Fields, Sent};
use crate::layout::Place;
use crate::pages::kept::refused;
use crate::room::Room;

const TITLE: &str = "What stands in my jars of binder?";
/// Roads to a binder, in the painter's words.
const ROADS: [(&str, &str); 4] =
    [("curd", "Milk and acid"), ("bought", "Bought curd or quark"), ("powder", "Casein powder"), ("glue", "Glue or gelatine")];

pub(crate) async fn page(room: Room) -> Markup {
    let view = room.look(|bench, state| bench.binders(state, Room::now())).await;
    room.page(Place::Binders, TITLE, &body(&room, &view))
}

fn body(room: &Room, view: &BindersView) -> Markup {
    let (closed, open): (Vec<_>, Vec<_>) = view.binders.iter().partition(|row| row.closed);
    html! {
        p .second { (TITLE) }
        h1 .sentence { @if let Some(first) = open.first() { a href={ "/binder/" (first.id) } { (view.next) } } @else { (view.next) } }
        @if !open.is_empty() { ul .jars { @for row in &open { (jar(row)) } } }
        section {
            h2 { "Begin a jar" }
            p { a href="/binder" { "Is what I have enough?" } " Ask first; a jar can be begun from the answer." }
            @for (road, words) in ROADS {
                details open[open.is_empty() && road == "curd"] { summary { (words) } (form(room, &TypedBinder { road: road.into(), ..TypedBinder::default() })) }
            }
        }
        @if !closed.is_empty() {
            details { summary { "Jars that are used up or gone (" (closed.len()) ")" } ul .jars { @for row in &closed { (jar(row)) } } }
        }
    }
}

fn jar(row: &BinderRow) -> Markup {
    html! {
        li {
            a href={ "/binder/" (row.id) } { (row.name) }
            p { (row.what) }
            @if !row.closed && row.keeping.word != "not-made" { p .due { (row.keeping.text) } }
            p { (row.strength) }
        }
    }
}

/// What is told of a binder; each road asks for its own things.
pub(crate) fn form(room: &Room, typed: &TypedBinder) -> Markup {
    let road = typed.road.as_str();
    let new = typed.subject.is_empty();
    html! {
        form method="post" action="/binders" {
            (room.hidden())
            input type="hidden" name="subject" value=(typed.subject);
            input type="hidden" name="from" value=(typed.from);
            input type="hidden" name="road" value=(road);
            @for lot in &typed.lots { input type="hidden" name="lots" value=(lot); }
            div .grid {
                label { "A name for the jar" input required type="text" name="name" value=(typed.name) placeholder="Heron"; }
                @match road {
                    "curd" => {
                        label { "Milk" input required type="text" name="milk" value=(typed.milk) placeholder="1 litre of skim milk"; }
                        label { "To curdle it" input type="text" name="acids" value=(typed.acids.join(", ")) placeholder="white vinegar 5 %"; }
                    }
                    "bought" => { label { "Curd or quark" input required type="text" name="casein" value=(typed.casein) placeholder="250 g quark"; } }
                    "powder" => { label { "Casein powder" input required type="text" name="casein" value=(typed.casein) placeholder="50 g casein powder"; } }
                    _ => { label { "Dry glue or gelatine" input required type="text" name="glue" value=(typed.glue) placeholder="20 g hide glue"; } }
                }
                @if road != "glue" { label { "To open it" input type="text" name="base" value=(if new { "baking soda" } else { typed.base.as_str() }) placeholder="baking soda"; } }
            }
            details open[!new] {
                summary { "Water, warmth, rinses, a remark" }
                div .grid {
                    label { "Water that goes in, g" span .second { "empty: as much as brushes well" } input type="text" inputmode="decimal" name="water" value=(typed.water); }
                    @if road == "curd" {
                        label { "Warmth of the milk, °C" span .second { "may stay empty" } input type="text" inputmode="decimal" name="warmth" value=(typed.warmth); }
                        label { "Rinses" input type="text" inputmode="numeric" name="rinses" value=(if new { "3" } else { typed.rinses.as_str() }); }
                        label { "Water of one rinse, ml" span .second { "empty: a quarter of the milk" } input type="text" inputmode="decimal" name="rinse-water" value=(typed.rinse_water); }
                    }
                    label { "Remark" input type="text" name="note" value=(typed.note) maxlength="200"; }
                }
                @if road == "curd" {
                    label { input type="checkbox" name="heated" value="yes" checked[typed.heated]; " The milk was boiled before, or is UHT milk" }
                    label { input type="checkbox" name="squeezed" value="yes" checked[typed.squeezed]; " The curd is squeezed by hand, not only drained" }
                }
            }
            button .main type="submit" { @if new { "Begin this jar" } @else { "Change it" } }
        }
    }
}

pub(crate) async fn begin(room: Room, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let ahead = fields.get("ahead") == "yes";
    let written = room
        .write(&fields, |bench, studio, stamp| {
            let typed = if ahead { bench.begun(&fields.fridge(), fields.get("name")) } else { typed(bench, &fields) };
            bench.begin_binder(studio, &typed, stamp)
        })
        .await;
    match written {
        Ok(subject) => Redirect::to(&format!("/binder/{subject}")).into_response(),
        Err(why) => refused(&room, &why),
    }
}

fn typed(bench: &workbench::Workbench, fields: &Fields) -> TypedBinder {
    let get = |name: &str| fields.get(name).to_owned();
    TypedBinder {
        subject: get("subject"),
        from: fields.entry("from"),
        name: get("name"),
        road: get("road"),
        milk: get("milk"),
        acids: bench.acids_in(fields.get("acids")),
        casein: get("casein"),
        glue: get("glue"),
        base: get("base"),
        water: get("water"),
        warmth: get("warmth"),
        heated: fields.get("heated") == "yes",
        squeezed: fields.get("squeezed") == "yes",
        rinses: get("rinses"),
        rinse_water: get("rinse-water"),
        lots: fields.iter().filter(|(name, _)| *name == "lots").map(|(_, lot)| lot.to_owned()).collect(),
        note: get("note"),
    }
}
