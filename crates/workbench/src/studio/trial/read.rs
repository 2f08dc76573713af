//! Readings: by scales, blind, in a shuffled order, one board at a time.

use measure::Micrometres;
use notebook::{Board, Deed, Kept, Moment, Notebook, Reading, Stamp, Wanted};
use show::{ClassChoice, ReadingSheet, ScaleView};
use trials::scales::{BentStrip, Better, Kind, ReadingValue, Scale, ScaleBook, ScaleId};

use super::super::{Studio, StudioError, above_zero, moment, named, one_line, remark};
use super::answer::FIRST_STRIP;
use super::lay::sound;
use super::trial_of;
use crate::Workbench;

/// A reading as typed.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct TypedReading {
    /// Board.
    pub board: String,
    /// Strip, by its coats; empty for the whole board.
    pub strip: String,
    /// Scale.
    pub measure: String,
    /// What was seen.
    pub value: String,
    /// Who looked.
    pub rater: String,
    /// Whether the recipe was hidden.
    pub blind: bool,
    /// Photo already stored.
    pub photo: Option<String>,
    /// Remark.
    pub note: String,
    /// When, if not now: `2026-11-25 14:30` or a day.
    pub when: String,
    /// For a bent strip, in mm: sheet, dry coat, tightest cylinder that it survived, widest that cracked it; the value is worked out.
    pub bent: [String; 4],
}

impl Workbench {
    /// A scale of the book or of the painter's own.
    pub(crate) fn scale(&self, state: &Notebook, id: &str) -> Option<Scale> {
        if let Some(scale) = self.scales.scale(&ScaleId::new(id)) {
            return Some(scale.clone());
        }
        own_scales(state).into_iter().find(|scale| scale.id.as_str() == id)
    }

    /// Every scale, the painter's own last.
    pub fn scale_views(&self, state: &Notebook) -> Vec<ScaleView> {
        self.scales.scales().iter().cloned().chain(own_scales(state)).map(|scale| view(&scale)).collect()
    }

    /// Writes down a scale of the painter's own.
    ///
    /// # Errors
    /// No name; a class without words; two classes alike.
    pub fn make_scale(&self, studio: &Studio, name: &str, better: &str, looks: [&str; 6], stamp: &Stamp) -> Result<(), StudioError> {
        let way = Better::from_word(better).unwrap_or(Better::Smaller);
        let scale = Scale::own(name, way, looks).map_err(StudioError::typed)?;
        let record = notebook::OwnScale {
            name: named(name, "the scale's name", "tooth under silverpoint")?,
            classes: looks.iter().map(|look| one_line(look)).collect(),
            better: way.as_str().to_owned(),
        };
        let subject = scale.id.as_str().to_owned();
        studio
            .write(stamp, |state| {
                if state.scales.contains_key(&subject) {
                    return Err(StudioError::Typed("there is a scale of that name already; give it another name".into()));
                }
                Ok(vec![Wanted::new(&subject, Deed::OwnScale(record.clone()))])
            })
            .map(drop)
    }

    /// Writes a reading down; what was typed with it on other scales (size and depth in `2(S3)b`) becomes readings of their own.
    ///
    /// # Errors
    /// A value that the scale does not have; a lost board; no such scale.
    pub fn read_board(&self, studio: &Studio, typed: &TypedReading, stamp: &Stamp) -> Result<(), StudioError> {
        self.read_boards(studio, std::slice::from_ref(typed), stamp)
    }

    /// The same for several readings: all of them are written, or none is.
    pub(crate) fn read_boards(&self, studio: &Studio, typed: &[TypedReading], stamp: &Stamp) -> Result<(), StudioError> {
        studio
            .write(stamp, |state| {
                let mut all = Vec::new();
                for one in typed {
                    all.extend(self.readings(state, one, stamp)?);
                }
                let numbered = (0_u32..).zip(all);
                Ok(numbered.map(|(index, reading)| Wanted::new(stamp.subject("reading", index), Deed::Reading(reading))).collect())
            })
            .map(drop)
    }

