//! A day worked out: what when, what waits, what may not slip, ways out, what to buy; and its sheets.

use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, PreEscaped, html};
use serde::Deserialize;
use show::{DayStep, DayView, DayWay, ShoppingView, day_column_picture, day_strip_picture};
use workbench::{RecipeDay, StudioError, TypedHours, TypedWish};

use super::card;
use super::kept::refused;
use crate::form::{Fields, Path, Query, Sent, query};
use crate::layout::Place;
use crate::room::Room;

/// The wish as it stands in an address.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Asked {
    from: String,
    to: String,
    small: String,
    leave: String,
    without: String,
    on: String,
}

impl Asked {
    fn wish(self) -> TypedWish {
        TypedWish {
            hours: TypedHours { from: self.from, to: self.to },
            small: self.small,
            leave: self.leave,
            without: self.without,
            on: self.on,
        }
    }
}

fn wish_of(fields: &Fields) -> TypedWish {
    let get = |name: &str| fields.get(name).to_owned();
    Asked { from: get("from"), to: get("to"), small: get("small"), leave: get("leave"), without: get("without"), on: get("on") }.wish()
}

/// Names and values of a wish; what is empty is left out.
fn fields_of(wish: &TypedWish) -> Vec<(&'static str, &str)> {
    let all = [
        ("from", wish.hours.from.as_str()),
        ("to", &wish.hours.to),
        ("small", &wish.small),
        ("leave", &wish.leave),
        ("without", &wish.without),
        ("on", &wish.on),
    ];
    all.into_iter().filter(|(_, value)| !value.trim().is_empty()).collect()
}

fn with_query(address: String, fields: &[(&str, &str)]) -> String {
    if fields.is_empty() { address } else { format!("{address}?{}", query(fields)) }
}

pub(crate) async fn page(room: Room, Path((trial, day)): Path<(String, u32)>, Query(asked): Query<Asked>) -> Response {
    let wish = asked.wish();
    let found = room
        .look(|bench, state| {
            let view = bench.plan_day(state, &trial, day, &wish, Room::today())?;
            Ok::<_, StudioError>((view, bench.may_begin(state, &trial, day)))
        })
        .await;
    let (view, may_begin) = match found {
        Ok(found) => found,
        Err(why) => return refused(&room, &why),
    };
    let address = format!("/trials/{trial}/day/{day}");
    let fields = fields_of(&wish);
    let begin = html! {
        @if may_begin {
            form method="post" action={ (address) "/begin" } {
                (room.hidden())
                @for (name, value) in &fields { input type="hidden" name=(name) value=(value); }
                button .main type="submit" { "Begin this day" }
            }
        } @else { p { a .button href="/now" { "This day is under way" } } }
        p { a href=(with_query(format!("{address}/sheets.pdf"), &fields)) { "Sheets for the kitchen (PDF)" } }
    };
    let hours = html! {
        form method="get" action=(address) {
            (hours_form(&view, &wish))
            button type="submit" { "Work it out with these hours" }
        }
    };
    let way = |way: &DayWay| {
        let fields: Vec<(&str, &str)> = way.wish.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
        html! { a .button href=(with_query(address.clone(), &fields)) { (way.say) } }
    };
    let back = html! { p { a href={ "/trials/" (trial) } { "Back to this trial" } } };
    room.page(Place::Trials, &view.title, &body(&view, &begin, &hours, &way, &back)).into_response()
}

pub(crate) async fn begin(room: Room, Path((trial, day)): Path<(String, u32)>, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let wish = wish_of(&fields);
    match room.write(&fields, |bench, studio, stamp| bench.begin_day(studio, &trial, day, &wish, stamp)).await {
        Ok(_) => Redirect::to("/now").into_response(),
        Err(why) => refused(&room, &why),
    }
}

pub(crate) async fn sheets(room: Room, Path((trial, day)): Path<(String, u32)>, Query(asked): Query<Asked>) -> Response {
    let wish = asked.wish();
    match room.look(|bench, state| bench.plan_day_sheets(room.studio(), state, &trial, day, &wish, Room::today())).await {
        Ok(view) => pdf(&room, &view).await,
        Err(why) => refused(&room, &why),
    }
}

