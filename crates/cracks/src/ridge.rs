//! How much like a dark line a place is: second derivatives at one scale, and their average along the line.

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

/// Second derivatives at a scale in pixels, by sampled kernels whose sums are forced right; the border repeats its last value.
///
/// ```
/// let flat = cracks::Plane::filled(20, 20, 1.0);
/// assert!(cracks::hessian(&flat, 1.5).dark().values().iter().all(|v| v.abs() < 1e-5));
/// ```
pub fn hessian(picture: &Plane, sigma: f64) -> Hessian {
    let [g0, g1, g2] = kernels(sigma);
    let smooth = across(picture, &g0);
    let slope = across(picture, &g1);
    let bend = across(picture, &g2);
    Hessian { xx: down(&bend, &g0), xy: down(&slope, &g1), yy: down(&smooth, &g2) }
}

/// Gauss, first and second derivative, each scaled by sigma for each order.
fn kernels(sigma: f64) -> [Vec<f32>; 3] {
    let reach = (3.5 * sigma).ceil() as i32;
    let at = |k: i32| f64::from(k) / sigma;
    let mut g0: Vec<f64> = (-reach..=reach).map(|k| (-at(k) * at(k) / 2.0).exp()).collect();
    let sum: f64 = g0.iter().sum();
    for v in &mut g0 {
        *v /= sum;
    }
    let mut g1: Vec<f64> = g0.iter().zip(-reach..).map(|(g, k)| g * at(k)).collect();
    // A ramp of slope 1 has to give sigma.
    let ramp: f64 = g1.iter().zip(-reach..).map(|(g, k)| g * f64::from(k)).sum();
    for v in &mut g1 {
        *v *= sigma / ramp;
    }
    let mut g2: Vec<f64> = g0.iter().zip(-reach..).map(|(g, k)| g * (at(k) * at(k) - 1.0)).collect();
    let rest: f64 = g2.iter().sum();
    let mass: f64 = g0.iter().map(|g| g * g).sum();
    for (v, g) in g2.iter_mut().zip(&g0) {
        *v -= rest * g * g / mass;
    }
    // A bowl x^2 / 2 has to give sigma^2.
    let bowl: f64 = g2.iter().zip(-reach..).map(|(g, k)| g * f64::from(k * k) / 2.0).sum();
    for v in &mut g2 {
        *v *= sigma * sigma / bowl;
    }
    [g0, g1, g2].map(|kernel| kernel.into_iter().map(|v| v as f32).collect())
}

fn across(picture: &Plane, kernel: &[f32]) -> Plane {
    let reach = kernel.len() / 2;
    let mut out = Plane::filled(picture.width(), picture.height(), 0.0);
    let mut padded = vec![0.0; picture.width() + 2 * reach];
    for y in 0..picture.height() {
        let from = picture.row(y);
        let (first, last) = (from.first().copied().unwrap_or(0.0), from.last().copied().unwrap_or(0.0));
        padded.fill(last);
        for (value, source) in padded.iter_mut().zip(std::iter::repeat_n(&first, reach).chain(from)) {
            *value = *source;
        }
        let row = out.row_mut(y);
        for (k, &weight) in kernel.iter().enumerate() {
            for (value, source) in row.iter_mut().zip(padded.get(k..).unwrap_or_default()) {
                *value += weight * source;
            }
        }
    }
    out
}

fn down(picture: &Plane, kernel: &[f32]) -> Plane {
    let reach = (kernel.len() / 2) as i64;
    let mut out = Plane::filled(picture.width(), picture.height(), 0.0);
    let last = picture.height() as i64 - 1;
    for y in 0..picture.height() {
        let row = out.row_mut(y);
        for (&weight, k) in kernel.iter().zip(-reach..) {
            let source = picture.row((y as i64 + k).clamp(0, last) as usize);
            for (value, source) in row.iter_mut().zip(source) {
                *value += weight * source;
            }
        }
    }
    out
}

/// Directions that the average is taken along.
const DIRECTIONS: usize = 12;
/// Reach of the average along the line, in pixels to each side; its weight falls off with a deviation of half of that.
const ALONG: i32 = 6;
/// Pixels beyond a piece that its responses look at.
pub(crate) const HALO: i64 = 24;

/// The strongest average along any of twelve directions, for dark and for bright lines. A line that goes on is told from a speck.
pub(crate) fn along_lines(from: &Hessian) -> (Plane, Plane) {
    let (width, height) = (from.xx.width(), from.xx.height());
    let mut dark = Plane::filled(width, height, 0.0);
    let mut bright = Plane::filled(width, height, 0.0);
    let mut turned = Plane::filled(width, height, 0.0);
    let mut sum = Plane::filled(width, height, 0.0);
    for direction in 0..DIRECTIONS {
        let angle = std::f64::consts::PI * direction as f64 / DIRECTIONS as f64;
        let (sin, cos) = angle.sin_cos();
        // The line runs along (cos, sin); the bend is taken across it.
        let (cc, ss, sc) = ((sin * sin) as f32, (cos * cos) as f32, (-2.0 * sin * cos) as f32);
        for (((value, a), b), d) in turned.values_mut().iter_mut().zip(from.xx.values()).zip(from.xy.values()).zip(from.yy.values()) {
            *value = cc * a + sc * b + ss * d;
        }
        let mut steps: Vec<(i64, i64, f32)> = (-ALONG..=ALONG)
            .map(|k| {
                let t = f64::from(k);
                let weight = (-2.0 * t * t / f64::from(ALONG * ALONG)).exp() as f32;
                ((t * cos).round() as i64, (t * sin).round() as i64, weight)
            })
            .collect();
        let total: f32 = steps.iter().map(|step| step.2).sum();
        for step in &mut steps {
            step.2 /= total;
        }
        sum.values_mut().fill(0.0);
        let last = height as i64 - 1;
        for y in 0..height {
            let row = sum.row_mut(y);
            for &(dx, dy, weight) in &steps {
                let source = turned.row((y as i64 + dy).clamp(0, last) as usize);
                if dx >= 0 {
                    for (value, source) in row.iter_mut().zip(source.get(dx as usize..).unwrap_or_default()) {
                        *value += weight * source;
                    }
                } else {
                    for (value, source) in row.get_mut((-dx) as usize..).unwrap_or_default().iter_mut().zip(source) {
                        *value += weight * source;
                    }
                }
            }
        }
        for ((dark, bright), &value) in dark.values_mut().iter_mut().zip(bright.values_mut()).zip(sum.values()) {
            *dark = dark.max(value);
            *bright = bright.max(-value);
        }
    }
    (dark, bright)
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
