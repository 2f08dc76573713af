//! Boards of a trial on the axis of their measure: a dot or a bar each, a row for every recipe.

use crate::write::plain;

use super::svg::Svg;

/// One board or pot on its row.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BoardMark {
    /// Read exactly; filled for cracked or worse.
    Dot {
        /// Where on the axis.
        at: f64,
        /// Cracked, or worse than the yardstick of its day.
        filled: bool,
    },
    /// Seen between two marks; without an upper one the bar ends in an arrow.
    Span {
        /// The mark below.
        low: f64,
        /// The mark above.
        high: Option<f64>,
    },
}

/// A row of the picture.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct BoardsRow {
    /// Recipe or settings.
    pub name: String,
    /// `yardstick` or `witness`, in small letters below the name; empty for a recipe.
    pub job: &'static str,
    /// Its boards.
    pub marks: Vec<BoardMark>,
    /// Same-day yardsticks on the axis.
    pub yardsticks: Vec<f64>,
    /// Where its middle likely lies.
    pub range: Option<(f64, f64)>,
}

/// What the axis of the picture is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BoardsAxis {
    /// None: boards stand side by side, filled for yes.
    YesNo,
    /// The measure's own numbers.
    Numbers,
}

const WIDTH: f64 = 540.0;
const LEFT: f64 = 160.0;
const RIGHT: f64 = 500.0;
const ROW: f64 = 46.0;
/// More rows or marks than these do not fit a page; the numbers below the picture hold all.
const MOST_ROWS: usize = 16;
const MOST_MARKS: usize = 80;
/// Bars of one row stand below each other.
const MOST_BARS: usize = 8;
const DOT: f64 = 6.0;

/// Draws the boards; `said` is read out in place of the picture, `unit` stands at the axis.
pub fn boards_picture(rows: &[BoardsRow], axis: BoardsAxis, unit: &str, said: &str) -> String {
    let shown: Vec<&BoardsRow> = rows.iter().take(MOST_ROWS).collect();
    let (low, high) = ends(&shown);
    let x = |value: f64| LEFT + (value.clamp(low, high) - low) / (high - low) * (RIGHT - LEFT);
    let heights: Vec<f64> = shown.iter().map(|row| height(row)).collect();
    let bottom = 20.0 + heights.iter().sum::<f64>();
    let mut svg = Svg::new(WIDTH, bottom + 66.0, said);
    let mut top = 20.0;
    for (row, height) in shown.iter().zip(&heights) {
        let middle = top + height / 2.0;
        svg.text("i", 15.0, "end", (LEFT - 16.0, if row.job.is_empty() { middle + 5.0 } else { middle }), &shortened(&row.name));
        svg.text("q", 12.5, "end", (LEFT - 16.0, middle + 15.0), row.job);
        if let Some((from, to)) = row.range.filter(|(from, to)| from.is_finite() && to.is_finite()) {
            svg.rect("h", x(from), top + 6.0, (x(to) - x(from)).max(2.0), height - 12.0);
        }
        match axis {
            BoardsAxis::YesNo => side_by_side(&mut svg, row, middle),
            BoardsAxis::Numbers => on_axis(&mut svg, row, (top, *height), &x),
        }
        for &at in row.yardsticks.iter().filter(|at| at.is_finite() && axis == BoardsAxis::Numbers) {
            svg.line("le", 2.5, (x(at), top + 4.0), (x(at), top + height - 4.0));
        }
        top += height;
    }
    if axis == BoardsAxis::Numbers {
        svg.line("l", 1.2, (LEFT, bottom), (RIGHT, bottom));
        let step = even_step((high - low) / 4.0);
        let first = (low / step).ceil();
        for count in 0..=8u32 {
            let value = (first + f64::from(count)) * step;
            if value > high {
                break;
            }
            svg.line("lq", 1.0, (x(value), bottom), (x(value), bottom + 5.0));
            svg.text("q", 13.0, "middle", (x(value), bottom + 20.0), &plain(value));
        }
        svg.text("q", 13.0, "start", (RIGHT + 6.0, bottom + 4.0), unit);
    }
    let key: &[&str] = match axis {
        BoardsAxis::YesNo => &["open: sound · filled: gave way"],
        BoardsAxis::Numbers => &[
            "each dot or bar is a board or pot; filled: worse than the yardstick of its day",
            "long strokes: yardstick of the day · hatched: where the middle likely lies",
        ],
    };
    for (line, words) in key.iter().enumerate() {
        svg.text("q", 13.0, "start", (12.0, bottom + 44.0 + 16.0 * line as f64), words);
    }
    svg.finish()
}

fn height(row: &BoardsRow) -> f64 {
    let bars = row.marks.iter().filter(|mark| matches!(mark, BoardMark::Span { .. })).count().min(MOST_BARS);
    ROW.max(14.0 + 9.0 * bars as f64)
}

