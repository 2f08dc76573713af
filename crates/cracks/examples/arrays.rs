//! Single steps of the photo reader on arrays from outside, for the comparison in `reference/`: `arrays STEP [NUMBERS]`, bytes in on
//! standard input, bytes or text out.
//!
//! `ridge W H SIGMA`: f32 little endian in and out, response to dark lines. `thin W H`: bytes 0 or 1 in and out. `groups W H`: bytes in, the sizes
//! of the pieces by sides in a line, and by corners in another. `photo`: a JPEG or PNG in, `W H` in a line and red, green, blue out. `colours`: red, green, blue in, rows of
//! X Y Z L a b W T. `map`: sixteen numbers, four points and where they go; nine numbers out. `labels`: a photo in, text and eight
//! numbers a row. `grown SEED QUARTERS`: a photo of a board whose cracks reach half their length if SEED is even, taken from a place of its own.
//! `lay W H W H OFF`: the length of one photo in four bytes and two photos of boards of W x H mm in, older first; the nine numbers of the map from the older board to the newer in mm, the residual and the
//! likeness out, then one piece of crack a line: its fate and its places in mm on the newer board, `Old` for all that the older photo shows. The corners of the older
//! board are moved by OFF pixels, each another way. `flat W H OFF`: a photo in, `W H PX_PER_MM` in a line and its straightened picture as f32 out. `made SEED`: a photo of a made board with a label of the mark `GP-7K3M-Q22`.
//! `board W H CORNERS`: a photo in, its board's corners told by eight numbers; rows of what is measured out, each with its name first, places in mm.
//! `lattice W H GAP CORNERS`: the same for a lattice, whose gap is looked for if 0 is told.

#![expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, clippy::indexing_slicing, reason = "a tool of the checks")]

use std::error::Error;
use std::fmt::Write as _;
use std::io::{Read, Write};

use boardmaker::{Pattern, Recipe, Sheet, Stage, make_at, make_with};
use cracks::{
    BoardSize, Corners, Homography, Look, Mask, Photo, Plane, find_corners, find_labels, find_lattice, flatten, grown, hessian, lab, look,
    open_photo, register, thin, whiteness, xyz,
};
use qrcode::{Color, EcLevel, QrCode};

