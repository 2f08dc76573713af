//! The paper of a trial, as a page and as files.

use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use maud::{Markup, PreEscaped, html};
use paper::PaperError;
use serde::Deserialize;
use show::FinishedPaper;
use show::paper::{Composition, Given, PaperView};
use workbench::{PaperWords, StudioError, TrialPaper};

use super::kept::refused;
use super::notebook::take_back;
use crate::form::{Fields, Path, Query, Sent};
use crate::layout::Place;
use crate::room::Room;

/// What the authors say, in the address.
#[derive(Debug, Clone, Default, Deserialize)]
pub(crate) struct Words {
    #[serde(default)]
    title: String,
    #[serde(default)]
    authors: String,
    #[serde(default)]
    licence: String,
    #[serde(default)]
    recipe: String,
}

impl Words {
    fn paper(&self) -> PaperWords {
        PaperWords { title: self.title.clone(), authors: self.authors.clone(), licence: self.licence.clone() }
    }

    fn query(&self) -> String {
        crate::form::query(&[("title", &self.title), ("authors", &self.authors), ("licence", &self.licence)])
    }
}

async fn made(room: &Room, trial: &str, words: &PaperWords) -> Result<TrialPaper, StudioError> {
    room.look(|bench, state| bench.trial_paper(room.studio(), state, trial, words, Room::today())).await
}

/// The view with its photos: upright, smaller, nothing in them but the picture.
fn with_photos(room: &Room, made: TrialPaper) -> Result<PaperView, String> {
    let mut view = made.view;
    for photo in made.photos {
        let bytes = room.studio().keeper().photo(&photo.bytes).map_err(|why| why.to_string())?;
        let Some(bytes) = bytes else { return Err(format!("a photo of {} is no longer on disk", photo.caption)) };
        view.photos.push(paper::photo_figure(&bytes, &photo.caption).map_err(|why| why.to_string())?);
    }
    Ok(view)
}

pub(crate) async fn page(room: Room, Path(trial): Path<String>, Query(words): Query<Words>) -> Response {
    match made(&room, &trial, &words.paper()).await {
        Ok(found) => room.page(Place::Trials, "The paper", &body(&room, &trial, &words, &found)).into_response(),
        Err(why) => refused(&room, &why),
    }
}

fn body(room: &Room, trial: &str, words: &Words, found: &TrialPaper) -> Markup {
    let view = &found.view;
    let gaps = view.checklist.items().iter().filter(|item| item.state == Given::NotKnown).count();
    let query = words.query();
    let at = |file: &str| format!("/trials/{trial}/{file}?{query}");
    html! {
        p .lead { a href={ "/trials/" (trial) } { (view.asked.question) } }
        h1 .sentence { @if gaps == 0 { "Nothing that a stranger needs is missing: finish the paper." } @else { (gaps) " things that a stranger would need are not known." } }
        section {
            h2 { "Take it with you" }
            p .files {
                a .button href=(at("paper.pdf")) { "The paper (PDF)" }
                a .button href=(at("data.zip")) { "The data (ZIP of tables)" }
                a .button href={ "/trials/" (trial) "/sheets.pdf" } { "Labels and sheets (PDF)" }
            }
            @if !view.recipes.is_empty() {
                form method="get" action={ "/trials/" (trial) "/card.pdf" } {
                    div .row {
                        label { "Card of which recipe" select name="recipe" { @for name in names(&view.recipes) { option value=(name) { (name) } } } }
                        button type="submit" { "Card for the wall (PDF)" }
                        button type="submit" formaction={ "/trials/" (trial) "/picture.png" } { "Picture to post (PNG)" }
                    }
                }
            }
        }
        (authors(room, trial, words))
        (finished(room, &found.finished))
        (article(view, &found.drawings))
    }
}

/// Recipes of the pots, each once, without the pot in front.
fn names(recipes: &[Composition]) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for recipe in recipes {
        let name = recipe
            .name
            .split_once(": ")
            .map_or(recipe.name.as_str(), |(_, name)| name)
            .split(", as planned;")
            .next()
            .unwrap_or("")
            .to_owned();
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names
}