/// Ends of the axis with a little room; never of no width.
fn ends(rows: &[&BoardsRow]) -> (f64, f64) {
    let mut values: Vec<f64> = Vec::new();
    for row in rows {
        for mark in &row.marks {
            match mark {
                BoardMark::Dot { at, .. } => values.push(*at),
                BoardMark::Span { low, high } => values.extend([Some(*low), *high].into_iter().flatten()),
            }
        }
        values.extend(row.range.iter().flat_map(|(from, to)| [*from, *to]));
        values.extend(&row.yardsticks);
    }
    values.retain(|value| value.is_finite());
    let low = values.iter().copied().fold(f64::INFINITY, f64::min);
    let high = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if low > high {
        return (0.0, 1.0);
    }
    let room = if high - low > 0.0 { (high - low) * 0.06 } else { low.abs().max(1.0) * 0.5 };
    (if low >= 0.0 { (low - room).max(0.0) } else { low - room }, high + room)
}

fn dot(svg: &mut Svg, filled: bool, x: f64, y: f64) {
    let left = x - DOT;
    let class = if filled { "i" } else { "l" };
    svg.path(class, &format!("M{left:.1} {y:.1}a{DOT} {DOT} 0 1 0 {0} 0a{DOT} {DOT} 0 1 0 -{0} 0z", 2.0 * DOT));
}

fn side_by_side(svg: &mut Svg, row: &BoardsRow, middle: f64) {
    let marks: Vec<bool> = row.marks.iter().take(MOST_MARKS).map(|mark| matches!(mark, BoardMark::Dot { filled: true, .. })).collect();
    let step = ((RIGHT - LEFT) / marks.len().max(1) as f64).min(20.0);
    for (index, filled) in marks.iter().enumerate() {
        dot(svg, *filled, LEFT + DOT + step * index as f64, middle);
    }
}

fn on_axis(svg: &mut Svg, row: &BoardsRow, (top, height): (f64, f64), x: &impl Fn(f64) -> f64) {
    let middle = top + height / 2.0;
    let mut taken: Vec<f64> = Vec::new();
    let mut bar = top + 9.0;
    let mut bars = 0;
    for mark in row.marks.iter().take(MOST_MARKS) {
        match *mark {
            BoardMark::Dot { at, .. } if !at.is_finite() => {}
            BoardMark::Dot { at, filled } => {
                // Dots at one place step down a little, so that each can be counted.
                let same = taken.iter().filter(|other| (x(**other) - x(at)).abs() < DOT).count() % 3;
                taken.push(at);
                let shift = [0.0, 9.0, -9.0].into_iter().nth(same).unwrap_or(0.0);
                dot(svg, filled, x(at), middle + shift);
            }
            BoardMark::Span { low, high } if bars < MOST_BARS => {
                let end = high.map_or(RIGHT, x);
                svg.line("l", 3.0, (x(low), bar), (end, bar));
                if high.is_none() {
                    svg.path("l", &format!("M{:.1} {:.1}L{end:.1} {bar:.1}L{:.1} {:.1}", end - 7.0, bar - 4.0, end - 7.0, bar + 4.0));
                }
                bar += 9.0;
                bars += 1;
            }
            BoardMark::Span { .. } => {}
        }
    }
}

/// The next of 1, 2 and 5 times a power of ten above.
fn even_step(least: f64) -> f64 {
    let place = 10f64.powf(least.max(1e-12).log10().floor());
    [1.0, 2.0, 5.0].into_iter().map(|digit| digit * place).find(|step| *step >= least).unwrap_or(10.0 * place)
}

fn shortened(name: &str) -> String {
    const MOST: usize = 18;
    if name.chars().count() <= MOST { name.to_owned() } else { name.chars().take(MOST - 1).chain(std::iter::once('…')).collect() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_board_is_drawn_and_odd_names_are_made_safe() {
        let row = BoardsRow {
            name: "<chalk & glue>".into(),
            job: "yardstick",
            marks: vec![
                BoardMark::Dot { at: 2.0, filled: true },
                BoardMark::Dot { at: 2.0, filled: false },
                BoardMark::Span { low: 1.0, high: None },
            ],
            yardsticks: vec![1.5],
            range: Some((1.0, 3.0)),
        };
        let svg = boards_picture(std::slice::from_ref(&row), BoardsAxis::Numbers, "mm", "two boards");
        assert!(svg.contains("<title>two boards</title>") && svg.contains("&lt;chalk &amp; glue&gt;") && !svg.contains("style"));
        assert_eq!(svg.matches("a6 6 0 1 0 12 0").count(), 2);
        assert!(boards_picture(&[row], BoardsAxis::YesNo, "", "two boards").contains("gave way"));
        for odd in [f64::NAN, f64::INFINITY, 0.0] {
            let row = BoardsRow { marks: vec![BoardMark::Dot { at: odd, filled: true }], ..BoardsRow::default() };
            assert!(
                ["inf", "NaN"].iter().all(|word| !boards_picture(std::slice::from_ref(&row), BoardsAxis::Numbers, "", "").contains(word))
            );
        }
    }
}
