//! How much like a line a place is: second derivatives at one scale, turned into any direction and averaged along it.
#![expect(clippy::inline_always, reason = "only what is taken into a caller uses the widest instructions that this machine has")]

use fearless_simd::Level;

use crate::plane::Plane;

/// Second derivatives of a picture smoothed at one scale, times the square of the scale.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Hessian {
    /// Across columns.
    pub xx: Plane,
    /// Mixed.
    pub xy: Plane,
    /// Across rows.
    pub yy: Plane,
}

impl Hessian {
    /// The larger curvature at each place, nothing below zero: the response of Sato et al. (Medical Image Analysis 2(2), 1998) to dark lines.
    pub fn dark(&self) -> Plane {
        let mut out = self.xx.clone();
        for ((a, &b), &d) in out.values_mut().iter_mut().zip(self.xy.values()).zip(self.yy.values()) {
            let half = (*a - d) / 2.0;
            *a = (f32::midpoint(*a, d) + (half * half + b * b).sqrt()).max(0.0);
        }
        out
    }
}

/// What a dark bar of this width and depth 1 gives at its middle, by theory: u phi(u/2) with u = width / sigma.
///
/// ```
/// assert!((cracks::bar_response(2.0) - 0.48394).abs() < 1e-5);
/// ```
pub fn bar_response(width_by_sigma: f64) -> f64 {
    let u = width_by_sigma;
    u * (-u * u / 8.0).exp() / std::f64::consts::TAU.sqrt()
}

/// Second derivatives at a scale in pixels (0.6 or more); the border repeats its last value, and the outermost ring of pixels tells
/// nothing. A difference of neighbours is a derivative seen through a triangle of variance 1/6, so the bell in front of it is that much
/// narrower.
///
/// ```
/// let flat = cracks::Plane::filled(20, 20, 1.0);
/// assert!(cracks::hessian(&flat, 1.5).dark().values().iter().all(|v| v.abs() < 1e-5));
/// ```
pub fn hessian(picture: &Plane, sigma: f64) -> Hessian {
    let mut out = Derived::default();
    fearless_simd::dispatch!(Level::new(), _simd => derivatives(picture, sigma, &mut out));
    out.hessian
}

/// The second derivatives of one piece after another, and what they are worked out from: room that is used again.
#[derive(Default)]
pub(crate) struct Derived {
    across: Plane,
    smooth: Plane,
    hessian: Hessian,
}

/// The same, to be taken into a caller that knows which instructions it may use. What stood in the outermost ring before may stay there.
#[inline(always)]
pub(crate) fn derivatives(picture: &Plane, sigma: f64, out: &mut Derived) {
    let Derived { across, smooth, hessian: Hessian { xx, xy, yy } } = out;
    smooth_into(picture, (sigma * sigma - 1.0 / 6.0).max(0.04).sqrt(), across, smooth);
    let (width, height) = (picture.width(), picture.height());
    for plane in [&mut *xx, xy, yy] {
        plane.reshape(width, height);
    }
    let square = (sigma * sigma) as f32;
    for y in 0..height {
        let (up, here, down) = (smooth.row(y.saturating_sub(1)), smooth.row(y), smooth.row((y + 1).min(height - 1)));
        for (out, ((a, b), c)) in yy.row_mut(y).iter_mut().zip(up.iter().zip(here).zip(down)) {
            *out = square * (a - 2.0 * b + c);
        }
        let (one, two) = (here.get(1..).unwrap_or_default(), here.get(2..).unwrap_or_default());
        let middle = xx.row_mut(y).get_mut(1..).unwrap_or_default();
        for (out, ((a, b), c)) in middle.iter_mut().zip(here.iter().zip(one).zip(two)) {
            *out = square * (a - 2.0 * b + c);
        }
        let (up_two, down_two) = (up.get(2..).unwrap_or_default(), down.get(2..).unwrap_or_default());
        let middle = xy.row_mut(y).get_mut(1..).unwrap_or_default();
        for (out, ((a, c), (p, r))) in middle.iter_mut().zip(up.iter().zip(up_two).zip(down.iter().zip(down_two))) {
            *out = square * 0.25 * (a - c - p + r);
        }
    }
}

/// Smoothed by a bell.
#[inline(always)]
pub(crate) fn smoothed(picture: &Plane, sigma: f64) -> Plane {
    let (mut across, mut out) = (Plane::default(), Plane::default());
    smooth_into(picture, sigma, &mut across, &mut out);
    out
}

