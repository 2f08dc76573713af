//! Glue in water on the command line.

use std::fmt::Write as _;

use workbench::{GlueForm, Workbench};

use crate::arguments::Glue;
use crate::command::{Failure, bad_input, could_not, json, print};
use crate::curdle;

pub(crate) fn glue(options: &Glue) -> Result<(), Failure> {
    if let Some(key) = &options.explain {
        return print(&Workbench::glue_figure(key).map_err(bad_input)?);
    }
    let bench = Workbench::open().map_err(could_not)?;
    let form = GlueForm {
        glue: options.at_hand.clone(),
        water: options.water.clone(),
        ratio: options.ratio.clone(),
        wanted_for: options.wanted_for.clone(),
        wanted_percent: options.wanted,
        bloom: options.bloom,
        log: options.log.join("\n"),
        empty_pot_g: options.empty_pot,
        warmest_c: options.temp.map(|temperature| temperature.0),
        hot_hours: options.hours,
        melted: options.melted,
    };
    let view = bench.glue(&form).map_err(bad_input)?;
    if options.json {
        return json(&view.report);
    }
    let mut more = view.more.clone();
    for row in &view.pot_rows {
        more.push(format!("{}: lost {}, strength {}, water to put in: {}.", row.said, row.lost, row.strength, row.add));
    }
    for row in &view.coat_rows {
        more.push(format!("{}: laid at {}; {}.", row.said, row.strength, row.beside));
    }
    for (index, step) in view.report.steps.iter().enumerate() {
        let mind = if step.mind.is_empty() { String::new() } else { format!("\n     Mind: {}", step.mind) };
        more.push(format!("  {}. {}{mind}", index + 1, step.what));
    }
    let mut text = curdle::text(&view.sentence, &more, &view.report.questions, &view.report.cautions, &view.report.warnings);
    for (about, said) in &view.know {
        let _ = writeln!(text, "{about}: {}", said.join(" "));
    }
    print(&text)
}
