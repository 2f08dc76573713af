//! The trial file: TOML, typed by hand. Every complaint names its line and says what would be right.

mod boards;
mod fields;
mod lists;

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use toml::de::DeTable;

use self::fields::{Fields, Lines};
use super::error::{TextFault, TextFaults};
use super::limits::{MOST_BOARDS, MOST_DAYS, MOST_TEXT};
use super::model::{Better, Control, Job, Part, Ready, Setting, Shape, Value};

/// How big the trial is to be.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Size {
    /// Boards with a recipe; controls come on top.
    pub boards: Option<u32>,
    /// How many boards one pot coats.
    pub boards_per_batch: Option<u32>,
    /// Days or sittings.
    pub days: Option<u32>,
    /// Sheets of wood that the boards are cut from.
    pub sheets: Option<u32>,
    /// Variance between pots over variance between boards of one pot.
    pub batch_spread: f64,
    /// Share of boards that is lost to accidents, 0..1.
    pub loss: f64,
}

impl Default for Size {
    fn default() -> Self {
        Self { boards: None, boards_per_batch: None, days: None, sheets: None, batch_spread: 1.0, loss: 0.0 }
    }
}

/// A limit on blends.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Limit {
    /// What is limited.
    pub of: Limited,
    /// Not less.
    pub at_least: Option<f64>,
    /// Not more.
    pub at_most: Option<f64>,
}

/// What a limit is on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Limited {
    /// A weighted sum of shares.
    Sum(BTreeMap<String, f64>),
    /// Powder's share of powder and binder by volume.
    PowderShare,
}

/// A board as typed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TypedBoard {
    /// Line of the file, from 1.
    pub line: usize,
    /// Number on its back.
    pub id: Option<String>,
    /// Day or sitting.
    pub day: u32,
    /// Pot; `None` for a pot of its own.
    pub batch: Option<String>,
    /// Sheet of wood.
    pub sheet: Option<String>,
    /// Turn.
    pub order: Option<u32>,
    /// Place on the shelf.
    pub place: Option<u32>,
    /// A control's job; `None` for a board with a recipe.
    pub job: Option<Job>,
    /// What is set.
    pub settings: BTreeMap<String, Value>,
    /// Shares.
    pub shares: BTreeMap<String, f64>,
}

/// A trial as typed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TrialText {
    /// What the painter wants to know; may be empty.
    pub question: String,
    /// What counts as better.
    pub better: Option<Better>,
    /// Size.
    pub size: Size,
    /// How shares enter the model.
    pub shape: Shape,
    /// A ready trial, if one is asked for.
    pub ready: Option<Ready>,
    /// Strips of a stair board.
    pub strips: Option<u32>,
    /// Seed, if the file holds one.
    pub seed: Option<u64>,
    /// Parts of the blend.
    pub parts: Vec<Part>,
    /// Limits on blends.
    pub limits: Vec<Limit>,
    /// Settings.
    pub settings: Vec<Setting>,
    /// Settings that were found on the boards and not listed.
    pub found_settings: Vec<String>,
    /// Controls.
    pub controls: Vec<Control>,
    /// Boards.
    pub boards: Vec<TypedBoard>,
}

/// The words that a trial file may hold at its top.
const TOP: [&str; 13] =
    ["trial", "question", "better", "size", "shape", "part", "limit", "setting", "control", "board", "ready", "strips", "seed"];

impl TrialText {
    /// Reads a trial file.
    ///
    /// # Errors
    /// All faults that can be told apart, each with its line.
    ///
    /// ```
    /// use trials::plan::TrialText;
    /// let text = TrialText::parse("trial = 1\nsetting = [{ name = \"powder\", kinds = [\"chalk\", \"gypsum\"] }]\n")?;
    /// assert_eq!(text.settings[0].levels.len(), 2);
    /// let wrong = TrialText::parse("trial = 1\ncolour = 3\n").unwrap_err();
    /// assert!(wrong.to_string().starts_with("line 2: "));
    /// # Ok::<(), trials::plan::TextFaults>(())
    /// ```
    pub fn parse(text: &str) -> Result<Self, TextFaults> {
        let one = |line, what: String| TextFaults(vec![TextFault { line, what }]);
        if text.len() > MOST_TEXT {
            return Err(one(1, format!("the file has {} bytes, and {MOST_TEXT} are the most; a trial is a page or two", text.len())));
        }
        if text.trim().is_empty() {
            return Err(one(1, "the file is empty; begin it with trial = 1".to_owned()));
        }
        let lines = Lines::of(text);
        let table = DeTable::parse(text).map_err(|e| {
            let line = e.span().map_or(1, |span| lines.at(span.start));
            let said = e.message().split_whitespace().collect::<Vec<_>>().join(" ");
            one(line, format!("this is not TOML as a trial file wants it ({said}); look at quotes, commas and brackets here"))
        })?;
        let mut faults = Vec::new();
        let mut top = Fields::new(table.get_ref(), 0, "the trial", &lines, &mut faults);
        match top.get("trial") {
            Some(found) if found.whole() == Some(1) => {}
            Some(found) => {
                let line = found.line();
                return Err(one(line, "this trial file has another format; the one known here is trial = 1".to_owned()));
            }
            None => return Err(one(1, "this is no trial file: its first line is trial = 1".to_owned())),
        }
        top.only(&TOP);
        let question = top.words("question").unwrap_or_default();
        let shape =
            top.one_of("shape", &[("linear", Shape::Linear), ("quadratic", Shape::Quadratic), ("special cubic", Shape::SpecialCubic)]);
        let ready =
            top.one_of("ready", &[("crossed", Ready::Crossed), ("stair board", Ready::StairBoard), ("two by two", Ready::TwoByTwo)]);
        let strips = top.count("strips", 2, 9);
        let seed = top.seed("seed");
        let better = top.table("better", lists::better).flatten();
        let size = top.table("size", size).unwrap_or_default();
        let parts = lists::parts(&mut top);
        let limits = lists::limits(&mut top, &parts);
        let settings = lists::settings(&mut top, &parts);
        let controls = lists::controls(&mut top);
        let (boards, settings, found_settings) = boards::boards(&mut top, &parts, settings);
        if faults.is_empty() {
            let shape = shape.unwrap_or_default();
            Ok(Self { question, better, size, shape, ready, strips, seed, parts, limits, settings, found_settings, controls, boards })
        } else {
            faults.sort_by_key(|fault: &TextFault| fault.line);
            faults.truncate(20);
            Err(TextFaults(faults))
        }
    }
}

fn size(fields: &mut Fields<'_, '_>) -> Size {
    fields.only(&["boards", "boards_per_batch", "days", "sheets", "batch_spread", "loss"]);
    #[expect(clippy::cast_possible_truncation, reason = "the most boards are 2000")]
    let most = MOST_BOARDS as u32;
    Size {
        boards: fields.count("boards", 1, most),
        boards_per_batch: fields.count("boards_per_batch", 1, most),
        days: fields.count("days", 1, MOST_DAYS),
        sheets: fields.count("sheets", 1, most),
        batch_spread: fields.number("batch_spread", 0.0, 1e6).unwrap_or(1.0),
        loss: fields.number("loss", 0.0, 0.9).unwrap_or(0.0),
    }
}
