//! Binder amount against thickness, for one recipe or for several on the same axes.

use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::{Markup, PreEscaped, html};
use show::{WindowPanel, WindowView, rule_picture, window_picture};
use workbench::{MOST_WINDOWS, VerdictRequest, Workbench};

use super::card;
use crate::form::{Fields, Sent};
use crate::layout::{Place, bare};
use crate::room::Room;

const TITLE: &str = "How thick may a coat be?";

pub(crate) async fn empty(room: Room) -> Markup {
    room.page(Place::Front, TITLE, &html! { h1 .ask { (TITLE) } p .lead { "Tell a recipe; more binder and thicker coats are drawn beside it." } (boxes(&room.token(), &[], ("", ""))) })
}

pub(crate) async fn page(room: Room, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let recipes: Vec<VerdictRequest> = room
        .ask(|bench| {
            let all = (1..=MOST_WINDOWS).map(|number| room.verdict(&fields, &suffix(number), bench));
            all.filter(|recipe| !recipe.told.trim().is_empty()).collect()
        })
        .await;
    if recipes.is_empty() {
        return empty(room).await.into_response();
    }
    match room.ask(|bench| bench.window(&recipes)).await {
        Ok(view) => room
            .page(
                Place::Front,
                TITLE,
                &html! { (panels(&view)) (boxes(&room.token(), &recipes, (fields.get("wet"), fields.get("coats")))) },
            )
            .into_response(),
        Err(why) => (StatusCode::UNPROCESSABLE_ENTITY, bare("One thing first", &why.to_string())).into_response(),
    }
}

/// Fields of the first recipe bear its plain names, those of the others a number.
fn suffix(number: usize) -> String {
    if number == 1 { String::new() } else { format!("-{number}") }
}

fn panels(view: &WindowView) -> Markup {
    html! {
        @if let [only] = view.panels.as_slice() {
            h1 .sentence { (only.sentence) }
            (drawn(only))
        } @else {
            h1 .sentence { "How thick may each of them be?" }
            @let bars: Vec<_> = view.panels.iter().filter_map(|panel| panel.bar.map(|bar| (panel.name.clone(), bar))).collect();
            @if !bars.is_empty() {
                figure .picture #rule {
                    (PreEscaped(rule_picture(&bars, &view.ticks, Workbench::edges())))
                    figcaption { "All of them on one rule; strokes are handbook grounds, hatching is doubt." }
                }
            }
            div .pair {
                @for panel in &view.panels {
                    article .card {
                        h2 { (panel.name) }
                        p .second { (panel.told) }
                        p .what { (panel.sentence) }
                        (drawn(panel))
                    }
                }
            }
        }
    }
}

fn drawn(panel: &WindowPanel) -> Markup {
    html! {
        @if let Some(picture) = &panel.picture {
            figure .picture {
                (PreEscaped(window_picture(picture)))
                figcaption { "Nothing beyond 1 mm is drawn. Hatching is doubt, and close hatching cracks." }
            }
        }
        @for more in &panel.more { p .second { (more) } }
    }
}

fn boxes(token: &str, recipes: &[VerdictRequest], (wet, coats): (&str, &str)) -> Markup {
    let boxes = (recipes.len() + 1).min(MOST_WINDOWS);
    html! {
        form .tell method="post" action="/window" {
            input type="hidden" name="token" value=(token);
            div .pair {
                @for number in 1..=boxes {
                    @let name = format!("told{}", suffix(number));
                    @let recipe = recipes.get(number - 1);
                    @let text = recipe.map_or("", |recipe| recipe.told.as_str());
                    div {
                        @for (question, answer) in recipe.iter().flat_map(|recipe| &recipe.choices) { input type="hidden" name={ "choose" (suffix(number)) "." (question) } value=(answer); }
                        label for=(name) { @if number == 1 { "A recipe" } @else if text.is_empty() { "Another beside it, on the same axes" } @else { "Recipe " (number) } }
                        textarea id=(name) name=(name) rows="5" spellcheck="false" { (text) }
                    }
                }
            }
            div .row {
                label { "Wet coat, µm" input type="text" inputmode="decimal" name="wet" value=(wet) placeholder="100"; }
                label { "Coats" input type="text" inputmode="numeric" name="coats" value=(coats) placeholder="1"; }
                (card::support(recipes.first().and_then(|recipe| recipe.support.as_deref()).unwrap_or_default()))
            }
            button .main type="submit" { "Draw it" }
            @if !recipes.is_empty() {
                div .row {
                    button .quiet type="submit" formaction="/recipe" { "Back to the card of the first" }
                    button .quiet type="submit" formaction="/wish" { "Wish for another like the first" }
                    button .quiet type="submit" formaction="/enlarge" { "Make the first for real panels" }
                }
            }
        }
    }
}
