//! Opening casein with a base, and how thick the solution is.

use materials::{DataError, MaterialId};
use measure::Grams;

use crate::book::BinderBook;

/// A base that opens casein. Lime is taken in excess on purpose, so that the binder sets.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Base {
    /// Sodium hydrogen carbonate.
    BakingSoda,
    /// Sodium carbonate without water.
    SodaAsh,
    /// Sodium carbonate with ten waters.
    WashingSoda,
    /// Sodium tetraborate with ten waters.
    Borax,
    /// Sodium tetraborate with five waters.
    BoraxPentahydrate,
    /// Ammonia in water, about 5 %.
    HouseholdAmmonia,
    /// Ammonia in water, about 25 %.
    StrongAmmonia,
    /// Ammonium hydrogen carbonate.
    AmmoniumBicarbonate,
    /// Ammonium carbonate of trade.
    AmmoniumCarbonate,
    /// Triethanolamine.
    Triethanolamine,
    /// Calcium hydroxide.
    Lime,
    /// Sodium hydroxide.
    CausticSoda,
}

impl Base {
    /// All of them.
    pub const ALL: [Self; 12] = [
        Self::BakingSoda,
        Self::SodaAsh,
        Self::WashingSoda,
        Self::Borax,
        Self::BoraxPentahydrate,
        Self::HouseholdAmmonia,
        Self::StrongAmmonia,
        Self::AmmoniumBicarbonate,
        Self::AmmoniumCarbonate,
        Self::Triethanolamine,
        Self::Lime,
        Self::CausticSoda,
    ];

    const fn slug(self) -> &'static str {
        match self {
            Self::BakingSoda => "baking-soda",
            Self::SodaAsh => "soda-ash",
            Self::WashingSoda => "washing-soda",
            Self::Borax => "borax",
            Self::BoraxPentahydrate => "borax-pentahydrate",
            Self::HouseholdAmmonia => "ammonia-5",
            Self::StrongAmmonia => "ammonia-25",
            Self::AmmoniumBicarbonate => "ammonium-bicarbonate",
            Self::AmmoniumCarbonate => "ammonium-carbonate",
            Self::Triethanolamine => "triethanolamine",
            Self::Lime => "slaked-lime",
            Self::CausticSoda => "sodium-hydroxide",
        }
    }

    /// Its jar in the catalogue.
    pub fn material(self) -> MaterialId {
        MaterialId::new(self.slug())
    }

    /// The base in this jar; `None` if it is no such base.
    ///
    /// ```
    /// use binder::Base;
    /// assert_eq!(Base::from_material(&Base::Borax.material()), Some(Base::Borax));
    /// assert_eq!(Base::from_material(&materials::MaterialId::new("vinegar")), None);
    /// ```
    pub fn from_material(id: &MaterialId) -> Option<Self> {
        Self::ALL.into_iter().find(|base| base.slug() == id.as_str())
    }

    /// Whether it comes as a solution whose strength counts.
    pub const fn is_solution(self) -> bool {
        matches!(self, Self::HouseholdAmmonia | Self::StrongAmmonia)
    }

    /// Whether it leaves the film as gas, and part of it already the pot.
    pub const fn escapes(self) -> bool {
        matches!(self, Self::HouseholdAmmonia | Self::StrongAmmonia | Self::AmmoniumBicarbonate | Self::AmmoniumCarbonate)
    }

    /// The constant that holds its dose for a gram of casein.
    pub(crate) const fn dose_key(self) -> &'static str {
        if matches!(self, Self::Lime) { "base.lime_excess" } else { "base.first_dose" }
    }

    pub(crate) const fn substance(self) -> &'static str {
        if self.is_solution() { "ammonia" } else { self.slug() }
    }
}

/// Base that opens this much dry casein: `per_gram` milliequivalents for each gram of casein, `grams_per_milliequivalent` the base's
/// own number ([`crate::BinderBook::grams_per_milliequivalent`]). For a solution this is the substance in it.
///
/// ```
/// use measure::Grams;
/// // 97.6 g x 0.6 x 84.007 / 1000 = 4.92 g of baking soda
/// assert!((binder::base_dose(Grams::new(97.6), 0.6, 0.084_007).value() - 4.92).abs() < 0.01);
/// ```
pub fn base_dose(casein: Grams, per_gram: f64, grams_per_milliequivalent: f64) -> Grams {
    casein * (per_gram * grams_per_milliequivalent)
}

/// Grams of another base that bring as much as this many grams of one, both as the substance itself.
///
/// # Errors
/// The data file lacks a molar mass or its charges.
///
/// ```
/// use binder::{Base, BinderBook, swap};
/// use measure::Grams;
/// // 10 g borax: 10 x 2 / 381.37 = 52.44 meq; x 84.007 / 1000 = 4.405 g of baking soda
/// let soda = swap(BinderBook::builtin()?, Base::Borax, Grams::new(10.0), Base::BakingSoda)?;
/// assert!((soda.value() - 4.405).abs() < 0.001);
/// # Ok::<(), materials::DataError>(())
/// ```
pub fn swap(book: &BinderBook, from: Base, grams: Grams, to: Base) -> Result<Grams, DataError> {
    Ok(grams * (book.grams_per_milliequivalent(to)? / book.grams_per_milliequivalent(from)?))
}