    /// What was typed as records.
    fn readings(&self, state: &Notebook, typed: &TypedReading, stamp: &Stamp) -> Result<Vec<Reading>, StudioError> {
        let scale = self.scale(state, &typed.measure).ok_or_else(|| StudioError::Typed("choose what you read off the board".into()))?;
        let read = if typed.measure == BEND && typed.bent.iter().any(|text| !text.trim().is_empty()) {
            trials::scales::Typed { value: bent(&typed.bent)?, beside: Vec::new() }
        } else if self.scales.scale(&scale.id).is_some() {
            self.scales.read(&scale, &typed.value).map_err(StudioError::typed)?
        } else {
            trials::scales::Typed { value: scale.read(&typed.value).map_err(StudioError::typed)?, beside: Vec::new() }
        };
        let strip = match typed.strip.trim() {
            "" => None,
            text => Some(text.parse::<u8>().map_err(|_| StudioError::Typed("a strip is named by its coats: 1, 2, 3 ...".into()))?),
        };
        let (rater, note, when) = (one_line(&typed.rater), remark(&typed.note)?, moment(&typed.when, stamp)?);
        sound(state, &typed.board)?;
        if let (Some(strip), Some(board)) = (strip, state.boards.get(&typed.board))
            && !board.record.planned.strips.contains(&strip)
        {
            return Err(StudioError::Typed(format!("this board has no strip with {strip} coats")));
        }
        if typed.measure == FIRST_STRIP
            && let (ReadingValue::Exact(first), Some(board)) = (read.value, state.boards.get(&typed.board))
            && !board.record.planned.strips.iter().any(|strip| (f64::from(*strip) - first).abs() < 1e-9)
        {
            return Err(StudioError::Typed(format!("this board has no strip with {first} coats; choose one that it has, or none")));
        }
        let main = (typed.measure.clone(), read.value.to_cell());
        let beside = read.beside.iter().map(|(id, value)| (id.as_str().to_owned(), value.to_cell()));
        let reading = |(measure, value)| Reading {
            board: typed.board.clone(),
            strip,
            measure,
            value,
            rater: rater.clone(),
            blind: typed.blind,
            read: when,
            photo: typed.photo.clone(),
            note: note.clone(),
        };
        Ok(std::iter::once(main).chain(beside).map(reading).collect())
    }

    /// The next board to look at without knowing its recipe; boards that this person read today on this scale are done.
    ///
    /// # Errors
    /// No such trial; its plan is not fixed; no such scale.
    pub fn reading_sheet(
        &self,
        state: &Notebook,
        trial: &str,
        measure: &str,
        rater: &str,
        now: Moment,
    ) -> Result<ReadingSheet, StudioError> {
        let record = &trial_of(state, trial)?.record;
        let plan = state.plan_of(trial).ok_or_else(|| StudioError::Typed("close the plan first: boards get their ids then".into()))?;
        let measure = if measure.is_empty() { record.better.measure.as_str() } else { measure };
        let scale = self.scale(state, measure).ok_or(StudioError::Missing("scale"))?;
        let boards = state.boards_of(trial);
        let rater = one_line(rater);
        // Another person meets the boards in another order, always the same for that person and scale.
        let seed =
            rater.bytes().chain(measure.bytes()).fold(plan.record.seed, |seed, byte| seed.wrapping_mul(31).wrapping_add(u64::from(byte)));
        let today = now.local().0;
        let read_today = |board: &str| -> Vec<Option<u8>> {
            let all = state.readings_of(board);
            let own = all.iter().filter(|reading| reading.record.measure == measure && reading.record.rater == rater);
            own.filter(|reading| reading.record.read.local().0 == today).map(|reading| reading.record.strip).collect()
        };
        // A board is done with one reading of the whole, or, once a strip was read, with all of its strips.
        let missing = |board: &Kept<Board>| {
            let read = read_today(&board.subject);
            board.record.planned.strips.iter().copied().filter(|strip| !read.contains(&Some(*strip))).min()
        };
        let done = |board: &Kept<Board>| {
            let read = read_today(&board.subject);
            read.contains(&None) || !read.is_empty() && missing(board).is_none()
        };
        let shuffled: Vec<_> = trials::blind::order(seed, boards.len())
            .into_iter()
            .filter_map(|at| boards.get(at))
            .filter(|board| state.loss_of(&board.subject).is_none())
            .collect();
        let left: Vec<_> = shuffled.iter().filter(|board| !done(board)).collect();
        Ok(ReadingSheet {
            trial: trial.to_owned(),
            question: record.question.clone(),
            rater: rater.clone(),
            all: shuffled.len(),
            left: left.len(),
            board: left.first().map(|board| board.subject.clone()),
            code: left.first().map_or_else(String::new, |board| board.record.blind.clone()),
            strips: left.first().map_or_else(Vec::new, |board| board.record.planned.strips.clone()),
            strip: left.first().filter(|board| !read_today(&board.subject).is_empty()).and_then(|board| missing(board)),
            scale: view(&scale),
            codes: shuffled.iter().map(|board| (board.record.blind.clone(), board.subject.clone())).collect(),
        })
    }
}

