//! A binder in words.

use binder::{BinderBook, Growth, Keeping, Moved, OpenCasein, OpenFigures, Opening};
use making::BinderWay;
use measure::{Figure, Unit};
use notebook::{Binder, BinderRoad, BinderSeen, Kept, Moment, Notebook};
use show::{
    BinderKeeping, BinderMeasureRow, BinderRow, BinderStepState, BinderStepView, BinderStrength, BinderTimer, BinderUse, BinderView,
    BinderWait, BindersView, FigureReport, clock_words, lasting, number, plain, write,
};

use super::measure_kinds::{asks_of, said};
use super::recipe::material_of;
use super::worked::{Rests, ToldBinder, WorkedBinder, road_key};
use super::{asks, figures};
use crate::Workbench;

impl Workbench {
    /// A binder as its page shows it; `None` if it is not there.
    pub fn binder_view(&self, state: &Notebook, id: &str, now: Moment) -> Option<BinderView> {
        let kept = state.binders.get(id)?;
        let told = ToldBinder::of(state, id)?;
        let record = &kept.record;
        let keeping = keeping_of(&told, now);
        let mut view = BinderView {
            id: id.to_owned(),
            from: kept.n,
            name: record.name.clone(),
            title: format!("Binder {}", record.name),
            what: what(record),
            road: road_key(record.road),
            next: String::new(),
            then: String::new(),
            timer: None,
            steps: Vec::new(),
            strength: unknown_strength("it can't be worked out as told"),
            learned: Vec::new(),
            figures: Vec::new(),
            asks: asks_of(record.road == BinderRoad::Glue),
            notes: Vec::new(),
            measures: measures(state, id),
            used_in: used_in(state, id),
            keeping,
            lots: record
                .lots
                .iter()
                .map(|lot| {
                    state.jars.get(lot).map_or_else(
                        || "a jar that was taken back".to_owned(),
                        |jar| {
                            let about = [&jar.record.name, &jar.record.maker, &jar.record.lot].map(String::as_str);
                            about.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(", ")
                        },
                    )
                })
                .collect(),
            closed: record.closed.map_or_else(String::new, |at| format!("{}: {}", at, record.closed_why)),
            note: record.note.clone(),
            in_a_recipe: format!(
                "100 g {}, jar {}",
                if material_of(record.road) == "glue-size" { "glue size" } else { "casein binder" },
                record.name
            ),
        };
        match self.worked_binder(&told) {
            Ok(worked) => fill(&mut view, state, &told, &worked, now),
            Err(why) => {
                view.next = format!("Say anew what goes into it: {why}");
                view.strength = unknown_strength(&why.to_string());
            }
        }
        if record.closed.is_some() {
            view.next = format!("This binder was closed: {}.", record.closed_why);
            (view.then, view.timer) = (String::new(), None);
        }
        Some(view)
    }

    /// All binders, those in use first.
    pub fn binders(&self, state: &Notebook, now: Moment) -> BindersView {
        let mut kept: Vec<&Kept<Binder>> = state.binders.values().map(AsRef::as_ref).collect();
        kept.sort_by_key(|kept| (kept.record.closed.is_some(), std::cmp::Reverse(kept.first), std::cmp::Reverse(kept.n)));
        let rows: Vec<BinderRow> = kept
            .into_iter()
            .filter_map(|kept| self.binder_view(state, &kept.subject, now))
            .map(|view| BinderRow {
                closed: !view.closed.is_empty(),
                id: view.id,
                name: view.name,
                what: view.what,
                next: view.next,
                strength: view.strength.sentence,
                keeping: view.keeping,
            })
            .collect();
        let next = match rows.iter().find(|row| !row.closed) {
            Some(row) => format!("{}: {}", row.name, row.next),
            None => "Make a jar of binder: say what you have.".into(),
        };
        BindersView { next, binders: rows }
    }

    /// How long a binder keeps; `None` if it is not there.
    pub fn binder_keeping(&self, state: &Notebook, id: &str, now: Moment) -> Option<BinderKeeping> {
        ToldBinder::of(state, id).map(|told| keeping_of(&told, now))
    }
}

