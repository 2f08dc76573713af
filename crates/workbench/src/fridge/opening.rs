//! What opens this curd: every base, how strong, how thick.

use binder::{Base, BinderBook, BinderError, CurdFigures, Dish, OpenFigures, OpenRequest, Opening, caught, dry_share, open_with_ranges};
use measure::{Draws, Input, Spread, Vessel, VesselSet};
use show::{BaseRow, CautionView, StrengthRow, capital, kitchen, number, percent, plain, write};

use super::told::{Told, dish_told, wrong};
use super::{BESIDE, FridgeForm};
use crate::Workbench;
use crate::curdle::ph_words;
use crate::dissolve::{even, input};
use crate::milk::MilkFormError;

/// The pot as the page shows it.
pub(super) struct Pot {
    pub(super) dishes: Vec<String>,
    pub(super) sentence: String,
    pub(super) more: Vec<String>,
    pub(super) bases: Vec<BaseRow>,
    pub(super) strengths: Vec<StrengthRow>,
    pub(super) strength: Vec<String>,
    pub(super) mind: Vec<CautionView>,
}

/// A level US teaspoon, ml.
fn teaspoon() -> f64 {
    VesselSet::US.holds(Vessel::Teaspoon).value()
}
const TABLE: Draws = Draws { count: 120, ..Draws::USUAL };
const MOST_ML: f64 = 200_000.0;
/// Strengths that are listed, per cent casein.
const STRENGTHS: [f64; 6] = [2.5, 5.0, 8.0, 10.0, 12.5, 15.0];

impl Workbench {
    pub(super) fn pot_of(&self, form: &FridgeForm, told: &Told, figures: &CurdFigures) -> Result<Pot, MilkFormError> {
        let book = BinderBook::builtin().map_err(BinderError::from)?;
        let (curd, share, dishes) = curd_told(form, told, figures)?;
        if form.water_ml.is_some_and(|water| !(0.0..=MOST_ML).contains(&water)) {
            return Err(wrong("water in the pot", "the water lies between 0 and 200 l, in ml"));
        }
        let usual = book.constant("opening.usual").map_err(BinderError::from)?.value;
        let target = form.ph.unwrap_or(usual);
        if !(5.0..=9.0).contains(&target) {
            return Err(wrong("pH", "casein is opened between pH 5 and 9; 6.8 is usual"));
        }
        let mut taken = Vec::new();
        let base_text = if form.base.trim().is_empty() { "baking soda" } else { form.base.as_str() };
        let (base, material, dose, base_share) = self.base_told(base_text, &mut taken)?;
        let casein = curd.best * share.best;
        let brushable = casein * (1.0 / ground::BRUSHABLE.value() - 1.0);
        let water = form.water_ml.unwrap_or((brushable - (curd.best - casein)).max(0.0));
        let request = OpenRequest {
            curd,
            dry_share: share,
            water: input("water", "water that goes in", water, Spread::Exact, "ml", "as told, or for a pot that brushes well"),
            base,
            dose,
            base_share,
            target,
            acid_left: figures.best.acid_left_eats,
        };
        let opened = open_with_ranges(&request, BESIDE)?;
        let bases = self.base_rows(&request)?;
        let (sentence, more) = self.pot_words(&request, &opened, &material.name, water, form.water_ml.is_some())?;
        let (strengths, strength) = strengths(book, casein);
        Ok(Pot { dishes, sentence, more, bases, strengths, strength, mind: self.pot_mind(&request, &opened)? })
    }

