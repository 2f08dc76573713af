//! What must hold for any recipe, all the way from told text to figures.

#![expect(clippy::unwrap_used, reason = "in a test a panic is the report")]

use std::sync::LazyLock;

use proptest::prelude::*;
use proptest::sample::select;
use show::{Card, FigureReport, LineReport};
use trials::causes::{CauseBook, FactKey};
use workbench::{VerdictRequest, Workbench};

static BENCH: LazyLock<Workbench> = LazyLock::new(|| Workbench::open().unwrap());

fn card(told: &str) -> Card {
    BENCH.verdict(&VerdictRequest { told: told.to_owned(), ..VerdictRequest::default() }).unwrap()
}

fn figures(card: &Card) -> Vec<(&'static str, &FigureReport)> {
    let film = &card.report.film;
    let pot = &card.report.mass_g;
    vec![
        ("pvc", &film.pvc),
        ("cpvc", &film.cpvc),
        ("lambda", &film.lambda),
        ("porosity", &film.porosity),
        ("solids_mass", &film.solids_mass),
        ("solids_volume", &film.solids_volume),
        ("wet_density", &film.wet_density_g_ml),
        ("dry", &film.dry_um),
        ("coverage", &film.coverage_g_m2),
        ("binder_per_100", &film.binder_per_100_powder_g),
        ("filler", &pot.filler),
        ("binder", &pot.binder),
        ("water", &pot.water),
        ("volatile", &pot.volatile),
        ("other", &pot.other),
    ]
}

/// A unit is an unknown of its own, drawn anew for each, so the ends of a band may differ by the chance of 2000 draws: two per cent of
/// its width is one standard error of that, and six of them are let through.
const CHANCE: f64 = 0.12;

/// Values agree within a share of themselves, ends of bands within that and a share of the band.
fn same(one: &Card, other: &Card, within: f64, chance: f64) {
    for ((name, a), (_, b)) in figures(one).into_iter().zip(figures(other)) {
        let (Some(x), Some(y)) = (a.value, b.value) else {
            assert_eq!(a.value, b.value, "{name}");
            continue;
        };
        assert!((x - y).abs() <= within * x.abs().max(1e-3), "{name}: {x} and {y}");
        let width = a.high.unwrap() - a.low.unwrap();
        for (end, x, y) in [("low", a.low, b.low), ("high", a.high, b.high)] {
            assert!(
                (x.unwrap() - y.unwrap()).abs() <= chance * width + within * x.unwrap().abs().max(1e-3),
                "{name} {end}: {x:?} and {y:?}"
            );
        }
    }
}

const POWDERS: [&str; 5] = ["chalk", "gypsum", "marble dust", "kaolin", "zinc white"];
const BINDERS: [&str; 3] = ["hide glue", "rabbit skin glue", "casein powder dry"];