fn fill(view: &mut BinderView, state: &Notebook, told: &ToldBinder<'_>, worked: &WorkedBinder, now: Moment) {
    let open = worked.open_figures.as_ref();
    view.notes.clone_from(&worked.taken);
    view.notes.sort();
    view.notes.dedup();
    view.steps = steps_of(state, &view.id, told, worked, open);
    let waiting = view.steps.iter().rev().find(|step| step.state == BinderStepState::Done).and_then(|step| step.wait.as_ref());
    let step = view.steps.iter().find(|step| step.state == BinderStepState::Now).map(|step| step.sentence.clone());
    let timer = waiting.zip(step.as_ref()).and_then(|(wait, _)| timer(wait, now));
    (view.next, view.then) = match (step, &timer) {
        _ if view.keeping.word == "bin" => (view.keeping.text.clone(), String::new()),
        (Some(step), Some(timer)) if timer.now < timer.turns[0] => (timer.early.clone(), step),
        (Some(step), _) => (step, String::new()),
        (None, _) => ("All steps are done. Weigh what is left, or close it.".into(), String::new()),
    };
    view.timer = timer.filter(|_| view.keeping.word != "bin");
    view.figures = figures::rows(worked);
    view.strength = strength(worked, open);
    view.learned = learned(told, worked, open);
}

/// The wait behind the step that was done last.
fn timer(wait: &BinderWait, now: Moment) -> Option<BinderTimer> {
    let [first, _, last] = wait.until?;
    let clock = |seconds: i64| {
        let (day, minute) = Moment { seconds, ..now }.local();
        let clock = clock_words(i32::try_from(minute).unwrap_or(0));
        if day == now.local().0 { clock } else { format!("{clock} on {day}") }
    };
    Some(BinderTimer {
        early: format!("Let it stand: it is ready between {} and {}.", clock(first), clock(last)),
        ready: format!(
            "It has stood since {}, and may be ready: look. {} at the latest.",
            clock(first - 60 * i64::from(wait.minutes[0])),
            clock(last)
        ),
        over: format!("It has stood long enough: it was to be ready by {}.", clock(last)),
        turns: [first, last],
        now: now.seconds,
    })
}

fn steps_of(state: &Notebook, id: &str, told: &ToldBinder<'_>, worked: &WorkedBinder, open: Option<&OpenFigures>) -> Vec<BinderStepView> {
    let family = WorkedBinder::family(worked.base.as_ref().map(|base| base.base));
    let Ok(road) = told.road(family) else { return Vec::new() };
    let curd = worked.curd_figures.as_ref();
    let done = state.steps_of_binder(id);
    let mut seen_open = false;
    let mut out = Vec::new();
    for (name, way) in road {
        let kept = done.iter().find(|kept| kept.record.step == name);
        let at = kept.map(|kept| kept.record.at);
        let step = match (at, seen_open) {
            (Some(_), _) => BinderStepState::Done,
            (None, false) => BinderStepState::Now,
            (None, true) => BinderStepState::Later,
        };
        seen_open |= at.is_none();
        let amount = amount(way, told.record, worked, curd, open);
        out.push(BinderStepView {
            sentence: way.what.replace("{amount}", &amount),
            state: step,
            amount,
            figure: way.figure.clone(),
            done_at: at.map_or_else(String::new, |at| at.to_string()),
            entry: kept.map(|kept| kept.n),
            wait: way.wait.map(|wait| {
                let minutes = [wait.low.count(), wait.usual.count(), wait.high.count()];
                let until = at.map(|at| minutes.map(|minutes| at.seconds + i64::from(minutes) * 60));
                BinderWait {
                    words: format!("{} to {}", lasting(i64::from(wait.low.count())), lasting(i64::from(wait.high.count()))),
                    minutes,
                    until,
                }
            }),
            measure: asks(&way.measure),
            caution: way.caution.0.clone(),
            caution_source: way.caution.1.clone(),
            source: way.source.clone(),
            id: name,
        });
    }
    out
}

