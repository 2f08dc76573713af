//! The way from milk to a washed curd.

use measure::{Celsius, Grams, GramsPerMillilitre, Input, Millilitres, Millimoles, Share};

use crate::acid::PhReached;
use crate::acid_inputs::AcidInUnit;
use crate::book::BinderBook;
use crate::dissolve::base_dose;
use crate::error::BinderError;
use crate::inputs::MilkInputs;
use crate::milk::{casein_in_milk, curd_mass, milk_mass};
use crate::request::{AcidUnit, MilkAmount, MilkKind, MilkRequest};
use crate::souring::{MilkBalance, Near, Pour};
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
    /// So much that casein begins to dissolve again.
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
    /// Whey protein that fell with it; nothing for milk that was not hot before.
    pub whey_protein: Grams,
    /// Milk fat in the curd, taken as all that the milk holds; nothing for skim milk.
    pub fat: Grams,
    /// The wet curd: casein, whey protein, their water, and the fat.
    pub wet_curd: Grams,
    /// Water in the curd. It counts in the recipe.
    pub water_in_curd: Grams,
    /// Acid and water that go in by weight.
    pub acid_poured: Grams,
    /// What drains off before rinsing.
    pub whey: Grams,
    /// The same by volume.
    pub whey_volume: Millilitres,
    /// How the acid is measured.
    pub acid_unit: AcidUnit,
    /// Acid for the curdling point, in that unit.
    pub acid_needed: f64,
    /// The same by volume, a lemon as its juice; `None` for crystals.
    pub acid_volume: Option<Millilitres>,
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
    /// Acid left in the wet curd after the rinses.
    pub acid_left: Millimoles,
    /// The same as acetic acid that eats as much base: citric acid, which gave up about one proton of three by then, counts twice.
    pub acid_left_eats: Millimoles,
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

/// What the cloth catches of the milk.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Caught {
    /// The milk by weight.
    pub milk: Grams,
    /// The milk by volume.
    pub milk_volume: Millilitres,
    /// Dry casein in the curd.
    pub casein: Grams,
    /// Whey protein that fell with it.
    pub whey_protein: Grams,
    /// Milk fat in the curd.
    pub fat: Grams,
    /// The wet curd.
    pub wet_curd: Grams,
    /// Water in the curd.
    pub water_in_curd: Grams,
}

/// Part of the milk's volume that is not fat.
fn serum(inputs: &MilkInputs, at: &dyn Fn(&Input) -> f64) -> Result<f64, BinderError> {
    let Some(fat) = &inputs.fat else { return Ok(1.0) };
    Ok(1.0 - at(fat) * at(&inputs.milk_density) / BinderBook::builtin()?.constant("fat.density")?.value)
}

/// The curd's masses alone; they don't depend on the acid, as long as it is enough.
///
/// # Errors
/// No milk, or a water share that is none.
pub fn caught(request: &MilkRequest, inputs: &MilkInputs, at: &dyn Fn(&Input) -> f64) -> Result<Caught, BinderError> {
    let (milk, milk_volume) = milk(request, at(&inputs.milk_density))?;
    let (casein_share, recovery) = (Share::new(at(&inputs.casein_share)), Share::new(at(&inputs.recovery)));
    let casein = casein_in_milk(milk, at(&inputs.protein), casein_share, recovery);
    let fat = milk * inputs.fat.as_ref().map_or(0.0, at);
    let serum = serum(inputs, at)?;
    // What fell with the casein is lost through the cloth like the casein.
    let whey_protein = inputs.whey_joins.as_ref().map_or(Grams::ZERO, |joins| {
        Grams::new(milk_volume.value() / 1000.0 * inputs.makeup.whey_protein(at, serum) * at(joins)) * recovery.value()
    });
    let protein = casein + whey_protein;
    let without_fat = curd_mass(protein, Share::new(at(&inputs.curd_water)))?;
    Ok(Caught { milk, milk_volume, casein, whey_protein, fat, wet_curd: without_fat + fat, water_in_curd: without_fat - protein })
}

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
///     others: Vec::new(), water: Millilitres::ZERO,
///     washes: 3, wash: Millilitres::new(250.0), state: CurdState::Drained, base: Some(Base::BakingSoda),
/// };
/// let batch = curd(&request, &milk_inputs(&request)?, &|input| input.best)?;
/// assert!(matches!(batch.enough, Some(Enough::No { .. }))); // one lemon is not enough for a litre
/// # Ok::<(), BinderError>(())
/// ```
pub fn curd(request: &MilkRequest, inputs: &MilkInputs, at: &dyn Fn(&Input) -> f64) -> Result<Curd, BinderError> {
    curd_near(request, inputs, at, &mut Near::default())
}

