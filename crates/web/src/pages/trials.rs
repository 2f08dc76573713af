//! My boards: the list of trials, and asking a new question.

use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use serde::Deserialize;
use show::{RoadView, ScaleView, TrialsView};
use workbench::TypedTrial;

use super::kept::refused;
use crate::form::{Fields, Query, Sent};
use crate::layout::Place;
use crate::room::Room;

const TITLE: &str = "What do my boards say?";

pub(crate) async fn list(room: Room) -> Markup {
    let view = room.look(|bench, state| bench.trials(state, Room::now())).await;
    room.page(Place::Trials, TITLE, &body(&view))
}

fn body(view: &TrialsView) -> Markup {
    html! {
        @if let Some(first) = view.rows.first() {
            p .second { (TITLE) }
            h1 .sentence { a href={ "/trials/" (first.subject) } { (first.next) } }
        } @else {
            h1 .ask { (TITLE) }
            p .lead { "Nothing yet: no board of yours was asked anything." }
        }
        p { a .button href="/trials/new" { "Ask boards a question" } }
        form .search method="get" action="/board" role="search" {
            label for="id" { "Find a board by its id" }
            div .row { input #id type="text" name="id" placeholder="GP-7K3M-Q2X" autocapitalize="characters"; button type="submit" { "Find" } }
        }
        ul .jars {
            @for row in &view.rows {
                li {
                    a href={ "/trials/" (row.subject) } { (row.question) }
                    p { (row.next) }
                    p .second { "Asked on " (row.on) " · " (row.boards) " boards" @if row.lost > 0 { ", " (row.lost) " lost" } " · " (row.readings) " readings" }
                }
            }
        }
        p { a href="/scales" { "How boards are read: the scales" } }
    }
}

/// Which road, in the address.
#[derive(Debug, Default, Deserialize)]
pub(crate) struct Which {
    #[serde(default)]
    kind: String,
    /// Trial that is asked anew, while its plan is open.
    #[serde(default)]
    again: String,
}

pub(crate) async fn new(room: Room, Query(which): Query<Which>) -> Markup {
    let title = "What do you want to find out?";
    if !matches!(which.kind.as_str(), "stair" | "two-by-two" | "own") {
        let body = html! {
            h1 .ask { (title) }
            ul .doors {
                li { a .door href="/trials/new?kind=stair" { strong { "How thick can I lay it?" } span { "Stair boards: one to five coats side by side on each board. Each board brackets its own limit." } } }
                li { a .door href="/trials/new?kind=two-by-two" { strong { "Is it the powder or the binder?" } span { "Two by two: two powders, two amounts of binder, the same wood, a known ground beside them in each sitting." } } }
                li { a .door href="/trials/new?kind=own" { strong { "Something else" } span { "Type your boards, or cross what you change. You are told before mixing if two things are tangled." } } }
            }
        };
        return room.page(Place::Trials, title, &body);
    }
    let scales = room.look(workbench::Workbench::scale_views).await;
    let again =
        if which.again.is_empty() { None } else { room.look(|bench, state| bench.road(state, &which.again, Room::now())).await.ok() };
    let body = html! {
        h1 .ask { (title) }
        (form(&room, &which.kind, &scales, again.as_ref()))
    };
    room.page(Place::Trials, title, &body)
}

fn form(room: &Room, kind: &str, scales: &[ScaleView], again: Option<&RoadView>) -> Markup {
    let (measure, way) = if kind == "stair" { ("first_cracked_strip", "larger") } else { ("cracking", "smaller") };
    html! {
        form .tell method="post" action="/trials" {
            (room.hidden())
            input type="hidden" name="kind" value=(kind);
            @if let Some(road) = again { input type="hidden" name="subject" value=(road.subject); input type="hidden" name="from" value=(road.from); }
            label for="question" { "The question, in one sentence" }
            textarea #question name="question" rows="2" placeholder=(match kind { "stair" => "How many coats can my chalk ground carry before it cracks?", "two-by-two" => "Is it the gypsum or the extra glue that cracks?", _ => "Does less binder stop the cracks?" }) { @if let Some(road) = again { (road.question) } }
            (changed(kind))
            fieldset .question {
                legend { "What counts as better, fixed now and not after the first look" }
                div .row {
                    label { "I read off the boards" select name="measure" { @for scale in scales { option value=(scale.id) selected[scale.id == measure] { (scale.name) } } } }
                    label { "and better is" select name="way" { option value="smaller" selected[way == "smaller"] { "less of it" } option value="larger" selected[way == "larger"] { "more of it" } } }
                }
            }
            fieldset .question {
                legend { "What stands beside them" }
                div .grid {
                    label { "A known ground as yardstick, on each day" span .second { "tells whether it is the recipe" } input type="text" name="yardstick" placeholder="glue and chalk, the usual"; }
                    label { "A bought primer as witness" span .second { "tells whether it is the wood, the air or the hand" } input type="text" name="witness" placeholder="bought primer"; }
                }
            }
            fieldset .question {
                legend { "The boards" }
                div .grid {
                    label { "Wood" input type="text" name="support" placeholder="birch plywood, 4 mm"; }
                    label { "Size" input type="text" name="size" placeholder="20 x 25 cm"; }
                    label { "Cut from how many sheets" input type="text" inputmode="numeric" name="sheets" placeholder="1"; }
                    @if kind != "stair" { label { "Coats on each" input type="text" inputmode="numeric" name="coats" placeholder="3"; } }
                }
            }
            details {
                summary { "What stays the same, and how it is done" }
                label { "What stays the same on all boards" textarea name="kept_same" rows="2" placeholder="one glue lot, size coat 5 %, same brush" {} }
                label { "Tool, waits, finish: what a stranger needs" textarea name="method" rows="2" placeholder="flat hog brush, each coat when the last is matt, no sanding" {} }
            }
            button .main type="submit" { "Draw the plan" }
        }
    }
}

fn changed(kind: &str) -> Markup {
    let text = |name: &str, words: &str, example: &str| html! { label { (words) input type="text" name=(name) placeholder=(example); } };
    let count =
        |name: &str, words: &str, usual: &str| html! { label { (words) input type="text" inputmode="numeric" name=(name) value=(usual); } };
    html! {
        fieldset .question {
            legend { "What I change" }
            @match kind {
                "stair" => {
                    div .grid { (text("recipe_a", "First recipe's name", "chalk ground")) (text("recipe_b", "Second recipe's name, if there are two", "")) }
                    div .row { (count("boards", "Boards of each", "3")) (count("pots", "Pots of each", "2")) (count("days", "Days or sittings", "2")) (count("strips", "Strips: coats on the thickest", "5")) }
                    p .second { "Three boards from two pots of each recipe are the fewest that say something. The board is what counts: five strips are not five trials." }
                }
                "two-by-two" => {
                    div .grid { (text("first_name", "The first thing", "powder")) (text("first_a", "is once", "chalk")) (text("first_b", "and once", "gypsum")) }
                    div .grid { (text("second_name", "The second thing", "binder")) (text("second_a", "is once", "little")) (text("second_b", "and once", "much")) }
                    div .row { (count("days", "Sittings", "2")) }
                    label .choice { input type="checkbox" name="stairs" value="yes"; span { "Every board is a stair of five strips" } }
                    p .second { "In each sitting all four recipes are mixed as small pots of their own, and each coats one board." }
                }
                _ => {
                    label for="grid" { "Either what you change, one a line; or a heading and one board a line" }
                    textarea #grid name="grid" rows="8" placeholder="powder: chalk, gypsum\nbinder: little, much\ncoats: 2, 4\n\nor\n\nday, pot, powder, binder\n1, A, chalk, much\n1, B, gypsum, little" {}
                    p .second { "Words that mean a place: day, pot, sheet, board, control (yardstick or witness). All others are what you change." }
                    div .row { (count("boards", "Boards in all, if crossed", "")) (count("days", "Days or sittings, if crossed", "1")) }
                }
            }
        }
    }
}

pub(crate) async fn ask(room: Room, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let get = |name: &str| fields.get(name).to_owned();
    let pick = |names: &[&str]| names.iter().map(|name| ((*name).to_owned(), get(name))).collect();
    let typed = TypedTrial {
        change: (get("subject"), fields.entry("from")),
        kind: get("kind"),
        question: get("question"),
        measure: get("measure"),
        way: get("way"),
        names: pick(&["recipe_a", "recipe_b", "first_name", "first_a", "first_b", "second_name", "second_a", "second_b"]),
        grid: get("grid"),
        counts: pick(&["days", "boards", "pots", "strips", "sheets", "coats"]),
        yardstick: get("yardstick"),
        witness: get("witness"),
        stairs: get("stairs") == "yes",
        support: get("support"),
        size: get("size"),
        kept_same: get("kept_same"),
        method: get("method"),
    };
    match room.write(&fields, |bench, studio, stamp| bench.ask_trial(studio, &typed, stamp)).await {
        Ok(subject) => Redirect::to(&format!("/trials/{subject}")).into_response(),
        Err(why) => refused(&room, &why),
    }
}
