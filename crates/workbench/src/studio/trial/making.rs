//! What was made, as rows of paper and data: pots by mass, coats, air.

use std::collections::BTreeMap;
use std::sync::Arc;

use notebook::{Coat, Day, Kept, Moment, Notebook, Trial};
use show::paper::{CoatRow, Composition, CompositionRow, RoomRow};
use show::{BoardData, CoatData, DataView, IngredientData, LicenceView, MeasureView, number, percent};

use super::answer::{Rows, lost};
use super::boards::covered;
use super::paper::{PaperWords, Pot};
use crate::sheets::made_with;
use crate::verdict::{Standing, Worked, said};
use crate::{VERSION, Workbench};

/// Every pot; pots of one recipe with the same amounts stand together.
pub(super) fn compositions(bench: &Workbench, pots: &[Pot]) -> Vec<Composition> {
    let mut groups: Vec<(Vec<&str>, &Pot)> = Vec::new();
    for pot in pots {
        match groups.iter_mut().find(|(_, first)| first.recipe == pot.recipe && first.told == pot.told && first.weighed == pot.weighed) {
            Some((letters, _)) => letters.push(&pot.letter),
            None => groups.push((vec![&pot.letter], pot)),
        }
    }
    let mut told: Vec<Vec<String>> = Vec::new();
    groups
        .into_iter()
        .map(|(letters, pot)| {
            let mut one = composition(bench, &letters, pot);
            // The same steps stand once; a reader finds them above.
            if told.contains(&one.steps) {
                one.steps = vec!["As above.".into()];
            } else {
                told.push(one.steps.clone());
            }
            one
        })
        .collect()
}

/// What went into a pot, by mass, wet and dry.
fn composition(bench: &Workbench, letters: &[&str], pot: &Pot) -> Composition {
    let pots = if letters.len() == 1 { "Pot" } else { "Pots" };
    let planned = match (pot.weighed, pot.as_planned) {
        (true, _) => "",
        (false, true) => ", as planned; weighed as on the sheet, said by a tap and not written down ingredient by ingredient",
        (false, false) => ", as planned; what was truly weighed is not written down",
    };
    let name = format!("{pots} {}: {}{planned}", letters.join(", "), pot.recipe);
    let empty = CompositionRow { name: "together".into(), grams: "not known".into(), of_wet: String::new(), of_dry: String::new() };
    let Some(worked) = &pot.worked else {
        return Composition { name, lines: Vec::new(), sum: empty, powder_share: String::new(), place: String::new(), steps: Vec::new() };
    };
    let rows = worked.mix.dried(&worked.mix.best());
    let (wet, dry) = rows.iter().fold((0.0, 0.0), |(wet, dry), (_, grams, stays)| (wet + grams.value(), dry + stays.value()));
    let row = |name: String, grams: f64, stays: f64| CompositionRow {
        name,
        grams: number(grams, 1),
        of_wet: share(grams, wet),
        of_dry: share(stays, dry),
    };
    let lines = worked
        .reading
        .lines
        .iter()
        .enumerate()
        .filter_map(|(index, line)| {
            let material = line.material.first().and_then(|id| bench.jars.material(id))?;
            Some(match rows.iter().find(|(at, _, _)| *at == index) {
                Some((_, grams, stays)) => row(material.name.clone(), grams.value(), stays.value()),
                None => CompositionRow {
                    name: material.name.clone(),
                    grams: "not counted".into(),
                    of_wet: String::new(),
                    of_dry: String::new(),
                },
            })
        })
        .collect();
    let pvc = worked.ranges.as_ref().ok().and_then(|ranges| ground::film_figure(ranges, "pvc", worked.water_known));
    Composition {
        name,
        lines,
        sum: row("together".into(), wet, dry),
        powder_share: pvc.map_or_else(String::new, |figure| {
            format!("{} of what dries and stays, by volume ({} to {})", percent(figure.value), percent(figure.low), percent(figure.high))
        }),
        place: match &worked.standing {
            Standing::Word(words) => format!("Beside the handbook grounds it is {}.", said(words)),
            Standing::NoWord(why) | Standing::NoFilm(why) => format!("It has no place on the rule: {why}."),
        },
        steps: bench.making(worked).steps.into_iter().map(|step| step.text).collect(),
    }
}

fn share(part: f64, whole: f64) -> String {
    if whole > 0.0 { number(part / whole * 100.0, 1) } else { String::new() }
}

