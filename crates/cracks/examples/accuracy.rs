//! Measures made boards and prints what was found beside what is true, as rows of a table.
//!
//! `cargo run --release -p cracks --example accuracy -- 1 4` takes seeds from 1, four of each kind. A third word takes only the kinds whose
//! name has it; a fourth is a folder for pictures of what is right and wrong.
#![expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_possible_wrap,
    clippy::print_stdout,
    clippy::print_stderr,
    clippy::disallowed_methods,
    reason = "a run by hand that prints a table and its time"
)]

use std::time::Instant;

use boardmaker::{Found, Made, Pattern, Recipe, make, places, score};
use cracks::{BoardSize, Look, MARGIN_MM, Mask, look, open_photo};

/// How far the worst corner is off, in pixels of the photo.
fn corners_off(made: &Made, found: &Look) -> f64 {
    found.corners.points().iter().zip(made.corners).map(|(p, q)| (p.x - q.0).hypot(p.y - q.1)).fold(0.0, f64::max)
}

/// A piece of the board: lines that are right in green, that are none in red, places of cracks that were not found in blue.
fn draw(made: &Made, found: &Look) -> image::RgbImage {
    let picture = &found.flat.picture;
    let (wide, high) = (1100.min(picture.width()), 800.min(picture.height()));
    let (left, top) = ((picture.width() - wide) / 2, (picture.height() - high) / 2);
    let mut drawn = Mask::empty(picture.width(), picture.height());
    for ((x, y), _) in places(&made.cracks, found.flat.px_per_mm) {
        drawn.put(x.round() as i64, y.round() as i64, true);
    }
    image::RgbImage::from_fn(wide as u32, high as u32, |x, y| {
        let (x, y) = ((x as usize + left) as i64, (y as usize + top) as i64);
        let beside = |mask: &Mask| (-2..=2).any(|dy| (-2..=2).any(|dx| dx * dx + dy * dy <= 4 && mask.has(x + dx, y + dy)));
        if found.lines.thin.has(x, y) {
            return image::Rgb(if beside(&drawn) { [0, 150, 0] } else { [230, 0, 0] });
        }
        if drawn.has(x, y) && !beside(&found.lines.thin) {
            return image::Rgb([0, 0, 255]);
        }
        let grey = (picture.at(x, y).clamp(0.0, 1.2).sqrt() * 230.0) as u8;
        image::Rgb([if found.lines.mask.has(x, y) { grey.saturating_sub(20) } else { grey }, grey, grey])
    })
}

fn kinds(seed: u64) -> Vec<(String, Recipe)> {
    let faint = |pattern, spread| Recipe {
        width_mm: 0.08,
        width_spread: spread,
        dark: 0.5,
        brush: 0.05,
        grain: 0.03,
        ..Recipe::usual(seed, pattern)
    };
    let boards = [
        ("faint cells, one width", faint(Pattern::Cells(180), 0.0)),
        ("faint cells", faint(Pattern::Cells(180), 0.5)),
        ("faint, divided", faint(Pattern::Divided(110), 0.5)),
        ("faint, growing", faint(Pattern::Growing(90), 0.5)),
        ("dark cells, wide", Recipe { width_mm: 0.3, ..Recipe::usual(seed, Pattern::Cells(120)) }),
        ("dark, growing", Recipe { brush: 0.02, ..Recipe::usual(seed, Pattern::Growing(90)) }),
        ("whole, brushed", faint(Pattern::Whole, 0.0)),
        ("few, brushed", Recipe { brush: 0.05, grain: 0.03, ..Recipe::usual(seed, Pattern::Growing(3)) }),
    ];
    [("6 MP", (3000, 2000)), ("12 MP", (4242, 2828))]
        .into_iter()
        .flat_map(|(size, photo_px)| boards.clone().map(|(name, board)| (format!("{size}, {name}"), Recipe { photo_px, ..board })))
        .collect()
}

