//! Lines found on three open photographs beside the masks that came with them, at 2 and 4 pixels.
//!
//! `cargo run --release -p cracks --example open_photos` reads `tests/images/open_cracks`; its SOURCE.md says what the masks are. No scale is
//! known, so 18 pixels are called a millimetre, and the whole photo is called the board.
#![expect(
    clippy::print_stdout,
    clippy::cast_possible_truncation,
    clippy::cast_possible_wrap,
    clippy::disallowed_methods,
    reason = "a run by hand that reads photos and prints a table"
)]

use cracks::{BoardSize, Corners, MARGIN_MM, Mask, look, open_photo, thin_twice};

const PX_PER_MM: f64 = 18.0;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/images/open_cracks");
    println!("| photo | F1 at 2 px | found right | found of all | F1 at 4 px | found right | found of all |");
    println!("|---|---|---|---|---|---|---|");
    for name in ["fl187", "ge230", "image_3"] {
        let photo = open_photo(&std::fs::read(format!("{folder}/{name}.jpg"))?)?;
        let (width, height) = (photo.width(), photo.height());
        let (right, bottom) = (width as f64 - 0.5, height as f64 - 0.5);
        let corners = Corners::new([(-0.5, -0.5), (right, -0.5), (right, bottom), (-0.5, bottom)], width, height)?;
        let size = BoardSize { width_mm: width as f64 / PX_PER_MM, height_mm: height as f64 / PX_PER_MM };
        let found = match look(&photo, size, Some(corners)) {
            Ok(found) => found,
            Err(why) => {
                println!("| {name} | {why} |");
                continue;
            }
        };
        let mask = image::open(format!("{folder}/{name}-mask.png"))?.into_luma8();
        let set = mask.pixels().map(|pixel| pixel.0 != [0]).collect();
        let known = thin_twice(&Mask::from_rows(width, height, set).ok_or("the mask fits its photo")?);
        let margin = (MARGIN_MM * PX_PER_MM) as i64;
        let inside = |&(x, y): &(i64, i64)| x >= margin && y >= margin && x < width as i64 - margin && y < height as i64 - margin;
        let share = |of: &Mask, near: &Mask, reach: i64| {
            let beside = |(x, y): (i64, i64)| {
                (-reach..=reach).any(|dy| (-reach..=reach).any(|dx| dx * dx + dy * dy <= reach * reach && near.has(x + dx, y + dy)))
            };
            let places: Vec<(i64, i64)> = of.places().filter(inside).collect();
            places.iter().filter(|&&place| beside(place)).count() as f64 / places.len().max(1) as f64
        };
        let line = |reach: i64| {
            let (right, of_all) = (share(&found.lines.thin, &known, reach), share(&known, &found.lines.thin, reach));
            format!("{:.3} | {right:.3} | {of_all:.3}", 2.0 * right * of_all / (right + of_all).max(1e-9))
        };
        println!("| {name} | {} | {} |", line(2), line(4));
    }
    Ok(())
}
