//! What does this photo show? One photo, with its cracks drawn over it, and what may be put right.

use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, html};
use show::{FoundView, SightView};
use workbench::{Studio, StudioError, TypedLook, Workbench};

use super::card::figures;
use super::kept::refused;
use super::notebook::take_back;
use crate::form::{Fields, Path, Sent};
use crate::layout::Place;
use crate::room::Room;

pub(crate) async fn page(room: Room, Path(photo): Path<String>) -> Response {
    match room.ask(|bench| bench.sight(room.studio(), &photo)).await {
        Ok(view) => room.page(Place::Photos, "What does this photo show?", &body(&room, &view)).into_response(),
        Err(why) => refused(&room, &why),
    }
}

fn body(room: &Room, view: &SightView) -> Markup {
    let none = FoundView::default();
    let best = view.best().unwrap_or(&none);
    let measured = view.look.is_some() && best.why.is_empty();
    html! {
        p .second {
            a href="/photos" { "All photos" } " · "
            @if let Some(of) = &view.of { a href=(of.address) { (of.name) } " · " }
            @if !view.caption.is_empty() { (view.caption) }
        }
        h1 .sentence { (view.next) }
        @if view.corrected.is_some() { p .what { (show::capital(&view.read)) "." } }
        @if measured { (size_asked(room, view, best)) }
        div .two {
            div {
                (picture(view, best))
                // Next to the picture: whoever rubs out looks at both.
                @if measured { (put_right(room, view)) } @else { (told(room, view, best)) }
            }
            div {
                @for more in &best.more { p .what { (more) } }
                (day(room, view))
                (whose(room, view, measured))
            }
        }
        @if measured { (told(room, view, best)) }
        @if measured && !view.others.is_empty() {
            section {
                h2 { "What grew?" }
                p { "Beside another photo of this board:" @for (other, day) in &view.others { " " a .button href={ "/photos/" (view.photo) "/since/" (other) } { "that of " (day) } } }
            }
        }
        @if !best.doubts.is_empty() { section { h2 { "What this photo leaves in doubt" } ul { @for doubt in &best.doubts { li { (doubt) } } } } }
        @if measured { section { h2 { "In figures" } (figures(&best.figures)) } }
        @if let (Some(found), Some(corrected)) = (&view.found, &view.corrected) {
            details { summary { "What came out before it was put right by hand" } p { (found.sentence) } (figures(&found.figures)) p .second { "It stays in the notebook; what counts is " (corrected.sentence) } }
        }
        @if measured && !best.version.is_empty() { p .second { (show::capital(&view.read)) "; groundproof " (best.version) "." } }
        (take_back(room, view.entry, "Take this photo back"))
    }
}

/// The one thing that keeps figures from millimetres, asked where it is missed; all else that was told stays as it is.
fn size_asked(room: &Room, view: &SightView, best: &FoundView) -> Markup {
    let [_, corners, grain, patch] = &view.told;
    let asked = best.questions.iter().find(|(question, _)| question == "board");
    html! {
        @if let Some((_, ask)) = asked {
            form .size method="post" action={ "/photos/" (view.photo) "/measure" } {
                (room.hidden())
                @for (name, value) in [("corners", if view.corners_told { corners.as_str() } else { "" }), ("grain", grain), ("patch", patch)] {
                    input type="hidden" name=(name) value=(value);
                }
                @if let Some(gap) = &view.lattice { input type="hidden" name="cut" value="yes"; input type="hidden" name="lattice" value=(gap); }
                div .row { label { (ask) input type="text" name="board" placeholder="200x250mm"; } button .main type="submit" { "It is this large" } }
            }
        }
    }
}

/// When it was taken, and that it was another day.
fn day(room: &Room, view: &SightView) -> Markup {
    html! {
        details .day {
            summary { (show::capital(&view.taken.words)) }
            form method="post" action={ "/photos/" (view.photo) "/day" } {
                (room.hidden())
                div .row {
                    label { "Day when it was taken; empty: as the photo says" input type="date" name="day" value=(view.taken.day); }
                    button type="submit" { "It was this day" }
                }
            }
        }
    }
}