fn authors(room: &Room, trial: &str, words: &Words) -> Markup {
    html! {
        section {
            h2 { "Who, and under which licence" }
            form method="get" action={ "/trials/" (trial) "/paper" } {
                div .grid {
                    label { "Title" input type="text" name="title" value=(words.title) placeholder="the question, if left empty"; }
                    label { "Authors as they wish, parted by commas; may stay empty" input type="text" name="authors" value=(words.authors); }
                    label { "Licence" input type="text" name="licence" value=(words.licence) placeholder="CC-BY-4.0"; }
                }
                button type="submit" { "Show it so" }
            }
            form method="post" action={ "/trials/" (trial) "/paper" } {
                (room.hidden())
                @for (name, value) in [("title", &words.title), ("authors", &words.authors), ("licence", &words.licence)] { input type="hidden" name=(name) value=(value); }
                button .main type="submit" { "Finish this paper" }
                p .second { "A finished paper keeps its figures and the version that made it. The boards may go on." }
            }
        }
    }
}

fn finished(room: &Room, papers: &[FinishedPaper]) -> Markup {
    html! {
        @if !papers.is_empty() {
            section {
                h2 { "Finished papers" }
                @for paper in papers {
                    div .own {
                        p { strong { (paper.title) } ", " (paper.on) ", made with " (paper.version) ". " a href={ "/papers/" (paper.subject) "/paper.pdf" } { "PDF" } " · " a href={ "/papers/" (paper.subject) "/data.zip" } { "data" } }
                        p .second { "It says: " (paper.answer) }
                        @if !paper.moved.is_empty() { p { "Today it would be: " (paper.moved) } }
                        (take_back(room, paper.entry, "Take this paper back"))
                    }
                }
            }
        }
    }
}

/// The paper itself, from the same view as the typeset one.
fn article(view: &PaperView, drawings: &[(String, String)]) -> Markup {
    html! {
        article .sheet aria-labelledby="paper-title" {
            h2 #paper-title { (view.title) }
            @if view.invented { p .due { strong { "Invented example." } } }
            @if !view.authors.is_empty() { p { (view.authors.join(", ")) } }
            p .second { (view.date.written()) ", " (view.made_with) }
            h3 { "The answer" } p .what { (view.answer) }
            h3 { "What is told, and what is not" }
            dl .short { @for item in view.checklist.items() { dt { (item.what) } dd { strong { (item.word) } @if !item.text.is_empty() { ": " (item.text) } } } }
            h3 { "The question" } p { (view.asked.question) } p { "Fixed on " (view.asked.fixed_on) ": " (view.asked.better) "." }
            h3 { "What was changed" } (points(&view.changed, "Nothing was changed on purpose."))
            h3 { "What stayed the same" } (points(&view.stayed, "Nobody wrote down what stayed the same."))
            h3 { "How the boards were set out" } (points(&view.plan.sentences, "")) p .second { "Seed of the order: " (view.plan.seed) }
            (table("Boards", &["turn", "board", "day", "pot", "what it carries", "lost"], view.plan.boards.iter().map(|b| vec![&b.order, &b.board, &b.day, &b.batch, &b.kind, &b.lost])))
            h3 { "What was in the jars" }
            (table("Materials", &["stuff", "maker", "lot", "remark", "opened"], view.materials.iter().map(|m| vec![&m.name, &m.maker, &m.lot, &m.purity, &m.opened])))
            @for recipe in &view.recipes { (composition(recipe)) }
            h3 { "Coats" } (table("Coats", &["coat", "wet mass", "direction", "wait", "age of the pot"], view.coats.iter().map(|c| vec![&c.coat, &c.wet_mass, &c.direction, &c.recoat, &c.pot_age])))
            h3 { "Air in the room" } (table("Air", &["when", "warmth", "dampness"], view.room.iter().map(|r| vec![&r.when, &r.warmth, &r.damp])))
            h3 { "What every board did" } (table("Readings", &["board", "what was read", "result", "who", "recipe"], view.readings.iter().map(|r| vec![&r.board, &r.test, &r.result, &r.rater, &r.hidden])))
            h3 { "What it says" } (points(&view.result.sentences, "Nothing yet."))
            @for (drawing, caption) in drawings { figure .picture .boards { (PreEscaped(drawing)) figcaption { (caption) } } }
            h3 { "What can't be told" } (points(&view.result.cannot_tell, "Nothing is tangled."))
            h3 { "What would tell" } (points(&view.result.would_tell, "Nothing more was asked."))
            h3 { "What failed, and odd finds" } (points(&view.failures, "Nothing was written down."))
            h3 { "Cautions" } @for caution in &view.cautions { p .caution { strong { (caution.about) ". " } (caution.text) span .source { (caution.source) } } }
            h3 { "Sources" } (points(&view.sources, ""))
            h3 { "Licence, and how to cite" } p { @if view.licence.is_empty() { "No licence is given." } @else { (view.licence) } } p { (view.cite) }
            h3 { "Next look" } p { @if view.next_look.is_empty() { "No day is fixed." } @else { (view.next_look) } }
        }
    }
}

