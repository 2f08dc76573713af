//! A pot of casein and base with its doubt.

use measure::{Draws, Figure, Grams, Input, Millilitres, Millimoles, Unit};

use crate::book::BinderBook;
use crate::dissolve::Base;
use crate::error::BinderError;
use crate::inputs::constant;
use crate::opening::{Gas, OpenCasein, OpenPot, Opening};

/// What is in the pot, each doubtful number with its spread.
#[derive(Debug, Clone, PartialEq)]
pub struct OpenRequest {
    /// Curd or casein as weighed, g.
    pub curd: Input,
    /// Share of it that is dry casein.
    pub dry_share: Input,
    /// Water that goes in beside that of the curd, ml.
    pub water: Input,
    /// What opens it.
    pub base: Base,
    /// How much of it is at hand, g; `None` if that was not said.
    pub dose: Option<Input>,
    /// Share of the base in what is at hand; 1 for a solid.
    pub base_share: Input,
    /// The pH that the pot is to come to.
    pub target: f64,
    /// Acid left in the curd.
    pub acid_left: Millimoles,
}

/// A pot as a page shows it.
#[derive(Debug, Clone, PartialEq)]
pub struct OpenFigures {
    /// Dry casein.
    pub casein: Figure,
    /// All water.
    pub water: Figure,
    /// Casein in casein and water, a share.
    pub casein_share: Figure,
    /// pH once it was stirred for an hour; `None` without an amount of base.
    pub ph: Option<Figure>,
    /// pH when all gas has gone that goes; `None` without an amount of base.
    pub ph_aired: Option<Figure>,
    /// pH when half of the ammonia has left the pot, for a base that leaves; `None` without an amount.
    pub ph_half_gone: Option<Figure>,
    /// Base, as it is at hand, that brings the pot to its goal; `None` where no amount does.
    pub base_needed: Option<Figure>,
    /// Base to begin with, as it is at hand; then go by pH paper.
    pub first_dose: Figure,
    /// How often the base at hand holds what the casein needs; `None` without an amount.
    pub times_needed: Option<Figure>,
    /// What the pot will look like; `None` without an amount.
    pub opening: Option<Opening>,
    /// Share of borax crystals in the pot, if it is borax; `None` without an amount.
    pub borax_share: Option<f64>,
}

struct Numbers {
    repulsion: Input,
    real_need: Input,
    first_dose: Input,
    need: f64,
    per_millimole: f64,
    per_milliequivalent: f64,
}

#[derive(Debug, Clone, Copy)]
struct Opened {
    casein: f64,
    water: f64,
    ph: f64,
    ph_aired: f64,
    ph_half_gone: f64,
    needed: f64,
    first: f64,
    times: f64,
}

/// Works out a pot of casein and its bands.
///
/// # Errors
/// No casein, no water, or numbers that are none.
pub fn open_with_ranges(request: &OpenRequest, draws: Draws) -> Result<OpenFigures, BinderError> {
    let book = BinderBook::builtin()?;
    let numbers = Numbers {
        repulsion: constant(book.constant("repulsion")?, "repulsion", "1"),
        real_need: constant(book.constant("base.real_need")?, "base_real_need", "1"),
        first_dose: constant(book.constant(request.base.dose_key())?, "base_need", "meq/g"),
        need: book.constant("base.need")?.value,
        per_millimole: book.base_grams_per_millimole(request.base)?,
        per_milliequivalent: book.grams_per_milliequivalent(request.base)?,
    };
    let best = opened(book, request, &numbers, &|input| input.best)?;
    let pots =
        (0..draws.count).map(|index| opened(book, request, &numbers, &|input| draws.value(input, index))).collect::<Result<Vec<_>, _>>()?;
    let figure = |key, unit, read: fn(&Opened) -> f64| Figure::from_draws(key, read(&best), pots.iter().map(read).collect(), unit);
    let told = request.dose.is_some();
    let borax = told && matches!(request.base, Base::Borax);
    let dose = request.dose.as_ref().map_or(0.0, |dose| dose.best);
    Ok(OpenFigures {
        casein: figure("open_casein", Unit::Grams, |pot| pot.casein),
        water: figure("open_water", Unit::Millilitres, |pot| pot.water),
        casein_share: figure("casein_share", Unit::One, |pot| pot.casein / (pot.casein + pot.water)),
        ph: told.then(|| figure("open_ph", Unit::Ph, |pot| pot.ph)),
        ph_half_gone: (told && request.base.escapes()).then(|| figure("open_ph", Unit::Ph, |pot| pot.ph_half_gone)),
        ph_aired: told.then(|| figure("film_ph", Unit::Ph, |pot| pot.ph_aired)),
        base_needed: best.needed.is_finite().then(|| figure("base_for_ph", Unit::Grams, |pot| pot.needed)),
        first_dose: figure("first_dose", Unit::Grams, |pot| pot.first),
        times_needed: told.then(|| figure("times_needed", Unit::One, |pot| pot.times)),
        opening: if told { Some(OpenCasein::usual(book)?.opening(best.ph)?) } else { None },
        borax_share: borax.then(|| dose / (best.casein + best.water + dose)),
    })
}

