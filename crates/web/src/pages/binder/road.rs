//! The road of one jar of binder: the next step first, its clock, what the scale and the paper say, how strong it is.

use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use show::{BinderAsk, BinderStepState, BinderStepView, BinderTimer, BinderView, path_part};
use workbench::{StudioError, TypedBinder, TypedBinderSeen, Workbench};

use super::list;
use crate::form::{Fields, Path, Sent};
use crate::layout::Place;
use crate::pages::card;
use crate::pages::kept::refused;
use crate::pages::notebook::take_back;
use crate::room::Room;

pub(crate) async fn page(room: Room, Path(id): Path<String>) -> Response {
    let found = room.look(|bench, state| bench.binder_view(state, &id, Room::now()).zip(Workbench::binder_typed(state, &id))).await;
    match found {
        Some((view, typed)) => room.page(Place::Binders, &view.title, &body(&room, &view, &typed)).into_response(),
        None => refused(&room, &StudioError::Missing("binder")),
    }
}

fn body(room: &Room, view: &BinderView, typed: &TypedBinder) -> Markup {
    let now = view.steps.iter().find(|step| step.state == BinderStepState::Now);
    let is_open = view.closed.is_empty();
    // The first sentence is the thing to do; what tells that it is done stands below it.
    let (first, rest) = view.next.split_once(". ").map_or((view.next.as_str(), ""), |(first, rest)| (first.trim_end_matches('.'), rest));
    html! {
        p .second { a href="/binders" { "My jars of binder" } " · " (view.title) ": " (view.what) }
        div #next {
            h1 .sentence { (first.trim_end_matches('.')) "." }
            @if !rest.is_empty() { p .lead { (rest) } }
        }
        @if let Some(timer) = &view.timer { (clock(timer)) }
        @if !view.then.is_empty() { p #then .lead { "Then: " (view.then) } }
        div .two {
            div {
                @if let Some(step) = now.filter(|_| is_open) { (step_now(room, view, step)) }
                (strength(view))
                section #keeps { h2 { "How long it keeps" } p .what { (view.keeping.text) } p .second { (view.keeping.reason) } }
                @if is_open { (measure_more(room, view)) }
                (measured(room, view))
            }
            div {
                (road(room, view))
                (into_recipe(room, view))
                @for note in &view.notes { p .second { (note) } }
                @if !view.lots.is_empty() { p .second { "From the shelf: " (view.lots.join("; ")) } }
                @if !view.note.is_empty() { p .second { (view.note) } }
            }
        }
        (card::figures(&view.figures))
        @if is_open {
            details { summary { "Change what was told" } (list::form(room, typed)) }
            details {
                summary { "It is used up, or goes into the bin" }
                form .one method="post" action={ "/binder/" (path_part(&view.id)) "/close" } {
                    (room.hidden())
                    input type="hidden" name="from" value=(view.from);
                    label { "Why is it closed?" input required type="text" name="why" value="used up" maxlength="200"; }
                    button type="submit" { "Close this jar" }
                }
            }
        } @else {
            p { (view.closed) }
            (take_back(room, view.from, "It is still in use: take the closing back"))
        }
    }
}

/// All three sentences stand in the page; the one that holds is shown, and the script turns them as the clock goes on.
fn clock(timer: &BinderTimer) -> Markup {
    let [first, last] = timer.turns;
    let (early, over) = (timer.now < first, timer.now >= last);
    html! {
        div .timer data-first=(first) data-last=(last) data-now=(timer.now) {
            p data-while="early" hidden[!early] { span .left aria-hidden="true" {} }
            p data-while="ready" hidden[early || over] { strong { (timer.ready) } }
            p data-while="over" hidden[!over] { strong { (timer.over) } }
        }
        script src="/assets/wait.js" type="module" {}
    }
}

fn step_now(room: &Room, view: &BinderView, step: &BinderStepView) -> Markup {
    html! {
        section #now {
            @if !step.caution.is_empty() { p .mind { strong { "Mind this. " } (step.caution) span .source { (step.caution_source) } } }
            @for ask in &step.measure { (ask_form(room, view, Some(step), ask)) }
            form .one method="post" action={ "/binder/" (path_part(&view.id)) "/step" } {
                (room.hidden())
                input type="hidden" name="step" value=(step.id);
                button .main .wide-button type="submit" { "Done" }
                details {
                    summary { "It was done earlier" }
                    label { "When" input type="datetime-local" name="when"; }
                }
            }
            p .source {
                (step.source)
                @if view.figures.iter().any(|row| row.key == step.figure) { " · " a href={ "#figure-" (step.figure) } { "What this amount rests on" } }
            }
        }
    }
}

