//! The making day as the phone and the desk show it: one thing to do, the pots, the boards as they lie, what was done.
//!
//! Times are milliseconds since 1970 by the desk's clock, so that a page can count to them; the words beside them are ready to be read.

use serde::Serialize;

/// What is to be done now, here or anywhere.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(tag = "is", rename_all = "snake_case")]
pub enum NowView {
    /// A day of laying coats is under way.
    Day(Box<DayNow>),
    /// Nothing is under way.
    Quiet(QuietNow),
}

/// A day under way.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct DayNow {
    /// Sitting.
    pub sitting: String,
    /// Trial.
    pub trial: String,
    /// Its question.
    pub question: String,
    /// Day of the plan.
    pub day: u32,
    /// Newest entry of the notebook that this was made from.
    pub seen: u64,
    /// The desk's clock when this was made.
    pub desk_ms: i64,
    /// Minutes that the desk's zone is ahead of UTC.
    pub offset_minutes: i32,
    /// Everything left to do, in order; the first is the one to do now.
    pub steps: Vec<NowStep>,
    /// The pots.
    pub pots: Vec<NowPot>,
    /// The boards.
    pub boards: Vec<NowBoard>,
    /// What is at risk, with the mend; most urgent first.
    pub risks: Vec<String>,
    /// Air of the room in words; `None` while nobody read it.
    pub air: Option<String>,
    /// The last things done, newest first, at most ten.
    pub done: Vec<NowDone>,
    /// When hands are free, in words, as a span.
    pub ends: String,
    /// Whether nothing is left.
    pub finished: bool,
}

/// One thing to do.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct NowStep {
    /// Step of the day; taps name it.
    pub id: String,
    /// `prepare`, `mix`, `lay` or `wash`.
    pub kind: &'static str,
    /// In the largest type: "Board 5, second coat, across the grain".
    pub say: String,
    /// Below it: "9 g more on the scale (8 to 10)"; may be empty.
    pub more: String,
    /// How it is done, one or two sentences; may be empty.
    pub how: String,
    /// Caution at this step; may be empty.
    pub caution: String,
    /// Letter of the pot; empty for washing up.
    pub pot: String,
    /// Number of the board, for a coat.
    pub board: Option<String>,
    /// Coat, for a coat.
    pub coat: Option<u8>,
    /// Grams to be laid, for a coat whose recipe and size are known.
    pub aim_g: Option<String>,
    /// When it is planned.
    pub from_ms: i64,
    /// The same in words: "11:20".
    pub from: String,
    /// When hands are free again.
    pub to_ms: i64,
    /// Step that must be done before; `None` if none is open.
    pub after: Option<String>,
    /// Wait after that step, minutes: short, usual, long. A page without the desk counts with it.
    pub wait_min: [i32; 3],
    /// What goes on in that wait: "the curd hangs"; empty where there are no words for it.
    pub waits_for: String,
    /// May begin from here on: short, usual, long end of the wait; `None` if it may begin at once.
    pub opens_ms: Option<[i64; 3]>,
    /// Must be done by then; `None` if it may wait.
    pub closes_ms: Option<i64>,
    /// Whether it can be said to be spoilt.
    pub may_spoil: bool,
}

/// A pot on the table.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct NowPot {
    /// Letter.
    pub letter: String,
    /// Recipe's name.
    pub recipe: String,
    /// When it was ready; `None` before it is mixed.
    pub ready_ms: Option<i64>,
    /// May be too old from then on, and surely is from then on.
    pub old_ms: Option<[i64; 2]>,
    /// How long it may be used once it is ready, minutes: short and long.
    pub life_min: Option<[i32; 2]>,
    /// Step to be tapped as spoilt if it goes bad; none before it is mixed and once it is used up.
    pub spoil: Option<String>,
    /// In words: "40 minutes old; good for another 20 to 60 minutes".
    pub words: String,
    /// Coats still to be laid from it.
    pub left: usize,
}

/// A board as it lies.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct NowBoard {
    /// Id.
    pub id: String,
    /// Number.
    pub number: String,
    /// Place on the table.
    pub place: u32,
    /// Pot.
    pub pot: String,
    /// Strips' coats; empty without strips.
    pub strips: Vec<u8>,
    /// Coats laid.
    pub coats: u32,
    /// Coats that it is to get.
    pub of: u32,
    /// `bare`, `wet`, `perhaps`, `matt`, `hard` or `spoilt`.
    pub state: &'static str,
    /// Expected to be matt: short, usual, long end; `None` where nothing dries.
    pub matt_ms: Option<[i64; 3]>,
    /// Too hard for the next coat from then on.
    pub hard_ms: Option<i64>,
    /// In words: "wet; matt about 11:20 to 12:10".
    pub words: String,
    /// "slower than thought", "faster than thought" or empty.
    pub pace: String,
}

/// Something done.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct NowDone {
    /// Id of the tap; empty for what was typed elsewhere.
    pub tap: String,
    /// Step.
    pub step: String,
    /// "Board 5, second coat: done".
    pub say: String,
    /// When.
    pub at: String,
    /// Device.
    pub device: String,
}

/// What is going on when no day is under way.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct QuietNow {
    /// The one thing to do, in a sentence.
    pub next: String,
    /// Page where it is done.
    pub next_at: String,
    /// What dries.
    pub drying: Vec<QuietLine>,
    /// What spoils: pots and jars.
    pub spoiling: Vec<QuietLine>,
    /// Jars of binder that wait for their next step.
    pub waiting: Vec<QuietLine>,
    /// Looks that are due or come next.
    pub looks: Vec<QuietLine>,
    /// Days of closed plans that can be begun.
    pub days: Vec<QuietLine>,
    /// Sitting that is under way and can't be shown.
    pub stuck: Option<String>,
}

/// A line with the page that it leads to.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct QuietLine {
    /// Sentence.
    pub say: String,
    /// Page.
    pub at: String,
}

/// What became of a tap.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct TapOutcome {
    /// Id of the tap.
    pub id: String,
    /// `stored`, `had it`, `other device did it` or `refused`.
    pub outcome: &'static str,
    /// Why, where it was refused; what the other device said, where one was quicker.
    pub why: String,
}

/// The desk's answer to taps.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct TapsView {
    /// Highest number stored of this device.
    pub highest: u64,
    /// One for each tap, in the order sent.
    pub outcomes: Vec<TapOutcome>,
    /// The desk's clock.
    pub desk_ms: i64,
    /// The day as it stands now.
    pub now: NowView,
}

/// How a board dries.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct DryingView {
    /// When it may be sanded, tested, painted on, in sentences.
    pub ready: Vec<String>,
    /// Weighings since the newest coat: entry, when, grams.
    pub masses: Vec<(u64, String, String)>,
    /// What the weighings say.
    pub says: Vec<String>,
}
