//! My shelf: jars, and what was measured at the kitchen table.

use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use serde::Deserialize;
use show::{JarChoice, OwnValue, ShelfJar, ShelfView};
use workbench::{TypedJar, TypedWeighing};

use super::kept::refused;
use super::notebook::take_back;
use super::{card, kept};
use crate::form::{Fields, Path, Query, Sent};
use crate::layout::Place;
use crate::room::Room;

const TITLE: &str = "What stands on my shelf?";

pub(crate) async fn list(room: Room) -> Markup {
    let view = room.look(|bench, state| bench.shelf(state, Room::today())).await;
    room.page(Place::Shelf, TITLE, &shelf(&room, &view))
}

fn shelf(room: &Room, view: &ShelfView) -> Markup {
    html! {
        p .second { (TITLE) }
        h1 .sentence { (view.next) }
        ul .jars {
            @for jar in &view.jars {
                li {
                    a href={ "/shelf/" (jar.subject) } { (jar.name) }
                    @if !jar.due.is_empty() { strong .due { " " (jar.due) } }
                    p { (jar.material_name) @if !jar.lot.is_empty() { ", lot " (jar.lot) } @if !jar.stock.is_empty() { ", " (jar.stock) "\u{a0}g left" } }
                    @for own in jar.own.iter().filter(|own| own.in_use) { p .second { (own.name) ": " (own.value) } }
                }
            }
        }
        details open[view.jars.is_empty()] { summary { "Put a jar on the shelf" } (jar_form(room, None, &view.choices)) }
        p { a href="/weigh" { "Write a weighing down" } " · " a href="/jars" { "What is in such jars: numbers, sources, cautions" } }
    }
}

fn jar_form(room: &Room, jar: Option<&ShelfJar>, choices: &[JarChoice]) -> Markup {
    let text = |get: fn(&ShelfJar) -> &String| jar.map_or("", |jar| get(jar).as_str());
    html! {
        form method="post" action="/shelf" {
            (room.hidden())
            input type="hidden" name="subject" value=(text(|jar| &jar.subject));
            input type="hidden" name="from" value=(jar.map_or(0, |jar| jar.from));
            div .grid {
                label { "What is in it" (choose(choices, text(|jar| &jar.material))) }
                label { "What stands on it" input type="text" name="name" value=(text(|jar| &jar.name)) placeholder="chalk, blue sack"; }
                label { "Maker or shop" input type="text" name="maker" value=(text(|jar| &jar.maker)); }
                label { "Lot" input type="text" name="lot" value=(text(|jar| &jar.lot)); }
                label { "Price of a pack" input type="text" inputmode="decimal" name="price" value=(text(|jar| &jar.price)); }
                label { "Money" input type="text" name="money" value=(text(|jar| &jar.money)) placeholder="EUR"; }
                label { "A pack holds, g" input type="text" inputmode="decimal" name="pack" value=(text(|jar| &jar.pack)); }
                label { "Left, g" input type="text" inputmode="decimal" name="stock" value=(text(|jar| &jar.stock)); }
                label { "Best before" input type="date" name="best_before" value=(text(|jar| &jar.best_before)); }
                label { "Opened on" input type="date" name="opened" value=(text(|jar| &jar.opened)); }
                label { "Remark" input type="text" name="note" value=(text(|jar| &jar.note)); }
            }
            button .main type="submit" { @if jar.is_some() { "Change it" } @else { "Put it on the shelf" } }
        }
    }
}

fn choose(choices: &[JarChoice], taken: &str) -> Markup {
    html! {
        select name="material" {
            option value="" { "choose" }
            @for choice in choices { option value=(choice.id) selected[choice.id == taken] { (choice.name) } }
        }
    }
}

pub(crate) async fn put(room: Room, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let get = |name: &str| fields.get(name).to_owned();
    let typed = TypedJar {
        subject: get("subject"),
        from: fields.entry("from"),
        material: get("material"),
        name: get("name"),
        maker: get("maker"),
        lot: get("lot"),
        price: get("price"),
        money: get("money"),
        pack: get("pack"),
        stock: get("stock"),
        best_before: get("best_before"),
        opened: get("opened"),
        note: get("note"),
    };
    match room.write(&fields, |bench, studio, stamp| bench.put_jar(studio, &typed, stamp)).await {
        Ok(subject) => Redirect::to(&format!("/shelf/{subject}")).into_response(),
        Err(why) => refused(&room, &why),
    }
}

pub(crate) async fn one(room: Room, Path(subject): Path<String>) -> Response {
    let found = room.look(|bench, state| (bench.shelf_jar_of(state, &subject, Room::today()), bench.jar_choices())).await;
    let (Some(jar), choices) = found else { return refused(&room, &workbench::StudioError::Missing("jar")) };
    let body = html! {
        h1 .ask { (jar.name) }
        p .lead { a href={ "/jars/" (jar.material) } { (jar.material_name) } @if !jar.due.is_empty() { ", " strong { (jar.due) } } }
        section {
            h2 { "What you measured of it" }
            @if jar.own.is_empty() { p { "Nothing yet: the catalogue's numbers are used." } }
            @for own in &jar.own { (own_value(&room, own)) }
            p { a href={ "/weigh?material=" (jar.material) "&jar=" (jar.subject) } { "Write a weighing down" } }
        }
        details { summary { "Change what stands on the label" } (jar_form(&room, Some(&jar), &choices)) }
        (take_back(&room, jar.from, "Take this jar's last change back"))
    };
    room.page(Place::Shelf, &jar.name, &body).into_response()
}

