//! Own measured values: typed at the kitchen table, used in every film from then on.

use ground::{OwnMeasure, oil_drop, own_inputs, own_result};
use materials::MaterialId;
use measure::{Grams, Input, Millilitres};
use notebook::{Deed, Kept, Measured, Notebook, Stamp, Wanted, Weighing};
use show::OwnValue;

use super::{Studio, StudioError, above_zero, one_line, remark, short};
use crate::Workbench;

/// A measurement as typed into a form. Lists are numbers parted by blanks or semicolons.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct TypedWeighing {
    /// Material of the catalogue.
    pub material: String,
    /// Jar on the shelf, if one is meant.
    pub jar: String,
    /// `cup`, `water`, `rub-out`, `drops` or `dry`.
    pub what: String,
    /// What the measure holds (ml), or the powder used (g).
    pub base: String,
    /// The readings: grams, millilitres, or for `dry` pairs `wet/dry`.
    pub readings: String,
    /// For `drops`: how many come out of 5 ml of the oil. For `water`: how closely the jar can be read, ml; may be empty.
    pub aid: String,
    /// Remark.
    pub note: String,
}

impl Workbench {
    /// Writes a measurement down.
    ///
    /// # Errors
    /// Numbers that can't be; an unknown material; the notebook refuses.
    pub fn weigh_own(&self, studio: &Studio, typed: &TypedWeighing, stamp: &Stamp) -> Result<String, StudioError> {
        let id = MaterialId::new(&typed.material);
        let material =
            self.jars.material(&id).ok_or_else(|| StudioError::Typed("choose the material that you measured from the list".into()))?;
        let measured = measured(typed)?;
        own_inputs(material, &as_own(&measured), "").map_err(StudioError::typed)?;
        let weighing = Weighing {
            material: typed.material.clone(),
            jar: Some(typed.jar.clone()).filter(|jar| !jar.is_empty()),
            measured,
            note: remark(&typed.note)?,
        };
        let subject = stamp.subject("weighing", 0);
        studio.write(stamp, |_| Ok(vec![Wanted::new(subject.clone(), Deed::Weighing(weighing.clone()))]))?;
        Ok(subject)
    }

    /// The unknowns that the painter settled, newest measurement first where there are several.
    pub fn own_values(&self, state: &Notebook) -> Vec<Input> {
        let mut weighings: Vec<&Kept<Weighing>> = state.weighings.values().map(AsRef::as_ref).collect();
        weighings.sort_by_key(|kept| std::cmp::Reverse(kept.n));
        let mut own: Vec<Input> = Vec::new();
        for kept in weighings {
            for input in self.inputs_of(kept) {
                if !own.iter().any(|known| known.key == input.key) {
                    own.push(input);
                }
            }
        }
        own
    }

    fn inputs_of(&self, kept: &Kept<Weighing>) -> Vec<Input> {
        let Some(material) = self.jars.material(&MaterialId::new(&kept.record.material)) else { return Vec::new() };
        let (day, _) = kept.first.local();
        let source = format!("measured by you on {day}");
        // Checked when it was written; a material that left the catalogue since then has no say.
        own_inputs(material, &as_own(&kept.record.measured), &source).unwrap_or_default()
    }

    /// Own values of one material, newest first; only the first of each kind is used.
    pub fn own_of(&self, state: &Notebook, material: &str) -> Vec<OwnValue> {
        let mut weighings: Vec<&Kept<Weighing>> =
            state.weighings.values().map(AsRef::as_ref).filter(|kept| kept.record.material == material).collect();
        weighings.sort_by_key(|kept| std::cmp::Reverse(kept.n));
        let mut seen: Vec<String> = Vec::new();
        let mut out = Vec::new();
        for kept in weighings {
            let inputs = self.inputs_of(kept);
            let Some((value, unit, (low, high))) = own_result(&inputs) else { continue };
            let key = inputs.first().map_or("", |input| input.key.as_str()).to_owned();
            let in_use = !seen.contains(&key);
            seen.push(key);
            let (name, tries) = said(&kept.record.measured);
            out.push(OwnValue {
                entry: kept.n,
                name: name.to_owned(),
                value: format!("{}\u{a0}{unit} ({} to {})", show::plain(value), show::plain(low), show::plain(high)),
                tries,
                on: kept.first.local().0.to_string(),
                note: kept.record.note.clone(),
                in_use,
            });
        }
        out
    }
}

