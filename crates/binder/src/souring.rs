//! Milk and acid: the pH at which all charges in it balance.

use materials::DataError;
use measure::{Millilitres, Millimoles};

use crate::acid::Acid;
use crate::book::BinderBook;
use crate::charge::{ChargeConstants, Guess, Ligand, PerLigand, Settled, Site, Totals, bare, falling_from};
use crate::error::BinderError;

/// What a litre of milk holds that counts for its sourness; mmol/l unless said.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MilkMakeup {
    /// Sodium.
    pub sodium: f64,
    /// Potassium.
    pub potassium: f64,
    /// Chloride.
    pub chloride: f64,
    /// Sulphate.
    pub sulphate: f64,
    /// Calcium in all its forms.
    pub calcium: f64,
    /// Magnesium in all its forms.
    pub magnesium: f64,
    /// Inorganic phosphate in all its forms.
    pub phosphate: f64,
    /// Of it, what the grains of casein hold in fresh milk.
    pub colloid: f64,
    /// Protons on each phosphate of the grains.
    pub colloid_protons: f64,
    /// Citrate.
    pub citrate: f64,
    /// Carbon dioxide.
    pub carbon_dioxide: f64,
    /// Sugar phosphates and the like.
    pub sugar_phosphates: f64,
    /// Casein, g/l.
    pub casein: f64,
    /// Whey protein, g/l.
    pub whey_protein: f64,
    /// Acidity of the fresh milk, pH.
    pub ph: f64,
}

impl MilkMakeup {
    /// Usual skim milk.
    ///
    /// # Errors
    /// The data file lacks a line.
    pub fn usual(book: &BinderBook) -> Result<Self, DataError> {
        let value = |key: &str| book.constant(key).map(|constant| constant.value);
        Ok(Self {
            sodium: value("milk.sodium")?,
            potassium: value("milk.potassium")?,
            chloride: value("milk.chloride")?,
            sulphate: value("milk.sulphate")?,
            calcium: value("milk.calcium")?,
            magnesium: value("milk.magnesium")?,
            phosphate: value("milk.phosphate")?,
            colloid: value("milk.colloid")?,
            colloid_protons: value("colloid.protons")?,
            citrate: value("milk.citrate")?,
            carbon_dioxide: value("milk.carbon_dioxide")?,
            sugar_phosphates: value("milk.sugar_phosphates")?,
            casein: value("milk.casein")?,
            whey_protein: value("milk.whey_protein")?,
            ph: value("milk.ph")?,
        })
    }
}

/// What goes into the milk: acids by their amount, and the volume of all of it, water too.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Pour {
    /// Acetic acid.
    pub acetic: Millimoles,
    /// Citric acid.
    pub citric: Millimoles,
    /// Lactic acid.
    pub lactic: Millimoles,
    /// Hydrochloric acid.
    pub hydrochloric: Millimoles,
    /// An acid of one proton that is none of these.
    pub other: Option<OtherAcid>,
    /// Volume of everything poured; it thins the milk.
    pub volume: Millilitres,
}

/// An acid of one proton.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OtherAcid {
    /// How much.
    pub amount: Millimoles,
    /// pKa at 25 C and ionic strength 0.
    pub pka: f64,
}

impl Pour {
    /// Nothing.
    pub const NOTHING: Self = Self {
        acetic: Millimoles::ZERO,
        citric: Millimoles::ZERO,
        lactic: Millimoles::ZERO,
        hydrochloric: Millimoles::ZERO,
        other: None,
        volume: Millilitres::ZERO,
    };

    /// One acid in this volume.
    pub fn of(acid: Acid, amount: Millimoles, volume: Millilitres) -> Self {
        let mut pour = Self { volume, ..Self::NOTHING };
        match acid {
            Acid::Acetic => pour.acetic = amount,
            Acid::Citric => pour.citric = amount,
            Acid::Lactic => pour.lactic = amount,
            Acid::Hydrochloric => pour.hydrochloric = amount,
        }
        pour
    }

    /// Both together. Of two other acids with different pKa the first one's is kept.
    #[must_use]
    pub fn and(&self, next: &Self) -> Self {
        self.plus(next, 1.0)
    }

    /// The same acids, this many times as much, in the same volume.
    #[must_use]
    pub fn times(&self, factor: f64) -> Self {
        let volume = self.volume;
        Self { volume, ..Self::NOTHING.plus(self, factor) }
    }

