//! Casein and what opens it.

use binder::{
    Base, BinderBook, MilkKind, MilkRequest, OpenFigures, OpenRequest, Opening, acid_in_curd, caught, dry_share, milk_inputs,
    open_with_ranges,
};
use materials::{Amount, Kind, Line, Material, Strength, Wishes, read};
use measure::{Dimension, Draws, Figure, Grams, Input, InputKey, Millilitres, Millimoles, Spread};
use show::{
    CautionReport, CurdQuestion, DissolveReport, DissolveView, FigureReport, InsteadReport, WarningReport, capital, number, plain, write,
};

use crate::curdle::{ph_words, state_told};
use crate::figure_rows::sheet;
use crate::fridge::dish_told;
use crate::milk::{MilkFormError, was_heated};
use crate::verdict::caution;
use crate::{VERSION, Workbench};

/// What a person says.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct DissolveForm {
    /// Casein as told, such as `100 g wet curd` or `50 g casein powder`; empty if it comes from milk.
    pub casein: String,
    /// Milk that the curd comes from, such as `1 l skim milk`; empty if the casein is told.
    pub curd_from: String,
    /// What opens it, with or without an amount, such as `1 tsp baking soda`.
    pub base: String,
    /// Water beside that of the curd, ml.
    pub water_ml: Option<f64>,
    /// The pH that the pot is to come to.
    pub ph: Option<f64>,
    /// Dishes of the curd weighed wet and dry, such as `10g:2.4g`; they say how much casein it holds.
    pub dishes: Vec<String>,
    /// How often the curd was rinsed; `None`: until it was clean.
    pub washes: Option<u32>,
    /// Water of one rinse, ml.
    pub wash_ml: Option<f64>,
    /// How the curd from milk is drained: `cloth`, which an empty word means too, `squeezed` or `scooped`.
    pub drained: String,
}

const MOST: f64 = 200_000.0;
const MOST_WASHES: u32 = 50;
/// Bases that are offered instead, all but borax: gentle ones that a kitchen has.
const INSTEAD: [Base; 3] = [Base::BakingSoda, Base::AmmoniumBicarbonate, Base::AmmoniumCarbonate];

/// The dry share that dishes say; `None` without a dish.
fn dried(form: &DissolveForm, curd: f64) -> Result<Option<Input>, MilkFormError> {
    if form.dishes.is_empty() {
        return Ok(None);
    }
    let dishes = form.dishes.iter().map(|text| dish_told(text)).collect::<Result<Vec<_>, _>>()?;
    let share = dry_share(&dishes)?;
    let casein = share.casein_in(Grams::new(curd));
    let spread = Spread::Even((casein.low / curd).max(0.0), (casein.high / curd).min(1.0));
    Ok(Some(input("dry_share", "dry casein in it", share.mean.value(), spread, "1", "dishes weighed wet and dry")))
}

/// Acid that too few rinses left in the curd's water; none if it was not said how often it was rinsed.
fn acid_left(form: &DissolveForm, curd: &Input, dry_share: &Input) -> Result<Millimoles, MilkFormError> {
    let Some(washes) = form.washes else { return Ok(Millimoles::ZERO) };
    let wrong = |field, what: &str| MilkFormError::Field { field, what: what.to_owned() };
    if washes > MOST_WASHES {
        return Err(wrong("washes", "rinse up to 50 times"));
    }
    if form.wash_ml.is_some_and(|ml| !(ml > 0.0 && ml <= MOST)) {
        return Err(wrong("wash-water", "the water of one rinse lies above 0 and up to 200 l"));
    }
    let water = curd.best * (1.0 - dry_share.best);
    // A rinse without its amount is taken as twice the water of the curd.
    Ok(acid_in_curd(Millilitres::new(water), washes, Millilitres::new(form.wash_ml.unwrap_or(2.0 * water)))?)
}

struct Told<'a> {
    request: OpenRequest,
    material: &'a Material,
    taken: Vec<String>,
    knows_water: bool,
    from_milk: bool,
    knows_rinses: bool,
}

