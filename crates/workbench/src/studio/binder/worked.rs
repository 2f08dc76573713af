//! A binder worked out anew from what was told: the engines of curd and of opening, with measurements in place of forecasts.

use std::sync::Arc;

use binder::{
    AcidAtHand, Base, BinderBook, BinderError, Change, ContentsFigures, CurdFigures, Dish, DryShare, Learned, MilkInputs, MilkMakeup,
    MilkRequest, OpenFigures, OpenRequest, PaperReading, caught, contents_with_ranges, curd_with_inputs, dry_share, learn, milk_inputs,
    open_with_ranges, poured, soak_water,
};
use making::{BinderStage, BinderWay, binder_ways};
use materials::{Family, Wishes, read};
use measure::{Celsius, Draws, Grams, Input, Millimoles, Spread};
use notebook::{Batch, Binder, BinderMeasure, BinderRoad, BinderSeen, BinderStep, Moment, Notebook};

use crate::Workbench;
use crate::curdle::CurdleForm;
use crate::dissolve::{even, input};
use crate::milk::MilkFormError;

/// Everything that was told of a binder, in the order of time.
#[derive(Debug, Clone)]
pub(super) struct ToldBinder<'a> {
    pub(super) record: &'a Binder,
    pub(super) steps: Vec<&'a BinderStep>,
    pub(super) measures: Vec<&'a BinderMeasure>,
    pub(super) batches: Vec<&'a Batch>,
}

impl<'a> ToldBinder<'a> {
    pub(super) fn of(state: &'a Notebook, id: &str) -> Option<Self> {
        Some(Self {
            record: &state.binders.get(id)?.record,
            steps: state.steps_of_binder(id).into_iter().map(|kept| &kept.record).collect(),
            measures: state.measures_of_binder(id).into_iter().map(|kept| &kept.record).collect(),
            batches: state.batches_with_binder(id).into_iter().map(|kept| &kept.record).collect(),
        })
    }

    pub(super) fn is_done(&self, step: &str) -> bool {
        self.steps.iter().any(|done| done.step == step)
    }

    /// Steps of its road, each rinse by itself: name, the row behind it.
    pub(super) fn road(&self, base: &str) -> Result<Vec<(String, &'static BinderWay)>, making::RowsError> {
        let mut out = Vec::new();
        for way in binder_ways(road_key(self.record.road), base)? {
            if way.each_rinse {
                out.extend((1..=self.record.rinses).map(|count| (format!("{}-{count}", way.step), way)));
            } else {
                out.push((way.step.clone(), way));
            }
        }
        Ok(out)
    }

    /// What the binder was when this was measured.
    fn stage(&self, measure: &BinderMeasure, road: &[(String, &'static BinderWay)]) -> BinderStage {
        let named = road.iter().find(|(step, _)| *step == measure.step).map(|(_, way)| way.stage);
        let opened = || self.steps.iter().any(|done| matches!(done.step.as_str(), "dissolve" | "melt") && done.at <= measure.at);
        named.unwrap_or_else(|| if opened() { BinderStage::Jar } else { BinderStage::Curd })
    }
}

pub(super) const fn road_key(road: BinderRoad) -> &'static str {
    match road {
        BinderRoad::Curd => "curd",
        BinderRoad::Bought => "bought",
        BinderRoad::Powder => "powder",
        BinderRoad::Glue => "glue",
    }
}

/// What the strength rests on, weakest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Rests {
    Milk,
    Told,
    Weighed,
    Dishes,
    JarDishes,
}

/// The base of a binder.
#[derive(Debug, Clone)]
pub(super) struct BaseTold {
    pub(super) base: Base,
    pub(super) name: String,
    share: Input,
    planned: Option<Input>,
    /// What truly went in, by when.
    added: Vec<(Moment, Input, Input)>,
}

/// A binder worked out.
#[derive(Debug, Clone)]
pub(crate) struct WorkedBinder {
    pub(super) jar: ContentsFigures,
    pub(super) rests: Rests,
    pub(super) base: Option<BaseTold>,
    pub(super) learned: Option<Learned>,
    pub(super) curd: Input,
    /// Dry casein or glue in a gram of it.
    pub(super) dry: Input,
    pub(super) milk: Option<(MilkRequest, MilkInputs)>,
    /// Water that goes in, all of it, grams.
    pub(super) water_plan: f64,
    /// Water of that which went in already.
    pub(super) water_in: f64,
    /// Base to begin with, for what is in the curd.
    pub(super) first_dose: f64,
    pub(super) taken: Vec<String>,
    /// Milk and acid with their bands, for the steps before the curd.
    pub(super) curd_figures: Option<CurdFigures>,
    /// The pot of casein and base with its bands.
    pub(super) open_figures: Option<OpenFigures>,
}