    fn plus(&self, next: &Self, times: f64) -> Self {
        let other = match (self.other, next.other) {
            (Some(mine), Some(theirs)) => Some(OtherAcid { amount: mine.amount + theirs.amount * times, ..mine }),
            (None, Some(theirs)) => Some(OtherAcid { amount: theirs.amount * times, ..theirs }),
            (mine, None) => mine,
        };
        Self {
            acetic: self.acetic + next.acetic * times,
            citric: self.citric + next.citric * times,
            lactic: self.lactic + next.lactic * times,
            hydrochloric: self.hydrochloric + next.hydrochloric * times,
            other,
            volume: self.volume + next.volume * times,
        }
    }

    /// All acids, each proton counted: the most that it could give, mmol.
    fn protons(&self) -> f64 {
        let other = self.other.map_or(0.0, |other| other.amount.value());
        self.acetic.value() + 3.0 * self.citric.value() + self.lactic.value() + self.hydrochloric.value() + other
    }
}

/// Milk and what was poured into it at one pH; mmol/l of the mixture unless said.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MilkState {
    /// Acidity.
    pub ph: f64,
    /// mol/l.
    pub ionic_strength: f64,
    /// Free calcium.
    pub free_calcium: f64,
    /// Calcium on citrate.
    pub calcium_citrate: f64,
    /// Calcium on dissolved phosphate.
    pub calcium_phosphate: f64,
    /// Protons on dissolved phosphate.
    pub protons_on_phosphate: f64,
    /// Protons on citrate.
    pub protons_on_citrate: f64,
    /// Share of the grains' lime and phosphate that is still in them.
    pub colloid_share: f64,
    /// What is left of all charges.
    pub unbalanced: f64,
    /// What is left of the balances of calcium and magnesium.
    pub lost: f64,
}

/// A milk whose charges are balanced. Holds from the fresh milk's pH down to 4.0, for fresh or pasteurised skim milk near room warmth; not
/// for milk made alkaline, where lime falls out.
#[derive(Debug, Clone, Copy)]
pub struct MilkBalance<'a> {
    constants: &'a ChargeConstants,
    makeup: MilkMakeup,
    residue: f64,
}

/// Nearest that charges are brought to balance, mmol/l.
const CLOSE: f64 = 1e-10;
/// Acidity at which every search ends: sour as a strong acid, sharp as lye.
const ENDS: (f64, f64) = (0.0, 11.0);

impl<'a> MilkBalance<'a> {
    /// Balances fresh milk: what its analysis lacks (about 1 % of it) is kept from then on.
    pub fn new(book: &'a BinderBook, makeup: MilkMakeup) -> Self {
        let mut balance = Self { constants: book.charges(), makeup, residue: 0.0 };
        let (off, _) = balance.settle(makeup.ph, 1.0, &Pour::NOTHING, 0.0, None, &mut Guess::default());
        balance.residue = -off;
        balance
    }

    /// What the analysis lacks to balance the fresh milk, mmol/l of charge.
    pub fn residue(&self) -> f64 {
        self.residue
    }

    /// The milk.
    pub fn makeup(&self) -> &MilkMakeup {
        &self.makeup
    }

    /// The pH of `milk` with all this in it, not below 0.
    ///
    /// # Errors
    /// Nothing to sour, or no pH balances it.
    ///
    /// ```
    /// use binder::{Acid, BinderBook, MilkBalance, MilkMakeup, Pour};
    /// use measure::{Millilitres, Millimoles};
    /// let book = BinderBook::builtin()?;
    /// let milk = MilkBalance::new(book, MilkMakeup::usual(book)?);
    /// // two US cups of 5 % vinegar (0.8326 mmol/ml) in a US gallon
    /// let vinegar = Pour::of(Acid::Acetic, Millimoles::new(473.176 * 0.8326), Millilitres::new(473.176));
    /// assert!((milk.ph(Millilitres::new(3785.412), &vinegar)? - 4.56).abs() < 0.01);
    /// # Ok::<(), binder::BinderError>(())
    /// ```
    pub fn ph(&self, milk: Millilitres, pour: &Pour) -> Result<f64, BinderError> {
        self.ph_near(milk, pour, self.makeup.ph, &mut Guess::default())
    }

