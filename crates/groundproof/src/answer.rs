//! `groundproof answer`: what the boards of a trial say.

use std::fmt::Write as _;

use show::BoardsAnswerView;
use workbench::{AnswerRequest, Workbench};

use crate::arguments::{Answer, Better};
use crate::command::{Failure, bad_input, could_not, input, json, print};

pub(crate) fn run(options: &Answer) -> Result<(), Failure> {
    let bench = Workbench::open().map_err(could_not)?;
    let request = AnswerRequest {
        readings: input(options.readings.as_deref())?,
        question: options.question.clone(),
        measure: options.measure.clone(),
        smaller_is_better: options.better.map(|better| better == Better::Smaller),
        expected: options.expect.map(|length| length.0),
        ..AnswerRequest::default()
    };
    let view = bench.answer(&request).map_err(bad_input)?;
    let printed = if options.json { json(&view.report) } else { print(&text(&view)) };
    printed?;
    // A table from which nothing could be worked out was read, but not answered; the report says why.
    if view.report.measures.iter().all(|measure| measure.why.is_some()) { Err(Failure::CouldNot(None)) } else { Ok(()) }
}

fn text(view: &BoardsAnswerView) -> String {
    let mut text = String::new();
    if !view.question.is_empty() {
        let _ = writeln!(text, "{}\n", view.question);
    }
    for measure in &view.measures {
        let _ = writeln!(text, "{}\n{}", measure.title, measure.sentence);
        for line in &measure.more {
            let _ = writeln!(text, "{line}");
        }
        for line in &measure.tangles {
            let _ = writeln!(text, "{line}");
        }
        for (name, value) in &measure.numbers {
            let _ = writeln!(text, "  {name}: {value}");
        }
        let _ = writeln!(text);
    }
    let _ = writeln!(text, "Next: {} {}", view.next, view.why);
    for note in &view.notes {
        let _ = writeln!(text, "{note}");
    }
    text
}
