//! Casein and base in water: the pH they come to, and the base for a pH.

use measure::{Grams, Millilitres, Millimoles};

use crate::bases::BaseParts;
use crate::book::BinderBook;
use crate::charge::{CaseinCharge, ChargeConstants, Guess, Ligand, PerLigand, Totals, falling};
use crate::dissolve::Base;
use crate::error::BinderError;

/// How far carbon dioxide has left the pot.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Gas {
    /// None: a lid is on.
    Closed,
    /// It still fizzes.
    Fizzing,
    /// Stirred for about an hour.
    Stirred,
    /// All that air takes: a thin film at last, a pot after days.
    Aired,
}

/// Washed casein and what is in the pot with it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OpenPot {
    /// Dry casein.
    pub casein: Grams,
    /// All water, that of the curd too.
    pub water: Millilitres,
    /// The base.
    pub base: Base,
    /// How much of it.
    pub dose: Millimoles,
    /// Acetic acid left from the curd.
    pub acid_left: Millimoles,
}

/// How a pot of casein and base will look.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Opening {
    /// Curd swells and stays grainy.
    Grainy,
    /// It opens when warmed and given time, not quite without grains.
    Nearly,
    /// It opens.
    Open,
    /// It opens, with more base than it needs.
    TooMuch,
}

/// The balance of charges of opened casein.
#[derive(Debug, Clone, Copy)]
pub struct OpenCasein<'a> {
    book: &'a BinderBook,
    casein: CaseinCharge<'a>,
    strength: f64,
}

const ENDS: (f64, f64) = (-4.0, 18.0);
const CLOSE: f64 = 1e-10;

impl<'a> OpenCasein<'a> {
    /// With the usual repulsion between charges.
    ///
    /// # Errors
    /// The data file lacks a line.
    pub fn usual(book: &'a BinderBook) -> Result<Self, BinderError> {
        Ok(Self { book, casein: book.casein_charge(), strength: book.constant("casein.ionic_strength")?.value })
    }

    /// With another repulsion (0.04 to 0.08).
    ///
    /// # Errors
    /// The data file lacks a line.
    pub fn with_repulsion(book: &'a BinderBook, repulsion: f64) -> Result<Self, BinderError> {
        Ok(Self { casein: book.casein_charge_with(repulsion), ..Self::usual(book)? })
    }

    /// The pH of the pot. Lime in excess gives that of saturated lime water.
    ///
    /// # Errors
    /// No casein or no water.
    ///
    /// ```
    /// use binder::{Base, BinderBook, Gas, OpenCasein, OpenPot};
    /// use measure::{Grams, Millilitres, Millimoles};
    /// let pot = OpenPot { casein: Grams::new(100.0), water: Millilitres::new(1000.0), base: Base::Borax,
    ///     dose: Millimoles::new(12_000.0 / 381.37), acid_left: Millimoles::ZERO };
    /// let ph = OpenCasein::usual(BinderBook::builtin()?)?.ph(&pot, Gas::Stirred)?;
    /// assert!((ph - 6.98).abs() < 0.05);
    /// # Ok::<(), binder::BinderError>(())
    /// ```
    pub fn ph(&self, pot: &OpenPot, gas: Gas) -> Result<f64, BinderError> {
        let pot = Checked::of(self.book, pot)?;
        let found = self.balanced(&pot, self.pressure(gas)?)?;
        // Gas leaves only where the pot holds more than the air above it takes.
        let found = match gas {
            Gas::Fizzing | Gas::Stirred if self.dissolved(found, gas)? > pot.dose * pot.parts.carbon => self.balanced(&pot, None)?,
            _ => found,
        };
        let most = self.book.constant("lime.ph")?.value;
        Ok(if pot.parts.calcium > 0.0 { found.min(most) } else { found })
    }

    fn balanced(&self, pot: &Checked, pressure: Option<f64>) -> Result<f64, BinderError> {
        let off = |felt: f64| {
            let (charge, ph) = self.casein.felt(felt);
            1000.0 * (pot.casein * charge / 1000.0 + self.beside(ph, pot, pressure))
        };
        let felt = falling(off, ENDS, 6.5, CLOSE).ok_or(BinderError::NoBalance)?;
        Ok(self.casein.felt(felt).1)
    }

