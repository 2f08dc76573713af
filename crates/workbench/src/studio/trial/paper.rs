//! A trial as a paper that a stranger can repeat.

use std::collections::{BTreeMap, BTreeSet};

use materials::Material;
use notebook::{Day, Deed, Kept, Notebook, Paper, Stamp, Trial, Wanted};
use show::paper::{
    Asked, Checklist, Given, MaterialRow, PaperCaution, PaperFigure, PaperPoint, PaperView, Picture, PlanPart, PlannedBoard, ReadingRow,
    ResultPart,
};
use show::{FinishedPaper, PhotoView, TrialAnswerView};

use super::super::sight::by_photo;
use super::super::{Studio, StudioError, named, one_line};
use super::boards::{job_words, value_words};
use super::{better_since, making, trial_of};
use crate::sheets::{made_with, paper_day};
use crate::verdict::Worked;
use crate::{VERSION, Workbench};

/// What the authors say of their paper.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PaperWords {
    /// Title; the question if empty.
    pub title: String,
    /// Names, parted by commas; may be empty.
    pub authors: String,
    /// Licence; may be empty.
    pub licence: String,
}

/// A paper and what its maker still has to add: the photos.
#[derive(Debug, Clone, PartialEq)]
pub struct TrialPaper {
    /// Everything but the photos.
    pub view: PaperView,
    /// Photos of its boards.
    pub photos: Vec<PhotoView>,
    /// Pictures of the result for a page: drawing and caption.
    pub drawings: Vec<(String, String)>,
    /// Finished papers of this trial, newest first.
    pub finished: Vec<FinishedPaper>,
}

/// One pot, worked out.
pub(super) struct Pot {
    pub(super) letter: String,
    pub(super) recipe: String,
    pub(super) weighed: bool,
    /// Somebody tapped that it was weighed as on the sheet.
    pub(super) as_planned: bool,
    pub(super) told: String,
    pub(super) ready: Option<notebook::Moment>,
    pub(super) worked: Option<Worked>,
}

impl Workbench {
    /// The paper of a trial as it stands today.
    ///
    /// # Errors
    /// No such trial; its plan is not fixed.
    pub fn trial_paper(
        &self,
        studio: &Studio,
        state: &Notebook,
        subject: &str,
        words: &PaperWords,
        today: Day,
    ) -> Result<TrialPaper, StudioError> {
        let kept = trial_of(state, subject)?;
        let trial = &kept.record;
        let answer = self.trial_answer(state, subject)?;
        let pots = self.all_pots(state, subject, trial);
        let materials = self.materials_of(&pots);
        let title = one_line(&words.title);
        let title = if title.is_empty() { trial.question.clone() } else { title };
        let authors: Vec<String> = words.authors.split(',').map(one_line).filter(|name| !name.is_empty()).collect();
        let next_look = self
            .looks(state, subject)
            .into_iter()
            .find(|(day, _)| *day >= today)
            .map_or_else(String::new, |(day, after)| format!("{day}, {after} after the last coat"));
        let cite = format!(
            "{}{title}. {today}. Made with groundproof {VERSION}.",
            if authors.is_empty() { String::new() } else { format!("{}: ", authors.join(", ")) }
        );
        let view = PaperView {
            title,
            language: "en".into(),
            authors,
            date: paper_day(today),
            made_with: made_with(),
            invented: studio.is_example(),
            answer: paragraph(&answer),
            checklist: self.checklist(state, subject, kept, &pots, &answer, &words.licence, &next_look),
            asked: Asked { question: trial.question.clone(), better: answer.better.clone(), fixed_on: better_since(state, subject).0 },
            changed: changed(state, subject),
            stayed: lines(&[&trial.kept_same, &trial.support, &trial.method, &self.jar_roads(state, subject)]),
            plan: plan_part(state, subject),
            materials: materials.iter().map(|material| self.material_row(state, material)).collect(),
            recipes: making::compositions(self, &pots),
            coats: making::coat_rows(state, subject, trial, &pots),
            room: making::room_rows(state, subject),
            readings: self.reading_words(state, subject),
            result: result(&answer),
            photos: Vec::new(),
            failures: failures(state, subject, &answer),
            cautions: self.cautions_of(&pots),
            sources: sources(&self.measures_read(state, subject)),
            licence: one_line(&words.licence),
            cite,
            next_look,
        };
        let photos = state
            .boards_of(subject)
            .iter()
            .flat_map(|board| {
                state
                    .photos
                    .values()
                    .filter(|photo| photo.record.of == board.subject)
                    .map(|photo| (board.record.planned.number.as_str(), photo))
            })
            .map(|(number, photo)| PhotoView {
                photo: photo.subject.clone(),
                says: crate::studio::sight::says(state, &photo.subject),
                bytes: photo.record.bytes.clone(),
                caption: photo_caption(state, number, photo),
                on: crate::studio::sight::taken(photo).view().words,
                entry: photo.n,
            })
            .collect();
        let drawings =
            answer.measures.iter().filter(|one| !one.picture.is_empty()).map(|one| (one.picture.clone(), one.title.clone())).collect();
        Ok(TrialPaper { view, photos, drawings, finished: finished(state, subject, &paragraph(&answer)) })
    }

