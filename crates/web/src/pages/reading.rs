//! Reading boards without knowing which is which, and the scales.

use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use serde::Deserialize;
use show::{ReadingSheet, ScaleView};
use workbench::TypedReading;

use super::kept::refused;
use crate::form::{Fields, Path, Query, Sent};
use crate::layout::Place;
use crate::room::Room;

/// Scale and person, in the address.
#[derive(Debug, Default, Deserialize)]
pub(crate) struct Asked {
    #[serde(default)]
    measure: String,
    #[serde(default)]
    rater: String,
}

pub(crate) async fn page(room: Room, Path(trial): Path<String>, Query(asked): Query<Asked>) -> Response {
    let found = room
        .look(|bench, state| {
            bench.reading_sheet(state, &trial, &asked.measure, &asked.rater, Room::now()).map(|sheet| (sheet, bench.scale_views(state)))
        })
        .await;
    match found {
        Ok((sheet, scales)) => room.page(Place::Trials, "Look at the boards", &body(&room, &sheet, &scales)).into_response(),
        Err(why) => refused(&room, &why),
    }
}

fn body(room: &Room, sheet: &ReadingSheet, scales: &[ScaleView]) -> Markup {
    html! {
        p .lead { (sheet.question) }
        @match &sheet.board {
            None => {
                h1 .sentence { "All " (sheet.all) " boards are read today on this scale." }
                p { a href={ "/trials/" (sheet.trial) "/answer" } { "Read the answer" } }
            }
            Some(board) => {
                h1 .sentence { "Board " (board) ": " (sheet.scale.question) }
                p .second { (sheet.left) " of " (sheet.all) " to go, in a shuffled order. The recipe is hidden here; don't look at the plan. Blind code " (sheet.code) "." }
                p { (sheet.scale.how) @if sheet.scale.spoils { " " strong { "This spoils the place: do it last." } } }
                (reading_form(room, sheet, board))
            }
        }
        details open[sheet.rater.is_empty()] {
            summary { @if sheet.rater.is_empty() { "Who looks, and at what" } @else { "Another scale, another person" } }
            form method="get" action={ "/trials/" (sheet.trial) "/read" } {
                div .row {
                    label { "What is read" select name="measure" { @for scale in scales { option value=(scale.id) selected[scale.id == sheet.scale.id] { (scale.name) } } } }
                    label { "Who looks" input type="text" name="rater" value=(sheet.rater) placeholder="initials"; }
                }
                button type="submit" { "Go on with that" }
            }
        }
        details {
            summary { "Codes to hide ids behind, for somebody else to read" }
            p .second { "Stick the code over the id. The order is shuffled." }
            dl .short { @for (code, board) in &sheet.codes { dt { (code) } dd { (board) } } }
        }
        @if !sheet.scale.source.is_empty() { p .second { "Scale: " (sheet.scale.name) ", " (sheet.scale.source) ". " (sheet.scale.scope) } }
    }
}

