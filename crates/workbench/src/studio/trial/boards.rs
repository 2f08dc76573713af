//! One board: what it is, what was laid on it, what was seen.

use std::collections::BTreeMap;

use ground::{Film, FilmRanges, Mix};
use materials::Wishes;
use measure::GramsPerSquareMetre;
use notebook::{Board, Coat, Kept, Moment, Notebook, Planned, Trial};
use show::{BoardView, CoatView, PhotoView, ReadingView, number, plain, write};

use super::super::{StudioError, short};
use super::lay::next_coat;
use super::{coats_wanted, trial_of};
use crate::verdict::Worked;
use crate::{VerdictRequest, Workbench};

/// Square millimetres of a square metre.
pub(super) const SQUARE_METRE: f64 = 1e6;

/// The film of each pot, by pot and planned recipe of one trial; worked out once for a whole table.
pub(crate) type PotFilms = BTreeMap<(String, String), Option<Film>>;

impl Workbench {
    /// Finds a board by its id as typed.
    ///
    /// # Errors
    /// No id, a misread one, or none of this studio.
    pub fn find_board(&self, state: &Notebook, typed: &str) -> Result<String, StudioError> {
        let plain: String = typed.chars().filter(char::is_ascii_alphanumeric).map(|c| c.to_ascii_uppercase()).collect();
        if let Ok(id) = notebook::read_board_id(typed)
            && state.boards.contains_key(&id)
        {
            return Ok(id);
        }
        let letters = |id: &str| id.replace('-', "");
        // A number of the plan, or the beginning of an id, if only one board has it.
        let mut fitting = state.boards.iter().filter(|(id, board)| {
            !plain.is_empty()
                && (board.record.planned.number == typed.trim()
                    || letters(id).trim_start_matches("GP").starts_with(plain.trim_start_matches("GP")))
        });
        if let (Some((id, _)), None) = (fitting.next(), fitting.next()) {
            return Ok(id.clone());
        }
        // One sign misread: the board that was meant is named, not opened.
        let near = state.boards.iter().find(|(id, _)| {
            let id = letters(id);
            id.len() == plain.len() && id.chars().zip(plain.chars()).filter(|(a, b)| a != b).count() == 1
        });
        if let Some((id, board)) = near {
            return Err(StudioError::Typed(format!(
                "there is no board {}; did you mean {id}, board {}?",
                short(typed.trim()),
                board.record.planned.number
            )));
        }
        notebook::read_board_id(typed).map_err(StudioError::typed)?;
        Err(StudioError::Missing("board"))
    }

    /// Everything about one board.
    ///
    /// # Errors
    /// No such board.
    pub fn board(&self, state: &Notebook, subject: &str) -> Result<BoardView, StudioError> {
        let kept = state.boards.get(subject).ok_or(StudioError::Missing("board"))?;
        let board = &kept.record;
        let trial = &trial_of(state, &board.trial)?.record;
        let planned = &board.planned;
        let coats = state.coats_of(subject);
        let laid = next_coat(state, subject) - 1;
        let wanted = coats_wanted(trial, planned);
        let lost = state.loss_of(subject).unwrap_or("").to_owned();
        let next = if !lost.is_empty() {
            format!("This board is lost: {lost}.")
        } else if laid < wanted {
            format!("Lay coat {} from pot {}{}.", laid + 1, planned.batch, across(&coats))
        } else {
            "Its coats are laid: look at it.".to_owned()
        };
        Ok(BoardView {
            id: subject.to_owned(),
            trial: board.trial.clone(),
            question: trial.question.clone(),
            next,
            number: planned.number.clone(),
            job: job_words(planned),
            recipe: planned.recipe.clone(),
            pot: planned.batch.clone(),
            day: planned.day,
            sheet: planned.sheet.clone(),
            place: planned.place,
            blind: board.blind.clone(),
            strips: planned.strips.clone(),
            settings: planned.settings.iter().map(|(name, value)| (name.clone(), value.clone())).collect(),
            coats: coats.iter().map(|coat| coat_view(trial, board, coat)).collect(),
            next_coat: (lost.is_empty() && laid < wanted).then_some(laid + 1),
            dry: self.dry_words(state, trial, kept),
            readings: state.readings_of(subject).iter().map(|reading| self.reading_view(state, reading)).collect(),
            photos: state
                .photos
                .values()
                .filter(|photo| photo.record.of == subject)
                .map(|photo| PhotoView {
                    photo: photo.subject.clone(),
                    says: super::super::sight::says(state, &photo.subject),
                    bytes: photo.record.bytes.clone(),
                    caption: photo.record.caption.clone(),
                    on: super::super::sight::taken(photo).view().words,
                    entry: photo.n,
                })
                .collect(),
            lost,
        })
    }

