//! Now: the making day, and what is going on when none is under way.

mod day;
mod parts;
mod quiet;
mod taps;

use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::Markup;
use serde::{Deserialize, Serialize};
use show::NowView;
use workbench::TypedTap;

use super::kept::refused;
use crate::form::{Fields, Query, Sent};
use crate::layout::Place;
use crate::room::Room;

pub(crate) use taps::taps;

const TITLE: &str = "Now";

/// Which of the open steps a person wants to take first, in the address.
#[derive(Debug, Default, Deserialize)]
pub(crate) struct Which {
    #[serde(default)]
    step: String,
}

/// What the page's script works with, in the page and when it asks again.
#[derive(Debug, Serialize)]
struct Data<'a> {
    token: String,
    now: &'a NowView,
}

async fn view(room: &Room) -> NowView {
    room.look(|bench, state| bench.now(state, Room::now())).await
}

pub(crate) async fn page(room: Room, Query(which): Query<Which>) -> Markup {
    let view = view(&room).await;
    let data = parts::data(&Data { token: room.token(), now: &view });
    match &view {
        NowView::Day(day) => room.day_page(TITLE, &day::state(), &day::body(&room.hidden(), day, &which.step, &data, room.is_phone())),
        NowView::Quiet(quiet) => room.page(Place::Now, TITLE, &quiet::body(quiet, &data)),
    }
}

/// The same as the page holds, for a page that asks what has changed.
pub(crate) async fn data(room: Room) -> Response {
    let view = view(&room).await;
    taps::json(StatusCode::OK, &Data { token: room.token(), now: &view })
}

/// One tap from a page without a script.
pub(crate) async fn tap(room: Room, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let now = Room::now();
    let get = |name: &str| fields.get(name).to_owned();
    let tap = TypedTap {
        // The same form sent twice is one tap.
        id: format!("{:032x}", workbench::chance_of(fields.iter())),
        seq: fields.entry("seq"),
        step: get("step"),
        kind: get("kind"),
        at_ms: now.seconds.saturating_mul(1000),
        seen: fields.entry("seen"),
        of: get("of"),
        wet_g: get("wet_g"),
    };
    let studio = room.studio();
    let answer = room.ask(|bench| bench.tap(studio, fields.get("sitting"), &[tap], room.device(), now)).await;
    match answer.outcomes.first() {
        Some(outcome) if outcome.outcome == "refused" => room.refuse(Place::Now, StatusCode::UNPROCESSABLE_ENTITY, &outcome.why),
        _ => back(),
    }
}

fn back() -> Response {
    Redirect::to("/now").into_response()
}

pub(crate) async fn air(room: Room, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let get = |name: &str| fields.get(name);
    match room.write(&fields, |bench, studio, stamp| bench.read_air(studio, get("sitting"), get("celsius"), get("damp"), stamp)).await {
        Ok(()) => back(),
        Err(why) => refused(&room, &why),
    }
}

pub(crate) async fn mass(room: Room, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    match room.write(&fields, |bench, studio, stamp| bench.weigh_drying(studio, fields.get("board"), fields.get("grams"), stamp)).await {
        Ok(()) => back(),
        Err(why) => refused(&room, &why),
    }
}

pub(crate) async fn end(room: Room, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    match room.write(&fields, |bench, studio, stamp| bench.end_day(studio, fields.get("sitting"), stamp)).await {
        Ok(()) => back(),
        Err(why) => refused(&room, &why),
    }
}