pub(super) fn what(record: &Binder) -> String {
    let parts: Vec<&str> = match record.road {
        BinderRoad::Curd => std::iter::once(record.milk.as_str()).chain(record.acids.iter().map(String::as_str)).collect(),
        BinderRoad::Bought | BinderRoad::Powder => vec![record.casein.as_str()],
        BinderRoad::Glue => vec![record.glue.as_str()],
    };
    let base = Some(record.base.as_str()).filter(|base| !base.is_empty() && record.road != BinderRoad::Glue);
    parts.into_iter().chain(base).collect::<Vec<_>>().join(", ")
}

fn amount(
    way: &BinderWay,
    record: &Binder,
    worked: &WorkedBinder,
    curd: Option<&binder::CurdFigures>,
    open: Option<&OpenFigures>,
) -> String {
    let grams = |grams: f64| format!("{}\u{a0}g", plain(grams));
    match (way.take.as_str(), curd) {
        ("acid", Some(curd)) => {
            let told = record.acids.first().map_or("white vinegar", String::as_str);
            let lemons = curd.best.acid_unit == binder::AcidUnit::Pieces;
            let needed = curd.acid_volume.as_ref().filter(|_| !lemons).unwrap_or(&curd.acid_needed);
            let needed = format!("{}{}", write(needed).line(), if lemons { " lemons" } else { "" });
            let has_size = worked.milk.as_ref().is_some_and(|(request, _)| request.acid.amount.is_some());
            let first = match curd.best.enough {
                _ if !has_size => format!("{needed} of {told}"),
                Some(binder::Enough::No { .. }) => format!("{told}; it is not enough, pH 4.6 wants {needed}"),
                _ => format!("{told}; pH 4.6 wants {needed}"),
            };
            record.acids.iter().skip(1).fold(String::new(), |said, acid| said + acid + ", then ") + &first
        }
        ("whey", Some(curd)) => write(&curd.whey).line(),
        ("rinse", _) => worked.milk.as_ref().map_or_else(String::new, |(milk, _)| format!("{}\u{a0}ml", plain(milk.wash.value()))),
        ("curd", Some(curd)) if worked.rests < Rests::Weighed => write(&curd.wet_curd).line(),
        ("curd", _) => grams(worked.curd.best),
        ("base", _) => worked.base.as_ref().map_or_else(String::new, |base| {
            let first = open.map_or_else(|| grams(worked.first_dose), |open| write(&open.first_dose).line());
            format!("{first} of {}", base.name)
        }),
        ("water", _) => grams((worked.water_plan - worked.water_in).max(0.0)),
        _ => String::new(),
    }
}

fn unknown_strength(why: &str) -> BinderStrength {
    let unknown = |unit| FigureReport::unknown(unit, why);
    BinderStrength {
        sentence: format!("How strong it is, is not known: {why}."),
        rests_on: "nothing yet",
        share: unknown("1"),
        dry_g: unknown("g"),
        water_g: unknown("g"),
        total_g: unknown("g"),
        base_g: unknown("g"),
        water_to_add_g: unknown("g"),
    }
}

const fn rests_words(rests: Rests) -> &'static str {
    match rests {
        Rests::Milk => "forecast from the milk",
        Rests::Told => "what was told of it",
        Rests::Weighed => "your curd was weighed",
        Rests::Dishes => "your dishes were dried",
        Rests::JarDishes => "dishes of the binder itself were dried",
    }
}

/// How strong it is, and what that rests on.
pub(super) fn strong_words(worked: &WorkedBinder) -> String {
    format!("{}; {}.", in_a_hundred(worked), rests_words(worked.rests))
}

fn in_a_hundred(worked: &WorkedBinder) -> String {
    let hundred = write(&worked.jar.share.times(100.0));
    let range = if hundred.range.is_empty() { String::new() } else { format!(" ({})", hundred.range) };
    let dry = if worked.base.is_some() { "dry casein" } else { "dry glue" };
    format!("{}\u{a0}g of {dry} in 100\u{a0}g of it{range}", hundred.value)
}

