//! The commands that answer and end.

use std::fmt::Write as _;
use std::io::{IsTerminal, Read, Write};
use std::path::Path;

use schemars::generate::SchemaSettings;
use serde::Serialize;
use show::{
    AnswerReport, BesideReport, BooksReport, Card, CausesReport, CurdleReport, DissolveReport, EnlargeReport, FilmReport, GlueReport,
    JarsReport, LookReport, MilkReport, PlanReport, SinceReport, WishReport, card_picture, standalone,
};
use workbench::{BesideRequest, FailedRequest, MilkForm, VERSION, VerdictRequest, Workbench};

use crate::arguments::{Beside, Film, Milk, Report, Why};

/// How a command can end without an answer.
#[derive(Debug)]
pub(crate) enum Failure {
    /// It could not be done; exit code 1. Nothing is said when the report already says why.
    CouldNot(Option<String>),
    /// The input is wrong; exit code 2.
    BadInput(String),
}

impl Failure {
    pub(crate) fn said(&self) -> Option<&str> {
        match self {
            Self::CouldNot(said) => said.as_deref(),
            Self::BadInput(said) => Some(said),
        }
    }
}

pub(crate) fn could_not(why: impl std::fmt::Display) -> Failure {
    Failure::CouldNot(Some(why.to_string()))
}
pub(crate) fn bad_input(why: impl std::fmt::Display) -> Failure {
    Failure::BadInput(why.to_string())
}

/// Longest input that is read at all; the workbench says the rest.
const MOST_INPUT: u64 = 16 * 1024 * 1024;

pub(crate) fn film(options: &Film) -> Result<(), Failure> {
    let bench = Workbench::open().map_err(could_not)?;
    let request = VerdictRequest {
        told: input(options.recipe.as_deref())?,
        strict: !options.as_told,
        choices: options.choose.iter().cloned().collect(),
        wet_um: options.wet.map(|length| length.0),
        coats: options.coats,
        area_m2: options.area.map(|area| area.0),
        support: options.support.clone(),
        ..VerdictRequest::default()
    };
    let card = bench.verdict(&request).map_err(bad_input)?;
    for (question, choice) in &options.choose {
        known_choice(&card, question, choice)?;
    }
    if let Some(file) = &options.picture {
        save(file, &standalone(&card_picture(&card, Workbench::edges())))?;
    }
    if let Some(key) = &options.explain {
        return explain(&card, key);
    }
    let printed = if options.json { json(&card.report) } else { print(&film_text(&card)) };
    printed?;
    // Strict text that gives no film could not be done. Told text was read, and what is not known is part of the answer.
    if options.as_told || card.report.film.pvc.value.is_some() { Ok(()) } else { Err(Failure::CouldNot(None)) }
}

pub(crate) fn why(options: &Why) -> Result<(), Failure> {
    let bench = Workbench::open().map_err(could_not)?;
    let told = match &options.recipe {
        Some(path) => input(Some(path))?,
        None => String::new(),
    };
    let request = FailedRequest {
        told,
        dry_um: options.dry.map(|length| length.0),
        coats: options.coats,
        support: options.support.clone(),
        taps: options.tap.iter().cloned().collect(),
        facts: options.fact.iter().cloned().collect(),
        ..FailedRequest::default()
    };
    let view = bench.failed(&request).map_err(bad_input)?;
    if options.json {
        return json(&view.report);
    }
    let mut text = format!("{}\n{}\n{}\n{}\n", view.sentence, view.more, view.next, view.mend);
    for cause in view.report.causes.iter().filter(|cause| cause.fit != "fits badly") {
        let _ = writeln!(text, "\n{} ({})", cause.name, cause.fit);
        for moved in &cause.moved {
            let side = if moved.factor > 1.0 { "for" } else { "against" };
            let _ = writeln!(text, "  speaks {side} it: {} {} - {}", moved.ask, moved.answer, moved.reason);
        }
    }
    for warning in &view.report.warnings {
        let _ = writeln!(text, "{}", warning.text);
    }
    for caution in &view.report.cautions {
        let _ = writeln!(text, "Mind this ({}): {}", caution.material, caution.text);
    }
    print(&text)
}

