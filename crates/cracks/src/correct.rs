//! What a person puts right: false cracks rubbed out, missed ones drawn in.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use crate::flatten::Flat;
use crate::graph::{Graph, Point};
use crate::lines::MARGIN_MM;
use crate::look::{Figures, Look, Range, USUAL_BLUR_PX, USUAL_DARKNESS};
use crate::mask::{AROUND, Mask};
use crate::paths::{beside, from_photo};
use crate::rating::rate;
use crate::spots::pinholes;
use crate::thin::thin_twice;

/// Strokes of a person, in pixels of the upright photo.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Correction {
    /// Strokes of the rubber: places along each, and half its width.
    pub rubbed: Vec<(Vec<Point>, f64)>,
    /// Missed cracks: places along each, two at least.
    pub drawn: Vec<Vec<Point>>,
}

impl Correction {
    /// Whether there is nothing in it.
    pub const fn is_empty(&self) -> bool {
        self.rubbed.is_empty() && self.drawn.is_empty()
    }
}

/// How far off a hand is at each end of a drawn crack, in mm (judgement, no source).
const END_MM: f64 = 0.5;
/// Half the width of a drawn crack's dark place, in pixels, before its width is measured in the picture.
const HALF_PX: i64 = 1;
/// How far beside a drawn stroke the crack is looked for, in pixels of the straightened picture (judgement, no source).
const BESIDE_PX: f64 = 12.0;
/// Price of a step over white ground against one over black (model choice).
const WHITE: f64 = 20.0;

/// The board with its cracks put right: rubbed places are none, drawn ones follow the darkest way beside the stroke. Widths are measured in the
/// picture as for every other crack. Doubt of what was found by itself stays what it was; each drawn crack is off by a millimetre at its ends.
///
/// Nothing put right gives the look back as it was.
#[must_use]
pub fn corrected(look: Look, correction: &Correction) -> Look {
    let (false, Some(place)) = (correction.is_empty(), from_photo(&look.flat)) else { return look };
    let flat = &look.flat;
    let mut lines = look.lines.clone();
    for (path, radius) in &correction.rubbed {
        let path: Vec<Point> = path.iter().map(|&p| place(p)).collect();
        // The rubber is round in the photo; on the board it is taken to be as wide as there on the whole.
        let reach = radius * scale(flat);
        rub(&mut lines.mask, &path, reach);
        rub(&mut lines.thin, &path, reach);
    }
    let before = Figures::of(flat, &lines, blur(flat)).length;
    let mut ends = 0.0;
    for path in &correction.drawn {
        let path: Vec<Point> = path.iter().map(|&p| place(p)).collect();
        let way = darkest_way(flat, &path);
        ends += if way.is_empty() { 0.0 } else { 2.0 * END_MM };
        for (x, y) in way {
            lines.thin.put(x, y, true);
            for (dx, dy) in (-HALF_PX..=HALF_PX).flat_map(|dy| (-HALF_PX..=HALF_PX).map(move |dx| (dx, dy))) {
                lines.mask.put(x + dx, y + dy, true);
            }
        }
    }
    lines.graph = Graph::of(&thin_twice(&lines.thin));
    let figures = Figures::of(flat, &lines, blur(flat));
    let by_itself = if figures.length > 0.0 { (before / figures.length).min(1.0) } else { 1.0 };
    let by_hand = ends / look.measured_mm2.max(1e-9);
    // What is left of the cracks found by itself keeps its doubt as a share of it.
    let again = |old: Range, value: f64, off: f64| {
        let share = |end: f64| if old.value > 0.0 { end / old.value } else { 1.0 };
        let part = value * by_itself;
        Range { value, low: (value - part * (1.0 - share(old.low)) - off).max(0.0), high: value + part * (share(old.high) - 1.0) + off }
    };
    let dark = figures.darkness.unwrap_or(USUAL_DARKNESS);
    let px = 1.0 / flat.px_per_mm;
    let width = |share: f64| figures.width_range(share, dark, px);
    let mean = figures.area / figures.length.max(1e-9);
    Look {
        length: again(look.length, figures.length, by_hand),
        area: again(look.area, figures.area, by_hand * mean),
        width_median: width(0.5),
        width_p95: width(0.95),
        width_max: width(1.0),
        junctions: again(look.junctions, figures.junctions, 0.0),
        direction_deg: figures.direction.map(|d| d.0),
        direction_strength: figures.direction.map(|d| d.1),
        islands: again(look.islands, figures.islands, 0.0),
        pinholes: pinholes(flat, &lines, dark.depth),
        rating: rate(figures.length, width(0.95).map(|w| w.value)),
        lines,
        ..look
    }
}

