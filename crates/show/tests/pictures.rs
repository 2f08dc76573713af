//! Pictures beside the ones that were looked at. After a wanted change run the test once with `GROUNDPROOF_ACCEPT=1`, look at the new
//! files in `tests/golden`, and commit them.
#![expect(clippy::unwrap_used, clippy::disallowed_methods, reason = "a test: a panic is the report, and the files are its own")]

use std::path::Path;

use measure::{Figure, Unit};
use show::{
    Bar, DrawdownView, MoverView, SectionView, SourPoint, SourView, Tick, WindowBoard, WindowColumn, WindowMark, WindowPicture,
    drawdown_picture, movers_picture, rule_picture, section_picture, sour_picture, standalone, window_picture,
};

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
    golden("look.svg", &standalone(&drawdown_picture(&DrawdownView { over })));
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

/// Invented heights: nothing is checked here but the drawing.
fn window() -> WindowPicture {
    let column = |binder: f64, unlikely_um: f64, likely_um: Option<f64>| WindowColumn { binder, unlikely_um, likely_um };
    WindowPicture {
        name: "on plywood".into(),
        most_binder: 80.0,
        columns: vec![
            column(4.0, 1000.0, None),
            column(12.0, 1000.0, None),
            column(18.0, 300.0, None),
            column(28.0, 70.0, Some(450.0)),
            column(40.0, 70.0, Some(200.0)),
            column(80.0, 90.0, Some(230.0)),
        ],
        near: Some((18.0, 28.0)),
        ticks: vec![5.0, 8.0, 14.0],
        mark: WindowMark {
            binder: [34.0, 36.0, 39.0],
            coat: Some(Figure { key: "dry_um", value: 30.0, low: 25.0, high: 36.0, unit: Unit::Micrometres }),
            coats: 4,
        },
        boards: vec![
            WindowBoard { binder: 50.0, sound_um: Some(60.0), cracked_um: Some(120.0) },
            WindowBoard { binder: 60.0, sound_um: None, cracked_um: Some(300.0) },
            WindowBoard { binder: 9.0, sound_um: Some(400.0), cracked_um: None },
        ],
    }
}

#[test]
fn a_window_with_boards() {
    golden("window.svg", &standalone(&window_picture(&window())));
}

/// Nothing beyond 1 mm is drawn or said, and every mark has its words.
#[test]
fn a_window_ends_at_one_millimetre() {
    let thick = WindowPicture {
        mark: WindowMark {
            binder: [100.0, 120.0, 150.0],
            coat: Some(Figure { key: "dry_um", value: 700.0, low: 600.0, high: 800.0, unit: Unit::Micrometres }),
            coats: 2,
        },
        boards: Vec::new(),
        ..window()
    };
    let picture = window_picture(&thick);
    assert!(picture.contains("beyond 1 mm") && picture.contains("none of your boards"));
    for words in ["cracks unlikely", "can&#39;t say", "cracks likely"] {
        assert!(picture.contains(words) || picture.contains(&words.replace("&#39;", "'")), "{words}");
    }
    // The field begins at 40 from the top: no height lies above it.
    for number in picture.split('L').skip(1).filter_map(|rest| rest.split_whitespace().nth(1)) {
        let end = number.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(number.len());
        assert!(number[..end].parse::<f64>().is_ok_and(|y| (40.0..=262.0).contains(&y)), "{number}");
    }
}

#[test]
fn bars_of_what_moves_it() {
    let movers = [("how much of the pull is left once the binder has given way", 0.4), ("how hard it is to tear the dry casein", -0.25)];
    let movers: Vec<MoverView> = movers.iter().map(|(plain, by)| MoverView { plain: (*plain).into(), by: *by }).collect();
    golden("movers.svg", &standalone(&movers_picture(&movers)));
}
