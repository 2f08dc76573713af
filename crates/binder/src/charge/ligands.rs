//! What takes up protons, calcium and magnesium in solution, from `data/equilibria.csv`.

use materials::DataError;

use super::davies::Powers;

const FILE: &str = "equilibria.csv";

/// A substance in solution that binds protons; some bind calcium and magnesium too.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Ligand {
    /// Inorganic phosphate.
    Phosphate,
    /// Of lemons and milk.
    Citrate,
    /// Of vinegar.
    Acetate,
    /// Of sour milk.
    Lactate,
    /// Of soda and of air.
    Carbonate,
    /// Of borax.
    Borate,
    /// Of smelling salts.
    Ammonia,
    /// A gentle base.
    Triethanolamine,
}

/// How many there are.
pub(crate) const LIGANDS: usize = 8;

impl Ligand {
    /// All of them.
    pub const ALL: [Self; LIGANDS] =
        [Self::Phosphate, Self::Citrate, Self::Acetate, Self::Lactate, Self::Carbonate, Self::Borate, Self::Ammonia, Self::Triethanolamine];

    const fn name(self) -> &'static str {
        match self {
            Self::Phosphate => "phosphate",
            Self::Citrate => "citrate",
            Self::Acetate => "acetate",
            Self::Lactate => "lactate",
            Self::Carbonate => "carbonate",
            Self::Borate => "borate",
            Self::Ammonia => "ammonia",
            Self::Triethanolamine => "triethanolamine",
        }
    }
}

/// One amount for each ligand.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct PerLigand([f64; LIGANDS]);

impl PerLigand {
    #[inline]
    pub(crate) fn get(&self, ligand: Ligand) -> f64 {
        self.0.get(ligand as usize).copied().unwrap_or(0.0)
    }

    pub(crate) fn add(&mut self, ligand: Ligand, amount: f64) {
        if let Some(place) = self.0.get_mut(ligand as usize) {
            *place += amount;
        }
    }

    pub(crate) fn set(&mut self, ligand: Ligand, amount: f64) {
        if let Some(place) = self.0.get_mut(ligand as usize) {
            *place = amount;
        }
    }
}

/// Constants of one ligand: formation from the bare form, not logarithms; 0 where there is no such form.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Forms {
    /// Charge of the bare form.
    pub(crate) charge: i32,
    /// With 1, 2, 3 protons.
    protons: [f64; 3],
    /// With calcium and 0, 1, 2 protons.
    calcium: [f64; 3],
    /// With magnesium and 0, 1, 2 protons.
    magnesium: [f64; 3],
}

/// A sum over forms: their weight, the protons on them, their squared charges.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Weighted {
    pub(crate) weight: f64,
    pub(crate) protons: f64,
    pub(crate) squares: f64,
}

impl Weighted {
    fn add(&mut self, weight: f64, protons: f64, charge: i32) {
        self.weight += weight;
        self.protons += protons * weight;
        self.squares += f64::from(charge * charge) * weight;
    }
}

/// The forms of a ligand at one pH and salt strength, relative to the bare form; those with metal for each mol/l of free metal.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Mixed {
    pub(crate) alone: Weighted,
    pub(crate) calcium: Weighted,
    pub(crate) magnesium: Weighted,
}

impl Forms {
    /// At this hydrogen activity and these activity coefficients.
    #[inline]
    pub(crate) fn mixed(&self, h: f64, powers: &Powers) -> Mixed {
        let bare = self.charge * self.charge;
        let mut mixed = Mixed::default();
        mixed.alone.add(1.0, 0.0, self.charge);
        let (mut power, mut count) = (1.0, 0.0);
        for (extra, k) in (1..).zip(self.protons) {
            power *= h;
            count += 1.0;
            if k > 0.0 {
                let charge = self.charge + extra;
                mixed.alone.add(k * power * powers.get(bare - charge * charge), count, charge);
            }
        }
        for (metal, forms) in [(&mut mixed.calcium, &self.calcium), (&mut mixed.magnesium, &self.magnesium)] {
            let (mut power, mut count) = (1.0, 0.0);
            for (extra, k) in (0..).zip(forms) {
                if *k > 0.0 {
                    let charge = self.charge + 2 + extra;
                    metal.add(k * power * powers.get(bare + 4 - charge * charge), count, charge);
                }
                power *= h;
                count += 1.0;
            }
        }
        mixed
    }

    /// Weight of the form with the most protons, beside the bare form.
    pub(crate) fn fullest(&self, h: f64, powers: &Powers) -> f64 {
        let forms = (1..).zip(self.protons).filter(|(_, k)| *k > 0.0);
        forms.last().map_or(1.0, |(extra, k)| {
            let charge = self.charge + extra;
            k * h.powi(extra) * powers.get(self.charge * self.charge - charge * charge)
        })
    }

    pub(crate) fn read(text: &str) -> Result<[Self; LIGANDS], DataError> {
        let mut out = [Self::default(); LIGANDS];
        let mut seen = [false; LIGANDS];
        for (index, record) in csv::Reader::from_reader(text.as_bytes()).into_records().enumerate() {
            let line = index + 2;
            let wrong = |what: String| DataError { file: FILE, line, what };
            let record = record.map_err(|e| wrong(e.to_string()))?;
            let text = |column: usize| record.get(column).map(str::trim).unwrap_or_default();
            let number = |column: usize| text(column).parse::<f64>().map_err(|_| wrong(format!("`{}` is no number", text(column))));
            let ligand =
                Ligand::ALL.into_iter().find(|l| l.name() == text(0)).ok_or_else(|| wrong(format!("`{}` is not known", text(0))))?;
            let charge = text(1).parse::<i32>().map_err(|_| wrong(format!("`{}` is no charge", text(1))))?;
            let protons = text(2).parse::<usize>().map_err(|_| wrong(format!("`{}` is no count of protons", text(2))))?;
            let k = 10f64.powf(number(4)?);
            if text(8).is_empty() {
                return Err(wrong("a constant needs a source".to_owned()));
            }
            let Some(forms) = out.get_mut(ligand as usize) else { continue };
            forms.charge = charge;
            let (list, place) = match text(3) {
                "" => (&mut forms.protons, protons.checked_sub(1)),
                "calcium" => (&mut forms.calcium, Some(protons)),
                "magnesium" => (&mut forms.magnesium, Some(protons)),
                other => return Err(wrong(format!("`{other}` is no metal of this table"))),
            };
            *place.and_then(|place| list.get_mut(place)).ok_or_else(|| wrong("more protons than the table holds".to_owned()))? = k;
            if let Some(seen) = seen.get_mut(ligand as usize) {
                *seen = true;
            }
        }
        if let Some(lacking) = Ligand::ALL.into_iter().zip(seen).find(|(_, seen)| !seen) {
            return Err(DataError { file: FILE, line: 0, what: format!("no line for `{}`", lacking.0.name()) });
        }
        Ok(out)
    }
}
