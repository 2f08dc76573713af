//! The frame around every page.

use maud::{DOCTYPE, Markup, html};

/// Where a page stands in the row of links.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Place {
    Now,
    Front,
    Beside,
    Failed,
    Milk,
    Binder,
    Binders,
    Swap,
    Wish,
    Enlarge,
    Save,
    Goes,
    Even,
    Photos,
    Glue,
    Jars,
    Books,
    Kept,
    Shelf,
    Trials,
    Log,
    Share,
}

const LINKS: [(Place, &str, &str); 7] = [
    (Place::Now, "/now", "Now"),
    (Place::Front, "/", "A recipe"),
    (Place::Failed, "/failed", "A failed board"),
    (Place::Milk, "/milk", "Milk and powder"),
    (Place::Trials, "/trials", "My boards"),
    (Place::Shelf, "/shelf", "My shelf"),
    (Place::Kept, "/kept", "What I keep"),
];

/// Rooms that are looked up now and then.
const MORE: [(Place, &str, &str); 15] = [
    (Place::Binder, "/binder", "Binder from the fridge"),
    (Place::Binders, "/binders", "My jars of binder"),
    (Place::Wish, "/wish", "What I wish for"),
    (Place::Enlarge, "/enlarge", "The real panels"),
    (Place::Swap, "/swap", "What instead"),
    (Place::Save, "/save", "My pot is not right"),
    (Place::Goes, "/goes", "Powder and binder"),
    (Place::Even, "/even", "First and last board"),
    (Place::Glue, "/glue", "Glue or gelatine"),
    (Place::Photos, "/photos", "Photos of boards"),
    (Place::Log, "/notebook", "The notebook"),
    (Place::Beside, "/beside", "Two beside each other"),
    (Place::Jars, "/jars", "The jars"),
    (Place::Books, "/books", "The books"),
    (Place::Share, "/share", "My phone"),
];

/// A page: `title` is what the painter would say. A phone has no way to the desk's own rooms.
pub(crate) fn page(place: Place, title: &str, body: &Markup, leave_example: Option<&Markup>, on_phone: bool) -> Markup {
    let more = || MORE.iter().filter(|(each, _, _)| !(on_phone && *each == Place::Share));
    html! {
        (DOCTYPE)
        html lang="en" {
            (head(title, place == Place::Now, SCRIPTS.iter().find(|(of, _)| *of == place).map_or(&[], |(_, scripts)| scripts)))
            body {
                a .skip href="#main" { "Skip to the page" }
                header .top {
                    a .mark href="/" { "groundproof" }
                    nav aria-label="Rooms" {
                        ul {
                            @for (each, address, words) in LINKS {
                                li { a href=(address) aria-current=[(each == place).then_some("page")] { (words) } }
                            }
                            li {
                                details .more {
                                    summary { "More" @for (_, _, words) in more().filter(|(each, _, _)| *each == place) { ":\u{a0}" strong { (words) } } }
                                    ul { @for (each, address, words) in more() { li { a href=(address) aria-current=[(*each == place).then_some("page")] { (words) } } } }
                                }
                            }
                        }
                    }
                }
                @if let Some(leave) = leave_example {
                    aside .invented aria-label="Example studio" { p { strong { "Invented example. " } "Nobody weighed or saw any of this; write in it as you like, it is gone when you leave." } (leave) }
                }
                main #main tabindex="-1" { (body) }
                footer {
                    p { "It argues from books and sums, and says how far it can be trusted. It gives no promise: follow the safety data sheet and local rules, and where it matters ask a licensed professional or a conservator." }
                }
            }
        }
    }
}

/// The page of a making day: on a phone the one thing to do comes first, so all rooms lie one tap below.
pub(crate) fn day_page(title: &str, state: &Markup, body: &Markup, leave_example: Option<&Markup>, on_phone: bool) -> Markup {
    let rooms = LINKS.iter().chain(&MORE).filter(|(each, _, _)| !(on_phone && *each == Place::Share));
    html! {
        (DOCTYPE)
        html lang="en" {
            (head(title, true, &[]))
            body .making {
                a .skip href="#main" { "Skip to the page" }
                header .top {
                    a .mark href="/" { "groundproof" }
                    nav aria-label="Rooms" {
                        details .more {
                            summary { "Other rooms" }
                            ul { @for (each, address, words) in rooms { li { a href=(address) aria-current=[(*each == Place::Now).then_some("page")] { (words) } } } }
                        }
                    }
                    (state)
                }
                @if let Some(leave) = leave_example {
                    aside .invented aria-label="Example studio" { p { strong { "Invented example. " } "Write in it as you like, it is gone when you leave." } (leave) }
                }
                main #main tabindex="-1" { (body) }
            }
        }
    }
}

/// A page for those who are not inside, or whose request went wrong.
pub(crate) fn bare(title: &str, why: &str) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            (head(title, false, &[]))
            body {
                header .top { span .mark { "groundproof" } }
                main #main { h1 { (title) } p .lead { (why) } p { a href="/" { "To the first page" } } }
            }
        }
    }
}

/// Scripts of the page of the day, the first of which asks for the others; all are named at once, so that a slow network is waited for once.
const DAY_PARTS: [&str; 3] = ["/assets/day.js", "/assets/queue.js", "/assets/draw.js"];

/// Scripts that only some pages want: where photos are dropped, and where one is drawn on.
const SCRIPTS: [(Place, &[&str]); 3] = [
    (Place::Front, &["/assets/heap.js"]),
    (Place::Failed, &["/assets/heap.js"]),
    (Place::Photos, &["/assets/heap.js", "/assets/sight.js", "/assets/since.js"]),
];

fn head(title: &str, now: bool, more: &[&str]) -> Markup {
    html! {
        head {
            meta charset="utf-8";
            meta name="viewport" content="width=device-width, initial-scale=1";
            meta name="color-scheme" content="light dark";
            title { (title) " · groundproof" }
            link rel="icon" href="/favicon.ico" type="image/svg+xml";
            link rel="stylesheet" href="/assets/page.css";
            @if now {
                link rel="stylesheet" href="/assets/now.css";
                @for part in DAY_PARTS { link rel="modulepreload" href=(part); }
                script type="module" src="/assets/now.js" {}
            } @else {
                link rel="stylesheet" href="/assets/face.css";
                script type="module" src="/assets/live.js" {}
                @for script in more { script type="module" src=(script) {} }
            }
        }
    }
}