    pub(crate) fn ph_near(&self, milk: Millilitres, pour: &Pour, near: f64, guess: &mut Guess) -> Result<f64, BinderError> {
        let volume = checked(milk, pour)?;
        let found = self.joint(milk.value() / volume, pour, volume, near, guess);
        // Neat acid is beyond the Davies equation and beyond anything that curdles milk; it counts as the sour end.
        let neat = pour.protons() > NEAT * volume;
        found.or_else(|| neat.then_some(ENDS.0)).ok_or(BinderError::NoBalance)
    }

    /// The pH and the salt strength together: the pH at a held strength, then the strength that its ions make, until both stay.
    fn joint(&self, share: f64, pour: &Pour, volume: f64, near: f64, guess: &mut Guess) -> Option<f64> {
        let (mut ph, mut slope) = (near, None);
        let mut strength = self.settle(ph, share, pour, volume, None, guess).1.ionic_strength;
        let mut before: Option<(f64, f64)> = None;
        for _ in 0..MOST_STEPS {
            let mut made = strength;
            let mut off = |ph: f64| {
                let (off, settled) = self.settle(ph, share, pour, volume, Some(strength), guess);
                made = settled.ionic_strength;
                off
            };
            (ph, slope) = falling_from(&mut off, ENDS, ph, slope, CLOSE)?;
            let away = made - strength;
            if away.abs() <= 1e-13 * (0.01 + made) {
                return Some(ph);
            }
            let straight = match before {
                Some((there, other)) if (away - other).abs() > 0.0 => strength - away * (strength - there) / (away - other),
                _ => made,
            };
            before = Some((strength, away));
            strength = if straight > 0.5 * made && straight < 2.0 * made { straight } else { made };
        }
        None
    }

    /// Everything at the pH that the pour leads to.
    ///
    /// # Errors
    /// As [`Self::ph`], and where so much acid went in that no pH from 0 up balances it: there is no state to tell then.
    pub fn state(&self, milk: Millilitres, pour: &Pour) -> Result<MilkState, BinderError> {
        let volume = checked(milk, pour)?;
        let mut guess = Guess::default();
        let ph = self.joint(milk.value() / volume, pour, volume, self.makeup.ph, &mut guess).ok_or(BinderError::NoBalance)?;
        let (unbalanced, settled) = self.settle(ph, milk.value() / volume, pour, volume, None, &mut guess);
        Ok(MilkState {
            ph,
            ionic_strength: settled.ionic_strength,
            free_calcium: 1000.0 * settled.calcium,
            calcium_citrate: 1000.0 * settled.bound_calcium.get(Ligand::Citrate),
            calcium_phosphate: 1000.0 * settled.bound_calcium.get(Ligand::Phosphate),
            protons_on_phosphate: 1000.0 * settled.protons.get(Ligand::Phosphate),
            protons_on_citrate: 1000.0 * settled.protons.get(Ligand::Citrate),
            colloid_share: self.constants.colloid.share(ph),
            unbalanced,
            lost: 1000.0 * settled.calcium_off.abs().max(settled.magnesium_off.abs()),
        })
    }

    /// How many times `unit` has to go in, beside what is `given`, to bring `milk` to this pH; 0 if it is there already.
    ///
    /// `None` if no amount of it does: it is too weak or too thin.
    pub fn units_to(&self, ph: f64, milk: Millilitres, given: &Pour, unit: &Pour) -> Option<f64> {
        self.units_near(ph, milk, given, unit, None, &mut Guess::default()).map(|step| step.units)
    }

    /// The same, beginning where the last search of a like milk ended, and leaving there where this one did.
    pub(crate) fn units_from(&self, ph: f64, milk: Millilitres, given: &Pour, unit: &Pour, near: &mut Near) -> Option<f64> {
        // Where other acids may be enough already the answer may be none, which no neighbour tells.
        let step = near.step.filter(|_| given.protons() <= 0.0);
        let found = self.units_near(ph, milk, given, unit, step, &mut near.guess);
        let found =
            if step.is_some() { found.or_else(|| self.units_near(ph, milk, given, unit, None, &mut Guess::default())) } else { found };
        near.step = found;
        found.map(|step| step.units)
    }

