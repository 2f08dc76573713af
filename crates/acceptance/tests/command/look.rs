//! A photo of a board on the command line.

use std::path::Path;

use acceptance::{Trouble, run};
use image::{GrayImage, Luma, Rgb, RgbImage};
use serde_json::Value;

use crate::check_figures;

/// A board of 100 x 75 mm, 4 pixels a millimetre, on a dark table, with four straight black cracks 0.75 mm wide from edge to edge, one every
/// 20 mm. Its corners lie between its outer pixels and the table's.
fn board() -> RgbImage {
    RgbImage::from_fn(560, 420, |x, y| {
        let inside = (80..480).contains(&x) && (60..360).contains(&y);
        let crack = inside && (1..=4).any(|k| (0..3).contains(&(i64::from(x) - 80 - 80 * k)));
        if crack {
            Rgb([12, 12, 12])
        } else if inside {
            Rgb([225, 223, 217])
        } else {
            Rgb([52, 50, 47])
        }
    })
}

fn odd(why: impl std::fmt::Display) -> Trouble {
    Trouble::Odd(why.to_string())
}

fn saved(folder: &Path, name: &str, picture: &RgbImage) -> Result<String, Trouble> {
    let path = folder.join(name);
    picture.save(&path).map_err(odd)?;
    Ok(path.display().to_string())
}

#[test]
fn cracks_of_a_board_worked_by_hand() -> Result<(), Trouble> {
    let folder = tempfile::tempdir().map_err(odd)?;
    let photo = saved(folder.path(), "lighthouse.png", &board())?;
    let [overlay, mask] = ["over.png", "mask.png"].map(|name| folder.path().join(name));
    let corners = "79.5,59.5;479.5,59.5;479.5,359.5;79.5,359.5";
    let (overlay_name, mask_name) = (overlay.display().to_string(), mask.display().to_string());
    let said = run(
        &[
            "look",
            &photo,
            "--board",
            "100x75mm",
            "--corners",
            corners,
            "--overlay",
            &overlay_name,
            "--mask",
            &mask_name,
            "--grain",
            "down",
            "--json",
        ],
        b"",
    )?;
    assert_eq!(said.code, Some(0), "{}", said.complaint);
    let json = said.json()?;
    assert_eq!(json["is"], "groundproof look 1");
    assert!(check_figures(&json, "look") >= 10);
    let near = |at: &Value, wanted: f64, within: f64| {
        let value = at["value"].as_f64().unwrap_or(f64::NAN);
        assert!((value - wanted).abs() <= within, "{value} instead of {wanted}");
    };
    let cracks = &json["cracks"];
    // Four lines on 98 mm inside of the margin: 4 / 98 = 0.0408 mm/mm2, times 0.75 mm = 0.0306 of the area.
    near(&cracks["length_mm_per_mm2"], 4.0 / 98.0, 0.0015);
    near(&cracks["area_fraction"], 3.0 / 98.0, 0.004);
    near(&cracks["width_mm"]["median"], 0.75, 0.1);
    near(&cracks["direction_deg"], 90.0, 1.0);
    near(&cracks["direction_strength"], 1.0, 0.01);
    near(&cracks["junctions_per_cm2"], 0.0, 1e-9);
    near(&json["islands"], 5.0, 1e-9);
    near(&json["pinholes"], 0.0, 1e-9);
    for (part, unit) in [("length_mm_per_mm2", "mm/mm2"), ("area_fraction", "1"), ("junctions_per_cm2", "1/cm2"), ("direction_deg", "deg")]
    {
        assert_eq!(cracks[part]["unit"], unit, "{part}");
    }
    assert_eq!(json["rating"]["scale"], "own scale, shaped like ISO 4628-4");
    // 0.041 mm/mm2 is class 3 (from 0.02 on), 0.75 mm wide is size 4 (from 0.5 mm on).
    assert_eq!((&json["rating"]["quantity"], &json["rating"]["size"]), (&Value::from(3), &Value::from(4)));
    assert_eq!(json["taps"][0]["answer"], "cracks along the grain");
    assert_eq!(json["board"]["size_from"], "told");

    // 4 px/mm in the photo, so 0.25 mm a pixel, and the mask is 400 x 300.
    let scale = json["scale_mm_per_px"].as_f64().unwrap_or(f64::NAN);
    assert!((scale - 0.25).abs() < 0.005, "{scale}");
    let read = |path: &Path| image::open(path).map(image::DynamicImage::into_luma8).map_err(odd);
    let mask: GrayImage = read(&mask)?;
    assert_eq!((f64::from(mask.width()), f64::from(mask.height())), ((100.0 / scale).round(), (75.0 / scale).round()));
    // The middle of the first crack, 20.4 mm from the left, and bare ground half-way to the next.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a place in the picture")]
    let at = |mm: f64| mask.get_pixel((mm / scale) as u32, mask.height() / 2);
    assert_eq!((at(20.4), at(30.0)), (&Luma([255]), &Luma([0])));
    assert_eq!(read(&overlay)?.dimensions(), mask.dimensions());
    Ok(())
}

