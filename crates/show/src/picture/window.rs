//! Binder amount against dry thickness: where cracks are unlikely, likely or can't be told. Doubt is hatched, words stand beside every
//! hatching, and nothing beyond 1 mm is drawn.

use std::fmt::Write as _;

use crate::window::{WindowBoard, WindowColumn, WindowPicture, about_um};
use crate::write::{number, range};

use super::svg::Svg;

const WIDTH: f64 = 420.0;
const HEIGHT: f64 = 392.0;
/// Where the field lies.
const LEFT: f64 = 50.0;
const RIGHT: f64 = 406.0;
const TOP: f64 = 40.0;
const BASE: f64 = 262.0;
/// Thickest that is drawn, micrometres.
const THICKEST: f64 = 1000.0;
/// Hatchings of their own, so that the two regions differ without colour.
const DOUBT: &str = "fill=\"url(#hatch-doubt)\"";
const LIKELY: &str = "fill=\"url(#hatch-likely)\"";
/// Narrowest mark that can still be seen.
const NARROWEST: f64 = 7.0;

struct Axes {
    most: f64,
}

impl Axes {
    fn x(&self, binder: f64) -> f64 {
        LEFT + (binder / self.most).clamp(0.0, 1.0) * (RIGHT - LEFT)
    }
}

fn y(um: f64) -> f64 {
    BASE - (um / THICKEST).clamp(0.0, 1.0) * (BASE - TOP)
}

/// Draws the window.
pub fn window_picture(view: &WindowPicture) -> String {
    let axes = Axes { most: view.most_binder.max(1.0) };
    let mut svg = Svg::new(WIDTH, HEIGHT, &said(view));
    svg.hatching("hatch-doubt", 11.0, 1.2);
    svg.hatching("hatch-likely", 5.0, 2.4);
    regions(&mut svg, &axes, view);
    scales(&mut svg, &axes, view);
    for board in &view.boards {
        own_board(&mut svg, &axes, board);
    }
    mark(&mut svg, &axes, view);
    svg.text("i s", 16.0, "start", (LEFT, 18.0), &view.name);
    svg.text("q", 13.5, "start", (8.0, TOP - 8.0), "mm dry");
    key(&mut svg, !view.boards.is_empty());
    svg.finish()
}

/// The columns on either side of the band where nothing is said.
fn sides(view: &WindowPicture) -> [Vec<WindowColumn>; 2] {
    let all = || view.columns.iter().copied();
    match view.near {
        Some((from, to)) => {
            [all().filter(|column| column.binder <= from + 1e-9).collect(), all().filter(|column| column.binder >= to - 1e-9).collect()]
        }
        None => [all().collect(), Vec::new()],
    }
}

fn regions(svg: &mut Svg, axes: &Axes, view: &WindowPicture) {
    for side in sides(view) {
        let likely = |column: &WindowColumn| column.likely_um.unwrap_or(THICKEST);
        between(svg, axes, &side, DOUBT, &|column| (column.unlikely_um, likely(column)));
        between(svg, axes, &side, LIKELY, &|column| (likely(column), THICKEST));
        for edge in [&(|column: &WindowColumn| column.unlikely_um) as &dyn Fn(&WindowColumn) -> f64, &likely] {
            let mut line = String::new();
            for column in &side {
                let sign = if line.is_empty() { 'M' } else { 'L' };
                let _ = write!(line, "{sign}{:.1} {:.1}", axes.x(column.binder), y(edge(column)));
            }
            svg.drawn("class=\"le\" stroke-width=\"1.2\"", &line);
        }
    }
    if let Some((from, to)) = view.near {
        let (left, right) = (axes.x(from), axes.x(to));
        svg.marked(DOUBT, (left, TOP), (right - left, BASE - TOP));
        for x in [left, right] {
            svg.dashed("le", (x, TOP), (x, BASE));
        }
    }
}

/// Fills what lies between two heights along the columns.
fn between(svg: &mut Svg, axes: &Axes, columns: &[WindowColumn], fill: &str, heights: &dyn Fn(&WindowColumn) -> (f64, f64)) {
    if columns.iter().all(|column| heights(column).0 >= heights(column).1) {
        return;
    }
    let mut data = String::new();
    for column in columns {
        let _ = write!(data, "{}{:.1} {:.1}", if data.is_empty() { 'M' } else { 'L' }, axes.x(column.binder), y(heights(column).0));
    }
    for column in columns.iter().rev() {
        let _ = write!(data, "L{:.1} {:.1}", axes.x(column.binder), y(heights(column).1));
    }
    data.push('Z');
    svg.drawn(fill, &data);
}

fn scales(svg: &mut Svg, axes: &Axes, view: &WindowPicture) {
    svg.path("l", &format!("M{LEFT} {TOP}V{BASE}H{RIGHT}"));
    for fifth in 0..=5u32 {
        let um = 200.0 * f64::from(fifth);
        svg.line("lq", 1.0, (LEFT - 5.0, y(um)), (LEFT, y(um)));
        svg.text("q", 14.0, "end", (LEFT - 8.0, y(um) + 5.0), &number(um / 1000.0, 1));
    }
    let step = [5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0].into_iter().find(|step| axes.most / step <= 7.0).unwrap_or(1000.0);
    let mut at = 0.0;
    while at <= axes.most {
        svg.line("lq", 1.0, (axes.x(at), BASE), (axes.x(at), BASE + 5.0));
        svg.text("q", 14.0, "middle", (axes.x(at), BASE + 34.0), &number(at, 0));
        at += step;
    }
    for tick in view.ticks.iter().filter(|tick| **tick <= axes.most) {
        svg.line("l", 1.5, (axes.x(*tick), BASE + 2.0), (axes.x(*tick), BASE + 16.0));
    }
    svg.text("q", 13.5, "end", (RIGHT, BASE + 52.0), "g of dry binder to 100 g of powder");
}

