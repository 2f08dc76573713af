//! How white a ground is and how well it hides: Kubelka and Munk, and the reflection where two stuffs meet.

/// Reflection, 0..1, of a layer over a ground that reflects `behind`: scattering and absorption are those of the whole layer
/// (`S x thickness` and `K x thickness`, bare numbers). Kubelka and Munk's equation without the gloss of the surface.
///
/// ```
/// // No absorption, scattering 1: over black 1 / 2; over 0.8 (0.8 + 0.2) / (1 + 0.2).
/// assert!((ground::reflection(1.0, 0.0, 0.0) - 0.5).abs() < 1e-12);
/// assert!((ground::reflection(1.0, 0.0, 0.8) - 1.0 / 1.2).abs() < 1e-12);
/// ```
pub fn reflection(scattering: f64, absorption: f64, behind: f64) -> f64 {
    if scattering <= 0.0 {
        return behind * (-2.0 * absorption).exp();
    }
    let a = 1.0 + absorption / scattering;
    let b = (a * a - 1.0).max(0.0).sqrt();
    // b coth(b S X) tends to 1 / (S X) as b falls to 0.
    let through = if b * scattering < 1e-6 { 1.0 / scattering } else { b / (b * scattering).tanh() };
    (1.0 - behind * (a - through)) / (a - behind + through)
}

/// How much of what it shows over white a layer shows over black, 0..1: over black divided by over a white of 0.80, as contrast ratios
/// are counted after ASTM D2805 and ISO 6504; 0.98 is usually called full hiding (from memory).
pub fn contrast(scattering: f64, absorption: f64) -> f64 {
    reflection(scattering, absorption, 0.0) / reflection(scattering, absorption, 0.80)
}

/// The contrast that is usually called full hiding (from memory).
pub const FULL_HIDING: f64 = 0.98;

/// Scattering of a whole layer that just reaches this contrast, with `ratio` the absorption over the scattering.
pub fn scattering_for(contrast_wanted: f64, ratio: f64) -> f64 {
    least(|scattering| contrast(scattering, ratio * scattering) >= contrast_wanted)
}

/// Lightness as the eye counts it, 0 for black to 100 for white: `116 Y^(1/3) - 16` (CIE 1976 L*), for shares of light above 0.009.
pub fn lightness(reflected: f64) -> f64 {
    116.0 * reflected.max(0.009).cbrt() - 16.0
}

/// Difference in lightness that is just not seen (model choice: 1, as in trade tests of shades).
const UNSEEN: f64 = 1.0;

/// Scattering of a whole layer over which wood that reflects `wood` and a white of 0.80 look the same.
pub fn hides_wood(ratio: f64, wood: f64) -> f64 {
    let apart = |scattering: f64| {
        let over = |behind: f64| lightness(reflection(scattering, ratio * scattering, behind));
        (over(0.80) - over(wood)).abs()
    };
    least(|scattering| apart(scattering) < UNSEEN)
}

/// The least scattering from which this holds, by halving.
fn least(holds: impl Fn(f64) -> bool) -> f64 {
    let (mut low, mut high) = (0.0, 1000.0);
    for _ in 0..80 {
        let middle = f64::midpoint(low, high);
        if holds(middle) { high = middle } else { low = middle }
    }
    f64::midpoint(low, high)
}

/// Light thrown back where two clear stuffs meet, 0..1, for light that falls straight on them (Fresnel): `((n1 - n2) / (n1 + n2))^2`.
///
/// ```
/// assert!((ground::thrown_back(1.60, 1.00) - 0.0533).abs() < 1e-4); // (0.6 / 2.6)^2
/// ```
pub fn thrown_back(first: f64, second: f64) -> f64 {
    ((first - second) / (first + second)).powi(2)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn worked_by_hand() {
        // Without absorption, scattering 1: 0.5000, 0.8333, 0.6000. Absorption a hundredth of scattering, scattering 2: a = 1.01,
        // b = 0.14177, b coth = 0.14177 / tanh 0.28355 = 0.51332; over black 1 / 1.52332 = 0.65646.
        assert!((contrast(1.0, 0.0) - 0.6).abs() < 1e-12);
        assert!((reflection(2.0, 0.02, 0.0) - 0.65646).abs() < 1e-4);
        // (1 - 0.8 (1.01 - 0.51332)) / (1.01 - 0.8 + 0.51332) = 0.60266 / 0.72332 = 0.83318.
        assert!((reflection(2.0, 0.02, 0.8) - 0.83318).abs() < 1e-4);
        assert!((contrast(2.0, 0.02) - 0.78789).abs() < 1e-4);
    }

    #[test]
    fn contrast_of_nine_tenths_without_absorption_is_exactly_four() {
        // 4/5 x (1 + 0.8) / (0.8 + 0.8) = 0.9, by hand.
        assert!((scattering_for(0.9, 0.0) - 4.0).abs() < 1e-9);
        assert!((contrast(4.0, 0.0) - 0.9).abs() < 1e-12);
    }

    /// Regression of the code, no evidence: the same equations worked apart in Python. Absorption a hundredth or a thousandth of scattering.
    #[test]
    fn contrasts_with_a_little_absorption() {
        for (wanted, ratio, scattering) in [
            (0.95, 0.0, 6.569),
            (0.98, 0.0, 11.72),
            (0.90, 0.001, 3.949),
            (0.95, 0.001, 6.396),
            (0.98, 0.001, 10.998),
            (0.90, 0.01, 3.593),
            (0.95, 0.01, 5.402),
            (0.98, 0.01, 8.168),
        ] {
            assert!((scattering_for(wanted, ratio) / scattering - 1.0).abs() < 5e-4, "{wanted} {ratio}");
        }
        // A layer without end: a - b = 1.001 - sqrt(1.001^2 - 1) = 1.001 - 0.04473 = 0.95627.
        assert!((reflection(1e6, 1e3, 0.0) - 0.95627).abs() < 1e-5);
    }

    #[test]
    fn lightness_by_hand() {
        // 116 x 0.5^(1/3) - 16 = 116 x 0.79370 - 16 = 76.07.
        assert!((lightness(0.5) - 76.07).abs() < 0.01 && (lightness(1.0) - 100.0).abs() < 1e-9);
    }

    #[test]
    fn chalk_shines_against_air_and_vanishes_in_binder() {
        // By hand: (0.267 / 2.933)^2, (0.07 / 3.13)^2, (0.6 / 2.6)^2.
        assert!((thrown_back(1.60, 1.333) - 0.0083).abs() < 1e-4);
        assert!((thrown_back(1.60, 1.53) - 0.00050).abs() < 1e-5);
        assert!((thrown_back(1.60, 1.00) - 0.0533).abs() < 1e-4);
    }

    proptest! {
        #[test]
        fn shares_stay_shares_and_more_scattering_hides_more(a in 0.0f64..200.0, b in 0.0f64..200.0, ratio in 0.0f64..0.1, behind in 0.0f64..1.0) {
            let (less, more) = (a.min(b), a.max(b));
            for scattering in [less, more] {
                let r = reflection(scattering, ratio * scattering, behind);
                prop_assert!((-1e-9..=1.0 + 1e-9).contains(&r), "{r}");
            }
            prop_assert!(contrast(less.max(1e-3), ratio * less.max(1e-3)) <= contrast(more.max(1e-3), ratio * more.max(1e-3)) + 1e-9);
        }
    }
}
