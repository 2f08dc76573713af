//! The road of one trial: question, plan, boards, answer, paper.

use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use show::{BoardLine, PlanCheck, PotView, RoadView, path_part};

use super::kept::refused;
use super::notebook::take_back;
use crate::form::{Fields, Path, Sent};
use crate::layout::Place;
use crate::room::Room;

pub(crate) async fn page(room: Room, Path(subject): Path<String>) -> Response {
    match room.look(|bench, state| bench.road(state, &subject, Room::now())).await {
        Ok(view) => room.page(Place::Trials, &view.question, &body(&room, &view)).into_response(),
        Err(why) => refused(&room, &why),
    }
}

fn body(room: &Room, view: &RoadView) -> Markup {
    html! {
        p .lead { (view.question) }
        h1 .sentence { @if view.fixed.is_some() { a href=(view.next_at) { (view.next) } } @else { (view.next) } }
        (steps(view))
        section {
            h2 { "The question" }
            p { "What counts as better was fixed on " (view.better_fixed) ": " strong { (view.better) } "." }
            @if !view.support.is_empty() { p { "Boards: " (view.support) "." } }
            @if !view.kept_same.is_empty() { p { "Stays the same: " (view.kept_same) "." } }
            @if !view.method.is_empty() { p { (view.method) } }
        }
        section #plan {
            h2 { "The plan" }
            @if let Some(check) = &view.check { (said(check)) } @else { p { "This plan was drawn by an older version of the program and can't be checked again." } }
            p .second { "Order drawn with the seed " (view.seed) @if let Some(day) = &view.fixed { "; closed on " (day) } "." }
            (recipes(room, view))
            @if view.fixed.is_none() {
                form method="post" action={ "/trials/" (view.subject) "/fix" } { (room.hidden()) button .main type="submit" { "Close the plan" } }
                p .second { "Closing it gives every board its id. Afterwards it is only added to." }
                p { a href={ "/trials/new?kind=" (view.kind) "&again=" (view.subject) } { "Ask it anew, with other boards" } }
                (take_back(room, view.from, "Take the question back"))
            }
        }
        section #boards {
            h2 { "The boards" }
            (boards(&view.boards))
            @if view.fixed.is_some() {
                @let days = days(&view.boards);
                p { @for day in &days { a .button href={ "/trials/" (view.subject) "/day/" (day) } { "Day " (day) ": what when?" } } }
                p { a href={ "/trials/" (view.subject) "/sheets.pdf" } { "Labels and sheets to print (PDF)" } }
            }
        }
        @if !view.pots.is_empty() { section #pots { h2 { "The pots, as truly weighed" } p { a href="/walk" { "I have never done this: show me a day" } } @for pot in &view.pots { (one_pot(room, &view.subject, pot)) } } }
        @if !view.looks.is_empty() {
            section {
                h2 { "When to look again" }
                ul { @for (day, after) in view.looks.iter().take(6) { li { (day) ", " (after) " after the last coat" } } }
                p { a href={ "/trials/" (view.subject) "/looks.ics" } { "Put these days into a calendar" } }
            }
        }
    }
}

/// Days of the plan, each once.
fn days(boards: &[BoardLine]) -> Vec<u32> {
    let mut days: Vec<u32> = boards.iter().map(|board| board.day).collect();
    days.sort_unstable();
    days.dedup();
    days
}

/// The way from question to paper.
fn steps(view: &RoadView) -> Markup {
    let at = |page: &str| format!("/trials/{}{page}", view.subject);
    html! {
        nav .road aria-label="This trial" {
            ol {
                li { a href="#plan" { "Plan" } }
                li { a href="#boards" { "Boards" } }
                @if view.fixed.is_some() {
                    li { a href=(at("/lay")) { "Lay coats" } }
                    li { a href=(at("/read")) { "Read blind" } }
                    li { a href=(at("/answer")) { "Answer" } }
                    li { a href=(at("/paper")) { "Paper" } }
                }
            }
        }
    }
}

fn said(check: &PlanCheck) -> Markup {
    html! {
        @for tangle in &check.tangles { div .mind .tangle { h3 { "Could be tangled" } p .what { (tangle.text) } } }
        @if check.tangles.is_empty() { p .what { "Nothing is tangled." } }
        @if !check.can.is_empty() { h3 { "What these boards can answer" } ul { @for one in &check.can { li { (one) } } } }
        @if !check.cannot.is_empty() { h3 { "What they can't" } ul { @for one in &check.cannot { li { (one) } } } }
        @for note in &check.notes { p .second { (note) } }
        @if check.spares > 0 { p { "Cut " (check.spares) " more for accidents." } }
    }
}

