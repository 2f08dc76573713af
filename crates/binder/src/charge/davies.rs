//! How much weaker ions act in salty water.

/// The Davies equation, good to an ionic strength of about 0.5 mol/l (best below 0.1).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Davies {
    pub(crate) a: f64,
    pub(crate) b: f64,
}

impl Davies {
    /// Logarithm (base 10) of the activity coefficient of an ion; `ionic_strength` in mol/l, held within 0 to 1.
    ///
    /// ```
    /// let davies = binder::BinderBook::builtin()?.davies();
    /// assert!((davies.log_activity(2, 0.1) + 0.4281).abs() < 2e-4);
    /// # Ok::<(), materials::DataError>(())
    /// ```
    pub fn log_activity(&self, charge: i32, ionic_strength: f64) -> f64 {
        self.unit(ionic_strength) * f64::from(charge * charge)
    }

    /// The same for a single charge; every other charge is a power of it.
    fn unit(&self, ionic_strength: f64) -> f64 {
        let strength = ionic_strength.clamp(0.0, BRINE);
        let root = strength.sqrt();
        -self.a * (root / (1.0 + root) - self.b * strength)
    }

    /// Powers of the activity coefficient of a single charge, from -1 on.
    pub(crate) fn powers(&self, ionic_strength: f64) -> Powers {
        let single = (self.unit(ionic_strength) * std::f64::consts::LN_10).exp();
        let mut powers = [1.0 / single; POWERS];
        let mut last = 1.0 / single;
        for power in powers.iter_mut().skip(1) {
            last *= single;
            *power = last;
        }
        Powers(powers)
    }
}

const POWERS: usize = 16;
/// Salt strength, mol/l, from which activity coefficients are held level: the equation is not meant for more, and would run away.
const BRINE: f64 = 1.0;

/// Powers of one activity coefficient.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Powers([f64; POWERS]);

impl Powers {
    /// The power of this exponent (-1 to 14, as the charges of the book need).
    #[inline]
    pub(crate) fn get(&self, exponent: i32) -> f64 {
        usize::try_from(exponent + 1).ok().and_then(|place| self.0.get(place)).copied().unwrap_or(1.0)
    }
}

#[cfg(test)]
mod tests {
    use crate::BinderBook;

    #[test]
    fn printed_activity_coefficients() {
        // By hand at 0.08: root 0.28284; 0.28284 / 1.28284 - 0.024 = 0.19648; x 0.509 = 0.10001. At 0.1: 0.24025 - 0.03 = 0.21025, 0.10702.
        let davies = BinderBook::builtin().unwrap().davies();
        for (strength, logs) in [(0.08, [-0.1000, -0.4000, -0.9001]), (0.1, [-0.1070, -0.4281, -0.9632])] {
            for (charge, log) in [1, 2, 3].into_iter().zip(logs) {
                assert!((davies.log_activity(charge, strength) - log).abs() < 2e-4, "{strength} {charge}");
            }
        }
        let powers = davies.powers(0.1);
        for charge in 1..=3 {
            let found = powers.get(charge * charge).log10();
            assert!((found - davies.log_activity(charge, 0.1)).abs() < 1e-12);
        }
        assert!((powers.get(-1) * powers.get(1) - 1.0).abs() < 1e-12);
    }
}
