//! Binder of the painter's own making: begun, made step by step, measured, used, closed.

mod figures;
mod flow;
mod measure_kinds;
mod recipe;
mod view;
mod worked;

use notebook::{Binder, BinderMeasure, BinderRoad, BinderStep, Deed, Notebook, Stamp, Wanted};

pub(crate) use measure_kinds::asks;
use measure_kinds::seen;
use worked::ToldBinder;
pub(crate) use worked::WorkedBinder;

use super::{Studio, StudioError, above_zero, moment, named, number, one_line, remark};
use crate::Workbench;

/// A binder as typed into a form. What a road does not want stays empty.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct TypedBinder {
    /// Subject of the binder that is changed; empty for a new one.
    pub subject: String,
    /// Entry that the form was made from.
    pub from: u64,
    /// What stands on it, such as `Tern`.
    pub name: String,
    /// `curd`, `bought`, `powder` or `glue`.
    pub road: String,
    /// Milk as told.
    pub milk: String,
    /// Acids as told; empty ones are left out.
    pub acids: Vec<String>,
    /// Bought curd or casein powder as told.
    pub casein: String,
    /// Glue or gelatine as told.
    pub glue: String,
    /// What opens the casein, with or without an amount.
    pub base: String,
    /// Water that is to go in, grams; empty for as much as brushes well.
    pub water: String,
    /// Warmth of the milk, degrees Celsius.
    pub warmth: String,
    /// Whether the milk was hot before.
    pub heated: bool,
    /// Whether the curd is squeezed.
    pub squeezed: bool,
    /// Rinses; three if empty.
    pub rinses: String,
    /// Water of one rinse, millilitres; a quarter of the milk if empty.
    pub rinse_water: String,
    /// Jars on the shelf that it is made from, by subject.
    pub lots: Vec<String>,
    /// Remark.
    pub note: String,
}

/// A measurement as typed.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct TypedBinderSeen {
    /// The binder.
    pub binder: String,
    /// Step at which it was made; may be empty.
    pub step: String,
    /// `ph`, `curd_weight`, `dishes`, `contents`, `base_added`, `water_added`, `whey`, `taken` or `stands`.
    pub what: String,
    /// The value: a number, pairs `wet/dry` for dishes, told text for a base, `fridge` or `room`.
    pub value: String,
    /// For pH: how far the paper may be off; 0.3 if empty.
    pub slack: String,
    /// For pH: acids poured until then, one a line; all of them if empty. For what is taken: what for.
    pub more: String,
    /// When, if not now.
    pub when: String,
    /// Remark.
    pub note: String,
}

const MOST_RINSES: f64 = 12.0;

impl Workbench {
    /// Begins a binder, or changes what was told of one.
    ///
    /// # Errors
    /// What was told does not read, or makes no binder; another one bears the name; somebody else changed it first.
    pub fn begin_binder(&self, studio: &Studio, typed: &TypedBinder, stamp: &Stamp) -> Result<String, StudioError> {
        let record = told_record(typed)?;
        // A recipe names the jar between its amounts: what reads as one, or as a material, would be weighed out.
        let reads = materials::read(self.jars, &self.units, &format!("5 g {}", record.name), &materials::Wishes::new());
        if record.name.contains(|c: char| c.is_numeric()) || !reads.lines.is_empty() {
            return Err(StudioError::Typed(format!(
                "\u{201c}{}\u{201d} would be read as an amount or a material in a recipe; give the jar a name of its own, such as Tern",
                record.name
            )));
        }
        let nothing = ToldBinder { record: &record, steps: Vec::new(), measures: Vec::new(), batches: Vec::new() };
        self.worked_binder(&nothing).map_err(StudioError::typed)?;
        let subject = if typed.subject.is_empty() { stamp.subject("binder", 0) } else { typed.subject.clone() };
        studio.write(stamp, |state| {
            let same = |other: &&std::sync::Arc<notebook::Kept<Binder>>| {
                other.subject != subject && other.record.closed.is_none() && other.record.name.to_lowercase() == record.name.to_lowercase()
            };
            if state.binders.values().find(same).is_some() {
                return Err(StudioError::Typed(format!(
                    "there is a binder \u{201c}{}\u{201d} already; give this one another name, or close that one first",
                    record.name
                )));
            }
            if let Some(known) = state.binders.get(&typed.subject)
                && known.record.closed.is_some()
            {
                return Err(closed(&known.record));
            }
            let deed = Deed::Binder(record.clone());
            Ok(vec![if typed.subject.is_empty() { Wanted::new(&subject, deed) } else { Wanted::edit(&subject, typed.from, deed) }])
        })?;
        Ok(subject)
    }

    /// What was told of a binder, as its form has it; `None` if it is not there.
    pub fn binder_typed(state: &Notebook, id: &str) -> Option<TypedBinder> {
        let kept = state.binders.get(id)?;
        let record = &kept.record;
        let number = |value: Option<f64>| value.map_or_else(String::new, show::plain);
        Some(TypedBinder {
            subject: id.to_owned(),
            from: kept.n,
            name: record.name.clone(),
            road: worked::road_key(record.road).to_owned(),
            milk: record.milk.clone(),
            acids: record.acids.clone(),
            casein: record.casein.clone(),
            glue: record.glue.clone(),
            base: record.base.clone(),
            water: number(record.water_g),
            warmth: number(record.warmth_c),
            heated: record.heated_before,
            squeezed: record.squeezed,
            rinses: record.rinses.to_string(),
            rinse_water: number(record.rinse_ml),
            lots: record.lots.clone(),
            note: record.note.clone(),
        })
    }

