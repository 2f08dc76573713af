use measure::{Grams, SquareMetres};
use notebook::{Day, Moment, Stamp};
use show::{ShoppingLine, ShoppingView};

use super::{PotNeed, Sharing};
use crate::{Studio, TypedJar, VerdictRequest, Workbench};

const NOW: Moment = Moment { seconds: 1_795_607_000, offset_minutes: 0 };

/// Material, grams in a pack, price, grams left, best before.
type JarRow = (&'static str, &'static str, &'static str, &'static str, &'static str);

fn list(told: &str, wet: f64, jars: &[JarRow], boards: usize, face: f64) -> ShoppingView {
    let bench = Workbench::open().unwrap();
    let studio = Studio::in_memory(true).unwrap();
    for (chance, (material, pack, price, stock, best)) in jars.iter().enumerate() {
        let typed = TypedJar {
            material: (*material).into(),
            pack: (*pack).into(),
            price: (*price).into(),
            money: "tokens".into(),
            stock: (*stock).into(),
            best_before: (*best).into(),
            ..TypedJar::default()
        };
        let stamp = Stamp { at: NOW, device: "desk".into(), chance: chance as u128 };
        bench.put_jar(&studio, &typed, &stamp).unwrap();
    }
    let worked = bench.work(&VerdictRequest { told: told.into(), ..VerdictRequest::default() }).unwrap();
    let pot = PotNeed { name: "pot A".into(), worked: Some(&worked), wet: Some(Grams::new(wet)), told };
    let today = Day::read("2026-11-25").unwrap();
    bench.shopping(&studio.state(), &[pot], Sharing { boards, face: Some(SquareMetres::new(face)) }, today)
}

#[track_caller]
fn of<'a>(view: &'a ShoppingView, material: &str) -> &'a ShoppingLine {
    view.lines.iter().find(|line| line.material == material).unwrap_or_else(|| panic!("{material} in {view:?}"))
}

#[track_caller]
fn need(view: &ShoppingView, material: &str) -> f64 {
    of(view, material).need.split('\u{a0}').next().unwrap().parse().unwrap()
}

/// A pot of the trade: 40 g casein, 16 g borax, 250 g water, and 300 g chalk, 606 g together.
const BORAX_CASEIN: &str = "40 g casein powder dry, 16 g borax, 250 g water, 300 g chalk";

#[test]
fn twelve_boards_by_hand() {
    // 12 boards of 20 x 25 cm, 3 coats of 200 g/m2: 360 g; a fifth more is 432 g. Of 606 g: casein 40 x 432 / 606 = 28.515,
    // borax 16 -> 11.406, chalk 300 -> 213.86, water 250 -> 178.22.
    let view = list(BORAX_CASEIN, 432.0, &[], 12, 0.6);
    assert!((need(&view, "casein-powder") - 28.515).abs() < 0.05, "{view:?}");
    assert!((need(&view, "borax") - 11.406).abs() < 0.05, "{view:?}");
    assert!((need(&view, "natural-chalk") - 213.86).abs() < 0.5, "{view:?}");
    assert!((need(&view, "water") - 178.22).abs() < 0.5, "{view:?}");
    assert!(
        view.mind.iter().any(|caution| caution.grave && caution.text.contains("H360FD") || caution.codes.contains("H360")),
        "{:?}",
        view.mind
    );
}

#[test]
fn curd_goes_back_to_milk_and_to_what_curdles_it() {
    // Pressed curd is 34 % casein: 100 g of it in a pot of 400 g, 400 g wanted: 34 g of casein. Skim milk of 3.37 % protein, 78 % of it
    // casein, 95 % caught: 34 / (0.0337 x 0.78 x 0.95) = 1361.6 g, by hand.
    let view = list("100 g pressed curd, 100 g water, 200 g chalk", 400.0, &[], 5, 0.25);
    assert!((need(&view, "skim-milk") - 1361.6).abs() < 1.0, "{view:?}");
    assert!(view.lines.iter().any(|line| line.material == "vinegar"), "{view:?}");
    assert!(view.notes.iter().any(|note| note.contains("white vinegar")), "{:?}", view.notes);
    // 1361.6 g at 1.033 g/ml are 1318 ml: two cartons of a litre.
    assert!(of(&view, "skim-milk").buy.starts_with("2 \u{d7} 1000\u{a0}ml"), "{view:?}");
    assert!(!view.lines.iter().any(|line| line.material == "curd-pressed"), "{view:?}");
}

