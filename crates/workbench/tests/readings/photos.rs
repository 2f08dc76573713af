//! Photos from the tray to the readings of a board. The photos are made, so that where their cracks lie is known; boards are the lighthouse's,
//! invented.

use boardmaker::{Made, Pattern, Recipe, Sheet, make_with};
use qrcode::{Color, EcLevel, QrCode};
use show::SightView;
use workbench::{PaperWords, Photo, Studio, TypedLook, Workbench};

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

    assert!(why(bench.write_photo_down(&studio, &photo, "", "", &stamp(58))).contains("which board"));
    let board = boards(&studio.state(), &trial, "recipe")[0].clone();
    bench.file_photo(&studio, &photo, &board, &stamp(59)).unwrap();
    bench.write_photo_down(&studio, &photo, "3", "", &stamp(60)).unwrap();
    let state = studio.state();
    let mut measures: Vec<&str> = state.readings_of(&board).iter().map(|reading| reading.record.measure.as_str()).collect();
    measures.sort_unstable();
    assert_eq!(measures, ["crack_length", "crack_width", "cracking"]);
    let name = workbench::photo_name(&made.jpeg);
    assert!(state.readings_of(&board).iter().all(|reading| reading.record.photo.as_deref() == Some(&name)));
    assert!(why(bench.write_photo_down(&studio, &photo, "3", "", &stamp(61))).contains("written down already"));
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
    assert!(why(bench.write_photo_down(&studio, &photo, "", "", &stamp(82))).contains("measure the photo first"));
}

/// Exif as a camera writes it, by CIPA DC-008-2019: IFD 0 with the maker, the time of the last change, and ways to the camera's own notes
/// and to the place; notes with the time of taking and its zone. Put into the JPEG after its start mark.
fn with_clock(jpeg: &[u8], changed: &str, taken: Option<(&str, &str)>) -> Vec<u8> {
    const ASCII: u16 = 2;
    let mut tiff = b"MM\0\x2a\0\0\0\x08".to_vec();
    let mut put = |entries: &[(u16, u16, u32, Vec<u8>)]| {
        // Behind count, entries and the way to the next IFD lie the texts.
        let mut texts = tiff.len() + 2 + 12 * entries.len() + 4;
        let mut behind: Vec<u8> = Vec::new();
        tiff.extend(u16::try_from(entries.len()).unwrap().to_be_bytes());
        for (tag, kind, count, value) in entries {
            tiff.extend([tag.to_be_bytes(), kind.to_be_bytes()].concat());
            tiff.extend(count.to_be_bytes());
            if value.len() == 4 {
                tiff.extend(value);
            } else {
                tiff.extend(u32::try_from(texts).unwrap().to_be_bytes());
                texts += value.len();
                behind.extend(value);
            }
        }
        tiff.extend([0; 4]);
        tiff.extend(behind);
        tiff.len()
    };
    let text = |tag: u16, words: &str| {
        let bytes = format!("{words}\0").into_bytes();
        (tag, ASCII, u32::try_from(bytes.len()).unwrap(), bytes)
    };
    // Where the next IFD begins: head 8, count 2, three entries of 12, 4 behind, and two texts.
    let notes = u32::try_from(8 + 2 + 3 * 12 + 4 + "Lantern Optics".len() + 1 + changed.len() + 1).unwrap();
    let ways = (0x8769, 4, 1, notes.to_be_bytes().to_vec());
    assert_eq!(put(&[text(0x010f, "Lantern Optics"), text(0x0132, changed), ways]), notes as usize);
    match taken {
        Some((taken, zone)) => put(&[text(0x9003, taken), text(0x9011, zone)]),
        None => put(&[]),
    };
    let note = [b"Exif\0\0".to_vec(), tiff, b"54 North, the old lighthouse".to_vec()].concat();
    let length = u16::try_from(note.len() + 2).unwrap().to_be_bytes();
    let (start, rest) = jpeg.split_at(2);
    [start, &[0xff, 0xe1], &length, &note, rest].concat()
}

/// Seconds since 1970, worked out with GNU date: `date -u -d '2026-11-18 13:05:09' +%s`.
const TAKEN: i64 = 1_795_007_109;

