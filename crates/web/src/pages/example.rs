//! Into the example studio and home again.

use axum::response::{IntoResponse, Redirect, Response};

use crate::form::{Fields, Sent};
use crate::room::Room;

pub(crate) async fn visit(room: Room, sent: Sent) -> Response {
    if let Err(refusal) = Fields::from_sent(sent, &room.token()) {
        return refusal;
    }
    if let Some(session) = room.session() {
        let app = room.app().clone();
        // Writing the example takes a few dozen verdicts.
        tokio::task::block_in_place(|| app.visit_example(session));
    }
    Redirect::to("/trials").into_response()
}

pub(crate) async fn leave(room: Room, sent: Sent) -> Response {
    if let Err(refusal) = Fields::from_sent(sent, &room.token()) {
        return refusal;
    }
    if let Some(session) = room.session() {
        room.app().leave_example(session);
    }
    Redirect::to("/").into_response()
}
