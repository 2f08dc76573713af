//! My pot is not right.

use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use show::SaveView;
use workbench::{SaveForm, Workbench};

use super::pot;
use crate::form::{Fields, Sent};
use crate::layout::Place;
use crate::room::Room;

const TITLE: &str = "My pot is not right";

pub(crate) async fn empty(room: Room) -> Markup {
    let body = html! {
        h1 .ask { (TITLE) }
        p .lead { "Say what is wrong. With what went in and what it weighs now, the grams come out too. Nothing is written down." }
        (fields(&room.token(), &SaveForm::default()))
    };
    room.page(Place::Save, TITLE, &body)
}

pub(crate) async fn page(room: Room, sent: Sent) -> Response {
    let sent = match Fields::from_sent(sent, &room.token()) {
        Ok(sent) => sent,
        Err(refusal) => return refusal,
    };
    let form = sent.save();
    match room.ask(|bench| bench.save(&form)).await {
        Ok(view) => room.page(Place::Save, TITLE, &answer(&view, &form, &room.token())).into_response(),
        Err(why) => {
            let body = html! { h1 .sentence { "One thing first" } p .lead role="alert" { (show::capital(&why.to_string())) } (fields(&room.token(), &form)) };
            (StatusCode::UNPROCESSABLE_ENTITY, room.page(Place::Save, TITLE, &body)).into_response()
        }
    }
}

fn answer(view: &SaveView, form: &SaveForm, token: &str) -> Markup {
    html! {
        h1 .sentence { (view.sentence) }
        @if let Some(mended) = &view.mended { @for line in &mended.more { p { (line) } } }
        @if !view.said.is_empty() { p .second { "As told: " (view.said) } }
        @for line in &view.trust { p .second { (line) } }
        section #rescues { h2 { "Why, and what to do" } @for rescue in &view.rescues { (pot::one(rescue)) } }
        @if let Some(foam) = &view.foam {
            section #foam { h2 { "How high a pot for the foam?" } p .what { (foam.says) } p .second { (foam.how) } }
        }
        p { a href="/goes" { "Does this powder curdle this binder?" } " · " a href="/even" { "Will the last board be like the first?" } }
        section { h2 { "Change what you said" } (fields(token, form)) }
    }
}

fn fields(token: &str, form: &SaveForm) -> Markup {
    html! {
        form .tell method="post" action="/save" {
            input type="hidden" name="token" value=(token);
            label for="sight" { "What is wrong with it?" }
            select #sight name="sight" {
                option value="" { "choose what you see" }
                @for (key, words) in Workbench::sights() { option value=(key) selected[key == form.sight] { (words) } }
            }
            label for="told" { "What went in, each in grams, the water too" span .second { "may stay empty" } }
            textarea #told name="told" rows="4" spellcheck="false" placeholder="40 g casein, 16 g borax, 300 g chalk, 250 g water" { (form.told) }
            div .grid {
                label { "It weighs now, without the pot, g" span .second { "may stay empty" } input type="text" inputmode="decimal" name="weighs" value=(form.weighs); }
                label { "Laid from it so far, g" span .second { "empty if nothing" } input type="text" inputmode="decimal" name="laid" value=(form.laid); }
                label { "The pot is so wide inside, cm" span .second { "18 if empty" } input type="text" inputmode="decimal" name="wide" value=(form.wide); }
                label { "So warm, °C" span .second { "20 if empty" } input type="text" inputmode="decimal" name="warmth" value=(form.warmth); }
            }
            button .main type="submit" { "What does it want?" }
        }
    }
}
