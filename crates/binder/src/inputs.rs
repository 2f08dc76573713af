//! The doubtful numbers behind one batch of curd.

use materials::{Catalogue, DataError, Material, MaterialId};
use measure::{Input, InputKey, Spread};

use crate::acid::Acid;
use crate::book::{BinderBook, Constant};
use crate::dissolve::Base;
use crate::error::BinderError;
use crate::request::{AcidSource, CurdState, MilkKind, MilkRequest};

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
    /// Acid in one ml (vinegar, juice) or one g (the others) of what is at hand, g; `acid_strength.vinegar`.
    pub acid_strength: Input,
    /// Juice of one lemon, ml; `piece_volume.lemon`.
    pub juice: Option<Input>,
    /// Weight of vinegar or juice, g/ml; `density.vinegar`.
    pub acid_density: Option<Input>,
    /// How much more or less acid this milk needs than the table says; `acid_need`.
    pub acid_need: Input,
    /// Part of the rinsing water that really mixes; `wash_efficiency`.
    pub wash_efficiency: Input,
    /// Base for one g of dry casein, meq; `base_need`. `None` if no base was asked for.
    pub base_need: Option<Input>,
    /// Share of the base in its solution; `base_strength.ammonia-5`.
    pub base_strength: Option<Input>,
    /// Which acid it is.
    pub(crate) acid: Acid,
    /// Grams of the acid in a millimole.
    pub(crate) grams_per_millimole: f64,
    /// Grams of the base that bring one milliequivalent.
    pub(crate) grams_per_milliequivalent: Option<f64>,
}

impl MilkInputs {
    /// All inputs, for listing.
    pub fn all(&self) -> Vec<&Input> {
        let always = [
            &self.milk_density,
            &self.protein,
            &self.lactose,
            &self.casein_share,
            &self.recovery,
            &self.curd_water,
            &self.acid_strength,
            &self.acid_need,
            &self.wash_efficiency,
        ];
        let sometimes = [&self.fat, &self.juice, &self.acid_density, &self.base_need, &self.base_strength];
        always.into_iter().chain(sometimes.into_iter().flatten()).collect()
    }
}

/// The inputs of this batch, from `data/binder.csv` and the catalogue.
///
/// # Errors
/// Rennet, a strength that can't be true, or a broken data file.
pub fn milk_inputs(request: &MilkRequest) -> Result<MilkInputs, BinderError> {
    let (book, jars) = (BinderBook::builtin()?, Catalogue::builtin()?);
    let acid = request.acid.source.acid().ok_or(BinderError::Rennet)?;
    let milk = jar(jars, &request.kind.material())?;
    let id = milk.id.as_str();
    let curd_water = match request.state {
        CurdState::Drained => "curd_water.drained",
        CurdState::Squeezed => "curd_water.pressed",
    };
    let lactose = if request.kind == MilkKind::Whole { "lactose.whole" } else { "lactose.skim" };
    let lemon = request.acid.source == AcidSource::Lemon;
    let juice = if lemon { Some(constant(book.constant("lemon.juice")?, "piece_volume.lemon", "ml")) } else { None };
    let base_need = match request.base {
        Some(_) => Some(constant(book.constant("base.first_dose")?, "base_need", "meq/g")),
        None => None,
    };
    let grams_per_milliequivalent = request.base.map(|base| book.grams_per_milliequivalent(base)).transpose()?;
    Ok(MilkInputs {
        milk_density: property(milk, "density", &format!("density.{id}"), "what a millilitre of the milk weighs", "g/ml")?,
        protein: property(milk, "protein", &format!("protein.{id}"), "protein in the milk", "g/100 g")?,
        fat: match request.kind {
            MilkKind::Skim => None,
            _ => Some(property(milk, "oil_share", &format!("fat.{id}"), "fat in the milk", "1")?),
        },
        lactose: constant(book.constant(lactose)?, &format!("lactose.{id}"), "g/100 g"),
        casein_share: constant(book.constant("casein_share")?, "casein_share", "1"),
        recovery: constant(book.constant("recovery")?, "recovery", "1"),
        curd_water: constant(book.constant(curd_water)?, curd_water, "1"),
        acid_strength: acid_strength(book, jars, request)?,
        juice,
        acid_density: acid_density(book, jars, request.acid.source)?,
        acid_need: acid_need(book, acid)?,
        wash_efficiency: constant(book.constant("wash.efficiency")?, "wash_efficiency", "1"),
        base_need,
        base_strength: base_strength(jars, request.base)?,
        acid,
        grams_per_millimole: book.grams_per_millimole(acid)?,
        grams_per_milliequivalent,
    })
}

