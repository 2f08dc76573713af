//! The film in cross-section, to scale: grains, binder and air in their true shares.
#![expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "places in a picture a few hundred units wide")]

use std::fmt::Write as _;

use crate::card::SectionView;
use crate::write::{number, range};

use super::svg::Svg;

const WIDTH: f64 = 420.0;
const HEIGHT: f64 = 262.0;
/// Where the film lies.
const LEFT: f64 = 92.0;
const RIGHT: f64 = 296.0;
const BOARD: f64 = 196.0;
const TOP: f64 = 18.0;
/// Rows of cells in the whole film: enough to look like grains, few enough to stay a small picture.
const ROWS: f64 = 14.0;

/// Draws the section. The same view gives the same picture: the cells are scattered by a fixed rule.
pub fn section_picture(view: &SectionView) -> String {
    let coats = f64::from(view.coats.max(1));
    let total = view.dry_um.value * coats;
    let most = (view.dry_um.high * coats).max(view.wet_um).max(1.0);
    let scale = (BOARD - TOP) / most;
    let mut svg = Svg::new(
        WIDTH,
        HEIGHT,
        &format!(
            "The dry film in cross-section, {} micrometres thick in all, likely {}: {} hundredths grains, {} air, the rest binder. One coat was {} micrometres thick when wet.",
            number(total, 0),
            range(view.dry_um.low * coats, view.dry_um.high * coats),
            number(view.grains * 100.0, 0),
            number(view.air * 100.0, 0),
            number(view.wet_um, 0)
        ),
    );
    svg.rect("w", LEFT, BOARD, RIGHT - LEFT, 22.0);
    for stripe in 0..4u32 {
        let y = BOARD + 3.0 + 4.5 * f64::from(stripe);
        svg.line("lq", 0.7, (LEFT, y), (RIGHT, y + 2.0));
    }
    svg.text("q", 14.0, "end", (LEFT - 8.0, BOARD + 15.0), "board");
    let top = BOARD - total * scale;
    mosaic(&mut svg, view, top, total * scale);
    for coat in 1..view.coats.max(1) {
        let y = BOARD - view.dry_um.value * scale * f64::from(coat);
        svg.dashed("l", (LEFT, y), (RIGHT, y));
    }
    svg.line("l", 1.5, (LEFT, top), (RIGHT, top));
    // Doubt about the thickness.
    let (low, high) = (BOARD - view.dry_um.low * coats * scale, BOARD - view.dry_um.high * coats * scale);
    svg.rect("h", RIGHT + 5.0, high, 14.0, low - high);
    let tall = f64::midpoint(low, high).clamp(TOP + 14.0, BOARD - 22.0);
    svg.text("i", 16.0, "start", (RIGHT + 26.0, tall), &format!("{} µm dry", number(total, 0)));
    svg.text(
        "q",
        13.0,
        "start",
        (RIGHT + 26.0, tall + 17.0),
        &format!("likely {}", range(view.dry_um.low * coats, view.dry_um.high * coats)),
    );
    // One coat as laid, to the same scale.
    let wet = BOARD - view.wet_um * scale;
    svg.dashed("le", (LEFT - 16.0, wet), (LEFT - 3.0, wet));
    svg.line("le", 1.5, (LEFT - 10.0, wet), (LEFT - 10.0, BOARD));
    let beside = f64::midpoint(wet, BOARD).clamp(TOP + 14.0, BOARD - 20.0);
    svg.text("i", 15.0, "end", (LEFT - 16.0, beside), &format!("{} µm wet", number(view.wet_um, 0)));
    svg.text("q", 13.5, "end", (LEFT - 16.0, beside + 15.0), "one coat,");
    svg.text("q", 13.5, "end", (LEFT - 16.0, beside + 29.0), if view.told { "as told" } else { "assumed" });
    key(&mut svg, view);
    svg.finish()
}

fn key(svg: &mut Svg, view: &SectionView) {
    let y = HEIGHT - 14.0;
    let binder = (1.0 - view.grains - view.air).max(0.0);
    let mut x = 24.0;
    for (class, words, share) in [("g", "grains", view.grains), ("b", "binder", binder), ("a", "air", view.air)] {
        svg.rect(class, x, y - 11.0, 14.0, 14.0);
        svg.path("l", &format!("M{x:.1} {:.1}h14v14h-14z", y - 11.0));
        svg.text("i", 15.0, "start", (x + 20.0, y), &format!("{words} {}", crate::write::percent(share)));
        x += 130.0;
    }
}

/// Fills the film with irregular cells: a honeycomb whose corners are shifted by a fixed rule, each cell grain, binder or air so
/// that the areas come out in the true shares.
fn mosaic(svg: &mut Svg, view: &SectionView, top: f64, height: f64) {
    if height < 1.0 {
        return;
    }
    let side = (height / (ROWS * 1.5)).clamp(3.0, 6.5);
    let (step_x, step_y) = (side * 3f64.sqrt(), side * 1.5);
    let columns = ((RIGHT - LEFT) / step_x).ceil() as i32 + 1;
    let rows = (height / step_y).ceil() as i32 + 1;
    svg.rect("b", LEFT, top, RIGHT - LEFT, height);
    let mut cells: Vec<(u64, String)> = Vec::new();
    for row in 0..rows {
        for column in 0..columns {
            let shift = if row % 2 == 0 { 0.0 } else { step_x / 2.0 };
            let centre = (LEFT + f64::from(column) * step_x + shift, top + f64::from(row) * step_y);
            cells.push((scatter(row, column, 9), cell(centre, side, top)));
        }
    }
    // Cells are of like size, so shares of the count are shares of the area.
    cells.sort_by_key(|(order, _)| *order);
    let count = cells.len() as f64;
    let (grains, air) = ((view.grains * count).round() as usize, (view.air * count).round() as usize);
    let mut paths = [String::new(), String::new()];
    for (index, (_, data)) in cells.iter().enumerate() {
        let [grain, void] = &mut paths;
        if index < grains {
            grain.push_str(data);
        } else if index < grains + air {
            void.push_str(data);
        }
    }
    let [grain, void] = &paths;
    svg.path("a", void);
    svg.path("g gr", grain);
}

fn cell(centre: (f64, f64), side: f64, top: f64) -> String {
    let mut data = String::with_capacity(64);
    for corner in 0..6 {
        let angle = std::f64::consts::FRAC_PI_3 * f64::from(corner) + std::f64::consts::FRAC_PI_6;
        let (x, y) = (centre.0 + side * angle.cos(), centre.1 + side * angle.sin());
        // The shift depends on the corner's place alone, so that neighbours share it and no gap opens.
        let (kx, ky) = ((x * 4.0).round() as i32, (y * 4.0).round() as i32);
        let wander = |salt| ((scatter(kx, ky, salt) >> 40) as f64 / f64::from(1u32 << 24) - 0.5) * side * 0.75;
        let (x, y) = ((x + wander(1)).clamp(LEFT, RIGHT), (y + wander(2)).clamp(top, BOARD));
        let _ = write!(data, "{}{x:.1} {y:.1}", if corner == 0 { "M" } else { "L" });
    }
    data.push('Z');
    data
}

fn scatter(a: i32, b: i32, salt: u64) -> u64 {
    let mut z = (u64::from(a.cast_unsigned()) << 32 | u64::from(b.cast_unsigned())) ^ salt.wrapping_mul(0x9E37_79B9_7F4A_7C15);
    z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    z ^ (z >> 31)
}
