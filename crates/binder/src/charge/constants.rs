//! All constants of the charge balances, read once.

use materials::DataError;

use super::davies::Davies;
use super::ligands::{Forms, LIGANDS, Ligand};
use super::protein::{Acidities, Proteins};

/// How the phosphate of milk stays in the grains of casein.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct ColloidShape {
    pub(crate) middle: f64,
    pub(crate) width: f64,
    pub(crate) fresh: f64,
    pub(crate) calcium: f64,
    pub(crate) magnesium: f64,
}

impl ColloidShape {
    /// Share that is still in the grains.
    pub(crate) fn share(&self, ph: f64) -> f64 {
        let left = |at: f64| 1.0 / (1.0 + ((self.middle - at) / self.width).exp());
        (left(ph) / left(self.fresh)).min(1.0)
    }
}

/// Constants of ions, proteins and gas.
#[derive(Debug, Clone)]
pub(crate) struct ChargeConstants {
    pub(crate) davies: Davies,
    forms: [Forms; LIGANDS],
    pub(crate) proteins: Proteins,
    pub(crate) acidities: Acidities,
    /// Ion product of water, mol2/l2.
    pub(crate) water: f64,
    /// Bonds of carboxyl groups and phosphoserine with calcium or magnesium, l/mol at ionic strength 0.
    pub(crate) carboxylate: f64,
    pub(crate) serine: f64,
    pub(crate) colloid: ColloidShape,
    /// mol/l of carbon dioxide for each atmosphere above.
    pub(crate) henry: f64,
}

impl ChargeConstants {
    pub(crate) fn read(equilibria: &str, residues: &str, value: &dyn Fn(&str) -> Result<f64, DataError>) -> Result<Self, DataError> {
        let ten = |key: &str| value(key).map(|log| 10f64.powf(log));
        Ok(Self {
            davies: Davies { a: value("davies.a")?, b: value("davies.b")? },
            forms: Forms::read(equilibria)?,
            proteins: Proteins::read(residues)?,
            acidities: Acidities {
                c_end: ten("pka.c_end")?,
                asp: ten("pka.asp")?,
                glu: ten("pka.glu")?,
                his: ten("pka.his")?,
                n_end: ten("pka.n_end")?,
                tyr: ten("pka.tyr")?,
                lys: ten("pka.lys")?,
                arg: ten("pka.arg")?,
                serine_first: ten("pka.serine_first")?,
                serine_second: ten("pka.serine_second")?,
                sugar_phosphate: ten("pka.sugar_phosphate")?,
            },
            water: 1.0 / ten("water.pk")?,
            carboxylate: ten("bond.carboxylate")?,
            serine: ten("bond.serine")?,
            colloid: ColloidShape {
                middle: value("colloid.middle")?,
                width: value("colloid.width")?,
                fresh: value("milk.ph")?,
                calcium: value("colloid.calcium")?,
                magnesium: value("colloid.magnesium")?,
            },
            henry: ten("gas.henry")?,
        })
    }

    #[inline]
    pub(crate) fn forms(&self, ligand: Ligand) -> Forms {
        self.forms.get(ligand as usize).copied().unwrap_or_default()
    }
}