impl WorkedBinder {
    /// The road's table knows bases by family.
    pub(super) fn family(base: Option<Base>) -> &'static str {
        match base {
            None => "",
            Some(base) if base.escapes() => "ammonia",
            Some(Base::Borax | Base::BoraxPentahydrate) => "borax",
            Some(_) => "soda",
        }
    }
}

struct Stuff {
    curd: Input,
    dry: Input,
    other: Input,
    rests: Rests,
    milk: Option<(MilkRequest, MilkInputs)>,
    learned: Option<Learned>,
    acid_left: Millimoles,
}

/// Half of a band of eight in ten, in standard deviations.
const EIGHT_OF_TEN: f64 = 1.281_6;

fn of_dishes(share: &DryShare, key: &str, other: f64) -> Input {
    let band = share.casein_in(Grams::new(1.0));
    let best = (share.mean.value() - other).max(0.0);
    input(key, "what stays of a dried spoonful", best, Spread::Normal((band.high - band.value) / EIGHT_OF_TEN), "1", "your dishes")
}

fn dishes(pairs: &[(f64, f64)]) -> Vec<Dish> {
    pairs.iter().map(|(wet, dry)| Dish { wet: Grams::new(*wet), dry: Grams::new(*dry) }).collect()
}

fn wrong(field: &'static str, what: &str) -> MilkFormError {
    MilkFormError::Field { field, what: what.to_owned() }
}

impl Workbench {
    /// A binder worked out; remembered as long as nothing new is told of it.
    pub(super) fn worked_binder(&self, told: &ToldBinder<'_>) -> Result<Arc<WorkedBinder>, MilkFormError> {
        self.binders_worked.answer(told, || self.work_binder_out(told).map(Arc::new))
    }

    fn work_binder_out(&self, told: &ToldBinder<'_>) -> Result<WorkedBinder, MilkFormError> {
        let mut taken = Vec::new();
        let base = self.base_of(told, &mut taken)?;
        let road = told.road(WorkedBinder::family(base.as_ref().map(|base| base.base))).map_err(|why| wrong("steps", &why.to_string()))?;
        let stuff = self.stuff(told, &road, &mut taken)?;
        let dry = stuff.curd.best * stuff.dry.best;
        let wet = stuff.curd.best * (1.0 - stuff.dry.best - stuff.other.best);
        let book = BinderBook::builtin().map_err(BinderError::from)?;
        let brushable = match told.record.road {
            BinderRoad::Glue => soak_water(book, Grams::new(dry)).map_err(BinderError::from)?.1.value(),
            _ => dry * (1.0 / ground::BRUSHABLE.value() - 1.0) - wet,
        };
        let added: f64 = told.measures.iter().map(|one| if let BinderSeen::WaterAdded { grams } = one.seen { grams } else { 0.0 }).sum();
        let plan = told.record.water_g.unwrap_or(brushable).max(0.0);
        let poured_all = ["water", "soak"].iter().any(|step| told.is_done(step));
        let water_plan = if poured_all && added > 0.0 { added } else { plan.max(added) };
        let water =
            |grams: f64| input("water", "water that goes in", grams, Spread::Exact, "g", "as told, or for a binder that brushes well");
        let opening = match &base {
            None => None,
            Some(base) => Some(OpenRequest {
                curd: stuff.curd.clone(),
                dry_share: stuff.dry.clone(),
                water: water(water_plan),
                base: base.base,
                dose: base.dose(),
                base_share: base.share.clone(),
                target: book.constant("opening.usual").map_err(BinderError::from)?.value,
                acid_left: stuff.acid_left,
            }),
        };
        let first_dose = match &opening {
            None => 0.0,
            Some(request) => {
                let undosed = OpenRequest { dose: None, ..request.clone() };
                open_with_ranges(&undosed, Draws { count: 1, ..Draws::USUAL })?.first_dose.value
            }
        };
        let mut changes = vec![Change::Stuff { amount: stuff.curd.clone(), dry: stuff.dry.clone(), other: stuff.other.clone() }];
        if let Some(base) = base.as_ref().filter(|base| base.added.is_empty()) {
            let first = || input("dose", "what opens it", first_dose, Spread::Exact, "g", "worked out from the casein in it");
            changes.push(Change::Base { amount: base.planned.clone().unwrap_or_else(first), share: base.share.clone() });
        }
        changes.push(Change::Water(water(water_plan - added)));
        let (later, rests) = changes_after(told, &road, base.as_ref(), book)?;
        changes.extend(later);
        Ok(WorkedBinder {
            jar: contents_with_ranges(&changes, Draws::USUAL)?,
            rests: rests.unwrap_or(stuff.rests),
            learned: stuff.learned,
            curd_figures: stuff.milk.as_ref().and_then(|(request, inputs)| curd_with_inputs(request, inputs, Draws::USUAL).ok()),
            open_figures: opening.and_then(|request| open_with_ranges(&request, Draws { count: 500, ..Draws::USUAL }).ok()),
            curd: stuff.curd,
            dry: stuff.dry,
            milk: stuff.milk,
            water_plan,
            water_in: if poured_all { water_plan } else { added },
            first_dose,
            base,
            taken,
        })
    }