    /// Keeps a finished paper with the files that were made of it.
    ///
    /// # Errors
    /// No title; the notebook refuses.
    pub fn finish_paper(
        &self,
        studio: &Studio,
        subject: &str,
        view: &PaperView,
        words: &PaperWords,
        (pdf, data): (&[u8], &[u8]),
        stamp: &Stamp,
    ) -> Result<(), StudioError> {
        let title = named(&view.title, "the title", "Less glue, fewer cracks")?;
        let paper = Paper {
            trial: subject.to_owned(),
            title,
            authors: one_line(&words.authors),
            licence: one_line(&words.licence),
            version: VERSION.to_owned(),
            answer: view.answer.clone(),
            pdf: studio.keeper().put_photo(pdf)?,
            data: studio.keeper().put_photo(data)?,
        };
        studio.write(stamp, |_| Ok(vec![Wanted::new(stamp.subject("paper", 0), Deed::Paper(paper.clone()))])).map(drop)
    }

    /// All pots of a trial in the order of laying.
    pub(super) fn all_pots(&self, state: &Notebook, subject: &str, trial: &Trial) -> Vec<Pot> {
        let mut pots: Vec<Pot> = Vec::new();
        for board in state.boards_of(subject) {
            let planned = &board.record.planned;
            if pots.iter().any(|pot| pot.letter == planned.batch) {
                continue;
            }
            let batch = state.batch_of(subject, &planned.batch);
            let request = self.pot_request(state, trial, &board.record, &planned.batch);
            pots.push(Pot {
                letter: planned.batch.clone(),
                recipe: planned.recipe.clone(),
                weighed: batch.is_some_and(|batch| !batch.record.as_planned),
                as_planned: batch.is_some_and(|batch| batch.record.as_planned),
                told: request.told.clone(),
                ready: batch.and_then(|batch| batch.record.ready),
                worked: if request.told.trim().is_empty() { None } else { self.work(&request).ok() },
            });
        }
        pots
    }

    fn materials_of(&self, pots: &[Pot]) -> Vec<&Material> {
        let mut seen = BTreeSet::new();
        let lines = pots.iter().filter_map(|pot| pot.worked.as_ref()).flat_map(|worked| &worked.reading.lines);
        lines
            .filter_map(|line| line.material.first())
            .filter(|id| seen.insert((*id).clone()))
            .filter_map(|id| self.jars.material(id))
            .collect()
    }