impl Workbench {
    /// What this base does to this casein.
    ///
    /// # Errors
    /// A field that does not read; the message names it and the mend.
    ///
    /// ```
    /// use workbench::{DissolveForm, Workbench};
    /// let form = DissolveForm {
    ///     casein: "400 g drained curd".into(), base: "1 tsp baking soda".into(), water_ml: Some(500.0), ..DissolveForm::default()
    /// };
    /// let view = Workbench::open()?.dissolve(&form)?;
    /// assert_eq!(view.report.opening, "open");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn dissolve(&self, form: &DissolveForm) -> Result<DissolveView, MilkFormError> {
        let told = self.dissolve_told(form)?;
        let figures = open_with_ranges(&told.request, Draws::USUAL)?;
        let report = self.dissolve_report(&told, &figures)?;
        let (sentence, more) = sentences(&told, &figures, &report);
        Ok(DissolveView { sentence, more, report })
    }

    /// What stands behind a figure of `dissolve`, as text; an error names those that there are.
    ///
    /// # Errors
    /// There is no such figure.
    pub fn dissolve_figure(key: &str) -> Result<String, String> {
        const KEYS: [(&str, &str); 8] = [
            ("casein_g", "open_casein"),
            ("water_ml", "open_water"),
            ("casein_share", "casein_share"),
            ("ph", "open_ph"),
            ("film_ph", "film_ph"),
            ("base_for_ph_g", "base_for_ph"),
            ("first_dose_g", "first_dose"),
            ("times_needed", "times_needed"),
        ];
        let inside = KEYS.iter().find(|(told, _)| *told == key).map(|(_, inside)| *inside);
        inside.and_then(binder::figure_entry).map(sheet).ok_or_else(|| {
            let known: Vec<&str> = KEYS.iter().map(|(told, _)| *told).collect();
            format!("there is no figure `{key}`; the figures are {}", known.join(", "))
        })
    }

    fn dissolve_told(&self, form: &DissolveForm) -> Result<Told<'_>, MilkFormError> {
        let wrong = |field: &'static str, what: &str| MilkFormError::Field { field, what: what.to_owned() };
        let mut taken = Vec::new();
        let from_milk = form.casein.trim().is_empty();
        let (curd, dry_share) = if from_milk {
            if form.curd_from.trim().is_empty() {
                return Err(wrong("casein", "say how much curd or casein, such as “100 g wet curd”, or the milk it comes from"));
            }
            self.curd_of_milk(form, &mut taken)?
        } else {
            self.casein_told(&form.casein, &mut taken)?
        };
        let dry_share = match dried(form, curd.best)? {
            Some(weighed) => weighed,
            None => dry_share,
        };
        let acid_left = acid_left(form, &curd, &dry_share)?;
        if let Some(water) = form.water_ml
            && !(0.0..=MOST).contains(&water)
        {
            return Err(wrong("water", "the water lies between 0 and 200 l"));
        }
        let book = BinderBook::builtin().map_err(binder::BinderError::from)?;
        let usual = book.constant("opening.usual").map_err(binder::BinderError::from)?.value;
        let target = form.ph.unwrap_or(usual);
        if !(5.0..=9.0).contains(&target) {
            return Err(wrong("ph", "casein is opened between pH 5 and 9; 6.8 is usual"));
        }
        let (base, material, dose, base_share) = self.base_told(&form.base, &mut taken)?;
        let casein = curd.best * dry_share.best;
        // As much as makes a pot that still brushes well.
        let brushable = casein * (1.0 / ground::BRUSHABLE.value() - 1.0);
        let water = form.water_ml.unwrap_or((brushable - (curd.best - casein)).max(0.0));
        let request = OpenRequest {
            curd,
            dry_share,
            water: input("water", "water that goes in", water, Spread::Exact, "ml", "as told, or for a pot that brushes well"),
            base,
            dose,
            base_share,
            target,
            acid_left,
        };
        Ok(Told { request, material, taken, knows_water: form.water_ml.is_some(), from_milk, knows_rinses: form.washes.is_some() })
    }

    /// Dry casein caught from milk, taken as washed and drained.
    fn curd_of_milk(&self, form: &DissolveForm, taken: &mut Vec<String>) -> Result<(Input, Input), MilkFormError> {
        let (milk, amount) = self.milk_told(&form.curd_from, taken)?;
        let kind = MilkKind::from_material(&milk.id)
            .ok_or_else(|| MilkFormError::Field { field: "curd-from", what: "say how much skim, part-skim or whole milk".into() })?;
        let request = MilkRequest {
            milk: amount,
            kind,
            heated_before: was_heated(&form.curd_from),
            acid: binder::AcidAtHand { source: binder::AcidSource::Vinegar, amount: None, strength: None },
            others: Vec::new(),
            water: Millilitres::ZERO,
            warmth: None,
            washes: 3,
            wash: Millilitres::new(1000.0),
            state: state_told(&form.drained),
            base: None,
        };
        let inputs = milk_inputs(&request)?;
        let best = caught(&request, &inputs, &|input| input.best)?;
        let draws = Draws::USUAL;
        let mut all = Vec::with_capacity(draws.count);
        for index in 0..draws.count {
            all.push(caught(&request, &inputs, &|input| draws.value(input, index))?.casein.value() / best.casein.value());
        }
        let share = best.casein.value() / best.wet_curd.value();
        let curd = input("curd", "curd from the milk", best.wet_curd.value(), Spread::Exact, "g", "worked out from the milk");
        let spread = Spread::Measured(all.into_iter().map(|factor| factor * share).collect());
        Ok((curd, input("dry_share", "dry casein in the curd", share, spread, "1", "worked out from the milk")))
    }

    pub(crate) fn casein_told(&self, text: &str, taken: &mut Vec<String>) -> Result<(Input, Input), MilkFormError> {
        let wrong = || MilkFormError::Field {
            field: "casein",
            what: "say how much of which: wet curd, pressed curd or casein powder in g, such as “100 g wet curd”, above 0 and up to 200 kg"
                .into(),
        };
        let reading = read(self.jars, &self.units, text, &Wishes::new());
        let line = reading.lines.first().filter(|_| reading.lines.len() == 1).ok_or_else(wrong)?;
        let material = self.first(line).filter(|material| material.family == materials::Family::Casein && material.kind != Kind::Milk);
        let material = material.ok_or_else(wrong)?;
        if line.material.candidates.len() > 1 {
            taken.push(format!("That was taken as {}.", material.name));
        }
        let (curd, spread) = self.weighed(line, material, taken).ok_or_else(wrong)?;
        let dry = material.property("dry_share").ok_or_else(wrong)?;
        let share = if line.said_dry {
            input("dry_share", "dry casein in it", 1.0, Spread::Exact, "1", "told as dry")
        } else {
            input("dry_share", "dry casein in it", dry.value, even(dry.range), "1", &dry.source)
        };
        Ok((input("curd", "curd or casein as told", curd, spread, "g", "as told"), share))
    }

    pub(crate) fn base_told(&self, text: &str, taken: &mut Vec<String>) -> Result<(Base, &Material, Option<Input>, Input), MilkFormError> {
        let wrong = |what: &str| MilkFormError::Field { field: "base", what: what.to_owned() };
        self.amounts_read("base", text)?;
        let reading = read(self.jars, &self.units, text, &Wishes::new());
        let known = |material: &&Material| Base::from_material(&material.id).is_some();
        let line = reading.lines.iter().find(|line| self.first(line).is_some_and(|material| known(&material)));
        let material = line.and_then(|line| self.first(line)).or_else(|| self.named(text, Kind::Alkali)).filter(known);
        let material = material.ok_or_else(|| {
            wrong("casein is opened with baking soda, soda ash, borax, ammonia, ammonium carbonate, lime or triethanolamine; name one")
        })?;
        let base = Base::from_material(&material.id).ok_or_else(|| wrong("this does not open casein"))?;
        if base == Base::CausticSoda {
            return Err(wrong("caustic soda burns skin and eyes and cuts casein up; take baking soda or ammonium carbonate"));
        }
        let dose = match line.filter(|line| !matches!(line.amount, Amount::NotGiven(_))) {
            None => None,
            Some(line) => {
                let (grams, spread) = self
                    .weighed(line, material, taken)
                    .ok_or_else(|| wrong("say its amount in g, ml or spoons, above 0 and up to 200 kg, such as “1 tsp baking soda”"))?;
                Some(input("dose", "what opens it, as told", grams, spread, "g", "as told"))
            }
        };
        let share = match (base.is_solution(), line.and_then(|line| line.strength.as_ref())) {
            (false, _) => input("base_share", "base in it", 1.0, Spread::Exact, "1", "a solid"),
            (true, Some(Strength::Percent(strength))) => {
                let share = strength.middle() / 100.0;
                if !(0.005..=0.35).contains(&share) {
                    return Err(wrong("ammonia in water is sold with 0.5 to 35 % of it; read the label again"));
                }
                input("base_share", "ammonia in it", share, Spread::Exact, "1", "as you read it on the label")
            }
            (true, _) => {
                let strength = material.property("volatile_share").ok_or_else(|| wrong("its strength is not known"))?;
                input("base_share", "ammonia in it", strength.value, even(strength.range), "1", &strength.source)
            }
        };
        Ok((base, material, dose, share))
    }

    /// Grams of a line, and how far they are in doubt by its loose weight.
    pub(crate) fn weighed(&self, line: &Line, material: &Material, taken: &mut Vec<String>) -> Option<(f64, Spread)> {
        let (dimension, value) = self.quantity(line, taken)?;
        let (grams, spread) = if dimension == Dimension::Volume {
            let loose = material.property("bulk_density").or_else(|| material.property("density"))?;
            let spread = loose.range.map_or(Spread::Exact, |(low, high)| Spread::Even(value * low, value * high));
            (value * loose.value, spread)
        } else {
            (value, Spread::Exact)
        };
        (grams > 0.0 && grams <= MOST).then_some((grams, spread))
    }

    fn dissolve_report(&self, told: &Told<'_>, figures: &OpenFigures) -> Result<DissolveReport, MilkFormError> {
        let book = BinderBook::builtin().map_err(binder::BinderError::from)?;
        let base = told.request.base;
        let film = |base: Base| -> Result<String, MilkFormError> {
            let facts = book.base(base).map_err(binder::BinderError::from)?;
            Ok(format!("{}; {}.", capital(&facts.film), facts.water))
        };
        let mut instead = Vec::new();
        for other in INSTEAD.into_iter().filter(|other| *other != base) {
            let request = OpenRequest {
                base: other,
                dose: None,
                base_share: input("base_share", "base in it", 1.0, Spread::Exact, "1", "a solid"),
                ..told.request.clone()
            };
            let found = open_with_ranges(&request, Draws { count: 500, ..Draws::USUAL })?;
            let id = other.material();
            instead.push(InsteadReport {
                material: id.as_str().to_owned(),
                name: self.jars.material(&id).map_or_else(String::new, |material| material.name.clone()),
                first_dose_g: FigureReport::from(&found.first_dose),
                film: film(other)?,
            });
        }
        let not_said = |unit: &'static str| FigureReport::unknown(unit, "the amount of what opens it was not told");
        let report = |figure: &Option<Figure>, unit: &'static str| figure.as_ref().map_or_else(|| not_said(unit), FigureReport::from);
        let limit = book.constant("borax.limit").map_err(binder::BinderError::from)?.value;
        let mut cautions: Vec<CautionReport> =
            self.jar(told.material.id.as_str()).into_iter().flat_map(|jar| jar.cautions).map(|view| caution(&view)).collect();
        if figures.borax_share.is_some_and(|share| share >= limit) {
            cautions.push(CautionReport {
                material: "the pot".into(),
                codes: vec!["H360FD".into()],
                text: "With 0.3 % of borax or more the European Union classes the whole pot like borax itself: it may harm fertility and the unborn child. Pregnant people and children do not use it or stand near. Follow the safety data sheet and local rules, or take a base without boron.".into(),
                source: "Regulation (EU) 2021/849, from memory".into(),
            });
        }
        if base.escapes() {
            cautions.push(CautionReport {
                material: told.material.name.clone(),
                codes: Vec::new(),
                text: binder::Warning::AmmoniaEscapes.text().into(),
                source: "common practice, no source".into(),
            });
        }
        let warn = |id: &str, text: String| WarningReport { id: id.into(), text, at: "casein and base".into() };
        let mut warnings: Vec<WarningReport> = told.taken.iter().map(|text| warn("taken_as", text.clone())).collect();
        warnings.push(warn("acid_curd", "This holds for curd made with acid and rinsed. Rennet curd keeps its lime, and soda or borax hardly open it; sour curd eats base.".into()));
        Ok(DissolveReport {
            is: "groundproof dissolve 1",
            version: VERSION,
            warnings,
            casein_g: FigureReport::from(&figures.casein),
            water_ml: FigureReport::from(&figures.water),
            casein_share: FigureReport::from(&figures.casein_share),
            ph: report(&figures.ph, "pH"),
            film_ph: report(&figures.ph_aired, "pH"),
            ph_goal: told.request.target,
            base_for_ph_g: figures
                .base_needed
                .as_ref()
                .map_or_else(|| FigureReport::unknown("g", "no amount of it brings the pot there"), FigureReport::from),
            first_dose_g: FigureReport::from(&figures.first_dose),
            times_needed: report(&figures.times_needed, "1"),
            opening: match (base, figures.opening) {
                (_, None) => "not said",
                (Base::Lime, _) => "sets",
                (_, Some(Opening::Grainy)) => "grainy",
                (_, Some(Opening::Nearly)) => "nearly",
                (_, Some(Opening::Open)) => "open",
                (_, Some(Opening::TooMuch)) => "too much",
            },
            film: film(base)?,
            thickness: thickness(book, figures),
            borax_share: figures.borax_share,
            instead,
            questions: dissolve_questions(told),
            cautions,
        })
    }
}

