//! The whole table of addresses.

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::http::StatusCode;
use axum::middleware::{from_fn, from_fn_with_state};
use axum::response::IntoResponse;
use axum::routing::{get, post};

use crate::{App, assets, door, layout, pages};

/// A form of 64 kB of text, three bytes a character at worst once it is encoded, and its other fields.
const MOST_FORM: usize = 256 * 1024;

/// Fifty taps of a few hundred bytes each.
const MOST_TAPS: usize = 64 * 1024;

/// A photo of 40 MB and its caption.
const MOST_PHOTO: usize = 41 * 1024 * 1024;

/// What a phone that was not let in may send: a name and a code.
const MOST_KNOCK: usize = 4 * 1024;

/// All pages behind the desk's door.
pub fn router(app: App) -> Router {
    let own = Router::new()
        .route("/share", get(pages::share::page))
        .route("/share/news", get(pages::share::news))
        .route("/share/open", post(pages::share::open))
        .route("/share/code", post(pages::share::code))
        .route("/share/answer", post(pages::share::answer))
        .route("/share/revoke", post(pages::share::revoke))
        .route("/share/close", post(pages::share::close))
        .route("/example", post(pages::example::visit))
        .route("/example/leave", post(pages::example::leave))
        .route("/enter", get(door::enter));
    let guard = from_fn_with_state(app.clone(), door::at_desk);
    shut(own.merge(rooms())).layer(guard).layer(from_fn(door::sealed)).with_state(app)
}

/// The pages that a phone may use, behind the phones' door.
pub(crate) fn phone_router(app: App) -> Router {
    let own = Router::new()
        .route("/pair", get(pages::pair::page).post(pages::pair::knock).layer(DefaultBodyLimit::max(MOST_KNOCK)))
        .route("/pair/wait", get(pages::pair::wait).post(pages::pair::pick_up).layer(DefaultBodyLimit::max(MOST_KNOCK)))
        .route("/pair/asked", get(pages::pair::asked))
        .route("/assets/pair.css", get(assets::pair_css))
        .route("/assets/pair.js", get(assets::pair));
    let guard = from_fn_with_state(app.clone(), door::at_phones);
    shut(own.merge(rooms())).layer(guard).layer(from_fn(door::sealed)).with_state(app)
}

fn shut(pages: Router<App>) -> Router<App> {
    pages
        .fallback(async || (StatusCode::NOT_FOUND, layout::bare("There is no such page", "Go back to the first page.")).into_response())
        .layer(DefaultBodyLimit::max(MOST_FORM))
}