    /// The amount of base that brings the pot to this pH; its own dose does not count. `None` where no amount does.
    ///
    /// # Errors
    /// No casein or no water.
    pub fn dose_to(&self, ph: f64, pot: &OpenPot, gas: Gas) -> Result<Option<Millimoles>, BinderError> {
        let volume = pot.water.value() / 1000.0;
        let mut pot = Checked::of(self.book, pot)?;
        let pressure = self.pressure(gas)?;
        let casein = pot.casein * self.casein.at(ph) / 1000.0;
        let mut off = |dose: f64| {
            pot.dose = dose;
            casein + self.beside(ph, &pot, pressure)
        };
        // At one pH every charge is a straight line of the dose.
        let (nothing, one) = (off(0.0), off(1.0));
        let dose = -nothing / (one - nothing);
        if nothing >= 0.0 {
            return Ok(Some(Millimoles::ZERO));
        }
        Ok((dose.is_finite() && dose > 0.0 && dose < MOST_DOSE).then(|| Millimoles::new(1000.0 * dose * volume)))
    }

    /// What the pot looks like at this pH.
    ///
    /// # Errors
    /// The data file lacks a line.
    pub fn opening(&self, ph: f64) -> Result<Opening, BinderError> {
        let edge = |key: &str| self.book.constant(key).map(|constant| constant.value);
        Ok(if ph < edge("opening.grainy")? {
            Opening::Grainy
        } else if ph < edge("opening.open")? {
            Opening::Nearly
        } else if ph <= edge("opening.much")? {
            Opening::Open
        } else {
            Opening::TooMuch
        })
    }

    /// Carbon dioxide above the pot, atm; `None` under a lid.
    fn pressure(&self, gas: Gas) -> Result<Option<f64>, BinderError> {
        let key = match gas {
            Gas::Closed => return Ok(None),
            Gas::Fizzing => "gas.fizzing",
            Gas::Stirred => "gas.stirred",
            Gas::Aired => "gas.air",
        };
        Ok(Some(self.book.constant(key)?.value))
    }

    /// All carbonate that stays dissolved under this gas, mol/l.
    fn dissolved(&self, ph: f64, gas: Gas) -> Result<f64, BinderError> {
        Ok(self.pressure(gas)?.map_or(0.0, |pressure| self.carbonate(ph, pressure).0))
    }

    /// Dissolved carbonate and its charge under this pressure, mol/l.
    fn carbonate(&self, ph: f64, pressure: f64) -> (f64, f64) {
        let (constants, h) = (self.book.charges(), 10f64.powf(-ph));
        let powers = constants.davies.powers(self.strength);
        let forms = constants.forms(Ligand::Carbonate);
        let mixed = forms.mixed(h, &powers);
        let bare = constants.henry * pressure / forms.fullest(h, &powers);
        (bare * mixed.alone.weight, bare * (mixed.alone.protons - 2.0 * mixed.alone.weight))
    }

    /// Charges of everything but the casein, mol/l.
    fn beside(&self, ph: f64, pot: &Checked, pressure: Option<f64>) -> f64 {
        let constants: &ChargeConstants = self.book.charges();
        let parts = pot.parts;
        let mut ligands = PerLigand::default();
        ligands.set(Ligand::Borate, pot.dose * parts.boron);
        ligands.set(Ligand::Ammonia, pot.dose * parts.nitrogen);
        ligands.set(Ligand::Triethanolamine, pot.dose * parts.amine);
        ligands.set(Ligand::Acetate, pot.acetate);
        // Soda without acid or casein stays as it is: nothing can leave a base that brought no carbonate.
        let gas = pressure.filter(|_| parts.carbon > 0.0).map(|pressure| self.carbonate(ph, pressure).1);
        if gas.is_none() {
            ligands.set(Ligand::Carbonate, pot.dose * parts.carbon);
        }
        let totals = Totals { ligands, strong: pot.dose * (parts.sodium + 2.0 * parts.calcium), ..Totals::default() };
        let settled = constants.settle(&totals, &[], 10f64.powf(-ph), Some(self.strength), &mut Guess::default());
        settled.charge + gas.unwrap_or(0.0)
    }
}

/// More base than this is no dose, mol/l (model choice).
const MOST_DOSE: f64 = 20.0;

/// A pot in mol/l and g/l.
struct Checked {
    casein: f64,
    dose: f64,
    acetate: f64,
    parts: BaseParts,
}

impl Checked {
    fn of(book: &BinderBook, pot: &OpenPot) -> Result<Self, BinderError> {
        let volume = Millilitres::checked(pot.water.value())?.value();
        let casein = Grams::checked(pot.casein.value())?.value();
        if volume <= 0.0 || casein <= 0.0 {
            return Err(BinderError::NoPot);
        }
        let per_litre = |amount: Millimoles| Millimoles::checked(amount.value()).map(|amount| amount.value() / volume);
        Ok(Self {
            casein: 1000.0 * casein / volume,
            dose: per_litre(pot.dose)?,
            acetate: per_litre(pot.acid_left)?,
            parts: book.base(pot.base)?.parts,
        })
    }
}