fn main() -> Result<(), Box<dyn Error>> {
    #[expect(clippy::disallowed_methods, reason = "an example is its own edge")]
    let words: Vec<String> = std::env::args().skip(1).collect();
    let (step, numbers) = words.split_first().ok_or("which step?")?;
    let number = |at: usize| numbers.get(at).ok_or("a number is missing")?.parse::<f64>().map_err(|e| e.to_string());
    let size = || Ok::<_, Box<dyn Error>>((number(0)? as usize, number(1)? as usize));
    let mut bytes = Vec::new();
    if !["made", "grown"].contains(&step.as_str()) {
        std::io::stdin().lock().read_to_end(&mut bytes)?;
    }
    let out: Vec<u8> = match step.as_str() {
        "ridge" => {
            let (width, height) = size()?;
            let values = bytes.chunks_exact(4).map(|four| four.try_into().map(f32::from_le_bytes)).collect::<Result<Vec<_>, _>>()?;
            let plane = Plane::from_rows(width, height, values).ok_or("not that many values")?;
            hessian(&plane, number(2)?).dark().values().iter().flat_map(|value| value.to_le_bytes()).collect()
        }
        "thin" => {
            let lines = thin(&mask(size()?, &bytes)?);
            lines.pixels().iter().map(|&set| u8::from(set)).collect()
        }
        "groups" => {
            let mask = mask(size()?, &bytes)?;
            let sizes = |corners| mask.groups(corners).iter().map(|group| group.len().to_string()).collect::<Vec<_>>().join(" ");
            format!("{}\n{}", sizes(false), sizes(true)).into_bytes()
        }
        // A photo that is upright already.
        "photo" => {
            let photo = open_photo(&bytes)?;
            let mut out = format!("{} {}\n", photo.width(), photo.height()).into_bytes();
            out.extend(photo.rgb());
            out
        }
        "colours" => {
            let row = |bytes: &[u8]| {
                let linear = |byte: u8| {
                    let v = f64::from(byte) / 255.0;
                    if v <= 0.040_45 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
                };
                let &[r, g, b] = bytes else { return String::new() };
                let xyz = xyz([linear(r), linear(g), linear(b)]);
                let (white, tint) = whiteness(xyz);
                let all: Vec<String> = xyz.iter().chain(&lab(xyz)).chain([&white, &tint]).map(ToString::to_string).collect();
                all.join(" ") + "\n"
            };
            bytes.chunks_exact(3).map(row).collect::<String>().into_bytes()
        }
        "map" => {
            let text = String::from_utf8(bytes)?;
            let all = text.split_whitespace().map(str::parse::<f64>).collect::<Result<Vec<_>, _>>()?;
            let points: Vec<(f64, f64)> = all.chunks_exact(2).map(|two| (two[0], two[1])).collect();
            let four = |part: &[(f64, f64)]| <[(f64, f64); 4]>::try_from(part).map_err(|_| "eight points, please");
            let map = Homography::of(four(points.get(..4).unwrap_or_default())?, four(points.get(4..).unwrap_or_default())?);
            let entries = map.ok_or("three on a line")?.entries();
            entries.map(|entry| entry.to_string()).join(" ").into_bytes()
        }
        "labels" => {
            let line = |label: cracks::Label| {
                let places = label.corners.map(|p| format!("{} {}", p.x, p.y)).join(" ");
                format!("{} {places}\n", label.text)
            };
            find_labels(&open_photo(&bytes)?).into_iter().map(line).collect::<String>().into_bytes()
        }
        "made" => {
            let seed = number(0)? as u64;
            let code = QrCode::with_error_correction_level("GP-7K3M-Q22", EcLevel::M)?;
            let squares =
                code.to_colors().chunks(code.width()).map(|row| row.iter().map(|color| *color == Color::Dark).collect()).collect();
            let recipe = Recipe { board_mm: (60.0, 45.0), photo_px: (1050, 790), tilt: 0.03, ..Recipe::usual(seed, Pattern::Cells(20)) };
            make_with(&recipe, &[Sheet::label(squares, (30.0, 22.0), 37.0 * seed as f64)]).jpeg
        }
        "grown" => {
            let seed = number(0)? as u64;
            let recipe = Recipe { board_mm: (50.0, 36.0), photo_px: (900, 650), ..Recipe::usual(9, Pattern::Growing(9)) };
            let reach = if seed.is_multiple_of(2) { 0.5 } else { 1.0 };
            make_at(&recipe, Stage { reach, quarters: number(1)? as usize, ..Stage::whole(seed) }).jpeg
        }
        "flat" => {
            let flat = seen(&bytes, size()?, number(2)?)?.flat;
            let mut out = format!("{} {} {}\n", flat.picture.width(), flat.picture.height(), flat.px_per_mm).into_bytes();
            out.extend(flat.picture.values().iter().flat_map(|value| value.to_le_bytes()));
            out
        }
        "board" => {
            let photo = open_photo(&bytes)?;
            told(&look(&photo, board(size()?), Some(corners(&photo, numbers.get(2..))?))?)?.into_bytes()
        }
        "lattice" => {
            let photo = open_photo(&bytes)?;
            let flat = flatten(&photo, board(size()?), &corners(&photo, numbers.get(3..))?)?;
            let found = find_lattice(&photo, &flat, Some(number(2)?).filter(|gap| *gap > 0.0))?;
            let mut out = format!("gap {}\ndirection {} {}\n", found.gap_mm.value, found.direction_deg, found.off_square_deg);
            writeln!(out, "gone {} {} {}", found.gone.value, found.gone.low, found.gone.high)?;
            writeln!(out, "mostly {}", found.squares_gone.value)?;
            writeln!(out, "along {}", found.along.value)?;
            writeln!(out, "corners {}", found.corners.map(|p| format!("{} {}", p.x, p.y)).join(" "))?;
            writeln!(out, "squares {}", found.squares.iter().map(ToString::to_string).collect::<Vec<_>>().join(" "))?;
            out.into_bytes()
        }
        "lay" => {
            let (head, rest) = bytes.split_first_chunk::<4>().ok_or("no photos")?;
            let (first, second) = rest.split_at_checked(u32::from_le_bytes(*head) as usize).ok_or("no second photo")?;
            let (old, new) = (seen(first, size()?, number(4)?)?, seen(second, (number(2)? as usize, number(3)? as usize), 0.0)?);
            let laid = register(&old, &new)?;
            let mut out = laid.map.entries().map(|entry| entry.to_string()).join(" ");
            writeln!(out, " {} {}", laid.residual_mm, laid.likeness)?;
            let told = grown(&old, &new, &laid);
            writeln!(out, "{}", told.near_mm)?;
            for stroke in told.strokes {
                let places: Vec<String> = stroke.points.iter().map(|p| format!("{} {}", p.x, p.y)).collect();
                writeln!(out, "{:?} {}", stroke.fate, places.join(" "))?;
            }
            for branch in &old.lines.graph.branches {
                let place = |&(x, y): &(i64, i64)| {
                    let mm = |px: i64| (px as f64 + 0.5) / old.flat.px_per_mm;
                    let (x, y) = laid.map.map(mm(x), mm(y));
                    format!("{x} {y}")
                };
                writeln!(out, "Old {}", branch.chain.iter().map(place).collect::<Vec<_>>().join(" "))?;
            }
            out.into_bytes()
        }
        other => return Err(format!("there is no step {other}").into()),
    };
    std::io::stdout().lock().write_all(&out)?;
    Ok(())
}