    fn material_row(&self, state: &Notebook, material: &Material) -> MaterialRow {
        let jar = state.jars.values().find(|jar| jar.record.material == material.id.as_str()).map(|jar| &jar.record);
        MaterialRow {
            name: jar.map_or_else(
                || material.name.clone(),
                |jar| if jar.name == material.name { jar.name.clone() } else { format!("{} ({})", material.name, jar.name) },
            ),
            maker: jar.map_or_else(String::new, |jar| jar.maker.clone()),
            lot: jar.map_or_else(String::new, |jar| jar.lot.clone()),
            purity: jar.map_or_else(String::new, |jar| jar.note.clone()),
            opened: jar.and_then(|jar| jar.opened).map_or_else(String::new, |day| day.to_string()),
            cautions: self.jars.hazards_of(&material.id).map(|hazard| hazard.caution.clone()).collect(),
        }
    }

    fn cautions_of(&self, pots: &[Pot]) -> Vec<PaperCaution> {
        let mut seen = BTreeSet::new();
        pots.iter()
            .filter_map(|pot| pot.worked.as_ref())
            .flat_map(|worked| self.mind(worked))
            .filter(|caution| seen.insert(caution.text.clone()))
            .map(|caution| PaperCaution {
                about: if caution.codes.is_empty() { caution.about } else { format!("{} ({})", caution.about, caution.codes) },
                text: caution.text,
                source: caution.source,
            })
            .collect()
    }

    fn reading_words(&self, state: &Notebook, subject: &str) -> Vec<ReadingRow> {
        let mut rows = Vec::new();
        for board in state.boards_of(subject) {
            for reading in state.readings_of(&board.subject) {
                let record = &reading.record;
                let scale = self.scale(state, &record.measure);
                let yes_no = scale.as_ref().is_some_and(|scale| scale.kind == trials::scales::Kind::YesNo);
                let age = super::boards::age_days(state, &board.subject, record.read)
                    .map_or_else(String::new, |days| format!(", {days} days old"));
                let strip = record.strip.map_or_else(String::new, |strip| format!(", strip of {strip} coats"));
                rows.push(ReadingRow {
                    board: format!("{} ({})", board.record.planned.number, board.subject),
                    test: format!("{}{strip}{age}", scale.as_ref().map_or_else(|| record.measure.clone(), |scale| scale.name.clone())),
                    result: value_words(&record.value, scale.as_ref().map_or("", |scale| scale.unit.as_str()), yes_no),
                    // How a photo was read stands beside what it gave.
                    rater: if by_photo(record) { format!("{}, {}", record.rater, record.note) } else { record.rater.clone() },
                    hidden: if record.blind { "hidden" } else { "known" }.to_owned(),
                    failed: false,
                });
            }
        }
        rows
    }

    /// Scales that were read in this trial: name and source.
    fn measures_read(&self, state: &Notebook, subject: &str) -> BTreeMap<String, String> {
        state
            .boards_of(subject)
            .iter()
            .flat_map(|board| state.readings_of(&board.subject))
            .filter_map(|reading| self.scale(state, &reading.record.measure))
            .map(|scale| (scale.name, scale.source))
            .collect()
    }

