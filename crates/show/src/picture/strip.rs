//! A day as a strip: hours, what hands do, how long each pot may be used, and what has to dry meanwhile.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::svg::{Svg, wrapped};

/// A day with its lanes. All times are minutes since midnight of the day; the day before is negative.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
pub struct DayStrip {
    /// Where the strip begins.
    pub from: i32,
    /// Where it ends.
    pub to: i32,
    /// What hands do, in order. Give the coats of one round as one block: a strip is for the whole day.
    pub hands: Vec<StripBlock>,
    /// The pots.
    pub pots: Vec<StripPot>,
    /// The time now, if the day is under way.
    pub now: Option<i32>,
}

/// Something that takes hands.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
pub struct StripBlock {
    /// Begins.
    pub from: i32,
    /// Ends.
    pub to: i32,
    /// What it is, such as "coat 1 from pot B".
    pub label: String,
    /// The same in two or three signs, such as `B1`.
    pub mark: String,
}

/// A pot and what is laid from it.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
pub struct StripPot {
    /// Its letter.
    pub letter: String,
    /// What is in it, in a few words.
    pub words: String,
    /// How long it may be used; several if it is mixed anew.
    pub life: Vec<StripLife>,
    /// Rounds of coats.
    pub rounds: Vec<StripBlock>,
    /// Coats that dry before the next.
    pub waits: Vec<StripWait>,
}

/// How long a pot may be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
pub struct StripLife {
    /// When it is ready.
    pub from: i32,
    /// Up to here surely.
    pub low: i32,
    /// Up to here perhaps.
    pub high: i32,
}

/// A coat that dries.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
pub struct StripWait {
    /// When it was laid.
    pub from: i32,
    /// Surely wet up to here.
    pub low: i32,
    /// Matt by here.
    pub high: i32,
}

/// Longest strip: the day before, the day, and one more.
const LONGEST: i32 = 4320;
/// More pots than these do not fit; the picture says so, and the list of steps holds all.
const MOST_POTS: usize = 8;

/// Where minutes lie on the paper.
struct Scale {
    from: i32,
    to: i32,
    start: f64,
    end: f64,
}

impl Scale {
    fn new(view: &DayStrip, start: f64, end: f64) -> Self {
        let from = view.from.clamp(-LONGEST, LONGEST);
        Self { from, to: view.to.clamp(from.saturating_add(60), from.saturating_add(LONGEST)), start, end }
    }

    fn at(&self, minute: i32) -> f64 {
        let share = f64::from(minute.clamp(self.from, self.to) - self.from) / f64::from(self.to - self.from);
        self.start + share * (self.end - self.start)
    }

    fn holds(&self, minute: i32) -> bool {
        (self.from..=self.to).contains(&minute)
    }

    /// Whole hours, far enough from each other to be read.
    fn hours(&self, least: f64) -> Vec<i32> {
        let hour = (self.end - self.start) / f64::from(self.to - self.from) * 60.0;
        let step = [1, 2, 3, 6, 12].into_iter().find(|step| f64::from(*step) * hour >= least).unwrap_or(24);
        let first = self.from.div_euclid(60) + i32::from(self.from.rem_euclid(60) > 0);
        (first..=self.to.div_euclid(60)).filter(|hour| hour.rem_euclid(step) == 0).map(|hour| hour * 60).collect()
    }
}

/// A time as it stands on a clock: `9:05`; a time of another day says so.
pub fn clock_words(minute: i32) -> String {
    let (day, of_day) = (minute.div_euclid(1440), minute.rem_euclid(1440));
    let time = format!("{}:{:02}", of_day / 60, of_day % 60);
    match day {
        0 => time,
        -1 => format!("{time} the day before"),
        1 => format!("{time} the next day"),
        _ => format!("{time} on another day"),
    }
}

fn hour_words(minute: i32) -> String {
    if minute != 0 && minute.rem_euclid(1440) == 0 { "midnight".into() } else { format!("{}:00", minute.rem_euclid(1440) / 60) }
}

