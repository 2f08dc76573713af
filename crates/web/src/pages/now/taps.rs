//! Taps that a page kept, sent in order.

use axum::body::Bytes;
use axum::extract::rejection::BytesRejection;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use serde::{Deserialize, Serialize};
use workbench::TypedTap;

use crate::room::Room;

/// Taps that are taken at once; a page with more sends the rest afterwards.
const AT_ONCE: usize = 50;

/// How far back a tap may lie: browsers throw away what a page kept and nobody opened for a week.
const OLDEST_MS: i64 = 8 * 24 * 60 * 60 * 1000;

/// What a page sends.
#[derive(Debug, Deserialize)]
struct Posted {
    sitting: String,
    token: String,
    /// The phone's clock as it sends this.
    phone_ms: i64,
    taps: Vec<PostedTap>,
}

#[derive(Debug, Deserialize)]
struct PostedTap {
    id: String,
    seq: u64,
    step: String,
    kind: String,
    /// When, by the phone's clock.
    at: i64,
    #[serde(default)]
    seen: u64,
    #[serde(default)]
    of: String,
    #[serde(default)]
    wet_g: String,
}

/// Why nothing was taken, in a sentence.
#[derive(Debug, Serialize)]
struct Refused<'a> {
    why: &'a str,
}

fn refuse(status: StatusCode, why: &str) -> Response {
    json(status, &Refused { why })
}

/// An answer for the script.
pub(super) fn json(status: StatusCode, answer: &impl Serialize) -> Response {
    // Texts, numbers and lists can always be written as JSON.
    (status, [(header::CONTENT_TYPE, "application/json")], serde_json::to_vec(answer).unwrap_or_default()).into_response()
}

pub(crate) async fn taps(room: Room, body: Result<Bytes, BytesRejection>) -> Response {
    let body = match body {
        Ok(body) => body,
        Err(why) if why.status() == StatusCode::PAYLOAD_TOO_LARGE => {
            return refuse(StatusCode::PAYLOAD_TOO_LARGE, "That is more than fits at once. Send at most 50 taps, then the next ones.");
        }
        Err(_) => return refuse(StatusCode::BAD_REQUEST, "The taps did not arrive whole. Send them again."),
    };
    let posted: Posted = match serde_json::from_slice(&body) {
        Ok(posted) => posted,
        Err(why) => {
            return refuse(StatusCode::BAD_REQUEST, &format!("These taps can't be read ({why}). Open the page again and tap anew."));
        }
    };
    if posted.token != room.token() {
        return refuse(
            StatusCode::FORBIDDEN,
            "This page is from an earlier start of the program, or from the other studio. Nothing was written; ask for the page's data again.",
        );
    }
    if posted.taps.len() > AT_ONCE {
        return refuse(StatusCode::PAYLOAD_TOO_LARGE, "That is more than 50 taps at once. Send 50, then the next ones.");
    }
    let now = Room::now();
    let desk_ms = now.seconds.saturating_mul(1000);
    // Both clocks stand in the same message, so whatever the phone's is wrong by falls out.
    let ahead = desk_ms.saturating_sub(posted.phone_ms);
    let typed: Vec<TypedTap> = posted
        .taps
        .into_iter()
        .map(|tap| TypedTap {
            id: tap.id,
            seq: tap.seq,
            step: tap.step,
            kind: tap.kind,
            at_ms: tap.at.saturating_add(ahead).clamp(desk_ms.saturating_sub(OLDEST_MS), desk_ms),
            seen: tap.seen,
            of: tap.of,
            wet_g: tap.wet_g,
        })
        .collect();
    let studio = room.studio();
    let answer = room.ask(|bench| bench.tap(studio, &posted.sitting, &typed, room.device(), now)).await;
    json(StatusCode::OK, &answer)
}