fn board((width, height): (usize, usize)) -> BoardSize {
    BoardSize { width_mm: width as f64, height_mm: height as f64 }
}

/// Corners told by eight numbers, in pixels of the photo.
fn corners(photo: &Photo, words: Option<&[String]>) -> Result<Corners, Box<dyn Error>> {
    let all = words.unwrap_or_default().iter().map(|word| word.parse::<f64>()).collect::<Result<Vec<_>, _>>()?;
    let points: Vec<(f64, f64)> = all.chunks_exact(2).map(|two| (two[0], two[1])).collect();
    let points = <[(f64, f64); 4]>::try_from(points).map_err(|_| "four corners, please")?;
    Ok(Corners::new(points, photo.width(), photo.height())?)
}

/// What a board shows, a row each.
fn told(found: &Look) -> Result<String, std::fmt::Error> {
    let (mut out, per) = (String::new(), found.flat.px_per_mm);
    writeln!(out, "scale {per}")?;
    for flake in &found.flakes.all {
        writeln!(out, "flake {} {} {}", flake.x_mm, flake.y_mm, flake.area_mm2)?;
    }
    for hole in &found.pinholes {
        writeln!(out, "pinhole {} {} {}", (hole.x + 0.5) / per, (hole.y + 0.5) / per, hole.across_mm)?;
    }
    if let Some(brush) = &found.brush {
        let spacing = brush.spacing_mm.map_or(f64::NAN, |mm| mm.value);
        writeln!(out, "brush {} {spacing} {}", brush.direction_deg.value, brush.contrast.value)?;
    }
    if let Some(width) = found.width_median {
        writeln!(out, "width {} {} {}", width.value, width.low, width.high)?;
    }
    writeln!(out, "length {} {} {}", found.length.value, found.length.low, found.length.high)?;
    writeln!(out, "islands {}", found.islands.value)?;
    Ok(out)
}

/// A board of so many millimetres, measured, its corners moved a little.
fn seen(bytes: &[u8], size: (usize, usize), off: f64) -> Result<Look, Box<dyn Error>> {
    let photo = open_photo(bytes)?;
    let mut corners = find_corners(&photo)?.points().map(|p| (p.x, p.y));
    for (p, (dx, dy)) in corners.iter_mut().zip([(1.0, 0.3), (-0.5, 0.8), (0.2, -1.0), (-0.7, -0.4)]) {
        *p = (p.0 + dx * off, p.1 + dy * off);
    }
    let corners = Corners::new(corners, photo.width(), photo.height())?;
    Ok(look(&photo, board(size), Some(corners))?)
}

fn mask((width, height): (usize, usize), bytes: &[u8]) -> Result<Mask, Box<dyn Error>> {
    Ok(Mask::from_rows(width, height, bytes.iter().map(|&byte| byte > 0).collect()).ok_or("not that many values")?)
}