/// Whose it is and what follows: readings of a board, or the question why it failed.
fn whose(room: &Room, view: &SightView, measured: bool) -> Markup {
    let action = |deed: &str| format!("/photos/{}/{deed}", view.photo);
    let best = view.best();
    html! {
        @if view.of.is_none() {
            section {
                h2 { "Whose is it?" }
                form method="post" action=(action("file")) {
                    (room.hidden())
                    div .row { label { "Number or id of the board" input type="text" name="board" placeholder="07, or GP-7K3M-Q2X"; } button type="submit" { "It is this board" } }
                }
            }
        }
        @if let (true, Some(best)) = (measured, best) {
            @if view.written.is_empty() && view.of.as_ref().is_some_and(|of| of.reads) && !best.class.is_empty() {
                form method="post" action=(action("write")) {
                    (room.hidden())
                    button .main type="submit" { "These are right: write them down" }
                    label { "They were so on this day" input type="date" name="day" value=(view.taken.day); }
                    p .second { "Class " (best.class) ", own scale, shaped like ISO 4628-4, and the crack length to the area" @if let Some(class) = &best.lattice { "; lattice class " (class) ", after ISO 2409" } "; the photo stays with them as evidence." }
                }
            }
            @if !view.written.is_empty() { p .what { "Written down from this photo: " (view.written.join("; ")) "." } }
            @if !best.taps.is_empty() {
                form method="post" action="/failed" {
                    (room.hidden())
                    @for [tap, answer, _] in &best.taps { input type="hidden" name={ "tap." (tap) } value=(answer); }
                    button type="submit" { "It failed. Why?" }
                    ul .second { @for [_, answer, because] in &best.taps { li { (answer) ": " (because) } } }
                }
            }
        }
        @if view.of.is_none() {
            details {
                summary { "It belongs to no trial: keep it as a board that failed" }
                form method="post" action=(action("failed")) { (room.hidden()) label { "What do you call it?" input type="text" name="name" maxlength="200" placeholder="panel 3, north wall"; } button type="submit" { "Keep this board" } }
            }
        }
    }
}

/// The photo with its cracks over it. Corners and strokes are handled by the page's script.
fn picture(view: &SightView, best: &FoundView) -> Markup {
    let corners = view.told.get(1).map_or("", String::as_str);
    let box_px = best.photo_px.map(|[width, height]| format!("0 0 {width} {height}"));
    html! {
        div .sight data-photo=(view.photo) data-corners=(corners) {
            div .sight-tools hidden {
                @if !best.paths.is_empty() { label .choice { input type="checkbox" data-cracks checked; span { "Show the cracks" } } }
                button .quiet type="button" data-zoom="in" { "Nearer" }
                button .quiet type="button" data-zoom="out" { "Further" }
                span .second { "Two fingers, or the wheel with Ctrl, bring it nearer." }
            }
            div .sight-frame {
                div .sight-view {
                    div .sight-sheet {
                        img src={ "/photo/" (view.bytes) } alt={ "The photo. " (view.next) };
                        svg .sight-over viewBox=[box_px] aria-hidden="true" {
                            defs { g #sight-lines { @for path in &best.paths { path d=(path) {} } } }
                            // Dark with a light rim: to be seen on any ground, without its colour too.
                            g .sight-cracks { use .rim href="#sight-lines" {} use href="#sight-lines" {} }
                            g .sight-strokes {}
                            g .sight-corners {}
                        }
                    }
                }
            }
        }
    }
}

/// What was told of the photo, and measuring anew.
fn told(room: &Room, view: &SightView, best: &FoundView) -> Markup {
    let [board, corners, grain, patch] = &view.told;
    let asked = |id: &str| best.questions.iter().find(|(question, _)| question == id).map(|(_, ask)| ask.as_str());
    let wants = view.look.is_none() || !best.why.is_empty();
    html! {
        details open[wants] {
            summary { @if view.look.is_none() { "Measure it" } @else { "Size, corners, grain: measure it anew" } }
            form .measure method="post" action={ "/photos/" (view.photo) "/measure" } {
                (room.hidden())
                label { "How large is the board, as it lies in the photo, across first?"
                    input type="text" name="board" value=(board) placeholder="200x250mm; empty: by label or bank card"; }
                fieldset .question {
                    legend { (asked("grain").unwrap_or("Which way does the grain of the wood run?")) }
                    @for (value, words) in [("", "not said"), ("across", "as the upper edge"), ("down", "down the board")] {
                        label .choice { input type="radio" name="grain" value=(value) checked[grain == value]; span { (words) } }
                    }
                }
                label { "Corners of the board: drag them in the picture, or write top left, top right, bottom right, bottom left, in pixels of the photo; empty: found by itself"
                    input type="text" name="corners" value=(if view.corners_told { corners.as_str() } else { "" }) placeholder=(corners) autocomplete="off"; }
                label { "A grey or white card in the same light, for how white it is: x,y,width,height=share of light"
                    input type="text" name="patch" value=(patch) placeholder="40,60,200,200=0.18"; }
                div {
                    label .choice { input type="checkbox" name="cut" value="yes" checked[view.lattice.is_some()]; span { "A lattice of six cuts each way was cut into it" } }
                    label { "From cut to cut, if known" input type="text" name="lattice" value=(view.lattice.as_deref().unwrap_or("")) placeholder="2mm"; }
                    p .caution { "A blade cuts: lead it away from your fingers, on a cutting mat. Local rules come first." }
                }
                button .main[wants] type="submit" { @if view.look.is_none() { "What does it show?" } @else { "Measure anew" } }
            }
        }
    }
}

/// Rubbing out and drawing in.
fn put_right(room: &Room, view: &SightView) -> Markup {
    let [rubbed, drawn] = &view.strokes;
    html! {
        details .put-right open[view.corrected.is_some()] {
            summary { "Put the cracks right" }
            form method="post" action={ "/photos/" (view.photo) "/correct" } {
                (room.hidden())
                fieldset .question hidden {
                    legend { "What does a stroke over the photo do?" }
                    @for (value, words) in [("", "it moves the photo"), ("rub", "it rubs out what is no crack"), ("draw", "it draws in what was missed: along the crack, or tap by tap, the last place twice")] {
                        label .choice { input type="radio" name="tool" value=(value) checked[value.is_empty()]; span { (words) } }
                    }
                }
                details open {
                    summary { "Strokes as text" }
                    label { "Rubbed out, one stroke a line: half its width, then its places, in pixels of the photo"
                        textarea name="rubbed" rows="2" spellcheck="false" placeholder="12:200,150;260,155" { (rubbed) } }
                    label { "Drawn in, one crack a line: its places"
                        textarea name="drawn" rows="2" spellcheck="false" placeholder="200,150;260,155" { (drawn) } }
                }
                div .row {
                    button .quiet type="button" data-undo hidden { "Undo the last stroke" }
                    button type="submit" { "Measure with this" }
                }
                p .second { "What was found by itself stays in the notebook. A drawn crack follows the darkest way near your stroke, and its width is measured like all others." }
            }
        }
    }
}

/// A form of this page: writes, then shows the photo again.
async fn written(
    room: Room,
    photo: String,
    sent: Sent,
    write: impl FnOnce(&Fields, &Workbench, &Studio, &workbench::Stamp) -> Result<(), StudioError>,
) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    match room.measure(&fields, |bench, studio, stamp| write(&fields, bench, studio, stamp)).await {
        Ok(()) => Redirect::to(&format!("/photos/{photo}")).into_response(),
        Err(why) => refused(&room, &why),
    }
}

