//! The doubtful numbers behind an acid at hand.

use materials::{Catalogue, DataError, MaterialId};
use measure::{Input, Millilitres, Millimoles, Spread};

use crate::acid::Acid;
use crate::book::BinderBook;
use crate::error::BinderError;
use crate::inputs::{constant, jar, property};
use crate::request::{AcidAmount, AcidAtHand, AcidSource, AcidUnit};
use crate::souring::Pour;

/// Numbers of one acid at hand, with spread and source.
#[derive(Debug, Clone, PartialEq)]
pub struct AcidInputs {
    /// Acid in one ml (vinegar, juice) or one g (the others) of what is at hand, g; `acid_strength.vinegar`.
    pub strength: Input,
    /// Juice of one lemon, ml; `piece_volume.lemon`.
    pub juice: Option<Input>,
    /// Weight of vinegar, juice or a strong solution, g/ml; `density.vinegar`. `None` for crystals.
    pub density: Option<Input>,
    /// Which acid it is.
    pub(crate) acid: Acid,
    source: AcidSource,
    amount: Option<AcidAmount>,
    /// Grams of the acid in a millimole.
    grams_per_millimole: f64,
}

impl AcidInputs {
    pub(crate) fn of(book: &BinderBook, jars: &Catalogue, at_hand: &AcidAtHand) -> Result<Self, BinderError> {
        let acid = at_hand.source.acid().ok_or(BinderError::Rennet)?;
        let juice = match at_hand.source {
            AcidSource::Lemon => Some(constant(book.constant("lemon.juice")?, "piece_volume.lemon", "ml")),
            _ => None,
        };
        Ok(Self {
            strength: strength(book, jars, at_hand)?,
            juice,
            density: density(book, jars, at_hand.source)?,
            acid,
            source: at_hand.source,
            amount: at_hand.amount,
            grams_per_millimole: book.grams_per_millimole(acid)?,
        })
    }

    pub(crate) fn all(&self) -> impl Iterator<Item = &Input> {
        std::iter::once(&self.strength).chain(&self.juice).chain(&self.density)
    }

    /// What one unit (ml, piece or g) of it amounts to.
    pub(crate) fn unit(&self, at: &dyn Fn(&Input) -> f64) -> AcidInUnit {
        let density = self.density.as_ref().map(at);
        let strength = at(&self.strength);
        let juice = self.juice.as_ref().map_or(0.0, at);
        let (acid, grams, millilitres) = match self.source.unit() {
            // Crystals go into the liquid almost without adding to it; a strong solution brings its volume.
            AcidUnit::Grams => (strength, 1.0, density.map_or(0.0, |density| 1.0 / density)),
            AcidUnit::Millilitres => (strength, density.unwrap_or(1.0), 1.0),
            AcidUnit::Pieces => (strength * juice, density.unwrap_or(1.0) * juice, juice),
        };
        AcidInUnit { acid: self.acid, millimoles: acid / self.grams_per_millimole, grams, millilitres, density }
    }

    /// How much is at hand, in ml, pieces or g; `None` if that was not said or can't be measured so.
    pub fn at_hand(&self, at: &dyn Fn(&Input) -> f64) -> Option<f64> {
        self.units(&self.unit(at)).ok().flatten()
    }

    /// How many units are at hand; `None` if that was not said.
    pub(crate) fn units(&self, unit: &AcidInUnit) -> Result<Option<f64>, BinderError> {
        let Some(amount) = self.amount else { return Ok(None) };
        let measured = self.source.unit();
        match (measured, amount, unit.density) {
            (AcidUnit::Millilitres, AcidAmount::Volume(volume), _) => Ok(Some(Millilitres::checked(volume.value())?.value())),
            (AcidUnit::Millilitres, AcidAmount::Mass(mass), Some(density)) => {
                Ok(Some(measure::Grams::checked(mass.value())?.value() / density))
            }
            (AcidUnit::Grams, AcidAmount::Mass(mass), _) => Ok(Some(measure::Grams::checked(mass.value())?.value())),
            (AcidUnit::Pieces, AcidAmount::Pieces(pieces), _) if (0.0..=1e6).contains(&pieces) => Ok(Some(pieces)),
            _ => Err(BinderError::AcidMeasure { acid: self.source.words(), unit: measured.words() }),
        }
    }
}

/// What one unit of an acid brings into the pot.
#[derive(Debug, Clone, Copy)]
pub(crate) struct AcidInUnit {
    acid: Acid,
    pub(crate) millimoles: f64,
    pub(crate) grams: f64,
    pub(crate) millilitres: f64,
    density: Option<f64>,
}

impl AcidInUnit {
    /// So many units; milk that takes `need` times the usual acid answers to each as usual milk does to less.
    pub(crate) fn pour(&self, units: f64, need: f64) -> Pour {
        Pour::of(self.acid, Millimoles::new(units * self.millimoles / need), Millilitres::new(units * self.millilitres))
    }
}

fn strength(book: &BinderBook, jars: &Catalogue, at_hand: &AcidAtHand) -> Result<Input, BinderError> {
    let source = at_hand.source;
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
    if let Some(strength) = at_hand.strength {
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

fn density(book: &BinderBook, jars: &Catalogue, source: AcidSource) -> Result<Option<Input>, DataError> {
    let from_jar = |id: &str, plain: &str| {
        let material = jar(jars, &MaterialId::new(id))?;
        property(material, "density", &format!("density.{id}"), plain, "g/ml").map(Some)
    };
    match source {
        AcidSource::Vinegar => Ok(Some(constant(book.constant("vinegar.density")?, "density.vinegar", "g/ml"))),
        AcidSource::LemonJuice | AcidSource::Lemon => from_jar("lemon-juice", "what a millilitre of lemon juice weighs"),
        AcidSource::LacticAcid => from_jar("lactic-acid", "what a millilitre of the solution weighs"),
        AcidSource::HydrochloricAcid => from_jar("hydrochloric-acid", "what a millilitre of the solution weighs"),
        AcidSource::CitricAcid | AcidSource::Rennet => Ok(None),
    }
}