    #[expect(clippy::too_many_arguments, reason = "the list speaks of every part of the paper")]
    fn checklist(
        &self,
        state: &Notebook,
        subject: &str,
        kept: &Kept<Trial>,
        pots: &[Pot],
        answer: &TrialAnswerView,
        licence: &str,
        next_look: &str,
    ) -> Checklist {
        let trial = &kept.record;
        let boards = state.boards_of(subject);
        let coats: Vec<_> = boards.iter().flat_map(|board| state.coats_of(&board.subject)).collect();
        let readings: Vec<_> = boards.iter().flat_map(|board| state.readings_of(&board.subject)).collect();
        let ids: BTreeSet<&str> = pots
            .iter()
            .filter_map(|pot| pot.worked.as_ref())
            .flat_map(|worked| worked.mix.materials())
            .map(|(_, id)| id.as_str())
            .collect();
        let has = |words: &[&str]| ids.iter().any(|id| words.iter().any(|word| id.contains(word)));
        let known = |is: bool| if is { Given::Given } else { Given::NotKnown };
        let weighed = pots.iter().filter(|pot| pot.weighed).count();
        let lots = self
            .materials_of(pots)
            .iter()
            .filter(|material| state.jars.values().any(|jar| jar.record.material == material.id.as_str() && !jar.record.lot.is_empty()))
            .count();
        let blind = readings.iter().filter(|reading| reading.record.blind).count();
        let raters: BTreeSet<&str> =
            readings.iter().map(|reading| reading.record.rater.as_str()).filter(|rater| !rater.is_empty()).collect();
        let with_damp = coats.iter().filter(|coat| coat.record.air_rh.is_some()).count();
        let unweighed = coats.iter().filter(|coat| coat.record.laid_g().is_none()).count();
        let with_air = coats.iter().filter(|coat| coat.record.air_c.is_some()).count();
        let photos = boards.iter().filter(|board| state.photos.values().any(|photo| photo.record.of == board.subject)).count();
        let milk = has(&["milk", "curd", "quark"]);
        let glue = has(&["glue", "gelatin", "parchment", "isinglass"]);
        let not_here = |is: bool, what: &str| {
            if is { (Given::NotKnown, String::new()) } else { (Given::NotApplicable, format!("no {what} in these recipes")) }
        };
        let (milk_state, milk_text) = not_here(milk, "milk");
        let (curd_state, curd_text) = not_here(milk, "curd");
        let (glue_state, glue_text) = not_here(glue, "glue");
        Checklist::blank()
            .with(PaperPoint::Question, Given::Given, &fixed_words(&better_since(state, subject)))
            .with(
                PaperPoint::Composition,
                known(weighed == pots.len() && weighed > 0),
                &format!("{weighed} of {} pots written down as truly weighed", pots.len()),
            )
            .with(
                PaperPoint::Materials,
                known(lots > 0),
                &if lots > 0 { format!("lots of {lots} of them are known") } else { String::new() },
            )
            .with(PaperPoint::Milk, milk_state, &milk_text)
            .with(PaperPoint::Curd, curd_state, &curd_text)
            .with(PaperPoint::Glue, glue_state, &glue_text)
            .with(PaperPoint::Making, known(!trial.method.is_empty()), &trial.method)
            .with(PaperPoint::Support, known(!trial.support.is_empty()), &trial.support)
            .with(
                PaperPoint::Coats,
                known(!coats.is_empty()),
                &format!("{} coats on {} boards, {unweighed} of them not weighed", coats.len(), boards.len()),
            )
            .with(
                PaperPoint::Room,
                known(with_air > 0),
                &format!("warmth noted with {with_air}, dampness with {with_damp} of {} coats", coats.len()),
            )
            .with(PaperPoint::Drying, known(!answer.ages.is_empty()), &answer.ages)
            .with(
                PaperPoint::Finish,
                known(mentions(trial, &["sand", "scrape", "grit"])),
                if mentions(trial, &["sand", "scrape", "grit"]) { "said with the method" } else { "" },
            )
            .with(PaperPoint::Plan, Given::Given, "order, seed, days, pots and controls are printed")
            .with(
                PaperPoint::Tests,
                known(!readings.is_empty()),
                &format!("{} readings, {blind} with the recipe hidden, by {}", readings.len(), people(raters.len())),
            )
            .with(
                PaperPoint::EveryBoard,
                known(!readings.is_empty()),
                &format!("every reading is printed; {photos} of {} boards have a photo", boards.len()),
            )
            .with(PaperPoint::Working, Given::Given, &format!("groundproof {VERSION}; ranges hold eight of ten"))
            .with(PaperPoint::Failures, Given::Given, "")
            .with(PaperPoint::Dangers, Given::Given, "beside the materials and under cautions")
            .with(PaperPoint::Rights, known(!licence.trim().is_empty()), licence.trim())
            .with(PaperPoint::NextLook, known(!next_look.is_empty()), next_look)
    }
}

fn fixed_words((day, before): &(String, bool)) -> String {
    format!("fixed on {day}, {} the first reading", if *before { "before" } else { "after" })
}

