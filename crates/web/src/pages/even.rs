//! Will the last board be like the first?

use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use show::EvenView;
use workbench::{EvenForm, Workbench};

use crate::form::{Fields, Sent};
use crate::layout::Place;
use crate::room::Room;

const TITLE: &str = "Will the last board be like the first?";

pub(crate) async fn empty(room: Room) -> Markup {
    let body = html! {
        h1 .ask { (TITLE) }
        p .lead { "While you lay boards, grains sink in the pot and water leaves it. Say what is in it and how long it takes." }
        (form(&room.token(), "", &EvenForm::default()))
    };
    room.page(Place::Even, TITLE, &body)
}

pub(crate) async fn page(room: Room, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let asked = fields.even();
    let told = fields.get("told");
    match room.ask(|bench| bench.even(&room.verdict(&fields, "", bench), &asked)).await {
        Ok(view) => {
            let body = html! { (answer(&view)) section { h2 { "Change what you said" } (form(&room.token(), told, &asked)) } };
            room.page(Place::Even, TITLE, &body).into_response()
        }
        Err(why) => {
            let body = html! { h1 .sentence { "One thing first" } p .lead role="alert" { (show::capital(&why.to_string())) } (form(&room.token(), told, &asked)) };
            (StatusCode::UNPROCESSABLE_ENTITY, room.page(Place::Even, TITLE, &body)).into_response()
        }
    }
}

fn answer(view: &EvenView) -> Markup {
    html! {
        h1 .sentence { (view.sentence) }
        @if !view.more.is_empty() { p .lead { (view.more) } }
        @for row in &view.rows {
            section {
                h2 { (row.about) }
                p .what { (row.said) }
                @if !row.how.is_empty() { p .second { (row.how) } }
            }
        }
        @for line in &view.trust { p .second { (line) } }
        p { a href="/save" { "My pot is not right" } }
    }
}

fn form(token: &str, told: &str, asked: &EvenForm) -> Markup {
    let flow = |name: &str, label: &str, usual: &str, taken: &str| {
        let taken = if taken.is_empty() { usual } else { taken };
        html! { label { (label) select name=(name) { @for (key, words) in Workbench::flow_words() { option value=(key) selected[key == taken] { (words) } } } } }
    };
    let number = |name: &str, label: &str, usual: &str, value: &str| {
        html! { label { (label) span .second { (usual) " if empty" } input type="text" inputmode="decimal" name=(name) value=(value); } }
    };
    html! {
        form .tell method="post" action="/even" {
            input type="hidden" name="token" value=(token);
            label for="told" { "What is in the pot, the water too" }
            textarea #told name="told" rows="4" spellcheck="false" placeholder="15 g hide glue, 210 g water, 300 g chalk" { (told) }
            div .grid {
                (number("minutes", "How long the work takes, minutes", "60", &asked.minutes))
                (flow("binder", "The binder without powder flows", "milk", &asked.binder))
                (flow("pot", "The pot with powder flows", "cream", &asked.pot))
                (number("deep", "The pot is filled so deep, cm", "6", &asked.deep))
                (number("wide", "The pot is so wide inside, cm", "18", &asked.wide))
                (number("layers", "Layers of tape on either side", "2", &asked.layers))
                (number("tape", "One layer of tape, mm", "0.13", &asked.tape))
            }
            button .main type="submit" { "Will it?" }
        }
    }
}
