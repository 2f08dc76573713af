//! Who may come in. Loopback is not trust: other programs and other pages reach it too.
//!
//! `/enter?key=` (128 bits, used once) sets a cookie; without the cookie every route but the style sheet and the faces of that answer says how to come in, with 403.
//! The Host header must be the address that we listen on (else 421: stops names that were pointed at this machine), and anything
//! but GET must carry our own Origin and the form's token.

use std::collections::HashSet;
use std::net::SocketAddr;
use std::sync::Mutex;

use axum::extract::{Request, State};
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Redirect, Response};

use crate::{App, layout};

/// The system gave no random bytes.
#[derive(Debug, thiserror::Error)]
#[error("this system gives no random numbers, so no safe key can be made: {0}")]
pub struct DoorError(String);

/// Keys, sessions and the address that we listen on.
#[derive(Debug)]
pub struct Door {
    host: String,
    origin: String,
    cookie: String,
    /// The key of the first page, until it is used.
    entry: Mutex<Option<String>>,
    key: String,
    sessions: Mutex<HashSet<String>>,
    token: String,
}

impl Door {
    /// A door for this address, with a fresh key.
    ///
    /// # Errors
    /// The system gives no random numbers.
    pub fn new(address: SocketAddr) -> Result<Self, DoorError> {
        let key = random()?;
        Ok(Self {
            // Browsers leave the usual port out of both.
            host: if address.port() == USUAL_PORT { address.ip().to_string() } else { address.to_string() },
            origin: if address.port() == USUAL_PORT { format!("http://{}", address.ip()) } else { format!("http://{address}") },
            // Cookies know no ports (RFC 6265, 8.5), so the name carries it.
            cookie: format!("gp_{}", address.port()),
            entry: Mutex::new(Some(key.clone())),
            key,
            sessions: Mutex::new(HashSet::new()),
            token: random()?,
        })
    }

    /// Address of the first page, with its one-use key.
    pub fn entrance(&self) -> String {
        format!("{}/enter?key={}", self.origin, self.key)
    }

    /// The token that every form carries.
    pub(crate) fn token(&self) -> &str {
        &self.token
    }

    fn is_inside(&self, headers: &HeaderMap) -> bool {
        self.session(headers).is_some()
    }

    /// The session that these headers belong to.
    pub(crate) fn session(&self, headers: &HeaderMap) -> Option<String> {
        let held = locked(&self.sessions);
        headers
            .get_all(header::COOKIE)
            .iter()
            .filter_map(|value| value.to_str().ok())
            .flat_map(|line| line.split(';'))
            .filter_map(|pair| pair.trim().split_once('='))
            .find(|(name, value)| *name == self.cookie && held.contains(*value))
            .map(|(_, value)| value.to_owned())
    }
}

/// Port of plain HTTP.
const USUAL_PORT: u16 = 80;

/// A lock that a panicking thread left behind still guards sound data here: a set and an option.
pub(crate) fn locked<T>(mutex: &Mutex<T>) -> std::sync::MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(std::sync::PoisonError::into_inner)
}

/// 128 random bits as text.
pub(crate) fn random() -> Result<String, DoorError> {
    let mut bytes = [0u8; 16];
    getrandom::fill(&mut bytes).map_err(|e| DoorError(e.to_string()))?;
    Ok(format!("{:032x}", u128::from_be_bytes(bytes)))
}

/// Uses up the key and lets the browser in.
pub(crate) async fn enter(State(app): State<App>, headers: HeaderMap, request: Request) -> Response {
    let given = request.uri().query().and_then(|query| query.strip_prefix("key=")).unwrap_or("");
    if request.method() != Method::GET {
        return refuse(StatusCode::METHOD_NOT_ALLOWED, "Open this address in a browser.");
    }
    // The session comes first: a key must not be used up for nothing.
    let Ok(session) = random() else {
        return refuse(StatusCode::INTERNAL_SERVER_ERROR, "No safe session could be made on this system.");
    };
    let mut entry = locked(&app.door.entry);
    if entry.as_deref().is_some_and(|key| same(key, given)) {
        *entry = None;
        let cookie = format!("{}={session}; HttpOnly; SameSite=Lax; Path=/", app.door.cookie);
        if app.starts_in_example {
            app.visit_example(&session);
        }
        locked(&app.door.sessions).insert(session);
        let mut response = Redirect::to("/").into_response();
        if let Ok(value) = HeaderValue::from_str(&cookie) {
            response.headers_mut().insert(header::SET_COOKIE, value);
        }
        return response;
    }
    if app.door.is_inside(&headers) {
        return Redirect::to("/").into_response();
    }
    refuse(
        StatusCode::FORBIDDEN,
        "This key was used already or is not the right one. Open groundproof from the program that you started: it prints a fresh address each time.",
    )
}

/// Compares without telling by time where two texts part.
fn same(a: &str, b: &str) -> bool {
    a.len() == b.len() && a.bytes().zip(b.bytes()).fold(0, |differs, (x, y)| differs | (x ^ y)) == 0
}

/// Stands before every route.
pub(crate) async fn guard(State(app): State<App>, request: Request, next: Next) -> Response {
    let headers = request.headers();
    let host = headers.get(header::HOST).and_then(|value| value.to_str().ok());
    if host != Some(app.door.host.as_str()) {
        return refuse(
            StatusCode::MISDIRECTED_REQUEST,
            "This address is not the one that groundproof listens on. Open it from the program.",
        );
    }
    if request.method() != Method::GET && request.method() != Method::HEAD {
        let origin = headers.get(header::ORIGIN).and_then(|value| value.to_str().ok());
        if origin != Some(app.door.origin.as_str()) {
            return refuse(
                StatusCode::FORBIDDEN,
                "This form came from another page. Open groundproof from the program and send it from there.",
            );
        }
    }
    let open = matches!(request.uri().path(), "/enter" | "/assets/page.css" | "/assets/face.css" | "/assets/face.otf" | "/assets/heavy.otf");
    if !open && !app.door.is_inside(headers) {
        return refuse(
            StatusCode::FORBIDDEN,
            "This page opens only from the program that was started on this computer: use the address that it printed.",
        );
    }
    next.run(request).await
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

fn refuse(status: StatusCode, why: &str) -> Response {
    (status, layout::bare("Not from here", why)).into_response()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_are_long_and_never_twice_the_same() {
        let (a, b) = (random().unwrap(), random().unwrap());
        assert_eq!(a.len(), 32);
        assert_ne!(a, b);
        assert!(same(&a, &a) && !same(&a, &b) && !same(&a, ""));
    }
}