#[test]
fn milk_that_is_curdled_is_scaled_by_the_curd_that_it_leaves() {
    // A litre of skim milk, 1033 g, leaves 1033 x 0.0337 x 0.78 x 0.95 = 25.797 g of casein, drained 25.797 / 0.23 = 112.16 g of curd; with
    // 200 g of chalk the pot weighs 312.16 g. Twice that wants two litres, 2066 g.
    let view = list("1 l skim milk, 60 ml vinegar, 200 g chalk", 624.32, &[], 5, 0.25);
    assert!((need(&view, "skim-milk") - 2066.0).abs() < 2.0, "{view:?}");
    assert!((need(&view, "natural-chalk") - 400.0).abs() < 1.0, "{view:?}");
    assert!(!view.notes.iter().any(|note| note.contains("is not told")), "the acid was told: {:?}", view.notes);
}

#[test]
fn packs_and_money_by_hand() {
    // Chalk 213.86 g against 100 g on the shelf: 113.86 g missing. A pack of 500 g costs 2.00, one of 1000 g 3.00: one of 500.
    // Casein 28.515 g: a pack of 250 g costs 10.00. Together 12.00.
    let jars = [("natural-chalk", "500", "2", "60", ""), ("natural-chalk", "1000", "3", "40", ""), ("casein-powder", "250", "10", "", "")];
    let view = list(BORAX_CASEIN, 432.0, &jars, 12, 0.6);
    assert_eq!(of(&view, "natural-chalk").buy, "1 \u{d7} 500\u{a0}g");
    assert_eq!(of(&view, "casein-powder").cost, "10.00\u{a0}tokens");
    assert_eq!(view.sums, ["12.00\u{a0}tokens"]);
    // What goes in: chalk at the least a gram costs, 3 / 1000, is 0.64158; casein at 10 / 250 is 1.1406: 1.78218; over 12 boards 0.15,
    // over 0.6 m2 2.97. Borax has no price.
    assert!(view.per_board.contains("0.15\u{a0}tokens a board, 2.97\u{a0}tokens a square metre"), "{}", view.per_board);
    assert!(view.per_board.contains("without borax"), "{}", view.per_board);
    assert!(of(&view, "casein-powder").note.contains("counts as empty"), "{view:?}");
}

#[test]
fn what_is_past_its_day_does_not_count() {
    let jars = [("natural-chalk", "500", "2", "900", "2026-11-24")];
    let view = list(BORAX_CASEIN, 432.0, &jars, 12, 0.6);
    assert_eq!(of(&view, "natural-chalk").buy, "1 \u{d7} 500\u{a0}g");
    assert!(of(&view, "natural-chalk").note.contains("past its best-before day"), "{view:?}");
    // On its very day it still does.
    let jars = [("natural-chalk", "500", "2", "900", "2026-11-25")];
    assert_eq!(of(&list(BORAX_CASEIN, 432.0, &jars, 12, 0.6), "natural-chalk").buy, "nothing");
}

#[test]
fn what_is_not_known_is_said() {
    let view = list("some glue, water until it is like cream, 200 g chalk", 400.0, &[], 5, 0.25);
    assert!(view.lines.is_empty() && view.notes.iter().any(|note| note.contains("say it in grams")), "{view:?}");
    assert!(view.say.contains("can't be told"), "{}", view.say);
}

#[test]
fn binder_that_stands_in_a_jar_is_not_bought() {
    let bench = Workbench::open().unwrap();
    let studio = Studio::in_memory(true).unwrap();
    let tern = crate::TypedBinder {
        name: "Tern".into(),
        road: "curd".into(),
        milk: "2 l skim milk".into(),
        acids: vec!["white vinegar 5 %".into()],
        base: "baking soda".into(),
        warmth: "35".into(),
        rinses: "2".into(),
        ..crate::TypedBinder::default()
    };
    bench.begin_binder(&studio, &tern, &Stamp { at: NOW, device: "desk".into(), chance: 1 }).unwrap();
    let state = studio.state();
    let listed = |told: &str| {
        let own = bench.own_values_for(&state, told);
        let worked = bench.work(&VerdictRequest { told: told.into(), own, ..VerdictRequest::default() }).unwrap();
        let pot = PotNeed { name: "Pot A".into(), worked: Some(&worked), wet: Some(Grams::new(500.0)), told };
        bench.shopping(&state, &[pot], Sharing { boards: 5, face: None }, Day::read("2026-11-25").unwrap())
    };
    // 100 g of binder and 150 g of chalk, twice that in a pot of 500 g.
    let view = listed("100 g casein binder, jar Tern, 150 g chalk");
    assert!(!view.lines.iter().any(|line| line.material == "casein-solution"), "{view:?}");
    assert!(view.notes.iter().any(|note| note == "Pot A: 200\u{a0}g of casein binder come from jar Tern."), "{:?}", view.notes);
    assert!(!view.say.contains("casein"), "{}", view.say);
    // Without a jar it is bought as before.
    assert!(listed("100 g casein binder, 150 g chalk").lines.iter().any(|line| line.material == "casein-solution"));
}
