//! What moves an answer most, as bars.

use crate::hold::MoverView;
use crate::write::number;

use super::svg::Svg;

const WIDTH: f64 = 420.0;
const MIDDLE: f64 = 210.0;
const REACH: f64 = 196.0;
const ROW: f64 = 44.0;

/// Draws a bar for each: to the right where more of it brings more cracks, to the left where it brings fewer. A bar that reaches the end
/// would turn none into all.
pub fn movers_picture(movers: &[MoverView]) -> String {
    let height = 52.0 + ROW * movers.len() as f64;
    let said: Vec<String> = movers
        .iter()
        .map(|one| {
            let way = if one.by > 0.0 { "more" } else { "fewer" };
            format!("{}: {} in ten {way} crack in its upper half than in its lower", one.plain, number(10.0 * one.by.abs(), 0))
        })
        .collect();
    let mut svg = Svg::new(WIDTH, height, &format!("What moves it most. {}", said.join("; ")));
    svg.text("q", 13.5, "start", (MIDDLE - REACH, 16.0), "‹ more of it: fewer cracks");
    svg.text("q", 13.5, "end", (MIDDLE + REACH, 16.0), "more cracks ›");
    for (index, mover) in movers.iter().enumerate() {
        let top = 30.0 + ROW * index as f64;
        svg.text("i", 15.0, "start", (MIDDLE - REACH, top + 12.0), &mover.plain);
        let long = REACH * mover.by.abs().min(1.0);
        let left = if mover.by > 0.0 { MIDDLE } else { MIDDLE - long };
        svg.line("l", 1.5, (MIDDLE, top + 17.0), (MIDDLE, top + 31.0));
        svg.rect("e", left, top + 18.0, long.max(1.5), 12.0);
        svg.path("lq", &format!("M{:.1} {:.1}h{:.1}v12h{:.1}z", MIDDLE - REACH, top + 18.0, 2.0 * REACH, -2.0 * REACH));
    }
    svg.text("q", 13.0, "start", (MIDDLE - REACH, height - 6.0), "bar: larger half of what is possible against the smaller half");
    svg.finish()
}
