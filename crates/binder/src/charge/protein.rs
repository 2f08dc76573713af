//! Groups of milk proteins that take or give a proton, from `data/residues.csv`.

use materials::DataError;

const FILE: &str = "residues.csv";

/// Ionisable groups in one gram of protein, mmol.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Groups {
    /// Aspartic acid.
    pub asp: f64,
    /// Glutamic acid.
    pub glu: f64,
    /// Histidine.
    pub his: f64,
    /// Tyrosine.
    pub tyr: f64,
    /// Lysine.
    pub lys: f64,
    /// Arginine.
    pub arg: f64,
    /// Phosphoserine.
    pub serine: f64,
    /// Amino ends.
    pub n_end: f64,
    /// Acid ends; one on each molecule.
    pub c_end: f64,
}

/// 10^pKa of each kind of group.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Acidities {
    pub(crate) c_end: f64,
    pub(crate) asp: f64,
    pub(crate) glu: f64,
    pub(crate) his: f64,
    pub(crate) n_end: f64,
    pub(crate) tyr: f64,
    pub(crate) lys: f64,
    pub(crate) arg: f64,
    pub(crate) serine_first: f64,
    pub(crate) serine_second: f64,
    pub(crate) sugar_phosphate: f64,
}

/// Share of a group without its proton; `k` is 10^pKa.
#[inline]
pub(crate) fn bare(k: f64, h: f64) -> f64 {
    1.0 / (1.0 + k * h)
}

impl Groups {
    /// Net charge, mmol for each gram, at this hydrogen activity, without repulsion.
    pub(crate) fn charge(&self, k: &Acidities, h: f64) -> f64 {
        self.basic_charge(k, h)
            - self.c_end * bare(k.c_end, h)
            - self.asp * bare(k.asp, h)
            - self.glu * bare(k.glu, h)
            - self.serine * (bare(k.serine_first, h) + bare(k.serine_second, h))
    }

    /// The part that binds no metal: ammonium groups, histidine, tyrosine.
    pub(crate) fn basic_charge(&self, k: &Acidities, h: f64) -> f64 {
        let kept = |k: f64| 1.0 - bare(k, h);
        self.his * kept(k.his) + self.n_end * kept(k.n_end) + self.lys * kept(k.lys) + self.arg * kept(k.arg) - self.tyr * bare(k.tyr, h)
    }

    fn add(&mut self, other: &Self, times: f64) {
        for (mine, theirs) in [
            (&mut self.asp, other.asp),
            (&mut self.glu, other.glu),
            (&mut self.his, other.his),
            (&mut self.tyr, other.tyr),
            (&mut self.lys, other.lys),
            (&mut self.arg, other.arg),
            (&mut self.serine, other.serine),
            (&mut self.n_end, other.n_end),
            (&mut self.c_end, other.c_end),
        ] {
            *mine += times * theirs;
        }
    }
}

/// A protein of milk.
#[derive(Debug, Clone, PartialEq)]
pub struct Protein {
    /// Name with its variant.
    pub name: String,
    /// Whether it is a casein; else a protein of whey.
    pub is_casein: bool,
    /// Share of its family by weight.
    pub share: f64,
    /// g/mol.
    pub molar_mass: f64,
    /// Groups on one molecule.
    pub groups: Groups,
}

/// Casein and whey protein as milk holds them, per gram, and the list they come from.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Proteins {
    pub(crate) list: Vec<Protein>,
    pub(crate) casein: Groups,
    pub(crate) whey: Groups,
}

impl Proteins {
    pub(crate) fn read(text: &str) -> Result<Self, DataError> {
        let mut out = Self { list: Vec::new(), casein: Groups::default(), whey: Groups::default() };
        for (index, record) in csv::Reader::from_reader(text.as_bytes()).into_records().enumerate() {
            let wrong = |what: String| DataError { file: FILE, line: index + 2, what };
            let record = record.map_err(|e| wrong(e.to_string()))?;
            let text = |column: usize| record.get(column).map(str::trim).unwrap_or_default();
            let number = |column: usize| text(column).parse::<f64>().map_err(|_| wrong(format!("`{}` is no number", text(column))));
            if text(14).is_empty() {
                return Err(wrong("a protein needs a source".to_owned()));
            }
            let protein = Protein {
                name: text(0).to_owned(),
                is_casein: text(2) == "casein",
                share: number(3)?,
                molar_mass: number(4)?,
                groups: Groups {
                    asp: number(5)?,
                    glu: number(6)?,
                    his: number(7)?,
                    tyr: number(8)?,
                    lys: number(9)?,
                    arg: number(10)?,
                    serine: number(11)?,
                    n_end: number(12)?,
                    c_end: number(13)?,
                },
            };
            let family = if protein.is_casein { &mut out.casein } else { &mut out.whey };
            family.add(&protein.groups, 1000.0 * protein.share / protein.molar_mass);
            out.list.push(protein);
        }
        if out.casein.c_end <= 0.0 || out.whey.c_end <= 0.0 {
            return Err(DataError { file: FILE, line: 0, what: "casein or whey protein is missing".to_owned() });
        }
        Ok(out)
    }
}
