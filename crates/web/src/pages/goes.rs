//! Does this powder curdle this binder?

use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use serde::Deserialize;
use show::GoesView;
use workbench::Workbench;

use crate::form::Query;
use crate::layout::Place;
use crate::room::Room;

const TITLE: &str = "Does this powder curdle this binder?";

/// The pair.
#[derive(Debug, Default, Deserialize)]
pub(crate) struct Asked {
    #[serde(default)]
    powder: String,
    #[serde(default)]
    binder: String,
}

pub(crate) async fn page(room: Room, Query(asked): Query<Asked>) -> Response {
    let form = room.ask(|bench| fields(&bench.powders_for_pairs(), &asked)).await;
    if asked.powder.is_empty() && asked.binder.is_empty() {
        let body = html! { h1 .ask { (TITLE) } (form) (jar_test()) };
        return room.page(Place::Goes, TITLE, &body).into_response();
    }
    match room.ask(|bench| bench.goes(&asked.powder, &asked.binder)).await {
        Ok(view) => {
            room.page(Place::Goes, TITLE, &html! { (answer(&view)) (jar_test()) section { h2 { "Another pair" } (form) } }).into_response()
        }
        Err(why) => {
            let body = html! { h1 .sentence { "One thing first" } p .lead role="alert" { (show::capital(&why.to_string())) } (form) };
            (StatusCode::UNPROCESSABLE_ENTITY, room.page(Place::Goes, TITLE, &body)).into_response()
        }
    }
}

fn fields(powders: &[(&str, &str)], asked: &Asked) -> Markup {
    html! {
        form .tell method="get" action="/goes" {
            div .grid {
                label { "Powder" select name="powder" { @for (id, name) in powders { option value=(id) selected[*id == asked.powder] { (name) } } } }
                label { "Binder" select name="binder" { @for (key, words) in Workbench::binders_for_pairs() { option value=(key) selected[key == asked.binder] { (words) } } } }
            }
            button .main type="submit" { "Do they go together?" }
        }
    }
}

fn answer(view: &GoesView) -> Markup {
    html! {
        h1 .sentence { (view.sentence) }
        p .lead { (view.advice) }
        @for row in &view.rows {
            div .own { p { strong { (row.what) ". " } (row.why) } p .source { (row.standing) " · " (row.source) } }
        }
    }
}

/// The jar test, step by step; common practice, no source.
fn jar_test() -> Markup {
    html! {
        section #jar {
            h2 { "The jar test: 20 g and an hour" }
            ol .steps {
                li {
                    p { "Three small jars: in one 10 ml of the binder as it will be used and 10 g of the powder; in one the same with chalk that is known to go; in one the binder alone." }
                    p .caution { strong { "Mind this. " } "Spoon the powder low over the jar; wipe up wet. Ventilate, and use the respirator, gloves and eye protection that the safety data sheet and local rules ask for." }
                }
                li {
                    p { "Stir each for a minute. Do not shake." }
                    p .caution { strong { "Mind this. " } "Lid loose: gas may come, and a shut jar can burst. No sour curd or vinegar on lithopone: it frees poisonous hydrogen sulphide. No hand in plaster that sets: it burns." }
                }
                li { p { "Look after 1, 10 and 60 minutes: clots on the spoon, sudden thickening, foam, warmth, smell." } }
                li { p { "Pour each through a tea strainer and rinse with water: what stays?" } }
                li { p { "Smear a little of each thinly on glass and let it dry overnight. Rub with a finger, and look for a haze." } p .caution { strong { "Mind this. " } "Let the rests settle and dry, and bin them by local rules, nothing white down the sink." } }
            }
            dl .short {
                dt { "It goes" } dd { "No clots, and it flows as the jar with chalk." }
                dt { "It thickens" } dd { "It takes more than twice as long to run through as the jar with chalk: use it at once, and thin with water alone." }
                dt { "It curdles" } dd { "Clots stay in the strainer, or the smear rubs off more than chalk: do not use this pair." }
            }
            p .source { "Common practice, no source. One jar is one jar: do it again with a new lot." }
        }
    }
}
