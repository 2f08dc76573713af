//! Who asks, and in which studio: their own, or the invented example that lies beside it in memory.

use std::sync::Arc;

use axum::extract::FromRequestParts;
use axum::http::header;
use axum::http::request::Parts;
use axum::http::{Method, StatusCode};
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use workbench::{Day, FailedRequest, Notebook, Stamp, Studio, VerdictRequest, Workbench};

use crate::door::Caller;
use crate::form::Fields;
use crate::layout::{self, Place};
use crate::{App, clock};

/// What a page may use to answer one request.
#[derive(Debug, Clone)]
pub(crate) struct Room {
    app: App,
    studio: Arc<Studio>,
    caller: Caller,
    /// Page of this program from which the request came.
    from: String,
    /// Whether a form was sent.
    sent: bool,
}

impl FromRequestParts<App> for Room {
    type Rejection = Response;

    async fn from_request_parts(parts: &mut Parts, app: &App) -> Result<Self, Response> {
        // The door lets nobody pass without it.
        let Some(caller) = parts.extensions.get::<Caller>().cloned() else {
            return Err((StatusCode::FORBIDDEN, layout::bare("Not from here", "This page opens only for whoever came in by the door."))
                .into_response());
        };
        let studio = match &caller {
            Caller::Desk(session) => app.studio_of(session),
            Caller::Phone { studio, .. } => Arc::clone(studio),
        };
        // What another process wrote in the meantime (the command line, say) belongs on the page too.
        let asked = Arc::clone(&studio);
        if let Err(why) = tokio::task::block_in_place(|| asked.keeper().refresh()) {
            return Err((StatusCode::INTERNAL_SERVER_ERROR, layout::bare("The studio can't be read", &why.to_string())).into_response());
        }
        let referer = parts.headers.get(header::REFERER).and_then(|value| value.to_str().ok()).unwrap_or("");
        let from = referer.split_once("://").and_then(|(_, rest)| rest.find('/').and_then(|at| rest.get(at..))).unwrap_or("").to_owned();
        Ok(Self { app: app.clone(), studio, caller, from, sent: parts.method == Method::POST })
    }
}

impl Room {
    /// Asks the workbench something that needs no notebook.
    pub(crate) async fn ask<T>(&self, sum: impl FnOnce(&Workbench) -> T) -> T {
        self.app.ask(sum).await
    }

    /// Asks the workbench about this studio.
    pub(crate) async fn look<T>(&self, sum: impl FnOnce(&Workbench, &Notebook) -> T) -> T {
        let state = self.studio.state();
        self.app.ask(|bench| sum(bench, &state)).await
    }

    /// Has the workbench write in this studio.
    pub(crate) async fn write<T>(&self, fields: &Fields, sum: impl FnOnce(&Workbench, &Studio, &Stamp) -> T) -> T {
        let stamp = self.stamp(fields);
        self.app.ask(|bench| sum(bench, &self.studio, &stamp)).await
    }

    /// Has the workbench measure a photo of this studio.
    pub(crate) async fn measure<T>(&self, fields: &Fields, look: impl FnOnce(&Workbench, &Studio, &Stamp) -> T) -> T {
        let stamp = self.stamp(fields);
        self.app.measure(|bench| look(bench, &self.studio, &stamp)).await
    }

    pub(crate) fn studio(&self) -> &Arc<Studio> {
        &self.studio
    }

    /// Whether a phone asks. The desk's own affairs are none of its business: who may come in, where the studio lies.
    pub(crate) fn is_phone(&self) -> bool {
        matches!(self.caller, Caller::Phone { .. })
    }

    /// Session of the desk's browser.
    pub(crate) fn session(&self) -> Option<&str> {
        match &self.caller {
            Caller::Desk(session) => Some(session),
            Caller::Phone { .. } => None,
        }
    }

    pub(crate) fn app(&self) -> &App {
        &self.app
    }

    /// Now where the program runs.
    pub(crate) fn now() -> workbench::Moment {
        clock::now()
    }