    fn reading_view(&self, state: &Notebook, kept: &Kept<notebook::Reading>) -> ReadingView {
        let reading = &kept.record;
        let scale = self.scale(state, &reading.measure);
        ReadingView {
            entry: kept.n,
            measure: scale.as_ref().map_or_else(|| reading.measure.clone(), |scale| scale.name.clone()),
            value: value_words(
                &reading.value,
                scale.as_ref().map_or("", |scale| scale.unit.as_str()),
                scale.as_ref().is_some_and(|s| s.kind == trials::scales::Kind::YesNo),
            ),
            strip: reading.strip,
            rater: reading.rater.clone(),
            blind: reading.blind,
            on: reading.read.to_string(),
            photo: reading.photo.clone(),
            note: reading.note.clone(),
        }
    }

    /// Dry thickness from the wet masses that were weighed, or why it is not known.
    fn dry_words(&self, state: &Notebook, trial: &Trial, kept: &Kept<Board>) -> String {
        let coats = state.coats_of(&kept.subject);
        if coats.is_empty() {
            return String::new();
        }
        let strips = &kept.record.planned.strips;
        let of = |strip: Option<u8>| {
            let pots = self.pots(state, trial, &kept.record, &coats);
            let laid = weighed(trial, &kept.record, &coats, strip);
            match (pots, laid) {
                (Err(why), _) | (_, Err(why)) => why,
                (Ok(pots), Ok(laid)) => {
                    let parts: Vec<(&FilmRanges, GramsPerSquareMetre)> = laid
                        .iter()
                        .filter_map(|(pot, mass)| Some((pots.iter().find(|(letter, _)| letter == pot)?.1.ranges.as_ref().ok()?, *mass)))
                        .collect();
                    write(&FilmRanges::dry_of(&parts)).line()
                }
            }
        };
        match (strips.iter().min(), strips.iter().max()) {
            (Some(first), Some(last)) => format!("{} where {first} coat lies, {} where {last} lie", of(Some(*first)), of(Some(*last))),
            _ => of(None),
        }
    }

    /// The pots that coats came from, worked out from what was truly weighed, or else from the recipe as planned.
    fn pots(
        &self,
        state: &Notebook,
        trial: &Trial,
        board: &Board,
        coats: &[&std::sync::Arc<Kept<Coat>>],
    ) -> Result<Vec<(String, Worked)>, String> {
        let mut out: Vec<(String, Worked)> = Vec::new();
        for coat in coats {
            let pot = pot_of(board, &coat.record);
            if out.iter().any(|(letter, _)| *letter == pot) {
                continue;
            }
            let request = self.pot_request(state, trial, board, &pot);
            if request.told.is_empty() {
                return Err(format!("not known: what went into pot {pot} is not written down"));
            }
            match self.work(&request) {
                Ok(worked) if worked.ranges.is_ok() && worked.water_known => out.push((pot, worked)),
                _ => return Err(format!("not known: what went into pot {pot} gives no film with its water")),
            }
        }
        Ok(out)
    }

