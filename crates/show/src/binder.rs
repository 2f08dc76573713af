//! A binder of the painter's own making, as its page shows it.

use crate::card::FigureRow;
use crate::report::FigureReport;

/// A binder with everything that was told, done and measured.
#[derive(Debug, Clone, PartialEq)]
pub struct BinderView {
    /// Its subject, for addresses.
    pub id: String,
    /// Entry that a change of it is made from.
    pub from: u64,
    /// What stands on it.
    pub name: String,
    /// The page's sentence.
    pub title: String,
    /// What it is made from, as told.
    pub what: String,
    /// `curd`, `bought`, `powder` or `glue`.
    pub road: &'static str,
    /// What to do next, in one sentence; while it has to stand, until when; for a closed one, that it is closed.
    pub next: String,
    /// What comes after the wait; empty if nothing waits.
    pub then: String,
    /// The wait that is under way, or that is over with the next step not begun.
    pub timer: Option<BinderTimer>,
    /// The steps in order.
    pub steps: Vec<BinderStepView>,
    /// How strong it is.
    pub strength: BinderStrength,
    /// What readings of pH paper moved, and what they say of the opening.
    pub learned: Vec<String>,
    /// How strong it is, figure by figure, each with what stands behind it.
    pub figures: Vec<FigureRow>,
    /// All that can be measured of it.
    pub asks: Vec<BinderAsk>,
    /// Things to know: what was taken for granted, or why something can't be worked out.
    pub notes: Vec<String>,
    /// What was measured, newest first; each can be taken back by its entry.
    pub measures: Vec<BinderMeasureRow>,
    /// Pots that it went into.
    pub used_in: Vec<BinderUse>,
    /// How long it keeps.
    pub keeping: BinderKeeping,
    /// Lots that it was made from.
    pub lots: Vec<String>,
    /// When and why it was closed; empty while it is in use.
    pub closed: String,
    /// Remark.
    pub note: String,
    /// How a recipe names it, such as `100 g casein binder, jar Tern`.
    pub in_a_recipe: String,
}

/// Where a step stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BinderStepState {
    /// Done.
    Done,
    /// To be done now.
    Now,
    /// Comes later.
    Later,
}

/// A step.
#[derive(Debug, Clone, PartialEq)]
pub struct BinderStepView {
    /// Its name, for the tap.
    pub id: String,
    /// What to do.
    pub sentence: String,
    /// Where it stands.
    pub state: BinderStepState,
    /// How much to take, as in the sentence; empty if nothing is taken.
    pub amount: String,
    /// Key of the figure that it rests on; empty for none. `binder_figure` opens it.
    pub figure: String,
    /// When it was done; empty if it was not.
    pub done_at: String,
    /// Entry of that, for taking it back.
    pub entry: Option<u64>,
    /// How long it waits then.
    pub wait: Option<BinderWait>,
    /// What is worth measuring here.
    pub measure: Vec<BinderAsk>,
    /// What can hurt.
    pub caution: String,
    /// Where the caution comes from.
    pub caution_source: String,
    /// Where the step comes from.
    pub source: String,
}

/// A wait behind a step.
#[derive(Debug, Clone, PartialEq)]
pub struct BinderWait {
    /// In words, such as `15 min to 1 h`.
    pub words: String,
    /// Shortest, usual and longest, minutes.
    pub minutes: [i32; 3],
    /// The same as moments in seconds since 1970, once the step is done.
    pub until: Option<[i64; 3]>,
}

/// A wait as a clock shows it. Which of the three sentences holds depends on the moment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BinderTimer {
    /// The shortest wait is not over.
    pub early: String,
    /// Between the shortest and the longest.
    pub ready: String,
    /// The longest is over.
    pub over: String,
    /// Moments at which the sentence changes, seconds since 1970.
    pub turns: [i64; 2],
    /// Now, seconds since 1970, as the desk's clock has it.
    pub now: i64,
}

/// Something to measure.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BinderAsk {
    /// Name of the kind, for the form.
    pub what: &'static str,
    /// In words.
    pub label: &'static str,
    /// How it is typed.
    pub example: &'static str,
}

/// How strong a binder is.
#[derive(Debug, Clone, PartialEq)]
pub struct BinderStrength {
    /// One sentence; why it is not known otherwise.
    pub sentence: String,
    /// What it rests on, such as `your dishes were dried`.
    pub rests_on: &'static str,
    /// Dry casein or glue in all of it; figure `jar_share`.
    pub share: FigureReport,
    /// Dry casein or glue; figure `jar_dry`.
    pub dry_g: FigureReport,
    /// Water; figure `jar_water`.
    pub water_g: FigureReport,
    /// All of it; figure `jar_total`.
    pub total_g: FigureReport,
    /// Base that is still to go in to begin with, of what was told; figure `first_dose`.
    pub base_g: FigureReport,
    /// Water that is still to go in; figure `open_water`.
    pub water_to_add_g: FigureReport,
}

/// A measurement.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BinderMeasureRow {
    /// Entry, for taking it back.
    pub entry: u64,
    /// When.
    pub at: String,
    /// Step at which it was made.
    pub step: String,
    /// What was seen.
    pub text: String,
    /// Remark.
    pub note: String,
}

/// A pot that a binder went into.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BinderUse {
    /// The pot.
    pub name: String,
    /// Its page.
    pub address: String,
    /// How much; empty if that was not told.
    pub grams: String,
}

/// How long a binder keeps. No hours are told.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BinderKeeping {
    /// `today`, `tomorrow`, `bin` or `not-made`.
    pub word: &'static str,
    /// What to do.
    pub text: String,
    /// Why.
    pub reason: String,
}

/// A line of the list of binders.
#[derive(Debug, Clone, PartialEq)]
pub struct BinderRow {
    /// Its subject.
    pub id: String,
    /// What stands on it.
    pub name: String,
    /// What it is made from.
    pub what: String,
    /// What to do next.
    pub next: String,
    /// How strong it is.
    pub strength: String,
    /// How long it keeps.
    pub keeping: BinderKeeping,
    /// Whether it is closed.
    pub closed: bool,
}

/// The list of binders.
#[derive(Debug, Clone, PartialEq)]
pub struct BindersView {
    /// What to do next.
    pub next: String,
    /// Binders in use first, newest first.
    pub binders: Vec<BinderRow>,
}