/// Coats by number and recipe: what lay on a square metre, how they were brushed, how long between, how old the pot was.
pub(super) fn coat_rows(state: &Notebook, subject: &str, trial: &Trial, pots: &[Pot]) -> Vec<CoatRow> {
    let mut groups: BTreeMap<(String, u32), CoatGroup> = BTreeMap::new();
    for board in state.boards_of(subject) {
        let coats = state.coats_of(&board.subject);
        for (index, coat) in coats.iter().enumerate() {
            let area = trial
                .width_mm
                .zip(trial.height_mm)
                .map(|(width, height)| width * height * covered(&board.record, coat.record.number) / 1e6);
            let pot = if coat.record.batch.is_empty() { &board.record.planned.batch } else { &coat.record.batch };
            let laid = Laid {
                per_area: coat.record.laid_g().zip(area).map(|(laid, area)| laid / area),
                waited: index
                    .checked_sub(1)
                    .and_then(|last| coats.get(last))
                    .map(|last| coat.record.laid.seconds - last.record.laid.seconds),
                pot_age: pots
                    .iter()
                    .find(|known| known.letter == *pot)
                    .and_then(|pot| pot.ready)
                    .map(|ready| coat.record.laid.seconds - ready.seconds),
            };
            groups.entry((board.record.planned.recipe.clone(), coat.record.number)).or_default().push((laid, Arc::clone(coat)));
        }
    }
    groups
        .into_iter()
        .map(|((recipe, coat), laid)| {
            let mut ways: Vec<String> = laid.iter().map(|(_, coat)| coat.record.direction.clone()).filter(|way| !way.is_empty()).collect();
            ways.sort();
            ways.dedup();
            let what = if coat == 0 { "size".to_owned() } else { format!("coat {coat}") };
            CoatRow {
                coat: format!("{recipe}, {what}, {} boards", laid.len()),
                wet_mass: spread(laid.iter().filter_map(|(laid, _)| laid.per_area), |value| number(value, 0), "g/m\u{b2}"),
                direction: if ways.is_empty() { "not known".into() } else { ways.join(", ") },
                recoat: if coat <= 1 {
                    "first".into()
                } else {
                    spread(laid.iter().filter_map(|(laid, _)| laid.waited).map(hours), |value| number(value, 1), "h")
                },
                pot_age: spread(laid.iter().filter_map(|(laid, _)| laid.pot_age).map(hours), |value| number(value, 1), "h"),
            }
        })
        .collect()
}

/// One coat of one recipe on several boards.
type CoatGroup = Vec<(Laid, Arc<Kept<Coat>>)>;

/// What is told of one coat on one board.
struct Laid {
    per_area: Option<f64>,
    waited: Option<i64>,
    pot_age: Option<i64>,
}

#[expect(clippy::cast_precision_loss, reason = "seconds of a few months")]
fn hours(seconds: i64) -> f64 {
    seconds as f64 / 3600.0
}

/// Least and most, or the one value.
fn spread(values: impl Iterator<Item = f64>, write: impl Fn(f64) -> String, unit: &str) -> String {
    let values: Vec<f64> = values.collect();
    let (low, high) = values.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(*value), high.max(*value)));
    if values.is_empty() {
        return "not known".into();
    }
    let (low, high) = (write(low), write(high));
    if low == high { format!("{low}\u{a0}{unit}") } else { format!("{low} to {high}\u{a0}{unit}") }
}

/// Air of each sitting.
pub(super) fn room_rows(state: &Notebook, subject: &str) -> Vec<RoomRow> {
    let mut days: BTreeMap<Day, (Vec<f64>, Vec<f64>)> = BTreeMap::new();
    for board in state.boards_of(subject) {
        for coat in state.coats_of(&board.subject) {
            let (warm, damp) = days.entry(coat.record.laid.local().0).or_default();
            warm.extend(coat.record.air_c);
            damp.extend(coat.record.air_rh);
        }
    }
    // Read in a sitting before the first coat, or while nothing was laid.
    let sittings = state.sittings.values().filter(|sitting| sitting.record.trial == subject);
    for air in sittings.flat_map(|sitting| state.air_of(&sitting.subject)) {
        let (warm, damp) = days.entry(air.record.read.local().0).or_default();
        warm.extend(air.record.celsius);
        damp.extend(air.record.damp);
    }
    days.into_iter()
        .map(|(day, (warm, damp))| RoomRow {
            when: day.to_string(),
            warmth: spread(warm.into_iter(), |value| number(value, 1), "\u{b0}C"),
            damp: spread(damp.into_iter(), |value| number(value, 0), "%"),
        })
        .collect()
}

