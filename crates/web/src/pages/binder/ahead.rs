//! The forecast: what this milk and this acid make, before anybody begins.

use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::{Markup, PreEscaped, html};
use show::FridgeView;
use workbench::FridgeForm;

use crate::form::{Fields, Sent};
use crate::layout::Place;
use crate::pages::card;
use crate::room::Room;

const TITLE: &str = "I want binder from what is in the fridge";
/// Readings of pH paper that the form has room for.
const PAPERS: usize = 3;

pub(crate) async fn empty(room: Room) -> Markup {
    let body = html! {
        h1 .ask { (TITLE) }
        p .lead { "Say what is there. You hear whether the acid is enough, what stays in the cloth, how often to rinse, and what opens the curd." }
        (fields(&room, &FridgeForm::default()))
    };
    room.page(Place::Binder, TITLE, &body)
}

pub(crate) async fn page(room: Room, sent: Sent) -> Response {
    let sent = match Fields::from_sent(sent, &room.token()) {
        Ok(sent) => sent,
        Err(refusal) => return refusal,
    };
    let form = sent.fridge();
    match room.ask(|bench| bench.fridge(&form)).await {
        Ok(view) => room.page(Place::Binder, TITLE, &answer(&room, &view, &form)).into_response(),
        Err(why) => {
            let head = if why.is_rennet() { "Rennet is another road" } else { "One thing first" };
            let body = html! { h1 .sentence { (head) } p .lead role="alert" { (show::capital(&why.to_string())) } (fields(&room, &form)) };
            (StatusCode::UNPROCESSABLE_ENTITY, room.page(Place::Binder, TITLE, &body)).into_response()
        }
    }
}

fn answer(room: &Room, view: &FridgeView, form: &FridgeForm) -> Markup {
    html! {
        h1 #sentence .sentence { (view.sentence) }
        p .lead { (view.lead) }
        @for line in &view.taken { p .second { (line) } }
        div .two {
            div {
                figure .picture { (PreEscaped(&view.picture)) }
                @for line in &view.beside { p { (line) } }
            }
            div {
                (acids(view))
                section { h2 { "What comes of it" } @for line in &view.more { p { (line) } } }
                (questions(view))
            }
        }
        @if !view.learned.is_empty() { section #learned .keep { h2 { "What your paper says" } @for line in &view.learned { p { (line) } } } }
        @if !view.dishes.is_empty() { section #dishes { h2 { "What your dishes say" } @for line in &view.dishes { p { (line) } } } }
        (card::mind(&view.mind))
        (rinses(view))
        (opening(view))
        (strengths(view))
        (yields(view))
        (card::figures(&view.figures))
        (begin(room, form))
        p { a href="/save" { "My pot is not right" } " · " a href="/goes" { "Does this powder curdle this binder?" } }
        section { h2 { "Change what is at hand" } (fields(room, form)) }
    }
}

/// From the forecast to the jar: the same words, and a name.
fn begin(room: &Room, form: &FridgeForm) -> Markup {
    let number = |value: Option<f64>| value.filter(|value| value.is_finite());
    html! {
        section #begin .keep {
            h2 { "Make it" }
            p { "Give the jar a name: then each step stands before you with its clock, and your scale and your paper mend the forecast." }
            form .one method="post" action="/binders" {
                (room.hidden())
                input type="hidden" name="ahead" value="yes";
                input type="hidden" name="milk" value=(form.milk);
                input type="hidden" name="acids" value=(form.acids);
                input type="hidden" name="base" value=(form.base);
                input type="hidden" name="drained" value=(form.drained);
                @if form.boiled { input type="hidden" name="boiled" value="yes"; }
                input type="hidden" name="warmth" value=[number(form.warmth_c)];
                input type="hidden" name="rinses" value=[form.rinses];
                input type="hidden" name="rinse-water" value=[number(form.rinse_ml)];
                input type="hidden" name="water" value=[number(form.water_ml)];
                label { "A name for the jar" input required type="text" name="name" placeholder="Heron"; }
                button .main type="submit" { "Begin this jar" }
            }
            p { a href="/binders" { "My jars of binder" } }
        }
    }
}

fn acids(view: &FridgeView) -> Markup {
    html! {
        table .pot #acids {
            caption { "Each acid alone" }
            thead { tr { th scope="col" { "which" } th scope="col" { "this milk wants" } th scope="col" { "yours" } } }
            tbody {
                @for acid in &view.acids {
                    tr {
                        th scope="row" { a href={ "/jars/" (acid.material) } { (acid.name) } }
                        td { (acid.alone) }
                        td { @if !acid.has.is_empty() { (acid.has) ": " } (acid.verdict) }
                    }
                }
            }
        }
    }
}

