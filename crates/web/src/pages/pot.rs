//! One pot: how is it, what does it want, how is it saved.

use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, PreEscaped, html};
use serde::Deserialize;
use show::{PotPage, RescueView, path_part};
use workbench::{PotAsk, TypedPot};

use super::kept::refused;
use super::notebook::take_back;
use crate::form::{Fields, Path, Query, Sent};
use crate::layout::Place;
use crate::room::Room;

/// What is asked of the pot.
#[derive(Debug, Default, Deserialize)]
pub(crate) struct Asked {
    #[serde(default)]
    sight: String,
    #[serde(default)]
    wish: String,
    #[serde(default)]
    more: String,
    #[serde(default)]
    wide: String,
}

pub(crate) async fn page(room: Room, Path((subject, letter)): Path<(String, String)>, Query(asked): Query<Asked>) -> Response {
    let ask = PotAsk { sight: asked.sight, wish: asked.wish, more: asked.more, wide: asked.wide };
    match room.look(|bench, state| bench.pot_page(state, (&subject, &letter), &ask, Room::now())).await {
        Ok(view) => room.page(Place::Trials, &format!("Pot {}: how is it?", view.letter), &body(&room, &view)).into_response(),
        Err(why) => refused(&room, &why),
    }
}

fn address(subject: &str, letter: &str) -> String {
    format!("/trials/{subject}/pot/{}", path_part(letter))
}

fn body(room: &Room, view: &PotPage) -> Markup {
    html! {
        p .second { "Pot " (view.letter) ": how is it? · " (view.recipe) ", day " (view.day) ", " (view.boards) @if view.boards == 1 { " board" } @else { " boards" } " · " a href={ "/trials/" (view.subject) "#pots" } { (view.question) } }
        h1 .sentence { @if view.next_at.is_empty() { (view.next) } @else { a href=(view.next_at) { (view.next) } } }
        @if !view.why.is_empty() { p .lead { (view.why) } }
        div .two {
            div {
                (scale(room, view))
                (stands(view))
                (mend(room, view))
                p { a href="/even" { "Will the last board be like the first?" } }
            }
            div {
                (save(view))
                (went_in(view))
            }
        }
    }
}

/// One number and one button for each thing that the scale tells.
fn scale(room: &Room, view: &PotPage) -> Markup {
    let here = address(&view.subject, &view.letter);
    html! {
        section #scale {
            h2 { "The scale" }
            form .one method="post" action=(here) {
                (room.hidden())
                input type="hidden" name="what" value="pot";
                label { "The pot weighs, g" input type="text" inputmode="decimal" name="grams" placeholder="612.5"; }
                button .main type="submit" { "That is what it weighs" }
                details {
                    summary { "The empty pot, another time, a remark" }
                    div .grid {
                        label { "The empty pot with its brush, g (stays empty if taken off on the scale)" input type="text" inputmode="decimal" name="vessel" value=(view.vessel); }
                        label { "Weighed earlier than now" input type="datetime-local" name="when"; }
                        label { "Remark" input type="text" name="note"; }
                    }
                }
            }
            @if !view.masses.is_empty() { (water_form(room, &here, &view.add_g, "Water put in, g", "That went in")) }
            @if !view.lost.is_empty() {
                dl .short {
                    dt { "Water lost" } dd { (view.lost) }
                    dt { "Water to add" } dd { @if view.add.is_empty() { "none" } @else { strong { (view.add) } } }
                }
            }
            p { "Used so far: " (view.used) }
            @for line in &view.trust { p .second { (line) } }
            @if !view.masses.is_empty() {
                details {
                    summary { "What the scale said so far" }
                    @for row in &view.masses {
                        div .own {
                            p { strong { (row.grams) } " " (row.what) " " span .source { (row.at) @if !row.note.is_empty() { " · " (row.note) } } }
                            (take_back(room, row.entry, "Take this back"))
                        }
                    }
                }
            }
        }
    }
}

fn water_form(room: &Room, here: &str, grams: &str, label: &str, button: &str) -> Markup {
    html! {
        form .one method="post" action=(here) {
            (room.hidden())
            input type="hidden" name="what" value="water";
            label { (label) input type="text" inputmode="decimal" name="grams" value=(grams) placeholder="10"; }
            button type="submit" { (button) }
        }
    }
}

