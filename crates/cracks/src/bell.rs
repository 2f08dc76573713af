//! The normal distribution: what a blur makes of edges and bars.

use std::f64::consts::{SQRT_2, TAU};

/// Height of the bell of deviation 1.
pub(crate) fn bell(x: f64) -> f64 {
    (-0.5 * x * x).exp() / TAU.sqrt()
}

/// Share of the bell below a place (error function by Abramowitz and Stegun 7.1.26, from memory; good to 1.5e-7).
pub(crate) fn share_under(x: f64) -> f64 {
    let z = x.abs() / SQRT_2;
    let t = 1.0 / (1.0 + 0.327_591_1 * z);
    let poly = t * (0.254_829_592 + t * (-0.284_496_736 + t * (1.421_413_741 + t * (-1.453_152_027 + t * 1.061_405_429))));
    let above = 0.5 * poly * (-z * z).exp();
    if x < 0.0 { above } else { 1.0 - above }
}

#[cfg(test)]
mod tests {
    use super::{bell, share_under};

    // Values of the normal distribution as printed in statistical tables (to four digits, from memory).
    #[test]
    fn as_in_the_tables() {
        for (x, known) in [(0.0, 0.5), (0.5, 0.6915), (1.0, 0.8413), (1.2816, 0.9), (1.96, 0.975), (2.5758, 0.995), (-1.0, 0.1587)] {
            assert!((share_under(x) - known).abs() < 6e-5, "{x}");
        }
        assert!((bell(0.0) - 0.3989).abs() < 5e-5 && (bell(1.0) - 0.2420).abs() < 5e-5);
    }
}
