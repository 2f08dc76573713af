//! Real panels on the command line.

use std::fmt::Write as _;

use workbench::{Day, EnlargeForm, Notebook, Workbench};

use crate::arguments::Enlarge;
use crate::command::{Failure, bad_input, could_not, json, print};

pub(crate) fn enlarge(options: &Enlarge) -> Result<(), Failure> {
    let bench = Workbench::open().map_err(could_not)?;
    let form = EnlargeForm {
        told: options.recipe.clone(),
        panels: options.panels.join(";"),
        edges: options.edges.clone(),
        backs: options.backs,
        coats: options.coats,
        wet_g_m2: options.wet,
        dry_um: options.dry.map(|length| length.0),
        loss_percent: options.loss.as_deref().map(percent).transpose()?,
        biggest_g: options.biggest.map(|mass| mass.0),
        one_each: options.one_each,
        spoons: options.spoons.clone(),
        scale_g: options.scale.map(|mass| mass.0),
        sheet: options.sheet.clone(),
        kerf_mm: options.kerf.map(|length| length.0 / 1000.0),
        own: Vec::new(),
    };
    // Nothing stands on this shelf, so no day decides what is past its best.
    let today = Day::read("2000-01-01").ok_or_else(|| could_not("the calendar is broken"))?;
    let view = bench.enlarge(&Notebook::default(), &form, today).map_err(bad_input)?;
    if options.json { json(&view.report) } else { print(&written(&view)) }
}

/// `10%` or `10`.
fn percent(text: &str) -> Result<f64, Failure> {
    text.trim().trim_end_matches('%').trim().parse().map_err(|_| bad_input(format!("`{text}` is no share; say it as 10%")))
}

fn written(view: &show::EnlargeView) -> String {
    let report = &view.report;
    let mut text = format!("{}\n{}\n", view.sentence, view.verdict);
    for said in &view.more {
        let _ = writeln!(text, "{said}");
    }
    for batch in &report.batches {
        let _ = writeln!(text, "\nBatch {}: {}, for {}", batch.number, show::weighed(batch.wet_g), batch.serves);
        for line in &batch.lines {
            let _ = writeln!(text, "  {} {}  [{}]", line.weigh, line.name, line.in_spoons);
        }
    }
    let _ = writeln!(text, "\n{}", view.buy);
    for line in &report.shopping {
        let _ = writeln!(text, "  {}: needed {}, buy {}", line.name, line.need, line.buy);
    }
    for said in report.cost.iter().chain(&view.notes).chain(&view.drying).chain(report.warnings.iter().map(|warning| &warning.text)) {
        let _ = writeln!(text, "{said}");
    }
    for sheet in &report.sheets {
        let _ = writeln!(text, "\nSheet {}: {}", sheet.number, sheet.gives);
        for cut in &sheet.cuts {
            let _ = writeln!(text, "  {cut}");
        }
    }
    match report.sheets_least {
        Some(true) => text.push_str("Fewer sheets can't do with cuts from edge to edge.\n"),
        Some(false) => text.push_str("A good way out of sheets, not shown to be the least.\n"),
        None => {}
    }
    for caution in &view.mind {
        let _ = writeln!(text, "Mind this ({}): {}", caution.about, caution.text);
    }
    text
}
