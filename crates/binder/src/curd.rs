//! The way from milk to a washed curd.

use measure::{Celsius, Grams, GramsPerMillilitre, Input, Millilitres, Millimoles, Share};

use crate::acid::PhReached;
use crate::book::BinderBook;
use crate::dissolve::base_dose;
use crate::error::BinderError;
use crate::inputs::MilkInputs;
use crate::milk::{casein_in_milk, curd_mass, milk_mass};
use crate::request::{AcidAmount, AcidUnit, MilkAmount, MilkRequest};
use crate::warning::Warning;
use crate::wash::{washed_share, washes_needed};

/// Whether the acid at hand brings the milk to its curdling point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Enough {
    /// The milk ends in the working window around the curdling point.
    Yes,
    /// Too little.
    No {
        /// What is there, as a share of what is needed.
        share: f64,
        /// What is missing, in the acid's unit.
        missing: f64,
    },
    /// More than the table of doses reaches.
    More {
        /// What is there above what is needed, in the acid's unit.
        over: f64,
    },
}

/// One batch of curd. Amounts are those of milk that got acid enough: if too little is at hand, the rest is taken as added.
#[derive(Debug, Clone, PartialEq)]
pub struct Curd {
    /// The milk by weight.
    pub milk: Grams,
    /// The milk by volume.
    pub milk_volume: Millilitres,
    /// Dry casein in the curd.
    pub casein: Grams,
    /// Milk fat in the curd, taken as all that the milk holds; nothing for skim milk.
    pub fat: Grams,
    /// The wet curd: casein, its water, and the fat.
    pub wet_curd: Grams,
    /// Water in the curd. It counts in the recipe.
    pub water_in_curd: Grams,
    /// Acid that goes in by weight, water and all.
    pub acid_poured: Grams,
    /// What drains off before rinsing.
    pub whey: Grams,
    /// How the acid is measured.
    pub acid_unit: AcidUnit,
    /// Acid for the curdling point, in that unit.
    pub acid_needed: f64,
    /// The same as an amount of substance.
    pub acid_needed_amount: Millimoles,
    /// Where the acid at hand leads; `None` if its amount was not said.
    pub ph_reached: Option<PhReached>,
    /// Whether it is enough; `None` if its amount was not said.
    pub enough: Option<Enough>,
    /// The pH from which milk of this warmth looks curdled; `None` if the warmth was not said. No sign to stop.
    pub curdles_from: Option<f64>,
    /// Part of the acid and milk sugar in the unwashed curd that the rinses leave.
    pub washed: Share,
    /// Milk sugar left in the curd, g for each g of casein.
    pub sugar_left: f64,
    /// Rinses of this size that bring the sugar to 1 % of the casein; `None` if no rinse of this size does.
    pub rinses_for_clean: Option<u32>,
    /// Base that opens the curd; for ammonia the solution.
    pub base: Option<Grams>,
    /// What to watch for.
    pub warnings: Vec<Warning>,
}

/// Water that drains from the curd weighs a gram to the millilitre, near enough.
const WATER: GramsPerMillilitre = GramsPerMillilitre::new(1.0);

/// Works out one batch; every doubtful number is read through `at`.
///
/// # Errors
/// No milk, rennet, an amount in a measure that does not fit the acid, or numbers that leave no whey.
///
/// ```
/// use binder::*;
/// use measure::Millilitres;
/// let request = MilkRequest {
///     milk: MilkAmount::Volume(Millilitres::new(1000.0)), kind: MilkKind::Skim, heated_before: false, warmth: None,
///     acid: AcidAtHand { source: AcidSource::Lemon, amount: Some(AcidAmount::Pieces(1.0)), strength: None },
///     washes: 3, wash: Millilitres::new(250.0), state: CurdState::Drained, base: Some(Base::BakingSoda),
/// };
/// let batch = curd(&request, &milk_inputs(&request)?, &|input| input.best)?;
/// assert!(matches!(batch.enough, Some(Enough::No { .. }))); // one lemon is not enough for a litre
/// # Ok::<(), BinderError>(())
/// ```
pub fn curd(request: &MilkRequest, inputs: &MilkInputs, at: &dyn Fn(&Input) -> f64) -> Result<Curd, BinderError> {
    let book = BinderBook::builtin()?;
    let (milk, milk_volume) = milk(request, at(&inputs.milk_density))?;
    let (casein_share, recovery) = (Share::new(at(&inputs.casein_share)), Share::new(at(&inputs.recovery)));
    let casein = casein_in_milk(milk, at(&inputs.protein), casein_share, recovery);
    let fat = milk * inputs.fat.as_ref().map_or(0.0, at);
    let without_fat = curd_mass(casein, Share::new(at(&inputs.curd_water)))?;
    let (wet_curd, water_in_curd) = (without_fat + fat, without_fat - casein);

    let acid = Pour::new(request, inputs, at);
    let line = book.doses(inputs.acid);
    let target = book.constant("curdling_point")?.value;
    let need = at(&inputs.acid_need);
    let lacking = || BinderError::Data { file: "binder.csv", line: 0, what: format!("the doses don't reach pH {target}") };
    let acid_needed_amount = line.acid_to_reach(milk_volume, target).ok_or_else(lacking)? * need;
    let acid_needed = acid_needed_amount.value() / acid.millimoles_per_unit;
    let given = request.acid.amount.map(|amount| acid.units(request, amount)).transpose()?;
    // Milk that needs more than the usual answers to each dose like usual milk to a smaller one.
    let ph_reached = given.map(|units| line.ph_reached(milk_volume, Millimoles::new(units * acid.millimoles_per_unit / need)));
    let mildest = book.constant("curdling_window.high")?.value;
    let enough = given.zip(ph_reached).map(|(units, ph)| match ph {
        PhReached::NotKnownBelow(_) => Enough::More { over: units - acid_needed },
        PhReached::At(ph) if ph <= mildest => Enough::Yes,
        _ => Enough::No { share: units / acid_needed, missing: acid_needed - units },
    });
    let acid_poured = Grams::new(given.unwrap_or(0.0).max(acid_needed) * acid.grams_per_unit);
    let whey = milk + acid_poured - wet_curd;
    if whey.value().is_nan() || whey.value() < 0.0 {
        return Err(BinderError::MoreCurdThanMilk);
    }

    let hold = water_in_curd / WATER;
    let wash = Millilitres::checked(request.wash.value())? * at(&inputs.wash_efficiency);
    let washed = washed_share(hold, wash, request.washes);
    let liquid = milk + acid_poured - casein - fat;
    let sugar_before = at(&inputs.lactose) / 100.0 * (milk / liquid) * (water_in_curd / casein);
    let goal = book.constant("wash.lactose_limit")?.value / 100.0;
    Ok(Curd {
        milk,
        milk_volume,
        casein,
        fat,
        wet_curd,
        water_in_curd,
        acid_poured,
        whey,
        acid_unit: request.acid.source.unit(),
        acid_needed,
        acid_needed_amount,
        ph_reached,
        enough,
        curdles_from: curdles_from(book, request)?,
        washed,
        sugar_left: sugar_before * washed.value(),
        rinses_for_clean: washes_needed(sugar_before / goal, hold, wash),
        base: base(inputs, at, casein),
        warnings: Warning::gather(request, inputs.acid, ph_reached),
    })
}

