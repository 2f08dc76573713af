//! What each rinse leaves, and why it matters.

use binder::{BinderBook, BinderError, CurdFigures, rinsing, wash_water_lift};
use measure::Grams;
use show::{RinseRow, number, plain, write};

use super::told::Told;
use super::{BESIDE, FridgeForm};
use crate::milk::MilkFormError;

pub(super) struct Rinses {
    pub(super) rows: Vec<RinseRow>,
    pub(super) words: Vec<String>,
}

const FEWEST: u32 = 3;
const MOST: u32 = 8;

pub(super) fn of(form: &FridgeForm, told: &Told, figures: &CurdFigures) -> Result<Rinses, MilkFormError> {
    let most = told.request.washes.clamp(FEWEST, MOST);
    let found = rinsing(&told.request, &told.inputs, most, BESIDE)?;
    let rows = found
        .rows
        .iter()
        .map(|row| RinseRow {
            times: match row.times {
                0 => "not rinsed".into(),
                1 => "after 1 rinse".into(),
                times => format!("after {times} rinses"),
            },
            acid: write(&row.acid).line(),
            sugar: {
                let hundredths = row.sugar.times(100.0);
                format!("{}\u{a0}% of the casein", write(&hundredths).line())
            },
        })
        .collect();
    let wash = plain(told.request.wash.value());
    let times = |count: Option<u32>| match count {
        Some(0) => "no rinse".to_owned(),
        Some(1) => "1 rinse".into(),
        Some(count) => format!("{count} rinses"),
        None => "more rinses than anyone does".into(),
    };
    let mut words = vec![
        format!(
            "With {wash}\u{a0}ml a time, {} bring the milk sugar to a hundredth of the casein, the legal limit of dried casein; {} to a fifth of that, as good casein has it.",
            times(found.to_limit),
            times(found.to_good)
        ),
        "It matters: milk sugar left in the film feeds mould and insects and draws damp, and acid left in the curd eats the base that is to open it.".into(),
        "Crumble the curd, stir it in cold to lukewarm water, let it stand ten minutes, drain. Stop when it no longer smells sour and pH paper on the last water says what it says of the tap.".into(),
    ];
    let book = BinderBook::builtin().map_err(BinderError::from)?;
    let limit = book.constant("wash.water_hardness_limit").map_err(BinderError::from)?.value;
    match form.hardness {
        None => words.push(format!(
            "Hard water (above {}\u{a0}mg/l as calcium carbonate) softens curd until it slips through the cloth: then put a spoon of vinegar in each litre of the first rinse, or take soft water.",
            plain(limit)
        )),
        Some(hardness) => {
            let all = told.request.wash * f64::from(told.request.washes);
            let ph = wash_water_lift(book, hardness, all, Grams::new(figures.casein.value))?;
            let edge = book.constant("curdling_window.high").map_err(BinderError::from)?.value;
            words.push(if hardness > limit || ph > edge {
                format!(
                    "Your water would lift the curd to about pH {}{}: put a spoon of vinegar in each litre of the first rinse, or take soft water.",
                    number(ph, 1),
                    if ph > edge { ", where it softens and is lost" } else { "" }
                )
            } else {
                format!("Your water lifts the curd to about pH {}: it stays firm.", number(ph, 1))
            });
        }
    }
    Ok(Rinses { rows, words })
}