    /// What opens it; none where nothing does, or that is not told.
    pub(super) fn base_family(&self, told: &ToldBinder<'_>) -> Option<Base> {
        self.base_of(told, &mut Vec::new()).ok().flatten().map(|base| base.base)
    }

    fn base_of(&self, told: &ToldBinder<'_>, taken: &mut Vec<String>) -> Result<Option<BaseTold>, MilkFormError> {
        if told.record.road == BinderRoad::Glue {
            return Ok(None);
        }
        let (base, material, planned, share) = self.base_told(&told.record.base, taken)?;
        if base == Base::Lime {
            return Err(wrong("base", "lime casein sets within the hour, so there is no jar of it to keep; mix it in its pot"));
        }
        let mut added = Vec::new();
        for one in &told.measures {
            if let BinderSeen::BaseAdded { told } = &one.seen {
                let (other, _, dose, share) = self.base_told(told, taken)?;
                if other != base {
                    return Err(wrong("base", &format!("this binder is opened with {}; another base makes another binder", material.name)));
                }
                let dose =
                    dose.ok_or_else(|| wrong("base", "say how much of it went in, such as “5 g baking soda” or “1 tsp baking soda”"))?;
                added.push((one.at, dose, share));
            }
        }
        Ok(Some(BaseTold { base, name: material.name.clone(), share, planned, added }))
    }

