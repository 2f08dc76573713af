//! The rule from lean over usual to rich, with handbook grounds as ticks and this ground as a bar as wide as its doubt.

use crate::card::{Bar, Tick};
use crate::write::number;

use super::svg::Svg;

/// Ends of the rule: powder share over critical share. Lean is left, rich is right.
const LEAN_END: f64 = 1.75;
const RICH_END: f64 = 0.75;
const WIDTH: f64 = 420.0;
const MARGIN: f64 = 12.0;

fn x(lambda: f64) -> f64 {
    let at = (LEAN_END - lambda.clamp(RICH_END, LEAN_END)) / (LEAN_END - RICH_END);
    MARGIN + at * (WIDTH - 2.0 * MARGIN)
}

/// Draws the rule. `bars` holds one bar, or two for two cards side by side; `edges` are the two edges between the words and the
/// width to which they are known.
pub fn rule_picture(bars: &[(String, Bar)], ticks: &[Tick], edges: (f64, f64, f64)) -> String {
    let (rich_below, lean_above, width) = edges;
    let height = 118.0 + 34.0 * bars.len() as f64;
    let mut svg = Svg::new(WIDTH, height, &said(bars));
    // The three words.
    let base = 58.0;
    svg.text("q", 19.0, "middle", (f64::midpoint(x(LEAN_END), x(lean_above)), 22.0), "lean");
    svg.text("q", 19.0, "middle", (f64::midpoint(x(lean_above), x(rich_below)), 22.0), "usual");
    svg.text("q", 19.0, "middle", (f64::midpoint(x(rich_below), x(RICH_END)), 22.0), "rich");
    for edge in [rich_below, lean_above] {
        svg.rect("h", x(edge + width / 2.0), 30.0, x(edge - width / 2.0) - x(edge + width / 2.0), base - 30.0);
    }
    svg.line("l", 1.5, (MARGIN, base), (WIDTH - MARGIN, base));
    for tick in ticks {
        svg.line("l", 1.5, (x(tick.at), base - 16.0), (x(tick.at), base));
    }
    // Scale, small: what a chemist would read.
    for step in 0..=4u32 {
        let at = 0.8 + 0.2 * f64::from(step);
        svg.line("lq", 1.0, (x(at), base), (x(at), base + 5.0));
        svg.text("q", 14.0, "middle", (x(at), base + 20.0), &number(at, 1));
    }
    for (index, (name, bar)) in bars.iter().enumerate() {
        let top = base + 30.0 + 34.0 * index as f64;
        let (left, right) = (x(bar.high), x(bar.low));
        svg.rect("h", left, top, (right - left).max(3.0), 16.0);
        svg.line("le", 1.5, (left, top), (right.max(left + 3.0), top));
        svg.line("le", 1.5, (left, top + 16.0), (right.max(left + 3.0), top + 16.0));
        svg.rect("e", x(bar.value) - 2.5, top - 5.0, 5.0, 26.0);
        for (beyond, end, sign) in [(bar.high > LEAN_END, MARGIN, "‹"), (bar.low < RICH_END, WIDTH - MARGIN, "›")] {
            if beyond {
                svg.text("e", 22.0, "middle", (end, top + 15.0), sign);
            }
        }
        let (anchor, at) = if x(bar.value) < WIDTH / 2.0 { ("start", right.max(left + 3.0) + 8.0) } else { ("end", left - 8.0) };
        svg.text("i", 16.0, anchor, (at, top + 14.0), name);
    }
    svg.text(
        "q",
        14.0,
        "start",
        (MARGIN, height - 10.0),
        if bars.is_empty() { "strokes: handbook grounds" } else { "strokes: handbook grounds · bar: as wide as its doubt" },
    );
    svg.finish()
}

fn said(bars: &[(String, Bar)]) -> String {
    let each: Vec<String> = bars
        .iter()
        .map(|(name, bar)| format!("{name} at {}, between {} and {}", number(bar.value, 2), number(bar.low, 2), number(bar.high, 2)))
        .collect();
    format!("Rule from lean to rich; {}", if each.is_empty() { "no bar".into() } else { each.join("; ") })
}
