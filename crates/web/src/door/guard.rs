//! What stands before every route, at either door.

use axum::extract::{Request, State};
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

use super::Caller;
use super::keys::{cookies, same};
use crate::pages::pair;
use crate::{App, clock, layout};

/// What a browser may fetch at the desk before it is inside: the page that says how to come in needs it.
const OPEN_AT_DESK: [&str; 5] = ["/enter", "/assets/page.css", "/assets/face.css", "/assets/face.otf", "/assets/heavy.otf"];

/// What a phone may fetch before it was let in: the page that asks for a code, and what that one needs.
const OPEN_AT_PHONES: [&str; 6] = ["/pair", "/pair/wait", "/pair/asked", "/assets/pair.css", "/assets/pair.js", "/favicon.ico"];

/// Length of a phone's key as text: 256 bits in hexadecimal.
const KEY_LETTERS: usize = 64;

fn host_of(headers: &HeaderMap) -> &str {
    headers.get(header::HOST).and_then(|value| value.to_str().ok()).unwrap_or("")
}

/// Whether a request that may change something comes from a page that was opened at this very host. Another port of the same name is
/// "same site" to cookies, so their mark is no guard against it; the Origin, port and all, is.
fn is_from_our_page(headers: &HeaderMap, host: &str) -> bool {
    let origin = headers.get(header::ORIGIN).and_then(|value| value.to_str().ok());
    // Only sent on loopback and over TLS, so it can refuse and never let in.
    let elsewhere = headers.get("sec-fetch-site").is_some_and(|value| value != "same-origin");
    origin.and_then(|origin| origin.strip_prefix("http://")) == Some(host) && !elsewhere
}

fn only_looks(request: &Request) -> bool {
    request.method() == Method::GET || request.method() == Method::HEAD
}

/// Stands before every route of the desk.
pub(crate) async fn at_desk(State(app): State<App>, mut request: Request, next: Next) -> Response {
    let headers = request.headers();
    if host_of(headers) != app.door.host {
        return refuse(
            StatusCode::MISDIRECTED_REQUEST,
            "This address is not the one that groundproof listens on. Open it from the program.",
        );
    }
    if !only_looks(&request) && !is_from_our_page(headers, &app.door.host) {
        return refuse(
            StatusCode::FORBIDDEN,
            "This form came from another page. Open groundproof from the program and send it from there.",
        );
    }
    match app.door.session(headers) {
        Some(session) => drop(request.extensions_mut().insert(Caller::Desk(session))),
        None if OPEN_AT_DESK.contains(&request.uri().path()) => {}
        None => {
            return refuse(
                StatusCode::FORBIDDEN,
                "This page opens only from the program that was started on this computer: use the address that it printed.",
            );
        }
    }
    next.run(request).await
}

/// Stands before every route of the phones.
pub(crate) async fn at_phones(State(app): State<App>, mut request: Request, next: Next) -> Response {
    let headers = request.headers();
    let host = host_of(headers);
    // A line that was open when sharing ended is answered no more.
    let Some(cookie) = app.share.cookie_at(host) else {
        return pair::stranger(
            StatusCode::MISDIRECTED_REQUEST,
            "This is not an address at which groundproof is shared. Look at the desk: it shows the right one.",
        );
    };
    if !only_looks(&request) && !is_from_our_page(headers, host) {
        return pair::stranger(
            StatusCode::FORBIDDEN,
            "This came from another page. Open groundproof on this phone and send it from there.",
        );
    }
    match caller(&app, headers, &cookie) {
        Some(caller) => drop(request.extensions_mut().insert(caller)),
        None if OPEN_AT_PHONES.contains(&request.uri().path()) => {}
        None => {
            return pair::stranger(
                StatusCode::NOT_FOUND,
                "There is nothing here for a phone that was not let in. At the desk open \u{201c}My phone\u{201d}.",
            );
        }
    }
    next.run(request).await
}

/// The phone whose key stands in these headers.
fn caller(app: &App, headers: &HeaderMap, cookie: &str) -> Option<Caller> {
    let now = clock::now();
    // A stranger's made-up cookie must not make the desk read its disk.
    let mut keys = cookies(headers, cookie).filter(|key| key.len() == KEY_LETTERS).peekable();
    keys.peek()?;
    let studios = app.studios();
    for studio in &studios {
        // Its key may have been taken away by another process. If the disk can't be read the page says so later.
        let _ = tokio::task::block_in_place(|| studio.keeper().refresh());
    }
    keys.find_map(|key| {
        let hash = workbench::key_hash(key);
        studios.iter().find_map(|studio| {
            let phone = studio.phones().into_iter().find(|phone| same(&phone.key_hash, &hash) && phone.is_good(now))?;
            app.share.saw(&phone, now);
            let token = workbench::key_hash(&format!("forms of {key}"));
            Some(Caller::Phone { name: phone.name, studio: std::sync::Arc::clone(studio), token })
        })
    })
}

/// Headers that every answer carries.
pub(crate) async fn sealed(request: Request, next: Next) -> Response {
    let mut response = next.run(request).await;
    let headers = response.headers_mut();
    headers.insert(
        header::CONTENT_SECURITY_POLICY,
        HeaderValue::from_static(
            "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; img-src 'self' blob:; connect-src 'self'; \
             form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
        ),
    );
    headers.insert(header::X_CONTENT_TYPE_OPTIONS, HeaderValue::from_static("nosniff"));
    // `no-referrer` would make the browser send `Origin: null` from our own forms.
    headers.insert(header::REFERRER_POLICY, HeaderValue::from_static("same-origin"));
    headers.entry(header::CACHE_CONTROL).or_insert(HeaderValue::from_static("no-store"));
    response
}

pub(super) fn refuse(status: StatusCode, why: &str) -> Response {
    (status, layout::bare("Not from here", why)).into_response()
}