#[test]
fn a_printed_label_tells_the_size() -> Result<(), Trouble> {
    // The very picture that the label sheet prints 26 mm wide, beside the board: 104 pixels at 4 px/mm.
    let code = paper::square_code("GP-7K3M-Q22").map_err(odd)?;
    let code = image::load_from_memory(&paper::png(&code, 20.0).map_err(odd)?).map_err(odd)?;
    let code = code.resize_exact(104, 104, image::imageops::FilterType::Triangle).into_rgb8();
    let mut picture = RgbImage::from_pixel(700, 420, Rgb([52, 50, 47]));
    image::imageops::replace(&mut picture, &board(), 0, 0);
    image::imageops::replace(&mut picture, &code, 540, 150);
    let folder = tempfile::tempdir().map_err(odd)?;
    let photo = saved(folder.path(), "labelled.png", &picture)?;
    let json = run(&["look", &photo, "--json"], b"")?.json()?;
    assert_eq!((&json["labels"][0]["text"], &json["board"]["size_from"]), (&Value::from("GP-7K3M-Q22"), &Value::from("label")));
    for (side, wanted) in [("width_mm", 100.0), ("height_mm", 75.0)] {
        let told = json["board"][side].as_f64().unwrap_or(f64::NAN);
        assert!((told / wanted - 1.0).abs() < 0.02, "{side}: {told}");
    }
    // A told size that is far from it is taken, and said.
    let json = run(&["look", &photo, "--board", "115x86mm", "--json"], b"")?.json()?;
    assert_eq!(json["board"]["size_from"], "told");
    assert!(json["warnings"].as_array().is_some_and(|all| all.iter().any(|note| note["id"] == "size_differs")), "{json}");
    Ok(())
}

/// Six strokes of 5 mm (20 pixels) at 4 px/mm: long enough for cracks, too short to read across.
#[test]
fn short_cracks_have_no_width() -> Result<(), Trouble> {
    let folder = tempfile::tempdir().map_err(odd)?;
    let strokes = RgbImage::from_fn(560, 420, |x, y| match (80..480).contains(&x) && (60..360).contains(&y) {
        true if (x - 80) % 130 < 3 && x > 90 && (y - 60) % 130 < 20 && y > 70 => Rgb([12, 12, 12]),
        true => Rgb([225, 223, 217]),
        false => Rgb([52, 50, 47]),
    });
    let photo = saved(folder.path(), "short.png", &strokes)?;
    let json = run(&["look", &photo, "--board", "100x75mm", "--json"], b"")?.json()?;
    assert!(json["cracks"]["length_mm_per_mm2"]["value"].as_f64().is_some_and(|length| length > 0.0), "{json}");
    assert!(json["cracks"]["area_fraction"]["value"].is_null() && json["cracks"]["width_mm"]["median"]["value"].is_null(), "{json}");
    let words = run(&["look", &photo, "--board", "100x75mm"], b"")?;
    assert!(words.out.starts_with("This board has ") && !words.out.contains("no cracks"), "{}", words.out);
    Ok(())
}

#[test]
fn a_board_of_unknown_size_is_asked_for() -> Result<(), Trouble> {
    let folder = tempfile::tempdir().map_err(odd)?;
    let photo = saved(folder.path(), "unsized.png", &board())?;
    let json = run(&["look", &photo, "--json"], b"")?.json()?;
    assert!(json["cracks"]["length_mm_per_mm2"]["value"].is_null() && json["scale_mm_per_px"].is_null(), "{json}");
    assert_eq!(json["board"]["size_from"], "not known");
    assert_eq!(json["questions"][0]["id"], "board");
    // Four lines as long as the short side: 4 x 75 / 100 long sides.
    let length = json["relative"]["length_long_sides"]["value"].as_f64().unwrap_or(f64::NAN);
    assert!((length - 3.0).abs() < 0.12, "{length}");
    let words = run(&["look", &photo], b"")?;
    assert!(words.out.contains("how large is the board?"), "{}", words.out);
    Ok(())
}