    /// Says that a step is done, now or at a time as typed.
    ///
    /// # Errors
    /// No such binder or step; it is done already, or the binder is closed; a time that can't be.
    pub fn binder_step(&self, studio: &Studio, (binder, step): (&str, &str), when: &str, stamp: &Stamp) -> Result<(), StudioError> {
        let at = moment(when, stamp)?;
        studio
            .write(stamp, |state| {
                self.known_step(state, binder, step)?;
                let done = BinderStep { binder: binder.to_owned(), step: step.to_owned(), at, note: String::new() };
                Ok(vec![Wanted::new(stamp.subject("binderstep", 0), Deed::BinderStep(done))])
            })
            .map(drop)
    }

    /// Writes a measurement down.
    ///
    /// # Errors
    /// A value that can't be, by itself or beside what is written down already; no such binder or step; the binder is closed.
    pub fn binder_measure(&self, studio: &Studio, typed: &TypedBinderSeen, stamp: &Stamp) -> Result<(), StudioError> {
        let measure = BinderMeasure {
            binder: typed.binder.clone(),
            step: typed.step.clone(),
            at: moment(&typed.when, stamp)?,
            seen: seen(typed)?,
            note: remark(&typed.note)?,
        };
        studio
            .write(stamp, |state| {
                if measure.step.is_empty() {
                    ToldBinder::of(state, &measure.binder).ok_or(StudioError::Missing("binder"))?;
                } else {
                    self.known_step(state, &measure.binder, &measure.step)?;
                }
                let mut told = ToldBinder::of(state, &measure.binder).ok_or(StudioError::Missing("binder"))?;
                told.measures.push(&measure);
                told.measures.sort_by_key(|one| one.at);
                self.worked_binder(&told).map_err(StudioError::typed)?;
                Ok(vec![Wanted::new(stamp.subject("bindermeasure", 0), Deed::BinderMeasure(measure.clone()))])
            })
            .map(drop)
    }

    /// Closes a binder: it is used up, or thrown away. `from` is the entry that the form was made from.
    ///
    /// # Errors
    /// No reason; no such binder; it is closed already, or somebody else changed it first.
    pub fn close_binder(&self, studio: &Studio, (binder, from): (&str, u64), why: &str, stamp: &Stamp) -> Result<(), StudioError> {
        let why = named(why, "why it is closed", "used up")?;
        studio
            .write(stamp, |state| {
                let known = state.binders.get(binder).ok_or(StudioError::Missing("binder"))?;
                if known.record.closed.is_some() {
                    return Err(closed(&known.record));
                }
                let record = Binder { closed: Some(stamp.at), closed_why: why.clone(), ..known.record.clone() };
                Ok(vec![Wanted::edit(binder, from, Deed::Binder(record))])
            })
            .map(drop)
    }

    fn known_step(&self, state: &Notebook, binder: &str, step: &str) -> Result<(), StudioError> {
        let told = ToldBinder::of(state, binder).ok_or(StudioError::Missing("binder"))?;
        let base = self.worked_binder(&told).map_err(StudioError::typed)?.base.as_ref().map(|base| base.base);
        let road = told.road(WorkedBinder::family(base)).map_err(StudioError::typed)?;
        if road.iter().any(|(known, _)| known == step) { Ok(()) } else { Err(StudioError::Missing("step")) }
    }
}

fn closed(record: &Binder) -> StudioError {
    StudioError::Keep(notebook::KeepError::Refused(notebook::Refusal::Closed(format!("binder \u{201c}{}\u{201d}", record.name))))
}

fn told_record(typed: &TypedBinder) -> Result<Binder, StudioError> {
    let road = match typed.road.as_str() {
        "curd" => BinderRoad::Curd,
        "bought" => BinderRoad::Bought,
        "powder" => BinderRoad::Powder,
        "glue" => BinderRoad::Glue,
        _ => return Err(StudioError::Typed("choose what the binder is made from: milk, bought curd, casein powder or glue".into())),
    };
    let rinses = number(&typed.rinses, "the rinses", "3")?.unwrap_or(3.0);
    if !(0.0..=MOST_RINSES).contains(&rinses) || rinses.fract() != 0.0 {
        return Err(StudioError::Typed("the curd is rinsed 0 to 12 times; write a whole number like 3".into()));
    }
    let warmth_c = number(&typed.warmth, "the warmth of the milk", "35")?;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number from 0 to 12")]
    let rinses = if road == BinderRoad::Curd { rinses as u32 } else { 0 };
    Ok(Binder {
        name: named(&typed.name, "the name", "Tern")?,
        road,
        milk: one_line(&typed.milk),
        acids: typed.acids.iter().map(|acid| one_line(acid)).filter(|acid| !acid.is_empty()).collect(),
        casein: one_line(&typed.casein),
        glue: one_line(&typed.glue),
        base: one_line(&typed.base),
        water_g: above_zero(&typed.water, "the water", "500")?,
        warmth_c,
        heated_before: typed.heated,
        squeezed: typed.squeezed,
        rinses,
        rinse_ml: above_zero(&typed.rinse_water, "the water of a rinse", "500")?,
        lots: typed.lots.iter().filter(|lot| !lot.is_empty()).cloned().collect(),
        closed: None,
        closed_why: String::new(),
        note: remark(&typed.note)?,
    })
}