    /// What went into a pot, as the reader takes it.
    pub(crate) fn pot_request(&self, state: &Notebook, trial: &Trial, board: &Board, pot: &str) -> VerdictRequest {
        let weighed = state.batch_of(&board.trial, pot);
        let told = weighed.map_or_else(
            || {
                // A coat from another pot than planned carries that pot's recipe.
                let own = state.boards_of(&board.trial).into_iter().find(|other| other.record.planned.batch == pot);
                let recipe = own.map_or(&board.planned.recipe, |other| &other.record.planned.recipe);
                trial.recipes.get(recipe).cloned().unwrap_or_default()
            },
            |batch| batch.record.told.clone(),
        );
        VerdictRequest {
            // The jar that went in stays the pot's, whatever bears its name later.
            own: match weighed.and_then(|batch| batch.record.binder.as_deref()) {
                Some(jar) => self.own_values_with(state, Some(jar)),
                None => self.own_values_for(state, &told),
            },
            told,
            choices: weighed.map(|batch| batch.record.choices.clone()).unwrap_or_default(),
            ..VerdictRequest::default()
        }
    }

    /// Dry thickness of a strip at the best values, micrometres; `None` where a weight or a pot is missing.
    pub(crate) fn dry_best(
        &self,
        state: &Notebook,
        trial: &Trial,
        kept: &Kept<Board>,
        strip: Option<u8>,
        films: &mut PotFilms,
    ) -> Option<f64> {
        let coats = state.coats_of(&kept.subject);
        let laid = weighed(trial, &kept.record, &coats, strip).ok()?;
        let mut sum = 0.0;
        for (pot, mass) in laid {
            let key = (pot, kept.record.planned.recipe.clone());
            let film = *films.entry(key).or_insert_with_key(|(pot, _)| self.best_film(state, trial, &kept.record, pot));
            sum += film?.dry_of(mass).value();
        }
        (sum > 0.0).then_some(sum)
    }

    /// The film of a pot at the best values; `None` where what went in or its water is not known.
    fn best_film(&self, state: &Notebook, trial: &Trial, board: &Board, pot: &str) -> Option<Film> {
        let request = self.pot_request(state, trial, board, pot);
        let reading = materials::read(self.jars, &self.units, &request.told, &Wishes::new());
        let mix = Mix::of(self.jars, &self.units, &reading).with_own(&request.own);
        if mix.water_by_eye {
            return None;
        }
        mix.film(&mix.best(), &mut Vec::new()).ok()
    }
}

pub(super) fn pot_of(board: &Board, coat: &Coat) -> String {
    if coat.batch.is_empty() { board.planned.batch.clone() } else { coat.batch.clone() }
}

/// Wet mass on a square metre by pot, for a strip or the whole board. Strips count as equal parts of the board.
fn weighed(
    trial: &Trial,
    board: &Board,
    coats: &[&std::sync::Arc<Kept<Coat>>],
    strip: Option<u8>,
) -> Result<Vec<(String, GramsPerSquareMetre)>, String> {
    let (Some(width), Some(height)) = (trial.width_mm, trial.height_mm) else {
        return Err("not known: the size of the boards is not written down".into());
    };
    let most = coats
        .iter()
        .map(|coat| coat.record.number)
        .filter(|number| strip.is_none_or(|strip| *number <= u32::from(strip)))
        .max()
        .unwrap_or(0);
    if let Some(missing) = (1..=most).find(|number| coats.iter().all(|coat| coat.record.number != *number)) {
        return Err(format!("not known: coat {missing} is not written down"));
    }
    let mut by_pot: Vec<(String, f64)> = Vec::new();
    for coat in coats.iter().map(|coat| &coat.record).filter(|coat| coat.number > 0) {
        if strip.is_some_and(|strip| coat.number > u32::from(strip)) {
            continue;
        }
        let Some(laid) = coat.laid_g() else {
            return Err(format!("not known: coat {} was not weighed", coat.number));
        };
        let covered = covered(board, coat.number);
        let mass = laid / (width * height * covered / SQUARE_METRE);
        let pot = pot_of(board, coat);
        match by_pot.iter_mut().find(|(letter, _)| *letter == pot) {
            Some((_, sum)) => *sum += mass,
            None => by_pot.push((pot, mass)),
        }
    }
    if by_pot.is_empty() {
        Err("not known: no coat was weighed".into())
    } else {
        Ok(by_pot.into_iter().map(|(pot, mass)| (pot, GramsPerSquareMetre::new(mass))).collect())
    }
}