    /// Today where the program runs.
    pub(crate) fn today() -> Day {
        clock::now().local().0
    }

    /// The same form sent twice brings the same stamp, so it is written once; a form that was changed in between is another one.
    fn stamp(&self, fields: &Fields) -> Stamp {
        Stamp { at: clock::now(), device: self.device().to_owned(), chance: workbench::chance_of(fields.iter()) }
    }

    /// Token of forms in this studio; the other studio has another, and each phone its own.
    pub(crate) fn token(&self) -> String {
        if let Caller::Phone { token, .. } = &self.caller {
            return token.clone();
        }
        let kind = if self.studio.is_example() { "example" } else { "own" };
        format!("{}-{kind}", self.app.door.token())
    }

    /// Hidden fields of every form: the token, and a mark that makes this form different from all others.
    pub(crate) fn hidden(&self) -> Markup {
        html! {
            input type="hidden" name="token" value=(self.token());
            input type="hidden" name="once" value=(crate::door::random().unwrap_or_default());
        }
    }

    /// The page of a making day; `state` stands in its head.
    pub(crate) fn day_page(&self, title: &str, state: &Markup, body: &Markup) -> Markup {
        layout::day_page(title, state, body, self.studio.is_example().then_some(&self.leave()), self.is_phone())
    }

    /// The way out of the example; a phone has none, it stays where it was let in.
    fn leave(&self) -> Markup {
        html! { @if !self.is_phone() { form method="post" action="/example/leave" { input type="hidden" name="token" value=(self.token()); button .quiet type="submit" { "Back to my own studio" } } } }
    }

    /// What writes here: a phone by its name, or the desk.
    pub(crate) fn device(&self) -> &str {
        match &self.caller {
            Caller::Desk(_) => "desk",
            Caller::Phone { name, .. } => name,
        }
    }

    /// A whole page.
    pub(crate) fn page(&self, place: Place, title: &str, body: &Markup) -> Markup {
        layout::page(place, title, body, self.studio.is_example().then_some(&self.leave()), self.is_phone())
    }

    /// Page of this program from which the request came; empty if it came from elsewhere.
    pub(crate) fn page_before(&self) -> &str {
        &self.from
    }

    /// A page that says what is wrong and how to mend it, with the way back.
    pub(crate) fn refuse(&self, place: Place, status: StatusCode, why: &str) -> Response {
        let place = match self.from.split(['/', '?']).nth(1) {
            Some("trials" | "board") => Place::Trials,
            Some("shelf" | "weigh") => Place::Shelf,
            Some("notebook") => Place::Log,
            Some("now") => Place::Now,
            Some("photos") => Place::Photos,
            _ => place,
        };
        let way = match (self.sent, status) {
            (true, _) => "Nothing was written. Go back in the browser: what you typed is still there.",
            (false, StatusCode::NOT_FOUND) => "Look at the list: what there is stands there.",
            (false, _) => "Nothing was changed.",
        };
        let body = html! { h1 .sentence { "One thing first" } p .lead role="alert" { (why) } p .second { (way) } @if self.from.starts_with('/') { p { a .button href=(self.from) { "Open that page anew" } } } };
        (status, self.page(place, "One thing first", &body)).into_response()
    }

    /// The recipe of a form, with the painter's own measured values.
    pub(crate) fn verdict(&self, fields: &Fields, suffix: &str, bench: &Workbench) -> VerdictRequest {
        let told = fields.verdict(suffix);
        let state = self.studio.state();
        VerdictRequest { own: bench.own_values_for(&state, &told.told), seen: bench.boards_seen(&state), ..told }
    }

    /// The failed board of a form, with the painter's own measured values.
    pub(crate) fn failed(&self, fields: &Fields, bench: &Workbench) -> FailedRequest {
        let told = fields.failed();
        FailedRequest { own: bench.own_values_for(&self.studio.state(), &told.told), ..told }
    }
}