/// The same, with every search beginning where that of the last batch ended.
pub(crate) fn curd_near(
    request: &MilkRequest,
    inputs: &MilkInputs,
    at: &dyn Fn(&Input) -> f64,
    near: &mut Near,
) -> Result<Curd, BinderError> {
    let book = BinderBook::builtin()?;
    let Caught { milk, milk_volume, casein, whey_protein, fat, wet_curd, water_in_curd } = caught(request, inputs, at)?;
    let sour = Souring::of(book, request, inputs, at)?;
    let target = book.constant("curdling_point")?.value;
    let (sourest, mildest) = (book.constant("curdling_window.low")?.value, book.constant("curdling_window.high")?.value);
    let acid_needed = sour
        .balance
        .units_from(target, milk_volume, &sour.beside, &sour.unit, near)
        .ok_or(BinderError::TooThin { acid: request.acid.source.words() })?;
    let acid_needed_amount = Millimoles::new(acid_needed * sour.acid.millimoles);
    let given = sour.given;
    let ph = match given {
        Some(units) => {
            let pour = sour.beside.and(&sour.acid.pour(units, sour.need));
            // The acid at hand leads near the curdling point as a rule.
            let found = sour.balance.ph_near(milk_volume, &pour, near.ph.unwrap_or(target), &mut near.guess)?;
            near.ph = Some(found);
            Some(found)
        }
        None => None,
    };
    let least = book.constant("model.sourest")?.value;
    let ph_reached = ph.map(|ph| PhReached::within(ph, least, sour.balance.makeup().ph + 1e-6));
    let enough = given.zip(ph).map(|(units, ph)| match ph {
        ph if ph < sourest => Enough::More { over: units - acid_needed },
        ph if ph <= mildest => Enough::Yes,
        _ => Enough::No { share: units / acid_needed, missing: acid_needed - units },
    });
    let first = given.unwrap_or(0.0).max(acid_needed);
    let acid_poured = Grams::new(first * sour.acid.grams) + sour.others_grams + request.water * WATER;
    let acid_amount = Millimoles::new(first * sour.acid.millimoles) + sour.others_amount;
    let whey = milk + acid_poured - wet_curd;
    if whey.value().is_nan() || whey.value() < 0.0 {
        return Err(BinderError::MoreCurdThanMilk);
    }

    let hold = water_in_curd / WATER;
    let wash = Millilitres::checked(request.wash.value())? * at(&inputs.wash_efficiency);
    let washed = washed_share(hold, wash, request.washes);
    let liquid = milk + acid_poured - casein - whey_protein - fat;
    let sugar_before = at(&inputs.lactose) / 100.0 * (milk / liquid) * (water_in_curd / casein);
    let goal = book.constant("wash.lactose_limit")?.value / 100.0;
    Ok(Curd {
        milk,
        milk_volume,
        casein,
        whey_protein,
        fat,
        wet_curd,
        water_in_curd,
        acid_poured,
        whey_volume: whey / GramsPerMillilitre::new(book.constant("whey.density")?.value),
        whey,
        acid_unit: request.acid.source.unit(),
        acid_needed,
        acid_volume: (sour.acid.millilitres > 0.0).then(|| Millilitres::new(acid_needed * sour.acid.millilitres)),
        acid_needed_amount,
        ph_reached,
        enough,
        curdles_from: curdles_from(book, request)?,
        washed,
        sugar_left: sugar_before * washed.value(),
        rinses_for_clean: washes_needed(sugar_before / goal, hold, wash),
        base: base(inputs, at, casein),
        acid_left: acid_amount * (water_in_curd / liquid * washed.value()),
        acid_left_eats: (Millimoles::new(first * sour.acid.millimoles * request.acid.source.eats()) + sour.others_eat)
            * (water_in_curd / liquid * washed.value()),
        warnings: Warning::gather(request, matches!(enough, Some(Enough::More { .. }))),
    })
}