fn said(measured: &Measured) -> (&'static str, String) {
    let list = |values: &[f64]| values.iter().map(|value| show::plain(*value)).collect::<Vec<_>>().join(", ");
    match measured {
        Measured::LevelCup { millilitres, grams } => {
            ("what a level cup weighs", format!("{} g in {} ml", list(grams), show::plain(*millilitres)))
        }
        Measured::Displacement { grams, rise_ml, read_to_ml } => {
            let read = read_to_ml.map_or_else(String::new, |ml| format!(", read to {} ml", show::plain(ml)));
            ("density, by water pushed aside", format!("{} g pushed {} ml aside{read}", show::plain(*grams), list(rise_ml)))
        }
        Measured::RubOut { grams, oil_g, drops_in_5_ml } => {
            let counted = drops_in_5_ml.map_or_else(String::new, |drops| format!(", in drops of which {} are 5 ml", show::plain(drops)));
            ("how much oil it drinks", format!("{} g of powder took {} g of oil{counted}", show::plain(*grams), list(oil_g)))
        }
        Measured::DryResidue { dishes } => (
            "what stays when it dries",
            dishes
                .iter()
                .map(|(wet, dry)| format!("{} g dried to {} g", show::plain(*wet), show::plain(*dry)))
                .collect::<Vec<_>>()
                .join(", "),
        ),
    }
}

fn as_own(measured: &Measured) -> OwnMeasure {
    let grams = |values: &[f64]| values.iter().copied().map(Grams::new).collect();
    match measured {
        Measured::LevelCup { millilitres, grams: weighed } => {
            OwnMeasure::LevelCup { holds: Millilitres::new(*millilitres), weighed: grams(weighed) }
        }
        Measured::Displacement { grams: powder, rise_ml, read_to_ml } => OwnMeasure::Displacement {
            powder: Grams::new(*powder),
            rise: rise_ml.iter().copied().map(Millilitres::new).collect(),
            read_to: read_to_ml.map(Millilitres::new),
        },
        Measured::RubOut { grams: powder, oil_g, drops_in_5_ml } => {
            OwnMeasure::RubOut { powder: Grams::new(*powder), oil: grams(oil_g), drop: drops_in_5_ml.map(oil_drop) }
        }
        Measured::DryResidue { dishes } => {
            OwnMeasure::DryResidue { dishes: dishes.iter().map(|(wet, dry)| (Grams::new(*wet), Grams::new(*dry))).collect() }
        }
    }
}

/// Most readings that one measurement may hold.
const MOST_TRIES: usize = 20;

fn measured(typed: &TypedWeighing) -> Result<Measured, StudioError> {
    let base = || {
        let (what, example) = if typed.what == "cup" { ("what the cup holds", "250") } else { ("the powder you took", "10") };
        above_zero(&typed.base, what, example)?.ok_or_else(|| StudioError::Typed(format!("{what} is missing; write it like {example}")))
    };
    let pieces: Vec<String> = one_line(&typed.readings).replace(';', " ").split_whitespace().map(str::to_owned).collect();
    if pieces.is_empty() {
        return Err(StudioError::Typed("no weighing was typed; write them one after the other, like 148 151 149".into()));
    }
    if pieces.len() > MOST_TRIES {
        return Err(StudioError::Typed(format!("more than {MOST_TRIES} readings; write down the last {MOST_TRIES}")));
    }
    let values = || -> Result<Vec<f64>, StudioError> {
        let mut out = Vec::with_capacity(pieces.len());
        for piece in &pieces {
            // "148," is a number with the comma of a list behind it.
            let plain = piece.trim_end_matches(',');
            out.extend(above_zero(plain, "a reading", "148.5")?);
        }
        Ok(out)
    };
    match typed.what.as_str() {
        "cup" => Ok(Measured::LevelCup { millilitres: base()?, grams: values()? }),
        "water" => {
            let read_to_ml = above_zero(&typed.aid, "how closely the jar is read", "0.5")?;
            Ok(Measured::Displacement { grams: base()?, rise_ml: values()?, read_to_ml })
        }
        "rub-out" => Ok(Measured::RubOut { grams: base()?, oil_g: values()?, drops_in_5_ml: None }),
        "drops" => {
            let drops = above_zero(&typed.aid, "how many drops are 5 ml", "100")?
                .ok_or_else(|| StudioError::Typed("count once how many drops of the oil fill 5 ml, and write it like 100".into()))?;
            let oil_g = values()?.into_iter().map(|count| count * oil_drop(drops).value()).collect();
            Ok(Measured::RubOut { grams: base()?, oil_g, drops_in_5_ml: Some(drops) })
        }
        "dry" => {
            let mut dishes = Vec::with_capacity(pieces.len());
            for piece in &pieces {
                let slip =
                    || StudioError::Typed(format!("\u{201c}{}\u{201d} is no pair; write wet and dry weight like 10.2/3.1", short(piece)));
                let (wet, dry) = piece.trim_end_matches(',').split_once('/').ok_or_else(slip)?;
                let of = |text: &str| above_zero(text, "a weight", "10.2").ok().flatten();
                dishes.push((of(wet).ok_or_else(slip)?, of(dry).ok_or_else(slip)?));
            }
            Ok(Measured::DryResidue { dishes })
        }
        _ => Err(StudioError::Typed(
            "choose what you measured: a level cup, water pushed aside, a rub-out weighed or in drops, or dried spoonfuls".into(),
        )),
    }
}
