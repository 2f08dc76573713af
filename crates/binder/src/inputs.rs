//! The doubtful numbers behind one batch of curd.

use materials::{Catalogue, DataError, Material, MaterialId};
use measure::{Input, InputKey, Spread};

use crate::acid_inputs::AcidInputs;
use crate::book::{BinderBook, Constant};
use crate::dissolve::Base;
use crate::error::BinderError;
use crate::request::{CurdState, MilkKind, MilkRequest};
use crate::souring::MilkMakeup;

/// Every number that [`crate::curd`] reads, with spread and source.
#[derive(Debug, Clone, PartialEq)]
pub struct MilkInputs {
    /// Weight of the milk, g/ml; `density.skim-milk`.
    pub milk_density: Input,
    /// Protein, g per 100 g of milk; `protein.skim-milk`.
    pub protein: Input,
    /// Share of the milk that is fat; `fat.whole-milk`. `None` for skim milk, whose tenth of a per cent is left out.
    pub fat: Option<Input>,
    /// Milk sugar, g per 100 g of milk; `lactose.skim-milk`.
    pub lactose: Input,
    /// Part of the protein that is casein; `casein_share`.
    pub casein_share: Input,
    /// Part of the casein that stays in the cloth; `recovery`.
    pub recovery: Input,
    /// Water share of the wet curd; `curd_water.drained` or `curd_water.pressed`.
    pub curd_water: Input,
    /// Part of the whey protein that falls with the casein; `whey_joins`. `None` for milk that was not hot before.
    pub whey_joins: Option<Input>,
    /// The acid that is asked about.
    pub acid: AcidInputs,
    /// What else goes in.
    pub others: Vec<AcidInputs>,
    /// How much more or less acid this milk needs than the balance of charges says; `acid_need`.
    pub acid_need: Input,
    /// Salts and whey protein of the milk.
    pub makeup: MakeupInputs,
    /// Part of the rinsing water that really mixes; `wash_efficiency`.
    pub wash_efficiency: Input,
    /// Base for one g of dry casein, meq; `base_need`. `None` if no base was asked for.
    pub base_need: Option<Input>,
    /// Share of the base in its solution; `base_strength.ammonia-5`.
    pub base_strength: Option<Input>,
    /// Grams of the base that bring one milliequivalent.
    pub(crate) grams_per_milliequivalent: Option<f64>,
}

impl MilkInputs {
    /// The same milk, as far as it is known, with the acids of another request.
    #[must_use]
    pub fn with_acids_of(&self, other: Self) -> Self {
        Self { acid: other.acid, others: other.others, ..self.clone() }
    }

    /// All inputs, for listing.
    pub fn all(&self) -> Vec<&Input> {
        let always = [
            &self.milk_density,
            &self.protein,
            &self.lactose,
            &self.casein_share,
            &self.recovery,
            &self.curd_water,
            &self.acid_need,
            &self.wash_efficiency,
        ];
        let sometimes = [&self.fat, &self.whey_joins, &self.base_need, &self.base_strength];
        let acids = std::iter::once(&self.acid).chain(&self.others).flat_map(AcidInputs::all);
        always.into_iter().chain(sometimes.into_iter().flatten()).chain(acids).chain(self.makeup.all()).collect()
    }
}

/// Salts and whey protein of the milk, each with its spread; `milk.calcium` and the like.
#[derive(Debug, Clone, PartialEq)]
pub struct MakeupInputs {
    ph: Input,
    calcium: Input,
    magnesium: Input,
    phosphate: Input,
    colloid: Input,
    colloid_protons: Input,
    citrate: Input,
    carbon_dioxide: Input,
    sugar_phosphates: Input,
    whey_protein: Input,
    usual: MilkMakeup,
}

impl MakeupInputs {
    fn of(book: &BinderBook) -> Result<Self, DataError> {
        let input = |key: &str, unit| book.constant(key).map(|found| constant(found, key, unit));
        Ok(Self {
            ph: input("milk.ph", "pH")?,
            calcium: input("milk.calcium", "mmol/l")?,
            magnesium: input("milk.magnesium", "mmol/l")?,
            phosphate: input("milk.phosphate", "mmol/l")?,
            colloid: input("milk.colloid", "mmol/l")?,
            colloid_protons: input("colloid.protons", "1")?,
            citrate: input("milk.citrate", "mmol/l")?,
            carbon_dioxide: input("milk.carbon_dioxide", "mmol/l")?,
            sugar_phosphates: input("milk.sugar_phosphates", "mmol/l")?,
            whey_protein: input("milk.whey_protein", "g/l")?,
            // Sodium, potassium and chloride only move the salt strength: what they lack of balance is kept as the residue anyway.
            usual: MilkMakeup::usual(book)?,
        })
    }

    fn all(&self) -> [&Input; 10] {
        [
            &self.ph,
            &self.calcium,
            &self.magnesium,
            &self.phosphate,
            &self.colloid,
            &self.colloid_protons,
            &self.citrate,
            &self.carbon_dioxide,
            &self.sugar_phosphates,
            &self.whey_protein,
        ]
    }

    /// Whey protein of a litre of milk of which `serum` is not fat, g.
    pub(crate) fn whey_protein(&self, at: &dyn Fn(&Input) -> f64, serum: f64) -> f64 {
        at(&self.whey_protein) * serum
    }

