//! How long it takes from told text to a card; printed by `cargo xtask bench`, judged by nobody.

#![expect(clippy::unwrap_used, reason = "a bench that can't start has nothing to say")]

use divan::Bencher;
use divan::counter::BytesCount;
use materials::{Catalogue, Wishes, read};
use measure::Units;
use workbench::{FailedRequest, MilkForm, VerdictRequest, Workbench};

/// Invented, for the lighthouse's panels: measured, told with doubts, and with curd to be drained.
const RECIPES: [&str; 3] = [
    "250 g chalk, 14 g hide glue, 200 ml water",
    "soak a good tablespoon of rabbit skin glue in a cup of water, then 2 to 3 cups of whiting and a bit of zinc white, 4 coats",
    "2 litres skim milk, half a cup of vinegar, drain and rinse the curd, 1 tsp borax, 3 cups of chalk, a splash of water",
];

fn main() {
    divan::main();
}

fn request(told: &str) -> VerdictRequest {
    VerdictRequest { told: told.to_owned(), ..VerdictRequest::default() }
}

/// Told text to the whole card, with its 2000 draws and what each answer would change.
#[divan::bench(args = RECIPES)]
fn told_text_to_card(bencher: Bencher<'_, '_>, told: &str) {
    let bench = Workbench::open().unwrap();
    let request = request(told);
    bencher.bench_local(|| bench.verdict(&request).unwrap());
}

/// The reader alone, on a text as long as the box takes.
#[divan::bench]
fn reader(bencher: Bencher<'_, '_>) {
    let (jars, units) = (Catalogue::builtin().unwrap(), Units::builtin().unwrap());
    let one = format!("{}\n", RECIPES.join("\n"));
    let text = one.repeat(64 * 1024 / one.len());
    bencher.counter(BytesCount::of_str(&text)).bench_local(|| read(jars, &units, &text, &Wishes::new()));
}

/// The reader alone, on a text as short as a recipe.
#[divan::bench(args = RECIPES)]
fn reader_one_recipe(bencher: Bencher<'_, '_>, told: &str) {
    let (jars, units) = (Catalogue::builtin().unwrap(), Units::builtin().unwrap());
    bencher.counter(BytesCount::of_str(told)).bench_local(|| read(jars, &units, told, &Wishes::new()));
}

/// The report written as JSON.
#[divan::bench]
fn film_json(bencher: Bencher<'_, '_>) {
    let card = Workbench::open().unwrap().verdict(&request(RECIPES[1])).unwrap();
    bencher.bench_local(|| serde_json::to_string_pretty(&card.report).unwrap());
}

/// A failed board with its recipe.
#[divan::bench]
fn failed_board(bencher: Bencher<'_, '_>) {
    let bench = Workbench::open().unwrap();
    let taps = [("when", "days later"), ("looks", "network of cracks"), ("rubs", "no")];
    let request = FailedRequest {
        told: RECIPES[1].to_owned(),
        taps: taps.into_iter().map(|(tap, answer)| (tap.to_owned(), answer.to_owned())).collect(),
        ..FailedRequest::default()
    };
    bencher.bench_local(|| bench.failed(&request).unwrap());
}

/// Milk and powder to a recipe.
#[divan::bench]
fn milk_to_recipe(bencher: Bencher<'_, '_>) {
    let bench = Workbench::open().unwrap();
    let form = MilkForm { acid: "1 lemon".to_owned(), ..MilkForm::default() };
    bencher.bench_local(|| bench.milk(&form).unwrap());
}
