//! "What do the boards say?": readings in, sentences, pictures and numbers out.

mod picture;
mod report;
mod sentences;
#[cfg(test)]
mod tests;

use show::{AnswerReport, AnsweredMeasure, AskedReport, BoardsAnswerView, NextReport, WarningReport};
use trials::answer::{Answer, BadLine, Measured, Question, Unanswered, answer, read};

use crate::{VERSION, Workbench};

/// What is asked of a table of readings.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct AnswerRequest {
    /// The table, comma-separated with its names in the first line.
    pub readings: String,
    /// The question in the painter's words; only printed.
    pub question: String,
    /// Only this measure.
    pub measure: Option<String>,
    /// Whether smaller is better; `None` when it was not said.
    pub smaller_is_better: Option<bool>,
    /// Where half the boards are expected to give way, in the unit of the measure.
    pub expected: Option<f64>,
    /// Whether the settings were the question, not the recipes that they make up.
    pub by_settings: bool,
}

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum AnswerError {
    /// Lines that can't be read; the text tells the first of them.
    #[error("{}", told(.0))]
    Lines(Vec<BadLine>),
    /// The measure is not there.
    #[error(transparent)]
    Measure(#[from] Unanswered),
}

/// Bad lines told one by one; more are only counted.
const MOST_TOLD: usize = 30;

fn told(lines: &[BadLine]) -> String {
    let mut text: Vec<String> = lines.iter().take(MOST_TOLD).map(ToString::to_string).collect();
    if lines.len() > MOST_TOLD {
        text.push(format!("and {} more lines like these", lines.len() - MOST_TOLD));
    }
    text.join("\n")
}

impl Workbench {
    /// Answers what the boards can answer. A measure with too little data is part of the answer and says what is missing.
    ///
    /// # Errors
    /// Lines of the table can't be read, or the measure is not in it.
    ///
    /// ```
    /// let bench = workbench::Workbench::open()?;
    /// let mut readings = String::from("board,measure,value,kind,recipe\n");
    /// for board in 1..=4 {
    ///     readings += &format!("A{board},cracked,yes,yes_no,A\nB{board},cracked,no,yes_no,B\n");
    /// }
    /// let request = workbench::AnswerRequest { readings, smaller_is_better: Some(true), ..Default::default() };
    /// let view = bench.answer(&request).unwrap();
    /// assert!(view.measures[0].sentence.starts_with("A: 4 of 4 boards cracked; B: none of 4."));
    /// # Ok::<(), workbench::OpenError>(())
    /// ```
    pub fn answer(&self, request: &AnswerRequest) -> Result<BoardsAnswerView, AnswerError> {
        let readings = read(&request.readings).map_err(AnswerError::Lines)?;
        let question = Question {
            measure: request.measure.clone(),
            smaller_is_better: request.smaller_is_better,
            expected: request.expected,
            by_settings: request.by_settings,
        };
        let found = answer(&readings, &question, self.rules)?;
        Ok(view(request, &found))
    }
}

fn view(request: &AnswerRequest, found: &Answer) -> BoardsAnswerView {
    let smaller = request.smaller_is_better;
    let better = smaller.map(|smaller| AskedReport {
        measure: request.measure.clone().unwrap_or_default(),
        way: if smaller { "smaller" } else { "larger" },
    });
    let report = AnswerReport {
        is: "groundproof answer 1",
        version: VERSION,
        warnings: found
            .notes
            .iter()
            .map(|note| WarningReport { id: note.id.into(), text: note.text.clone(), at: note.at.clone() })
            .collect(),
        question: request.question.clone(),
        better,
        measures: found.measures.iter().map(|measured| report::measure(measured, sentences::sentence(measured, smaller))).collect(),
        next: vec![NextReport { what: found.next.what.clone(), why: found.next.why.clone() }],
    };
    BoardsAnswerView {
        question: request.question.clone(),
        measures: found.measures.iter().map(|measured| one(measured, smaller)).collect(),
        next: found.next.what.clone(),
        why: found.next.why.clone(),
        notes: found.notes.iter().map(|note| note.text.clone()).collect(),
        report,
    }
}

fn one(measured: &Measured, smaller: Option<bool>) -> AnsweredMeasure {
    AnsweredMeasure {
        title: measured.measure.clone(),
        headline: sentences::headline(measured, smaller),
        counted: sentences::counted(measured),
        sentence: sentences::sentence(measured, smaller),
        more: sentences::more(measured),
        picture: picture::draw(measured, smaller),
        numbers: sentences::numbers(measured),
        tangles: measured.tangles.iter().map(sentences::tangle).collect(),
    }
}
