//! Salts and acids in water, without protein.

use measure::Millimoles;

use super::constants::ChargeConstants;
use super::ligands::Ligand;
use super::root::falling;
use super::solution::{Guess, Totals};
use crate::book::BinderBook;
use crate::error::BinderError;

/// A litre of salts and acids in water; nothing in it is taken as dissolving or falling out. An ionic strength up to about 0.2 mol/l is
/// well founded, 0.5 the end of the Davies equation.
///
/// ```
/// use binder::{BinderBook, Ligand, SaltMix};
/// use measure::Millimoles;
/// // 0.1 mol/l acetic acid with 0.1 mol/l sodium acetate: 4.65 (NBS pH standard)
/// let mut mix = SaltMix::new(BinderBook::builtin()?);
/// mix.ligand(Ligand::Acetate, Millimoles::new(200.0)).ions(1, Millimoles::new(100.0));
/// assert!((mix.settle()?.ph - 4.65).abs() < 0.02);
/// # Ok::<(), binder::BinderError>(())
/// ```
#[derive(Debug, Clone)]
pub struct SaltMix<'a> {
    constants: &'a ChargeConstants,
    totals: Totals,
}

/// What a mix of salts settles to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SaltState {
    /// Acidity.
    pub ph: f64,
    /// mol/l.
    pub ionic_strength: f64,
    /// Free calcium, mmol/l.
    pub free_calcium: f64,
    /// Free magnesium, mmol/l.
    pub free_magnesium: f64,
    /// What is left of all charges, mmol/l.
    pub unbalanced: f64,
    /// What is left of the balances of calcium and magnesium, mmol/l.
    pub lost: f64,
}

impl<'a> SaltMix<'a> {
    /// Pure water.
    pub fn new(book: &'a BinderBook) -> Self {
        Self { constants: book.charges(), totals: Totals::default() }
    }

    /// Adds a ligand in all its forms together.
    pub fn ligand(&mut self, ligand: Ligand, amount: Millimoles) -> &mut Self {
        self.totals.ligands.add(ligand, amount.value() / 1000.0);
        self
    }

    /// Adds ions of this charge that bind nothing, such as sodium (1) or chloride (-1).
    pub fn ions(&mut self, charge: i32, amount: Millimoles) -> &mut Self {
        let amount = amount.value() / 1000.0;
        self.totals.strong += f64::from(charge) * amount;
        self.totals.strong_squares += f64::from(charge * charge) * amount;
        self
    }

    /// Adds calcium.
    pub fn calcium(&mut self, amount: Millimoles) -> &mut Self {
        self.totals.calcium += amount.value() / 1000.0;
        self
    }

    /// Adds magnesium.
    pub fn magnesium(&mut self, amount: Millimoles) -> &mut Self {
        self.totals.magnesium += amount.value() / 1000.0;
        self
    }

    /// Where it settles, between pH 0 and 14.
    ///
    /// # Errors
    /// No pH in that range balances the charges.
    pub fn settle(&self) -> Result<SaltState, BinderError> {
        let mut guess = Guess::default();
        let mut at = |ph: f64| self.constants.settle(&self.totals, &[], 10f64.powf(-ph), None, &mut guess);
        let ph = falling(|ph| 1000.0 * at(ph).charge, (0.0, 14.0), 7.0, 1e-10).ok_or(BinderError::NoBalance)?;
        let settled = at(ph);
        Ok(SaltState {
            ph,
            ionic_strength: settled.ionic_strength,
            free_calcium: 1000.0 * settled.calcium,
            free_magnesium: 1000.0 * settled.magnesium,
            unbalanced: 1000.0 * settled.charge,
            lost: 1000.0 * settled.calcium_off.abs().max(settled.magnesium_off.abs()),
        })
    }
}