fn blur(flat: &Flat) -> f64 {
    flat.blur_px.unwrap_or(USUAL_BLUR_PX).max(0.45)
}

/// Pixels of the straightened picture for one of the photo, on the whole.
fn scale(flat: &Flat) -> f64 {
    2.0 * flat.px_per_mm / (flat.local_px_per_mm.0 + flat.local_px_per_mm.1).max(1e-9)
}

/// Clears what lies within reach of a stroke.
fn rub(mask: &mut Mask, path: &[Point], reach: f64) {
    let dot = path.first().map(|&p| (p, p)).filter(|_| path.len() == 1);
    let strokes = path.windows(2).filter_map(|two| if let &[a, b] = two { Some((a, b)) } else { None });
    for (a, b) in strokes.chain(dot) {
        let (width, height) = (mask.width() as f64, mask.height() as f64);
        let span = |p: f64, q: f64, most: f64| {
            let (low, high) = (p.min(q) - reach, p.max(q) + reach);
            (low.floor().clamp(0.0, most) as i64, high.ceil().clamp(-1.0, most) as i64)
        };
        let ((left, right), (top, bottom)) = (span(a.x, b.x, width), span(a.y, b.y, height));
        for y in top..=bottom {
            for x in left..=right {
                if mask.has(x, y) && beside(Point { x: x as f64, y: y as f64 }, a, b) <= reach {
                    mask.put(x, y, false);
                }
            }
        }
    }
}

/// The darkest way near a stroke from its first place to its last: the least sum of light along it (Dijkstra's shortest path with the picture
/// as its price, after Mortensen and Barrett 1995, from memory). Inside of the margin only.
fn darkest_way(flat: &Flat, path: &[Point]) -> Vec<(i64, i64)> {
    let mut way: Vec<(i64, i64)> = Vec::new();
    for two in path.windows(2) {
        if let &[a, b] = two {
            way.extend(between(flat, a, b));
        }
    }
    way
}

fn between(flat: &Flat, a: Point, b: Point) -> Vec<(i64, i64)> {
    let margin = (MARGIN_MM * flat.px_per_mm).round() as i64;
    let (width, height) = (flat.picture.width() as i64, flat.picture.height() as i64);
    let inside = |p: Point| {
        let held = |v: f64, most: i64| (v.round().clamp(-1e6, 1e6) as i64).clamp(margin, (most - 1 - margin).max(margin));
        (held(p.x, width), held(p.y, height))
    };
    let (start, end) = (inside(a), inside(b));
    let (left, top) = (start.0.min(end.0) - BESIDE_PX as i64, start.1.min(end.1) - BESIDE_PX as i64);
    let (across, down) = ((start.0 - end.0).abs() + 2 * BESIDE_PX as i64 + 1, (start.1 - end.1).abs() + 2 * BESIDE_PX as i64 + 1);
    let at = |(x, y): (i64, i64)| {
        let (x, y) = (x - left, y - top);
        (x >= 0 && y >= 0 && x < across && y < down).then_some((y * across + x) as usize)
    };
    let of = |p: (i64, i64)| Point { x: p.0 as f64, y: p.1 as f64 };
    let mut price = vec![f64::INFINITY; (across * down) as usize];
    let mut from: Vec<Option<(i64, i64)>> = vec![None; price.len()];
    let mut front = BinaryHeap::new();
    if let Some(first) = at(start).and_then(|k| price.get_mut(k)) {
        *first = 0.0;
    }
    front.push(Reverse((0_u64, start)));
    while let Some(Reverse((_, here))) = front.pop() {
        if here == end {
            break;
        }
        let paid = at(here).and_then(|k| price.get(k)).copied().unwrap_or(f64::INFINITY);
        for (dx, dy) in AROUND {
            let next = (here.0 + dx, here.1 + dy);
            let (Some(k), true) = (at(next), beside(of(next), of(start), of(end)) <= BESIDE_PX) else { continue };
            let light = f64::from(flat.picture.at(next.0, next.1)).clamp(0.0, 1.2);
            let step = (1.0 + WHITE * light) * of(here).to(of(next));
            if let (Some(known), Some(back)) = (price.get_mut(k), from.get_mut(k))
                && paid + step < *known
            {
                *known = paid + step;
                *back = Some(here);
                // Prices to a thousandth: whole numbers can be put in order.
                front.push(Reverse((((paid + step) * 1000.0) as u64, next)));
            }
        }
    }
    let mut way = vec![end];
    let mut here = end;
    while let Some(Some(back)) = at(here).and_then(|k| from.get(k)).copied() {
        way.push(back);
        here = back;
    }
    way.reverse();
    way
}

