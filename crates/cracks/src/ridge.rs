//! How much like a line a place is: second derivatives at one scale, turned into any direction and averaged along it.

use crate::plane::Plane;

/// Second derivatives of a picture smoothed at one scale, times the square of the scale.
#[derive(Debug, Clone, PartialEq)]
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
    let smooth = smoothed(picture, (sigma * sigma - 1.0 / 6.0).max(0.04).sqrt());
    let (width, height) = (picture.width(), picture.height());
    let empty = || Plane::filled(width, height, 0.0);
    let (mut xx, mut xy, mut yy) = (empty(), empty(), empty());
    let square = (sigma * sigma) as f32;
    for y in 0..height {
        let (up, here, down) = (smooth.row(y.saturating_sub(1)), smooth.row(y), smooth.row((y + 1).min(height - 1)));
        for (out, ((a, b), c)) in yy.row_mut(y).iter_mut().zip(up.iter().zip(here).zip(down)) {
            *out = square * (a - 2.0 * b + c);
        }
        let middle = xx.row_mut(y).get_mut(1..).unwrap_or_default();
        for (out, three) in middle.iter_mut().zip(here.windows(3)) {
            if let &[a, b, c] = three {
                *out = square * (a - 2.0 * b + c);
            }
        }
        let middle = xy.row_mut(y).get_mut(1..).unwrap_or_default();
        for (out, (above, below)) in middle.iter_mut().zip(up.windows(3).zip(down.windows(3))) {
            if let (&[a, _, c], &[p, _, r]) = (above, below) {
                *out = square * 0.25 * (a - c - p + r);
            }
        }
    }
    Hessian { xx, xy, yy }
}

/// Smoothed by a bell.
pub(crate) fn smoothed(picture: &Plane, sigma: f64) -> Plane {
    let reach = (3.5 * sigma).ceil() as usize;
    let bell: Vec<f64> = (0..=2 * reach).map(|k| (-((k as f64 - reach as f64) / sigma).powi(2) / 2.0).exp()).collect();
    let sum: f64 = bell.iter().sum();
    let kernel: Vec<f32> = bell.into_iter().map(|v| (v / sum) as f32).collect();
    let (width, height) = (picture.width(), picture.height());
    let mut across = Plane::filled(width, height, 0.0);
    let mut padded = vec![0.0; width + 2 * reach];
    for y in 0..height {
        let from = picture.row(y);
        let (first, last) = (from.first().copied().unwrap_or(0.0), from.last().copied().unwrap_or(0.0));
        padded.fill(last);
        for (value, source) in padded.iter_mut().zip(std::iter::repeat_n(&first, reach).chain(from)) {
            *value = *source;
        }
        let parts: Vec<(f32, &[f32])> = kernel.iter().zip(0..).map(|(&w, k)| (w, padded.get(k..).unwrap_or_default())).collect();
        weighted(across.row_mut(y), &parts);
    }
    let mut out = Plane::filled(width, height, 0.0);
    let last = height.saturating_sub(1);
    for y in 0..height {
        let parts: Vec<(f32, &[f32])> =
            kernel.iter().zip(0..).map(|(&w, k)| (w, across.row((y + k).saturating_sub(reach).min(last)))).collect();
        weighted(out.row_mut(y), &parts);
    }
    out
}

/// Places that are summed in one go, so that the sums stay in registers.
const LANES: usize = 16;

/// Sums rows, each times its weight; rows shorter than the sum end early.
fn weighted(out: &mut [f32], parts: &[(f32, &[f32])]) {
    let mut at = 0;
    let mut blocks = out.chunks_exact_mut(LANES);
    for block in &mut blocks {
        let mut sums = [0.0_f32; LANES];
        for (weight, part) in parts {
            if let Some(lane) = part.get(at..).and_then(<[f32]>::first_chunk::<LANES>) {
                for (sum, value) in sums.iter_mut().zip(lane) {
                    *sum += weight * value;
                }
            }
        }
        block.copy_from_slice(&sums);
        at += LANES;
    }
    for (k, value) in blocks.into_remainder().iter_mut().enumerate() {
        *value = parts.iter().map(|(weight, part)| weight * part.get(at + k).copied().unwrap_or(0.0)).sum();
    }
}

/// Directions that the average is taken along.
pub(crate) const DIRECTIONS: usize = 12;
/// Places of the average to each side, this far apart in pixels; the weight falls off with a deviation of half of its reach. The derivatives
/// are smooth already, so that every other pixel is enough.
const ALONG: i32 = 3;
const APART: f64 = 2.2;
/// Pixels beyond a piece that its responses look at: the bell, the difference and the average.
pub(crate) const HALO: usize = 14;

/// A line through the middle: weights for the three derivatives, and where the average looks.
struct Direction {
    turn: [f32; 3],
    places: Vec<(i64, i64, f32)>,
}

impl Direction {
    fn all() -> impl Iterator<Item = Self> {
        (0..DIRECTIONS).map(|k| {
            let (sin, cos) = (std::f64::consts::PI * k as f64 / DIRECTIONS as f64).sin_cos();
            let reach = f64::from(ALONG) * APART;
            let bell = |k: i32| (-2.0 * (f64::from(k) * APART / reach).powi(2)).exp();
            let total: f64 = (-ALONG..=ALONG).map(bell).sum();
            let places = (-ALONG..=ALONG)
                .map(|k| {
                    let t = f64::from(k) * APART;
                    ((t * cos).round() as i64, (t * sin).round() as i64, (bell(k) / total) as f32)
                })
                .collect();
            // The line runs along (cos, sin); the bend is taken across it.
            Self { turn: [(sin * sin) as f32, (-2.0 * sin * cos) as f32, (cos * cos) as f32], places }
        })
    }
}

/// The average along each direction in turn, inside of the halo: positive where a dark line runs that way, negative for a bright one.
pub(crate) fn along_lines(from: &Hessian, mut each: impl FnMut(usize, &Plane)) {
    let (width, height) = (from.xx.width().saturating_sub(2 * HALO), from.xx.height().saturating_sub(2 * HALO));
    let mut turned = Plane::filled(from.xx.width(), from.xx.height(), 0.0);
    let mut mean = Plane::filled(width, height, 0.0);
    for (number, direction) in Direction::all().enumerate() {
        let [a, b, c] = direction.turn;
        for (((value, xx), xy), yy) in turned.values_mut().iter_mut().zip(from.xx.values()).zip(from.xy.values()).zip(from.yy.values()) {
            *value = a * xx + b * xy + c * yy;
        }
        for y in 0..height {
            let halo = HALO as i64;
            let parts: Vec<(f32, &[f32])> = direction
                .places
                .iter()
                .map(|&(dx, dy, weight)| {
                    let row = turned.row((y as i64 + halo + dy) as usize);
                    (weight, row.get((halo + dx) as usize..).unwrap_or_default())
                })
                .collect();
            weighted(mean.row_mut(y), &parts);
        }
        each(number, &mean);
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
