//! The film in cross-section, to scale: grains, binder and air in their true shares.

use crate::card::SectionView;
use crate::write::{number, range};

use super::grains::grains;
use super::svg::Svg;

const WIDTH: f64 = 420.0;
const HEIGHT: f64 = 262.0;
/// Where the film lies.
const LEFT: f64 = 92.0;
const RIGHT: f64 = 296.0;
const BOARD: f64 = 196.0;
const TOP: f64 = 18.0;

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
            "The dry film in cross-section, {} micrometres thick in all, likely {}: {} hundredths of its area are grains, {} air, the rest binder; the grains are drawn larger than they are. One coat was {} micrometres thick when wet.",
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
    grains(&mut svg, (LEFT, top, RIGHT, BOARD), (view.grains, view.air), view.seed);
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
