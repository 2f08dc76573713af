//! Pictures beside the ones that were looked at. After a wanted change run the test once with `GROUNDPROOF_ACCEPT=1`, look at the new
//! files in `tests/golden`, and commit them.
#![expect(clippy::unwrap_used, clippy::disallowed_methods, reason = "a test: a panic is the report, and the files are its own")]

use std::path::Path;

use measure::{Figure, Unit};
use show::{Bar, LookView, SectionView, SourPoint, SourView, Tick, look_picture, rule_picture, section_picture, sour_picture, standalone};

const EDGES: (f64, f64, f64) = (1.10, 1.40, 0.1);

fn golden(name: &str, picture: &str) {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden").join(name);
    if std::env::var_os("GROUNDPROOF_ACCEPT").is_some() {
        std::fs::write(&file, picture).unwrap();
    }
    let kept = std::fs::read_to_string(&file).unwrap_or_default();
    assert!(kept == picture, "{name} is not the picture that was looked at; see the head of this file");
}

fn section(coats: u32, grains: f64, air: f64) -> SectionView {
    SectionView {
        wet_um: 100.0,
        dry_um: Figure { key: "dry_um", value: 38.73, low: 32.0, high: 46.0, unit: Unit::Micrometres },
        coats,
        grains,
        air,
        seed: 1,
        told: true,
    }
}

#[test]
fn a_section_with_air_and_four_coats() {
    golden("section.svg", &standalone(&section_picture(&section(4, 0.657, 0.203))));
}

#[test]
fn a_ground_over_black_and_wood() {
    // Chalk and glue as a reader may see them; invented, nothing is checked here but the drawing.
    let over = [[0.0, 0.55, 0.80], [0.3, 0.66, 0.86], [0.4, 0.70, 0.88], [0.5, 0.75, 0.90]];
    golden("look.svg", &standalone(&look_picture(&LookView { over })));
}

#[test]
fn a_rule_with_two_bars() {
    let ticks: Vec<Tick> = [1.151, 1.212, 1.359].iter().map(|at| Tick { id: "R".into(), name: "a ground".into(), at: *at }).collect();
    let bars =
        [("first".to_owned(), Bar { low: 1.05, value: 1.12, high: 1.2 }), ("second".to_owned(), Bar { low: 1.3, value: 1.5, high: 2.4 })];
    golden("rule.svg", &standalone(&rule_picture(&bars, &ticks, EDGES)));
}

fn sour(here: Option<(f64, f64)>) -> SourView {
    // Invented, shaped like milk: nothing is checked here but the drawing.
    let points = [(0.0, 6.65, 0.1), (40.0, 5.6, 0.15), (80.0, 5.0, 0.2), (120.0, 4.6, 0.2), (180.0, 4.3, 0.15)];
    SourView {
        points: points.iter().map(|(acid, ph, doubt)| SourPoint { acid: *acid, ph: *ph, low: ph - doubt, high: ph + doubt }).collect(),
        acid: "ml of vinegar".into(),
        curdles_from: Some(5.42),
        at: "at 35 °C".into(),
        goal: 4.6,
        here,
    }
}

#[test]
fn a_sour_curve_with_where_you_are() {
    let picture = sour_picture(&sour(Some((60.0, 5.27))));
    assert!(picture.contains("<title>") && picture.contains("<desc>") && !picture.contains("style="));
    golden("sour.svg", &standalone(&picture));
}

/// Nothing that a form can hold breaks the drawing: no acid, one point, an acid beyond the curve.
#[test]
fn a_sour_curve_without_a_curve() {
    for view in
        [SourView { points: Vec::new(), ..sour(None) }, SourView { points: Vec::new(), ..sour(Some((0.0, 2.0))) }, sour(Some((900.0, 3.1)))]
    {
        let picture = sour_picture(&view);
        assert!(!picture.contains("NaN") && !picture.contains("inf"), "{picture}");
    }
}