fn questions(view: &FridgeView) -> Markup {
    html! {
        @if !view.questions.is_empty() {
            section #questions {
                h2 { "What would narrow it" }
                @for question in &view.questions {
                    p { strong { (question.ask) } " " span .second { "Taken meanwhile: " (question.assumed) "." } }
                }
            }
        }
    }
}

fn rinses(view: &FridgeView) -> Markup {
    html! {
        section #rinses {
            h2 { "Rinse it" }
            @for line in &view.rinsing { p { (line) } }
            table .pot {
                caption { "Left in the curd" }
                thead { tr { th scope="col" { "when" } th scope="col" { "acid" } th scope="col" { "milk sugar" } } }
                tbody { @for row in &view.rinses { tr { th scope="row" { (row.times) } td { (row.acid) } td { (row.sugar) } } } }
            }
        }
    }
}

fn opening(view: &FridgeView) -> Markup {
    html! {
        section #opening {
            h2 { "Open it" }
            p .what { (view.opening) }
            @for line in &view.opening_more { p { (line) } }
            details {
            summary { "Every way to open this much casein" }
            table .pot {
                thead { tr { th scope="col" { "with" } th scope="col" { "to begin with" } th scope="col" { "a level teaspoon brings it to" } } }
                tbody {
                    @for base in &view.bases {
                        tr {
                            th scope="row" {
                                a href={ "/jars/" (base.material) } { (base.name) } @if base.told { " (yours)" }
                                p .second { (base.film) "; " (base.water) ". Keeping: " (base.keeping) "." }
                            }
                            td { (base.grams) @if !base.spoons.is_empty() { br; (base.spoons) } }
                            td { (base.teaspoon) }
                        }
                    }
                }
            }
            }
        }
    }
}

fn strengths(view: &FridgeView) -> Markup {
    html! {
        section #strength {
            details {
            summary { "How strong, how thick" }
            @for line in &view.strength { p { (line) } }
            table .pot {
                caption { "With all the casein of this curd" }
                thead { tr { th scope="col" { "casein" } th scope="col" { "water in all" } th scope="col" { "how thick, at 25 °C" } } }
                tbody { @for row in &view.strengths { tr { th scope="row" { (row.strength) } td { (row.water) } td { (row.thick) } } } }
            }
            }
        }
    }
}

fn yields(view: &FridgeView) -> Markup {
    html! {
        section #yields {
            details {
            summary { "As much of another milk" }
            table .pot {
                thead { tr { th scope="col" { "milk" } th scope="col" { "dry casein" } th scope="col" { "wet curd" } } }
                tbody {
                    @for row in &view.yields {
                        tr { th scope="row" { (row.name) @if row.told { " (yours)" } p .second { (row.words) } } td { (row.casein) } td { (row.curd) } }
                    }
                }
            }
            }
            p .second { "Rennet curdles milk too, in another way: the lime stays in the curd, and soda or borax hardly open it. For a binder curdle with acid; " a href="/swap" { "what else would do" } "." }
        }
    }
}

