//! A trial file becomes a plan.

use std::fmt::Write as _;

use show::PlanView;
use workbench::Workbench;

use crate::arguments::Plan;
use crate::command::{Failure, bad_input, could_not, input, json, print};

pub(crate) fn plan(options: &Plan) -> Result<(), Failure> {
    let text = input(options.trial.as_deref())?;
    let view = Workbench::plan(&text, options.seed).map_err(|e| if e.is_not_built() { could_not(e) } else { bad_input(e) })?;
    if options.json { json(&view.report) } else { print(&written(&view)) }
}

fn written(view: &PlanView) -> String {
    let report = &view.report;
    let mut text = String::new();
    if let Some(question) = &report.question {
        let _ = writeln!(text, "{question}");
    }
    let _ = writeln!(text, "{}\n\nIn this order", view.sentence);
    for row in &view.rows {
        let sheet = if row.sheet.is_empty() { String::new() } else { format!(", sheet {}", row.sheet) };
        let _ = writeln!(text, "  board {}: day {}, pot {}, place {}{sheet}: {}", row.id, row.day, row.batch, row.place, row.carries);
    }
    for (head, sentences) in [("They can answer", &report.can), ("They can't answer", &report.cannot)] {
        if !sentences.is_empty() {
            let _ = writeln!(text, "\n{head}");
            for sentence in sentences {
                let _ = writeln!(text, "  {sentence}");
            }
        }
    }
    if !report.tangles.is_empty() {
        let _ = writeln!(text, "\nBefore you mix");
        for tangle in &report.tangles {
            let _ = writeln!(text, "  {}", tangle.text);
        }
    }
    if !report.warnings.is_empty() {
        let _ = writeln!(text, "\nMind this");
        for warning in &report.warnings {
            let _ = writeln!(text, "  {}", warning.text);
        }
    }
    text
}