fn milk(request: &MilkRequest, density: f64) -> Result<(Grams, Millilitres), BinderError> {
    let density = GramsPerMillilitre::new(density);
    let (mass, volume) = match request.milk {
        MilkAmount::Volume(volume) => (milk_mass(Millilitres::checked(volume.value())?, density), volume),
        MilkAmount::Mass(mass) => (Grams::checked(mass.value())?, mass / density),
    };
    if mass.value() > 0.0 { Ok((mass, volume)) } else { Err(BinderError::NoMilk) }
}

fn curdles_from(book: &BinderBook, request: &MilkRequest) -> Result<Option<f64>, BinderError> {
    let Some(warmth) = request.warmth else { return Ok(None) };
    let warmth = Celsius::checked(warmth.value())?;
    Ok(Some(book.onset().curdles_from_ph(warmth, request.heated_before)))
}

fn base(inputs: &MilkInputs, at: &dyn Fn(&Input) -> f64, casein: Grams) -> Option<Grams> {
    let (need, grams) = (inputs.base_need.as_ref()?, inputs.grams_per_milliequivalent?);
    Some(base_dose(casein, at(need), grams) / inputs.base_strength.as_ref().map_or(1.0, at))
}

/// What one unit (ml, piece or g) of the acid at hand amounts to.
struct Pour {
    millimoles_per_unit: f64,
    grams_per_unit: f64,
    /// Weight of a millilitre, where it is measured so.
    density: Option<f64>,
}

impl Pour {
    fn new(request: &MilkRequest, inputs: &MilkInputs, at: &dyn Fn(&Input) -> f64) -> Self {
        let density = inputs.acid_density.as_ref().map(at);
        let strength = at(&inputs.acid_strength);
        let (acid, grams_per_unit) = match request.acid.source.unit() {
            AcidUnit::Grams => (strength, 1.0),
            AcidUnit::Millilitres => (strength, density.unwrap_or(1.0)),
            AcidUnit::Pieces => {
                let juice = inputs.juice.as_ref().map_or(0.0, at);
                (strength * juice, density.unwrap_or(1.0) * juice)
            }
        };
        Self { millimoles_per_unit: acid / inputs.grams_per_millimole, grams_per_unit, density }
    }

    fn units(&self, request: &MilkRequest, amount: AcidAmount) -> Result<f64, BinderError> {
        let unit = request.acid.source.unit();
        match (unit, amount, self.density) {
            (AcidUnit::Millilitres, AcidAmount::Volume(volume), _) => Ok(Millilitres::checked(volume.value())?.value()),
            (AcidUnit::Millilitres, AcidAmount::Mass(mass), Some(density)) => Ok(Grams::checked(mass.value())?.value() / density),
            (AcidUnit::Grams, AcidAmount::Mass(mass), _) => Ok(Grams::checked(mass.value())?.value()),
            (AcidUnit::Pieces, AcidAmount::Pieces(pieces), _) if (0.0..=1e6).contains(&pieces) => Ok(pieces),
            _ => Err(BinderError::AcidMeasure { acid: request.acid.source.words(), unit: unit.words() }),
        }
    }
}