pub(crate) fn thickness(book: &BinderBook, figures: &OpenFigures) -> String {
    let percent = 100.0 * figures.casein_share.value;
    match book.viscosity().at(percent) {
        Some(thick) => format!("About {}\u{a0}mPa\u{a0}s at 25 °C, where water has 1; borax and lime make it thicker.", number(thick, 0)),
        None if percent > 12.5 => "Thicker than anything measured; try it, and thin it if it does not brush.".into(),
        None => "Thin as water, near enough.".into(),
    }
}

fn dissolve_questions(told: &Told<'_>) -> Vec<CurdQuestion> {
    let ask = |id: &str, ask: String, assumed: String| CurdQuestion { id: id.into(), ask, assumed, choices: Vec::new(), narrows: None };
    let mut out = Vec::new();
    if told.request.dose.is_none() {
        out.push(ask(
            "amount:base",
            format!("How much {} goes in?", told.material.name),
            "nothing; the amounts to begin with are told".into(),
        ));
    }
    if !told.knows_water {
        let water = format!("{}\u{a0}ml, so that it brushes well", plain(told.request.water.best));
        out.push(ask("water", "How much water goes in beside that of the curd?".into(), water));
    }
    if told.from_milk && !told.knows_rinses {
        out.push(ask("rinsed", "Was the curd rinsed until it no longer smells sour?".into(), "yes".into()));
    }
    out
}