fn stands(view: &PotPage) -> Markup {
    html! {
        @if !view.stands.is_empty() || !view.beside.is_empty() {
            section {
                h2 { "How it stands" }
                @if !view.stands.is_empty() { p .what { (view.stands) } }
                @if !view.age.is_empty() { p { "It is " (view.age) } }
                @for line in &view.coat { p { (line) } }
                @if !view.beside.is_empty() {
                    h3 { "Coats beside their weight" }
                    ul { @for line in &view.beside { li { (line) } } }
                }
            }
        }
    }
}

/// Too thick or too thin: two questions, each with one number.
fn mend(room: &Room, view: &PotPage) -> Markup {
    let here = address(&view.subject, &view.letter);
    html! {
        section #mend {
            h2 { "Too thick, or too thin?" }
            @if let Some(mended) = &view.mended {
                div .live {
                    p .sentence { (mended.says) }
                    @for line in &mended.more { p { (line) } }
                    @if !mended.water_g.is_empty() { (water_form(room, &here, &mended.water_g, "Water put in, g", "That went in")) }
                }
            }
            form .one method="get" action={ (here) "#mend" } {
                label { "More water, in hundredths of the water in the pot (10 = a tenth more)" input required type="text" inputmode="decimal" name="more" value=(if view.asked.more.is_empty() { "10" } else { view.asked.more.as_str() }); }
                button type="submit" { "How much is that?" }
            }
            form .one method="get" action={ (here) "#mend" } {
                label { "How much of it should stay when dry, in hundredths" @if !view.share_now.is_empty() { " (now " (view.share_now) ")" } input required type="text" inputmode="decimal" name="wish" value=(view.asked.wish) placeholder="55"; }
                label { "The pot is so wide inside, cm" input type="text" inputmode="decimal" name="wide" value=(view.asked.wide); }
                button type="submit" { "What does that want?" }
            }
        }
    }
}

fn save(view: &PotPage) -> Markup {
    let here = address(&view.subject, &view.letter);
    html! {
        section #save {
            h2 { "Save this pot" }
            p .second { "Tap what you see." }
            ul .sights {
                @for (key, words) in &view.sights {
                    li { a .button href={ (here) "?sight=" (key) "#save" } aria-current=[(*key == view.sight).then_some("true")] { (words) } }
                }
            }
            @for rescue in &view.rescues { (one(rescue)) }
            p { "Another pot, not of these boards: " a href="/save" { "my pot is not right" } }
        }
    }
}

pub(crate) fn one(rescue: &RescueView) -> Markup {
    html! {
        div .own {
            @if !rescue.pots.is_empty() { p .second { "For " (rescue.pots) } }
            p { (rescue.why) }
            p .what { strong { "Do: " } (rescue.remedy) }
            p { strong { "Throw it away if: " } (rescue.away) }
            p { @if rescue.keeps { "The dry recipe stays what it was." } @else { "What was laid before and after is not the same ground: write it on the boards." } }
            @if !rescue.caution.is_empty() { p .mind { strong { "Mind this. " } (rescue.caution) } }
            p .source { (rescue.source) }
        }
    }
}

fn went_in(view: &PotPage) -> Markup {
    html! {
        section {
            h2 { "What is in it" }
            @if view.as_planned { p .due { "As planned, said by a tap; not weighed." } }
            @if !view.jar.is_empty() { p { a .line href=(view.jar_at) { (view.jar) } } }
            @if !view.said.is_empty() { p { (view.said) } }
            @if view.lines.is_empty() { p { "Its recipe is not written down." } }
            @else {
                table .pot {
                    thead { tr { th scope="col" { "what" } th scope="col" { "planned" } th scope="col" { "truly weighed" } } }
                    tbody {
                        @for line in &view.lines {
                            tr { th scope="row" { (line.name) } td { (line.planned) } td { (line.weighed) @if !line.beside.is_empty() { span .source { (line.beside) } } } }
                        }
                    }
                }
            }
            p { a href={ "/trials/" (view.subject) "#pots" } { "Write down what truly went in" } }
        }
    }
}

pub(crate) async fn weigh(room: Room, Path((subject, letter)): Path<(String, String)>, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let get = |name: &str| fields.get(name).to_owned();
    let typed =
        TypedPot { water: fields.get("what") == "water", grams: get("grams"), vessel: get("vessel"), when: get("when"), note: get("note") };
    match room.write(&fields, |bench, studio, stamp| bench.weigh_pot(studio, (&subject, &letter), &typed, stamp)).await {
        Ok(()) => Redirect::to(&address(&subject, &letter)).into_response(),
        Err(why) => refused(&room, &why),
    }
}

/// A picture that the program drew.
pub(crate) fn drawn(class: &str, svg: &str) -> Markup {
    html! { figure class=(class) { (PreEscaped(svg)) } }
}
