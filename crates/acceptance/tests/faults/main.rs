//! A server that is treated badly: strangers at the door, broken requests, crowds, sudden ends.

#![expect(clippy::indexing_slicing, reason = "in a test a panic is the report")]

mod bytes;
#[path = "../shared/day.rs"]
mod day;
mod days;
mod door;
mod ends;
mod kills;
mod load;
mod notes;
mod phone;
mod refused;
mod rooms;
mod routes;
mod taps;
mod twice;
mod typed;
mod uploads;

/// Pages that are asked for.
const PAGES: [&str; 20] = [
    "/",
    "/recipe",
    "/beside",
    "/window",
    "/failed",
    "/milk",
    "/binder",
    "/swap",
    "/wish",
    "/enlarge",
    "/save",
    "/goes",
    "/bend",
    "/even",
    "/glue",
    "/jars",
    "/jars/natural-chalk",
    "/boards",
    "/books",
    "/assets/live.js",
];

/// Addresses that take a form.
const FORMS: [&str; 15] = [
    "/recipe",
    "/recipe/live",
    "/recipe/card.svg",
    "/recipe/card.png",
    "/beside",
    "/window",
    "/failed",
    "/milk",
    "/binder",
    "/swap",
    "/wish",
    "/enlarge",
    "/save",
    "/even",
    "/glue",
];

/// A recipe for the lighthouse's panels; invented.
const TOLD: &str = "250 g chalk, 14 g hide glue, 200 ml water";
