//! I want it on my phone: at the desk.

use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, PreEscaped, html};
use workbench::{KEY_LASTS_DAYS, Moment, Phone};

use super::kept::refused;
use crate::door::{Code, ShareError, Shared, Stage, host_name, spelled_out};
use crate::form::{Fields, Sent};
use crate::layout::Place;
use crate::room::Room;
use crate::{App, clock};

const TITLE: &str = "I want it on my phone";

/// Seconds in which a phone that was seen may still hold taps that it has not sent (judgement, no source: a making day's longest pause
/// between two taps).
const MAY_HOLD_TAPS: i64 = 600;

pub(crate) async fn page(room: Room) -> Markup {
    let now = clock::now();
    let shared = room.app().share.shared(room.studio(), now.seconds);
    let phones = room.studio().phones();
    let body = html! {
        div data-news=(told(shared.as_ref())) {
            p .second { (TITLE) }
            @match &shared {
                None => (unshared(&room)),
                Some(shared) => (next(&room, shared, now)),
            }
        }
        (list(&room, &phones, shared.as_ref(), now))
        @if let Some(shared) = &shared { (stop(&room, shared, now)) }
        (what_it_is())
    };
    room.page(Place::Share, TITLE, &body)
}

/// Nothing is shared yet: one button.
fn unshared(room: &Room) -> Markup {
    let house = room.app().share.house();
    html! {
        @match house {
            Some(address) => {
                h1 .sentence { "Share this studio with your phone, as long as the program runs." }
                p .lead { "Your phone must be in the same house network. This computer's address there is " strong { (address) } "." }
            }
            None => {
                h1 .sentence { "No house network was found: say this computer's address in it." }
                p .lead { "Its network settings show it. It looks like 192.168.1.20." }
            }
        }
        form .tell method="post" action="/share/open" {
            (room.hidden())
            @if house.is_none() { (address_fields("")) }
            @if let Some(address) = house { details { summary { "Another address, or a name" } (address_fields(&address.to_string())) } }
            button .main type="submit" { "Share with my phone" }
        }
    }
}

fn address_fields(address: &str) -> Markup {
    html! {
        div .grid {
            label { "This computer's address in the house" input type="text" name="address" value=(address) placeholder="192.168.1.20" autocomplete="off" spellcheck="false"; }
            label { "Its name in the house, if it has one (may stay empty)" input type="text" name="name" placeholder="studio.local" autocomplete="off" spellcheck="false"; }
        }
    }
}

/// What to do next while something is shared.
fn next(room: &Room, shared: &Shared, now: Moment) -> Markup {
    let stage = shared.code.as_ref().map(|code| &code.stage);
    let (said, button) = match stage {
        None => ("Let your phone in: show it a code.".to_owned(), "Show a code"),
        Some(Stage::Offered) => ("Point your phone's camera at this square.".to_owned(), ""),
        Some(Stage::Asked(name)) => (format!("Phone \u{201c}{name}\u{201d} wants in."), ""),
        Some(Stage::Allowed(name)) => (format!("Look at phone \u{201c}{name}\u{201d}: it may come in now."), ""),
        Some(Stage::In(name)) => (format!("Phone \u{201c}{name}\u{201d} is in."), "Let another phone in"),
        Some(Stage::TurnedAway(name)) => (format!("Phone \u{201c}{name}\u{201d} was turned away."), "Show a new code"),
        Some(Stage::RanOut) => ("That code ran out.".to_owned(), "Show a new code"),
        Some(Stage::Dead) => ("Five wrong codes were tried, so that code is dead. Was it you?".to_owned(), "Show a new code"),
    };
    html! {
        h1 .sentence { (said) }
        @match (&shared.code, stage) {
            (Some(code), Some(Stage::Offered)) => (offered(shared, code, now)),
            (Some(code), Some(Stage::Asked(_))) => {
                p .lead { "Is that the phone in your hand? It will see and write everything in this studio, for " (KEY_LASTS_DAYS) " days." }
                @if room.studio().is_example() { p { "This is the invented example: the phone is out when you leave it." } }
                form method="post" action="/share/answer" {
                    (room.hidden())
                    input type="hidden" name="id" value=(code.id);
                    button .main type="submit" name="answer" value="yes" { "Yes, let it in" }
                    button type="submit" name="answer" value="no" { "No" }
                }
            }
            _ => {}
        }
        @if !button.is_empty() {
            form method="post" action="/share/code" { (room.hidden()) button .main type="submit" { (button) } }
        }
        @if !matches!(stage, Some(Stage::Offered | Stage::Asked(_))) { p { "Shared at " strong { (shared.address) } } }
        @if let Some(taken) = shared.taken { p .mind { "The usual port " (taken) " was taken by something else, so the address is another one this time. Phones that were in must be let in again, and taps that they have not sent stay with the old address." } }
        @if shared.wrong > 0 { p .second { "Wrong codes since you began to share: " (shared.wrong) "." } }
    }
}