    /// The milk of one draw. `casein` in g/l of milk; `serum` is the part of the milk's volume that is not fat.
    pub(crate) fn milk(&self, at: &dyn Fn(&Input) -> f64, casein: f64, serum: f64) -> MilkMakeup {
        MilkMakeup {
            sodium: self.usual.sodium * serum,
            potassium: self.usual.potassium * serum,
            chloride: self.usual.chloride * serum,
            sulphate: self.usual.sulphate * serum,
            calcium: at(&self.calcium) * serum,
            magnesium: at(&self.magnesium) * serum,
            phosphate: at(&self.phosphate) * serum,
            colloid: at(&self.colloid) * serum,
            colloid_protons: at(&self.colloid_protons),
            citrate: at(&self.citrate) * serum,
            carbon_dioxide: at(&self.carbon_dioxide) * serum,
            sugar_phosphates: at(&self.sugar_phosphates) * serum,
            casein,
            whey_protein: at(&self.whey_protein) * serum,
            ph: at(&self.ph),
        }
    }
}

/// The inputs of this batch, from `data/binder.csv` and the catalogue.
///
/// # Errors
/// Rennet, a strength that can't be true, or a broken data file.
pub fn milk_inputs(request: &MilkRequest) -> Result<MilkInputs, BinderError> {
    let (book, jars) = (BinderBook::builtin()?, Catalogue::builtin()?);
    let acid = AcidInputs::of(book, jars, &request.acid)?;
    let others = request.others.iter().map(|other| AcidInputs::of(book, jars, other)).collect::<Result<Vec<_>, _>>()?;
    // Powder is made up as skim milk.
    let liquid = if request.kind == MilkKind::Powder { MilkKind::Skim } else { request.kind };
    let milk = jar(jars, &liquid.material())?;
    let id = milk.id.as_str();
    let curd_water = match request.state {
        CurdState::Drained => "curd_water.drained",
        CurdState::Squeezed => "curd_water.pressed",
        CurdState::Scooped => "curd_water.scooped",
    };
    let lactose = if request.kind == MilkKind::Whole { "lactose.whole" } else { "lactose.skim" };
    let base_need = request.base.map(|base| book.constant(base.dose_key()).map(|dose| constant(dose, "base_need", "meq/g"))).transpose()?;
    let grams_per_milliequivalent = request.base.map(|base| book.grams_per_milliequivalent(base)).transpose()?;
    Ok(MilkInputs {
        milk_density: property(milk, "density", &format!("density.{id}"), "what a millilitre of the milk weighs", "g/ml")?,
        protein: if request.kind == MilkKind::Powder {
            powdered_protein(book)?
        } else {
            property(milk, "protein", &format!("protein.{id}"), "protein in the milk", "g/100 g")?
        },
        fat: match request.kind {
            MilkKind::Skim | MilkKind::Powder => None,
            _ => Some(property(milk, "oil_share", &format!("fat.{id}"), "fat in the milk", "1")?),
        },
        lactose: constant(book.constant(lactose)?, &format!("lactose.{id}"), "g/100 g"),
        casein_share: constant(book.constant("casein_share")?, "casein_share", "1"),
        recovery: constant(book.constant("recovery")?, "recovery", "1"),
        curd_water: constant(book.constant(curd_water)?, curd_water, "1"),
        whey_joins: if request.heated_before { Some(constant(book.constant("whey.joins")?, "whey_joins", "1")) } else { None },
        acid,
        others,
        acid_need: constant(book.constant("acid_need")?, "acid_need", "1"),
        makeup: MakeupInputs::of(book)?,
        wash_efficiency: constant(book.constant("wash.efficiency")?, "wash_efficiency", "1"),
        base_need,
        base_strength: base_strength(jars, request.base)?,
        grams_per_milliequivalent,
    })
}

/// Protein in the milk that powder makes: made up to that of skim milk, in doubt as the powder's own is.
fn powdered_protein(book: &BinderBook) -> Result<Input, DataError> {
    let mut input = constant(book.constant("protein.powder")?, "protein.skim-milk-powder", "g/100 g");
    let thinned = book.constant("protein.skim")?.value / input.best;
    input.best *= thinned;
    if let Spread::Even(low, high) = input.spread {
        input.spread = Spread::Even(low * thinned, high * thinned);
    }
    Ok(input)
}

fn base_strength(jars: &Catalogue, base: Option<Base>) -> Result<Option<Input>, DataError> {
    base.filter(|base| base.is_solution())
        .map(|base| {
            let solution = jar(jars, &base.material())?;
            let key = format!("base_strength.{}", solution.id.as_str());
            property(solution, "volatile_share", &key, "ammonia in the solution", "1")
        })
        .transpose()
}

pub(crate) fn jar<'a>(jars: &'a Catalogue, id: &MaterialId) -> Result<&'a Material, DataError> {
    let lacking = || DataError { file: "materials.csv", line: 0, what: format!("no material `{}`", id.as_str()) };
    jars.material(id).ok_or_else(lacking)
}

pub(crate) fn constant(constant: &Constant, key: &str, unit: &'static str) -> Input {
    Input {
        key: InputKey::new(key),
        plain: constant.plain.clone(),
        best: constant.value,
        spread: spread(constant.range),
        unit,
        source: constant.source.clone(),
    }
}

pub(crate) fn property(material: &Material, name: &str, key: &str, plain: &str, unit: &'static str) -> Result<Input, DataError> {
    let lacking = || DataError { file: "properties.csv", line: 0, what: format!("{} lacks `{name}`", material.id.as_str()) };
    let property = material.property(name).ok_or_else(lacking)?;
    Ok(Input {
        key: InputKey::new(key),
        plain: plain.to_owned(),
        best: property.value,
        spread: spread(property.range),
        unit,
        source: property.source.clone(),
    })
}

fn spread(range: Option<(f64, f64)>) -> Spread {
    range.map_or(Spread::Exact, |(low, high)| Spread::Even(low, high))
}
