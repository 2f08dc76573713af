//! Nothing is under way: what dries, what spoils, what is due.

use maud::{Markup, html};
use show::{QuietLine, QuietNow};

use super::day::{air_fields, end_form};

pub(super) fn body(hidden: &Markup, view: &QuietNow, written: &str, data: &Markup) -> Markup {
    html! {
        (data)
        p .second #state role="status" hidden {}
        ul #notes .plain {}
        @if !written.is_empty() { p .mind role="status" { (written) } }
        p #trouble .own role="alert" {}
        h1 .sentence { a href=(view.next_at) { (view.next) } }
        @if let Some(sitting) = &view.stuck { (stuck(hidden, sitting)) }
        (lines("What dries", "Nothing is drying.", &view.drying))
        (lines("What spoils", "Nothing stands and spoils.", &view.spoiling))
        @if !view.waiting.is_empty() { (lines("Jars that wait for a step", "", &view.waiting)) }
        (lines("What wants a look", "No board wants a look.", &view.looks))
        (lines("Days that can begin", "No day is ready: close a plan first.", &view.days))
        template #mould-note { li { p data-slot="line" {} button .quiet type="button" { "I have read it" } } }
    }
}

/// What can still be said of a day that can't be shown.
fn stuck(hidden: &Markup, sitting: &str) -> Markup {
    html! {
        section {
            h2 { "The day that is under way" }
            p .second { "It can't be shown as it is, but it can be ended, and the air be written down. Nothing that was tapped is lost." }
            (end_form(hidden, sitting, "end"))
        }
        section { h2 { "The air" } form #read-air .small method="post" action="/now/air" { (air_fields(hidden, sitting)) } p #read-air-said .mind role="status" {} }
    }
}

fn lines(title: &str, none: &str, lines: &[QuietLine]) -> Markup {
    html! {
        section {
            h2 { (title) }
            @if lines.is_empty() { p .second { (none) } }
            ul .plain { @for line in lines { li { a .line href=(line.at) { (line.say) } } } }
        }
    }
}
