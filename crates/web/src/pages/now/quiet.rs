//! Nothing is under way: what dries, what spoils, what is due.

use maud::{Markup, html};
use show::{QuietLine, QuietNow};

pub(super) fn body(view: &QuietNow, data: &Markup) -> Markup {
    html! {
        (data)
        p .second #state role="status" hidden {}
        ul #notes .plain {}
        p #trouble .own role="alert" {}
        h1 .sentence { a href=(view.next_at) { (view.next) } }
        (lines("What dries", "Nothing is drying.", &view.drying))
        (lines("What spoils", "Nothing stands and spoils.", &view.spoiling))
        (lines("What wants a look", "No board wants a look.", &view.looks))
        (lines("Days that can begin", "No day is ready: close a plan first.", &view.days))
        template #mould-note { li { p data-slot="line" {} button .quiet type="button" { "I have read it" } } }
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