/// Share of the board that a coat covers: all of it, or the strips that get so many coats.
pub(crate) fn covered(board: &Board, coat: u32) -> f64 {
    let strips = &board.planned.strips;
    if strips.is_empty() {
        return 1.0;
    }
    strips.iter().filter(|strip| u32::from(**strip) >= coat).count().max(1) as f64 / strips.len() as f64
}

fn coat_view(trial: &Trial, board: &Board, kept: &Kept<Coat>) -> CoatView {
    let coat = &kept.record;
    let wet = coat.laid_g();
    let area = trial.width_mm.zip(trial.height_mm).map(|(width, height)| width * height * covered(board, coat.number) / SQUARE_METRE);
    let air = match (coat.air_c, coat.air_rh) {
        (Some(warm), Some(damp)) => format!("{}\u{a0}\u{b0}C, {}\u{a0}%", plain(warm), plain(damp)),
        (Some(warm), None) => format!("{}\u{a0}\u{b0}C", plain(warm)),
        (None, Some(damp)) => format!("{}\u{a0}% damp", plain(damp)),
        (None, None) => String::new(),
    };
    CoatView {
        entry: kept.n,
        number: coat.number,
        pot: pot_of(board, coat),
        wet: match (wet, coat.aim_g) {
            (Some(grams), _) => format!("{}\u{a0}g", number(grams, 1)),
            (None, Some(aim)) => format!("aimed at {}\u{a0}g, not weighed", number(aim, 1)),
            (None, None) => "not weighed".to_owned(),
        },
        per_area: wet.zip(area).map_or_else(String::new, |(grams, area)| format!("{}\u{a0}g/m\u{b2}", number(grams / area, 0))),
        direction: coat.direction.clone(),
        laid: coat.laid.to_string(),
        air,
        note: coat.note.clone(),
    }
}

/// "across the last one", if the last coat's direction is known.
fn across(coats: &[&std::sync::Arc<Kept<Coat>>]) -> String {
    coats
        .last()
        .map(|coat| coat.record.direction.as_str())
        .filter(|way| !way.is_empty())
        .map_or_else(String::new, |way| format!(", across the last one ({way})"))
}

pub(crate) fn job_words(planned: &Planned) -> String {
    match planned.job.as_str() {
        "yardstick" => "yardstick: the known ground beside the recipes".into(),
        "witness" => "witness: the bought primer on the same wood".into(),
        _ => "a recipe under trial".into(),
    }
}

/// A value of the log in words.
pub(crate) fn value_words(value: &str, unit: &str, yes_no: bool) -> String {
    let unit = if unit.is_empty() { String::new() } else { format!("\u{a0}{unit}") };
    if yes_no {
        return match value {
            "1" => "yes".into(),
            "0" => "no".into(),
            other => other.to_owned(),
        };
    }
    if let Some(rest) = value.strip_prefix('>') {
        return format!("over {rest}{unit}");
    }
    if let Some(rest) = value.strip_prefix('<') {
        return format!("under {rest}{unit}");
    }
    match value.split_once("..") {
        Some((low, high)) => format!("between {low} and {high}{unit}"),
        None => format!("{value}{unit}"),
    }
}

/// Age of a board at a moment, whole days since its last coat.
pub(crate) fn age_days(state: &Notebook, board: &str, at: Moment) -> Option<i64> {
    let last = state.coats_of(board).iter().map(|coat| coat.record.laid).max()?;
    Some((at.local().0.number() - last.local().0.number()).max(0))
}
