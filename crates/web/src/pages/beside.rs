//! Two recipes side by side.

use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::{Markup, PreEscaped, html};
use show::{Bar, rule_picture};
use workbench::{Beside, BesideRequest, Workbench};

use super::card;
use crate::form::{Fields, Sent};
use crate::layout::{Place, bare};
use crate::room::Room;

const TITLE: &str = "Which of the two is the richer?";

pub(crate) async fn empty(room: Room) -> Markup {
    room.page(Place::Beside, TITLE, &html! { h1 .ask { (TITLE) } (boxes(&room.token(), "", "")) })
}

pub(crate) async fn page(room: Room, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let request =
        room.ask(|bench| BesideRequest { left: room.verdict(&fields, "", bench), right: room.verdict(&fields, "-2", bench) }).await;
    if request.right.told.trim().is_empty() {
        let body = html! { h1 .ask { "And the other one?" } (boxes(&room.token(), &request.left.told, "")) };
        return room.page(Place::Beside, "And the other one?", &body).into_response();
    }
    match room.ask(|bench| bench.beside(&request)).await {
        Ok(view) => room.page(Place::Beside, TITLE, &both(&view, &room.token())).into_response(),
        Err(why) => (StatusCode::UNPROCESSABLE_ENTITY, bare("One thing first", &why.to_string())).into_response(),
    }
}

fn both(view: &Beside, token: &str) -> Markup {
    let bars: Vec<(String, Bar)> = [("first", &view.left), ("second", &view.right)]
        .into_iter()
        .filter_map(|(name, card)| card.bar.map(|bar| (name.to_owned(), bar)))
        .collect();
    html! {
        @for (index, difference) in view.differences.iter().enumerate() {
            @if index == 0 { h1 .sentence { (difference) } } @else { p .lead { (difference) } }
        }
        @if !bars.is_empty() {
            figure .picture { (PreEscaped(rule_picture(&bars, &view.left.ticks, Workbench::edges()))) figcaption { "Both on one rule. What they share, such as the same cup, drops out of the difference." } }
        }
        div .pair {
            @for (name, one) in [("The first", &view.left), ("The second", &view.right)] {
                article .card {
                    h2 { (name) }
                    p .what { (one.sentence) }
                    (card::read_back(one))
                    @if let Some(section) = &one.section { figure .picture { (PreEscaped(show::section_picture(section))) } }
                    @if one.report.film.pvc.value.is_some() { dl .short { @for row in &one.figures { dt { (row.name) } dd { (row.value) } } } }
                }
            }
        }
        @if let Some(address) = show::bend_address(&view.left, &view.right) { p { a href=(address) { "Which cylinder parts these two?" } } }
        (boxes(token, &view.left.told, &view.right.told))
    }
}

fn boxes(token: &str, left: &str, right: &str) -> Markup {
    html! {
        form .tell method="post" action="/beside" {
            input type="hidden" name="token" value=(token);
            div .pair {
                div { label for="told" { "The first" } textarea #told name="told" rows="6" spellcheck="false" { (left) } }
                div { label for="told-2" { "The second" } textarea #told-2 name="told-2" rows="6" spellcheck="false" { (right) } }
            }
            button .main type="submit" { "Put them beside each other" }
            button .quiet type="submit" formaction="/window" { "How thick may each be?" }
            div .row {
                button .quiet type="submit" formaction="/wish" { "Wish for another like the first" }
                button .quiet type="submit" formaction="/enlarge" { "Make the first for real panels" }
            }
        }
    }
}
