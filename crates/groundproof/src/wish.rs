//! A wish on the command line.

use std::fmt::Write as _;

use workbench::{WishForm, Workbench};

use crate::arguments::Wish;
use crate::command::{Failure, bad_input, could_not, json, print};

pub(crate) fn wish(options: &Wish) -> Result<(), Failure> {
    let bench = Workbench::open().map_err(could_not)?;
    let form = WishForm {
        like: options.like.clone(),
        usual: options.usual,
        with: options.with.clone(),
        half_binder: options.half_binder,
        without: options.without.clone(),
        shelf: options.shelf.clone(),
        make_g: options.make.map(|mass| mass.0),
        area_m2: options.area.map(|area| area.0),
        dry_um: options.dry.map(|length| length.0),
        spoons: options.spoons.clone(),
        scale_g: options.scale.map(|mass| mass.0),
        own: Vec::new(),
    };
    let view = bench.wish(&form).map_err(bad_input)?;
    let reached = view.report.reached;
    let printed = if options.json { json(&view.report) } else { print(&written(&view)) };
    printed?;
    // The nearest pot is printed with its reasons; the wish itself could not be kept.
    if reached { Ok(()) } else { Err(Failure::CouldNot(None)) }
}

fn written(view: &show::WishView) -> String {
    let report = &view.report;
    let mut text = format!("{}\n{}\n", view.sentence, view.verdict);
    for why in &report.why_not {
        let _ = writeln!(text, "Why not: {}.", why.trim_end_matches('.'));
    }
    let _ = writeln!(text, "\n{}", report.recipe);
    if !report.recipe_in_spoons.is_empty() {
        let _ = writeln!(text, "\n{}", report.recipe_in_spoons);
    }
    let _ = writeln!(text);
    for said in report.changed.iter().chain(&report.rounding.words).chain(report.warnings.iter().map(|warning| &warning.text)) {
        let _ = writeln!(text, "{said}");
    }
    for caution in &view.card.mind {
        let _ = writeln!(text, "Mind this ({}): {}", caution.about, caution.text);
    }
    text
}
