//! What one grain scatters: Mie's series for a clear sphere, and the scattering of a powder whose grains differ in size.
#![expect(
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a few thousand terms of a series"
)]

use std::f64::consts::PI;

use measure::Micrometres;

/// How a sphere scatters.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sphere {
    /// Light thrown aside, in units of the sphere's own shadow.
    pub efficiency: f64,
    /// Mean cosine of the angle by which it is thrown aside: 1 straight on, 0 evenly.
    pub forward: f64,
}

/// Largest size (girth over wavelength) for which the series is summed: a grain of a third of a millimetre.
const LARGEST: f64 = 5_000.0;
/// Orders beyond the last one from which the recurrence is started downwards (Bohren and Huffman's choice).
const BEYOND: usize = 16;

/// Scattering of one clear sphere, after the algorithm of C. F. Bohren and D. R. Huffman, *Absorption and Scattering of Light by Small
/// Particles* (Wiley 1983), appendix A. `index` is the sphere's refractive index over that of what surrounds it, `size` its girth over
/// the wavelength in there. `None` for numbers that are not above zero, or a size above 5000.
///
/// ```
/// // Their worked case: 1.55 and 5.213 give 3.1050 (from memory; also by miepython).
/// let sphere = ground::sphere(1.55, 5.213).ok_or("no sphere")?;
/// assert!((sphere.efficiency - 3.1050).abs() < 1e-4);
/// # Ok::<(), &'static str>(())
/// ```
pub fn sphere(index: f64, size: f64) -> Option<Sphere> {
    if !(index.is_finite() && index > 0.0 && size > 0.0 && size <= LARGEST) {
        return None;
    }
    let inside = index * size;
    let orders = (size + 4.0 * size.cbrt() + 2.0) as usize;
    let start = orders.max(inside as usize) + BEYOND;
    // Logarithmic derivative inside the sphere, downwards, where the recurrence is steady.
    let mut slopes = vec![0.0; start + 1];
    let mut slope = 0.0;
    for order in (1..=start).rev() {
        let step = order as f64 / inside;
        slope = step - 1.0 / (slope + step);
        if let Some(place) = slopes.get_mut(order - 1) {
            *place = slope;
        }
    }
    // Riccati-Bessel functions outside, upwards: psi and chi of the last two orders.
    let (mut psi, mut chi) = ((size.cos(), size.sin()), (-size.sin(), size.cos()));
    let (mut all, mut forward) = (0.0, 0.0);
    let mut before = (Term::NONE, Term::NONE);
    for (order, slope) in (1..=orders).zip(slopes.iter().skip(1)) {
        let n = order as f64;
        let next = |pair: (f64, f64)| (pair.1, (2.0 * n - 1.0) * pair.1 / size - pair.0);
        (psi, chi) = (next(psi), next(chi));
        let term = |slope: f64| {
            let factor = slope + n / size;
            Term::of(factor * psi.1 - psi.0, factor * chi.1 - chi.0)
        };
        let (a, b) = (term(slope / index), term(slope * index));
        all += (2.0 * n + 1.0) * (a.square() + b.square());
        forward += (2.0 * n + 1.0) / (n * (n + 1.0)) * a.dot(b);
        forward += (n - 1.0) * (n + 1.0) / n * (before.0.dot(a) + before.1.dot(b));
        before = (a, b);
    }
    let efficiency = 2.0 / (size * size) * all;
    (efficiency > 0.0).then(|| Sphere { efficiency, forward: 4.0 / (size * size) * forward / efficiency })
}

/// A coefficient of the series, real and imaginary part.
#[derive(Clone, Copy)]
struct Term(f64, f64);

impl Term {
    const NONE: Self = Self(0.0, 0.0);

    /// `near / (near - i far)`: a clear sphere takes no light away, so both are real numbers.
    fn of(near: f64, far: f64) -> Self {
        let length = near * near + far * far;
        Self(near * near / length, near * far / length)
    }
    fn square(self) -> f64 {
        self.0 * self.0 + self.1 * self.1
    }
    fn dot(self, other: Self) -> f64 {
        self.0 * other.0 + self.1 * other.1
    }
}