fn points(lines: &[String], none: &str) -> Markup {
    html! { @if lines.is_empty() { @if !none.is_empty() { p { (none) } } } @else { ul { @for line in lines { li { (line) } } } } }
}

fn table<'a>(name: &str, heads: &[&str], rows: impl Iterator<Item = Vec<&'a String>>) -> Markup {
    let rows: Vec<Vec<&String>> = rows.collect();
    html! {
        @if rows.is_empty() { p { "Nothing was written down." } } @else {
            div .wide tabindex="0" role="region" aria-label=(name) {
                table .pot {
                    thead { tr { @for head in heads { th scope="col" { (head) } } } }
                    tbody { @for row in rows { tr { @for cell in row { td { (cell) } } } } }
                }
            }
        }
    }
}

fn composition(recipe: &Composition) -> Markup {
    let rows =
        recipe.lines.iter().chain(std::iter::once(&recipe.sum)).map(|line| vec![&line.name, &line.grams, &line.of_wet, &line.of_dry]);
    html! {
        h3 { (recipe.name) }
        (table(&recipe.name, &["stuff", "g", "% of the wet mix", "% of what stays"], rows))
        @if !recipe.powder_share.is_empty() { p { "Powder share: " (recipe.powder_share) "." } }
        @if !recipe.place.is_empty() { p { (recipe.place) } }
    }
}

fn download(kind: &'static str, name: &str, bytes: Vec<u8>) -> Response {
    ([(header::CONTENT_TYPE, kind.to_owned()), (header::CONTENT_DISPOSITION, format!("attachment; filename=\"{name}\""))], bytes)
        .into_response()
}

fn file(room: &Room, kind: &'static str, name: &str, made: Result<Vec<u8>, PaperError>) -> Response {
    match made {
        Ok(bytes) => download(kind, name, bytes),
        Err(why) => room.refuse(Place::Trials, StatusCode::UNPROCESSABLE_ENTITY, &why.to_string()),
    }
}

const PDF: &str = "application/pdf";

pub(crate) async fn pdf(room: Room, Path(trial): Path<String>, Query(words): Query<Words>) -> Response {
    let found = match made(&room, &trial, &words.paper()).await {
        Ok(found) => found,
        Err(why) => return refused(&room, &why),
    };
    match room.ask(|_| with_photos(&room, found).map(|view| paper::pdf(&view))).await {
        Ok(made) => file(&room, PDF, "paper.pdf", made),
        Err(why) => room.refuse(Place::Trials, StatusCode::UNPROCESSABLE_ENTITY, &why),
    }
}

pub(crate) async fn data(room: Room, Path(trial): Path<String>, Query(words): Query<Words>) -> Response {
    let found = room
        .look(|bench, state| {
            let data = bench.trial_data(state, &trial, &words.paper(), Room::today(), room.studio().is_example());
            data.map(|view| paper::data_zip(&view))
        })
        .await;
    match found {
        Ok(Ok(zip)) => download("application/zip", "boards.zip", zip),
        Ok(Err(why)) => room.refuse(Place::Trials, StatusCode::UNPROCESSABLE_ENTITY, &why.to_string()),
        Err(why) => refused(&room, &why),
    }
}

