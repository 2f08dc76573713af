//! The desk's door: a key that is used once, and the sessions that came in by it.

use std::collections::HashSet;
use std::net::SocketAddr;
use std::sync::Mutex;

use axum::extract::{Request, State};
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};

use super::guard::refuse;
use super::keys::{DoorError, cookies, random, same};
use super::{host, locked};
use crate::App;

/// Keys, sessions and the address that we listen on.
#[derive(Debug)]
pub struct Door {
    pub(super) host: String,
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
            host: host(&address.ip().to_string(), address.port()),
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
        format!("http://{}/enter?key={}", self.host, self.key)
    }

    /// The token that every form carries.
    pub(crate) fn token(&self) -> &str {
        &self.token
    }

    /// The session that these headers belong to.
    pub(crate) fn session(&self, headers: &HeaderMap) -> Option<String> {
        let held = locked(&self.sessions);
        cookies(headers, &self.cookie).find(|value| held.contains(*value)).map(str::to_owned)
    }
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
    if app.door.session(&headers).is_some() {
        return Redirect::to("/").into_response();
    }
    refuse(
        StatusCode::FORBIDDEN,
        "This key was used already or is not the right one. Open groundproof from the program that you started: it prints a fresh address each time.",
    )
}
