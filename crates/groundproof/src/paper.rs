//! `groundproof paper`: a trial of the studio as files.

use std::path::Path;

use workbench::{Moment, PaperWords, Studio, Workbench};

use crate::arguments::Paper;
use crate::command::{Failure, bad_input, could_not, print, write_file};
use crate::studio;

pub(crate) fn run(options: &Paper) -> Result<(), Failure> {
    let bench = Workbench::open().map_err(could_not)?;
    let now = now();
    let studio = if options.example { bench.example(now).map_err(could_not)? } else { studio::open(options.studio.as_deref())? };
    let state = studio.state();
    let Some(wanted) = &options.trial else {
        let lines: Vec<String> = bench.trials(&state, now).rows.iter().map(|row| format!("{}  {}", row.subject, row.question)).collect();
        return if lines.is_empty() { Err(could_not("this studio holds no trial yet")) } else { print(&format!("{}\n", lines.join("\n"))) };
    };
    let rows = bench.trials(&state, now).rows;
    let found = rows.iter().find(|row| row.subject == *wanted).or_else(|| rows.iter().find(|row| row.question == *wanted));
    let Some(trial) = found else {
        return Err(bad_input(format!("there is no trial `{wanted}`; `groundproof paper` without a name lists them")));
    };
    files(&bench, &studio, &trial.subject, options, now)
}

fn files(bench: &Workbench, studio: &Studio, trial: &str, options: &Paper, now: Moment) -> Result<(), Failure> {
    let state = studio.state();
    let today = now.local().0;
    let words = PaperWords { title: options.title.clone(), authors: options.authors.clone(), licence: options.licence.clone() };
    let made = bench.trial_paper(studio, &state, trial, &words, today).map_err(could_not)?;
    let mut view = made.view;
    for photo in made.photos {
        let bytes = studio.keeper().photo(&photo.bytes).map_err(could_not)?;
        let bytes = bytes.ok_or_else(|| could_not(format!("a photo of {} is no longer on disk", photo.caption)))?;
        view.photos.push(paper::photo_figure(&bytes, &photo.caption).map_err(could_not)?);
    }
    let mut said = Vec::new();
    let mut save = |file: Option<&Path>, bytes: &dyn Fn() -> Result<Vec<u8>, Failure>| -> Result<(), Failure> {
        if let Some(file) = file {
            write_file(file, &bytes()?)?;
            said.push(format!("Wrote {}.", file.display()));
        }
        Ok(())
    };
    save(options.out.as_deref(), &|| paper::pdf(&view).map_err(could_not))?;
    save(options.card.as_deref(), &|| {
        let card = bench.trial_card(studio, &state, trial, &options.recipe, today).map_err(could_not)?;
        paper::recipe_card_pdf(&card).map_err(could_not)
    })?;
    save(options.picture.as_deref(), &|| {
        let card = bench.trial_picture(studio, &state, trial, &options.recipe).map_err(could_not)?;
        paper::picture_card_png(&card).map_err(could_not)
    })?;
    save(options.sheets.as_deref(), &|| {
        let sheets = bench.board_sheet(studio, &state, trial, today).map_err(could_not)?;
        paper::board_sheet_pdf(&sheets).map_err(could_not)
    })?;
    save(options.data.as_deref(), &|| {
        let data = bench.trial_data(&state, trial, &words, today, studio.is_example()).map_err(could_not)?;
        paper::data_zip(&data).map_err(could_not)
    })?;
    if said.is_empty() {
        said.push(view.answer.clone());
        said.extend(view.checklist.items().iter().map(|item| format!("{}: {} {}", item.word, item.what, item.text)));
    }
    print(&format!("{}\n", said.join("\n")))
}

/// Now where the program runs.
fn now() -> Moment {
    let now = jiff::Zoned::now();
    Moment { seconds: now.timestamp().as_second(), offset_minutes: now.offset().seconds() / 60 }
}
