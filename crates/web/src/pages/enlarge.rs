//! Now the real panels: batches, shopping list, bench sheet, cut list.

use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use show::{EnlargeLine, EnlargeView};
use workbench::EnlargeForm;

use super::card;
use crate::form::{Fields, Sent};
use crate::layout::Place;
use crate::room::Room;

const TITLE: &str = "Now the real panels";

pub(crate) async fn empty(room: Room) -> Markup {
    let body = html! {
        h1 .ask { (TITLE) }
        p .lead { "Say the recipe that did well and the panels. Batches, amounts and the shopping list come out." }
        (fields(&room, &EnlargeForm::default()))
    };
    room.page(Place::Enlarge, TITLE, &body)
}

pub(crate) async fn page(room: Room, sent: Sent) -> Response {
    let sent = match Fields::from_sent(sent, &room.token()) {
        Ok(sent) => sent,
        Err(refusal) => return refusal,
    };
    let told = sent.enlarge();
    // From a card only the recipe comes along: the panels are still to be said.
    if sent.get("asked").is_empty() {
        let form = EnlargeForm { told: told.told, ..EnlargeForm::default() };
        let body = html! { h1 .ask { "Which panels?" } (fields(&room, &form)) };
        return room.page(Place::Enlarge, TITLE, &body).into_response();
    }
    let answer = room
        .look(|bench, state| {
            let form = EnlargeForm { own: bench.own_values_for(state, &told.told), ..told.clone() };
            bench.enlarge(state, &form, Room::today())
        })
        .await;
    match answer {
        Ok(view) => room.page(Place::Enlarge, TITLE, &shown(&room, &view, &told)).into_response(),
        Err(why) => {
            let body = html! { h1 .sentence { "One thing first" } p .lead role="alert" { (show::capital(&why.to_string())) } (fields(&room, &told)) };
            (StatusCode::UNPROCESSABLE_ENTITY, room.page(Place::Enlarge, TITLE, &body)).into_response()
        }
    }
}

fn shown(room: &Room, view: &EnlargeView, form: &EnlargeForm) -> Markup {
    let report = &view.report;
    html! {
        h1 #sentence .sentence { (view.sentence) }
        p .lead { (view.verdict) }
        @for said in &view.more { p { (said) } }
        section #buy {
            h2 { "What to buy" }
            p .what { (view.buy) }
            (card::mind(&view.mind))
            @if !report.shopping.is_empty() {
                table .pot {
                    caption { "For all panels, against the shelf" }
                    thead { tr { th scope="col" { "what" } th scope="col" { "needed" } th scope="col" { "on the shelf" } th scope="col" { "buy" } th scope="col" { "costs" } } }
                    tbody {
                        @for line in &report.shopping {
                            tr {
                                th scope="row" { a href={ "/jars/" (line.material) } { (line.name) } @if !line.note.is_empty() { p .second { (line.note) "." } } }
                                td { (line.need) } td { (line.stock) } td { (line.buy) } td { (line.cost) }
                            }
                        }
                    }
                }
            }
            @for said in &report.cost { p { (said) } }
            @for note in &view.notes { p .second { (note) } }
        }
        section #bench {
            h2 { "Bench sheet" }
            @for batch in &report.batches {
                @let name = format!("Batch {}: {}, for {}", batch.number, show::weighed(batch.wet_g), batch.serves);
                (table(&name, &batch.lines))
            }
            @if report.batches.len() > 1 { (table("All batches together", &report.all)) }
            @for warning in &report.warnings { p .second { (warning.text) } }
        }
        section { h2 { "While it dries" } @for said in &view.drying { p { (said) } } }
        @if !report.sheets.is_empty() {
            section #cuts {
                h2 { "Out of sheets" }
                p {
                    (report.sheets.len()) @if report.sheets.len() == 1 { " sheet. " } @else { " sheets. " }
                    @if report.sheets_least == Some(true) { "Fewer can't do with cuts from edge to edge." } @else { "A good way, not shown to be the least." }
                }
                @for sheet in &report.sheets {
                    h3 { "Sheet " (sheet.number) ": " (sheet.gives) }
                    ol .steps { @for cut in &sheet.cuts { li { (cut) } } }
                }
                p .caution { "Dust of wood and fibreboard harms: saw and sand with extraction or outdoors. Ventilate, and use the respirator, gloves and eye protection that the safety data sheet and local rules ask for." }
            }
        }
        section { h2 { "Other panels" } (fields(room, form)) }
    }
}

fn table(name: &str, lines: &[EnlargeLine]) -> Markup {
    html! {
        table .pot {
            caption { (name) }
            thead { tr { th scope="col" { "what" } th scope="col" { "grams" } th scope="col" { "in level cups and spoons" } } }
            tbody { @for line in lines { tr { th scope="row" { a href={ "/jars/" (line.material) } { (line.name) } } td { (line.weigh) } td { (line.in_spoons) } } } }
        }
    }
}

fn fields(room: &Room, form: &EnlargeForm) -> Markup {
    html! {
        form .tell #enlarge method="post" action="/enlarge" {
            (room.hidden())
            input type="hidden" name="asked" value="yes";
            label for="told" { "The recipe" }
            textarea #told name="told" rows="5" spellcheck="false" { (form.told) }
            label for="panels" { "The panels" span .second { "one size a line: 5 x 60x80cm" } }
            textarea #panels name="panels" rows="2" spellcheck="false" { (form.panels) }
            div .grid {
                label { "Coats" input type="text" inputmode="numeric" name="coats" value=[form.coats] placeholder="4"; }
                label { "Edges coated too, thick" span .second { "may stay empty" } input type="text" name="edges" value=(form.edges) placeholder="2cm"; }
                label { "One wet coat, g/m²" input type="text" inputmode="decimal" name="wet-mass" value=[form.wet_g_m2.map(show::plain)] placeholder="200"; }
                label { "Or all coats dry, µm" input type="text" inputmode="decimal" name="dry" value=[form.dry_um.map(show::plain)]; }
                label { "Lost in brush and pot, %" input type="text" inputmode="decimal" name="loss" value=[form.loss_percent.map(show::plain)] placeholder="20"; }
                label { "Largest batch, g" input type="text" inputmode="decimal" name="biggest" value=[form.biggest_g.map(show::plain)]; }
                label { "My spoons" span .second { "us, metric, or 240/15/5 in ml" } input type="text" name="spoons" value=(form.spoons) placeholder="us"; }
                label { "Step of my scale, g" input type="text" inputmode="decimal" name="scale" value=[form.scale_g.map(show::plain)] placeholder="1"; }
                label { "Cut from sheets of" span .second { "for a cut list" } input type="text" name="sheet" value=(form.sheet) placeholder="122x244cm"; }
                label { "The saw eats, mm" input type="text" inputmode="decimal" name="kerf" value=[form.kerf_mm.map(show::plain)] placeholder="3"; }
            }
            fieldset .question {
                legend { "And" }
                label .choice { input type="checkbox" name="backs" value="yes" checked[form.backs]; span { "the backs are coated as well" } }
                label .choice { input type="checkbox" name="one-each" value="yes" checked[form.one_each]; span { "a batch for each panel" } }
            }
            button .main type="submit" { "How much, and what to buy?" }
        }
    }
}
