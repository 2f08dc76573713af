//! Use cases, one a file: each takes what a person typed or tapped, asks the knowledge crates and returns a view. The only place
//! that sequences work; pages and command line are thin.
#![forbid(unsafe_code)]

mod answer;
mod bend;
mod beside;
mod books;
mod curdle;
mod dissolve;
mod enlarge;
mod even;
mod failed;
mod figure_rows;
mod foam;
mod fridge;
mod glue;
mod goes;
mod jars;
mod look;
mod memo;
mod mend;
mod milk;
mod plan;
mod save;
mod seen;
mod sheets;
mod shopping;
mod studio;
mod swap;
mod verdict;
mod walk;
mod wish;

use binder::BinderBook;
use materials::Catalogue;
use measure::Units;
use trials::answer::Rules;
use trials::causes::CauseBook;
use trials::scales::ScaleBook;

pub use answer::{AnswerError, AnswerRequest};
pub use bend::BendForm;
pub use beside::{Beside, BesideRequest};
pub use curdle::CurdleForm;
pub use dissolve::DissolveForm;
pub use enlarge::EnlargeForm;
pub use even::EvenForm;
pub use failed::{FailedRequest, TapError};
pub use fridge::FridgeForm;
pub use glue::GlueForm;
pub use look::{Grain, GreyPatch, LookRefused, LookRequest, four_corners, grey_patch, looked_taps};
pub use milk::{MilkForm, MilkFormError};
pub use plan::PlanTextError;
pub use save::SaveForm;
pub use seen::{BoardsSeen, CrackBoard};
pub use studio::{
    KEY_LASTS_DAYS, KeepFailed, KeepRecipe, KeptRecipe, LogPage, PaperWords, Phone, PotAsk, RecipeDay, Studio, StudioError, TrialPaper,
    TypedBinder, TypedBinderSeen, TypedCoat, TypedHours, TypedJar, TypedLook, TypedPot, TypedReading, TypedTap, TypedTrial, TypedWeighing,
    TypedWish, key_hash,
};
pub use swap::SwapForm;
pub use verdict::{MOST_WINDOWS, SUPPORTS, TextError, VerdictRequest};
pub use wish::WishForm;

pub use notebook::{Day, Moment, Notebook, Photo, Stamp, look_of, name_of as photo_name};

/// 128 bits that stand for the fields of a form: the same form gives the same bits. One of the fields is fresh for each page.
pub fn chance_of<'a>(fields: impl Iterator<Item = (&'a str, &'a str)>) -> u128 {
    use std::fmt::Write as _;
    let mut text = String::new();
    for (name, value) in fields {
        // Lengths keep "ab"+"c" apart from "a"+"bc".
        // Writing to a text can't fail.
        let _ = write!(text, "{}:{name}{}:{value}", name.len(), value.len());
    }
    let digest = notebook::name_of(text.as_bytes());
    digest.get(..32).and_then(|half| u128::from_str_radix(half, 16).ok()).unwrap_or_default()
}

/// Names in a row: "1, 2 and 3".
pub(crate) fn and(names: &[&str]) -> String {
    match names {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [front @ .., last] => format!("{} and {last}", front.join(", ")),
    }
}

/// Sides that a board can have, mm (judgement, no source): what lies beyond is a slip of the hand.
pub(crate) const BOARD_SIDES: std::ops::RangeInclusive<f64> = 10.0..=3000.0;

/// Pairs of photos that are remembered: a page and its two pictures ask for one three times.
const MOST_PAIRS: usize = 4;

/// Version of the program, as printed in reports.
pub const VERSION: &str = env!("CARGO_PKG_VERSION");

