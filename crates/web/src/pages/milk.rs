//! I have milk and powder.

use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use show::MilkView;
use workbench::MilkForm;

use super::card;
use crate::form::{Fields, Sent};
use crate::layout::Place;
use crate::room::Room;

const TITLE: &str = "I have milk and powder";

pub(crate) async fn empty(room: Room) -> Markup {
    let form = MilkForm::default();
    let body = html! {
        h1 .ask { (TITLE) }
        p .lead { "Say what is at hand. The amounts come out in grams, cups and packs, with their doubt." }
        (fields(&room.token(), &form))
    };
    room.page(Place::Milk, TITLE, &body)
}

pub(crate) async fn page(room: Room, sent: Sent) -> Response {
    let sent = match Fields::from_sent(sent, &room.token()) {
        Ok(sent) => sent,
        Err(refusal) => return refusal,
    };
    let form = sent.milk();
    match room.ask(|bench| bench.milk(&form)).await {
        Ok(view) => room.page(Place::Milk, TITLE, &answer(&view, &form, &room.token())).into_response(),
        Err(why) => {
            let body = html! { h1 .sentence { "One thing first" } p .lead role="alert" { (why) } (fields(&room.token(), &form)) };
            (StatusCode::UNPROCESSABLE_ENTITY, room.page(Place::Milk, TITLE, &body)).into_response()
        }
    }
}

fn answer(view: &MilkView, form: &MilkForm, token: &str) -> Markup {
    html! {
        h1 .sentence { (view.sentence) }
        p .lead { (view.more) }
        section .advice { section { h2 { "Is there enough acid?" } p .what { (view.acid) } } }
        table .pot {
            caption { "Take" }
            thead { tr { th scope="col" { "what" } th scope="col" { "how much" } th scope="col" { "in cups and spoons" } th scope="col" { "in packs" } } }
            tbody {
                @for portion in &view.report.take {
                    tr { th scope="row" { a href={ "/jars/" (portion.material) } { (portion.name) } } td { (portion.written) } td { (portion.kitchen) } td { (portion.packs) } }
                }
            }
        }
        section {
            h2 { "Do" }
            ol .steps { @for step in &view.report.steps { li { p { (step.what) } @if !step.mind.is_empty() { p .caution { strong { "Mind this. " } (step.mind) } } } } }
        }
        form method="post" action="/recipe" {
            input type="hidden" name="token" value=(token);
            input type="hidden" name="told" value=(view.report.recipe);
            button type="submit" { "See this ground as a card" }
        }
        (card::mind(&view.mind))
        @for warning in &view.report.warnings { p .second { (warning.text) } }
        section { h2 { "Change what is at hand" } (fields(token, form)) }
    }
}

fn fields(token: &str, form: &MilkForm) -> Markup {
    html! {
        form .tell method="post" action="/milk" {
            input type="hidden" name="token" value=(token);
            div .grid {
                label { "Milk: how much of which" input type="text" name="milk" value=(form.milk); }
                label { "To curdle it" span .second { "an amount, such as “1 lemon”, is checked" } input type="text" name="acid" value=(form.acid); }
                label { "White powder" input type="text" name="powder" value=(form.powder); }
                label { "To dissolve the curd" input type="text" name="base" value=(form.base); }
                label { "Boards" input type="text" inputmode="numeric" name="boards" value=[(form.boards > 0).then_some(form.boards)]; }
                label { "Size of a board" input type="text" name="size" value=(form.size); }
                label { "Coats" input type="text" inputmode="numeric" name="coats" value=[(form.coats > 0).then_some(form.coats)]; }
                label { "Warmth of the milk, °C" span .second { "may stay empty" } input type="text" inputmode="decimal" name="warmth" value=[form.warmth_c]; }
            }
            button .main type="submit" { "How much of each?" }
        }
        p .second { a href="/binder" { "I want binder from what is in the fridge" } ": several acids, rinses, every base, pH paper. " a href="/swap" { "I have none of that: what instead?" } }
    }
}