    fn stuff(&self, told: &ToldBinder<'_>, road: &[(String, &'static BinderWay)], taken: &mut Vec<String>) -> Result<Stuff, MilkFormError> {
        let weighed =
            told.measures.iter().rev().find_map(|one| if let BinderSeen::CurdWeight { grams } = one.seen { Some(grams) } else { None });
        let pairs: Vec<(f64, f64)> = told
            .measures
            .iter()
            .filter(|one| told.stage(one, road) != BinderStage::Jar)
            .filter_map(|one| if let BinderSeen::Dishes { dishes } = &one.seen { Some(dishes.iter().copied()) } else { None })
            .flatten()
            .collect();
        let dried = if pairs.is_empty() { None } else { Some(dry_share(&dishes(&pairs))?) };
        let exact = |grams: f64| input("curd", "curd as weighed", grams, Spread::Exact, "g", "your scale");
        let none = || input("other_share", "fat and milk sugar in it", 0.0, Spread::Exact, "1", "left out");
        let rests = |otherwise| match (&dried, weighed) {
            (Some(_), _) => Rests::Dishes,
            (None, Some(_)) => Rests::Weighed,
            (None, None) => otherwise,
        };
        if told.record.road == BinderRoad::Curd {
            return milk_stuff(self, told, (weighed, dried.as_ref()), rests(Rests::Milk), taken);
        }
        let (amount, share) = if told.record.road == BinderRoad::Glue {
            self.dry_glue_told(&told.record.glue, taken)?
        } else {
            self.casein_told(&told.record.casein, taken)?
        };
        Ok(Stuff {
            curd: weighed.map_or(amount, exact),
            dry: dried.as_ref().map_or(share, |dried| of_dishes(dried, "dry_share", 0.0)),
            other: none(),
            rests: rests(Rests::Told),
            milk: None,
            learned: None,
            acid_left: Millimoles::ZERO,
        })
    }

    fn dry_glue_told(&self, text: &str, taken: &mut Vec<String>) -> Result<(Input, Input), MilkFormError> {
        let wrong = || wrong("glue", "say how much of which dry glue, such as “20 g hide glue” or “15 g gelatine”");
        let reading = read(self.jars, &self.units, text, &Wishes::new());
        let line = reading.lines.first().filter(|_| reading.lines.len() == 1).ok_or_else(wrong)?;
        let material = self.first(line).filter(|material| material.family == Family::Glue && material.id.as_str() != "glue-size");
        let material = material.ok_or_else(wrong)?;
        let (grams, spread) = self.weighed(line, material, taken).ok_or_else(wrong)?;
        let dry = material.property("dry_share").ok_or_else(wrong)?;
        Ok((
            input("curd", "glue as told", grams, spread, "g", "as told"),
            input("dry_share", "dry glue in it", dry.value, even(dry.range), "1", &dry.source),
        ))
    }

    /// The milk and acids of a binder, with these acids.
    fn milk_request(&self, record: &Binder, acids: &[String], taken: &mut Vec<String>) -> Result<MilkRequest, MilkFormError> {
        let form = CurdleForm {
            milk: record.milk.clone(),
            acids: if acids.is_empty() { vec!["white vinegar".into()] } else { acids.to_vec() },
            warmth_c: record.warmth_c,
            washes: record.rinses,
            wash_ml: record.rinse_ml,
            boiled: record.heated_before,
            drained: if record.squeezed { "squeezed" } else { "cloth" }.into(),
            water_ml: None,
        };
        let (request, _) = self.curdle_told(&form, taken)?;
        // A warmth that was not told is not taken for the room's here: the milk of a step is warmed.
        Ok(MilkRequest { warmth: record.warmth_c.map(Celsius::new), ..request })
    }

    /// What pH paper said while the milk was soured.
    fn learned(&self, told: &ToldBinder<'_>, taken: &mut Vec<String>) -> Result<Option<Learned>, MilkFormError> {
        let mut readings = Vec::new();
        let mut of = None;
        for one in &told.measures {
            let BinderSeen::Ph { ph, slack, poured: acids } = &one.seen else { continue };
            if one.step != "curdle" {
                continue;
            }
            let acids = if acids.is_empty() { &told.record.acids } else { acids };
            let request = self.milk_request(told.record, acids, taken)?;
            let given: Vec<AcidAtHand> = std::iter::once(&request.acid).chain(&request.others).copied().collect();
            readings.push(PaperReading { poured: poured(&given, request.water)?, ph: *ph, doubt: *slack });
            of = Some(request);
        }
        let Some(request) = of else { return Ok(None) };
        let book = BinderBook::builtin().map_err(BinderError::from)?;
        let milk = binder::curd(&request, &milk_inputs(&request)?, &|input| input.best)?.milk_volume;
        Ok(Some(learn(book, &MilkMakeup::usual(book).map_err(BinderError::from)?, milk, &readings)?))
    }
}

/// Curd from milk: forecast, weighed or dried.
fn milk_stuff(
    bench: &Workbench,
    told: &ToldBinder<'_>,
    (weighed, dried): (Option<f64>, Option<&DryShare>),
    rests: Rests,
    taken: &mut Vec<String>,
) -> Result<Stuff, MilkFormError> {
    let request = bench.milk_request(told.record, &told.record.acids, taken)?;
    let mut inputs = milk_inputs(&request)?;
    let learned = bench.learned(told, taken)?;
    if let Some(learned) = learned.as_ref().filter(|learned| !learned.strange) {
        inputs = learned.into_inputs(&inputs);
    }
    // The acid is no more than the milk: what weighs more than both was weighed with its bowl.
    let milk = binder::curd(&request, &inputs, &|input| input.best)?.milk_volume.value() * inputs.milk_density.best;
    if weighed.is_some_and(|weighed| weighed > milk) {
        return Err(wrong("curd", "it can't weigh more than the milk that it comes from; weigh it without its bowl"));
    }
    let best = caught(&request, &inputs, &|input| input.best)?;
    let draws = Draws::USUAL;
    let all = (0..draws.count).map(|index| caught(&request, &inputs, &|input| draws.value(input, index))).collect::<Result<Vec<_>, _>>()?;
    let other = best.fat / best.wet_curd;
    let (casein, wet) = (best.casein.value(), best.wet_curd.value());
    let grams = |best: f64, spread, source: &str| input("curd", "curd from the milk", best, spread, "g", source);
    let share = |best: f64, values: Vec<f64>| {
        input("dry_share", "dry casein in the curd", best, Spread::Measured(values), "1", "worked out from the milk")
    };
    let (curd, dry) = match (weighed, dried.map(|dried| of_dishes(dried, "dry_share", other))) {
        (Some(weight), Some(dry)) => (grams(weight, Spread::Exact, "your scale"), dry),
        (Some(weight), None) => {
            let shares = all.iter().map(|one| one.casein / one.wet_curd).collect();
            (grams(weight, Spread::Exact, "your scale"), share(casein / wet, shares))
        }
        // The milk tells the casein, the dishes how much water came with it.
        (None, Some(dry)) if dry.best > 0.0 => {
            let spread = Spread::Measured(all.iter().map(|one| one.casein.value() / dry.best).collect());
            (grams(casein / dry.best, spread, "worked out from the milk and your dishes"), dry)
        }
        _ => {
            let shares = all.iter().map(|one| one.casein.value() / wet).collect();
            (grams(wet, Spread::Exact, "worked out from the milk"), share(casein / wet, shares))
        }
    };
    // The best numbers alone: acid left hardly moves what opens the curd once it is rinsed.
    let acid_left = binder::curd(&request, &inputs, &|input| input.best)?.acid_left;
    Ok(Stuff {
        curd,
        dry,
        other: input("other_share", "milk fat in the curd", other, Spread::Exact, "1", "all that the milk holds"),
        rests,
        milk: Some((request, inputs)),
        learned,
        acid_left,
    })
}