/// The data files, ready to be asked. Cheap to share; what it remembers are answers that never change.
#[derive(Debug)]
pub struct Workbench {
    jars: &'static Catalogue,
    units: Units,
    causes: &'static CauseBook,
    scales: &'static ScaleBook,
    binder: &'static BinderBook,
    places: Vec<ground::Place>,
    ticks: Vec<show::Tick>,
    shelf: &'static support::Shelf,
    /// Wet mass of a coat, loss, room on the table.
    laying: &'static making::Laying,
    rules: &'static Rules,
    /// The handbook's recipes, once somebody asked for them.
    books: std::sync::OnceLock<Vec<show::BookView>>,
    waits: &'static support::Waits,
    /// Sentences said, drying times and pots for a day worked out before.
    sentences: memo::Memo<String>,
    drying: memo::Memo<Result<support::DryingSpans, String>>,
    portions: memo::Memo<Option<String>>,
    /// What jars of binder settle in a recipe.
    jar_inputs: memo::Memo<Vec<measure::Input>>,
    /// Boards read for cracks, pages of binder against thickness, and what boards brought.
    seen: memo::Memo<BoardsSeen>,
    windows: memo::Memo<Result<show::WindowView, TextError>>,
    /// Cards shown before: a page is asked for again whenever its owner goes back to it.
    cards: memo::Memo<Result<show::Card, TextError>>,
    lessons: memo::Memo<Option<ground::Learned>>,
    /// Pairs of photos laid over each other; each holds two pictures.
    pairs: memo::Memo<Result<std::sync::Arc<show::SinceView>, StudioError>>,
    /// Jars of binder, with the band of each figure.
    binders_worked: memo::Memo<Result<std::sync::Arc<studio::binder::WorkedBinder>, milk::MilkFormError>>,
}

/// A data file that ships with the program is broken. Only a faulty build can cause it.
#[derive(Debug, thiserror::Error)]
#[error("the program's own data is broken: {0}; get a sound copy of the program")]
pub struct OpenError(String);

impl Workbench {
    /// Reads the data files.
    ///
    /// # Errors
    /// A data file is broken.
    pub fn open() -> Result<Self, OpenError> {
        let broken = |why: &dyn std::fmt::Display| OpenError(why.to_string());
        let jars = Catalogue::builtin().map_err(|e| broken(&e))?;
        let units = Units::builtin().map_err(|e| broken(&e))?;
        ground::figures_are_sound().map_err(|e| broken(&e))?;
        studio::times().map_err(|e| broken(&e))?;
        binder::figures_are_sound().map_err(|e| broken(&e))?;
        cracks::figures_are_sound().map_err(|e| broken(&e))?;
        let places = ground::places(jars, &units).map_err(|e| broken(&e))?;
        let name = |id: &str| jars.handbook().iter().find(|row| row.id == id).map_or_else(String::new, |row| row.name.clone());
        let ticks = ground::ticks(jars, &units, &places).map_err(|e| broken(&e))?;
        let ticks = ticks.into_iter().map(|(id, at)| show::Tick { name: name(&id), id, at }).collect();
        Ok(Self {
            jars,
            units,
            causes: CauseBook::builtin().map_err(|e| broken(&e))?,
            scales: studio::scale_book().map_err(|e| broken(&e))?,
            binder: BinderBook::builtin().map_err(|e| broken(&e))?,
            places,
            ticks,
            shelf: support::Shelf::builtin().map_err(|e| broken(&e))?,
            laying: making::Laying::builtin().map_err(|e| broken(&e))?,
            rules: Rules::builtin().map_err(|e| broken(&e))?,
            books: std::sync::OnceLock::new(),
            waits: support::Waits::builtin().map_err(|e| broken(&e))?,
            sentences: memo::Memo::default(),
            drying: memo::Memo::default(),
            portions: memo::Memo::default(),
            jar_inputs: memo::Memo::default(),
            seen: memo::Memo::default(),
            windows: memo::Memo::default(),
            cards: memo::Memo::default(),
            lessons: memo::Memo::default(),
            pairs: memo::Memo::of(MOST_PAIRS),
            binders_worked: memo::Memo::default(),
        })
    }

    /// The edges between lean, usual and rich, and the width to which they are known, for pictures of the rule.
    pub const fn edges() -> (f64, f64, f64) {
        (ground::RICH_BELOW, ground::LEAN_ABOVE, ground::EDGE_WIDTH)
    }
}
