//! Things of the kitchen table in a few lines each. Places are where a thing stands: the middle of its foot, unless said otherwise.

use std::fmt::Write as _;

use super::super::svg::Svg;

/// A shape with a filling and an outline.
fn shape(svg: &mut Svg, filling: &str, data: &str) {
    svg.path(filling, data);
    svg.path("l", data);
}

/// The edge of the table.
pub(super) fn bench(svg: &mut Svg) {
    svg.drawn("class=\"lq\"", "M4 197h352");
    svg.drawn("class=\"lq\" stroke-width=\"1\"", "M4 203h352");
}

pub(super) fn hot_plate(svg: &mut Svg, (x, y): (f64, f64)) {
    shape(svg, "g", &format!("M{:.1} {y:.1}v-10h156v10z", x - 78.0));
    svg.drawn("class=\"le\"", &format!("M{:.1} {:.1}h120", x - 60.0, y - 12.5));
}

/// A pan with a handle, filled to a share of its height.
pub(super) fn pan(svg: &mut Svg, (x, y): (f64, f64), (width, height): (f64, f64), full: f64) {
    let (left, top) = (x - width / 2.0, y - height);
    let level = y - height * full;
    svg.path("a", &format!("M{left:.1} {level:.1}h{width:.1}V{:.1}q0 8 -8 8H{:.1}q-8 0 -8 -8z", y - 8.0, left + 8.0));
    svg.path("l", &format!("M{left:.1} {top:.1}V{:.1}q0 8 8 8h{:.1}q8 0 8 -8V{top:.1}", y - 8.0, width - 16.0));
    svg.path("lq", &format!("M{left:.1} {level:.1}h{width:.1}"));
    svg.path("l", &format!("M{:.1} {:.1}h-26q-6 0 -6 5t6 5h26", left, top + 8.0));
}

/// A lump of curd.
pub(super) fn lump(svg: &mut Svg, (x, y): (f64, f64), r: f64) {
    let data = format!(
        "M{:.1} {y:.1}q{:.1} {:.1} {r:.1} {:.1}q{:.1} {:.1} {r:.1} {:.1}q{:.1} {:.1} -{r:.1} {:.1}q-{:.1} {:.1} -{r:.1} -{:.1}z",
        x - r,
        0.1 * r,
        -0.75 * r,
        -0.7 * r,
        0.95 * r,
        0.0,
        0.75 * r,
        0.1 * r,
        0.7 * r,
        0.65 * r,
        r,
        0.1 * r,
        0.7 * r,
    );
    shape(svg, "g", &data);
}

pub(super) fn thermometer(svg: &mut Svg, (x, y): (f64, f64)) {
    shape(svg, "a", &format!("M{:.1} {y:.1}v-92q0 -5 5 -5t5 5v92q5 3 5 8a10 10 0 0 1 -20 0q0 -5 5 -8z", x - 5.0));
    svg.drawn("class=\"le\" stroke-width=\"4\"", &format!("M{x:.1} {:.1}v-52", y + 6.0));
    svg.drawn("class=\"lq\" stroke-width=\"1\"", &format!("M{:.1} {:.1}h6m-6 12h6m-6 12h6", x + 7.0, y - 84.0));
}

/// A small jug that pours to the left from a lip 43 left and 13 below the place; its handle is 16 right and 32 above.
pub(super) fn jug(svg: &mut Svg, (x, y): (f64, f64)) {
    svg.open(&format!("transform=\"translate({x:.1} {y:.1}) rotate(-65)\""));
    svg.path("l", "M18 -20q22 2 20 20t-17 20");
    shape(svg, "w", "M-22 -28l-9 -6h49l5 54q0 8 -7 8h-33q-7 0 -7 -8z");
    svg.close();
}

/// A stream from its upper end downwards.
pub(super) fn stream(svg: &mut Svg, (x, y): (f64, f64), long: f64) {
    svg.drawn("class=\"le\" stroke-dasharray=\"7 5\"", &format!("M{x:.1} {y:.1}v{long:.1}"));
}

