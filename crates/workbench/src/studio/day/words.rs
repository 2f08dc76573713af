//! Times and coats in a painter's words.

use making::{Clock, Minutes};
use show::number;
use support::GroundKind;

use super::asked::PotInfo;
use crate::Workbench;
use crate::sheets::PROTECTION;

/// "9:05"; another day than the day itself is named.
pub(crate) fn clock_words(clock: Clock) -> String {
    let (day, minutes) = clock.parts();
    let time = format!("{}:{:02}", minutes / 60, minutes % 60);
    match day {
        0 => time,
        -1 => format!("{time} the day before"),
        1 => format!("{time} the day after"),
        before if before < 0 => format!("{time}, {} days before", -before),
        after => format!("{time}, {after} days after"),
    }
}

/// "9:05"; another day than that of `now` is named as it is named at that time: "9:05 tomorrow".
pub(crate) fn time_from(clock: Clock, now: Clock) -> String {
    let ((day, minutes), (today, _)) = (clock.parts(), now.parts());
    let time = format!("{}:{:02}", minutes / 60, minutes % 60);
    match day - today {
        0 => time,
        1 => format!("{time} tomorrow"),
        -1 => format!("{time} yesterday"),
        ahead if ahead > 0 => format!("{time} in {ahead} days"),
        ago => format!("{time}, {} days ago", -ago),
    }
}

/// "11:20 to 12:10" as it is said at `now`.
pub(crate) fn span_from(from: Clock, to: Clock, now: Clock) -> String {
    if to <= from { time_from(from, now) } else { format!("{} to {}", time_from(from, now), time_from(to, now)) }
}

/// "11:20 to 12:10", or one time where both are the same.
pub(crate) fn clock_span(from: Clock, to: Clock) -> String {
    if to <= from { clock_words(from) } else { format!("{} to {}", clock_words(from), clock_words(to)) }
}

/// "40 minutes", "2 h 10 min".
pub(crate) fn lasting(minutes: Minutes) -> String {
    let count = minutes.count().max(0);
    match (count / 60, count % 60) {
        (0, 1) => "1 minute".into(),
        (0, minutes) => format!("{minutes} minutes"),
        (hours, _) if hours >= 48 => format!("{} days", hours / 24),
        (hours, 0) => format!("{hours}\u{a0}h"),
        (hours, minutes) => format!("{hours}\u{a0}h {minutes}\u{a0}min"),
    }
}

/// "20 to 60 minutes"; long ones are written out.
pub(crate) fn lasting_span(low: Minutes, high: Minutes) -> String {
    let (low, high) = (low.count().max(0), high.count().max(0));
    if low == high {
        lasting(Minutes::new(low))
    } else if high < 120 {
        format!("{low} to {high} minutes")
    } else {
        format!("{} to {}", lasting(Minutes::new(low)), lasting(Minutes::new(high)))
    }
}

/// "first", "second" ...
pub(crate) fn ordinal(coat: u32) -> String {
    const WORDS: [&str; 10] = ["first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"];
    let word = usize::try_from(coat).ok().and_then(|coat| WORDS.get(coat.checked_sub(1)?));
    word.map_or_else(|| format!("{coat}th"), |word| (*word).to_owned())
}

/// A number of the plan without the noughts in front: nobody says "board nought five".
pub(crate) fn spoken(number: &str) -> &str {
    let plain = number.trim_start_matches('0');
    if plain.is_empty() { number } else { plain }
}

/// "9.8 g", as a kitchen scale shows it.
pub(crate) fn grams(value: f64) -> String {
    format!("{}\u{a0}g", number(value, usize::from(value < 100.0)))
}

/// How one washes up, and the caution at it.
pub(crate) const WASHING: (&str, &str) = (
    "Let what is left in the pots settle and dry, and bin it by local rules; nothing white goes down the sink. Cold water first, then hot water and washing-up liquid.",
    "No bleach near anything sour or near ammonia: it gives poisonous gas. Follow the safety data sheet and local rules.",
);

/// Lime at the step where it goes in.
const LIME: &str = "Lime burns: one splash can blind. Rinse splashes with much water at once and get medical help. Follow the safety data sheet and local rules.";

impl Workbench {
    /// What the scale should show for a coat, and how far it may lie beside that.
    pub(super) fn aim_words(&self, aim: f64) -> String {
        let beside = self.laying.tolerance.value() * aim;
        format!(
            "{} more on the scale ({} to {})",
            grams(aim),
            number(aim - beside, usize::from(aim < 100.0)),
            number(aim + beside, usize::from(aim < 100.0))
        )
    }
}

/// How a pot is mixed, and the caution at it.
pub(super) fn mixing_words(pot: &PotInfo) -> (String, String) {
    if pot.family == GroundKind::Acrylic {
        return ("Stir it without beating air in and use it as its maker says.".into(), PROTECTION.into());
    }
    (
        "Weigh it out as on the sheet. Sift the powder into the binder little by little, let it drink, stir without beating air in, and strain it.".into(),
        if pot.family == GroundKind::LimeCasein {
            format!("{LIME} Powder raises dust: no draught, wipe up wet, never sweep. {PROTECTION}")
        } else {
            format!("Powder raises dust: no draught, wipe up wet, never sweep. {PROTECTION}")
        },
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_are_said_as_people_say_them() {
        assert_eq!(clock_words(Clock::new(545)), "9:05");
        assert_eq!(clock_words(Clock::new(-360)), "18:00 the day before");
        assert_eq!(clock_words(Clock::new(1500)), "1:00 the day after");
        assert_eq!(clock_span(Clock::new(680), Clock::new(730)), "11:20 to 12:10");
        // At ten in the evening before the day: ten past ten is that evening, nine o'clock is tomorrow.
        let evening = Clock::new(-120);
        assert_eq!(time_from(Clock::new(-110), evening), "22:10");
        assert_eq!(time_from(Clock::new(540), evening), "9:00 tomorrow");
        assert_eq!(time_from(Clock::new(-120), Clock::new(600)), "22:00 yesterday");
        assert_eq!(span_from(Clock::new(-110), Clock::new(-110), evening), "22:10");
        assert_eq!(lasting(Minutes::new(130)), "2\u{a0}h 10\u{a0}min");
        assert_eq!(lasting(Minutes::new(-5)), "0 minutes");
        assert_eq!(lasting(Minutes::new(7 * 1440 + 100)), "7 days");
        assert_eq!(lasting_span(Minutes::new(20), Minutes::new(60)), "20 to 60 minutes");
        assert_eq!((spoken("07"), spoken("00"), spoken("A1")), ("7", "00", "A1"));
        assert_eq!((ordinal(2).as_str(), ordinal(12).as_str()), ("second", "12th"));
    }
}