pub(crate) fn milk(request: &MilkRequest, density: f64) -> Result<(Grams, Millilitres), BinderError> {
    let density = GramsPerMillilitre::new(density);
    let (mass, volume) = match request.milk {
        // Powder made up as milk: as much skim milk as holds its protein.
        _ if request.kind == MilkKind::Powder => return powdered(request, density),
        MilkAmount::Volume(volume) => (milk_mass(Millilitres::checked(volume.value())?, density), volume),
        MilkAmount::Mass(mass) => (Grams::checked(mass.value())?, mass / density),
    };
    if mass.value() > 0.0 { Ok((mass, volume)) } else { Err(BinderError::NoMilk) }
}

/// Skim milk that this much powder makes, at the usual strength.
fn powdered(request: &MilkRequest, density: GramsPerMillilitre) -> Result<(Grams, Millilitres), BinderError> {
    let MilkAmount::Mass(powder) = request.milk else { return Err(BinderError::PowderByWeight) };
    let book = BinderBook::builtin()?;
    let mass = Grams::checked(powder.value())? * (book.constant("protein.powder")?.value / book.constant("protein.skim")?.value);
    if mass.value() > 0.0 { Ok((mass, mass / density)) } else { Err(BinderError::NoMilk) }
}

pub(crate) fn curdles_from(book: &BinderBook, request: &MilkRequest) -> Result<Option<f64>, BinderError> {
    let Some(warmth) = request.warmth else { return Ok(None) };
    let warmth = Celsius::checked(warmth.value())?;
    Ok(Some(book.onset().curdles_from_ph(warmth, request.heated_before)))
}

fn base(inputs: &MilkInputs, at: &dyn Fn(&Input) -> f64, casein: Grams) -> Option<Grams> {
    let (need, grams) = (inputs.base_need.as_ref()?, inputs.grams_per_milliequivalent?);
    Some(base_dose(casein, at(need), grams) / inputs.base_strength.as_ref().map_or(1.0, at))
}

/// The milk, and what is poured into it.
pub(crate) struct Souring<'a> {
    pub(crate) balance: MilkBalance<'a>,
    /// Water and all acids but the one asked about.
    pub(crate) beside: Pour,
    /// One unit of the acid asked about.
    pub(crate) unit: Pour,
    pub(crate) acid: AcidInUnit,
    pub(crate) need: f64,
    /// Units of it at hand.
    pub(crate) given: Option<f64>,
    others_grams: Grams,
    others_amount: Millimoles,
    others_eat: Millimoles,
}

impl<'a> Souring<'a> {
    pub(crate) fn of(
        book: &'a BinderBook,
        request: &MilkRequest,
        inputs: &MilkInputs,
        at: &dyn Fn(&Input) -> f64,
    ) -> Result<Self, BinderError> {
        let need = at(&inputs.acid_need);
        let density = at(&inputs.milk_density);
        let casein = 10.0 * at(&inputs.protein) * at(&inputs.casein_share) * density;
        let makeup = inputs.makeup.milk(at, casein, serum(inputs, at)?);
        let acid = inputs.acid.unit(at);
        let mut beside = Pour { volume: Millilitres::checked(request.water.value())?, ..Pour::NOTHING };
        let (mut others_grams, mut others_amount, mut others_eat) = (Grams::ZERO, Millimoles::ZERO, Millimoles::ZERO);
        for (other, told) in inputs.others.iter().zip(&request.others) {
            let unit = other.unit(at);
            let units = other.units(&unit)?.ok_or(BinderError::NoAmount)?;
            beside = beside.and(&unit.pour(units, need));
            others_grams = others_grams + Grams::new(units * unit.grams);
            others_amount = others_amount + Millimoles::new(units * unit.millimoles);
            others_eat = others_eat + Millimoles::new(units * unit.millimoles * told.source.eats());
        }
        let given = inputs.acid.units(&acid)?;
        Ok(Self {
            balance: MilkBalance::new(book, makeup),
            beside,
            unit: acid.pour(1.0, need),
            acid,
            need,
            given,
            others_grams,
            others_amount,
            others_eat,
        })
    }
}