/// Scale of bent strips.
const BEND: &str = "bend";

/// Stretch of a strip between the last cylinder that it survived and the first that cracked it, from millimetres as typed.
fn bent([sheet, coat, held, cracked]: &[String; 4]) -> Result<ReadingValue, StudioError> {
    let length = |text: &str, what: &str, example: &str| {
        above_zero(text, what, example).map(|found| found.map(|millimetres| Micrometres::new(millimetres * 1000.0)))
    };
    let needed = |found: Option<Micrometres>, what: &str| {
        found.ok_or_else(|| StudioError::Typed(format!("{what} is missing; measure it in millimetres")))
    };
    let sheet = needed(length(sheet, "the sheet", "0.3")?, "the thickness of the sheet")?;
    let coat = needed(length(coat, "the dry coat", "0.1")?, "the thickness of the dry coat")?;
    let strip = BentStrip::new(sheet, coat).map_err(StudioError::typed)?;
    let (held, cracked) = (length(held, "the cylinder that it survived", "100")?, length(cracked, "the cylinder that cracked it", "60")?);
    strip.reading(held, cracked).map_err(StudioError::typed)
}

/// The painter's own scales.
fn own_scales(state: &Notebook) -> Vec<Scale> {
    let scale = |kept: &Kept<notebook::OwnScale>| {
        let mut looks = kept.record.classes.iter().map(String::as_str);
        let looks = [(); 6].map(|()| looks.next().unwrap_or(""));
        Scale::own(&kept.record.name, Better::from_word(&kept.record.better).unwrap_or(Better::Smaller), looks).ok()
    };
    state.scales.values().filter_map(|kept| scale(kept)).collect()
}

fn view(scale: &Scale) -> ScaleView {
    ScaleView {
        id: scale.id.as_str().to_owned(),
        name: scale.name.clone(),
        question: scale.question.clone(),
        unit: scale.unit.clone(),
        better: scale.better.as_str(),
        how: scale.how.clone(),
        scope: scale.scope.clone(),
        source: scale.source.clone(),
        spoils: scale.spoils,
        yes_no: scale.kind == Kind::YesNo,
        classes: classes(scale),
    }
}

/// The classes with the half steps between them, where a scale has such.
fn classes(scale: &Scale) -> Vec<ClassChoice> {
    let halves = scale.step.is_some_and(|step| (step - 0.5).abs() < 1e-9);
    let mut out = Vec::new();
    for (index, class) in scale.classes.iter().enumerate() {
        if halves && index > 0 {
            out.push(ClassChoice { value: (class.value - 0.5).to_string(), look: "between the two".into(), source: String::new() });
        }
        let value = if class.mark.is_empty() { class.value.to_string() } else { class.mark.clone() };
        out.push(ClassChoice { value, look: class.look.clone(), source: class.source.clone() });
    }
    out
}

/// The scales of the book.
pub(crate) fn book() -> Result<&'static ScaleBook, trials::causes::DataError> {
    ScaleBook::builtin()
}
