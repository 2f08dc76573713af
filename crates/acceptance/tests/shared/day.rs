//! A studio on disk in which a making day is under way.

use std::collections::BTreeMap;
use std::path::Path;
use std::time::SystemTime;

use acceptance::Trouble;
use notebook::{Moment, Notebook, Stamp};
use workbench::{Studio, TypedHours, TypedTrial, TypedWish, Workbench};

/// Recipes of a round with curd; invented.
const RECIPES: [(&str, &str); 5] = [
    ("chalk, usual", "30 g pressed curd, 0.8 g baking soda, 55 g water, 107 g whiting"),
    ("chalk, much", "80 g pressed curd, 2.2 g baking soda, 25 g water, 107 g whiting"),
    ("marble dust, usual", "26 g pressed curd, 0.7 g baking soda, 48 g water, 120 g marble dust"),
    ("marble dust, much", "55 g pressed curd, 1.5 g baking soda, 30 g water, 120 g marble dust"),
    ("the workshop's chalk ground", "5 g hide glue, 70 g water, 107 g whiting"),
];

/// Milliseconds since 1970.
#[expect(clippy::disallowed_methods, reason = "what a phone tapped is compared with the clock")]
pub(crate) fn clock_ms() -> i64 {
    SystemTime::now().duration_since(SystemTime::UNIX_EPOCH).map_or(0, |since| i64::try_from(since.as_millis()).unwrap_or(0))
}

#[expect(clippy::needless_pass_by_value, reason = "an error is given away when it is told")]
fn odd(why: impl std::fmt::Display) -> Trouble {
    Trouble::odd(why.to_string())
}

fn open(folder: &Path) -> Result<Studio, Trouble> {
    let (log, blobs) = notebook_sqlite::Studio::open(folder).map_err(odd)?;
    Studio::open(Box::new(log), Box::new(blobs), false).map_err(odd)
}

/// The notebook as it lies on disk, read beside the program.
pub(crate) fn written(folder: &Path) -> Result<std::sync::Arc<Notebook>, Trouble> {
    Ok(open(folder)?.state())
}

/// Asks a two by two of two coats in two days, closes its plan and begins the first day; returns the trial and the sitting.
pub(crate) fn begin_a_day(folder: &Path) -> Result<(String, String), Trouble> {
    let bench = Workbench::open().map_err(odd)?;
    let studio = open(folder)?;
    let stamp = |chance| Stamp { at: Moment { seconds: clock_ms() / 1000, offset_minutes: 0 }, device: "desk".into(), chance };
    let fields = |pairs: &[(&str, &str)]| pairs.iter().map(|(name, text)| ((*name).to_owned(), (*text).to_owned())).collect();
    let form = TypedTrial {
        kind: "two-by-two".into(),
        question: "Is it the powder or the curd that cracks our milk ground?".into(),
        measure: "cracking".into(),
        way: "smaller".into(),
        names: fields(&[
            ("first_name", "powder"),
            ("first_a", "chalk"),
            ("first_b", "marble dust"),
            ("second_name", "binder"),
            ("second_a", "usual"),
            ("second_b", "much"),
        ]),
        counts: fields(&[("days", "2"), ("coats", "2")]),
        yardstick: "the workshop's chalk ground".into(),
        support: "birch plywood, 4 mm".into(),
        size: "20 x 25 cm".into(),
        ..TypedTrial::default()
    };
    let trial = bench.ask_trial(&studio, &form, &stamp(1)).map_err(odd)?;
    let recipes: BTreeMap<String, String> = fields(&RECIPES);
    bench.tell_recipes(&studio, (&trial, studio.state().n()), &recipes, &stamp(2)).map_err(odd)?;
    bench.fix_plan(&studio, &trial, &stamp(3)).map_err(odd)?;
    let hours = TypedHours { from: "0:00".into(), to: "24:00".into() };
    let sitting = bench.begin_day(&studio, &trial, 1, &TypedWish { hours, ..TypedWish::default() }, &stamp(4)).map_err(odd)?;
    Ok((trial, sitting))
}