/// Rooms of a studio, for desk and phones alike.
fn rooms() -> Router<App> {
    Router::new()
        .route("/", get(pages::front::page))
        .route("/recipe", get(pages::front::page).post(pages::verdict::page))
        .route("/recipe/live", post(pages::verdict::live))
        .route("/recipe/card.svg", post(pages::verdict::svg))
        .route("/recipe/card.png", post(pages::verdict::png))
        .route("/beside", get(pages::beside::empty).post(pages::beside::page))
        .route("/window", get(pages::window::empty).post(pages::window::page))
        .route("/bend", get(pages::bend::page))
        .route("/failed", get(pages::failed::empty).post(pages::failed::page))
        .route("/failed/live", post(pages::failed::live))
        .route("/milk", get(pages::milk::empty).post(pages::milk::page))
        .route("/binder", get(pages::binder::ahead::empty).post(pages::binder::ahead::page))
        .route("/binders", get(pages::binder::list::page).post(pages::binder::list::begin))
        .route("/binder/{id}", get(pages::binder::road::page))
        .route("/binder/{id}/step", post(pages::binder::road::step))
        .route("/binder/{id}/measure", post(pages::binder::road::measure))
        .route("/binder/{id}/close", post(pages::binder::road::close))
        .route("/swap", get(pages::swap::empty).post(pages::swap::page))
        .route("/wish", get(pages::wish::empty).post(pages::wish::page))
        .route("/enlarge", get(pages::enlarge::empty).post(pages::enlarge::page))
        .route("/save", get(pages::save::empty).post(pages::save::page))
        .route("/goes", get(pages::goes::page))
        .route("/even", get(pages::even::empty).post(pages::even::page))
        .route("/glue", get(pages::glue::empty).post(pages::glue::page))
        .route("/jars", get(pages::jars::list))
        .route("/jars/{id}", get(pages::jars::one))
        .route("/boards", get(pages::jars::boards))
        .route("/books", get(pages::books::page))
        .route("/failed/keep", post(pages::kept::keep_failed))
        .route("/kept", get(pages::kept::list).post(pages::kept::keep))
        .route("/kept/{subject}", get(pages::kept::one))
        .route("/kept-failed/{subject}", get(pages::kept::one_failed))
        .route("/shelf", get(pages::shelf::list).post(pages::shelf::put))
        .route("/shelf/{subject}", get(pages::shelf::one))
        .route("/weigh", get(pages::shelf::weigh).post(pages::shelf::weigh_for))
        .route("/weigh/keep", post(pages::shelf::keep_weighing))
        .route("/trials", get(pages::trials::list).post(pages::trials::ask))
        .route("/trials/new", get(pages::trials::new))
        .route("/trials/{subject}", get(pages::road::page))
        .route("/trials/{subject}/recipes", post(pages::road::recipes_told))
        .route("/trials/{subject}/fix", post(pages::road::fix))
        .route("/trials/{subject}/pot", post(pages::road::pot))
        .route("/trials/{subject}/day/{n}", get(pages::day::page))
        .route("/trials/{subject}/day/{n}/begin", post(pages::day::begin))
        .route("/trials/{subject}/day/{n}/sheets.pdf", get(pages::day::sheets))
        .route("/recipe/day", get(pages::day::recipe_anew).post(pages::day::recipe))
        .route("/recipe/day.pdf", post(pages::day::recipe_sheets))
        .route("/trials/{subject}/pot/{letter}", get(pages::pot::page).post(pages::pot::weigh))
        .route("/walk", get(pages::walk::page))
        .route("/trials/{subject}/lay", get(pages::board::lay))
        .route("/trials/{subject}/read", get(pages::reading::page).post(pages::reading::keep))
        .route("/trials/{subject}/answer", get(pages::answer::page))
        .route("/trials/{subject}/paper", get(pages::paper::page).post(pages::paper::finish))
        .route("/trials/{subject}/paper.pdf", get(pages::paper::pdf))
        .route("/trials/{subject}/data.zip", get(pages::paper::data))
        .route("/trials/{subject}/sheets.pdf", get(pages::paper::sheets))
        .route("/trials/{subject}/picture.png", get(pages::paper::picture))
        .route("/trials/{subject}/card.pdf", get(pages::paper::card))
        .route("/papers/{subject}/paper.pdf", get(pages::paper::finished_pdf))
        .route("/papers/{subject}/data.zip", get(pages::paper::finished_data))
        .route("/recipe/wall-card.pdf", post(pages::paper::wall_card))
        .route("/trials/{subject}/looks.ics", get(pages::looks::calendar))
        .route("/now", get(pages::now::page))
        .route("/now/data", get(pages::now::data))
        .route("/now/tap", post(pages::now::tap))
        .route("/now/air", post(pages::now::air))
        .route("/now/mass", post(pages::now::mass))
        .route("/now/end", post(pages::now::end))
        .route("/taps", post(pages::now::taps).layer(DefaultBodyLimit::max(MOST_TAPS)))
        .route("/board", get(pages::board::find))
        .route("/board/{id}", get(pages::board::page))
        .route("/board/{id}/coat", post(pages::board::coat))
        .route("/board/{id}/mass", post(pages::board::mass))
        .route("/board/{id}/lost", post(pages::board::lost))
        .route("/board/{id}/photo", post(pages::photo::file).layer(DefaultBodyLimit::max(MOST_PHOTO)))
        .route("/photo/{name}", get(pages::photo::show))
        .route("/photos", get(pages::photos::page).post(pages::photo::one).layer(DefaultBodyLimit::max(MOST_PHOTO)))
        .route("/photos/one", post(pages::photo::one_of_many).layer(DefaultBodyLimit::max(MOST_PHOTO)))
        .route("/photos/{photo}", get(pages::sight::page))
        .route("/photos/{photo}/since/{other}", get(pages::since::page))
        .route("/photos/{photo}/since/{other}/{which}", get(pages::since::picture))
        .route("/photos/{photo}/measure", post(pages::sight::measure))
        .route("/photos/{photo}/correct", post(pages::sight::correct))
        .route("/photos/{photo}/day", post(pages::sight::day_told))
        .route("/photos/{photo}/file", post(pages::sight::file))
        .route("/photos/{photo}/failed", post(pages::sight::failed))
        .route("/photos/{photo}/write", post(pages::sight::write))
        .route("/scales", get(pages::reading::scales).post(pages::reading::make_scale))
        .route("/notebook", get(pages::notebook::page))
        .route("/notebook/take-back", post(pages::notebook::strike))
        .route("/assets/page.css", get(assets::css))
        .route("/assets/face.css", get(assets::face_css))
        .route("/assets/live.js", get(assets::live))
        .route("/assets/wait.js", get(assets::wait))
        .route("/assets/now.css", get(assets::now_css))
        .route("/assets/now.js", get(assets::now))
        .route("/assets/day.js", get(assets::day))
        .route("/assets/queue.js", get(assets::queue))
        .route("/assets/draw.js", get(assets::draw))
        .route("/assets/heap.js", get(assets::heap))
        .route("/assets/sight.js", get(assets::sight))
        .route("/assets/since.js", get(assets::since))
        .route("/assets/face.otf", get(assets::face))
        .route("/assets/heavy.otf", get(assets::heavy))
        .route("/favicon.ico", get(assets::mark))
}