pub(crate) async fn measure(room: Room, Path(photo): Path<String>, sent: Sent) -> Response {
    let subject = photo.clone();
    written(room, photo, sent, |fields, bench, studio, stamp| {
        let get = |name: &str| fields.get(name).to_owned();
        let told = TypedLook {
            board: get("board"),
            corners: get("corners"),
            grain: get("grain"),
            patch: get("patch"),
            lattice: (fields.get("cut") == "yes").then(|| get("lattice")),
        };
        bench.measure_photo(studio, &subject, &told, stamp)
    })
    .await
}

pub(crate) async fn correct(room: Room, Path(photo): Path<String>, sent: Sent) -> Response {
    let subject = photo.clone();
    written(room, photo, sent, |fields, bench, studio, stamp| {
        bench.correct_photo(studio, &subject, fields.get("rubbed"), fields.get("drawn"), stamp)
    })
    .await
}

pub(crate) async fn day_told(room: Room, Path(photo): Path<String>, sent: Sent) -> Response {
    let subject = photo.clone();
    written(room, photo, sent, |fields, bench, studio, stamp| bench.day_photo(studio, &subject, fields.get("day"), stamp)).await
}

pub(crate) async fn file(room: Room, Path(photo): Path<String>, sent: Sent) -> Response {
    let subject = photo.clone();
    written(room, photo, sent, |fields, bench, studio, stamp| bench.file_photo(studio, &subject, fields.get("board"), stamp)).await
}

pub(crate) async fn failed(room: Room, Path(photo): Path<String>, sent: Sent) -> Response {
    let subject = photo.clone();
    written(room, photo, sent, |fields, bench, studio, stamp| bench.photo_of_failed(studio, &subject, fields.get("name"), stamp)).await
}

pub(crate) async fn write(room: Room, Path(photo): Path<String>, sent: Sent) -> Response {
    let subject = photo.clone();
    written(room, photo, sent, |fields, bench, studio, stamp| {
        bench.write_photo_down(studio, &subject, fields.get("strip"), fields.get("day"), stamp)
    })
    .await
}