/// Hatchings by the picture's own name: on a page that holds both pictures and hides one, the other would lose what it borrows.
#[derive(Clone, Copy)]
struct Own(&'static str);

const STRIP: Own = Own("strip");
const COLUMN: Own = Own("column");

impl Own {
    fn wet(self) -> String {
        format!("fill=\"url(#wet-{})\"", self.0)
    }

    fn perhaps(self) -> String {
        format!("fill=\"url(#perhaps-{})\"", self.0)
    }

    fn life(self) -> String {
        format!("fill=\"url(#life-{})\"", self.0)
    }
}

const WIDE: f64 = 1060.0;
const LEFT: f64 = 132.0;
const LANE: f64 = 66.0;
/// From one row of floating labels to the next.
const DEEP: f64 = 17.0;
/// Width of a letter of the small text, enough for the widest words.
const LETTER: f64 = 6.6;

/// The day from left to right: for a desk.
pub fn day_strip_picture(view: &DayStrip) -> String {
    let pots: Vec<&StripPot> = view.pots.iter().take(MOST_POTS).collect();
    let scale = Scale::new(view, LEFT, WIDE - 34.0);
    let (floating, rows) = float(view, &scale);
    let hands = 34.0 + DEEP * rows as f64;
    let lanes = hands + 40.0;
    let bottom = lanes + LANE * pots.len() as f64 + 4.0;
    let mut svg = begun(WIDE, bottom + 46.0, view, STRIP);
    for hour in scale.hours(46.0) {
        let x = scale.at(hour);
        svg.line("lq", 0.6, (x, 21.0), (x, 26.0));
        svg.line("lq", 0.6, (x, hands), (x, bottom));
        svg.text("q", 13.0, "middle", (x, 16.0), &hour_words(hour));
    }
    svg.text("i s", 15.0, "start", (4.0, hands + 19.0), "hands");
    for (block, row) in view.hands.iter().zip(&floating) {
        let (from, to) = (scale.at(block.from), scale.at(block.to).max(scale.at(block.from) + 2.0));
        svg.rect("g", from, hands, to - from, 28.0);
        svg.marked("class=\"l\" stroke-width=\"1\"", (from, hands), (to - from, 28.0));
        match row {
            Label::Inside => svg.text("i", 13.0, "start", (from + 5.0, hands + 18.5), &block.label),
            Label::Above(row) => svg.line("lq", 0.8, (from + 1.0, hands - 4.0 - DEEP * *row as f64), (from + 1.0, hands)),
            Label::Nowhere => svg.text("i", 11.5, "middle", (f64::midpoint(from, to), hands + 18.5), &fitting(&block.mark, to - from)),
        }
    }
    // After all strokes that lead to them, on paper: no stroke goes through a word.
    for (block, row) in view.hands.iter().zip(&floating) {
        if let Label::Above(row) = row {
            let (x, y) = (scale.at(block.from), hands - 7.0 - DEEP * *row as f64);
            svg.rect("p", x, y - 11.0, LETTER * block.label.chars().count() as f64, 14.0);
            svg.text("i", 13.0, "start", (x, y), &block.label);
        }
    }
    for (lane, pot) in pots.iter().enumerate() {
        let top = lanes + LANE * lane as f64;
        svg.line("lq", 0.6, (4.0, top - 5.0), (WIDE - 30.0, top - 5.0));
        svg.text("i s", 15.0, "start", (4.0, top + 14.0), &format!("pot {}", pot.letter));
        for (line, words) in wrapped(&pot.words, 20).iter().take(2).enumerate() {
            svg.text("q", 12.0, "start", (4.0, top + 29.0 + 13.0 * line as f64), words);
        }
        for life in &pot.life {
            let (from, sure, perhaps) = (scale.at(life.from), scale.at(life.low.max(life.from)), scale.at(life.high.max(life.low)));
            svg.rect("b", from, top, sure - from, 12.0);
            svg.marked(&STRIP.life(), (sure, top), (perhaps - sure, 12.0));
            svg.marked("class=\"l\" stroke-width=\"1\"", (from, top), (perhaps - from, 12.0));
        }
        for wait in &pot.waits {
            let (from, sure, perhaps) = (scale.at(wait.from), scale.at(wait.low.max(wait.from)), scale.at(wait.high.max(wait.low)));
            svg.marked(&STRIP.wet(), (from, top + 42.0), (sure - from, 13.0));
            svg.marked(&STRIP.perhaps(), (sure, top + 42.0), (perhaps - sure, 13.0));
            svg.marked("class=\"lq\" stroke-width=\"0.8\"", (from, top + 42.0), (perhaps - from, 13.0));
        }
        for round in &pot.rounds {
            let (from, to) = (scale.at(round.from), scale.at(round.to).max(scale.at(round.from) + 2.0));
            svg.rect("i", from, top + 16.0, to - from, 22.0);
            let inside = LETTER * round.mark.chars().count() as f64 + 6.0 < to - from;
            let (class, anchor, x) = if inside { ("p", "middle", f64::midpoint(from, to)) } else { ("i", "start", to + 3.0) };
            svg.text(class, 13.0, anchor, (x, top + 32.0), &round.mark);
        }
    }
    if let Some(now) = view.now.filter(|now| scale.holds(*now)) {
        let x = scale.at(now);
        svg.line("le", 2.4, (x, 22.0), (x, bottom));
        let (anchor, at) = if x > WIDE - 140.0 { ("end", x - 5.0) } else { ("start", x + 5.0) };
        svg.text("e s", 13.0, anchor, (at, bottom + 14.0), &format!("now, {}", clock_words(now)));
    }
    left_out(&mut svg, view, (LEFT, bottom + 14.0));
    key(
        &mut svg,
        STRIP,
        &[(LEFT, bottom + 32.0), (LEFT + 250.0, bottom + 32.0), (LEFT + 500.0, bottom + 32.0), (LEFT + 690.0, bottom + 32.0)],
    );
    svg.finish()
}

/// Where a label of the lane of hands stands.
enum Label {
    Inside,
    Above(usize),
    Nowhere,
}

/// Labels that do not fit into their block float above it, at most three deep, none over another. Also says how deep.
fn float(view: &DayStrip, scale: &Scale) -> (Vec<Label>, usize) {
    let mut ends = [f64::NEG_INFINITY; 3];
    let mut deep = 0;
    let labels = view
        .hands
        .iter()
        .map(|block| {
            let (from, to) = (scale.at(block.from), scale.at(block.to));
            let wide = LETTER * block.label.chars().count() as f64;
            if wide + 8.0 < to - from {
                return Label::Inside;
            }
            for (row, end) in ends.iter_mut().enumerate() {
                if from > *end && from + wide < WIDE {
                    *end = from + wide + 8.0;
                    deep = deep.max(row + 1);
                    return Label::Above(row);
                }
            }
            Label::Nowhere
        })
        .collect();
    (labels, deep)
}

fn fitting(mark: &str, width: f64) -> String {
    if LETTER * (mark.chars().count() as f64) < width + 4.0 { mark.to_owned() } else { String::new() }
}

const NARROW: f64 = 372.0;
const MINUTE: f64 = 1.45;
const LANE_DOWN: f64 = 46.0;

/// The day from top to bottom: for a phone, and for paper.
pub fn day_column_picture(view: &DayStrip) -> String {
    let pots: Vec<&StripPot> = view.pots.iter().take(MOST_POTS).collect();
    // Up to four lanes lie beside the words; each further one makes the picture wider, so that no pot is left out and no words are lost.
    let wide = NARROW + LANE_DOWN * pots.len().saturating_sub(4) as f64;
    let probe = Scale::new(view, 0.0, 1.0);
    // A long wait the day before would make a tall picture of nothing.
    let tall = (f64::from(probe.to - probe.from) * MINUTE).min(1500.0);
    let top = 44.0;
    let scale = Scale::new(view, top, top + tall);
    let bottom = top + tall;
    let mut svg = begun(wide, bottom + 104.0, view, COLUMN);
    let lanes = wide - LANE_DOWN * pots.len() as f64;
    for hour in scale.hours(40.0) {
        let y = scale.at(hour);
        svg.line("lq", 0.6, (40.0, y), (wide, y));
        svg.text("q", 13.0, "end", (36.0, y + 4.0), &hour_words(hour));
    }
    svg.text("i s", 14.0, "start", (44.0, 32.0), "hands");
    let mut free = top - 20.0;
    for block in &view.hands {
        let (from, to) = (scale.at(block.from), scale.at(block.to).max(scale.at(block.from) + 2.0));
        svg.rect("g", 44.0, from, 20.0, to - from);
        svg.marked("class=\"l\" stroke-width=\"1\"", (44.0, from), (20.0, to - from));
        let most = ((lanes - 76.0) / 6.2).max(8.0);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few dozen letters")]
        let lines = wrapped(&block.label, most as usize);
        let y = (f64::midpoint(from, to) + 4.5 - 7.0 * (lines.len().min(2) - usize::from(!lines.is_empty())) as f64).max(free + 14.0);
        if y - 4.5 > to + 2.0 {
            svg.line("lq", 0.8, (64.0, f64::midpoint(from, to)), (70.0, y - 4.5));
        }
        for (line, words) in lines.iter().take(2).enumerate() {
            let at = y + 14.0 * line as f64;
            svg.rect("p", 70.0, at - 11.0, LETTER * words.chars().count() as f64, 15.0);
            svg.text("i", 13.0, "start", (72.0, at), words);
            free = at;
        }
    }
    for (lane, pot) in pots.iter().enumerate() {
        let left = lanes + LANE_DOWN * lane as f64 + 4.0;
        svg.line("lq", 0.6, (left - 2.0, 18.0), (left - 2.0, bottom));
        svg.text("i s", 14.0, "start", (left, 32.0), &format!("pot {}", pot.letter.chars().take(2).collect::<String>()));
        for life in &pot.life {
            let (from, sure, perhaps) = (scale.at(life.from), scale.at(life.low.max(life.from)), scale.at(life.high.max(life.low)));
            svg.rect("b", left, from, 8.0, sure - from);
            svg.marked(&COLUMN.life(), (left, sure), (8.0, perhaps - sure));
            svg.marked("class=\"l\" stroke-width=\"1\"", (left, from), (8.0, perhaps - from));
        }
        for wait in &pot.waits {
            let (from, sure, perhaps) = (scale.at(wait.from), scale.at(wait.low.max(wait.from)), scale.at(wait.high.max(wait.low)));
            svg.marked(&COLUMN.wet(), (left + 31.0, from), (9.0, sure - from));
            svg.marked(&COLUMN.perhaps(), (left + 31.0, sure), (9.0, perhaps - sure));
            svg.marked("class=\"lq\" stroke-width=\"0.8\"", (left + 31.0, from), (9.0, perhaps - from));
        }
        for round in &pot.rounds {
            let (from, to) = (scale.at(round.from), scale.at(round.to).max(scale.at(round.from) + 3.0));
            svg.rect("i", left + 10.0, from, 19.0, to - from);
            let mark: String = round.mark.chars().take(3).collect();
            if to - from >= 15.0 {
                svg.text("p", 12.0, "middle", (left + 19.5, f64::midpoint(from, to) + 4.0), &mark);
            } else {
                svg.text("i", 12.0, "middle", (left + 19.5, to + 11.0), &mark);
            }
        }
    }
    if let Some(now) = view.now.filter(|now| scale.holds(*now)) {
        let y = scale.at(now);
        svg.line("le", 2.4, (40.0, y), (wide, y));
        let words = format!("now, {}", clock_words(now));
        let long = 6.8 * words.chars().count() as f64;
        svg.marked("class=\"p\"", (lanes - long - 10.0, y - 17.0), (long + 8.0, 15.0));
        svg.text("e s", 13.0, "end", (lanes - 5.0, y - 5.0), &words);
    }
    left_out(&mut svg, view, (44.0, 14.0));
    key(&mut svg, COLUMN, &[(6.0, bottom + 18.0), (6.0, bottom + 40.0), (6.0, bottom + 62.0), (6.0, bottom + 84.0)]);
    svg.finish()
}

/// Pots that the picture has no lane for are named.
fn left_out(svg: &mut Svg, view: &DayStrip, at: (f64, f64)) {
    let letters: Vec<&str> = view.pots.iter().skip(MOST_POTS).map(|pot| pot.letter.as_str()).collect();
    if !letters.is_empty() {
        svg.text("q", 12.0, "start", at, &format!("not drawn: pots {}; see the steps", letters.join(", ")));
    }
}

fn begun(width: f64, height: f64, view: &DayStrip, own: Own) -> Svg {
    let mut svg = Svg::new(width, height, &format!("The day from {} to {}.", clock_words(view.from), clock_words(view.to)));
    svg.desc(&described(view));
    svg.hatching(&format!("wet-{}", own.0), 5.0, 2.6);
    svg.hatching(&format!("perhaps-{}", own.0), 13.0, 1.4);
    svg.hatching(&format!("life-{}", own.0), 6.0, 2.2);
    svg
}

fn key(svg: &mut Svg, own: Own, at: &[(f64, f64); 4]) {
    let [life, wait, round, hands] = *at;
    let box_of =
        |svg: &mut Svg, (x, y): (f64, f64), attributes: &str, shift: f64| svg.marked(attributes, (x + shift, y - 11.0), (14.0, 12.0));
    box_of(svg, life, "class=\"b\"", 0.0);
    box_of(svg, life, &own.life(), 14.0);
    svg.text("q", 13.0, "start", (life.0 + 36.0, life.1), "the pot may be used, perhaps");
    box_of(svg, wait, &own.wet(), 0.0);
    box_of(svg, wait, &own.perhaps(), 14.0);
    svg.text("q", 13.0, "start", (wait.0 + 36.0, wait.1), "a coat is wet, perhaps matt");
    box_of(svg, round, "class=\"i\"", 7.0);
    svg.text("q", 13.0, "start", (round.0 + 36.0, round.1), "a round of coats");
    box_of(svg, hands, "class=\"g\"", 7.0);
    box_of(svg, hands, "class=\"l\" stroke-width=\"1\"", 7.0);
    svg.text("q", 13.0, "start", (hands.0 + 36.0, hands.1), "what hands do");
}

fn described(view: &DayStrip) -> String {
    let mut out: Vec<String> =
        view.hands.iter().map(|block| format!("{} to {}: {}", clock_words(block.from), clock_words(block.to), block.label)).collect();
    for pot in &view.pots {
        for life in &pot.life {
            out.push(format!(
                "Pot {} may be used from {} to {}, perhaps to {}",
                pot.letter,
                clock_words(life.from),
                clock_words(life.low),
                clock_words(life.high)
            ));
        }
        for wait in &pot.waits {
            let (low, high) = (clock_words(wait.low), clock_words(wait.high));
            out.push(format!("A coat of pot {} laid at {} is matt between {low} and {high}", pot.letter, clock_words(wait.from)));
        }
    }
    out.join(". ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_as_on_a_clock() {
        assert_eq!(clock_words(9 * 60 + 5), "9:05");
        assert_eq!(clock_words(-60), "23:00 the day before");
        assert_eq!(clock_words(1440), "0:00 the next day");
    }

    #[test]
    fn minutes_lie_where_a_ruler_says() {
        // Nine to seventeen is 480 minutes; on 480 units noon lies 180 from the start.
        let scale = Scale::new(&DayStrip { from: 540, to: 1020, ..DayStrip::default() }, 0.0, 480.0);
        assert!((scale.at(720) - 180.0).abs() < 1e-9 && (scale.at(2000) - 480.0).abs() < 1e-9);
        assert_eq!(scale.hours(50.0), [540, 600, 660, 720, 780, 840, 900, 960, 1020]);
        assert_eq!(scale.hours(100.0), [600, 720, 840, 960]);
    }

    #[test]
    fn no_time_makes_it_fall() {
        let odd = [i32::MIN, -1, 0, 600, i32::MAX];
        for from in odd {
            for to in odd {
                let block = StripBlock { from, to, label: "<coat>".into(), mark: "A1".into() };
                let pot = StripPot {
                    letter: "A".into(),
                    words: String::new(),
                    life: vec![StripLife { from, low: to, high: from }],
                    rounds: vec![block.clone()],
                    waits: vec![StripWait { from, low: from, high: to }],
                };
                let view = DayStrip { from, to, hands: vec![block], pots: vec![pot], now: Some(to) };
                for svg in [day_strip_picture(&view), day_column_picture(&view)] {
                    assert!(svg.ends_with("</svg>") && !svg.contains("NaN") && !svg.contains("inf"));
                }
            }
        }
    }
}