/// One thing to measure, with one button.
fn ask_form(room: &Room, view: &BinderView, step: Option<&BinderStepView>, ask: &BinderAsk) -> Markup {
    let here = format!("/binder/{}/measure", path_part(&view.id));
    html! {
        form .one method="post" action=(here) {
            (room.hidden())
            input type="hidden" name="what" value=(ask.what);
            @if let Some(step) = step { input type="hidden" name="step" value=(step.id); }
            @match ask.what {
                "stands" => {
                    p .wide-line { (ask.label) }
                    button type="submit" name="value" value="fridge" { "In the fridge" }
                    button type="submit" name="value" value="room" { "In the room" }
                }
                _ => {
                    label { (ask.label) input required type="text" name="value" placeholder=(ask.example); }
                    @match ask.what {
                        "ph" => {
                            label { "The paper may be off by" input type="text" inputmode="decimal" name="slack" placeholder="0.3"; }
                            @if view.road == "curd" { label { "All acid that was in by then" span .second { "empty: all that was told" } input type="text" name="more" placeholder="80 ml vinegar"; } }
                        }
                        "taken" => { label { "What for" input type="text" name="more" placeholder="pot A"; } }
                        _ => {}
                    }
                    button type="submit" { "Write it down" }
                }
            }
        }
    }
}

fn measure_more(room: &Room, view: &BinderView) -> Markup {
    html! {
        details #more {
            summary { "Something else was measured, taken out, or put away" }
            @for ask in &view.asks { (ask_form(room, view, None, ask)) }
        }
    }
}

fn strength(view: &BinderView) -> Markup {
    html! {
        section #strength {
            h2 { "How strong is it?" }
            p .what { (view.strength.sentence) }
            @for line in &view.learned { p #learned { (line) } }
        }
    }
}

fn measured(room: &Room, view: &BinderView) -> Markup {
    html! {
        @if !view.measures.is_empty() {
            section #measured {
                h2 { "What was measured" }
                @for row in &view.measures {
                    div .own {
                        p { strong { (row.text) } " " span .source { (row.at) @if !row.note.is_empty() { " · " (row.note) } } }
                        (take_back(room, row.entry, "Take this back"))
                    }
                }
            }
        }
    }
}

fn road(room: &Room, view: &BinderView) -> Markup {
    html! {
        section #road {
            h2 { "The road" }
            ol .stations {
                @for (index, step) in view.steps.iter().enumerate() {
                    @let told_before = index.checked_sub(1).and_then(|before| view.steps.get(before)).is_some_and(|before| before.caution == step.caution);
                    @let (class, words) = match step.state {
                        BinderStepState::Done => ("done", "done"),
                        BinderStepState::Now => ("now", "now"),
                        BinderStepState::Later => ("later", "later"),
                    };
                    li class=(class) aria-current=[(class == "now").then_some("step")] {
                        p { strong .state { (words) } " " (step.sentence) }
                        @if let Some(wait) = &step.wait { p .second { "Then it stands " (wait.words) "." } }
                        @if !step.done_at.is_empty() { p .second { "Done " (step.done_at) } }
                        @if step.state == BinderStepState::Later && !step.caution.is_empty() && !told_before { p .second { "Mind this. " (step.caution) } }
                        @if let Some(entry) = step.entry { (take_back(room, entry, "Not done yet: take it back")) }
                    }
                }
            }
        }
    }
}

fn into_recipe(room: &Room, view: &BinderView) -> Markup {
    html! {
        section #recipe {
            h2 { "In a recipe" }
            p { "A recipe names it like this: " strong { (view.in_a_recipe) } ". Its water and its strength are then reckoned with." }
            form method="post" action="/recipe" {
                input type="hidden" name="token" value=(room.token());
                input type="hidden" name="told" value={ (view.in_a_recipe) ", 120 g chalk" };
                button type="submit" { "Try it with 120 g chalk" }
            }
            @if !view.used_in.is_empty() {
                h3 { "It went into" }
                ul { @for used in &view.used_in { li { a href=(used.address) { (used.name) } @if !used.grams.is_empty() { ": " (used.grams) } } } }
            }
        }
    }
}

/// Where the page goes on after something was written.
fn back(room: &Room, id: &str, written: Result<(), StudioError>) -> Response {
    match written {
        Ok(()) => Redirect::to(&format!("/binder/{}", path_part(id))).into_response(),
        Err(why) => refused(room, &why),
    }
}

pub(crate) async fn step(room: Room, Path(id): Path<String>, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let written =
        room.write(&fields, |bench, studio, stamp| bench.binder_step(studio, (&id, fields.get("step")), fields.get("when"), stamp)).await;
    back(&room, &id, written)
}

pub(crate) async fn measure(room: Room, Path(id): Path<String>, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let get = |name: &str| fields.get(name).to_owned();
    let typed = TypedBinderSeen {
        binder: id.clone(),
        step: get("step"),
        what: get("what"),
        value: get("value"),
        slack: get("slack"),
        more: get("more"),
        when: get("when"),
        note: get("note"),
    };
    let written = room.write(&fields, |bench, studio, stamp| bench.binder_measure(studio, &typed, stamp)).await;
    back(&room, &id, written)
}

pub(crate) async fn close(room: Room, Path(id): Path<String>, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let from = fields.entry("from");
    let written = room.write(&fields, |bench, studio, stamp| bench.close_binder(studio, (&id, from), fields.get("why"), stamp)).await;
    back(&room, &id, written)
}