    /// The same, beginning from an answer nearby (units, charge that one unit takes).
    fn units_near(&self, ph: f64, milk: Millilitres, given: &Pour, unit: &Pour, near: Option<Step>, guess: &mut Guess) -> Option<Step> {
        let mut off = |units: f64| {
            let pour = given.plus(unit, units);
            let volume = milk.value() + pour.volume.value();
            // In mmol for the whole pot, not for a litre: then it is nearly a straight line.
            self.settle(ph, milk.value() / volume, &pour, volume, None, guess).0 * volume / 1000.0
        };
        let close = CLOSE * milk.value() / 1000.0;
        let (mut units, mut slope) = if let Some(step) = near {
            (step.units, step.slope)
        } else {
            let missing = off(0.0);
            if missing <= close {
                return Some(Step { units: 0.0, slope: unit.protons() });
            }
            let units = missing / unit.protons();
            (units, (missing - off(units)) / units)
        };
        let mut last: Option<(f64, f64)> = None;
        for _ in 0..MOST_STEPS {
            let missing = off(units);
            if let Some((before, there)) = last
                && (units - before).abs() > 0.0
            {
                slope = (there - missing) / (units - before);
            }
            if !(missing.is_finite() && slope.is_finite()) || slope <= 0.0 {
                return None;
            }
            if missing.abs() <= close {
                return Some(Step { units, slope });
            }
            last = Some((units, missing));
            let next = units + missing / slope;
            if (next - units).abs() <= 1e-13 * units {
                return Some(Step { units: next, slope });
            }
            units = next.max(0.0);
            if units * unit.volume.value() > MOST_THINNING * milk.value() || units * unit.protons() > MOST_ACID * milk.value() {
                return None;
            }
        }
        None
    }

    /// The titration curve: for each pH from the fresh milk's down to `down_to`, how many times `unit` goes in beside what is `given`.
    /// It ends early where no amount leads further.
    ///
    /// ```
    /// use binder::{Acid, BinderBook, MilkBalance, MilkMakeup, Pour};
    /// use measure::{Millilitres, Millimoles};
    /// let book = BinderBook::builtin()?;
    /// let milk = MilkBalance::new(book, MilkMakeup::usual(book)?);
    /// let strong = Pour::of(Acid::Hydrochloric, Millimoles::new(1.0), Millilitres::ZERO);
    /// let curve = milk.curve(Millilitres::new(1000.0), &Pour::NOTHING, &strong, 4.0, 60);
    /// assert!(curve.windows(2).all(|pair| pair[1].units > pair[0].units && pair[1].ph < pair[0].ph));
    /// # Ok::<(), materials::DataError>(())
    /// ```
    pub fn curve(&self, milk: Millilitres, given: &Pour, unit: &Pour, down_to: f64, points: u32) -> Vec<CurvePoint> {
        let mut guess = Guess::default();
        let mut out: Vec<CurvePoint> = Vec::with_capacity(points as usize + 1);
        let Ok(start) = self.ph_near(milk, given, self.makeup.ph, &mut guess) else { return out };
        out.push(CurvePoint { ph: start, units: 0.0 });
        let mut slope = 0.0;
        for index in 1..=points {
            let ph = start + (down_to - start) * f64::from(index) / f64::from(points);
            let ahead = match out.as_slice() {
                [.., before, last] => 2.0 * last.units - before.units,
                _ => 0.0,
            };
            let near = (index > 1).then_some(Step { units: ahead.max(0.0), slope });
            let Some(found) = self.units_near(ph, milk, given, unit, near, &mut guess) else { break };
            slope = found.slope;
            out.push(CurvePoint { ph, units: found.units });
        }
        out
    }

    /// Strong acid that moves undiluted milk by one pH here, mmol/l.
    pub fn buffer_capacity(&self, ph: f64) -> Option<f64> {
        let litre = Millilitres::new(1000.0);
        let strong = Pour::of(Acid::Hydrochloric, Millimoles::new(1.0), Millilitres::ZERO);
        let dose = |ph: f64| self.units_to(ph, litre, &Pour::NOTHING, &strong);
        Some((dose(ph - 0.05)? - dose(ph + 0.05)?) / 0.1)
    }