/// A hand that holds something at its left, arm to the right.
pub(super) fn fist(svg: &mut Svg, (x, y): (f64, f64)) {
    let data =
        format!("M{:.1} {:.1}q-9 1 -9 8q-6 3 -4 10q-4 6 2 10q1 8 10 8q8 5 18 0l40 8l4 -30l-38 -8q-12 -10 -23 -6z", x - 8.0, y - 18.0);
    shape(svg, "w", &data);
    svg.drawn("class=\"l\" stroke-width=\"1.4\"", &format!("M{:.1} {:.1}h14m-18 10h14m-10 10h12", x - 16.0, y - 9.0));
}

pub(super) fn bowl(svg: &mut Svg, (x, y): (f64, f64), (width, height): (f64, f64), full: f64) {
    let (left, top) = (x - width / 2.0, y - height);
    svg.path("a", &format!("M{left:.1} {top:.1}q4 {height:.1} 44 {height:.1}h{:.1}q40 0 44 -{height:.1}z", width - 88.0));
    svg.path("l", &format!("M{left:.1} {top:.1}q4 {height:.1} 44 {height:.1}h{:.1}q40 0 44 -{height:.1}", width - 88.0));
    svg.path("lq", &format!("M{:.1} {:.1}h{:.1}", left + 16.0, y - height * full, width - 32.0));
}

/// A sieve: the place is the middle of its rim.
pub(super) fn sieve(svg: &mut Svg, (x, y): (f64, f64), width: f64) {
    let (left, half) = (x - width / 2.0, width / 2.0);
    svg.path("a", &format!("M{left:.1} {y:.1}q{half:.1} {:.1} {width:.1} 0z", half * 0.85));
    svg.path("l", &format!("M{left:.1} {y:.1}h{width:.1}q-{half:.1} {:.1} -{width:.1} 0z", half * 0.85));
    svg.drawn(
        "class=\"lq\" stroke-dasharray=\"2 4\"",
        &format!("M{:.1} {:.1}q{:.1} {:.1} {:.1} 0", left + 10.0, y + 3.0, half - 10.0, half * 0.62, width - 20.0),
    );
}

/// A cloth laid over the rim of a sieve, its ends hanging down; the place is the middle of the rim.
pub(super) fn cloth(svg: &mut Svg, (x, y): (f64, f64), width: f64) {
    let half = width / 2.0;
    shape(
        svg,
        "a",
        &format!(
            "M{:.1} {:.1}q{half:.1} 18 {width:.1} 0l10 4q2 18 -4 38l-14 -4q4 -16 -2 -26q-{:.1} 24 -{:.1} 0q-6 10 -2 26l-14 4q-6 -20 -4 -38z",
            x - half,
            y - 4.0,
            half - 10.0,
            width - 20.0
        ),
    );
}

/// A jar, filled to a share of its height.
pub(super) fn jar(svg: &mut Svg, (x, y): (f64, f64), (width, height): (f64, f64), full: f64) {
    let (left, top) = (x - width / 2.0, y - height);
    let level = y - height * full;
    svg.path("a", &format!("M{left:.1} {level:.1}h{width:.1}V{:.1}q0 6 -6 6H{:.1}q-6 0 -6 -6z", y - 6.0, left + 6.0));
    svg.path("lq", &format!("M{left:.1} {level:.1}h{width:.1}"));
    svg.path(
        "l",
        &format!(
            "M{:.1} {top:.1}v10q-8 4 -8 12V{:.1}q0 6 6 6h{:.1}q6 0 6 -6V{:.1}q0 -8 -8 -12v-10z",
            left + 8.0,
            y - 6.0,
            width - 12.0,
            top + 22.0
        ),
    );
}

/// Froth: the place is the middle of its foot.
pub(super) fn bubbles(svg: &mut Svg, (x, y): (f64, f64), width: f64) {
    for (dx, dy, r) in [
        (-0.42, -7.0, 7.0),
        (-0.26, -10.0, 9.0),
        (-0.06, -8.0, 8.0),
        (0.14, -11.0, 10.0),
        (0.34, -7.0, 7.0),
        (-0.34, -23.0, 6.0),
        (-0.14, -25.0, 7.0),
        (0.06, -27.0, 6.0),
        (0.24, -26.0, 6.0),
        (-0.02, -40.0, 4.0),
    ] {
        let (at, up) = (x + dx * width, y + dy);
        shape(svg, "a", &format!("M{:.1} {up:.1}a{r} {r} 0 1 0 {} 0a{r} {r} 0 1 0 -{} 0z", at - r, 2.0 * r, 2.0 * r));
    }
}