impl BaseTold {
    /// All that went in, or is planned to; `None` if no amount was told.
    fn dose(&self) -> Option<Input> {
        if self.added.is_empty() {
            return self.planned.clone();
        }
        let ends = self.added.iter().map(|(_, dose, _)| match dose.spread {
            Spread::Even(low, high) => (low, high),
            _ => (dose.best, dose.best),
        });
        let (low, high) = ends.fold((0.0, 0.0), |sum, (low, high)| (sum.0 + low, sum.1 + high));
        let spread = if high > low { Spread::Even(low, high) } else { Spread::Exact };
        Some(input("dose", "what opens it, as told", self.given(), spread, "g", "as told"))
    }

    /// Grams that went in.
    pub(super) fn given(&self) -> f64 {
        self.added.iter().map(|(_, dose, _)| dose.best).sum()
    }

    /// Grams that were told beforehand.
    pub(super) fn planned(&self) -> Option<f64> {
        self.planned.as_ref().map(|planned| planned.best)
    }
}

/// What came after the curd, in the order of time, and what the strength rests on if the jar itself was dried.
fn changes_after(
    told: &ToldBinder<'_>,
    road: &[(String, &'static BinderWay)],
    base: Option<&BaseTold>,
    book: &BinderBook,
) -> Result<(Vec<Change>, Option<Rests>), MilkFormError> {
    let mut out: Vec<(Moment, Change)> = Vec::new();
    let mut rests = None;
    for (at, amount, share) in base.map(|base| base.added.as_slice()).unwrap_or_default() {
        out.push((*at, Change::Base { amount: amount.clone(), share: share.clone() }));
    }
    let left = book.constant("base.left").map_err(BinderError::from)?;
    let base_left = if base.is_some_and(|base| base.base.escapes()) {
        input("base_left", "part of the base that stays in a dish", 0.0, Spread::Exact, "1", "it leaves as gas")
    } else {
        input("base_left", &left.plain, left.value, even(left.range), "1", &left.source)
    };
    for one in &told.measures {
        let change = match &one.seen {
            BinderSeen::WaterAdded { grams } => {
                Change::Water(input("water_added", "water that went in", *grams, Spread::Exact, "g", "your scale"))
            }
            BinderSeen::Contents { grams } => Change::Weighed(Grams::new(*grams)),
            BinderSeen::Taken { grams, .. } => Change::Taken(Grams::new(*grams)),
            BinderSeen::Dishes { dishes: pairs } if told.stage(one, road) == BinderStage::Jar => {
                rests = Some(Rests::JarDishes);
                let share = of_dishes(&dry_share(&dishes(pairs))?, "jar_dish", 0.0);
                Change::Dried { share, base_left: base_left.clone() }
            }
            _ => continue,
        };
        out.push((one.at, change));
    }
    for batch in &told.batches {
        if let Some((grams, ready)) = batch.binder_g.zip(batch.ready) {
            out.push((ready, Change::Taken(Grams::new(grams))));
        }
    }
    out.sort_by_key(|(at, _)| *at);
    Ok((out.into_iter().map(|(_, change)| change).collect(), rests))
}