/// Everything of the trial as tables.
pub(super) fn data(
    bench: &Workbench,
    state: &Notebook,
    subject: &str,
    kept: &Kept<Trial>,
    words: &PaperWords,
    today: Day,
    invented: bool,
) -> DataView {
    let trial = &kept.record;
    let rows = bench.reading_rows(state, subject, kept, Rows::All);
    let mut ids: Vec<&str> = rows.iter().map(|row| row.measure.as_str()).collect();
    ids.sort_unstable();
    ids.dedup();
    let text = |value: Option<f64>, places: usize| value.map_or_else(String::new, |value| number(value, places));
    let boards = state.boards_of(subject);
    let last = |coats: &[&Arc<Kept<Coat>>]| {
        coats.iter().map(|coat| coat.record.laid).max().map_or_else(String::new, |at: Moment| at.local().0.to_string())
    };
    DataView {
        title: trial.question.clone(),
        description: format!(
            "{}{} {} Lost boards: {}.",
            if invented { "Invented example: nobody weighed or saw any of this. " } else { "" },
            trial.question,
            trial.support,
            lost(state, subject).len()
        ),
        created: today.to_string(),
        authors: words.authors.split(',').map(|name| name.trim().to_owned()).filter(|name| !name.is_empty()).collect(),
        licence: LicenceView { id: words.licence.trim().to_owned(), title: words.licence.trim().to_owned(), address: String::new() },
        program: made_with(),
        measures: ids
            .into_iter()
            .filter_map(|id| bench.scale(state, id).map(|scale| (id, scale)))
            .map(|(id, scale)| MeasureView {
                id: id.to_owned(),
                name: scale.name,
                unit: scale.unit,
                how: format!("{} {}", scale.how, scale.source),
            })
            .collect(),
        boards: boards
            .iter()
            .map(|board| {
                let planned = &board.record.planned;
                BoardData {
                    board: board.subject.clone(),
                    recipe: planned.recipe.clone(),
                    batch: planned.batch.clone(),
                    day: planned.day.to_string(),
                    job: planned.job.clone(),
                    support: trial.support.clone(),
                    width_mm: text(trial.width_mm, 1),
                    height_mm: text(trial.height_mm, 1),
                    last_coat: last(&state.coats_of(&board.subject)),
                    lost: state.loss_of(&board.subject).unwrap_or("").to_owned(),
                    note: format!("number {} in the plan, program {VERSION}", planned.number),
                }
            })
            .collect(),
        coats: boards
            .iter()
            .flat_map(|board| {
                let planned = board.record.planned.batch.clone();
                state.coats_of(&board.subject).into_iter().map(move |coat| (planned.clone(), coat)).collect::<Vec<_>>()
            })
            .map(|(planned, coat)| {
                let record = &coat.record;
                CoatData {
                    board: record.board.clone(),
                    coat: record.number.to_string(),
                    batch: if record.batch.is_empty() { planned } else { record.batch.clone() },
                    laid: record.laid.local().0.to_string(),
                    wet_g: text(record.laid_g(), 2),
                    direction: record.direction.clone(),
                    room_c: text(record.air_c, 1),
                    room_rh: text(record.air_rh, 0),
                    note: record.note.clone(),
                }
            })
            .collect(),
        readings: rows,
        recipes: ingredients(bench, state, &bench.all_pots(state, subject, trial)),
    }
}

/// Every line of every recipe, by the pots that it was weighed for; a recipe that nobody wrote down is one line without amounts.
fn ingredients(bench: &Workbench, state: &Notebook, pots: &[Pot]) -> Vec<IngredientData> {
    let mut rows: Vec<IngredientData> = Vec::new();
    let mut done: Vec<&str> = Vec::new();
    for pot in pots {
        if done.contains(&pot.letter.as_str()) {
            continue;
        }
        let alike: Vec<&str> = pots
            .iter()
            .filter(|other| other.recipe == pot.recipe && other.told == pot.told && other.weighed == pot.weighed)
            .map(|other| other.letter.as_str())
            .collect();
        let note = format!("pot {}{}", alike.join(", "), if pot.weighed { "" } else { ", as planned" });
        done.extend(alike);
        let mut next = rows.iter().filter(|row| row.recipe == pot.recipe).count();
        let mut add = |row: IngredientData| {
            next += 1;
            rows.push(IngredientData { recipe: pot.recipe.clone(), line: next.to_string(), note: note.clone(), ..row });
        };
        let lines = pot.worked.as_ref().map_or_else(Vec::new, |worked| pot_lines(bench, state, pot, worked));
        if lines.is_empty() {
            add(IngredientData { material: "not written down".into(), ..IngredientData::default() });
        }
        lines.into_iter().for_each(&mut add);
    }
    rows
}

fn pot_lines(bench: &Workbench, state: &Notebook, pot: &Pot, worked: &Worked) -> Vec<IngredientData> {
    let masses = ground::line_masses(&worked.mix, &worked.drawn);
    worked
        .reading
        .lines
        .iter()
        .enumerate()
        .filter_map(|(index, line)| {
            let material = line.material.first().and_then(|id| bench.jars.material(id))?;
            let mass = masses.iter().find(|(at, _)| *at == index).map(|(_, figure)| figure);
            let jar = state.jars.values().find(|jar| jar.record.material == material.id.as_str());
            let grams = |pick: fn(&measure::Figure) -> f64| mass.map_or_else(String::new, |figure| number(pick(figure), 2));
            Some(IngredientData {
                material: material.name.clone(),
                told: line.span.of(&pot.told).to_owned(),
                mass_g: grams(|figure| figure.value),
                mass_low_g: grams(|figure| figure.low),
                mass_high_g: grams(|figure| figure.high),
                lot: jar.map_or_else(String::new, |jar| jar.record.lot.clone()),
                ..IngredientData::default()
            })
        })
        .collect()
}
