//! A board failed. Why?

use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use show::{CauseView, CausesView, MovedView, TapView};
use workbench::{FailedRequest, Workbench};

use super::photos;
use crate::form::{Fields, Sent};
use crate::layout::{Place, bare};
use crate::room::Room;

const TITLE: &str = "A board failed. Why?";

pub(crate) async fn empty(room: Room) -> Response {
    answer(&room, &FailedRequest::default()).await
}

pub(crate) async fn page(room: Room, sent: Sent) -> Response {
    match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => {
            let request = room.ask(|bench| room.failed(&fields, bench)).await;
            answer(&room, &request).await
        }
        Err(refusal) => refusal,
    }
}

async fn answer(room: &Room, request: &FailedRequest) -> Response {
    let asked = room
        .ask(|bench| {
            bench.failed(request).map(|view| {
                body(
                    bench,
                    &room.hidden(),
                    &photos::drop_anywhere(room, "A photo answers some of these: drop it on this page, or choose it"),
                    request,
                    &view,
                )
            })
        })
        .await;
    match asked {
        Ok(body) => room.page(Place::Failed, TITLE, &body).into_response(),
        Err(why) => (StatusCode::UNPROCESSABLE_ENTITY, bare("That does not fit", &why.to_string())).into_response(),
    }
}

/// The questions, with what the taps say so far.
pub(crate) fn body(bench: &Workbench, hidden: &Markup, photo: &Markup, request: &FailedRequest, view: &CausesView) -> Markup {
    html! {
        h1 .ask { (TITLE) }
        div #verdict .live aria-live="polite" { (told(request, view)) }
        (photo)
        form .tell method="post" action="/failed" data-live="/failed/live" {
            (hidden)
            div .taps { @for tap in &view.taps { (ask(tap)) } }
            button .main type="submit" { "What was it?" }
            @if !request.taps.is_empty() {
                details .keep {
                    summary { "Keep it in the notebook" }
                    label { "What do you call this board?" input type="text" name="name" maxlength="200" placeholder="panel 3, north wall"; }
                    button type="submit" formaction="/failed/keep" { "Keep this board" }
                }
            }
            details open[!request.told.is_empty() || request.support.is_some() || request.dry_um.is_some() || !request.facts.is_empty()] {
                summary { "What else is known: recipe, board, thickness" }
                label for="told" { "The recipe, if there is one" }
                textarea #told name="told" rows="4" spellcheck="false" { (request.told) }
                div .row {
                    label { "On what board"
                        select name="support" {
                            option value="" { "not said" }
                            @for (id, name) in bench.supports() { option value=(id) selected[request.support.as_deref() == Some(id.as_str())] { (name) } }
                        }
                    }
                    label { "Dry thickness, µm" input type="text" inputmode="decimal" name="dry" value=[request.dry_um.map(|dry| dry.to_string())] placeholder="a postcard is 250"; }
                    label { "Coats" input type="text" inputmode="numeric" name="coats" value=[request.coats.map(|coats| coats.to_string())]; }
                }
                fieldset .question {
                    legend { "And this, where it is so" }
                    @for (fact, words) in bench.asked_facts() {
                        label .choice { input type="checkbox" name="fact" value=(fact) checked[request.facts.contains(&fact)]; span { (words) } }
                    }
                }
            }
        }
        details {
            summary { "All causes in the book" }
            dl { @for [name, sight, mend] in bench.book_of_causes() { dt { (name) } dd { (sight) " First mend: " (mend) } } }
        }
        p .second { "Sizes behind this are nearly all judgement; boards beside a control would correct them. Nothing here is a finding." }
    }
}

/// What the taps say so far.
fn told(request: &FailedRequest, view: &CausesView) -> Markup {
    if request.taps.is_empty() {
        return html! { p .lead { "Tap what you saw; every tap may be skipped." } };
    }
    html! {
        p .sentence data-next=[view.report.next_tap.as_deref()] { (view.sentence) }
        p .second { (view.more) }
        @if !view.next.is_empty() { div .advice { section { h2 { @if view.report.verdict == "told" { "To be surer" } @else { "What would tell" } } p .what { (view.next) } } } }
        @if !view.mend.is_empty() { p .lead { (view.mend) } }
        @if view.report.verdict != "ask more" { (causes(view)) }
        @for warning in &view.report.warnings { p .second { (warning.text) } }
        @if !view.facts.is_empty() {
            details { summary { "Taken from recipe, board and thickness" } ul { @for fact in &view.facts { li { (fact) } } } }
        }
        @for caution in &view.report.cautions { p .caution { strong { (caution.material) ". " } (caution.text) span .source { (caution.source) } } }
    }
}

/// The same while tapping.
pub(crate) async fn live(room: Room, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let request = room.ask(|bench| room.failed(&fields, bench)).await;
    match room.ask(|bench| bench.failed(&request)).await {
        Ok(view) => told(&request, &view).into_response(),
        Err(why) => html! { p .lead { (why) } }.into_response(),
    }
}

fn ask(tap: &TapView) -> Markup {
    html! {
        fieldset .question .next[tap.next] data-key=(tap.key) {
            legend { (tap.ask) span .second .tells { "this tells most" } }
            @for answer in &tap.answers {
                label .choice { input type="radio" name={ "tap." (tap.key) } value=(answer) checked[tap.given.as_deref() == Some(answer)]; span { (answer) } }
            }
            label .choice { input type="radio" name={ "tap." (tap.key) } value="" checked[tap.given.is_none()]; span { "skip" } }
        }
    }
}

fn causes(view: &CausesView) -> Markup {
    let (fitting, rest): (Vec<_>, Vec<_>) = view.report.causes.iter().partition(|cause| cause.fit != "fits badly");
    html! {
        section {
            h2 { "Causes, in order" }
            @for cause in fitting { (one(cause, true)) }
            details { summary { "What fits badly" } @for cause in rest { (one(cause, false)) } }
        }
    }
}

fn one(cause: &CauseView, open: bool) -> Markup {
    let (speaks_for, against): (Vec<&MovedView>, Vec<&MovedView>) = cause.moved.iter().partition(|moved| moved.factor > 1.0);
    html! {
        details .cause open[open] {
            summary { strong { (cause.name) } " " span .fit { (cause.fit) } }
            p { (cause.sight) }
            @for (words, list) in [("speaks for it", speaks_for), ("speaks against it", against)] {
                @if !list.is_empty() {
                    h3 { (words) }
                    ul { @for moved in list { li { @if !moved.ask.is_empty() { (moved.ask) " " } strong { (moved.answer) } ": " (moved.reason) span .source { (moved.source) } } } }
                }
            }
            p { "First mend to try: " (cause.mend) }
        }
    }
}
