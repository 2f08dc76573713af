//! How long a wish takes with a dozen ingredients, and a shopping list of fifteen.

#![expect(clippy::unwrap_used, reason = "a bench that can't run says so by a panic")]

use workbench::{Day, EnlargeForm, Notebook, WishForm, Workbench};

const DOZEN: &str = "200 g chalk, 60 g marble dust, 40 g zinc white, 30 g titanium white, 20 g lithopone, 20 g barite, 15 g china clay, 20 g hide glue, 6 g gelatine, 2 g honey, 3 g glycerine, 420 g water";

fn main() {
    divan::main();
}

/// Twelve ingredients in grams and in cups: to stay under 100 ms.
#[divan::bench(args = ["", "us"])]
fn a_wish_of_twelve(bencher: divan::Bencher, spoons: &str) {
    let bench = Workbench::open().unwrap();
    let form = WishForm { like: DOZEN.into(), usual: true, spoons: spoons.into(), ..WishForm::default() };
    bencher.bench_local(|| bench.wish(&form));
}

/// Fifteen ingredients for five panels, bought in packs: to stay under 50 ms without the card.
#[divan::bench]
fn panels_of_fifteen(bencher: divan::Bencher) {
    let bench = Workbench::open().unwrap();
    let told = format!("{DOZEN}, 10 g blanc fixe, 5 g gypsum, 1 g thymol");
    let form = EnlargeForm { told, panels: "5 x 60x80cm; 7 x 30x40cm".into(), sheet: "122x244cm".into(), ..EnlargeForm::default() };
    let (state, today) = (Notebook::default(), Day::read("2026-11-28").unwrap());
    bencher.bench_local(|| bench.enlarge(&state, &form, today));
}
