//! May I come in? On the phone, before it has a key. A page of its own: small, without the faces, and it tells nothing of the studio.

use axum::extract::State;
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use maud::{DOCTYPE, Markup, html};
use workbench::{KEY_LASTS_DAYS, Stamp};

use crate::door::{self, Given, Told, Turned};
use crate::form::{Fields, Sent};
use crate::{App, clock};

/// Where a phone lands that was let in.
const LANDING: &str = "/trials";

fn frame(title: &str, body: &Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (title) " · groundproof" }
                link rel="icon" href="/favicon.ico" type="image/svg+xml";
                link rel="stylesheet" href="/assets/pair.css";
                script type="module" src="/assets/pair.js" {}
            }
            body { main { p .mark { "groundproof" } (body) } }
        }
    }
}

/// What whoever has no business here gets to see.
pub(crate) fn stranger(status: StatusCode, why: &str) -> Response {
    let body = html! { h1 { "Not from here" } p { (why) } p { a href="/pair" { "I have a code from the desk" } } };
    (status, frame("Not from here", &body)).into_response()
}

/// The form, with what was typed and what is wrong with it.
fn form(name: &str, secret: &str, wrong: &str) -> Markup {
    let body = html! {
        h1 { "May this phone come in?" }
        @if !wrong.is_empty() { p .wrong role="alert" { (wrong) } }
        form method="post" action="/pair" {
            label for="name" { "What shall this phone be called?" }
            input #name type="text" name="name" value=(name) maxlength="40" placeholder="kitchen phone" autocomplete="off" required;
            div #typed hidden[!secret.is_empty()] {
                label for="code" { "The code that the desk shows" }
                input #code .code type="text" name="code" placeholder="ABCD EFGH" autocomplete="off" autocapitalize="characters" spellcheck="false";
            }
            input #secret type="hidden" name="secret" value=(secret) autocomplete="off";
            button type="submit" { "Ask at the desk" }
        }
        p .second { "Plain HTTP: anyone who can listen on this Wi-Fi can read what you see and write here. Not in a café." }
    };
    frame("May this phone come in?", &body)
}

pub(crate) async fn page() -> Markup {
    form("", "", "")
}

/// A phone knocks.
pub(crate) async fn knock(State(app): State<App>, sent: Sent) -> Response {
    let fields = match Fields::of_stranger(sent) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let (code, secret) = (fields.get("code"), fields.get("secret"));
    let again = |status: StatusCode, secret: &str, why: &str| (status, form(fields.get("name"), secret, why)).into_response();
    let name = match app.ask(|bench| bench.phone_name(fields.get("name"))).await {
        Ok(name) => name,
        Err(why) => return again(StatusCode::UNPROCESSABLE_ENTITY, secret, &format!("One thing first: {why}.")),
    };
    let given = if secret.is_empty() { Given::Code(code) } else { Given::Secret(secret) };
    let said = match app.share.knock(given, &name, clock::now().seconds) {
        Ok(ticket) => {
            return with_cookie(Redirect::to("/pair/wait").into_response(), &app, "_ask", &format!("{ticket}; Path=/pair; Max-Age=600"));
        }
        Err(Turned::Wrong(left)) => format!("That is not the code. Look again at the desk: tries left for this one: {left}."),
        Err(Turned::Dead) => "Too many wrong codes: this one is dead. Ask for a new one at the desk.".to_owned(),
        Err(Turned::Used) => "This code was used already. Ask for a new one at the desk.".to_owned(),
        Err(Turned::NoCode) => "No code is good just now; each one lasts three minutes. Ask for a new one at the desk.".to_owned(),
    };
    again(StatusCode::FORBIDDEN, "", &said)
}

fn with_cookie(mut response: Response, app: &App, suffix: &str, value: &str) -> Response {
    let cookie = app.share.cookie().and_then(|name| HeaderValue::from_str(&format!("{name}{suffix}={value}; HttpOnly; SameSite=Lax")).ok());
    if let Some(cookie) = cookie {
        response.headers_mut().append(header::SET_COOKIE, cookie);
    }
    response
}

/// The ticket that a knock brought, if any.
fn ticket(app: &App, headers: &HeaderMap) -> String {
    let name = app.share.cookie().map(|name| format!("{name}_ask")).unwrap_or_default();
    door::cookies(headers, &name).next().unwrap_or("").to_owned()
}

fn told(app: &App, headers: &HeaderMap) -> Told {
    app.share.told(&ticket(app, headers), clock::now().seconds)
}

pub(crate) async fn wait(State(app): State<App>, headers: HeaderMap) -> Markup {
    let title = "Now say yes at the desk";
    let body = match told(&app, &headers) {
        Told::Wait | Told::Yes => html! {
            h1 { (title) }
            p { "The desk shows this phone's name under \u{201c}My phone\u{201d}." }
            form method="post" action="/pair/wait" data-asked="/pair/asked" { button type="submit" { "I said yes: come in" } }
            p .second { "The key that this phone gets lasts " (KEY_LASTS_DAYS) " days and can be taken away at the desk." }
        },
        Told::No => html! {
            h1 { "This phone was not let in" }
            p { "The desk said no, or it took longer than three minutes." }
            p { a href="/pair" { "Try again with a new code" } }
        },
    };
    frame(title, &body)
}

/// Whether the desk has answered; for the page's script.
pub(crate) async fn asked(State(app): State<App>, headers: HeaderMap) -> &'static str {
    if told(&app, &headers) == Told::Wait { "wait" } else { "answered" }
}

/// The phone gets its key, if the desk said yes. The key is made here and now, and only its hash is kept.
pub(crate) async fn pick_up(State(app): State<App>, headers: HeaderMap) -> Response {
    let sorry = |why: &str| stranger(StatusCode::INTERNAL_SERVER_ERROR, why);
    // Both come first: the desk's yes must not be used up for nothing.
    let (Ok(key), Ok(chance)) = (door::long_key(), door::random()) else {
        return sorry("No safe key could be made on this system.");
    };
    let now = clock::now();
    let Some((name, studio)) = app.share.pick_up(&ticket(&app, &headers), now.seconds) else {
        return Redirect::to("/pair/wait").into_response();
    };
    // The desk may have left the example that it let the phone into.
    if !app.studios().iter().any(|open| std::sync::Arc::ptr_eq(open, &studio)) {
        return stranger(StatusCode::FORBIDDEN, "The desk has left the studio that this phone was to come into. Ask for a new code there.");
    }
    let stamp = Stamp { at: now, device: "desk".to_owned(), chance: workbench::chance_of(std::iter::once(("phone", chance.as_str()))) };
    match app.ask(|bench| bench.let_in(&studio, &name, &workbench::key_hash(&key), &stamp)).await {
        Ok(()) => {
            let seconds = KEY_LASTS_DAYS * 86_400;
            let response = with_cookie(Redirect::to(LANDING).into_response(), &app, "_ask", "; Path=/pair; Max-Age=0");
            with_cookie(response, &app, "", &format!("{key}; Path=/; Max-Age={seconds}"))
        }
        Err(why) => sorry(&format!("The key could not be written down: {why}.")),
    }
}
