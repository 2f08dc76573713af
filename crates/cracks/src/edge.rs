//! How much a photo blurs, from the board's own edges.

use nalgebra::{Matrix4, Vector4};

use crate::bell::{bell, share_under};
use crate::decode::{Light, Photo};
use crate::flatten::BoardSize;
use crate::homography::Homography;

/// Pieces that each side is cut into: long enough that noise moves the blur of one by a hundredth or two (measured on made boards).
const PIECES: u32 = 8;
/// Share of a side that is looked at; the rest is near corners.
const USED: f64 = 0.84;
/// Pixels of the photo looked at on each side of the edge.
const REACH: i64 = 16;
/// Places a pixel that light across an edge is gathered at.
const FINE: f64 = 4.0;
/// Edges that must be seen, or the blur can't be told: two sides' worth.
const LEAST_PIECES: usize = 10;
/// Blurs to each side of the edge within which it is fitted: further off there is only texture.
const NEAR: f64 = 5.0;

/// Deviation of the blur in straightened pixels; `None` if too few edges could be used.
///
/// Pixels of the photo along a piece of the edge, each by its distance from the edge, give the edge's rise finer than pixels are (the slanted
/// edge of ISO 12233, from memory); the smoothed step that fits best gives the lens. Laying the board flat reads between pixels: a straight line
/// between two pixels adds a variance of f (1 - f) at a part f of the way, 1/6 on the whole (worked out), and all is as many times larger
/// as the flat picture's scale is.
pub(crate) fn blur(photo: &Photo, table: &Light, map: &Homography, size: BoardSize, px_per_mm: f64) -> Option<f64> {
    let (w, h) = (size.width_mm, size.height_mm);
    let sides = [((0.0, 0.0), (w, 0.0)), ((w, 0.0), (w, h)), ((w, h), (0.0, h)), ((0.0, h), (0.0, 0.0))];
    let mut found = Vec::new();
    for ((x0, y0), (x1, y1)) in sides {
        let at = |part: f64| (x0 + (x1 - x0) * part, y0 + (y1 - y0) * part);
        for piece in 0..PIECES {
            let part = |k: u32| (1.0 - USED) / 2.0 + USED * f64::from(k) / f64::from(PIECES);
            let ends = [at(part(piece)), at(part(piece + 1))].map(|(x, y)| map.map(x, y));
            let middle = map.map(w / 2.0, h / 2.0);
            found.extend(Piece::of(ends, middle).and_then(|piece| piece.blur(photo, table)));
        }
    }
    if found.len() < LEAST_PIECES {
        return None;
    }
    let lens = crowded(&mut found)?;
    let parts = [0.1, 0.3, 0.5, 0.7, 0.9];
    let scales =
        parts.iter().flat_map(|x| parts.map(|y| map.stretch(x * w, y * h))).map(|(least, most)| px_per_mm * px_per_mm / (least * most));
    let scale2 = scales.sum::<f64>() / 25.0;
    Some(((lens * lens + 1.0 / 6.0) * scale2).sqrt())
}

/// A straight piece of an edge, nearly along rows or, if `turned`, along columns.
struct Piece {
    from: f64,
    to: f64,
    /// Place across at `from`, and how much it changes a pixel along.
    start: f64,
    slope: f64,
    /// Distance from the edge a pixel across, positive towards the board.
    inwards: f64,
    turned: bool,
}

impl Piece {
    fn of([p, q]: [(f64, f64); 2], middle: (f64, f64)) -> Option<Self> {
        let turned = (q.1 - p.1).abs() > (q.0 - p.0).abs();
        let lie = |(x, y): (f64, f64)| if turned { (y, x) } else { (x, y) };
        let (p, q, middle) = (lie(p), lie(q), lie(middle));
        let (p, q) = if p.0 < q.0 { (p, q) } else { (q, p) };
        let slope = (q.1 - p.1) / (q.0 - p.0);
        let inwards = (middle.1 - p.1 - slope * (middle.0 - p.0)).signum() / slope.hypot(1.0);
        (slope.is_finite() && q.0 - p.0 >= 16.0).then_some(Self { from: p.0, to: q.0, start: p.1, slope, inwards, turned })
    }

    /// Deviation of its blur in pixels of the photo.
    fn blur(&self, photo: &Photo, table: &Light) -> Option<f64> {
        let mut rows: Vec<(f64, Vec<(f64, f64)>)> = Vec::new();
        for along in self.from.ceil() as i64..=self.to.floor() as i64 {
            let edge = self.start + self.slope * (along as f64 - self.from);
            let first = edge.round() as i64 - REACH;
            let light = |across: i64| table.of(if self.turned { photo.pixel(across, along) } else { photo.pixel(along, across) });
            let row = (first..=first + 2 * REACH).map(|across| ((across as f64 - edge) * self.inwards, f64::from(light(across)))).collect();
            rows.push((along as f64 - self.from, row));
        }
        // The corners are good to a fraction of a pixel and boards bend: where the light is half-way is the edge.
        let all = || rows.iter().flat_map(|(_, row)| row.iter());
        let mean = |inside: bool| {
            let end = |d: f64| if inside { d > 0.6 * REACH as f64 } else { d < -0.6 * REACH as f64 };
            let (sum, count) = all().filter(|(d, _)| end(*d)).fold((0.0, 0.0), |(sum, count), (_, light)| (sum + light, count + 1.0));
            sum / f64::max(count, 1.0)
        };
        let (low, high) = (mean(false), mean(true));
        if high - low < 0.25 * high {
            return None;
        }
        let half = f64::midpoint(low, high);
        let crossings: Vec<(f64, f64)> = rows.iter().filter_map(|(along, row)| Some((*along, crossing(row, half)?))).collect();
        if crossings.len() * 2 < rows.len() {
            return None;
        }
        let (offset, turn) = straight(&crossings)?;
        let mut bins = vec![(0.0, 0.0, 0.0); (2.0 * REACH as f64 * FINE) as usize + 1];
        for (along, row) in &rows {
            for (d, light) in row {
                let d = d - offset - turn * along;
                let at = (d * FINE).round() + REACH as f64 * FINE;
                if let Some(bin) = (at >= 0.0).then(|| bins.get_mut(at as usize)).flatten() {
                    *bin = (bin.0 + d, bin.1 + light, bin.2 + 1.0);
                }
            }
        }
        let rise: Vec<[f64; 3]> = bins.iter().filter(|bin| bin.2 > 0.0).map(|bin| [bin.0 / bin.2, bin.1 / bin.2, bin.2]).collect();
        let rough = step(&rise, (low, high, 0.0, 1.5))?;
        let near: Vec<[f64; 3]> = rise.iter().filter(|[d, ..]| (d - rough.2).abs() < NEAR * rough.3).copied().collect();
        step(&near, rough).map(|fit| fit.3)
    }
}

