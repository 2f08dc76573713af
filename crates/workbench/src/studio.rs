//! The painter's own studio: the notebook, joined to what the knowledge crates say of it.

pub(crate) mod binder;
mod day;
mod example;
mod kept;
mod log;
mod own;
mod phone;
mod shelf;
mod sight;
mod trial;

use std::sync::Arc;

use notebook::{Blobs, KeepError, Keeper, Log, Notebook, Stamp, Wanted};

pub use binder::{TypedBinder, TypedBinderSeen};
pub use day::{RecipeDay, TypedHours, TypedTap, TypedWish};
pub(crate) use day::{laying_time, times};
pub use kept::{KeepFailed, KeepRecipe, KeptRecipe};
pub use log::LogPage;
pub use own::TypedWeighing;
pub use phone::{KEY_LASTS_DAYS, Phone, key_hash};
pub use shelf::TypedJar;
pub use sight::TypedLook;
pub(crate) use trial::book as scale_book;
pub use trial::{PaperWords, PotAsk, TrialPaper, TypedCoat, TypedPot, TypedReading, TypedTrial};

/// A studio that is open.
#[derive(Debug)]
pub struct Studio {
    keeper: Keeper,
    example: bool,
}

/// Why a studio can't do what was asked.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum StudioError {
    /// The notebook refuses, or the disk.
    #[error(transparent)]
    Keep(#[from] KeepError),
    /// There is no such thing (any more).
    #[error("there is no {0} of that name in this studio; it may have been taken back")]
    Missing(&'static str),
    /// What was typed can't be taken; the sentence says how it would be right.
    #[error("{0}")]
    Typed(String),
}

impl StudioError {
    pub(crate) fn typed(why: impl std::fmt::Display) -> Self {
        Self::Typed(why.to_string())
    }

    /// Whether somebody else was quicker.
    pub fn is_stale(&self) -> bool {
        matches!(self, Self::Keep(KeepError::Refused(notebook::Refusal::Stale { .. })))
    }
}

impl Studio {
    /// Opens a studio on these ports. An example is invented, and every page of it says so.
    ///
    /// # Errors
    /// The store can't be read, or holds something that can't be understood.
    pub fn open(log: Box<dyn Log>, blobs: Box<dyn Blobs>, example: bool) -> Result<Self, KeepError> {
        Ok(Self { keeper: Keeper::open(log, blobs)?, example })
    }

    /// A studio in memory, gone when it is dropped.
    ///
    /// # Errors
    /// None in practice: an empty log can be read.
    pub fn in_memory(example: bool) -> Result<Self, KeepError> {
        Self::open(Box::<notebook::MemoryLog>::default(), Box::<notebook::MemoryBlobs>::default(), example)
    }

    /// Whether everything in it is invented.
    pub fn is_example(&self) -> bool {
        self.example
    }

    /// What is recorded.
    pub fn state(&self) -> Arc<Notebook> {
        self.keeper.state()
    }

    /// The log and the photos behind it, for backup and check.
    pub fn keeper(&self) -> &Keeper {
        &self.keeper
    }

    /// Writes; on disk when this returns.
    pub(crate) fn write(
        &self,
        stamp: &Stamp,
        wish: impl Fn(&Notebook) -> Result<Vec<Wanted>, StudioError>,
    ) -> Result<Arc<Notebook>, StudioError> {
        self.keeper.record(stamp, wish)
    }
}

/// Longest name, question or remark that is taken, characters.
const MOST_NAME: usize = 200;
const MOST_NOTE: usize = 8_000;

/// A name or sentence that must be there: trimmed, on one line.
pub(crate) fn named(text: &str, what: &str, example: &str) -> Result<String, StudioError> {
    let plain = one_line(text);
    if plain.is_empty() {
        return Err(StudioError::Typed(format!("{what} is missing; say something like \u{201c}{example}\u{201d}")));
    }
    if plain.chars().count() > MOST_NAME {
        return Err(StudioError::Typed(format!(
            "{what} is longer than {MOST_NAME} letters; say it shorter and put the rest into the remark"
        )));
    }
    Ok(plain)
}

/// A remark that may be empty.
pub(crate) fn remark(text: &str) -> Result<String, StudioError> {
    let plain = text.trim();
    if plain.chars().count() > MOST_NOTE {
        return Err(StudioError::Typed(format!("a remark is longer than {MOST_NOTE} letters; shorten it")));
    }
    Ok(plain.replace("\r\n", "\n"))
}

pub(crate) fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A number as typed, with a decimal point or comma; `None` where the field is empty.
pub(crate) fn number(text: &str, what: &str, example: &str) -> Result<Option<f64>, StudioError> {
    let plain = text.trim();
    if plain.is_empty() {
        return Ok(None);
    }
    let may_be_thousand = plain.split_once(',').is_some_and(|(_, behind)| behind.len() == 3);
    let read: Option<f64> = if may_be_thousand { None } else { plain.replace(',', ".").parse().ok() };
    match read.filter(|value| value.is_finite()) {
        Some(value) => Ok(Some(value)),
        None => Err(StudioError::Typed(format!("{what}: \u{201c}{}\u{201d} is no number; write it like {example}", short(plain)))),
    }
}

/// A number above zero, or nothing.
pub(crate) fn above_zero(text: &str, what: &str, example: &str) -> Result<Option<f64>, StudioError> {
    match number(text, what, example)? {
        Some(value) if value <= 0.0 => Err(StudioError::Typed(format!("{what} must be above zero; write it like {example}"))),
        other => Ok(other),
    }
}

/// A day as typed, or nothing.
pub(crate) fn day(text: &str, what: &str) -> Result<Option<notebook::Day>, StudioError> {
    let plain = text.trim();
    if plain.is_empty() {
        return Ok(None);
    }
    match notebook::Day::read(plain) {
        Some(day) => Ok(Some(day)),
        None => Err(StudioError::Typed(format!("{what}: \u{201c}{}\u{201d} is no day; write it like 2026-11-25", short(plain)))),
    }
}

/// The beginning of a text, for quoting.
pub(crate) fn short(text: &str) -> String {
    let mut out: String = text.chars().take(40).collect();
    if text.chars().count() > 40 {
        out.push('\u{2026}');
    }
    out
}

/// A moment as typed, such as `2026-11-25 14:30`, or a day (its noon); now if the field is empty.
pub(crate) fn moment(text: &str, stamp: &Stamp) -> Result<notebook::Moment, StudioError> {
    let plain = text.trim().replace('T', " ");
    if plain.is_empty() {
        return Ok(stamp.at);
    }
    let wrong = || StudioError::Typed(format!("when: \u{201c}{}\u{201d} is no time; write it like 2026-11-25 14:30", short(&plain)));
    let (day, time) = plain.split_once(' ').unwrap_or((&plain, "12:00"));
    let day = notebook::Day::read(day).ok_or_else(wrong)?;
    let (hours, minutes) = time.split_once(':').ok_or_else(wrong)?;
    let (hours, minutes): (i64, i64) =
        (hours.parse().map_err(|_| wrong())?, minutes.get(..2).unwrap_or(minutes).parse().map_err(|_| wrong())?);
    if !(0..24).contains(&hours) || !(0..60).contains(&minutes) {
        return Err(wrong());
    }
    let seconds = day.number() * 86_400 + hours * 3_600 + minutes * 60 - i64::from(stamp.at.offset_minutes) * 60;
    if seconds > stamp.at.seconds + 86_400 {
        return Err(StudioError::Typed("that lies in the future; nothing was laid or read there yet".into()));
    }
    Ok(notebook::Moment { seconds, ..stamp.at })
}
