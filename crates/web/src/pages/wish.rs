//! What I wish for: back from the wish to the spoon.

use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::{Markup, PreEscaped, html};
use show::{Bar, WishView, rule_picture};
use workbench::{WishForm, Workbench};

use super::card;
use crate::form::{Fields, Sent};
use crate::layout::Place;
use crate::room::Room;

const TITLE: &str = "What I wish for";

pub(crate) async fn empty(room: Room) -> Markup {
    let shelf = room.look(Workbench::shelf_told).await;
    let form = WishForm { usual: true, shelf, ..WishForm::default() };
    let body = html! {
        h1 .ask { (TITLE) }
        p .lead { "Say what it is to be like and what you wish otherwise. The amounts are worked back, and the same verdict as everywhere judges them." }
        (fields(&room, &form))
    };
    room.page(Place::Wish, TITLE, &body)
}

pub(crate) async fn page(room: Room, sent: Sent) -> Response {
    let sent = match Fields::from_sent(sent, &room.token()) {
        Ok(sent) => sent,
        Err(refusal) => return refusal,
    };
    let told = sent.wish();
    // From a card or from two recipes beside each other only the recipe comes along: the wish is still to be said.
    if sent.get("asked").is_empty() {
        let shelf = room.look(Workbench::shelf_told).await;
        let form = WishForm { usual: true, shelf, like: told.like, ..WishForm::default() };
        let body = html! { h1 .ask { "What do you wish otherwise?" } (fields(&room, &form)) };
        return room.page(Place::Wish, TITLE, &body).into_response();
    }
    let form = room.look(|bench, state| WishForm { own: bench.own_values_for(state, &told.like), ..told }).await;
    match room.ask(|bench| bench.wish(&form)).await {
        Ok(view) => room.page(Place::Wish, TITLE, &answer(&room, &view, &form)).into_response(),
        Err(why) => {
            let body = html! { h1 .sentence { "One thing first" } p .lead role="alert" { (show::capital(&why.to_string())) } (fields(&room, &form)) };
            (StatusCode::UNPROCESSABLE_ENTITY, room.page(Place::Wish, TITLE, &body)).into_response()
        }
    }
}

fn answer(room: &Room, view: &WishView, form: &WishForm) -> Markup {
    let report = &view.report;
    let bars: Vec<(String, Bar)> = [("before", view.bar_before), ("wished", view.card.bar)]
        .into_iter()
        .filter_map(|(name, bar)| bar.map(|bar| (name.to_owned(), bar)))
        .collect();
    html! {
        h1 #sentence .sentence { (view.sentence) }
        p .lead #wish-verdict { (view.verdict) }
        @if !report.why_not.is_empty() {
            section { h2 { "Why it can't be reached" } @for why in &report.why_not { p { (show::capital(why.trim_end_matches('.'))) "." } } }
        }
        @if !bars.is_empty() {
            figure .picture { (PreEscaped(rule_picture(&bars, &view.card.ticks, Workbench::edges()))) figcaption { "Where it stands among the handbook grounds. Hatching is doubt." } }
        }
        @let spoons = !report.recipe_in_spoons.is_empty();
        @let before = report.lines.iter().any(|line| !line.before.is_empty());
        table .pot {
            caption { "What goes into the pot" }
            thead { tr { th scope="col" { "what" } th scope="col" { "grams" } @if before { th scope="col" { "before, in as large a pot" } } @if spoons { th scope="col" { "in level cups and spoons" } } } }
            tbody {
                @for line in &report.lines {
                    tr {
                        th scope="row" { a href={ "/jars/" (line.material) } { (line.name) } }
                        td { (line.weigh) }
                        @if before { td { @if line.before.is_empty() { "none" } @else { (line.before) } } }
                        @if spoons { td { (line.in_spoons) } }
                    }
                }
            }
        }
        form method="post" action="/enlarge" {
            (room.hidden())
            input type="hidden" name="told" value=(report.recipe);
            div .row {
                button .main type="submit" { "Make it for real panels" }
                button .quiet type="submit" formaction="/recipe" { "See this ground as a card" }
            }
        }
        section {
            h2 { "What was changed, and what rounding does" }
            @for said in report.changed.iter().chain(&report.rounding.words) { p { (said) } }
            @for warning in &report.warnings { p .second { (warning.text) } }
        }
        section {
            h2 { "To paste into any other box" }
            label for="recipe" { "In grams" }
            textarea #recipe rows=(report.recipe.lines().count().max(3)) readonly spellcheck="false" { (report.recipe) }
            @if spoons {
                label for="recipe-spoons" { "In level cups and spoons" }
                textarea #recipe-spoons rows=(report.recipe_in_spoons.lines().count().max(3)) readonly spellcheck="false" { (report.recipe_in_spoons) }
            }
        }
        (card::mind(&view.card.mind))
        p .rests { strong { "What it rests on. " } (view.card.rests_on) }
        section { h2 { "Wish for another" } (fields(room, form)) }
    }
}

fn fields(room: &Room, form: &WishForm) -> Markup {
    html! {
        form .tell #wish method="post" action="/wish" {
            (room.hidden())
            input type="hidden" name="asked" value="yes";
            label for="told" { "Like this one" span .second { "may stay empty" } }
            textarea #told name="told" rows="5" spellcheck="false" { (form.like) }
            fieldset .question {
                legend { "I wish" }
                label .choice { input type="checkbox" name="usual" value="yes" checked[form.usual]; span { "that it is usual, and stays so however I spoon it" } }
                label .choice { input type="checkbox" name="half" value="yes" checked[form.half_binder]; span { "half of the binder, and still brushable" } }
            }
            div .grid {
                label { "With this powder" span .second { "the film stays the same" } input type="text" name="with" value=(form.with) placeholder="gypsum"; }
                label { "Without" input type="text" name="without" value=(form.without) placeholder="borax"; }
                label { "Grams in all" input type="text" inputmode="decimal" name="make" value=[form.make_g.map(show::plain)] placeholder="500"; }
                label { "Or area, m²" input type="text" inputmode="decimal" name="area" value=[form.area_m2.map(show::plain)]; }
                label { "and dry thickness, µm" input type="text" inputmode="decimal" name="dry" value=[form.dry_um.map(show::plain)]; }
                label { "My spoons" span .second { "us, metric, or cup/tablespoon/teaspoon in ml: 240/15/5" } input type="text" name="spoons" value=(form.spoons); }
                label { "Step of my scale, g" input type="text" inputmode="decimal" name="scale" value=[form.scale_g.map(show::plain)] placeholder="1"; }
            }
            label for="at-hand" { "What is at hand" span .second { "one a line, with or without an amount; empty for anything that the book knows" } }
            textarea #at-hand name="shelf" rows="4" spellcheck="false" { (form.shelf) }
            button .main type="submit" { "What do I take?" }
        }
    }
}
