//! What do the books say?

use maud::{Markup, PreEscaped, html};
use show::{BookView, rule_picture};
use workbench::Workbench;

use crate::layout::Place;
use crate::room::Room;

const TITLE: &str = "What do the books say?";

pub(crate) async fn page(room: Room) -> Markup {
    let (books, ticks) = room.ask(|bench| (bench.books(), bench.handbook_ticks().to_vec())).await;
    let placed = books.iter().filter(|book| book.has_place).count();
    let body = html! {
        h1 .ask { (TITLE) }
        p .lead { (books.len()) " recipes as printed. " (placed) " hold amounts enough for a place on the rule; the others say why not." }
        figure .picture { (PreEscaped(rule_picture(&[], &ticks, Workbench::edges()))) }
        h2 { "With a place on the rule" }
        @for book in books.iter().filter(|book| book.has_place) { (one(book, &room.token())) }
        h2 { "Without one" }
        @for book in books.iter().filter(|book| !book.has_place) { (one(book, &room.token())) }
    };
    room.page(Place::Books, TITLE, &body)
}

fn one(book: &BookView, token: &str) -> Markup {
    html! {
        details .book id=(book.id) {
            summary { strong { (book.name) } " " span .second { (book.place) } }
            div .wide {
                table .pot {
                    tbody { @for (what, amount, note) in &book.rows { tr { th scope="row" { (what) } td { (amount) } td { (note) } } } }
                }
            }
            @if !book.assumption.is_empty() { p .second { "To place it: " (book.assumption) "." } }
            p .source { (book.id) " · " (book.source) }
            @if !book.told.is_empty() {
                form method="post" action="/recipe" {
                    input type="hidden" name="token" value=(token);
                    input type="hidden" name="told" value=(book.told);
                    button .quiet type="submit" { "See it as a card" }
                }
            }
        }
    }
}
