//! What was found beside what is true.

use crate::patterns::Crack;

/// Middle lines that someone found on the straightened board; the board's corner lies at pixel (-0.5, -0.5).
#[derive(Debug, Clone, Copy)]
pub struct Found<'a> {
    /// Pixels in a row.
    pub width: usize,
    /// Yes or no for each pixel, row by row.
    pub lines: &'a [bool],
    /// Pixels a millimetre.
    pub px_per_mm: f64,
    /// Left out along the board's edge, mm.
    pub margin_mm: f64,
}

/// How well lines fit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Score {
    /// Share of found places within the reach of a true line; 1 when none were found.
    pub right: f64,
    /// Share of true places within the reach of a found line; 1 when there are none.
    pub of_all: f64,
    /// Harmonic mean of the two.
    pub f1: f64,
    /// True length inside of the margin, mm.
    pub length_mm: f64,
    /// True width that half of the length stays below, mm; 0 without cracks.
    pub median_mm: f64,
}

/// Places every fiftieth of a millimetre along cracks, in pixels, each with its share of the length in mm.
pub fn places(cracks: &[Crack], px_per_mm: f64) -> Vec<((f64, f64), f64)> {
    let mut out = Vec::new();
    for two in cracks.iter().flat_map(|crack| crack.points.windows(2)) {
        let &[p, q] = two else { continue };
        let piece = f64::hypot(q.0 - p.0, q.1 - p.1);
        let count = (piece / 0.02).ceil().max(1.0);
        for k in 0..count as usize {
            let t = (k as f64 + 0.5) / count;
            let (x, y) = (p.0 + (q.0 - p.0) * t, p.1 + (q.1 - p.1) * t);
            out.push(((x * px_per_mm - 0.5, y * px_per_mm - 0.5), piece / count));
        }
    }
    out
}

/// Compares lines with the truth within a reach in pixels.
pub fn score(cracks: &[Crack], found: Found, reach_px: f64) -> Score {
    let (width, height) = (found.width, found.lines.len() / found.width.max(1));
    let set = |mask: &[bool], x: i64, y: i64| {
        x >= 0 && y >= 0 && x < width as i64 && mask.get(y as usize * width + x as usize).copied().unwrap_or(false)
    };
    let near = |mask: &[bool], x: f64, y: f64| {
        let (cx, cy, reach) = (x.round() as i64, y.round() as i64, reach_px.ceil() as i64 + 1);
        (cy - reach..=cy + reach)
            .any(|j| (cx - reach..=cx + reach).any(|i| set(mask, i, j) && (i as f64 - x).hypot(j as f64 - y) <= reach_px))
    };
    let margin = found.margin_mm * found.px_per_mm;
    let inside =
        |x: f64, y: f64| x + 0.5 > margin && y + 0.5 > margin && x + 0.5 < width as f64 - margin && y + 0.5 < height as f64 - margin;
    let all = places(cracks, found.px_per_mm);
    let mut drawn = vec![false; found.lines.len()];
    for &((x, y), _) in &all {
        let (x, y) = (x.round(), y.round());
        if x >= 0.0
            && y >= 0.0
            && x < width as f64
            && let Some(place) = drawn.get_mut(y as usize * width + x as usize)
        {
            *place = true;
        }
    }
    let (mut count, mut hit, mut length_mm) = (0_usize, 0_usize, 0.0);
    for &((x, y), share) in all.iter().filter(|((x, y), _)| inside(*x, *y)) {
        count += 1;
        length_mm += share;
        hit += usize::from(near(found.lines, x, y));
    }
    let (mut lines, mut good) = (0_usize, 0_usize);
    for (at, _) in found.lines.iter().enumerate().filter(|(_, set)| **set) {
        lines += 1;
        good += usize::from(near(&drawn, (at % width) as f64, (at / width) as f64));
    }
    let share = |part: usize, whole: usize| if whole == 0 { 1.0 } else { part as f64 / whole as f64 };
    let (right, of_all) = (share(good, lines), share(hit, count));
    Score { right, of_all, f1: 2.0 * right * of_all / (right + of_all).max(1e-9), length_mm, median_mm: median_width(cracks) }
}

fn median_width(cracks: &[Crack]) -> f64 {
    let mut widths: Vec<(f64, f64)> = cracks.iter().map(|crack| (crack.width_mm, crack.length_mm())).collect();
    widths.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut left = widths.iter().map(|width| width.1).sum::<f64>() / 2.0;
    widths
        .iter()
        .find(|width| {
            left -= width.1;
            left <= 0.0
        })
        .map_or(0.0, |width| width.0)
}

#[cfg(test)]
mod tests {
    use super::{Found, score};
    use crate::patterns::Crack;

    // Worked by hand: a crack of 10 mm across the middle of a board of 10 x 4 mm at 10 px/mm lies on row 20 (y = 2 mm). Found are 40 of
    // its 100 pixels and 10 pixels elsewhere: right 40/50; inside a margin of 1 mm, 3 to 7 mm and 0.2 mm more at each end of 8 mm: 4.4 / 8.
    #[test]
    fn half_found_and_a_little_wrong() {
        let crack = Crack { points: vec![(0.0, 2.05), (10.0, 2.05)], width_mm: 0.3 };
        let mut lines = vec![false; 100 * 40];
        lines[20 * 100 + 30..20 * 100 + 70].fill(true);
        lines[5 * 100 + 30..5 * 100 + 40].fill(true);
        let s = score(&[crack], Found { width: 100, lines: &lines, px_per_mm: 10.0, margin_mm: 1.0 }, 2.0);
        assert!((s.right - 0.8).abs() < 1e-9 && (s.length_mm - 8.0).abs() < 0.05, "{s:?}");
        assert!((s.of_all - 0.55).abs() < 0.015 && (s.median_mm - 0.3).abs() < 1e-9, "{s:?}");
    }
}