fn fields(room: &Room, form: &FridgeForm) -> Markup {
    let state = |value: &str| form.drained == value || (value == "cloth" && !["squeezed", "scooped"].contains(&form.drained.as_str()));
    let number = |value: Option<f64>| value.filter(|value| value.is_finite());
    html! {
        form .tell method="post" action="/binder" {
            (room.hidden())
            div .grid {
                label { "Milk: how much of which" input type="text" name="milk" value=(form.milk) placeholder="1 litre of skim milk"; }
                label { "To curdle it" span .second { "several are fine; with amounts they are checked" } input type="text" name="acids" value=(form.acids) placeholder="two lemons, a bottle of vinegar"; }
                label { "To open the curd" input type="text" name="base" value=(form.base) placeholder="baking soda"; }
                label { "Warmth of the milk, °C" span .second { "may stay empty" } input type="text" inputmode="decimal" name="warmth" value=[number(form.warmth_c)]; }
            }
            label { input type="checkbox" name="boiled" value="yes" checked[form.boiled]; " It was boiled, or is UHT milk" }
            button .main type="submit" { "Is it enough?" }
            details open[is_deep(form)] {
                summary { "Cloth, rinses, water" }
                div .grid {
                    label { "The curd is" select name="drained" {
                        option value="cloth" selected[state("cloth")] { "drained in a cloth" }
                        option value="squeezed" selected[state("squeezed")] { "squeezed by hand" }
                        option value="scooped" selected[state("scooped")] { "scooped out, not drained" }
                    } }
                    label { "Rinses" span .second { "empty: as often as makes it clean" } input type="text" inputmode="numeric" name="rinses" value=[form.rinses.filter(|count| *count < 1000)]; }
                    label { "Water of one rinse, ml" input type="text" inputmode="decimal" name="rinse-water" value=[number(form.rinse_ml)]; }
                    label { "Hardness of that water, mg/l as calcium carbonate" input type="text" inputmode="decimal" name="hardness" value=[number(form.hardness)]; }
                    label { "Water added to the milk, ml" input type="text" inputmode="decimal" name="thinned" value=[number(form.thinned_ml)]; }
                    label { "Water in the pot beside that of the curd, ml" input type="text" inputmode="decimal" name="water" value=[number(form.water_ml)]; }
                    label { "The pot is to come to pH" span .second { "6.8 is usual" } input type="text" inputmode="decimal" name="ph" value=[number(form.ph)]; }
                }
            }
            details open[!form.dishes.is_empty() || form.curd_g.is_some()] {
                summary { "I dried some of the curd" }
                p .second { "Weigh two or three spoonfuls of curd, dry them until they lose no more weight, weigh again. That replaces every sum about milk." }
                div .grid {
                    label { "Dishes, wet : dry, g" input type="text" name="dishes" value=(form.dishes) placeholder="10:2.4, 12:2.9"; }
                    label { "All the wet curd weighs, g" input type="text" inputmode="decimal" name="curd" value=[number(form.curd_g)]; }
                }
            }
            details open[form.papers.iter().any(|(acid, ph)| !(acid.is_empty() && ph.is_empty()))] {
                summary { "My pH paper said" }
                @for index in 0..PAPERS {
                    div .row {
                        label { "After all this acid" input type="text" name="paper-acid" value=[form.papers.get(index).map(|paper| &paper.0)] placeholder="80 ml vinegar"; }
                        label { "the paper said" input type="text" inputmode="decimal" name="paper-ph" value=[form.papers.get(index).map(|paper| &paper.1)] placeholder="4.9"; }
                    }
                }
            }
            p .second { "Never with bleach: vinegar, lemon, curd and whey with bleach give off chlorine, a poisonous gas." }
        }
    }
}

fn is_deep(form: &FridgeForm) -> bool {
    form.rinses.is_some()
        || [form.rinse_ml, form.hardness, form.thinned_ml, form.water_ml, form.ph].iter().any(Option::is_some)
        || ["squeezed", "scooped"].contains(&form.drained.as_str())
}