pub(crate) fn milk(options: &Milk) -> Result<(), Failure> {
    let bench = Workbench::open().map_err(could_not)?;
    let form = MilkForm {
        milk: options.at_hand.clone(),
        acid: options.acid.clone(),
        powder: options.powder.clone(),
        base: options.base.clone(),
        boards: options.boards,
        size: options.size.clone(),
        coats: options.coats,
        warmth_c: options.temp.map(|temperature| temperature.0),
    };
    let view = bench.milk(&form).map_err(bad_input)?;
    if options.json {
        return json(&view.report);
    }
    let mut text = format!("{}\n{}\n{}\n\nTake\n", view.sentence, view.more, view.acid);
    for portion in &view.report.take {
        let rest: Vec<&str> = [portion.kitchen.as_str(), portion.packs.as_str()].into_iter().filter(|part| !part.is_empty()).collect();
        let _ = writeln!(text, "  {}: {}  [{}]", portion.name, portion.written, rest.join("; "));
    }
    let _ = writeln!(text, "\nDo");
    for (index, step) in view.report.steps.iter().enumerate() {
        let _ = writeln!(text, "  {}. {}\n     Mind: {}", index + 1, step.what, step.mind);
    }
    for caution in &view.mind {
        let _ = writeln!(text, "Mind this ({}): {}", caution.about, caution.text);
    }
    for warning in &view.report.warnings {
        let _ = writeln!(text, "{}", warning.text);
    }
    print(&text)
}

pub(crate) fn beside(options: &Beside) -> Result<(), Failure> {
    let bench = Workbench::open().map_err(could_not)?;
    let told = |path: &Path| input(Some(path)).map(|told| VerdictRequest { told, ..VerdictRequest::default() });
    let request = BesideRequest { left: told(&options.first)?, right: told(&options.second)? };
    let view = bench.beside(&request).map_err(bad_input)?;
    if options.json {
        let (left, right) = (view.left.report, view.right.report);
        return json(&BesideReport { is: "groundproof beside 1", version: VERSION, differences: view.differences, left, right });
    }
    print(&format!("{}\nThe first: {}\nThe second: {}\n", view.differences.join("\n"), view.left.sentence, view.right.sentence))
}

pub(crate) fn schema(report: Report) -> Result<(), Failure> {
    // The reports are written, never read: the schema tells what every report holds.
    let generator = SchemaSettings::draft2020_12().for_serialize().into_generator();
    let schema = match report {
        Report::Film => generator.into_root_schema_for::<FilmReport>(),
        Report::Why => generator.into_root_schema_for::<CausesReport>(),
        Report::Milk => generator.into_root_schema_for::<MilkReport>(),
        Report::Curdle => generator.into_root_schema_for::<CurdleReport>(),
        Report::Dissolve => generator.into_root_schema_for::<DissolveReport>(),
        Report::Glue => generator.into_root_schema_for::<GlueReport>(),
        Report::Beside => generator.into_root_schema_for::<BesideReport>(),
        Report::Enlarge => generator.into_root_schema_for::<EnlargeReport>(),
        Report::Wish => generator.into_root_schema_for::<WishReport>(),
        Report::Jars => generator.into_root_schema_for::<JarsReport>(),
        Report::Answer => generator.into_root_schema_for::<AnswerReport>(),
        Report::Books => generator.into_root_schema_for::<BooksReport>(),
        Report::Look => generator.into_root_schema_for::<LookReport>(),
        Report::Since => generator.into_root_schema_for::<SinceReport>(),
        Report::Plan => generator.into_root_schema_for::<PlanReport>(),
    };
    json(&schema)
}

/// An answer must belong to a question that this recipe raises.
fn known_choice(card: &Card, question: &str, choice: &str) -> Result<(), Failure> {
    let Some(asked) = card.questions.iter().chain(&card.lumps).find(|asked| asked.id == question) else {
        let known = card.questions.iter().map(|asked| asked.id.as_str()).collect::<Vec<_>>().join(", ");
        let known = if known.is_empty() { "none".to_owned() } else { known };
        return Err(bad_input(format!("this recipe raises no question `{question}`; it raises: {known}")));
    };
    if asked.choices.iter().any(|known| known.id == choice) {
        return Ok(());
    }
    let known = asked.choices.iter().map(|known| known.id.as_str()).collect::<Vec<_>>().join(", ");
    Err(bad_input(format!("`{choice}` does not answer `{question}`; the choices are {known}")))
}