fn offered(shared: &Shared, code: &Code, now: Moment) -> Markup {
    let square = paper::square_code(&format!("{}#{}", shared.address, code.secret));
    let until = clock::hour(Moment { seconds: code.until, ..now });
    html! {
        div .pair {
            @if let Ok(square) = square { figure .qr role="img" aria-label="Square code with the address and the secret; the way to type it stands beside it" { (PreEscaped(square)) } }
            div {
                h2 { "Or type it on the phone" }
                p { "In its browser: " strong #pair-address .spelled { (shared.address) } }
                @if let Some(number) = &shared.by_number { p .second { "If that name is not found: " (number) } }
                p { "Then this code:" }
                p #pair-code .code { (spelled_out(&code.short)) }
                p { "Good once, until " strong { (until) } ", three minutes from when it was shown." }
                p .second { "Letters and figures alone: it has no I, L, O or U." }
            }
        }
    }
}

fn list(room: &Room, phones: &[Phone], shared: Option<&Shared>, now: Moment) -> Markup {
    let seen = |phone: &Phone| shared.and_then(|shared| shared.seen.get(&phone.subject)).map(|(_, at)| clock::hour(*at));
    html! {
        section {
            h2 { "Phones that were let in" }
            @if phones.is_empty() { p { "None yet." } }
            ul .jars {
                @for phone in phones {
                    li {
                        strong { (phone.name) }
                        @if !phone.is_good(now) { strong .due { " its key ran out" } }
                        p { "Let in " (phone.since.local().0) ", key until " (phone.until.local().0) }
                        p { @match seen(phone) { Some(hour) => { "Last seen at " (hour) }, None => { "Not seen since the program was opened" } } }
                        form method="post" action="/share/revoke" {
                            (room.hidden())
                            input type="hidden" name="phone" value=(phone.subject);
                            button type="submit" aria-label={ "Take its key away: " (phone.name) } { "Take its key away" }
                        }
                    }
                }
            }
        }
    }
}

fn stop(room: &Room, shared: &Shared, now: Moment) -> Markup {
    let mut lately: Vec<(&str, Moment)> =
        shared.seen.values().filter(|(_, at)| now.seconds - at.seconds < MAY_HOLD_TAPS).map(|(name, at)| (name.as_str(), *at)).collect();
    lately.sort_unstable();
    let form = |words: &str| {
        html! { form method="post" action="/share/close" { (room.hidden()) button type="submit" { (words) } } }
    };
    html! {
        section #stop {
            h2 { "Stop sharing" }
            @if lately.is_empty() { (form("Stop sharing")) }
            @else {
                div .mind {
                    @for (name, at) in &lately { p { "Phone \u{201c}" (name) "\u{201d} was here at " (clock::hour(*at)) "." } }
                    p { "What was tapped on it and not sent yet stays on it, and goes out only when you share again at the same address. Look at the phone before you stop." }
                    (form("Stop all the same"))
                }
            }
        }
    }
}

fn what_it_is() -> Markup {
    html! {
        section {
            h2 { "What it is, and what it is not" }
            ul .steps {
                li { "Plain HTTP: anyone who can listen on this Wi-Fi can read it. At home, with people you trust; not in a café." }
                li { "It ends when you stop it or the program ends. A phone's key lasts " (KEY_LASTS_DAYS) " days, so that phone needs no code the next time." }
                li { "The phone's screen goes to sleep and takes every sound with it. Set the phone's screen to stay on while you work." }
                li { "Taps that a phone has not sent stay with the address they were made at. Keep the address and the port the same." }
                li { "From a phone nobody can be let in, and the studio can't be copied: that is done here." }
            }
        }
    }
}

/// A line that changes whenever the page would say something else; the page's script asks for it.
fn told(shared: Option<&Shared>) -> String {
    let Some(shared) = shared else { return "closed".into() };
    let code = shared.code.as_ref().map(|code| (&code.id, &code.stage));
    workbench::key_hash(&format!("{} {code:?} {}", shared.address, shared.wrong))
}

pub(crate) async fn news(room: Room) -> String {
    told(room.app().share.shared(room.studio(), clock::now().seconds).as_ref())
}

pub(crate) async fn open(room: Room, State(app): State<App>, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    match opened(&room, &app, &fields).await {
        Ok(()) => home(),
        Err(why) => sorry(&room, &why),
    }
}

async fn opened(room: &Room, app: &App, fields: &Fields) -> Result<(), ShareError> {
    let typed = fields.get("address").trim();
    let address =
        if typed.is_empty() { None } else { Some(typed.parse().map_err(|_| ShareError::Address(typed.chars().take(40).collect()))?) };
    app.share_at(address, host_name(fields.get("name"))?).await?;
    app.share.offer(room.studio(), clock::now().seconds)
}

pub(crate) async fn code(room: Room, sent: Sent) -> Response {
    if let Err(refusal) = Fields::from_sent(sent, &room.token()) {
        return refusal;
    }
    match room.app().share.offer(room.studio(), clock::now().seconds) {
        Ok(()) => home(),
        Err(why) => sorry(&room, &why),
    }
}

pub(crate) async fn answer(room: Room, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    room.app().share.answer(fields.get("id"), fields.get("answer") == "yes", clock::now().seconds);
    home()
}

pub(crate) async fn revoke(room: Room, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    match room.write(&fields, |bench, studio, stamp| bench.take_key(studio, fields.get("phone"), stamp)).await {
        Ok(()) => home(),
        Err(why) => refused(&room, &why),
    }
}

pub(crate) async fn close(room: Room, sent: Sent) -> Response {
    if let Err(refusal) = Fields::from_sent(sent, &room.token()) {
        return refusal;
    }
    room.app().share.close().await;
    home()
}

fn home() -> Response {
    Redirect::to("/share").into_response()
}

fn sorry(room: &Room, why: &ShareError) -> Response {
    let said = why.to_string();
    let mut letters = said.chars();
    let said = letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect());
    room.refuse(Place::Share, StatusCode::UNPROCESSABLE_ENTITY, &format!("{said}."))
}