/// A powder or two, a binder and water, all weighed: nothing to ask but what the names leave open.
fn weighed() -> impl Strategy<Value = Vec<String>> {
    let amounts = (50u32..900, 1u32..300, 2u32..90, 60u32..900);
    (select(&POWDERS[..]), select(&POWDERS[..]), select(&BINDERS[..]), amounts).prop_map(
        |(one, two, binder, (first, second, glue, water))| {
            let mut lines = vec![format!("{first} g {one}"), format!("{glue} g {binder}"), format!("{water} g water")];
            if one != two {
                lines.push(format!("{second} g {two}"));
            }
            lines
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_order_of_the_lines_does_not_matter(lines in weighed(), shift in 1usize..4, back in any::<bool>()) {
        let mut other = lines.clone();
        let by = shift % other.len();
        other.rotate_left(by);
        if back {
            other.reverse();
        }
        same(&card(&lines.join("\n")), &card(&other.join("\n")), 1e-9, 0.0);
    }

    #[test]
    fn lines_and_one_sentence_are_the_same(lines in weighed()) {
        same(&card(&lines.join("\n")), &card(&lines.join(", ")), 1e-9, 0.0);
    }

    #[test]
    fn more_binder_never_raises_the_powder_share(lines in weighed(), more in 1u32..200) {
        let with = |extra: u32| {
            let mut lines = lines.clone();
            let (amount, name) = lines[1].split_once(' ').unwrap();
            lines[1] = format!("{} {name}", amount.parse::<u32>().unwrap() + extra);
            card(&lines.join("\n"))
        };
        let (less, more) = (with(0), with(more));
        prop_assert!(more.report.film.pvc.value <= less.report.film.pvc.value);
        prop_assert!(more.report.film.lambda.value <= less.report.film.lambda.value);
        prop_assert!(more.report.film.porosity.value.unwrap() <= less.report.film.porosity.value.unwrap() + 1e-12);
        let rank = |card: &Card| ["lean", "usual", "rich"].iter().position(|word| Some(*word) == card.report.word.first);
        if let (Some(less), Some(more)) = (rank(&less), rank(&more)) {
            prop_assert!(more >= less, "more binder made it leaner");
        }
    }

    #[test]
    fn twice_of_everything_is_the_same_film(lines in weighed()) {
        let twice: Vec<String> = lines.iter().map(|line| {
            let (amount, name) = line.split_once(' ').unwrap();
            format!("{} {name}", amount.parse::<u32>().unwrap() * 2)
        }).collect();
        let (one, two) = (card(&lines.join("\n")), card(&twice.join("\n")));
        for name in ["pvc", "lambda", "porosity", "solids_mass", "solids_volume", "wet_density", "dry", "coverage"] {
            let of = |card: &Card| figures(card).into_iter().find(|(each, _)| *each == name).unwrap().1.value.unwrap();
            prop_assert!((of(&one) - of(&two)).abs() <= 1e-9 * of(&one).max(1e-3), "{}: {} and {}", name, of(&one), of(&two));
        }
    }

    #[test]
    fn ranges_hold_their_value_and_shares_stay_shares(lines in weighed()) {
        let card = card(&lines.join("\n"));
        for (name, figure) in figures(&card) {
            let (Some(low), Some(value), Some(high)) = (figure.low, figure.value, figure.high) else { continue };
            prop_assert!(low <= value && value <= high, "{}: {} {} {}", name, low, value, high);
            if ["pvc", "cpvc", "porosity", "solids_mass", "solids_volume"].contains(&name) {
                prop_assert!((0.0..=1.0).contains(&low) && (0.0..=1.0).contains(&high), "{}: {} {}", name, low, high);
            } else {
                prop_assert!(low >= 0.0, "{}: {}", name, low);
            }
        }
        if let Some(bar) = card.bar {
            prop_assert!(bar.low <= bar.value && bar.value <= bar.high);
        }
    }

    #[test]
    fn nothing_is_gained_or_lost_in_the_pot(lines in weighed()) {
        let card = card(&lines.join("\n"));
        let told: f64 = card.report.lines.iter().filter_map(|line: &LineReport| line.mass_g.value).sum();
        let pot = &card.report.mass_g;
        let found: f64 = [&pot.filler, &pot.binder, &pot.water, &pot.volatile, &pot.other].iter().filter_map(|figure| figure.value).sum();
        let typed: f64 = lines.iter().map(|line| line.split_once(' ').unwrap().0.parse::<f64>().unwrap()).sum();
        prop_assert!((told - typed).abs() < 1e-6 * typed, "{} g told, {} g read", typed, told);
        prop_assert!((found - told).abs() < 1e-6 * told, "{} g told, {} g in the pot", told, found);
    }

    #[test]
    fn told_words_are_never_lost(told in "\\PC{0,120}") {
        let card = card(&told);
        let back: String = card.pieces.iter().map(|piece| piece.text.as_str()).collect();
        prop_assert_eq!(&back, &told);
        for line in &card.report.lines {
            prop_assert_eq!(told.get(line.from..line.to), Some(line.text.as_str()));
        }
        for struck in &card.report.struck {
            prop_assert_eq!(told.get(struck.from..struck.to), Some(struck.text.as_str()));
            prop_assert!(!struck.why.is_empty());
        }
    }
}

/// Plaster takes up water as it sets; together they weigh what they weighed. 100 g of CaSO4 . 1/2 H2O bind 18.6 g of water:
/// 1.5 x 18.015 / 145.15 (atomic masses: IUPAC 2021, abridged).
#[test]
fn plaster_that_sets_keeps_the_weight_of_the_pot() {
    let card = card("100 g plaster of paris, 20 g hide glue, 200 g water");
    let pot = &card.report.mass_g;
    let value = |figure: &FigureReport| figure.value.unwrap();
    let all = value(&pot.filler) + value(&pot.binder) + value(&pot.water) + value(&pot.volatile) + value(&pot.other);
    assert!((all - 320.0).abs() < 1e-6, "{all}");
    assert!((value(&pot.filler) - 100.0 * (1.0 + 1.5 * 18.015 / 145.15)).abs() < 0.15, "{}", value(&pot.filler));
}

/// One amount in many units. Pound and ounce: UK Weights and Measures Act 1985, Schedule 1; grain and US measures: NIST Handbook 44,
/// Appendix C; inch 25.4 mm.
#[test]
fn one_amount_in_many_units_is_one_film() {
    let rest = "14 g hide glue, 200 g water";
    let grams = card(&format!("250 g chalk, {rest}"));
    for told in [
        "0.25 kg",
        "0,25 kg",
        "1/4 kg",
        "¼ kg",
        "250000 mg",
        "25 dag",
        "8.818490487 oz",
        "0.5511556555 lb",
        "3858.089589 grains",
        "0.5 pfund",
    ] {
        same(&grams, &card(&format!("{told} chalk, {rest}")), 1e-6, CHANCE);
    }
    let rest = "250 g chalk, 14 g hide glue";
    let millilitres = card(&format!("{rest}, 236.5882365 ml water"));
    for told in [
        "0.2365882365 l",
        "23.65882365 cl",
        "2.365882365 dl",
        "1 US cup",
        "8 US fl oz",
        "16 US tablespoons",
        "48 US teaspoons",
        "half a US pint",
    ] {
        same(&millilitres, &card(&format!("{rest}, {told} water")), 1e-6, CHANCE);
    }
}

/// Each side of the arithmetic is checked elsewhere; here only that the two tables speak of the same things.
#[test]
fn boards_tell_only_facts_that_the_causes_know() {
    let causes = CauseBook::builtin().unwrap();
    for support in support::Shelf::builtin().unwrap().supports() {
        for fact in &support.facts {
            assert!(causes.fact(&FactKey::new(fact)).is_some(), "{}: {fact}", support.id);
        }
    }
}

/// Every printed recipe with a place on the rule comes to the same place when its line is typed into the box.
#[test]
fn a_printed_recipe_typed_into_the_box_stands_where_the_books_say() {
    let bench = Workbench::open().unwrap();
    let ticks = card("250 g chalk, 14 g hide glue, 200 ml water").ticks;
    assert!(ticks.len() >= 8);
    for book in bench.books().iter().filter(|book| !book.told.is_empty()) {
        let Some(tick) = ticks.iter().find(|tick| tick.id == book.id) else { continue };
        let place = card(&book.told).report.film.lambda.value;
        assert!(place.is_some_and(|place| (place / tick.at - 1.0).abs() < 1e-6), "{}: {place:?} and {}", book.id, tick.at);
    }
}
