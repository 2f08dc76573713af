//! Files that ship inside the program.

use axum::http::header;
use axum::response::{IntoResponse, Response};

fn file(kind: &'static str, bytes: &'static [u8]) -> Response {
    ([(header::CONTENT_TYPE, kind), (header::CACHE_CONTROL, "max-age=600")], bytes).into_response()
}

pub(crate) async fn css() -> Response {
    file("text/css; charset=utf-8", include_bytes!("../assets/page.css"))
}
pub(crate) async fn face_css() -> Response {
    file("text/css; charset=utf-8", include_bytes!("../assets/face.css"))
}
pub(crate) async fn live() -> Response {
    file("text/javascript; charset=utf-8", include_bytes!("../assets/live.js"))
}
pub(crate) async fn wait() -> Response {
    file("text/javascript; charset=utf-8", include_bytes!("../assets/wait.js"))
}
pub(crate) async fn now_css() -> Response {
    file("text/css; charset=utf-8", include_bytes!("../assets/now.css"))
}
pub(crate) async fn now() -> Response {
    file("text/javascript; charset=utf-8", include_bytes!("../assets/now.js"))
}
pub(crate) async fn day() -> Response {
    file("text/javascript; charset=utf-8", include_bytes!("../assets/day.js"))
}
pub(crate) async fn queue() -> Response {
    file("text/javascript; charset=utf-8", include_bytes!("../assets/queue.js"))
}
pub(crate) async fn draw() -> Response {
    file("text/javascript; charset=utf-8", include_bytes!("../assets/draw.js"))
}
pub(crate) async fn heap() -> Response {
    file("text/javascript; charset=utf-8", include_bytes!("../assets/heap.js"))
}
pub(crate) async fn sight() -> Response {
    file("text/javascript; charset=utf-8", include_bytes!("../assets/sight.js"))
}
pub(crate) async fn since() -> Response {
    file("text/javascript; charset=utf-8", include_bytes!("../assets/since.js"))
}
pub(crate) async fn pair_css() -> Response {
    file("text/css; charset=utf-8", include_bytes!("../assets/pair.css"))
}
pub(crate) async fn pair() -> Response {
    file("text/javascript; charset=utf-8", include_bytes!("../assets/pair.js"))
}
pub(crate) async fn face() -> Response {
    file("font/otf", paper::face())
}
pub(crate) async fn heavy() -> Response {
    file("font/otf", paper::heavy_face())
}
pub(crate) async fn mark() -> Response {
    file("image/svg+xml", include_bytes!("../assets/mark.svg"))
}