/// Thickness of casein in water: that of water times e^(growth x per cent casein), within the range that was measured.
#[derive(Debug, Clone, PartialEq)]
pub struct ViscosityCurve {
    pub(crate) water: f64,
    pub(crate) growth: f64,
    /// Growth at its least and most.
    pub(crate) growths: (f64, f64),
    /// Thicknesses between which it brushes well, mPa s.
    pub(crate) brushes: (f64, f64),
    pub(crate) weakest: f64,
    pub(crate) strongest: f64,
}

impl ViscosityCurve {
    /// Thickness in mPa s at 25 C of this much casein (per cent of the mass of casein and water).
    ///
    /// `None` outside 2.5 to 12.5 %: no measurement stands behind a number there; try it.
    ///
    /// ```
    /// let curve = binder::BinderBook::builtin()?.viscosity();
    /// assert!(curve.at(13.0).is_none());
    /// # Ok::<(), materials::DataError>(())
    /// ```
    pub fn at(&self, percent: f64) -> Option<f64> {
        (self.weakest..=self.strongest).contains(&percent).then(|| self.water * (self.growth * percent).exp())
    }

    /// The thickness with its doubt: growth at its least and most.
    pub fn span(&self, percent: f64) -> Option<(f64, f64)> {
        let thick = |growth: f64| self.water * (growth * percent).exp();
        self.at(percent).map(|_| (thick(self.growths.0), thick(self.growths.1)))
    }

    /// Per cent casein between which it brushes well without powder, within the range that was measured.
    ///
    /// ```
    /// // by hand: ln(5 / 0.89) / 0.33 = 5.23; ln(55 / 0.89) / 0.33 = 12.50
    /// let (weakest, strongest) = binder::BinderBook::builtin()?.viscosity().brushable();
    /// assert!((weakest - 5.23).abs() < 0.01 && (strongest - 12.5).abs() < 0.01);
    /// # Ok::<(), materials::DataError>(())
    /// ```
    pub fn brushable(&self) -> (f64, f64) {
        let percent = |thick: f64| ((thick / self.water).ln() / self.growth).clamp(self.weakest, self.strongest);
        (percent(self.brushes.0), percent(self.brushes.1))
    }

    /// The curve through two thicknesses of your own, (per cent casein, mPa s) each.
    ///
    /// `None` unless the stronger one is the thicker one and both are above 0.
    ///
    /// ```
    /// // by hand: ln(24 / 4.6) / 5 = 0.330
    /// let curve = binder::BinderBook::builtin()?.viscosity().through((5.0, 4.6), (10.0, 24.0)).unwrap();
    /// assert!((curve.growth() - 0.330).abs() < 1e-3);
    /// # Ok::<(), materials::DataError>(())
    /// ```
    pub fn through(&self, weak: (f64, f64), strong: (f64, f64)) -> Option<Self> {
        let growth = (strong.1 / weak.1).ln() / (strong.0 - weak.0);
        let sound = growth.is_finite() && growth > 0.0 && weak.1 > 0.0 && strong.1 > 0.0;
        sound.then(|| Self { growth, growths: (growth, growth), water: weak.1 / (growth * weak.0).exp(), ..self.clone() })
    }

    /// Growth of the logarithm with each per cent of casein.
    pub fn growth(&self) -> f64 {
        self.growth
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::BinderBook;

    #[test]
    fn base_for_the_curd_of_a_gallon() {
        // By hand: 97.6 g x 0.6 meq/g = 58.56 meq; x 84.007 / 1000 = 4.92 g baking soda; x 381.37 / 2000 = 11.17 g borax;
        // x 105.99 / 2000 = 3.10 g soda ash; x 79.056 / 1000 = 4.63 g ammonium bicarbonate.
        let book = BinderBook::builtin().unwrap();
        for (base, grams, slack) in
            [(Base::BakingSoda, 4.92, 0.02), (Base::Borax, 11.2, 0.1), (Base::SodaAsh, 3.10, 0.02), (Base::AmmoniumBicarbonate, 4.63, 0.02)]
        {
            let dose = base_dose(Grams::new(97.6), 0.6, book.grams_per_milliequivalent(base).unwrap());
            assert!((dose.value() - grams).abs() <= slack, "{base:?}: {dose:?}");
        }
    }

    #[test]
    fn ten_per_cent_casein_is_like_thin_cream() {
        // By hand: 0.89 x e^3.3 = 0.89 x 27.113 = 24.13; at 5 % 0.89 x e^1.65 = 4.63; at 12.5 % 0.89 x e^4.125 = 55.07.
        let curve = BinderBook::builtin().unwrap().viscosity();
        for (percent, thickness) in [(10.0, 24.1), (5.0, 4.6), (12.5, 55.1)] {
            assert!((curve.at(percent).unwrap() - thickness).abs() < 0.1, "{percent}");
        }
        assert_eq!((curve.at(12.6), curve.at(2.4), curve.at(f64::NAN)), (None, None, None));
    }

    #[test]
    fn every_base_has_its_jar() {
        let jars = materials::Catalogue::builtin().unwrap();
        for base in Base::ALL {
            assert!(jars.material(&base.material()).is_some(), "{base:?}");
        }
    }
}