fn sentences(told: &Told<'_>, figures: &OpenFigures, report: &DissolveReport) -> (String, Vec<String>) {
    let name = &told.material.name;
    let first = write(&figures.first_dose).line();
    let begin = if told.request.base == Base::Lime {
        format!("Take {first} of {name}, stirred into cold water first; it is more than casein takes up, on purpose.")
    } else {
        format!("Begin with {first} of {name}, warm and stir until nothing fizzes, then go by pH paper.")
    };
    let ph = figures.ph.as_ref().map(ph_words).unwrap_or_default();
    let rest =
        if told.request.base.escapes() { "what is too much leaves as gas" } else { "what is too much stays in the film or blooms out" };
    let sentence = match report.opening {
        "sets" => "With lime it opens and sets: use the pot within 10 to 45 minutes.".to_owned(),
        "grainy" => format!("Too little: it comes to {ph}, where curd swells and stays grainy."),
        "nearly" => format!("Nearly: it comes to {ph}, where some grains may stay; warm it, and give it time."),
        "open" => format!("It opens: it comes to {ph}."),
        "too much" => format!("It opens, with more {name} than it needs: it comes to {ph}, and {rest}."),
        _ => format!("{begin} Dry casein in it: {}.", write(&figures.casein).line()),
    };
    let mut more = vec![format!("Dry casein: {}; water in all: {}.", write(&figures.casein).line(), write(&figures.water).line())];
    if figures.ph.is_some() {
        more.push(begin);
    }
    if let Some(needed) = figures.base_needed.as_ref().filter(|_| told.request.base != Base::Lime) {
        more.push(format!("For pH {} it takes {} of {name} in all.", plain(told.request.target), write(needed).line()));
    }
    if told.request.acid_left.value() > 0.5 {
        more.push(format!(
            "The curd still holds about {}\u{a0}mmol of acid, which eats as much base besides: rinse once more, or put more in.",
            plain(told.request.acid_left.value())
        ));
    }
    if let Some(half) = &figures.ph_half_gone {
        more.push(format!("Ammonia leaves the pot: with half of it gone it stands at {}; cover it.", ph_words(half)));
    }
    more.push(report.thickness.clone());
    more.push(report.film.clone());
    for other in &report.instead {
        if let Some(grams) = other.first_dose_g.value {
            more.push(format!("Without it: {}\u{a0}g of {} to begin with. {}", plain(grams), other.name, other.film));
        }
    }
    (sentence, more)
}

pub(crate) fn input(key: &str, plain: &str, best: f64, spread: Spread, unit: &'static str, source: &str) -> Input {
    Input { key: InputKey::new(key), plain: plain.to_owned(), best, spread, unit, source: source.to_owned() }
}

pub(crate) fn even(range: Option<(f64, f64)>) -> Spread {
    range.map_or(Spread::Exact, |(low, high)| Spread::Even(low, high))
}