/// How far off, as text; nothing to compare with on a board without cracks.
fn off(found: f64, known: f64) -> String {
    if known > 0.0 { format!("{:+.1} %", 100.0 * (found / known - 1.0)) } else { "none there".to_owned() }
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut arguments = std::env::args().skip(1);
    let first: u64 = arguments.next().unwrap_or_default().parse().unwrap_or(1);
    let count: u64 = arguments.next().unwrap_or_default().parse().unwrap_or(1);
    let only = arguments.next();
    let folder = arguments.next();
    println!(
        "| board | seed | found right | found of all | F1 at 2 px | length mm/mm2, true | median width mm, true | corners off, px | blur px | s |"
    );
    println!("|---|---|---|---|---|---|---|---|---|---|");
    let mut kinds_told: Vec<Told> = Vec::new();
    for seed in first..first + count {
        for (kind, recipe) in kinds(seed) {
            if only.as_ref().is_some_and(|only| !kind.contains(only.as_str())) {
                continue;
            }
            let made = make(&recipe);
            let start = Instant::now();
            let photo = open_photo(&made.jpeg)?;
            let size = BoardSize { width_mm: recipe.board_mm.0, height_mm: recipe.board_mm.1 };
            let found = match look(&photo, size, None) {
                Ok(found) => found,
                Err(why) => {
                    println!("| {kind} | {seed} | {why} |");
                    continue;
                }
            };
            let seconds = start.elapsed().as_secs_f64();
            let lines = Found {
                width: found.flat.picture.width(),
                lines: found.lines.thin.pixels(),
                px_per_mm: found.flat.px_per_mm,
                margin_mm: MARGIN_MM,
            };
            let s = score(&made.cracks, lines, 2.0);
            let (length, true_length) = (found.length.value + 0.0, s.length_mm / found.measured_mm2);
            let width = found.width_median.map_or(0.0, |width| width.value);
            if let Some(folder) = &folder {
                draw(&made, &found).save(format!("{folder}/{}-{seed}.png", kind.replace([' ', ','], "-")))?;
            }
            println!(
                "| {kind} | {seed} | {:.3} | {:.3} | {:.4} | {:.5}, {:.5} ({}) | {:.4}, {:.4} ({}) | {:.2} | {:.2} | {seconds:.2} |",
                s.right,
                s.of_all,
                s.f1,
                length,
                true_length,
                off(length, true_length),
                width,
                s.median_mm,
                off(width, s.median_mm),
                corners_off(&made, &found),
                found.flat.blur_px.unwrap_or(0.0),
            );
            let told = Told {
                kind: kind.clone(),
                f1: s.f1,
                length: (true_length > 0.0).then_some(length / true_length - 1.0),
                false_length: (1.0 - s.right) * length,
            };
            kinds_told.push(told);
            eprintln!("notes {:?} left out {} smallest {:.3}", found.notes, found.lines.left_out.len(), found.smallest_mm);
        }
    }
    close(&kinds_told);
    Ok(())
}

/// What is told of one board.
struct Told {
    kind: String,
    f1: f64,
    /// How far off the length is, as a share; `None` where there is none.
    length: Option<f64>,
    /// Length that is no crack, mm/mm2.
    false_length: f64,
}

/// One row a kind: the worst and the middle of its boards.
fn close(boards: &[Told]) {
    println!("\n| kind | boards | least F1 | middle F1 | length off at most | most false length, mm/mm2 |");
    println!("|---|---|---|---|---|---|");
    let mut kinds: Vec<&str> = boards.iter().map(|board| board.kind.as_str()).collect();
    kinds.sort_unstable();
    kinds.dedup();
    for kind in kinds {
        let of_kind = || boards.iter().filter(|board| board.kind == kind);
        let mut f1: Vec<f64> = of_kind().map(|board| board.f1).collect();
        f1.sort_by(f64::total_cmp);
        let far = of_kind().filter_map(|board| board.length).fold(0.0, |far: f64, off| if off.abs() > far.abs() { off } else { far });
        let wrong = of_kind().map(|board| board.false_length).fold(0.0, f64::max);
        let least = f1.first().copied().unwrap_or(0.0);
        let middle = f1.get(f1.len() / 2).copied().unwrap_or(0.0);
        println!("| {kind} | {} | {least:.4} | {middle:.4} | {:+.1} % | {wrong:.4} |", f1.len(), 100.0 * far);
    }
}
