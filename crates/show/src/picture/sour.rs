//! Sourness against the acid at hand: the curve with its doubt, where it curdles, where most casein falls, and "you are here".

use std::fmt::Write as _;

use crate::write::{number, plain};

use super::svg::Svg;

/// A point of the curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SourPoint {
    /// Acid that went in, in its own unit.
    pub acid: f64,
    /// Sourness.
    pub ph: f64,
    /// Sour end of the doubt.
    pub low: f64,
    /// Mild end.
    pub high: f64,
}

/// What the picture shows.
#[derive(Debug, Clone, PartialEq)]
pub struct SourView {
    /// The curve, from no acid on; at least two points are drawn.
    pub points: Vec<SourPoint>,
    /// What stands below the acid's axis, such as `ml of vinegar` or `lemons`.
    pub acid: String,
    /// The pH from which it looks curdled at this warmth.
    pub curdles_from: Option<f64>,
    /// Warmth in words, such as `at 35 °C`; empty if not told.
    pub at: String,
    /// The pH at which most casein falls with the least lime.
    pub goal: f64,
    /// What is at hand, and where it leads: (acid, pH).
    pub here: Option<(f64, f64)>,
}

const WIDTH: f64 = 460.0;
const HEIGHT: f64 = 340.0;
const LEFT: f64 = 44.0;
const RIGHT: f64 = 14.0;
const TOP: f64 = 16.0;
const BOTTOM: f64 = 52.0;
/// Ends of the sourness drawn: fresh milk above, the end of what is worked out below.
const MILD: f64 = 7.0;
const SOUR: f64 = 4.0;

/// Draws it.
pub fn sour_picture(view: &SourView) -> String {
    let mut svg = Svg::new(WIDTH, HEIGHT, &title(view));
    svg.desc(&described(view));
    let most = view.points.iter().map(|point| point.acid).chain(view.here.map(|here| here.0)).fold(0.0, f64::max);
    let most = if most > 0.0 { most } else { 1.0 };
    let x = |acid: f64| LEFT + (acid / most).clamp(0.0, 1.0) * (WIDTH - LEFT - RIGHT);
    let y = |ph: f64| TOP + (MILD - ph.clamp(SOUR, MILD)) / (MILD - SOUR) * (HEIGHT - TOP - BOTTOM);
    axes(&mut svg, most, &x, &y);
    if view.points.len() > 1 {
        let mut band = String::new();
        for (index, point) in view.points.iter().enumerate() {
            band.push_str(&step(index == 0, x(point.acid), y(point.high)));
        }
        for point in view.points.iter().rev() {
            band.push_str(&step(false, x(point.acid), y(point.low)));
        }
        band.push('Z');
        svg.path("h", &band);
        let line: String = view.points.iter().enumerate().map(|(index, point)| step(index == 0, x(point.acid), y(point.ph))).collect();
        svg.drawn("class=\"l\" stroke-width=\"2.6\"", &line);
    }
    if let Some(onset) = view.curdles_from {
        svg.dashed("lq", (LEFT, y(onset)), (WIDTH - RIGHT, y(onset)));
        svg.text("q", 14.0, "end", (WIDTH - RIGHT, y(onset) - 6.0), &format!("curdles from here {}", view.at));
    }
    svg.line("le", 1.8, (LEFT, y(view.goal)), (WIDTH - RIGHT, y(view.goal)));
    // Left of the curve, where the milk is still mild, there is room below it.
    svg.text("e s", 14.0, "start", (LEFT + 6.0, y(view.goal) + 17.0), &format!("most casein, least lime: {}", number(view.goal, 1)));
    if let Some((acid, ph)) = view.here {
        let (across, down) = (x(acid), y(ph));
        svg.line("le", 1.2, (across, HEIGHT - BOTTOM), (across, down));
        svg.marked("class=\"e\" rx=\"6\"", (across - 6.0, down - 6.0), (12.0, 12.0));
        let anchor = if across > WIDTH / 2.0 { "end" } else { "start" };
        let beside = if across > WIDTH / 2.0 { across - 10.0 } else { across + 10.0 };
        svg.text("e s", 15.0, anchor, (beside, (down + 22.0).min(HEIGHT - BOTTOM - 6.0)), "you are here");
    }
    svg.text("q", 14.0, "middle", (f64::midpoint(LEFT, WIDTH - RIGHT), HEIGHT - 8.0), &view.acid);
    svg.finish()
}

fn step(first: bool, across: f64, down: f64) -> String {
    format!("{}{across:.1} {down:.1}", if first { 'M' } else { 'L' })
}

fn axes(svg: &mut Svg, most: f64, x: &impl Fn(f64) -> f64, y: &impl Fn(f64) -> f64) {
    let floor = HEIGHT - BOTTOM;
    svg.line("l", 1.5, (LEFT, floor), (WIDTH - RIGHT, floor));
    svg.line("l", 1.5, (LEFT, TOP), (LEFT, floor));
    for ph in [4.0, 5.0, 6.0, 7.0] {
        svg.line("lq", 1.0, (LEFT - 5.0, y(ph)), (LEFT, y(ph)));
        svg.text("q", 14.0, "end", (LEFT - 8.0, y(ph) + 5.0), &number(ph, 0));
    }
    svg.text("q", 14.0, "start", (LEFT + 6.0, TOP + 8.0), "pH: milder above, sourer below");
    let mark = tick(most);
    let mut at = 0.0;
    while at <= most * 1.000_1 {
        svg.line("lq", 1.0, (x(at), floor), (x(at), floor + 5.0));
        svg.text("q", 14.0, "middle", (x(at), floor + 20.0), &plain(at));
        at += mark;
    }
}

/// A round step that gives four to eight marks.
fn tick(most: f64) -> f64 {
    let rough = most / 6.0;
    let place = 10f64.powf(rough.log10().floor());
    [1.0, 2.0, 5.0, 10.0].into_iter().map(|round| round * place).find(|round| *round >= rough).unwrap_or(rough)
}

fn title(view: &SourView) -> String {
    let here = view.here.map_or_else(String::new, |(acid, ph)| format!("; you are at {} {}, pH {}", plain(acid), view.acid, number(ph, 1)));
    format!("How sour the milk gets with each measure of acid{here}")
}

fn described(view: &SourView) -> String {
    let near = |goal: f64| view.points.iter().find(|point| point.ph <= goal).map(|point| plain(point.acid));
    let mut out = format!(
        "A line falls from the sourness of milk on the left to pH {} on the right, in {}; hatched beside it how far it is in doubt.",
        view.points.last().map_or_else(|| number(SOUR, 1), |point| number(point.ph, 1)),
        view.acid
    );
    if let Some((onset, acid)) = view.curdles_from.and_then(|onset| near(onset).map(|acid| (onset, acid))) {
        let _ = write!(out, " It curdles from pH {} {}, after about {acid}.", number(onset, 1), view.at);
    }
    if let Some(acid) = near(view.goal) {
        let _ = write!(out, " Most casein with the least lime falls at pH {}, after about {acid}.", number(view.goal, 1));
    }
    out
}
