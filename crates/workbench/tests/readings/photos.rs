//! Photos from the tray to the readings of a board. The photos are made, so that where their cracks lie is known; boards are the lighthouse's,
//! invented.

use boardmaker::{Made, Pattern, Recipe, Sheet, make_with};
use qrcode::{Color, EcLevel, QrCode};
use show::SightView;
use workbench::{Photo, Studio, TypedLook, Workbench};

use super::{boards, stairs, stamp, why};

/// Photo pixels of a millimetre: 700 px on 44 mm, of which the board takes 0.92.
const PX: f64 = 0.92 * 700.0 / 40.0;

/// A board of 44 x 40 mm seen from straight above.
fn made(seed: u64, pattern: Pattern, sheets: &[Sheet]) -> Made {
    let recipe = Recipe { board_mm: (44.0, 40.0), photo_px: (770, 700), tilt: 0.0, ..Recipe::usual(seed, pattern) };
    make_with(&recipe, sheets)
}

fn label(text: &str) -> Sheet {
    let code = QrCode::with_error_correction_level(text, EcLevel::M).unwrap();
    let squares = code.to_colors().chunks(code.width()).map(|row| row.iter().map(|color| *color == Color::Dark).collect()).collect();
    Sheet::label(squares, (22.0, 20.0), 0.0)
}

/// Keeps a photo of nothing yet.
fn keep(bench: &Workbench, studio: &Studio, bytes: &[u8], chance: u128) -> String {
    bench.keep_photo(studio, bytes, Photo::default(), &stamp(chance)).unwrap()
}

fn told() -> TypedLook {
    TypedLook { board: "44x40mm".into(), ..TypedLook::default() }
}

/// Crack length to the area, mm/mm2, as it would be written down.
fn length(view: &SightView) -> f64 {
    view.best().unwrap().length.parse().unwrap()
}

#[test]
fn cracks_are_measured_put_right_and_written_down_once() {
    let (bench, studio, trial) = stairs();
    let made = made(11, Pattern::Cells(8), &[]);
    let photo = keep(&bench, &studio, &made.jpeg, 50);
    assert_eq!(keep(&bench, &studio, &made.jpeg, 51), photo, "the same bytes are the same photo");
    assert_eq!(studio.state().photos.len(), 1);
    assert!(why(bench.correct_photo(&studio, &photo, "12:1,2", "", &stamp(52))).contains("measure the photo first"));

    bench.measure_photo(&studio, &photo, &told(), &stamp(53)).unwrap();
    let view = bench.sight(&studio, &photo).unwrap();
    // What was drawn into the photo, all of it: the measuring leaves a margin at the rim out of both length and area.
    let truth: f64 = made.cracks.iter().map(boardmaker::Crack::length_mm).sum::<f64>() / (44.0 * 40.0);
    let by_itself = length(&view);
    assert!((by_itself / truth - 1.0).abs() < 0.25, "{by_itself} for {truth} mm/mm2");
    assert!(!view.best().unwrap().paths.is_empty());

    // The longest crack is rubbed out along its own places: about its share is gone, and what was found by itself stays.
    let longest = made.cracks.iter().max_by(|a, b| a.length_mm().total_cmp(&b.length_mm())).unwrap();
    let (left, top) = made.corners[0];
    let places: Vec<String> = longest.points.iter().map(|(x, y)| format!("{:.1},{:.1}", left + x * PX, top + y * PX)).collect();
    let rubbed = format!("8:{}", places.join(";"));
    bench.correct_photo(&studio, &photo, &rubbed, "", &stamp(54)).unwrap();
    let view = bench.sight(&studio, &photo).unwrap();
    let without = length(&view);
    let share = longest.length_mm() / (44.0 * 40.0);
    assert!(by_itself - without > 0.5 * share && by_itself - without < 1.6 * share, "{by_itself} to {without}, a crack of {share}");
    assert_eq!(view.found.as_ref().unwrap().length, by_itself.to_string());

    // Drawn in again by its two ends: nearly all of it is back.
    let drawn = format!("{};{}", places[0], places[places.len() - 1]);
    bench.correct_photo(&studio, &photo, &rubbed, &drawn, &stamp(55)).unwrap();
    let again = length(&bench.sight(&studio, &photo).unwrap());
    assert!((again / by_itself - 1.0).abs() < 0.05, "{by_itself}, rubbed out {without}, drawn in {again}");

    // Measured anew, the strokes stay; all strokes away, the photo says again what it said.
    bench.measure_photo(&studio, &photo, &told(), &stamp(56)).unwrap();
    assert_eq!(length(&bench.sight(&studio, &photo).unwrap()).to_string(), again.to_string());
    bench.correct_photo(&studio, &photo, "", " \n", &stamp(57)).unwrap();
    assert_eq!(length(&bench.sight(&studio, &photo).unwrap()).to_string(), by_itself.to_string());

    assert!(why(bench.write_photo_down(&studio, &photo, "", &stamp(58))).contains("which board"));
    let board = boards(&studio.state(), &trial, "recipe")[0].clone();
    bench.file_photo(&studio, &photo, &board, &stamp(59)).unwrap();
    bench.write_photo_down(&studio, &photo, "3", &stamp(60)).unwrap();
    let state = studio.state();
    let mut measures: Vec<&str> = state.readings_of(&board).iter().map(|reading| reading.record.measure.as_str()).collect();
    measures.sort_unstable();
    assert_eq!(measures, ["crack_length", "crack_width", "cracking"]);
    let name = workbench::photo_name(&made.jpeg);
    assert!(state.readings_of(&board).iter().all(|reading| reading.record.photo.as_deref() == Some(&name)));
    assert!(why(bench.write_photo_down(&studio, &photo, "3", &stamp(61))).contains("written down already"));
}

#[test]
fn a_photo_with_the_label_of_a_board_files_itself() {
    let (bench, studio, trial) = stairs();
    let board = boards(&studio.state(), &trial, "recipe")[1].clone();
    let photo = keep(&bench, &studio, &made(12, Pattern::Whole, &[label(&board)]).jpeg, 70);
    bench.measure_photo(&studio, &photo, &TypedLook::default(), &stamp(71)).unwrap();
    assert_eq!(studio.state().photos[&photo].record.of, board);
    // A label of another studio names no board here.
    let foreign = keep(&bench, &studio, &made(13, Pattern::Whole, &[label("GP-7K3M-Q22")]).jpeg, 72);
    bench.measure_photo(&studio, &foreign, &TypedLook::default(), &stamp(73)).unwrap();
    assert_eq!(studio.state().photos[&foreign].record.of, "");
}

#[test]
fn a_photo_of_no_board_keeps_why_it_was_not_measured() {
    let (bench, studio, _) = stairs();
    // Light without any edge: the ground lies far beyond the photo's rim.
    let recipe = Recipe { board_mm: (44.0, 40.0), photo_px: (300, 300), ground: 0.02, ..Recipe::usual(14, Pattern::Whole) };
    let photo = keep(&bench, &studio, &make_with(&recipe, &[]).jpeg, 80);
    bench.measure_photo(&studio, &photo, &TypedLook::default(), &stamp(81)).unwrap();
    let view = bench.sight(&studio, &photo).unwrap();
    let best = view.best().unwrap();
    assert!(best.why.len() > 20 && best.paths.is_empty(), "{}", best.why);
    assert_eq!(best.photo_px, Some([300, 300]), "corners can be set by hand");
    assert!(view.next.contains("could not be measured"), "{}", view.next);
    assert!(why(bench.write_photo_down(&studio, &photo, "", &stamp(82))).contains("measure the photo first"));
}