pub(crate) async fn sheets(room: Room, Path(trial): Path<String>) -> Response {
    let found = room.look(|bench, state| bench.board_sheet(room.studio(), state, &trial, Room::today())).await;
    match found {
        Ok(view) => file(&room, PDF, "boards.pdf", room.ask(|_| paper::board_sheet_pdf(&view)).await),
        Err(why) => refused(&room, &why),
    }
}

pub(crate) async fn picture(room: Room, Path(trial): Path<String>, Query(words): Query<Words>) -> Response {
    let found = room.look(|bench, state| bench.trial_picture(room.studio(), state, &trial, &words.recipe)).await;
    match found {
        Ok(view) => file(&room, "image/png", "card.png", room.ask(|_| paper::picture_card_png(&view)).await),
        Err(why) => refused(&room, &why),
    }
}

pub(crate) async fn card(room: Room, Path(trial): Path<String>, Query(words): Query<Words>) -> Response {
    let found = room.look(|bench, state| bench.trial_card(room.studio(), state, &trial, &words.recipe, Room::today())).await;
    match found {
        Ok(view) => file(&room, PDF, "recipe.pdf", room.ask(|_| paper::recipe_card_pdf(&view)).await),
        Err(why) => refused(&room, &why),
    }
}

/// The card of any recipe, from its form.
pub(crate) async fn wall_card(room: Room, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let invented = room.studio().is_example();
    let found =
        room.ask(|bench| bench.recipe_card(&room.verdict(&fields, "", bench), fields.get("name"), "", Room::today(), invented)).await;
    match found {
        Ok(view) => file(&room, PDF, "recipe.pdf", room.ask(|_| paper::recipe_card_pdf(&view)).await),
        Err(why) => room.refuse(Place::Front, StatusCode::UNPROCESSABLE_ENTITY, &why.to_string()),
    }
}

pub(crate) async fn finish(room: Room, Path(trial): Path<String>, sent: Sent) -> Response {
    let fields = match Fields::from_sent(sent, &room.token()) {
        Ok(fields) => fields,
        Err(refusal) => return refusal,
    };
    let get = |name: &str| fields.get(name).to_owned();
    let words = PaperWords { title: get("title"), authors: get("authors"), licence: get("licence") };
    let files = room
        .look(|bench, state| {
            // Paper and tables from one and the same state of the notebook.
            let found = bench.trial_paper(room.studio(), state, &trial, &words, Room::today()).map_err(|why| why.to_string())?;
            let data = bench.trial_data(state, &trial, &words, Room::today(), room.studio().is_example()).map_err(|why| why.to_string())?;
            let view = with_photos(&room, found)?;
            let pdf = paper::pdf(&view).map_err(|why| why.to_string())?;
            let zip = paper::data_zip(&data).map_err(|why| why.to_string())?;
            Ok::<_, String>((view, pdf, zip))
        })
        .await;
    let (view, pdf, zip) = match files {
        Ok(files) => files,
        Err(why) => return room.refuse(Place::Trials, StatusCode::UNPROCESSABLE_ENTITY, &why),
    };
    match room.write(&fields, |bench, studio, stamp| bench.finish_paper(studio, &trial, &view, &words, (&pdf, &zip), stamp)).await {
        Ok(()) => Redirect::to(&format!("/trials/{trial}/paper")).into_response(),
        Err(why) => refused(&room, &why),
    }
}

pub(crate) async fn finished_pdf(room: Room, Path(paper): Path<String>) -> Response {
    match room.ask(|bench| bench.finished_file(room.studio(), &paper, false)).await {
        Ok(bytes) => download(PDF, "paper.pdf", bytes),
        Err(why) => refused(&room, &why),
    }
}

pub(crate) async fn finished_data(room: Room, Path(paper): Path<String>) -> Response {
    match room.ask(|bench| bench.finished_file(room.studio(), &paper, true)).await {
        Ok(bytes) => download("application/zip", "boards.zip", bytes),
        Err(why) => refused(&room, &why),
    }
}