/// Green light, to which the eye is most open, micrometres.
const WAVELENGTH: f64 = 0.55;
/// How far out, in spreads of the logarithm, sizes are counted, and on how many steps. Single spheres ripple with their size: with 160
/// steps chalk in air comes out 2 % too bright, with 1600 the sum stands still to a thousandth.
const REACH: f64 = 4.0;
const STEPS: u32 = 1600;

/// What a powder scatters for each micrometre if its grains fill the whole volume and each is alone: `3/4` of the sum of
/// `1.5 Q (1 - g) / d` over sizes by volume (three quarters link a layer's scattering with that of diffusion, from memory).
///
/// `grain` is the size that halves the powder by volume, `spread` the factor by which sizes spread (one standard deviation of the
/// logarithm), `index` its refractive index, `around` that of water, binder or air. `None` for numbers that no powder has.
pub fn powder_scattering(grain: Micrometres, spread: f64, index: f64, around: f64) -> Option<f64> {
    let width = spread.ln();
    if !(grain.value() > 0.0 && width.is_finite() && width > 0.0 && around > 0.0) {
        return None;
    }
    let (mut sum, mut weights) = (0.0, 0.0);
    for step in 0..=STEPS {
        let out = REACH * (2.0 * f64::from(step) / f64::from(STEPS) - 1.0);
        let weight = (-out * out / 2.0).exp();
        let size = grain.value() * (out * width).exp();
        let sphere = sphere(index / around, PI * size * around / WAVELENGTH)?;
        sum += weight * 1.5 * sphere.efficiency * (1.0 - sphere.forward) / size;
        weights += weight;
    }
    Some(0.75 * sum / weights)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn spheres_in_print() {
        // Bohren and Huffman 1983, appendix A (index 1.55, size 5.213): 3.1050 and 0.6331. Index 1.5, size 10: 2.8820 and 0.7429, as
        // their program is quoted; all four from memory and found again by miepython 3.3.0.
        for (index, size, efficiency, forward) in [(1.55, 5.213, 3.1050, 0.6331), (1.5, 10.0, 2.8820, 0.7429)] {
            let sphere = sphere(index, size).unwrap();
            assert!((sphere.efficiency - efficiency).abs() < 1e-4, "{sphere:?}");
            assert!((sphere.forward - forward).abs() < 1e-4, "{sphere:?}");
        }
    }

    /// Rayleigh's law for grains far smaller than light: Q = 8/3 x^4 ((m^2 - 1)/(m^2 + 2))^2 (textbook). And twice the shadow for grains
    /// far larger (the paradox of extinction, textbook), where the series still swings by a few hundredths.
    #[test]
    fn smallest_and_largest_grains_follow_the_textbook() {
        let (m, x) = (1.6f64, 0.01f64);
        let rayleigh = 8.0 / 3.0 * x.powi(4) * ((m * m - 1.0) / (m * m + 2.0)).powi(2);
        let small = sphere(m, x).unwrap();
        assert!((small.efficiency / rayleigh - 1.0).abs() < 1e-3 && small.forward.abs() < 1e-3, "{small:?}");
        assert!((sphere(1.33, 2_000.0).unwrap().efficiency - 2.0).abs() < 0.05);
    }

    #[test]
    fn what_is_no_grain_scatters_nothing() {
        for (index, size) in [(0.0, 1.0), (1.5, 0.0), (f64::NAN, 1.0), (1.5, 1e9), (1.5, f64::NAN)] {
            assert_eq!(sphere(index, size), None);
        }
        assert_eq!(powder_scattering(Micrometres::new(1.0), 1.0, 1.6, 1.0), None);
    }

    proptest! {
        #[test]
        fn a_cosine_stays_a_cosine(index in 0.6f64..3.0, size in 0.01f64..300.0) {
            if (index - 1.0).abs() > 1e-3 {
                let sphere = sphere(index, size).unwrap();
                prop_assert!(sphere.efficiency > 0.0 && sphere.efficiency < 8.0, "{sphere:?}");
                prop_assert!((-1.0..=1.0).contains(&sphere.forward), "{sphere:?}");
            }
        }
    }
}
