//! Milk, acid and curd, and what opens it, on the command line.

use std::fmt::Write as _;

use show::{CautionReport, CurdQuestion, WarningReport};
use workbench::{CurdleForm, DissolveForm, SwapForm, Workbench};

use crate::arguments::{Curdle, Dissolve, Swap};
use crate::command::{Failure, bad_input, could_not, json, print};

pub(crate) fn curdle(options: &Curdle) -> Result<(), Failure> {
    if let Some(key) = &options.explain {
        return print(&Workbench::curdle_figure(key).map_err(bad_input)?);
    }
    let bench = Workbench::open().map_err(could_not)?;
    let form = CurdleForm {
        milk: options.at_hand.clone(),
        acids: options.acid.clone(),
        warmth_c: options.temp.map(|temperature| temperature.0),
        washes: options.washes,
        wash_ml: options.wash_water.map(|volume| volume.0),
        boiled: options.boiled,
        drained: options.drained.words(),
        water_ml: options.water.map(|volume| volume.0),
    };
    let view = bench.curdle(&form).map_err(bad_input)?;
    if options.json {
        return json(&view.report);
    }
    print(&text(&view.sentence, &view.more, &view.report.questions, &view.report.cautions, &view.report.warnings))
}

pub(crate) fn dissolve(options: &Dissolve) -> Result<(), Failure> {
    if let Some(key) = &options.explain {
        return print(&Workbench::dissolve_figure(key).map_err(bad_input)?);
    }
    let bench = Workbench::open().map_err(could_not)?;
    let form = DissolveForm {
        casein: options.casein.clone().unwrap_or_default(),
        curd_from: options.curd_from.clone().unwrap_or_default(),
        base: options.base.clone(),
        water_ml: options.water.map(|volume| volume.0),
        ph: options.ph,
        dishes: options.dish.clone(),
        washes: options.washes,
        wash_ml: options.wash_water.map(|volume| volume.0),
        drained: options.drained.words(),
    };
    let view = bench.dissolve(&form).map_err(bad_input)?;
    if options.json {
        return json(&view.report);
    }
    print(&text(&view.sentence, &view.more, &view.report.questions, &view.report.cautions, &view.report.warnings))
}

pub(crate) fn swap(options: &Swap) -> Result<(), Failure> {
    let bench = Workbench::open().map_err(could_not)?;
    let view = bench.swap(&SwapForm { missing: options.missing.clone() }).map_err(bad_input)?;
    let mut text = format!("{}\n{}\n", view.sentence, view.more.join("\n"));
    for row in &view.rows {
        let kitchen = if row.kitchen.is_empty() { String::new() } else { format!(", about {}", row.kitchen) };
        let _ = writeln!(text, "{}: {}{kitchen}. {}.", row.name, row.amount, row.words);
    }
    for caution in &view.mind {
        let _ = writeln!(text, "Mind this ({}): {}", caution.about, caution.text);
    }
    print(&text)
}

pub(crate) fn text(
    sentence: &str,
    more: &[String],
    questions: &[CurdQuestion],
    cautions: &[CautionReport],
    warnings: &[WarningReport],
) -> String {
    let mut text = format!("{sentence}\n{}\n", more.join("\n"));
    for question in questions {
        let _ = writeln!(text, "Asked: {} Taken meanwhile: {}.", question.ask, question.assumed);
    }
    for caution in cautions {
        let _ = writeln!(text, "Mind this ({}): {}", caution.material, caution.text);
    }
    for warning in warnings {
        let _ = writeln!(text, "{}", warning.text);
    }
    text
}