#[test]
#[expect(clippy::disallowed_methods, reason = "the photos lie in files")]
fn photos_that_are_none_are_refused_and_the_rest_goes_on() -> Result<(), Trouble> {
    let folder = tempfile::tempdir().map_err(odd)?;
    let dark = RgbImage::from_pixel(400, 300, Rgb([40, 40, 40]));
    let whole = RgbImage::from_fn(400, 300, |x, y| {
        if (40..360).contains(&x) && (30..270).contains(&y) { Rgb([220, 220, 215]) } else { Rgb([40, 40, 40]) }
    });
    let (good, bare) = (saved(folder.path(), "a-good.png", &whole)?, saved(folder.path(), "b-bare.png", &dark)?);
    let text = folder.path().join("c-text.jpg");
    std::fs::write(&text, "no photo").map_err(odd)?;
    let text = text.display().to_string();
    let board = ["--board", "80x60mm"];
    let code = |words: &[&str]| run(&[words, &board[..]].concat(), b"").map(|said| said.code);
    assert_eq!(code(&["look", &good])?, Some(0));
    assert_eq!(code(&["look", &bare])?, Some(1));
    assert_eq!(code(&["look", &text])?, Some(2));
    assert_eq!(code(&["look", "nowhere.jpg"])?, Some(2));
    assert_eq!(code(&["look", &good, "--corners", "1,2;3,4"])?, Some(2));
    assert_eq!(code(&["look", &good, "--corners", "10,10;300,10;10,200;300,200"])?, Some(2));
    assert_eq!(code(&["look", &good, "--corners", "10,10;900,10;900,200;10,200"])?, Some(2));
    for size in ["", "big", "0x10mm", "-5x10mm", "200x"] {
        let said = run(&["look", &good, &format!("--board={size}"), "--json"], b"")?;
        assert_eq!(said.code, Some(if size.is_empty() { 0 } else { 2 }), "{size}: {}", said.complaint);
    }
    let folder = folder.path().display().to_string();
    let said = run(&["look", &folder, "--board", "80x60mm", "--json"], b"")?;
    assert_eq!(said.code, Some(1));
    let json = said.json()?;
    let names: Vec<&str> = json.as_array().into_iter().flatten().filter_map(|photo| photo["photo"].as_str()).collect();
    assert_eq!(names, ["a-good.png", "b-bare.png", "c-text.jpg"]);
    // Nothing found: no width, class 0.
    assert!(json[0]["cracks"]["width_mm"]["median"]["value"].is_null() && json[0]["why"].is_null(), "{}", json[0]);
    assert_eq!(json[0]["rating"]["quantity"], 0);
    for index in 1..3 {
        assert!(json[index]["why"].as_str().is_some_and(|why| !why.is_empty()), "{}", json[index]);
        assert!(check_figures(&json[index], "look") >= 10);
    }
    Ok(())
}

// A lattice drawn by hand: six cuts each way, 32 pixels apart on a board at 16 px/mm, so 2 mm; three whole squares of 25 show brown wood:
// 12 %, class 2 (5 to 15 %) after ISO 2409.
#[test]
fn a_lattice_cut_into_the_ground() -> Result<(), Trouble> {
    let (left, top) = (400_i64, 300_i64);
    let lost = [(1, 1), (3, 2), (4, 4)];
    let picture = RgbImage::from_fn(1040, 800, |x, y| {
        let inside = (40..1000).contains(&x) && (40..760).contains(&y);
        let (u, v) = (i64::from(x) - left, i64::from(y) - top);
        let on = |t: i64, across: i64| (-30..192).contains(&t) && (0..=160).contains(&across) && (across + 1).rem_euclid(32) < 3;
        match inside {
            true if on(u, v) || on(v, u) => Rgb([30, 28, 26]),
            true if lost.contains(&(u.div_euclid(32), v.div_euclid(32))) => Rgb([160, 125, 90]),
            true => Rgb([225, 223, 217]),
            false => Rgb([52, 50, 47]),
        }
    });
    let folder = tempfile::tempdir().map_err(odd)?;
    let photo = saved(folder.path(), "lattice.png", &picture)?;
    let overlay = folder.path().join("over.png").display().to_string();
    let json = run(&["look", &photo, "--board", "60x45mm", "--lattice", "2mm", "--overlay", &overlay, "--json"], b"")?.json()?;
    let lattice = &json["lattice"];
    let told = |key: &str| lattice[key]["value"].as_f64().unwrap_or(f64::NAN);
    assert!((told("gap_mm") - 2.0).abs() < 0.02 && (told("gone") - 0.12).abs() < 0.01, "{lattice}");
    assert!((told("squares_gone") - 3.0).abs() < 0.1 && lattice["class"]["class"] == 2.0, "{lattice}");
    assert_eq!((&lattice["class"]["least"], &lattice["class"]["most"]), (&Value::from(2.0), &Value::from(2.0)));
    // Its cuts are no cracks.
    assert_eq!(json["cracks"]["area_fraction"]["value"], 0.0, "{}", json["cracks"]);
    let words = run(&["look", &photo, "--board", "60x45mm", "--lattice"], b"")?;
    assert!(words.out.contains("class 2 after ISO 2409"), "{}", words.out);
    // Without the word there is none; a board without one, and no distance at all, are refused with what to do.
    assert!(run(&["look", &photo, "--board", "60x45mm", "--json"], b"")?.json()?["lattice"].is_null());
    let whole = saved(folder.path(), "whole.png", &board())?;
    assert_eq!(run(&["look", &whole, "--board", "100x75mm", "--lattice", "3mm"], b"")?.code, Some(1));
    assert_eq!(run(&["look", &photo, "--board", "60x45mm", "--lattice", "2 furlongs"], b"")?.code, Some(2));
    Ok(())
}