#[inline(always)]
fn smooth_into(picture: &Plane, sigma: f64, across: &mut Plane, out: &mut Plane) {
    let reach = (3.5 * sigma).ceil() as usize;
    let bell: Vec<f64> = (0..=reach).map(|k| (-(k as f64 / sigma).powi(2) / 2.0).exp()).collect();
    let sum = 2.0 * bell.iter().sum::<f64>() - 1.0;
    let kernel: Vec<f32> = bell.into_iter().map(|v| (v / sum) as f32).collect();
    let (width, height) = (picture.width(), picture.height());
    across.reshape(width, height);
    out.reshape(width, height);
    let mut padded = vec![0.0; width + 2 * reach];
    for y in 0..height {
        let from = picture.row(y);
        let (first, rest) = padded.split_at_mut(reach);
        let (middle, last) = rest.split_at_mut(width);
        first.fill(from.first().copied().unwrap_or(0.0));
        middle.copy_from_slice(from);
        last.fill(from.last().copied().unwrap_or(0.0));
        weighted(across.row_mut(y), &kernel, |k| {
            (padded.get(reach - k..).unwrap_or_default(), padded.get(reach + k..).unwrap_or_default())
        });
    }
    let last = height.saturating_sub(1);
    for y in 0..height {
        weighted(out.row_mut(y), &kernel, |k| (across.row(y.saturating_sub(k)), across.row((y + k).min(last))));
    }
}

/// Sums rows, each times its weight: the middle one, and from both sides those that lie so many steps off.
#[inline(always)]
fn weighted<'a>(out: &mut [f32], kernel: &[f32], sides: impl Fn(usize) -> (&'a [f32], &'a [f32])) {
    let (middle, _) = sides(0);
    let (near, far) = kernel.split_first().unwrap_or((&1.0, &[]));
    for (out, middle) in out.iter_mut().zip(middle) {
        *out = near * middle;
    }
    for (k, weight) in (1..).zip(far) {
        let (before, after) = sides(k);
        for (out, (a, b)) in out.iter_mut().zip(before.iter().zip(after)) {
            *out += weight * (a + b);
        }
    }
}

/// Directions that the average is taken along.
pub(crate) const DIRECTIONS: usize = 12;
/// Places of the average to each side, this far apart in pixels; the weight falls off with a deviation of half of its reach. The derivatives
/// are smooth already, so that every other pixel is enough.
const ALONG: usize = 3;
const APART: f64 = 2.2;
/// Rows above and below that the average looks at: 3 times 2.2, rounded.
const REACH: usize = 7;
/// Rows that are kept while the average goes down the picture: those above, the middle one and those below, rounded up.
const KEPT: usize = 16;
/// Pixels beyond a piece that its responses look at: the bell, the difference and the average.
pub(crate) const HALO: usize = 14;

/// A line through the middle: weights for the three derivatives, and where the average looks on one side; on the other it looks as far.
struct Direction {
    turn: [f32; 3],
    side: [(i64, i64); ALONG],
}

impl Direction {
    fn all() -> [Self; DIRECTIONS] {
        std::array::from_fn(|k| {
            let (sin, cos) = (std::f64::consts::PI * k as f64 / DIRECTIONS as f64).sin_cos();
            let place = |k: usize| {
                let t = (k + 1) as f64 * APART;
                ((t * cos).round() as i64, (t * sin).round() as i64)
            };
            // The line runs along (cos, sin); the bend is taken across it.
            Self { turn: [(sin * sin) as f32, (-2.0 * sin * cos) as f32, (cos * cos) as f32], side: std::array::from_fn(place) }
        })
    }
}

/// Weights of the average: in the middle, and at each place of a side.
fn weights() -> (f32, [f32; ALONG]) {
    let bell = |k: usize| (-2.0 * (k as f64 / ALONG as f64).powi(2)).exp();
    let sides: f64 = (1..=ALONG).map(bell).sum();
    let total = 1.0 + 2.0 * sides;
    ((1.0 / total) as f32, std::array::from_fn(|k| (bell(k + 1) / total) as f32))
}

/// Rows of one piece after another on their way to the averages: room that is used again.
#[derive(Default)]
pub(crate) struct Turned {
    turned: [Vec<f32>; DIRECTIONS],
    means: [Vec<f32>; DIRECTIONS],
}

