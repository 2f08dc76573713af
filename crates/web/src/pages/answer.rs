//! What the boards say.

use axum::response::{IntoResponse, Response};
use maud::{Markup, PreEscaped, html};
use show::{AnsweredMeasure, TrialAnswerView};

use super::kept::refused;
use crate::form::Path;
use crate::layout::Place;
use crate::room::Room;

pub(crate) async fn page(room: Room, Path(trial): Path<String>) -> Response {
    match room.look(|bench, state| bench.trial_answer(state, &trial)).await {
        Ok(view) => room.page(Place::Trials, "What the boards say", &body(&view)).into_response(),
        Err(why) => refused(&room, &why),
    }
}

fn body(view: &TrialAnswerView) -> Markup {
    html! {
        p .lead { a href={ "/trials/" (view.subject) } { (view.question) } }
        @match view.measures.first() {
            Some(first) => (lead(first)),
            None => h1 .sentence { (view.next) },
        }
        @if !view.measures.is_empty() {
            section .advice { section { h2 { "Next" } p .what { (view.next) } @if !view.why.is_empty() { p .second { (view.why) } } } }
        }
        @for lost in &view.lost { p { (lost) } }
        @if !view.notes.is_empty() { ul { @for note in &view.notes { li { (note) } } } }
        @for measure in view.measures.iter().skip(1) { section { h2 { (show::capital(&measure.title)) } (one(measure)) } }
        @if !view.cannot.is_empty() { details { summary { "What the plan could not answer from the start" } ul { @for one in &view.cannot { li { (one) } } } } }
        p .rests { strong { "What it rests on. " } (view.fixed) ": " (view.better) ". " (view.ages) }
    }
}

/// The measure that was to decide: its sentence is the headline.
fn lead(measure: &AnsweredMeasure) -> Markup {
    html! {
        p .second { (show::capital(&measure.title)) }
        h1 .sentence { (measure.headline) }
        (rest(measure))
    }
}

fn one(measure: &AnsweredMeasure) -> Markup {
    html! { p .what { (measure.headline) } (rest(measure)) }
}

fn rest(measure: &AnsweredMeasure) -> Markup {
    html! {
        @for tangle in &measure.tangles { div .mind .tangle { p .what { (tangle) } } }
        p { (measure.counted) }
        @if !measure.picture.is_empty() { figure .picture .boards { (PreEscaped(&measure.picture)) } }
        @for line in &measure.more { p { (line) } }
        @if !measure.numbers.is_empty() {
            details { summary { "Show the numbers" } dl .short { @for (name, value) in &measure.numbers { dt { (name) } dd { (value) } } } }
        }
    }
}