fn strength(worked: &WorkedBinder, open: Option<&OpenFigures>) -> BinderStrength {
    let rests_on = rests_words(worked.rests);
    let jar = &worked.jar;
    let given = worked.base.as_ref().map_or(0.0, super::worked::BaseTold::given);
    BinderStrength {
        sentence: format!(
            "{}; about {}\u{a0}g in all. It rests on this: {rests_on}.",
            in_a_hundred(worked),
            plain(jar.best.total().value())
        ),
        rests_on,
        share: FigureReport::from(&jar.share),
        dry_g: FigureReport::from(&jar.dry),
        water_g: FigureReport::from(&jar.water),
        total_g: FigureReport::from(&jar.total),
        base_g: open.map_or_else(
            || FigureReport::unknown("g", "nothing opens it"),
            |open| {
                let left = |grams: f64| (grams - given).max(0.0);
                let dose = &open.first_dose;
                FigureReport::from(&Figure { value: left(dose.value), low: left(dose.low), high: left(dose.high), ..*dose })
            },
        ),
        water_to_add_g: FigureReport::from(&Figure::exact("open_water", (worked.water_plan - worked.water_in).max(0.0), Unit::Grams)),
    }
}

/// What readings of paper moved: from where to where.
fn learned(told: &ToldBinder<'_>, worked: &WorkedBinder, open: Option<&OpenFigures>) -> Vec<String> {
    let mut out = Vec::new();
    if let (Some(learned), Ok(book)) = (&worked.learned, BinderBook::builtin()) {
        let usual = |key: &str| book.constant(key).map_or((0.0, 0.0), |found| found.range.unwrap_or((found.value, found.value)));
        let moved = |what: &str, key: &str, to: &Figure, unit: &str| {
            let (low, high) = usual(key);
            format!(
                "Your pH paper moved {what} from {}{unit} to {}{unit} (likely {}).",
                show::range(low, high),
                write(to).value,
                show::range(to.low, to.high)
            )
        };
        out.push(if learned.strange {
            "Your pH paper reads further off than this milk and acid can be: read again, or tell the acid anew. It moved nothing.".into()
        } else {
            match learned.moved {
                Moved::Need => moved("how much acid this milk takes, beside the usual,", "acid_need", &learned.need, " times"),
                Moved::Casein => moved("the casein in this milk", "milk.casein", &learned.casein, "\u{a0}g/l"),
                Moved::Nothing => "Your pH paper fits what was worked out; it moved nothing.".into(),
            }
        });
    }
    let read = told.measures.iter().rev().find_map(|one| match one.seen {
        BinderSeen::Ph { ph, .. } if one.step != "curdle" => Some(ph),
        _ => None,
    });
    if let (Some(ph), Some(base), Some(open)) = (read, &worked.base, open)
        && let Some(opening) = BinderBook::builtin().ok().and_then(|book| OpenCasein::usual(book).ok()?.opening(ph).ok())
    {
        let given = if base.given() > 0.0 { base.given() } else { base.planned().unwrap_or(0.0) };
        let more = open.base_needed.as_ref().map(|needed| needed.value - given).filter(|more| *more > 0.0);
        let more = more.map_or_else(String::new, |more| format!(" About {}\u{a0}g more of {} would do.", number(more, 1), base.name));
        let ph = number(ph, 1);
        out.push(match opening {
            Opening::Grainy => format!("At pH {ph} curd swells and stays grainy.{more}"),
            Opening::Nearly => format!("At pH {ph} some grains may stay; warm it, and give it time.{more}"),
            Opening::Open => format!("At pH {ph} it opens."),
            Opening::TooMuch => format!("At pH {ph} there is more {} in it than it needs; add no more.", base.name),
        });
    }
    out
}

fn measures(state: &Notebook, id: &str) -> Vec<BinderMeasureRow> {
    let rows = state.measures_of_binder(id).into_iter().rev();
    rows.map(|kept| BinderMeasureRow {
        entry: kept.n,
        at: kept.record.at.to_string(),
        step: kept.record.step.clone(),
        text: said(&kept.record.seen),
        note: kept.record.note.clone(),
    })
    .collect()
}