fn own_board(svg: &mut Svg, axes: &Axes, board: &WindowBoard) {
    let x = axes.x(board.binder);
    let shown = |um: Option<f64>| um.filter(|um| *um <= THICKEST);
    if let (Some(sound), Some(cracked)) = (shown(board.sound_um), shown(board.cracked_um)) {
        svg.line("l", 1.2, (x, y(sound)), (x, y(cracked)));
    }
    if let Some(um) = shown(board.sound_um) {
        svg.path("p", &dot(x, y(um)));
        svg.drawn("class=\"l\" stroke-width=\"1.6\"", &dot(x, y(um)));
    }
    if let Some(um) = shown(board.cracked_um) {
        svg.path("i", &dot(x, y(um)));
    }
}

fn dot(x: f64, y: f64) -> String {
    format!("M{:.1} {y:.1}a4.5 4.5 0 1 0 9 0a4.5 4.5 0 1 0 -9 0Z", x - 4.5)
}

/// The recipe: a block of coats as wide as the doubt about its binder.
fn mark(svg: &mut Svg, axes: &Axes, view: &WindowPicture) {
    let [low, value, high] = view.mark.binder;
    let (mut left, mut right) = (axes.x(low), axes.x(high));
    if right - left < NARROWEST {
        let middle = f64::midpoint(left, right).clamp(LEFT + NARROWEST / 2.0, RIGHT - NARROWEST / 2.0);
        (left, right) = (middle - NARROWEST / 2.0, middle + NARROWEST / 2.0);
    }
    if let Some(coat) = view.mark.coat {
        let coats = f64::from(view.mark.coats);
        let top = y(coat.value * coats);
        svg.rect("a", left, top, right - left, BASE - top);
        svg.drawn("class=\"l\" stroke-width=\"1.8\"", &format!("M{left:.1} {BASE:.1}V{top:.1}H{right:.1}V{BASE:.1}"));
        for number in 1..view.mark.coats.min(40) {
            let um = coat.value * f64::from(number);
            if um < THICKEST {
                svg.line("l", 0.8, (left, y(um)), (right, y(um)));
            }
        }
        let (from, to) = (y(coat.low * coats), y(coat.high * coats));
        svg.line("le", 2.2, (axes.x(value), from), (axes.x(value), to));
        for end in [from, to] {
            svg.line("le", 2.2, (axes.x(value) - 4.0, end), (axes.x(value) + 4.0, end));
        }
        if coat.value * coats > THICKEST {
            svg.text("e", 15.0, "middle", (f64::midpoint(left, right).clamp(LEFT + 30.0, RIGHT - 30.0), TOP - 4.0), "beyond 1 mm");
        }
    } else {
        svg.dashed("le", (axes.x(value), TOP), (axes.x(value), BASE));
    }
    if value > axes.most {
        svg.text("e", 20.0, "end", (RIGHT, TOP - 4.0), "›");
    }
}

fn key(svg: &mut Svg, boards: bool) {
    let row = BASE + 76.0;
    for (x, fill, words) in [(16.0, "", "cracks unlikely"), (160.0, DOUBT, "can't say"), (276.0, LIKELY, "cracks likely")] {
        if !fill.is_empty() {
            svg.marked(fill, (x, row - 12.0), (20.0, 15.0));
        }
        svg.drawn("class=\"lq\" stroke-width=\"1\"", &format!("M{x:.1} {:.1}h20v15h-20z", row - 12.0));
        svg.text("i", 14.0, "start", (x + 26.0, row), words);
    }
    svg.text("q", 13.5, "start", (16.0, row + 24.0), "block: this recipe, coat on coat · strokes: handbook grounds");
    let more = if boards { "dots: your boards, filled where cracked" } else { "none of your boards tells anything here yet" };
    svg.text("q", 13.5, "start", (16.0, row + 42.0), more);
}

/// What a screen reader says.
fn said(view: &WindowPicture) -> String {
    let [low, value, high] = view.mark.binder;
    let mut out = format!(
        "Binder against dry thickness up to 1 millimetre. This recipe holds {} grams of dry binder to 100 grams of powder, likely {}",
        number(value, 0),
        range(low, high)
    );
    match view.mark.coat {
        Some(coat) => {
            let coats = f64::from(view.mark.coats);
            let _ = write!(out, "; all coats together dry {} micrometres thick.", number(coat.value * coats, 0));
        }
        None => out.push_str("; how thick it dries is not known."),
    }
    let near = view.near.is_some_and(|(from, to)| (from..to).contains(&value));
    let nearest = view.columns.iter().min_by(|a, b| (a.binder - value).abs().total_cmp(&(b.binder - value).abs()));
    match nearest {
        Some(_) if near => out.push_str(" That is near the critical share, where it can't be told whether it cracks."),
        Some(column) => {
            let _ = match (column.unlikely_um < THICKEST, column.likely_um) {
                (false, _) => write!(out, " With so much binder cracks from the pull of drying are unlikely up to 1 millimetre."),
                (true, Some(likely)) => write!(
                    out,
                    " With so much binder cracks are unlikely below about {} micrometres and likely above about {}.",
                    about_um(column.unlikely_um),
                    about_um(likely)
                ),
                (true, None) => write!(
                    out,
                    " With so much binder cracks are unlikely below about {} micrometres; above that it can't be told.",
                    about_um(column.unlikely_um)
                ),
            };
        }
        None => {}
    }
    if !view.boards.is_empty() {
        let cracked = view.boards.iter().filter(|board| board.cracked_um.is_some()).count();
        let _ = write!(out, " {} of your boards are drawn, {cracked} of them with a crack.", view.boards.len());
    }
    out
}