fn recipe_of(room: &Room, fields: &Fields, bench: &workbench::Workbench) -> RecipeDay {
    let get = |name: &str| fields.get(name).to_owned();
    RecipeDay {
        recipe: room.verdict(fields, "", bench),
        boards: get("boards"),
        size: get("size"),
        coats: get("coats"),
        wish: wish_of(fields),
    }
}

/// A day for one recipe, from its form; nothing is written down.
pub(crate) async fn recipe(room: Room, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let view = match room.look(|bench, state| bench.recipe_day(state, &recipe_of(&room, &fields, bench), Room::today())).await {
        Ok(view) => view,
        Err(why) => return refused(&room, &why),
    };
    let wish = wish_of(&fields);
    let kept = |left_out: &[&str]| {
        let fields: Vec<(&str, &str)> =
            fields.iter().filter(|(name, _)| !matches!(*name, "token" | "once") && !left_out.contains(name)).collect();
        html! { (room.hidden()) @for (name, value) in fields { input type="hidden" name=(name) value=(value); } }
    };
    let begin = html! {
        form method="post" action="/recipe/day.pdf" { (kept(&[])) button .main type="submit" { "Sheets for the kitchen (PDF)" } }
    };
    let hours = html! {
        form method="post" action="/recipe/day" {
            (kept(&["from", "to", "on", "boards", "size", "coats"]))
            (boards_form(fields.get("boards"), fields.get("size"), fields.get("coats")))
            (hours_form(&view, &wish))
            button type="submit" { "Work it out anew" }
        }
    };
    let way = |way: &DayWay| {
        html! {
            form method="post" action="/recipe/day" {
                (kept(&["from", "to", "small", "leave", "without", "on"]))
                @for (name, value) in &way.wish { input type="hidden" name=(name) value=(value); }
                button type="submit" { (way.say) }
            }
        }
    };
    let back = html! {
        p .second { "This day is not written down. To lay it on boards that count, with ids and readings, ask a question first." }
        p { a href="/trials/new?kind=own" { "Ask a question of boards" } }
    };
    room.page(Place::Front, &view.title, &body(&view, &begin, &hours, &way, &back)).into_response()
}

pub(crate) async fn recipe_sheets(room: Room, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let invented = room.studio().is_example();
    match room.look(|bench, state| bench.recipe_day_sheets(state, &recipe_of(&room, &fields, bench), Room::today(), invented)).await {
        Ok(view) => pdf(&room, &view).await,
        Err(why) => refused(&room, &why),
    }
}

async fn pdf(room: &Room, view: &show::paper::DaySheetsView) -> Response {
    match room.ask(|_| paper::day_sheets_pdf(view)).await {
        Ok(bytes) => {
            ([(header::CONTENT_TYPE, "application/pdf"), (header::CONTENT_DISPOSITION, "attachment; filename=\"day.pdf\"")], bytes)
                .into_response()
        }
        Err(why) => room.refuse(Place::Trials, StatusCode::UNPROCESSABLE_ENTITY, &why.to_string()),
    }
}

/// How many boards of which size, how many coats.
fn boards_form(boards: &str, size: &str, coats: &str) -> Markup {
    html! {
        div .row {
            label { "Boards" input type="text" inputmode="numeric" name="boards" value=(boards) placeholder="5"; }
            label { "Size of each" input type="text" name="size" value=(if size.is_empty() { "20 x 25 cm" } else { size }); }
            label { "Coats on each" input type="text" inputmode="numeric" name="coats" value=(coats) placeholder="as the recipe says, else 3"; }
        }
    }
}

fn hours_form(view: &DayView, wish: &TypedWish) -> Markup {
    html! {
        div .row {
            label { "Hands are free from" input type="text" name="from" value=(view.hours[0]) placeholder="9:00"; }
            label { "All must be done by" input type="text" name="to" value=(view.hours[1]) placeholder="18:00"; }
            label { "On which day, if you know it" input type="date" name="on" value=(wish.on); }
        }
        @for (name, value) in fields_of(wish).iter().filter(|(name, _)| matches!(*name, "small" | "leave" | "without")) {
            input type="hidden" name=(name) value=(value);
        }
    }
}

