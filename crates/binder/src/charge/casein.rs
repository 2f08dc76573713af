//! The charge of washed casein in water, and the base that it takes up.

use super::constants::ChargeConstants;
use super::root::falling;

/// Casein by itself: charges on one molecule hold each other back (Linderstrom-Lang), every pKa moving by 0.868 w times its net charge.
#[derive(Debug, Clone, Copy)]
pub struct CaseinCharge<'a> {
    pub(crate) constants: &'a ChargeConstants,
    /// w; 0 takes every group as if it stood alone.
    pub(crate) repulsion: f64,
}

/// 2 / ln 10.
const PER_CHARGE: f64 = 0.868;

impl CaseinCharge<'_> {
    /// Net charge, meq for each gram, and the pH, where the groups feel this pH: the pH itself less what the charges add.
    ///
    /// Both are plain sums of `felt`, so no inner search is needed: the pH rises with `felt` as the charge falls.
    pub(crate) fn felt(&self, felt: f64) -> (f64, f64) {
        let casein = &self.constants.proteins.casein;
        let charge = casein.charge(&self.constants.acidities, 10f64.powf(-felt));
        (charge, felt - PER_CHARGE * self.repulsion * charge / casein.c_end)
    }

    /// Net charge of a gram of casein at this pH, meq; negative above its point of no charge. pH 0 to 14, held inside.
    ///
    /// ```
    /// let casein = binder::BinderBook::builtin()?.casein_charge();
    /// assert!((casein.at(8.3) + 0.827).abs() < 1e-3);
    /// # Ok::<(), materials::DataError>(())
    /// ```
    pub fn at(&self, ph: f64) -> f64 {
        let ph = ph.clamp(0.0, 14.0);
        let felt = falling(|felt| ph - self.felt(felt).1, (-4.0, 18.0), ph, 1e-12).unwrap_or(ph);
        self.felt(felt).0
    }

    /// The pH at which casein carries no net charge.
    pub fn neutral_ph(&self) -> Option<f64> {
        falling(|felt| self.felt(felt).0, (3.0, 7.0), 4.6, 1e-13).map(|felt| self.felt(felt).1)
    }
}
