//! What do these photos show? The heap, and what still wants a word.

use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use show::{TrayPhoto, TrayView};

use crate::layout::Place;
use crate::room::Room;

/// The field for a photo, on this page and on those where one may be dropped: it is measured first and asked about afterwards. With its script
/// it takes many photos and folders, and whatever is dropped on the page.
pub(crate) fn drop_here(room: &Room, ask: &str, of: &str) -> Markup {
    html! {
        form .drop method="post" action="/photos" enctype="multipart/form-data" data-heap="/photos/one" data-of=(of) {
            (room.hidden())
            input type="hidden" name="of" value=(of);
            label { (ask) input type="file" name="photo" accept="image/jpeg,image/png"; }
            div .with-script hidden {
                label { "Or a whole folder of them" input type="file" data-folder multiple; }
                p .second { "Or drop photos and folders anywhere on this page." }
            }
            button type="submit" { "What does it show?" }
        }
    }
}

/// The same where a photo is one way among others: folded away, while what is dropped on the page is taken all the same.
pub(crate) fn drop_anywhere(room: &Room, words: &str) -> Markup {
    html! { details .drop-anywhere { summary { (words) } (drop_here(room, "A photo of the board (JPEG or PNG)", "")) } }
}

pub(crate) async fn page(room: Room) -> Response {
    let view = room.look(workbench::Workbench::photo_tray).await;
    room.page(Place::Photos, "What do these photos show?", &body(&room, &view)).into_response()
}

fn body(room: &Room, view: &TrayView) -> Markup {
    html! {
        h1 .ask { "What do these photos show?" }
        p .sentence #heap-next { (view.next) }
        section #heap aria-live="polite" hidden {
            label for="heap-bar" #heap-words { "" }
            progress #heap-bar max="1" value="0" {}
            ul #heap-list .heap {}
        }
        (drop_here(room, "A photo of a board, straight from above (JPEG or PNG)", ""))
        p .second { "A printed label beside the board names it and gives its size; without one, a bank card does. Corners are found by themselves, and anything can be put right afterwards." }
        @for (words, list) in [("Not measured yet", &view.waiting), ("Whose are these?", &view.homeless), ("These could not be measured", &view.refused), ("Measured, with their boards", &view.filed)] {
            @if !list.is_empty() { section { h2 { (words) } ul .heap { @for photo in list { (one(photo)) } } } }
        }
    }
}

fn one(photo: &TrayPhoto) -> Markup {
    html! {
        li {
            a href={ "/photos/" (photo.photo) } {
                img src={ "/photo/" (photo.bytes) } alt="" loading="lazy" width="96" height="72";
                span { strong { @if photo.of.is_empty() { @if photo.caption.is_empty() { "A photo" } @else { (photo.caption) } } @else { (photo.of) } } br; (photo.says) @if photo.by_hand { " Put right by hand." } br; span .second { (show::capital(&photo.on)) } }
            }
        }
    }
}
