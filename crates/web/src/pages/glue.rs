//! I have glue or gelatine.

use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use show::GlueView;
use workbench::GlueForm;

use super::card;
use crate::form::{Fields, Sent};
use crate::layout::Place;
use crate::room::Room;

const TITLE: &str = "I have glue or gelatine";

/// What it may be for, as the workbench reads it, and as a person says it.
const USES: [(&str, &str); 4] =
    [("", "only tell me how strong it is"), ("size", "size"), ("gesso", "gesso, first coats"), ("last coats", "gesso, last coats")];

pub(crate) async fn empty(room: Room) -> Markup {
    let form = GlueForm { glue: "70 g rabbit skin glue".into(), water: "1 l".into(), ..GlueForm::default() };
    let body = html! {
        h1 .ask { (TITLE) }
        p .lead { "Say what is at hand. It says how strong that is, and how much water or glue brings it where you want it." }
        (fields(&room.token(), &form))
    };
    room.page(Place::Glue, TITLE, &body)
}

pub(crate) async fn page(room: Room, sent: Sent) -> Response {
    let sent = match Fields::from_sent(sent, &room.token()) {
        Ok(sent) => sent,
        Err(refusal) => return refusal,
    };
    let form = sent.glue();
    match room.ask(|bench| bench.glue(&form)).await {
        Ok(view) => room.page(Place::Glue, TITLE, &answer(&view, &form, &room.token())).into_response(),
        Err(why) => {
            let body = html! { h1 .sentence { "One thing first" } p .lead role="alert" { (show::capital(&why.to_string())) } (fields(&room.token(), &form)) };
            (StatusCode::UNPROCESSABLE_ENTITY, room.page(Place::Glue, TITLE, &body)).into_response()
        }
    }
}

fn answer(view: &GlueView, form: &GlueForm, token: &str) -> Markup {
    html! {
        h1 .sentence { (view.sentence) }
        @for line in &view.more { p .lead { (line) } }
        @for question in &view.report.questions { p #asked { strong { (question.ask) } " Taken meanwhile: " (question.assumed) "." } }
        @for warning in &view.report.warnings {
            @if warning.id == "cooked" {
                section .advice { section { h2 { "Was it hot too long?" } p .what { (warning.text) } } }
            } @else {
                p .second { (warning.text) }
            }
        }
        @if !view.pot_rows.is_empty() || !view.coat_rows.is_empty() {
            section #pot {
                h2 { "The pot over the day" }
                table .pot {
                    caption { "At each weighing" }
                    thead { tr { th scope="col" { "weighing" } th scope="col" { "water lost" } th scope="col" { "strength" } th scope="col" { "water to put in" } } }
                    tbody { @for row in &view.pot_rows { tr { th scope="row" { (row.said) } td { (row.lost) } td { (row.strength) } td { (row.add) } } } }
                }
                @if !view.coat_rows.is_empty() { (coats(view)) }
            }
        }
        section {
            h2 { "Do" }
            ol .steps { @for step in &view.report.steps { li { p { (step.what) } @if !step.mind.is_empty() { p .caution { strong { "Mind this. " } (step.mind) } } } } }
        }
        (card::figures(&view.figures))
        @for (about, said) in &view.know { details { summary { (about) } @for line in said { p { (line) } } } }
        section .mind {
            h2 { "Mind this" }
            @for caution in &view.report.cautions { p { strong { (caution.material) ". " } (caution.text) span .source { " " (caution.source) } } }
        }
        section { h2 { "Change what is at hand" } (fields(token, form)) }
    }
}

/// How strong each coat went on.
fn coats(view: &GlueView) -> Markup {
    html! {
        table #coats .pot {
            caption { "How strong each coat was" }
            thead { tr { th scope="col" { "taken" } th scope="col" { "strength" } th scope="col" { "beside the coat before" } } }
            tbody { @for row in &view.coat_rows { tr { th scope="row" { (row.said) } td { (row.strength) } td { (row.beside) } } } }
        }
    }
}

fn fields(token: &str, form: &GlueForm) -> Markup {
    let day_is_told = !form.log.is_empty() || form.hot_hours.is_some() || form.melted.is_some() || form.warmest_c.is_some();
    html! {
        form .tell method="post" action="/glue" {
            input type="hidden" name="token" value=(token);
            div .grid {
                label { "Glue: how much of which" span .second { "dry, or a size with its strength: “500 ml glue size 7\u{a0}%”" } input type="text" name="glue" value=(form.glue); }
                label { "Water" span .second { "may stay empty, if you want to know how much" } input type="text" name="water" value=(form.water); }
                label { "Or a ratio, glue to water" span .second { "such as 1:10" } input type="text" name="ratio" value=(form.ratio); }
                label { "What is it for?" select name="for" { @for (value, words) in USES { option value=(value) selected[form.wanted_for == value] { (words) } } } }
                label { "Or a strength of your own, %" span .second { "may stay empty" } input type="text" inputmode="decimal" name="wanted" value=[form.wanted_percent]; }
                label { "Bloom on the packet" span .second { "may stay empty" } input type="text" inputmode="decimal" name="bloom" value=[form.bloom]; }
            }
            details open[day_is_told] {
                summary { "The pot stands warm: weigh it over the day" }
                label { "Its day, a line each"
                    span .second { "a weight “10:30 1020 g”, a coat “took 120 g”, water “added 50 g water”" }
                    textarea name="log" rows="5" spellcheck="false" { (form.log) }
                }
                div .grid {
                    label { "Empty pot, g" span .second { "if it stands on the balance too" } input type="text" inputmode="decimal" name="pot" value=[form.empty_pot_g]; }
                    label { "Hours kept hot" span .second { "if the lines tell no hours" } input type="text" inputmode="decimal" name="hours" value=[form.hot_hours]; }
                    label { "Times melted" span .second { "the first one too" } input type="text" inputmode="numeric" name="melted" value=[form.melted]; }
                    label { "Warmest, °C" span .second { "may stay empty" } input type="text" inputmode="decimal" name="warmest" value=[form.warmest_c]; }
                }
            }
            button .main type="submit" { "How strong is it?" }
        }
    }
}