#[test]
fn a_photo_was_taken_when_its_camera_says() {
    let (bench, studio, _) = stairs();
    let bare = made(15, Pattern::Whole, &[]).jpeg;
    let day = |bytes: &[u8], chance: u128| {
        let photo = keep(&bench, &studio, bytes, chance);
        let record = studio.state().photos[&photo].record.clone();
        (bench.sight(&studio, &photo).unwrap().taken, record, photo)
    };
    // Quarter past two in a zone an hour ahead is a quarter past one in UTC.
    let (view, record, photo) = day(&with_clock(&bare, "2026:11:20 08:00:00", Some(("2026:11:18 14:05:09", "+01:00"))), 200);
    assert_eq!((view.day.as_str(), view.words.as_str()), ("2026-11-18", "taken on 2026-11-18 by the camera's clock"));
    assert_eq!(record.camera.map(|at| (at.seconds, at.offset_minutes)), Some((TAKEN, 60)));
    // Nothing else of what the camera wrote comes into the notebook.
    let kept = serde_json::to_string(&record).unwrap();
    assert!(!kept.contains("Lantern") && !kept.contains("lighthouse"), "{kept}");

    // A hand has the last word, and may take it back.
    bench.day_photo(&studio, &photo, "2026-11-17", &stamp(201)).unwrap();
    assert_eq!(bench.sight(&studio, &photo).unwrap().taken.words, "taken on 2026-11-17, as told");
    assert!(why(bench.day_photo(&studio, &photo, "2099-01-01", &stamp(202))).contains("still to come"));
    assert!(why(bench.day_photo(&studio, &photo, "soon", &stamp(203))).contains("is no day"));
    bench.day_photo(&studio, &photo, "", &stamp(204)).unwrap();
    assert_eq!(bench.sight(&studio, &photo).unwrap().taken, view);

    // No time of taking: the time of the last change. None at all, or one that can't be: the day when it was kept.
    let kept_on = stamp(0).at.local().0;
    assert_eq!(day(&with_clock(&bare, "2026:11:16 08:00:00", None), 205).0.day, "2026-11-16");
    assert_eq!(day(&bare, 206).0.words, format!("kept on {kept_on}; the photo does not say when it was taken"));
    for (chance, (clock, said)) in [("1980:01:01 00:00:00", "1980-01-01"), ("2098:02:03 00:00:00", "2098-02-03")].into_iter().enumerate() {
        let (view, ..) = day(&with_clock(&bare, clock, None), 207 + chance as u128);
        assert_eq!(view.words, format!("kept on {kept_on}; by the camera's clock it was taken on {said}, which can't be"));
        assert_eq!(view.day, kept_on.to_string());
    }
    for (chance, clock) in
        ["0000:00:00 00:00:00", "    :  :     :  :  ", "2026:02:30 10:00:00", "", "2026:11:16 25:00:00"].into_iter().enumerate()
    {
        let (view, record, _) = day(&with_clock(&bare, clock, None), 220 + chance as u128);
        assert_eq!(record.camera, None, "{clock}");
        assert!(view.words.contains("does not say"), "{clock}");
    }
    // Notes that are cut anywhere are no reason to refuse a photo.
    let whole = with_clock(&bare, "2026:11:16 08:00:00", Some(("2026:11:18 14:05:09", "+01:00")));
    for cut in (30..160).step_by(3) {
        let hurt = [&whole[..cut], &[0xff; 4], &whole[cut + 4..]].concat();
        let _ = keep(&bench, &studio, &hurt, 300 + cut as u128);
    }
}

#[test]
fn photos_of_a_board_lie_in_the_order_in_which_they_were_taken() {
    let (bench, studio, trial) = stairs();
    let board = boards(&studio.state(), &trial, "recipe")[0].clone();
    let bare = made(16, Pattern::Cells(8), &[]).jpeg;
    // Kept in one order, taken in another; without a zone the camera's clock stood in that of the studio.
    let new = keep(&bench, &studio, &with_clock(&bare, "2026:11:18 10:00:00", None), 400);
    let old = keep(&bench, &studio, &with_clock(&bare, "2026:11:12 10:00:00", None), 401);
    for (photo, chance) in [(&new, 402), (&old, 403)] {
        bench.file_photo(&studio, photo, &board, &stamp(chance)).unwrap();
    }
    let state = studio.state();
    let days = bench.days_of(&state, &new, &old).unwrap();
    assert!(days[0].0 == old && days[0].1.contains("2026-11-12") && days[1].1.contains("2026-11-18"), "{days:?}");
    assert_eq!(bench.sight(&studio, &new).unwrap().others, [(old.clone(), "2026-11-12".to_owned())]);
    bench.measure_photo(&studio, &old, &told(), &stamp(404)).unwrap();
    bench.write_photo_down(&studio, &old, "", "", &stamp(405)).unwrap();
    assert!(studio.state().readings_of(&board).iter().all(|reading| reading.record.read.local().0.to_string() == "2026-11-12"));
    bench.measure_photo(&studio, &new, &told(), &stamp(406)).unwrap();
    bench.write_photo_down(&studio, &new, "", "2026-11-17", &stamp(407)).unwrap();
    // What is automatic and what was put right by hand stands beside the figures in the paper, and is no odd find there.
    bench.correct_photo(&studio, &new, "8:100,100\n8:200,200", "300,300;320,310", &stamp(408)).unwrap();
    assert!(why(bench.write_photo_down(&studio, &new, "", "", &stamp(409))).contains("written down already"));
    let paper = |day| bench.trial_paper(&studio, &studio.state(), &trial, &PaperWords::default(), day).unwrap();
    let paper = paper(stamp(0).at.local().0);
    let read: Vec<&str> = paper.view.readings.iter().map(|row| row.rater.as_str()).filter(|rater| rater.contains("photo")).collect();
    assert!(read.len() >= 4 && read.iter().all(|rater| rater.starts_with("by photo, read by the program; groundproof")), "{read:?}");
    assert!(!paper.view.failures.iter().any(|line| line.contains("groundproof")), "{:?}", paper.view.failures);
    let captions: Vec<&str> = paper.photos.iter().map(|photo| photo.caption.as_str()).collect();
    let by_hand = "read by the program; rubbed out in 2 places and 1 crack drawn in by hand";
    assert!(
        captions.iter().any(|caption| caption.contains("taken on 2026-11-18 by the camera's clock") && caption.contains(by_hand)),
        "{captions:?}"
    );
    assert!(
        captions.iter().any(|caption| caption.contains("taken on 2026-11-12") && caption.contains("(read by the program)")),
        "{captions:?}"
    );
    let last = studio.state().readings_of(&board).iter().map(|reading| reading.record.read.local().0.to_string()).max();
    assert_eq!(last.as_deref(), Some("2026-11-17"));
}