fn opened(book: &BinderBook, request: &OpenRequest, numbers: &Numbers, at: &dyn Fn(&Input) -> f64) -> Result<Opened, BinderError> {
    let (curd, dry, share) = (at(&request.curd), at(&request.dry_share), at(&request.base_share));
    let casein = curd * dry;
    let solution = request.dose.as_ref().map_or(0.0, at);
    let water = curd - casein + at(&request.water) + solution * (1.0 - share);
    if !(casein > 0.0 && water > 0.0 && share > 0.0) {
        return Err(BinderError::NoPot);
    }
    let open = OpenCasein::with_repulsion(book, at(&numbers.repulsion))?;
    let pot = OpenPot {
        // Casein that takes less base than the model says acts like less casein.
        casein: Grams::new(casein * at(&numbers.real_need)),
        water: Millilitres::new(water),
        base: request.base,
        dose: Millimoles::new(solution * share / numbers.per_millimole),
        acid_left: request.acid_left,
    };
    let (ph, ph_aired) =
        if request.dose.is_some() { (open.ph(&pot, Gas::Stirred)?, open.ph(&pot, Gas::Aired)?) } else { (f64::NAN, f64::NAN) };
    let ph_half_gone = if request.dose.is_some() && request.base.escapes() {
        open.ph(&OpenPot { dose: pot.dose * 0.5, ..pot }, Gas::Stirred)?
    } else {
        f64::NAN
    };
    // Judged when the gas has gone, as pH paper would on the next day: before that soda reads sourer than it will be.
    let needed = open.dose_to(request.target, &pot, Gas::Aired)?.map_or(f64::NAN, |dose| dose.value() * numbers.per_millimole / share);
    Ok(Opened {
        casein,
        water,
        ph,
        ph_aired,
        ph_half_gone,
        needed,
        first: casein * at(&numbers.first_dose) * numbers.per_milliequivalent / share,
        times: solution * share / numbers.per_milliequivalent / (casein * numbers.need),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use measure::{InputKey, Spread};

    fn exact(name: &str, best: f64) -> Input {
        Input { key: InputKey::new(name), plain: name.into(), best, spread: Spread::Exact, unit: "1", source: "by hand".into() }
    }

    fn request(base: Base, dose: Option<f64>) -> OpenRequest {
        OpenRequest {
            curd: exact("curd", 424.6),
            dry_share: Input { spread: Spread::Even(0.2, 0.25), ..exact("dry_share", 0.23) },
            water: exact("water", 600.0),
            base,
            dose: dose.map(|grams| exact("dose", grams)),
            base_share: exact("base_share", 1.0),
            target: 6.8,
            acid_left: Millimoles::ZERO,
        }
    }

    #[test]
    fn a_teaspoon_of_baking_soda_for_the_curd_of_a_gallon() {
        // By hand: 424.6 x 0.23 = 97.66 g; x 0.55 x 0.084007 = 4.51 g to begin with; 4.6 g / 84.007 = 54.76 meq on 97.66 x 0.6 = 58.6
        // is 0.934 times the need. Water 424.6 - 97.66 + 600 = 926.9 ml.
        let found = open_with_ranges(&request(Base::BakingSoda, Some(4.6)), Draws { count: 200, ..Draws::USUAL }).unwrap();
        assert!((found.casein.value - 97.66).abs() < 0.01 && (found.water.value - 926.9).abs() < 0.1);
        assert!((found.first_dose.value - 4.51).abs() < 0.01 && (found.times_needed.unwrap().value - 0.934).abs() < 0.002);
        let ph = found.ph.unwrap();
        assert!((6.3..=6.75).contains(&ph.value) && ph.low < ph.value && ph.value < ph.high, "{ph:?}");
        assert_eq!(found.opening, Some(Opening::Open));
        assert_eq!(found.borax_share, None);
    }

    #[test]
    fn an_amount_left_unsaid_leaves_the_ph_unknown() {
        let found = open_with_ranges(&request(Base::Borax, None), Draws { count: 50, ..Draws::USUAL }).unwrap();
        assert_eq!((found.ph, found.opening, found.borax_share), (None, None, None));
        // Casein at pH 6.8 takes 0.58 to 0.59 meq/g (between 0.540 at 6.6 and 0.625 at 7.0), and borate takes a little more: 11 g.
        assert!((found.base_needed.unwrap().value - 11.0).abs() < 0.6, "{:?}", found.base_needed);
    }

    #[test]
    fn what_cannot_be_is_refused() {
        let draws = Draws { count: 1, ..Draws::USUAL };
        for bad in [
            OpenRequest { curd: exact("curd", 0.0), ..request(Base::Borax, None) },
            OpenRequest { base_share: exact("base_share", 0.0), ..request(Base::Borax, None) },
            OpenRequest { curd: exact("curd", f64::NAN), ..request(Base::Borax, None) },
        ] {
            assert!(open_with_ranges(&bad, draws).is_err());
        }
    }
}