fn used_in(state: &Notebook, id: &str) -> Vec<BinderUse> {
    let pots = state.batches_with_binder(id).into_iter().map(|kept| {
        let batch = &kept.record;
        let trial = state.trials.get(&batch.trial).map_or("", |trial| trial.record.question.as_str());
        BinderUse {
            name: format!("pot {}: {trial}", batch.letter),
            address: format!("/trials/{}/pot/{}", batch.trial, show::path_part(&batch.letter)),
            grams: batch.binder_g.map_or_else(String::new, |grams| format!("{}\u{a0}g", plain(grams))),
        }
    });
    let recipes = state.recipes.values().filter(|kept| kept.record.binder.as_deref() == Some(id)).map(|kept| BinderUse {
        name: format!("recipe \u{201c}{}\u{201d}", kept.record.name),
        address: format!("/kept/{}", kept.subject),
        grams: String::new(),
    });
    pots.chain(recipes).collect()
}

/// From when it counts as made: opened or melted; before that, curd that was curdled.
fn made(told: &ToldBinder<'_>) -> Option<Moment> {
    let at = |wanted: &[&str]| told.steps.iter().rev().find(|done| wanted.contains(&done.step.as_str())).map(|done| done.at);
    let curd =
        || told.steps.iter().rev().find(|done| done.step.starts_with("rinse")).map(|done| done.at).or_else(|| at(&["curdle", "soak"]));
    at(&["dissolve", "melt"]).or_else(curd)
}

pub(super) fn keeping_of(told: &ToldBinder<'_>, now: Moment) -> BinderKeeping {
    let Some(made) = made(told) else {
        return BinderKeeping {
            word: "not-made",
            text: "Nothing stands yet that could spoil.".into(),
            reason: "Milk, curd and glue keep as their packs say until work begins.".into(),
        };
    };
    let days = Moment { offset_minutes: made.offset_minutes, ..now }.local().0.number() - made.local().0.number();
    let stands: Vec<(Moment, bool)> = told
        .measures
        .iter()
        .filter(|one| one.at >= made)
        .filter_map(|one| if let BinderSeen::Stands { cold } = one.seen { Some((one.at, cold)) } else { None })
        .collect();
    // Minutes that it stood warm, until now or until it went into the fridge for good: out and in again adds up.
    let (mut warm, mut since, mut cold) = (0, made, false);
    for (at, to_cold) in stands {
        if !cold {
            warm += (at.seconds - since.seconds) / 60;
        }
        (since, cold) = (at, to_cold);
    }
    if !cold {
        warm += (now.seconds - since.seconds).max(0) / 60;
    }
    let word = Keeping::of(days, cold.then_some(warm));
    let place = match (cold, Keeping::of(0, Some(warm))) {
        (true, Keeping::TomorrowIfColdAndClean) => "it went into the fridge in time",
        (true, _) => "it stands in the fridge, but stood warm too long before",
        (false, _) => "it stands in the room",
    };
    let when = match days {
        ..=0 => "made today",
        1 => "made yesterday",
        _ => "made before yesterday",
    };
    let ph = told.measures.iter().rev().find_map(|one| match one.seen {
        BinderSeen::Ph { ph, .. } if one.step != "curdle" => Some(ph),
        _ => None,
    });
    let sour = ph.zip(BinderBook::builtin().ok().and_then(|book| Growth::of(book).ok())).map_or_else(String::new, |(ph, growth)| {
        let how = if growth.ph_factor(ph) > 0.8 {
            "near what spoilers like best"
        } else {
            "further from what spoilers like best, which helps a little"
        };
        format!("; its pH of {} is {how}", number(ph, 1))
    });
    BinderKeeping {
        word: match word {
            Keeping::Today => "today",
            Keeping::TomorrowIfColdAndClean => "tomorrow",
            Keeping::ThenBinIt => "bin",
        },
        text: match word {
            Keeping::ThenBinIt => {
                "Bin it; at once if it smells, thins, gives gas, or shows a skin or spots of colour. Do not taste it.".into()
            }
            other => other.text().to_owned(),
        },
        reason: format!("It was {when}, and {place}{sour}."),
    }
}