fn film_text(card: &Card) -> String {
    let mut text = format!("{}\n", card.sentence);
    for line in &card.lines {
        let _ = if line.left_out.is_empty() {
            writeln!(text, "  {}: {}", line.name, line.grams)
        } else {
            writeln!(text, "  {}: not counted, {}", line.name, line.left_out)
        };
    }
    for struck in &card.report.struck {
        let _ = writeln!(text, "  not counted: “{}”, {}", struck.text, struck.why);
    }
    for row in &card.figures {
        let _ = writeln!(text, "{}: {}", row.name, row.value);
    }
    let _ = writeln!(text, "How thick may a coat be? {} {}", card.thickness.sentence, card.thickness.more.join(" "));
    for advice in &card.change {
        let _ = writeln!(text, "Change this: {} {}", advice.what, advice.more);
    }
    if let Some(advice) = &card.weigh {
        let _ = writeln!(text, "Weigh this: {} {}", advice.what, advice.more);
    }
    for caution in &card.mind {
        let _ = writeln!(text, "Mind this ({}): {}", caution.about, caution.text);
    }
    for question in &card.questions {
        let choices: Vec<String> =
            question.choices.iter().map(|choice| format!("{}={} {}", question.id, choice.id, choice.effect)).collect();
        let _ = writeln!(text, "Asked: {} [{}]", question.ask, choices.join("; "));
    }
    let _ = writeln!(text, "{}", card.rests_on);
    text
}

fn explain(card: &Card, key: &str) -> Result<(), Failure> {
    let row = card.figures.iter().find(|row| row.key == key).ok_or_else(|| {
        let known = card.figures.iter().map(|row| row.key).collect::<Vec<_>>().join(", ");
        bad_input(format!("there is no figure `{key}`; the figures are {known}"))
    })?;
    let mut text = format!(
        "{} ({}): {}\n{}\nSource: {}\nHolds for: {}\nDoes not hold when: {}\n",
        row.name, row.chemist, row.value, row.sheet.formula, row.sheet.source, row.sheet.holds, row.sheet.fails
    );
    for input in &row.sheet.inputs {
        let _ = writeln!(text, "  {}: {}  [{}]", input.plain, input.value, input.source);
    }
    print(&text)
}

/// Text of a file, or of standard input.
#[expect(clippy::disallowed_methods, reason = "the command line is a door to the disk")]
pub(crate) fn input(path: Option<&Path>) -> Result<String, Failure> {
    let mut bytes = Vec::new();
    if let Some(path) = path.filter(|path| *path != Path::new("-")) {
        let file = std::fs::File::open(path).map_err(|e| bad_input(format!("{}: {e}", path.display())))?;
        file.take(MOST_INPUT).read_to_end(&mut bytes).map_err(|e| bad_input(format!("{}: {e}", path.display())))?;
    } else {
        let stdin = std::io::stdin();
        if stdin.is_terminal() {
            return Err(bad_input("give a file, or pipe its text in"));
        }
        stdin.lock().take(MOST_INPUT).read_to_end(&mut bytes).map_err(|e| bad_input(format!("standard input: {e}")))?;
    }
    // Some editors begin a file with a byte order mark; it is no part of the recipe.
    if bytes.starts_with(b"\xef\xbb\xbf") {
        bytes.drain(..3);
    }
    String::from_utf8(bytes)
        .map_err(|e| bad_input(format!("the text is not UTF-8 at byte {}; save it as UTF-8", e.utf8_error().valid_up_to())))
}

fn save(file: &Path, svg: &str) -> Result<(), Failure> {
    let bytes = match file.extension().and_then(std::ffi::OsStr::to_str) {
        Some("svg") => svg.as_bytes().to_vec(),
        Some("png") => paper::png(svg, 2.0).map_err(could_not)?,
        _ => return Err(bad_input(format!("{}: the picture's name ends in .png or .svg", file.display()))),
    };
    write_file(file, &bytes)
}

/// Writes a file that was asked for by name.
#[expect(clippy::disallowed_methods, reason = "the command line is a door to the disk")]
pub(crate) fn write_file(file: &Path, bytes: &[u8]) -> Result<(), Failure> {
    std::fs::write(file, bytes).map_err(|e| could_not(format!("{}: {e}", file.display())))
}

pub(crate) fn json(report: &impl Serialize) -> Result<(), Failure> {
    let text = serde_json::to_string_pretty(report).map_err(could_not)?;
    print(&format!("{text}\n"))
}

/// Prints; a reader that went away is no failure of ours to complain about.
pub(crate) fn print(text: &str) -> Result<(), Failure> {
    match std::io::stdout().lock().write_all(text.as_bytes()) {
        Err(e) if e.kind() != std::io::ErrorKind::BrokenPipe => Err(could_not(e)),
        _ => Ok(()),
    }
}
