//! The days on which boards want a look, as a calendar file.

use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use paper::calendar::{Appointment, Stamp, calendar as written, uid};

use super::kept::refused;
use crate::form::Path;
use crate::layout::Place;
use crate::room::Room;

pub(crate) async fn calendar(room: Room, Path(trial): Path<String>) -> Response {
    let found = room.look(|bench, state| bench.question_of(state, &trial).map(|question| (question, bench.looks(state, &trial)))).await;
    let (question, looks) = match found {
        Ok(found) => found,
        Err(why) => return refused(&room, &why),
    };
    if looks.is_empty() {
        return room.refuse(
            Place::Trials,
            StatusCode::CONFLICT,
            "No coat is written down yet, so no day can be told. Lay the boards first.",
        );
    }
    let day = |day: workbench::Day| (u16::try_from(day.year).unwrap_or(9999), day.month, day.day);
    let appointments: Vec<Appointment> = looks
        .iter()
        .map(|(when, after)| Appointment {
            uid: uid(&trial, "all", after),
            day: day(*when),
            title: format!("Look at the boards, {after}"),
            text: format!("{question}\nSame light, same distance; read them without looking at the plan."),
        })
        .collect();
    let (today, minutes) = workbench::Moment { offset_minutes: 0, ..Room::now() }.local();
    let time = (u8::try_from(minutes / 60).unwrap_or(0), u8::try_from(minutes % 60).unwrap_or(0), 0);
    match written(&question, &appointments, Stamp { day: day(today), time }) {
        Ok(text) => (
            [(header::CONTENT_TYPE, "text/calendar; charset=utf-8"), (header::CONTENT_DISPOSITION, "attachment; filename=\"looks.ics\"")],
            text,
        )
            .into_response(),
        Err(why) => room.refuse(Place::Trials, StatusCode::UNPROCESSABLE_ENTITY, &why.to_string()),
    }
}