fn people(count: usize) -> String {
    match count {
        0 => "nobody named".into(),
        1 => "one person".into(),
        more => format!("{more} people"),
    }
}

fn mentions(trial: &Trial, words: &[&str]) -> bool {
    let text = format!("{} {}", trial.method, trial.kept_same).to_lowercase();
    words.iter().any(|word| text.contains(word))
}

/// The answer in one paragraph.
fn paragraph(answer: &TrialAnswerView) -> String {
    match answer.measures.first() {
        Some(first) => {
            let tangle = first.tangles.first().map_or("", String::as_str);
            format!("{} {} {tangle}", first.headline, first.counted).trim().to_owned()
        }
        None => "These boards were not read yet, so they answer nothing.".into(),
    }
}

fn lines(texts: &[&str]) -> Vec<String> {
    texts.iter().flat_map(|text| text.lines()).map(one_line).filter(|line| !line.is_empty()).collect()
}

fn changed(state: &Notebook, subject: &str) -> Vec<String> {
    let mut settings: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    let mut strips: BTreeSet<u8> = BTreeSet::new();
    for board in state.boards_of(subject) {
        for (name, value) in &board.record.planned.settings {
            settings.entry(name.clone()).or_default().insert(value.clone());
        }
        strips.extend(&board.record.planned.strips);
    }
    let mut out: Vec<String> =
        settings.into_iter().map(|(name, values)| format!("{name}: {}", values.into_iter().collect::<Vec<_>>().join(", "))).collect();
    if let (Some(first), Some(last)) = (strips.first(), strips.last()) {
        out.push(format!("coats: strips of {first} to {last} side by side on each board"));
    }
    out
}

fn plan_part(state: &Notebook, subject: &str) -> PlanPart {
    let boards = state.boards_of(subject);
    let plan = state.plan_of(subject);
    let count = |job: &str| boards.iter().filter(|board| board.record.planned.job == job).count();
    let days: BTreeSet<u32> = boards.iter().map(|board| board.record.planned.day).collect();
    let pots: BTreeSet<&str> = boards.iter().map(|board| board.record.planned.batch.as_str()).collect();
    let mut sentences = vec![format!(
        "Boards: {}, in {} same-day groups, from {} pots. With a recipe under trial: {}; yardsticks, a known ground: {}; witnesses, a bought primer: {}.",
        boards.len(),
        days.len(),
        pots.len(),
        count("recipe"),
        count("yardstick"),
        count("witness")
    )];
    if let Some(plan) = plan {
        sentences.extend(plan.record.can.iter().cloned());
        sentences.extend(plan.record.cannot.iter().cloned());
    }
    PlanPart {
        sentences,
        seed: plan.map_or_else(String::new, |plan| plan.record.seed.to_string()),
        boards: boards
            .iter()
            .map(|board| {
                let planned = &board.record.planned;
                PlannedBoard {
                    order: planned.order.to_string(),
                    board: format!("{} ({})", planned.number, board.subject),
                    day: planned.day.to_string(),
                    batch: planned.batch.clone(),
                    sheet: planned.sheet.clone(),
                    kind: if planned.job == "recipe" {
                        planned.recipe.clone()
                    } else {
                        format!("{}; {}", planned.recipe, job_words(planned))
                    },
                    lost: state.loss_of(&board.subject).unwrap_or("").to_owned(),
                }
            })
            .collect(),
    }
}

fn result(answer: &TrialAnswerView) -> ResultPart {
    let mut part = ResultPart::default();
    for measure in &answer.measures {
        part.sentences.push(format!("{}. {}", measure.title, measure.sentence));
        part.sentences.extend(measure.more.iter().cloned());
        part.cannot_tell.extend(measure.tangles.iter().cloned());
        if !measure.picture.is_empty() {
            part.pictures.push(PaperFigure {
                picture: Picture::Drawing(show::standalone(&measure.picture)),
                alt: format!("{}: {}", measure.title, measure.sentence),
                caption: measure.title.clone(),
            });
        }
    }
    part.cannot_tell.extend(answer.cannot.iter().cloned());
    if !answer.next.is_empty() {
        part.would_tell.push(format!("{} {}", answer.next, answer.why).trim().to_owned());
    }
    part
}