#[cfg(test)]
mod tests {
    use super::{between, rub};
    use crate::flatten::Flat;
    use crate::graph::Point;
    use crate::homography::Homography;
    use crate::mask::Mask;
    use crate::plane::Plane;

    fn flat(width: usize, height: usize, light: impl Fn(usize, usize) -> f32) -> Flat {
        let rows = (0..width * height).map(|at| light(at % width, at / width)).collect();
        let corners = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
        let map = Homography::of(corners, corners).expect("a square");
        let picture = Plane::from_rows(width, height, rows).expect("rows");
        Flat { picture, px_per_mm: 5.0, map, local_px_per_mm: (5.0, 5.0), blur_px: None, clipped: 0.0, light: 0.6 }
    }

    // By hand: a dark line six pixels beside the stroke is followed on nearly its whole length.
    #[test]
    fn a_stroke_beside_the_crack_is_drawn_along_it() {
        let board = flat(200, 60, |_, y| if y == 36 { 0.2 } else { 1.0 });
        let way = between(&board, Point { x: 20.0, y: 30.0 }, Point { x: 180.0, y: 30.0 });
        assert_eq!((way.first(), way.last()), (Some(&(20, 30)), Some(&(180, 30))));
        let on = way.iter().filter(|(_, y)| *y == 36).count();
        assert!(on >= 145, "{on} of {}", way.len());
    }

    // By hand: on white ground there is nothing to follow, and the way is the stroke; outside places are brought in.
    #[test]
    fn on_white_ground_the_way_is_straight() {
        let board = flat(200, 60, |_, _| 1.0);
        let way = between(&board, Point { x: 20.0, y: 30.0 }, Point { x: 120.0, y: 30.0 });
        assert_eq!(way.len(), 101);
        let far = between(&board, Point { x: -1e9, y: f64::NAN }, Point { x: 20.0, y: 30.0 });
        assert!(far.iter().all(|(x, y)| (5..195).contains(x) && (5..55).contains(y)), "{far:?}");
    }

    // By hand: a rubber of reach 2 over a row clears five rows and a round end.
    #[test]
    fn rubbed_places_are_clear() {
        let mut mask = Mask::from_rows(20, 9, vec![true; 180]).expect("rows");
        rub(&mut mask, &[Point { x: 5.0, y: 4.0 }, Point { x: 14.0, y: 4.0 }], 2.0);
        assert!(!mask.has(5, 2) && !mask.has(10, 6) && !mask.has(3, 4) && !mask.has(16, 4));
        assert!(mask.has(5, 1) && mask.has(2, 4) && mask.has(3, 2) && mask.has(17, 4));
        rub(&mut mask, &[Point { x: 0.0, y: 0.0 }], 1.0);
        assert!(!mask.has(0, 0) && !mask.has(1, 0) && mask.has(1, 1));
    }
}
