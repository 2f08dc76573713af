//! What other milks would give.

use binder::{MilkAmount, MilkKind, MilkRequest, caught_with_ranges, milk_inputs, powder_for};
use show::{YieldRow, plain, write};

use super::BESIDE;
use super::told::Told;
use crate::milk::MilkFormError;

pub(super) fn of(told: &Told) -> Result<Vec<YieldRow>, MilkFormError> {
    let best = binder::caught(&told.request, &told.inputs, &|input| input.best)?;
    let powder = powder_for(best.milk).map_err(binder::BinderError::from)?;
    let kinds = [
        ("skim milk", MilkKind::Skim, false, "the best start"),
        ("low-fat milk", MilkKind::PartSkim, false, "some cream stays in the curd: a weaker binder"),
        (
            "whole milk",
            MilkKind::Whole,
            false,
            "the cream stays in the curd, up to a gram to each of casein: it binds weakly and coats part on it",
        ),
        (
            "UHT or boiled skim milk",
            MilkKind::Skim,
            true,
            "whey protein falls too: more curd, soft, drains badly and opens worse; how much falls nobody measured here",
        ),
        (
            "skim-milk powder",
            MilkKind::Powder,
            false,
            "stirred into water an hour before; powder that was dried hot behaves like boiled milk",
        ),
    ];
    let mut out = Vec::with_capacity(kinds.len());
    for (name, kind, heated, words) in kinds {
        let milk = if kind == MilkKind::Powder { MilkAmount::Mass(powder) } else { MilkAmount::Volume(best.milk_volume) };
        let request = MilkRequest { milk, kind, heated_before: heated, ..told.request.clone() };
        let caught = caught_with_ranges(&request, &milk_inputs(&request)?, BESIDE)?;
        let joined = if heated { format!(", and {} of whey protein", write(&caught.whey_protein).line()) } else { String::new() };
        let name = if kind == MilkKind::Powder { format!("{name}, {}\u{a0}g", plain(powder.value())) } else { name.to_owned() };
        out.push(YieldRow {
            name,
            casein: format!("{}{joined}", write(&caught.casein).line()),
            curd: write(&caught.wet_curd).line(),
            words: words.to_owned(),
            told: kind == told.request.kind && heated == told.request.heated_before,
        });
    }
    Ok(out)
}