/// Which board, when, and what the program saw in it.
fn photo_caption(state: &Notebook, number: &str, photo: &Kept<notebook::Photo>) -> String {
    let (says, taken) = (crate::studio::sight::says(state, &photo.subject), crate::studio::sight::taken(photo).view().words);
    let told = photo.record.caption.trim().trim_end_matches('.');
    let told = if told.is_empty() { String::new() } else { format!(" {told};") };
    format!("Board {number}.{told} {taken}. {says}").trim().to_owned()
}

/// What failed, and odd finds: lost boards, and every remark that was written down.
fn failures(state: &Notebook, subject: &str, answer: &TrialAnswerView) -> Vec<String> {
    let mut out = answer.lost.clone();
    for board in state.boards_of(subject) {
        let number = &board.record.planned.number;
        for coat in state.coats_of(&board.subject).iter().filter(|coat| !coat.record.note.is_empty()) {
            out.push(format!("Board {number}, coat {}: {}.", coat.record.number, coat.record.note));
        }
        for reading in
            state.readings_of(&board.subject).iter().filter(|reading| !reading.record.note.is_empty() && !by_photo(&reading.record))
        {
            out.push(format!("Board {number}: {}.", reading.record.note));
        }
    }
    for batch in state.batches.values().filter(|batch| batch.record.trial == subject && !batch.record.note.is_empty()) {
        out.push(format!("Pot {}: {}.", batch.record.letter, batch.record.note));
    }
    out
}

fn sources(measures: &BTreeMap<String, String>) -> Vec<String> {
    let mut out = vec![
        "Powder share and critical share: W. K. Asbeck and M. Van Loo, Critical Pigment Volume Relationships, 1949; place on the rule after G. P. Bierwagen and T. K. Hay, 1975.".to_owned(),
        "Exact tests: R. A. Fisher, The Design of Experiments, 1935, and full enumeration of all arrangements.".to_owned(),
    ];
    out.extend(measures.iter().map(|(name, source)| format!("Scale \u{201c}{name}\u{201d}: {source}.")));
    out
}

fn finished(state: &Notebook, subject: &str, today: &str) -> Vec<FinishedPaper> {
    let mut papers: Vec<_> = state.papers.values().filter(|paper| paper.record.trial == subject).collect();
    papers.sort_by_key(|paper| std::cmp::Reverse(paper.n));
    papers
        .into_iter()
        .map(|paper| FinishedPaper {
            subject: paper.subject.clone(),
            entry: paper.n,
            title: paper.record.title.clone(),
            on: paper.first.local().0.to_string(),
            version: paper.record.version.clone(),
            answer: paper.record.answer.clone(),
            moved: if paper.record.answer == today { String::new() } else { today.to_owned() },
        })
        .collect()
}

impl Workbench {
    /// Bytes of a finished paper or its data, with the name that the file gets.
    ///
    /// # Errors
    /// No such paper; the store could not.
    pub fn finished_file(&self, studio: &Studio, subject: &str, data: bool) -> Result<Vec<u8>, StudioError> {
        let state = studio.state();
        let paper = state.papers.get(subject).ok_or(StudioError::Missing("paper"))?;
        let name = if data { &paper.record.data } else { &paper.record.pdf };
        studio.keeper().photo(name)?.ok_or(StudioError::Missing("file of this paper"))
    }

    /// Everything of the trial as data.
    ///
    /// # Errors
    /// No such trial.
    pub fn trial_data(
        &self,
        state: &Notebook,
        subject: &str,
        words: &PaperWords,
        today: Day,
        invented: bool,
    ) -> Result<show::DataView, StudioError> {
        let kept = trial_of(state, subject)?;
        Ok(making::data(self, state, subject, kept, words, today, invented))
    }
}