fn reading_form(room: &Room, sheet: &ReadingSheet, board: &str) -> Markup {
    let scale = &sheet.scale;
    html! {
        form .tell method="post" action={ "/trials/" (sheet.trial) "/read" } {
            (room.hidden())
            input type="hidden" name="board" value=(board);
            input type="hidden" name="measure" value=(scale.id);
            input type="hidden" name="rater" value=(sheet.rater);
            @if scale.id == "first_cracked_strip" {
                fieldset .question {
                    legend { "The first strip that cracked, by its coats" }
                    @for strip in sorted(&sheet.strips) { label .choice { input type="radio" name="value" value=(strip) required; span { (strip) " coats" } } }
                    label .choice { input type="radio" name="value" value="none" required; span { "none cracked" } }
                }
            } @else if scale.id == "bend" {
                fieldset .question {
                    legend { "Round which cylinder, measured in millimetres" }
                    div .grid {
                        label { "The sheet is thick" input type="text" inputmode="decimal" name="sheet" placeholder="0.3"; }
                        label { "The dry coat is thick" input type="text" inputmode="decimal" name="coat" placeholder="0.1"; }
                        label { "The tightest that it survived" input type="text" inputmode="decimal" name="held" placeholder="250"; }
                        label { "The widest that cracked it" input type="text" inputmode="decimal" name="cracked" placeholder="100"; }
                    }
                    p .second { "Bottles, pipes, buckets. The stretch in per cent is worked out from these four." }
                }
            } @else if scale.yes_no {
                fieldset .question {
                    legend { (scale.question) }
                    label .choice { input type="radio" name="value" value="yes" required; span { "yes" } }
                    label .choice { input type="radio" name="value" value="no" required; span { "no" } }
                }
            } @else if scale.classes.is_empty() {
                label { "What you see" @if !scale.unit.is_empty() { ", " (scale.unit) } input type="text" name="value" required placeholder="45, over 600, between 3 and 7"; }
            } @else {
                fieldset .question {
                    legend { (scale.question) }
                    @for class in &scale.classes { label .choice { input type="radio" name="value" value=(class.value) required; span { strong { (class.value) } " " (class.look) } } }
                }
            }
            @if !sheet.strips.is_empty() && scale.id != "first_cracked_strip" { label { "Strip, by its coats; empty for the whole board" input type="text" inputmode="numeric" name="strip" value=[sheet.strip.map(|strip| strip.to_string())]; } }
            label .choice { input type="checkbox" name="known" value="yes"; span { "I know what is on this board" } }
            label { "Remark" input type="text" name="note"; }
            details { summary { "Read earlier than now" } label { "When" input type="datetime-local" name="when"; } }
            button .main type="submit" { "That is what I see" }
        }
    }
}

fn sorted(strips: &[u8]) -> Vec<u8> {
    let mut strips = strips.to_vec();
    strips.sort_unstable();
    strips
}

pub(crate) async fn keep(room: Room, Path(trial): Path<String>, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let get = |name: &str| fields.get(name).to_owned();
    let typed = TypedReading {
        board: get("board"),
        strip: get("strip"),
        measure: get("measure"),
        value: get("value"),
        rater: get("rater"),
        blind: fields.get("known") != "yes",
        photo: None,
        note: get("note"),
        when: get("when"),
        bent: ["sheet", "coat", "held", "cracked"].map(get),
    };
    match room.write(&fields, |bench, studio, stamp| bench.read_board(studio, &typed, stamp)).await {
        Ok(()) => {
            let query = crate::form::query(&[("measure", &typed.measure), ("rater", &typed.rater)]);
            Redirect::to(&format!("/trials/{trial}/read?{query}")).into_response()
        }
        Err(why) => refused(&room, &why),
    }
}

pub(crate) async fn scales(room: Room) -> Markup {
    let scales = room.look(workbench::Workbench::scale_views).await;
    let title = "How are boards read?";
    let body = html! {
        h1 .ask { (title) }
        p .lead { "Numbers beside words, so that two people mean the same. What spoils the place comes last." }
        @for scale in &scales {
            details .book {
                summary { (scale.name) }
                p .what { (scale.question) }
                p { (scale.how) }
                @if !scale.scope.is_empty() { p .second { (scale.scope) } }
                @if !scale.classes.is_empty() { dl .short { @for class in &scale.classes { dt { (class.value) } dd { (class.look) } } } }
                p .second { (scale.source) }
            }
        }
        details {
            summary { "Make a scale of your own" }
            form method="post" action="/scales" {
                (room.hidden())
                label { "Its name" input type="text" name="name" placeholder="tooth under silverpoint"; }
                label { "Which is better" select name="better" { option value="smaller" { "less of it" } option value="larger" { "more of it" } } }
                @for class in 0..6 { label { "What " (class) " looks like" input type="text" name={ "look" (class) }; } }
                button type="submit" { "Make the scale" }
            }
        }
    };
    room.page(Place::Trials, title, &body)
}

pub(crate) async fn make_scale(room: Room, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let looks = ["look0", "look1", "look2", "look3", "look4", "look5"].map(|name| fields.get(name));
    match room.write(&fields, |bench, studio, stamp| bench.make_scale(studio, fields.get("name"), fields.get("better"), looks, stamp)).await
    {
        Ok(()) => Redirect::to("/scales").into_response(),
        Err(why) => refused(&room, &why),
    }
}