    /// What is left of all charges at this pH, mmol/l, and the ions. `share` is milk in the mixture, `volume` the mixture, ml;
    /// `fixed` holds the salt strength.
    fn settle(&self, ph: f64, share: f64, pour: &Pour, volume: f64, fixed: Option<f64>, guess: &mut Guess) -> (f64, Settled) {
        let (milk, constants) = (&self.makeup, self.constants);
        let k = &constants.acidities;
        let h = 10f64.powf(-ph);
        let held = constants.colloid.share(ph);
        let colloid = milk.colloid * held;
        let per_litre = if volume > 0.0 { 1.0 / volume } else { 0.0 };
        // mol/l: an amount in mmol over a volume in ml is mol/l.
        let poured = |amount: Millimoles| amount.value() * per_litre;
        let milli = 0.001 * share;
        let mut ligands = PerLigand::default();
        ligands.set(Ligand::Phosphate, (milk.phosphate - colloid).max(0.0) * milli);
        ligands.set(Ligand::Citrate, milk.citrate * milli + poured(pour.citric));
        ligands.set(Ligand::Acetate, poured(pour.acetic));
        ligands.set(Ligand::Lactate, poured(pour.lactic));
        ligands.set(Ligand::Carbonate, milk.carbon_dioxide * milli);
        let sugar = milk.sugar_phosphates * bare(k.sugar_phosphate, h);
        let chloride = milk.chloride * milli + poured(pour.hydrochloric);
        let totals = Totals {
            ligands,
            calcium: (milk.calcium - constants.colloid.calcium * colloid).max(0.0) * milli,
            magnesium: (milk.magnesium - constants.colloid.magnesium * colloid).max(0.0) * milli,
            strong: (milk.sodium + milk.potassium - 2.0 * milk.sulphate) * milli - chloride,
            strong_squares: (milk.sodium + milk.potassium + 4.0 * milk.sulphate + milk.sugar_phosphates + 3.0 * sugar) * milli + chloride,
            other: pour.other.map_or((0.0, 1.0), |other| (poured(other.amount), 10f64.powf(other.pka))),
        };
        let (casein, whey) = (&constants.proteins.casein, &constants.proteins.whey);
        let group = |of: fn(&crate::charge::Groups) -> f64| (of(casein) * milk.casein + of(whey) * milk.whey_protein) * milli;
        let serine = casein.serine * milk.casein * milli;
        let carboxyl = |amount: f64, proton: f64| Site { amount, proton, metal: constants.carboxylate, power: 4 };
        let sites = [
            carboxyl(group(|g| g.c_end), k.c_end),
            carboxyl(group(|g| g.asp), k.asp),
            carboxyl(group(|g| g.glu), k.glu),
            Site { amount: serine * (1.0 - held), proton: k.serine_second, metal: constants.serine, power: 8 },
        ];
        let settled = constants.settle(&totals, &sites, h, fixed, guess);
        // Metal in the grains comes with its whole charge, so do the grains' phosphate and the serine that holds them.
        let grains = (2.0 * (constants.colloid.calcium + constants.colloid.magnesium) - (3.0 - milk.colloid_protons)) * colloid * milli
            - 2.0 * serine * held;
        let basic = (casein.basic_charge(k, h) * milk.casein + whey.basic_charge(k, h) * milk.whey_protein) * milli;
        let charge = settled.charge + settled.site_charge + grains + basic
            - serine * (1.0 - held) * bare(k.serine_first, h)
            - (milk.sugar_phosphates + sugar) * milli
            + self.residue * milli;
        (1000.0 * charge, settled)
    }
}

/// A point of a titration curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CurvePoint {
    /// Acidity.
    pub ph: f64,
    /// How many times the unit went in.
    pub units: f64,
}

/// Where the searches of the last batch ended; the next one is seldom far.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Near {
    step: Option<Step>,
    pub(crate) guess: Guess,
    /// The pH that its acid led to.
    pub(crate) ph: Option<f64>,
}

#[derive(Debug, Clone, Copy)]
struct Step {
    units: f64,
    slope: f64,
}

/// Protons for each ml of the pot, mmol, from which an acid counts as neat (model choice).
const NEAT: f64 = 0.5;
const MOST_STEPS: usize = 40;
/// An acid that needs more than this many volumes of the milk is too thin to be an answer (model choice).
const MOST_THINNING: f64 = 50.0;
/// Nor is one that needs more than this many mmol of protons for each ml of milk (model choice: no acid at hand is so strong).
const MOST_ACID: f64 = 30.0;

fn checked(milk: Millilitres, pour: &Pour) -> Result<f64, BinderError> {
    let volume = milk.value() + pour.volume.value();
    let amounts = [pour.acetic, pour.citric, pour.lactic, pour.hydrochloric, pour.other.map_or(Millimoles::ZERO, |other| other.amount)];
    for amount in amounts {
        Millimoles::checked(amount.value())?;
    }
    Millilitres::checked(pour.volume.value())?;
    if Millilitres::checked(milk.value())?.value() > 0.0 || pour.protons() > 0.0 && volume > 0.0 {
        Ok(volume)
    } else {
        Err(BinderError::NoMilk)
    }
}
