//! Measures made boards and prints what was found beside what is true, as rows of a table.
//!
//! `cargo run -p cracks --example accuracy -- 1 4` takes seeds from 1, four of each kind.
#![expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::many_single_char_names,
    clippy::indexing_slicing,
    clippy::print_stdout,
    clippy::print_stderr,
    clippy::disallowed_methods,
    reason = "a run by hand that prints a table and its time"
)]

use std::time::Instant;

use boardmaker::{Crack, Made, Pattern, Recipe, make};
use cracks::{BoardSize, Look, Mask, look, open_photo};

/// Places every 0.02 mm along all cracks, in pixels of the straightened picture.
fn truth(cracks: &[Crack], look: &Look, margin_mm: f64, size: (f64, f64)) -> (Vec<(f64, f64)>, f64) {
    let s = look.flat.px_per_mm;
    let inside = |x: f64, y: f64| x > margin_mm && y > margin_mm && x < size.0 - margin_mm && y < size.1 - margin_mm;
    let mut places = Vec::new();
    let mut length = 0.0;
    for two in cracks.iter().flat_map(|crack| crack.points.windows(2)) {
        let &[p, q] = two else { continue };
        let piece = f64::hypot(q.0 - p.0, q.1 - p.1);
        let count = (piece / 0.02).ceil().max(1.0);
        for k in 0..count as usize {
            let t = (k as f64 + 0.5) / count;
            let (x, y) = (p.0 + (q.0 - p.0) * t, p.1 + (q.1 - p.1) * t);
            if inside(x, y) {
                places.push((x * s - 0.5, y * s - 0.5));
                length += piece / count;
            }
        }
    }
    (places, length)
}

/// Whether a set pixel lies within two pixels.
fn near(mask: &Mask, x: f64, y: f64) -> bool {
    let (cx, cy) = (x.round() as i64, y.round() as i64);
    (-3..=3).any(|dy| (-3..=3).any(|dx| mask.has(cx + dx, cy + dy) && ((cx + dx) as f64 - x).hypot((cy + dy) as f64 - y) <= 2.0))
}

struct Score {
    f1: f64,
    precision: f64,
    recall: f64,
    length: f64,
    true_length: f64,
    width: Option<f64>,
    true_width: f64,
    corners_px: f64,
}

fn score(made: &Made, found: &Look, size: (f64, f64)) -> Score {
    let (places, length) = truth(&made.cracks, found, 1.0, size);
    let hit = places.iter().filter(|(x, y)| near(&found.lines.thin, *x, *y)).count() as f64;
    let mut drawn = Mask::empty(found.flat.picture.width(), found.flat.picture.height());
    let (all, _) = truth(&made.cracks, found, 0.0, size);
    for (x, y) in &all {
        drawn.put(x.round() as i64, y.round() as i64, true);
    }
    let lines = found.lines.thin.count() as f64;
    let right = found
        .lines
        .thin
        .places()
        .filter(|&(x, y)| (-2..=2).any(|dy| (-2..=2).any(|dx| dx * dx + dy * dy <= 4 && drawn.has(x + dx, y + dy))))
        .count() as f64;
    let recall = if places.is_empty() { 1.0 } else { hit / places.len() as f64 };
    let precision = if lines == 0.0 { 1.0 } else { right / lines };
    let mut widths: Vec<(f64, f64)> =
        made.cracks.iter().map(|c| (c.width_mm, c.points.windows(2).map(|w| (w[0].0 - w[1].0).hypot(w[0].1 - w[1].1)).sum())).collect();
    widths.sort_by(|a, b| a.0.total_cmp(&b.0));
    let whole: f64 = widths.iter().map(|w| w.1).sum();
    let mut so_far = 0.0;
    let true_width = widths
        .iter()
        .find(|w| {
            so_far += w.1;
            so_far >= whole / 2.0
        })
        .map_or(0.0, |w| w.0);
    let corners_px = found.corners.points().iter().zip(made.corners).map(|(p, q)| (p.x - q.0).hypot(p.y - q.1)).fold(0.0, f64::max);
    Score {
        f1: 2.0 * precision * recall / (precision + recall).max(1e-9),
        precision,
        recall,
        length: found.length.value,
        true_length: length / found.measured_mm2,
        width: found.width_median.map(|w| w.value),
        true_width,
        corners_px,
    }
}

/// A piece of the board: lines that are right in green, that are none in red, places of cracks that were not found in blue.
fn draw(made: &Made, found: &Look, size: (f64, f64)) -> image::RgbImage {
    let picture = &found.flat.picture;
    let (wide, high) = (1100.min(picture.width()), 800.min(picture.height()));
    let (left, top) = ((picture.width() - wide) / 2, (picture.height() - high) / 2);
    let (all, _) = truth(&made.cracks, found, 0.0, size);
    let mut drawn = Mask::empty(picture.width(), picture.height());
    for (x, y) in &all {
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

fn kinds(seed: u64) -> Vec<(&'static str, Recipe)> {
    let faint = |pattern, spread| Recipe {
        width_mm: 0.08,
        width_spread: spread,
        dark: 0.5,
        brush: 0.05,
        grain: 0.03,
        ..Recipe::usual(seed, pattern)
    };
    vec![
        ("faint cells, one width", faint(Pattern::Cells(180), 0.0)),
        ("faint cells", faint(Pattern::Cells(180), 0.5)),
        ("faint, divided", faint(Pattern::Divided(110), 0.5)),
        ("dark cells, wide", Recipe { width_mm: 0.3, ..Recipe::usual(seed, Pattern::Cells(120)) }),
        ("dark, growing", Recipe { brush: 0.02, ..Recipe::usual(seed, Pattern::Growing(90)) }),
        ("whole, brushed", faint(Pattern::Whole, 0.0)),
        ("few, brushed", Recipe { brush: 0.05, grain: 0.03, ..Recipe::usual(seed, Pattern::Growing(3)) }),
    ]
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
            let s = score(&made, &found, recipe.board_mm);
            if let Some(folder) = &folder {
                draw(&made, &found, recipe.board_mm).save(format!("{folder}/{}-{seed}.png", kind.replace([' ', ','], "-")))?;
            }
            println!(
                "| {kind} | {seed} | {:.3} | {:.3} | {:.4} | {:.5}, {:.5} ({}) | {:.4}, {:.4} ({}) | {:.2} | {:.2} | {seconds:.2} |",
                s.precision,
                s.recall,
                s.f1,
                s.length,
                s.true_length,
                off(s.length, s.true_length),
                s.width.unwrap_or(0.0),
                s.true_width,
                off(s.width.unwrap_or(0.0), s.true_width),
                s.corners_px,
                found.flat.blur_px.unwrap_or(0.0),
            );
            eprintln!(
                "texture {:?} notes {:?} left out {} smallest {:.3}",
                found.texture,
                found.notes,
                found.lines.left_out.len(),
                found.smallest_mm
            );
        }
    }
    Ok(())
}