/// A spoon: the place is its bowl, the handle goes up to the right. With a heap if it is full.
pub(super) fn spoon(svg: &mut Svg, (x, y): (f64, f64), full: bool) {
    svg.drawn("class=\"l\" stroke-width=\"3\"", &format!("M{:.1} {:.1}l84 -26", x + 14.0, y - 3.0));
    if full {
        shape(svg, "a", &format!("M{:.1} {y:.1}q18 -26 36 0z", x - 18.0));
    }
    shape(svg, "g", &format!("M{:.1} {y:.1}h40q-2 14 -20 14t-20 -14z", x - 20.0));
}

/// Powder that falls through this field, scattered by a fixed rule.
pub(super) fn dust(svg: &mut Svg, (left, top): (f64, f64), (width, height): (f64, f64)) {
    let mut data = String::new();
    for grain in 0..42u32 {
        // Steps of 1/p and 1/p² with p³ = p + 1 spread evenly over a field without lines.
        let (a, b) = ((f64::from(grain) * 0.754_877_7).fract(), (f64::from(grain) * 0.569_840_3).fract());
        let _ = write!(data, "M{:.1} {:.1}v2", left + a * width, top + b * height);
    }
    svg.drawn("class=\"lq\" stroke-width=\"2.2\"", &data);
}

/// An open window with air that moves.
pub(super) fn window(svg: &mut Svg, (left, top): (f64, f64)) {
    shape(svg, "a", &format!("M{left:.1} {top:.1}h64v80h-64z"));
    svg.path("l", &format!("M{:.1} {top:.1}l20 12v80l-20 -12", left + 64.0));
    svg.path("lq", &format!("M{:.1} {:.1}q10 -8 20 0t20 0M{:.1} {:.1}q10 -8 20 0t20 0", left + 12.0, top + 30.0, left + 12.0, top + 50.0));
}

/// A brush whose tip is at the place, leaning by so many degrees.
pub(super) fn brush(svg: &mut Svg, (x, y): (f64, f64), leaning: f64) {
    svg.open(&format!("transform=\"translate({x:.1} {y:.1}) rotate({leaning:.1})\""));
    shape(svg, "w", "M-5 -52q-2 -30 5 -40q7 10 5 40z");
    shape(svg, "g", "M-14 -38h28v-14h-28z");
    shape(svg, "b", "M-14 -38h28l2 26q-8 14 -16 12q-8 2 -16 -12z");
    svg.drawn("class=\"l\" stroke-width=\"1\"", "M-7 -34l-1 24M0 -34v26M7 -34l1 24");
    svg.close();
}

/// A kitchen scale; its plate is 40 above the foot.
pub(super) fn scale(svg: &mut Svg, (x, y): (f64, f64)) {
    shape(svg, "g", &format!("M{:.1} {y:.1}l8 -28h76l8 28z", x - 46.0));
    shape(svg, "a", &format!("M{:.1} {:.1}h44v14h-44z", x - 22.0, y - 21.0));
    svg.drawn("class=\"le\"", &format!("M{:.1} {:.1}h7m5 0h7m5 0h7", x - 15.0, y - 14.0));
    shape(svg, "g", &format!("M{:.1} {:.1}h116v6h-116zM{:.1} {:.1}v8", x - 58.0, y - 42.0, x, y - 36.0));
}

/// A board by its upper left corner.
pub(super) fn board(svg: &mut Svg, (left, top): (f64, f64), (width, height): (f64, f64)) {
    shape(svg, "w", &format!("M{left:.1} {top:.1}h{width:.1}v{height:.1}h-{width:.1}z"));
}