    /// Every base of the book for this casein, but caustic soda, which burns.
    fn base_rows(&self, request: &OpenRequest) -> Result<Vec<BaseRow>, MilkFormError> {
        let book = BinderBook::builtin().map_err(BinderError::from)?;
        let mut out = Vec::new();
        for base in Base::ALL.into_iter().filter(|base| *base != Base::CausticSoda) {
            let Some(material) = self.jars.material(&base.material()) else { continue };
            let loose = material.property("bulk_density").or_else(|| material.property("density"));
            let spoon = loose.map(|loose| {
                input("dose", "a level teaspoon", teaspoon() * loose.value, spread_of(loose.range, teaspoon()), "g", &loose.source)
            });
            let one = OpenRequest { base, base_share: base_share(self, base), dose: spoon, ..request.clone() };
            let found = open_with_ranges(&one, TABLE)?;
            let facts = book.base(base).map_err(BinderError::from)?;
            let ph = found.ph.filter(|_| base != Base::Lime);
            out.push(BaseRow {
                name: material.name.clone(),
                material: material.id.as_str().to_owned(),
                grams: write(&found.first_dose).line(),
                spoons: loose.map_or_else(String::new, |loose| spoons(found.first_dose.value, loose.value)),
                teaspoon: ph.as_ref().map_or_else(|| "not told: it sets".into(), ph_words),
                film: leaves(base, &facts.film),
                water: facts.water.clone(),
                keeping: facts.keeping.clone(),
                told: base == request.base,
            });
        }
        Ok(out)
    }

    fn pot_words(
        &self,
        request: &OpenRequest,
        opened: &OpenFigures,
        name: &str,
        water: f64,
        knows_water: bool,
    ) -> Result<(String, Vec<String>), MilkFormError> {
        let book = BinderBook::builtin().map_err(BinderError::from)?;
        let first = write(&opened.first_dose).line();
        let in_spoons = self
            .jars
            .material(&request.base.material())
            .and_then(|material| material.property("bulk_density").or_else(|| material.property("density")))
            .map(|loose| format!(", about {}", spoons(opened.first_dose.value, loose.value)))
            .unwrap_or_default();
        let begin = if request.base == Base::Lime {
            format!("Stir {first} of {name} into cold water, then into the curd: more than casein takes up, on purpose.")
        } else {
            format!("Begin with {first} of {name}{in_spoons}; warm to 40 to 60 °C and stir, then go by pH paper.")
        };
        let mut more = Vec::new();
        let ph = opened.ph.as_ref().map(ph_words).unwrap_or_default();
        let sentence = match (request.base, opened.opening) {
            (_, None) => begin,
            (Base::Lime, _) => "With lime it opens and sets: use the pot within 10 to 45 minutes.".into(),
            (_, Some(Opening::Grainy)) => format!("Too little {name}: it comes to {ph}, where curd swells and stays grainy."),
            (_, Some(Opening::Nearly)) => format!("Nearly enough {name}: it comes to {ph}, where some grains may stay."),
            (_, Some(Opening::Open)) => format!("That opens it: it comes to {ph}."),
            (_, Some(Opening::TooMuch)) => format!("That is more {name} than it needs: it comes to {ph}."),
        };
        if opened.opening.is_some() {
            more.push(format!("The need is {first} of {name}{in_spoons}."));
        }
        let water_words = if knows_water { "as told" } else { "so that it brushes well" };
        more.push(format!(
            "In the pot: {} of dry casein, {}\u{a0}ml of water beside that of the curd ({water_words}); {} casein.",
            write(&opened.casein).line(),
            plain(water),
            percent(opened.casein_share.value)
        ));
        if let Some(needed) = opened.base_needed.as_ref().filter(|_| request.base != Base::Lime) {
            more.push(format!("For pH {} it takes {} in all.", plain(request.target), write(needed).line()));
        }
        if request.acid_left.value() > 0.5 {
            let eats = request.acid_left.value() * book.grams_per_milliequivalent(request.base).map_err(BinderError::from)?
                / request.base_share.best;
            if eats > 0.05 * opened.first_dose.value {
                more.push(format!(
                    "The acid left in the curd eats up to {}\u{a0}g of {name} besides: rinse once more, or put that in too.",
                    plain(eats)
                ));
            }
        }
        if let Some(half) = &opened.ph_half_gone {
            more.push(format!(
                "Ammonia leaves the pot too: with half of it gone it stands at {}. It stays basic only while it is there; cover the pot.",
                ph_words(half)
            ));
        }
        if matches!(request.base, Base::BakingSoda | Base::AmmoniumBicarbonate | Base::AmmoniumCarbonate) {
            more.push("It fizzes: carbon dioxide has to leave before the base has worked. Stir until nothing fizzes, then judge.".into());
        }
        if matches!(request.base, Base::Borax | Base::BoraxPentahydrate) {
            let soda =
                OpenRequest { base: Base::BakingSoda, dose: None, base_share: base_share(self, Base::BakingSoda), ..request.clone() };
            let dose = open_with_ranges(&soda, TABLE)?.first_dose;
            more.push(format!("Without borax: {} of baking soda does the same.", write(&dose).line()));
        }
        let facts = book.base(request.base).map_err(BinderError::from)?;
        more.push(format!("{}; {}.", capital(&facts.film), facts.water));
        more.push(format!("Keeping: {}.", facts.keeping));
        Ok((sentence, more))
    }