fn acid_strength(book: &BinderBook, jars: &Catalogue, request: &MilkRequest) -> Result<Input, BinderError> {
    let source = request.acid.source;
    // Label strengths count g in 100 ml or 100 g; `data/binder.csv` counts g in a litre.
    let per_litre = |key: &str, name: &str| -> Result<Input, DataError> {
        let mut input = constant(book.constant(key)?, name, "g/ml");
        input.best /= 1000.0;
        if let Spread::Even(low, high) = input.spread {
            input.spread = Spread::Even(low / 1000.0, high / 1000.0);
        }
        Ok(input)
    };
    let from_jar = |id: &str| -> Result<Input, DataError> {
        let material = jar(jars, &MaterialId::new(id))?;
        property(material, "acid_strength", &format!("acid_strength.{id}"), "acid in a gram of it", "g/g")
    };
    let mut input = match source {
        AcidSource::Vinegar => per_litre("vinegar.acid", "acid_strength.vinegar")?,
        AcidSource::LemonJuice | AcidSource::Lemon => per_litre("lemon.acid", "acid_strength.lemon-juice")?,
        AcidSource::CitricAcid => from_jar("citric-acid")?,
        AcidSource::LacticAcid => from_jar("lactic-acid")?,
        AcidSource::HydrochloricAcid => from_jar("hydrochloric-acid")?,
        AcidSource::Rennet => return Err(BinderError::Rennet),
    };
    if let Some(strength) = request.acid.strength {
        let (low, high) = source.strengths();
        if !(low..=high).contains(&strength) {
            return Err(BinderError::Strength { acid: source.words(), strength, low, high });
        }
        "as you read it on the label".clone_into(&mut input.source);
        input.best = strength / 100.0;
        input.spread = Spread::Exact;
    }
    Ok(input)
}

fn acid_density(book: &BinderBook, jars: &Catalogue, source: AcidSource) -> Result<Option<Input>, DataError> {
    Ok(match source {
        AcidSource::Vinegar => Some(constant(book.constant("vinegar.density")?, "density.vinegar", "g/ml")),
        AcidSource::LemonJuice | AcidSource::Lemon => {
            let juice = jar(jars, &MaterialId::new("lemon-juice"))?;
            Some(property(juice, "density", "density.lemon-juice", "what a millilitre of lemon juice weighs", "g/ml")?)
        }
        _ => None,
    })
}

/// The spread of the table at the curdling point, as a factor: milk differs from milk, whichever acid goes in.
fn acid_need(book: &BinderBook, acid: Acid) -> Result<Input, DataError> {
    let dose = book.constant(&format!("dose.{}.4.6", acid.dose_key()))?;
    Ok(Input {
        key: InputKey::new("acid_need"),
        plain: "how much acid this milk needs, beside the usual".to_owned(),
        best: 1.0,
        spread: dose.range.map_or(Spread::Exact, |(low, high)| Spread::Even(low / dose.value, high / dose.value)),
        unit: "1",
        source: dose.source.clone(),
    })
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

fn jar<'a>(jars: &'a Catalogue, id: &MaterialId) -> Result<&'a Material, DataError> {
    let lacking = || DataError { file: "materials.csv", line: 0, what: format!("no material `{}`", id.as_str()) };
    jars.material(id).ok_or_else(lacking)
}

fn constant(constant: &Constant, key: &str, unit: &'static str) -> Input {
    Input {
        key: InputKey::new(key),
        plain: constant.plain.clone(),
        best: constant.value,
        spread: spread(constant.range),
        unit,
        source: constant.source.clone(),
    }
}

fn property(material: &Material, name: &str, key: &str, plain: &str, unit: &'static str) -> Result<Input, DataError> {
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