fn body(view: &DayView, begin: &Markup, hours: &Markup, way: &dyn Fn(&DayWay) -> Markup, back: &Markup) -> Markup {
    html! {
        h1 .ask { (view.title) }
        p .lead { (view.what) }
        p .sentence role="status" { (view.next) }
        @if view.fits { (begin) }
        @if !view.ways.is_empty() {
            section #ways {
                h2 { "Ways out" }
                ul .plain { @for one in &view.ways { li { (way(one)) p .second { (one.costs) } } } }
            }
        }
        @for fact in &view.facts { p { (fact) } }
        section { h2 { "The hours" } (hours) }
        @if !view.fits { (begin) }
        @if let Some(strip) = &view.strip {
            section #strip {
                h2 { "The day at a glance" }
                figure .picture .day-strip .wide-only { (PreEscaped(day_strip_picture(strip))) }
                figure .picture .day-strip .narrow-only { (PreEscaped(day_column_picture(strip))) }
            }
        }
        @if !view.chain.is_empty() {
            section { h2 { "What may not slip" } p .second { "If one of these comes later, all ends later." } ol { @for one in &view.chain { li { (one) } } } }
        }
        @for warning in &view.warnings { div .mind { p { (warning) } } }
        @if !view.before.is_empty() { section { h2 { "Before the day" } (steps(&view.before)) } }
        @if !view.steps.is_empty() { section #steps { h2 { "Step by step" } (steps(&view.steps)) } }
        (boards(view))
        (shopping(&view.shopping))
        @if !view.notes.is_empty() { section .rests { h2 { "What this rests on" } ul { @for note in &view.notes { li { (note) } } } } }
        (back)
    }
}

fn steps(steps: &[DayStep]) -> Markup {
    html! {
        ol .steps {
            @for step in steps {
                li {
                    strong { (step.time) } ": " (step.what) " " span .second { "(" (step.hands) ")" }
                    @if !step.waits.is_empty() { p .second { (step.waits) } }
                    @if !step.latest.is_empty() { p { (step.latest) } }
                    @if !step.caution.is_empty() { p .caution { (step.caution) } }
                }
            }
        }
    }
}

fn boards(view: &DayView) -> Markup {
    html! {
        @if !view.rounds.is_empty() {
            details #boards {
                summary { "What each board gets" }
                @for round in &view.rounds {
                    h3 { "The " (round.coat) " coat from pot " (round.pot) ", " (round.time) }
                    @if !round.pot_time.is_empty() { p .second { (round.pot_time) } }
                    div .wide tabindex="0" role="region" aria-label={ "The " (round.coat) " coat from pot " (round.pot) } {
                        table {
                            thead { tr { th scope="col" { "board" } th scope="col" { "place" } th scope="col" { "wet ground to lay" } } }
                            tbody {
                                @for board in &round.boards {
                                    tr {
                                        th scope="row" { @if board.id.is_empty() { (board.number) } @else { a href={ "/board/" (board.id) } { (board.number) } } }
                                        td { @if board.place == 0 { "–" } @else { (board.place) } }
                                        td { @if board.aim.is_empty() { "not known" } @else { (board.aim) } }
                                    }
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// The shopping list.
pub(crate) fn shopping(view: &ShoppingView) -> Markup {
    html! {
        section #shopping {
            h2 { "What to buy" }
            p .what { (view.say) }
            @if !view.lines.is_empty() {
                ul .plain .buy {
                    @for line in &view.lines {
                        li {
                            strong { (line.name) } ": " (line.need) " needed"
                            @if !line.stock.is_empty() { ", " (line.stock) " on the shelf" }
                            @if !line.buy.is_empty() { "; " strong { "buy " (line.buy) } @if !line.cost.is_empty() { " for " (line.cost) } @if !line.over.is_empty() { ", " (line.over) " stay over" } }
                            "."
                            @if !line.note.is_empty() { p .second { (line.note) "." } }
                        }
                    }
                }
            }
            @if !view.sums.is_empty() { p { "Together " strong { (view.sums.join(" and ")) } "." } }
            @if !view.per_board.is_empty() { p { (view.per_board) } }
            @for note in &view.notes { p .second { (note) } }
            @if !view.mind.is_empty() { (card::mind(&view.mind)) }
        }
    }
}