    fn pot_mind(&self, request: &OpenRequest, opened: &OpenFigures) -> Result<Vec<CautionView>, MilkFormError> {
        let book = BinderBook::builtin().map_err(BinderError::from)?;
        let mut out: Vec<CautionView> = self.jar(request.base.material().as_str()).map(|jar| jar.cautions).unwrap_or_default();
        let own = |about: &str, text: String, codes: &str, source: &str| CautionView {
            about: about.into(),
            text,
            codes: codes.into(),
            source: source.into(),
            of_this_recipe: true,
            grave: false,
            jar_test: String::new(),
        };
        if matches!(request.base, Base::Borax | Base::BoraxPentahydrate) {
            let limit = book.constant("borax.limit").map_err(BinderError::from)?;
            let share = opened
                .borax_share
                .unwrap_or_else(|| opened.first_dose.value / (opened.casein.value + opened.water.value + opened.first_dose.value));
            let verdict = if share >= limit.value { "it is classed like borax itself" } else { "it stays below" };
            out.push(own(
                "borax",
                format!(
                    "About {}\u{a0}% of this pot is borax. From {}\u{a0}% the European Union classes the whole pot like borax itself (may harm fertility and the unborn child); {verdict}. Pregnant people and children do not use it or stand near. Follow the safety data sheet and local rules, or take a base without boron.",
                    number(100.0 * share, 1),
                    number(100.0 * limit.value, 1)
                ),
                "H360FD",
                &limit.source,
            ));
        }
        if request.base.escapes() {
            out.push(own("ammonia", binder::Warning::AmmoniaEscapes.text().into(), "", "common practice, no source"));
        }
        if request.base == Base::Lime {
            out.push(own(
                "lime",
                "Lime burns skin and, worst of all, eyes. Ventilate, and use the respirator, gloves and eye protection that the safety data sheet and local rules ask for. It sets in the pot: clean it before it does.".into(),
                "H315, H318, H335",
                "supplier safety data sheet, 2013",
            ));
        }
        Ok(out)
    }
}

/// What is left of the base in words: what leaves and what stays.
fn leaves(base: Base, film: &str) -> String {
    match base {
        Base::BakingSoda | Base::SodaAsh | Base::WashingSoda => format!("carbon dioxide leaves, {film}"),
        _ => film.to_owned(),
    }
}

