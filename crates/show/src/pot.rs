//! One pot: what went in, what it weighs, what it wants, how to save it. And the walk through a day.

use serde::Serialize;

use crate::Portion;

/// A pot as its page shows it.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct PotPage {
    /// Trial.
    pub subject: String,
    /// Its question.
    pub question: String,
    /// Letter.
    pub letter: String,
    /// Recipe's name.
    pub recipe: String,
    /// Day or sitting.
    pub day: u32,
    /// Boards laid from it.
    pub boards: usize,
    /// The next thing to do.
    pub next: String,
    /// Why, or how.
    pub why: String,
    /// The page where it is done; empty for this one.
    pub next_at: String,
    /// How old it is, and what that means; empty before it is ready.
    pub age: String,
    /// What went in: planned and truly weighed.
    pub lines: Vec<PotLine>,
    /// Whether what truly went in is written down.
    pub weighed: bool,
    /// Said by a tap to be as planned; not weighed ingredient by ingredient.
    pub as_planned: bool,
    /// Which jar of binder went in, how strong it is, and what that rests on; empty if none did.
    pub jar: String,
    /// Page of that jar.
    pub jar_at: String,
    /// The verdict's sentence.
    pub said: String,
    /// Weighings, oldest first.
    pub masses: Vec<PotMassRow>,
    /// Weight of the empty pot, as last written down; empty if it was taken off on the scale.
    pub vessel: String,
    /// What was laid from it.
    pub used: String,
    /// Water that it lost.
    pub lost: String,
    /// Water to put back; empty if none.
    pub add: String,
    /// The same as a number for the form.
    pub add_g: String,
    /// How far that can be trusted.
    pub trust: Vec<String>,
    /// What dries and stays, as mixed and now.
    pub stands: String,
    /// What dries and stays now, whole hundredths; empty if not known.
    pub share_now: String,
    /// What that does to a coat.
    pub coat: Vec<String>,
    /// Coats that are beside their target.
    pub beside: Vec<String>,
    /// Too thick or too thin: the answer to what was asked.
    pub mended: Option<PotMended>,
    /// Fields as asked: share that is to stay, more water, width of the pot.
    pub asked: PotAsked,
    /// What may be seen on a pot: key and words.
    pub sights: Vec<(&'static str, &'static str)>,
    /// What was tapped.
    pub sight: String,
    /// What helps.
    pub rescues: Vec<RescueView>,
}

/// A thing in the pot.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct PotLine {
    /// What.
    pub name: String,
    /// As planned.
    pub planned: String,
    /// As weighed.
    pub weighed: String,
    /// How far beside the plan; empty if alike.
    pub beside: String,
}

/// A weighing.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct PotMassRow {
    /// Entry.
    pub entry: u64,
    /// What for.
    pub what: String,
    /// Ground or water alone.
    pub grams: String,
    /// When.
    pub at: String,
    /// Remark.
    pub note: String,
}

/// The answer to "too thick" or "too thin".
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct PotMended {
    /// In a sentence.
    pub says: String,
    /// What else helps, or what it does.
    pub more: Vec<String>,
    /// Water to put in, as a number for the form; empty if none.
    pub water_g: String,
}

/// What was asked, as typed.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct PotAsked {
    /// Share that is to dry and stay, hundredths.
    pub wish: String,
    /// More water, hundredths of the water that is in it.
    pub more: String,
    /// Width of the pot, centimetres.
    pub wide: String,
}

/// One way to save a pot.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct RescueView {
    /// For which pots; empty for all.
    pub pots: String,
    /// Why it is so.
    pub why: String,
    /// What to do.
    pub remedy: String,
    /// When to throw it away.
    pub away: String,
    /// Whether the recipe stays what it was.
    pub keeps: bool,
    /// What can hurt; may be empty.
    pub caution: String,
    /// Source.
    pub source: String,
}

/// A making day in pictures.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct WalkView {
    /// What is made, in a sentence.
    pub sentence: String,
    /// How long it takes.
    pub lasts: String,
    /// Frames in order.
    pub frames: Vec<WalkFrame>,
    /// The day lying, for a desk.
    pub strip: String,
    /// The day standing, for a phone and for paper.
    pub column: String,
}

/// One frame.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct WalkFrame {
    /// Its name.
    pub key: String,
    /// The picture.
    pub picture: String,
    /// What to do.
    pub says: String,
    /// What to look for.
    pub look: String,
    /// What goes in.
    pub take: Vec<Portion>,
    /// When it begins if the day begins at nine.
    pub about: String,
    /// How long hands are busy.
    pub hands: String,
    /// How long it then stands; empty if it does not.
    pub stands: String,
    /// What can hurt.
    pub caution: String,
    /// Source.
    pub source: String,
}