fn recipes(room: &Room, view: &RoadView) -> Markup {
    html! {
        details open[view.fixed.is_none() || view.recipes.iter().any(|recipe| recipe.told.is_empty())] {
            summary { "What goes into each recipe" }
            form method="post" action={ "/trials/" (view.subject) "/recipes" } {
                (room.hidden())
                input type="hidden" name="from" value=(view.from);
                @for recipe in &view.recipes {
                    label { (recipe.name) textarea name={ "recipe." (recipe.name) } rows="2" placeholder="15 g rabbit skin glue, 210 g water, 300 g chalk" { (recipe.told) } }
                    @if !recipe.said.is_empty() { p .second { (recipe.said) } }
                    @if !recipe.struck.is_empty() { p .due { "Not understood: " @for words in &recipe.struck { "\u{201c}" (words) "\u{201d} " } "Say it in other words before the plan is closed." } }
                }
                button type="submit" { "Write the recipes down" }
            }
        }
    }
}

fn boards(rows: &[BoardLine]) -> Markup {
    html! {
        div .wide tabindex="0" role="region" aria-label="Boards" {
            table .pot {
                thead { tr { th scope="col" { "board" } th scope="col" { "day" } th scope="col" { "turn" } th scope="col" { "pot" } th scope="col" { "what it carries" } th scope="col" { "how far" } } }
                tbody {
                    @for row in rows {
                        tr {
                            th scope="row" { @if row.id.is_empty() { (row.number) } @else { a href={ "/board/" (row.id) } { (row.number) } span .source { (row.id) } } }
                            td { (row.day) @if !row.sheet.is_empty() { ", sheet " (row.sheet) } }
                            td { (row.order) }
                            td { (row.pot) }
                            td { (row.recipe) @if row.job != "a recipe under trial" { span .source { (row.job) } } @if !row.strips.is_empty() { span .source { "strips with " (list(&row.strips)) " coats" } } }
                            td { (row.stands) }
                        }
                    }
                }
            }
        }
    }
}

pub(crate) fn list(numbers: &[u8]) -> String {
    numbers.iter().map(u8::to_string).collect::<Vec<_>>().join(", ")
}

fn one_pot(room: &Room, trial: &str, pot: &PotView) -> Markup {
    let told = if pot.weighed.is_empty() { &pot.planned } else { &pot.weighed };
    html! {
        details {
            summary { "Pot " (pot.letter) ", day " (pot.day) ": " (pot.recipe) ", " (pot.boards) @if pot.boards == 1 { " board" } @else { " boards" } @if pot.as_planned { " · as planned, said by a tap; not weighed" } @else if pot.weighed.is_empty() { " · not weighed yet" } @else { " · weighed" } }
            @if !pot.said.is_empty() { p { (pot.said) } }
            p { a .button href={ "/trials/" (trial) "/pot/" (path_part(&pot.letter)) } { "Pot " (pot.letter) ": how is it?" } }
            form method="post" action={ "/trials/" (trial) "/pot" } {
                (room.hidden())
                input type="hidden" name="letter" value=(pot.letter);
                input type="hidden" name="from" value=(pot.from);
                label { "What truly went in" textarea name="told" rows="3" placeholder="15.1 g rabbit skin glue, 208 g water, 302 g chalk" { (told) } }
                label { "Lumps, foam, smell, any remark" input type="text" name="note" value=(pot.note); }
                button type="submit" { "That went in" }
            }
        }
    }
}

pub(crate) async fn recipes_told(room: Room, Path(subject): Path<String>, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let recipes = fields.under("recipe.");
    let from = fields.entry("from");
    match room.write(&fields, |bench, studio, stamp| bench.tell_recipes(studio, (&subject, from), &recipes, stamp)).await {
        Ok(()) => Redirect::to(&format!("/trials/{subject}")).into_response(),
        Err(why) => refused(&room, &why),
    }
}

pub(crate) async fn fix(room: Room, Path(subject): Path<String>, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    match room.write(&fields, |bench, studio, stamp| bench.fix_plan(studio, &subject, stamp)).await {
        Ok(()) => Redirect::to(&format!("/trials/{subject}")).into_response(),
        Err(why) => refused(&room, &why),
    }
}

pub(crate) async fn pot(room: Room, Path(subject): Path<String>, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let told = fields.get("told").replace("\r\n", "\n");
    let (letter, note, from) = (fields.get("letter"), fields.get("note"), fields.entry("from"));
    match room.write(&fields, |bench, studio, stamp| bench.mix_pot(studio, (&subject, letter), &told, note, from, stamp)).await {
        Ok(()) => Redirect::to(&format!("/trials/{subject}#pots")).into_response(),
        Err(why) => refused(&room, &why),
    }
}