/// The middle of the shortest span that holds half of the values (Andrews et al. 1972, from memory): worn pieces of an edge rise slower, and a
/// crack or a brush mark beside it may do anything, but they do not agree with each other.
fn crowded(values: &mut [f64]) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    let half = values.len() / 2 + 1;
    let spans = values.windows(half).filter_map(|part| Some((part.last()? - part.first()?, part)));
    let (_, part) = spans.min_by(|a, b| a.0.total_cmp(&b.0))?;
    part.get(part.len() / 2).copied()
}

/// Where light first goes from less to more than this near the middle of a row, whichever way the row runs.
fn crossing(row: &[(f64, f64)], level: f64) -> Option<f64> {
    row.windows(2)
        .filter_map(|two| {
            let &[(d, p), (e, q)] = two else { return None };
            ((p < level) != (q < level)).then(|| d + (e - d) * (level - p) / (q - p))
        })
        .min_by(|a, b| a.abs().total_cmp(&b.abs()))
        .filter(|d| d.abs() < 0.5 * REACH as f64)
}

/// Least squares.
fn straight(places: &[(f64, f64)]) -> Option<(f64, f64)> {
    let n = places.len() as f64;
    let mean = |get: fn(&(f64, f64)) -> f64| places.iter().map(get).sum::<f64>() / n;
    let (x, y) = (mean(|p| p.0), mean(|p| p.1));
    let (xx, xy) = places.iter().fold((0.0, 0.0), |(xx, xy), p| (xx + (p.0 - x).powi(2), xy + (p.0 - x) * (p.1 - y)));
    (xx > 0.0).then(|| (y - xy / xx * x, xy / xx))
}

/// Light below and above, place and blur of the step that fits a rise of light best, by weighted least squares (Gauss and Newton's steps from a
/// first guess). Rows of `rise` are place, light, weight.
fn step(rise: &[[f64; 3]], (mut low, mut high, mut middle, mut blur): (f64, f64, f64, f64)) -> Option<(f64, f64, f64, f64)> {
    for _ in 0..40 {
        let (mut square, mut side) = (Matrix4::zeros(), Vector4::zeros());
        for [d, light, weight] in rise {
            let x = (d - middle) / blur;
            let (share, slope) = (share_under(x), (high - low) * bell(x) / blur);
            let by = Vector4::new(1.0 - share, share, -slope, -slope * x);
            square += by * by.transpose() * *weight;
            side += by * (light - low - (high - low) * share) * *weight;
        }
        let change = square.lu().solve(&side)?;
        low += change.x;
        high += change.y;
        middle += change.z.clamp(-1.0, 1.0);
        blur = (blur + change.w.clamp(-0.5 * blur, blur)).clamp(0.1, REACH as f64);
        if change.z.abs() < 1e-5 && change.w.abs() < 1e-5 {
            return (middle.abs() < 0.25 * REACH as f64).then_some((low, high, middle, blur));
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::{crowded, step};

    // A step from 0.2 to 0.9 at 0.3 under a blur of 1.2: 0.2 + 0.7 norm.cdf((d - 0.3) / 1.2), with scipy 1.17.1.
    #[test]
    fn blur_of_a_smoothed_step() {
        let table = [
            (-4.0, 0.200_119),
            (-3.0, 0.202_086),
            (-2.0, 0.219_348),
            (-1.0, 0.297_531),
            (-0.5, 0.376_745),
            (0.0, 0.480_906),
            (0.5, 0.596_329),
            (1.0, 0.704_116),
            (1.5, 0.788_941),
            (2.0, 0.845_197),
            (3.0, 0.891_443),
            (4.0, 0.899_284),
        ];
        let rise: Vec<[f64; 3]> = table.iter().map(|&(d, light)| [d, light, 1.0]).collect();
        let (_, _, middle, blur) = step(&rise, (0.2, 0.9, 0.0, 1.5)).expect("a step");
        assert!((blur - 1.2).abs() < 2e-4 && (middle - 0.3).abs() < 2e-4, "{blur}");
    }

    // By hand: of nine values five lie within 0.2; their middle is 1.1.
    #[test]
    fn the_middle_of_those_that_agree() {
        assert_eq!(crowded(&mut [3.0, 1.0, 1.2, 0.4, 1.1, 2.0, 1.05, 1.15, 5.0]), Some(1.1));
        assert_eq!(crowded(&mut []), None);
    }
}