fn own_value(room: &Room, own: &OwnValue) -> Markup {
    html! {
        div .own {
            p { strong { (own.name) ": " (own.value) } @if own.in_use { " · in use in place of the catalogue's" } @else { " · an older one, no longer used" } }
            p .second { (own.on) ": " (own.tries) @if !own.note.is_empty() { " · " (own.note) } }
            (take_back(room, own.entry, "Take this weighing back"))
        }
    }
}

/// What is to be weighed, in the address.
#[derive(Debug, Default, Deserialize)]
pub(crate) struct Which {
    #[serde(default)]
    material: String,
    #[serde(default)]
    jar: String,
    #[serde(default)]
    what: String,
}

pub(crate) async fn weigh(room: Room, Query(which): Query<Which>) -> Markup {
    weigh_page(&room, &which, &Fields::default()).await
}

/// The same, asked for from a recipe's card: the recipe comes along, so that its bar can be shown again at once.
pub(crate) async fn weigh_for(room: Room, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let (material, what) = fields.get("weigh").split_once(' ').unwrap_or(("", ""));
    let which = Which { material: material.to_owned(), jar: String::new(), what: what.to_owned() };
    weigh_page(&room, &which, &fields).await.into_response()
}

/// Ways to measure: name, what the painter does, word for the base, word for the readings, example.
const WAYS: [(&str, &str, &str, &str, &str); 5] = [
    ("cup", "I weighed a level cup, several times", "The cup holds, ml", "Grams each time, without the cup", "148 151 149"),
    ("water", "I stirred powder into water and read the rise", "Powder, g", "Rise each time, ml", "10.2 9.9 10.1"),
    ("rub-out", "I rubbed powder out with linseed oil", "Powder, g", "Oil each time, g (weigh the bottle before and after)", "1.9 2.1 2.0"),
    (
        "drops",
        "I rubbed powder out and counted the drops of oil",
        "Powder, g",
        "Drops each time, and below how many of them fill 5 ml (rub a chalk you know the same day: your own end point is in all of them)",
        "38 40 39",
    ),
    ("dry", "I dried weighed spoonfuls", "", "Wet and dry weight of each, g", "10.2/3.1 9.8/2.9"),
];

async fn weigh_page(room: &Room, which: &Which, recipe: &Fields) -> Markup {
    let choices = room.ask(workbench::Workbench::jar_choices).await;
    let title = "What did you weigh?";
    let body = html! {
        h1 .ask { (title) }
        p .lead { "From then on films use your number instead of the catalogue's, and say so. Three weighings are better than one." }
        form #weigh method="post" action="/weigh/keep" {
            (room.hidden())
            @for (name, value) in recipe.iter().filter(|(name, _)| *name == "told" || name.starts_with("choose.") || *name == "wet" || *name == "coats") {
                input type="hidden" name=(name) value=(value);
            }
            input type="hidden" name="jar" value=(which.jar);
            label { "Of what" (choose(&choices, &which.material)) }
            fieldset .question {
                legend { "How" }
                @for (way, words, base, readings, example) in WAYS {
                    label .choice { input type="radio" name="what" value=(way) checked[way == which.what || which.what.is_empty() && way == "cup"]; span { (words) span .second { @if !base.is_empty() { (base) "; " } (readings) ": " (example) } } }
                }
            }
            div .row {
                label { "The cup holds (ml), or powder taken (g)" input type="text" inputmode="decimal" name="base" placeholder="250"; }
                label { "Readings, one after the other" input type="text" name="readings" placeholder="148 151 149"; }
                label { "Drops in 5 ml; or the jar is read to so many ml" span .second { "only for drops of oil and for water" } input type="text" inputmode="decimal" name="aid" placeholder="100"; }
            }
            p .second { "A US cup holds 236.6 ml, a metric one 250 ml, a tablespoon 14.8 ml (US) or 15 ml. To be sure, weigh your cup full of water: a gram is a millilitre." }
            label { "Remark" input type="text" name="note"; }
            button .main type="submit" { "Write it down" }
        }
        p .second { "Oily rags can set themselves alight: dry them spread out flat outdoors, or soak them in water. Ventilate, and use the respirator, gloves and eye protection that the safety data sheet and local rules ask for." }
    };
    room.page(Place::Shelf, title, &body)
}

pub(crate) async fn keep_weighing(room: Room, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let get = |name: &str| fields.get(name).to_owned();
    let typed = TypedWeighing {
        material: get("material"),
        jar: get("jar"),
        what: get("what"),
        base: get("base"),
        readings: get("readings"),
        aid: get("aid"),
        note: get("note"),
    };
    let before = room.ask(|bench| bench.verdict(&room.verdict(&fields, "", bench))).await.ok().and_then(|card| card.bar);
    if let Err(why) = room.write(&fields, |bench, studio, stamp| bench.weigh_own(studio, &typed, stamp)).await {
        return refused(&room, &why);
    }
    if fields.get("told").trim().is_empty() {
        let back = if typed.jar.is_empty() { "/shelf".to_owned() } else { format!("/shelf/{}", typed.jar) };
        return Redirect::to(&back).into_response();
    }
    match room.ask(|bench| bench.verdict(&room.verdict(&fields, "", bench))).await {
        Ok(view) => {
            let shrunk = show::shrunk(before, view.bar);
            let body = html! {
                p .lead role="status" { "Written down. " (shrunk) }
                div .two {
                    (card::verdict(&view))
                    (card::recipe(&view, &room.hidden(), fields.get("wet"), fields.get("coats"), &kept::keep_recipe(&Fields::default())))
                }
            };
            room.page(Place::Front, "What is it, really?", &body).into_response()
        }
        Err(why) => refused(&room, &workbench::StudioError::Typed(why.to_string())),
    }
}