/// The averages along all directions, row by row, inside of the halo: positive where a dark line runs that way, negative for a bright one.
/// To be taken into a caller that knows which instructions it may use.
#[inline(always)]
pub(crate) fn along_lines(
    Derived { hessian: from, .. }: &Derived,
    room: &mut Turned,
    mut each: impl FnMut(usize, &[Vec<f32>; DIRECTIONS]),
) {
    let wide = from.xx.width();
    let (width, height) = (wide.saturating_sub(2 * HALO), from.xx.height().saturating_sub(2 * HALO));
    let (middle, sides) = weights();
    let directions = Direction::all();
    let Turned { turned, means } = room;
    for turned in turned.iter_mut() {
        turned.resize(KEPT * wide, 0.0);
    }
    for mean in means.iter_mut() {
        mean.resize(width, 0.0);
    }
    for row in HALO - REACH..height + HALO + REACH {
        let (xx, xy, yy) = (from.xx.row(row), from.xy.row(row), from.yy.row(row));
        for (turned, Direction { turn: [a, b, c], .. }) in turned.iter_mut().zip(&directions) {
            let to = turned.get_mut(row % KEPT * wide..).unwrap_or_default();
            for (((value, xx), xy), yy) in to.iter_mut().zip(xx).zip(xy).zip(yy) {
                *value = a * xx + b * xy + c * yy;
            }
        }
        let Some(y) = row.checked_sub(HALO + REACH) else { continue };
        for ((mean, turned), direction) in means.iter_mut().zip(&*turned).zip(&directions) {
            let at = |dx: i64, dy: i64| {
                let from = ((y + HALO) as i64 + dy) as usize % KEPT * wide + (HALO as i64 + dx) as usize;
                turned.get(from..from + width).unwrap_or_default()
            };
            averaged(mean, (middle, at(0, 0)), sides, direction.side.map(|(dx, dy)| (at(dx, dy), at(-dx, -dy))));
        }
        each(y, means);
    }
}

/// The middle and three places to each side, weighed.
#[inline(always)]
fn averaged(out: &mut [f32], (weight, middle): (f32, &[f32]), weights: [f32; ALONG], sides: [(&[f32], &[f32]); ALONG]) {
    let ([near, next, far], [(a, b), (c, d), (e, f)]) = (weights, sides);
    let pairs = a.iter().zip(b).zip(c.iter().zip(d)).zip(e.iter().zip(f));
    for ((out, middle), (((a, b), (c, d)), (e, f))) in out.iter_mut().zip(middle).zip(pairs) {
        *out = weight * middle + near * (a + b) + next * (c + d) + far * (e + f);
    }
}

#[cfg(test)]
mod tests {
    use super::{bar_response, hessian};
    use crate::plane::Plane;

    // u phi(u/2), worked out with scipy 1.17.1 norm.pdf.
    #[test]
    fn a_bar_by_theory() {
        for (u, known) in [
            (0.25, 0.09896),
            (0.5, 0.19333),
            (1.0, 0.35207),
            (1.5, 0.45171),
            (2.0, 0.48394),
            (2.5, 0.45662),
            (3.0, 0.38855),
            (4.0, 0.21596),
            (6.0, 0.02659),
        ] {
            assert!((bar_response(u) - known).abs() < 1e-4, "{u}");
        }
    }

    fn bar(width: f64) -> Plane {
        let row: Vec<f32> = (0..101)
            .map(|x| {
                let d = f64::from(x - 50).abs();
                let cover = ((d + 0.5).min(width / 2.0) - (d - 0.5).max(-width / 2.0)).clamp(0.0, 1.0);
                (1.0 - 0.8 * cover) as f32
            })
            .collect();
        Plane::from_rows(101, 101, row.repeat(101)).expect("101 rows")
    }

    // scikit-image 0.26.0, filters.sato(black_ridges=True, sigmas=[s]) at the middle of the bar. That code takes two first derivatives at
    // sigma / sqrt 2, this one a sampled second derivative; at sigma 1 they differ by up to a sixth, above by less.
    #[test]
    fn a_bar_as_the_reference_sees_it() {
        for (width, known) in [
            (1.0, [0.21263, 0.12766, 0.07979]),
            (2.0, [0.30740, 0.22665, 0.15229]),
            (3.0, [0.40216, 0.32564, 0.22479]),
            (5.0, [0.26597, 0.39239, 0.33041]),
            (8.0, [0.05609, 0.28233, 0.38311]),
        ] {
            for (sigma, known) in [1.5, 2.5, 4.0].into_iter().zip(known) {
                let found = f64::from(hessian(&bar(width), sigma).dark().at(50, 50));
                assert!((found - known).abs() < 0.012 + 0.08 * known, "{width} {sigma}: {found} {known}");
            }
        }
    }
}