/// Curd and its dry share: from the milk, or as weighed and dried.
fn curd_told(form: &FridgeForm, told: &Told, figures: &CurdFigures) -> Result<(Input, Input, Vec<String>), MilkFormError> {
    if form.curd_g.is_some_and(|grams| !(grams > 0.0 && grams <= MOST_ML)) {
        return Err(wrong("wet curd", "its weight lies above 0 and up to 200 kg, in g"));
    }
    let best = caught(&told.request, &told.inputs, &|input| input.best)?;
    let weight = form.curd_g.unwrap_or(best.wet_curd.value());
    let weighed = if form.curd_g.is_some() { "as weighed" } else { "worked out from the milk" };
    let curd = input("curd", "wet curd", weight, Spread::Exact, "g", weighed);
    let texts: Vec<&str> = form.dishes.split([',', ';', '\n', '\r']).map(str::trim).filter(|text| !text.is_empty()).collect();
    if texts.is_empty() {
        if form.curd_g.is_some() {
            // Weighed and not dried: the water share is what is usual for how it was drained.
            let water = &told.inputs.curd_water;
            let spread = match water.spread {
                Spread::Even(low, high) => Spread::Even(1.0 - high, 1.0 - low),
                _ => Spread::Exact,
            };
            let share = input("dry_share", "dry casein in it", 1.0 - water.best, spread, "1", &water.source);
            return Ok((curd, share, Vec::new()));
        }
        let share = best.casein.value() / best.wet_curd.value();
        let spread = Spread::Even(figures.casein.low / best.wet_curd.value(), figures.casein.high / best.wet_curd.value());
        return Ok((curd, input("dry_share", "dry casein in it", share, spread, "1", "worked out from the milk"), Vec::new()));
    }
    let dishes = texts.into_iter().map(dish_told).collect::<Result<Vec<Dish>, _>>()?;
    let share = dry_share(&dishes)?;
    let casein = share.casein_in(measure::Grams::new(weight));
    let spread = Spread::Even((casein.low / weight).max(0.0), (casein.high / weight).min(1.0));
    let mut words = vec![match share.spread {
        Some(spread) => format!(
            "Your {} dishes: {} of the curd stays when dry, {} apart from dish to dish.",
            dishes.len(),
            percent_fine(share.mean.value()),
            percent_fine(spread)
        ),
        None => format!(
            "Your dish: {} of the curd stays when dry. Dry a second one, and you know how far to trust it.",
            percent_fine(share.mean.value())
        ),
    }];
    words.push(format!(
        "So {}\u{a0}g of wet curd hold {} of dry casein, where the milk alone let one expect {}.",
        plain(weight),
        write(&casein).line(),
        write(&figures.casein).line()
    ));
    if form.curd_g.is_none() {
        words.push("Weigh the wet curd as well: so far its weight is only worked out from the milk.".into());
    }
    Ok((curd, input("dry_share", "dry casein in it", share.mean.value(), spread, "1", "your dishes, wet and dry"), words))
}

fn percent_fine(share: f64) -> String {
    format!("{}\u{a0}%", number(100.0 * share, 1))
}

fn spread_of(range: Option<(f64, f64)>, times: f64) -> Spread {
    even(range.map(|(low, high)| (low * times, high * times)))
}

/// Share of the base in what is sold.
pub(crate) fn base_share(bench: &Workbench, base: Base) -> Input {
    let solution =
        bench.jars.material(&base.material()).filter(|_| base.is_solution()).and_then(|material| material.property("volatile_share"));
    solution.map_or_else(
        || input("base_share", "base in it", 1.0, Spread::Exact, "1", "a solid"),
        |strength| input("base_share", "ammonia in it", strength.value, even(strength.range), "1", &strength.source),
    )
}

/// Grams of something loose in spoons and cups.
pub(crate) fn spoons(grams: f64, loose: f64) -> String {
    kitchen(grams / loose)
}

/// How much water for which strength, and how thick it is then.
fn strengths(book: &BinderBook, casein: f64) -> (Vec<StrengthRow>, Vec<String>) {
    let curve = book.viscosity();
    let rows = STRENGTHS
        .into_iter()
        .map(|strength| StrengthRow {
            strength: format!("{}\u{a0}%", plain(strength)),
            water: format!("{}\u{a0}ml", plain(casein * (100.0 / strength - 1.0))),
            thick: match (curve.at(strength), curve.span(strength)) {
                (Some(thick), Some((low, high))) => format!("{} mPa\u{a0}s ({})", number(thick, 0), show::range(low, high)),
                _ => "try it: nobody measured this".into(),
            },
        })
        .collect();
    let (weakest, strongest) = curve.brushable();
    let words = vec![
        format!(
            "It brushes well without powder from about {} to {}\u{a0}% casein: water has 1 mPa\u{a0}s, thin cream about 25.",
            number(weakest, 0),
            number(strongest, 1)
        ),
        "Borax and lime make it thicker than this; warmth makes it thinner, by a quarter or so for each 10 °C; with powder in it the powder decides.".into(),
        "After Gawalek and Wesolowski 2012, who measured from 2.5 to 12.5 %; the steepness is fitted, from memory, the brushable span common practice, no source.".into(),
    ];
    (rows, words)
}