/// Wet ground with the lines of the brush, lying or standing.
pub(super) fn strokes(svg: &mut Svg, (left, top): (f64, f64), (width, height): (f64, f64), lying: bool) {
    svg.path("a", &format!("M{left:.1} {top:.1}h{width:.1}v{height:.1}h-{width:.1}z"));
    let mut data = String::new();
    let mut at = 5.0;
    while at < if lying { height } else { width } {
        let _ = if lying {
            write!(data, "M{:.1} {:.1}q{:.1} 3 {:.1} 0", left + 3.0, top + at, (width - 6.0) / 2.0, width - 6.0)
        } else {
            write!(data, "M{:.1} {:.1}q3 {:.1} 0 {:.1}", left + at, top + 3.0, (height - 6.0) / 2.0, height - 6.0)
        };
        at += 9.0;
    }
    svg.drawn("class=\"lq\" stroke-width=\"1.3\"", &data);
}

/// An arrow that lies or stands.
pub(super) fn arrow(svg: &mut Svg, (x, y): (f64, f64), to: (f64, f64)) {
    let head = if to.0 > x { "l-10 -6m10 6l-10 6" } else { "l-6 -10m6 10l6 -10" };
    svg.drawn("class=\"le\" stroke-width=\"2.6\"", &format!("M{x:.1} {y:.1}L{:.1} {:.1}{head}", to.0, to.1));
}

/// A hand with bent fingers whose back touches the place; the arm comes from the upper right.
pub(super) fn knuckle(svg: &mut Svg, (x, y): (f64, f64)) {
    shape(
        svg,
        "w",
        &format!(
            "M{x:.1} {y:.1}q-8 -4 -4 -12l22 -28q14 -22 44 -24l104 -40l20 44l-92 42q-6 16 -24 14q-16 14 -30 2q-8 -4 -4 -12l-18 10q-10 8 -18 4z"
        ),
    );
    svg.drawn("class=\"l\" stroke-width=\"1.4\"", &format!("M{:.1} {:.1}l22 -16m2 20l16 -14m12 2l10 -12", x + 36.0, y - 14.0));
    svg.drawn("class=\"le\" stroke-dasharray=\"4 4\"", &format!("M{:.1} {:.1}q12 8 28 2", x - 14.0, y + 10.0));
}

/// A clock by its middle.
pub(super) fn dial(svg: &mut Svg, (x, y): (f64, f64), r: f64) {
    shape(svg, "a", &format!("M{:.1} {y:.1}a{r} {r} 0 1 0 {} 0a{r} {r} 0 1 0 -{} 0z", x - r, 2.0 * r, 2.0 * r));
    svg.path("l", &format!("M{x:.1} {y:.1}v-{:.1}M{x:.1} {y:.1}l{:.1} {:.1}", r * 0.72, r * 0.45, r * 0.25));
    svg.path(
        "lq",
        &format!("M{x:.1} {:.1}v5M{x:.1} {:.1}v-5M{:.1} {y:.1}h5M{:.1} {y:.1}h-5", y - r + 4.0, y + r - 4.0, x - r + 4.0, x + r - 4.0),
    );
}

/// A lid by the middle of its rim.
pub(super) fn lid(svg: &mut Svg, (x, y): (f64, f64), width: f64) {
    shape(svg, "g", &format!("M{:.1} {y:.1}h{width:.1}q-4 -12 -20 -12h-{:.1}q-16 0 -20 12z", x - width / 2.0, width - 40.0));
    shape(svg, "g", &format!("M{:.1} {:.1}v-7h12v7z", x - 6.0, y - 12.0));
}

/// A bucket with clear water over what has settled.
pub(super) fn bucket(svg: &mut Svg, (x, y): (f64, f64)) {
    svg.path("g", &format!("M{:.1} {:.1}h68l-4 24h-60z", x - 34.0, y - 24.0));
    svg.path("l", &format!("M{:.1} {:.1}l10 86h64l10 -86z", x - 42.0, y - 86.0));
    svg.path("lq", &format!("M{:.1} {:.1}h76M{:.1} {:.1}h68", x - 38.0, y - 62.0, x - 34.0, y - 24.0));
    svg.path("l", &format!("M{:.1} {:.1}q42 -52 84 0", x - 42.0, y - 86.0));
}
