//! Days on which to look at boards, as a calendar file that any calendar reads (RFC 5545).
//!
//! Only what such a file needs is written: whole days, a title, a text. Nothing here reads a clock: the moment of writing comes in, so
//! the same looks give the same bytes.

use std::fmt::Write as _;

/// One day in the calendar.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Appointment {
    /// Name that stays the same when the file is written again, so that a calendar moves the day instead of adding it twice; see [`uid`].
    pub uid: String,
    /// Year, month, day.
    pub day: (u16, u8, u8),
    /// What the day is called.
    pub title: String,
    /// What to do; may be several lines.
    pub text: String,
}

/// The moment of writing, in universal time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stamp {
    /// Year, month, day.
    pub day: (u16, u8, u8),
    /// Hour, minute, second.
    pub time: (u8, u8, u8),
}

/// Something that no calendar can hold.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum CalendarError {
    /// Not a day.
    #[error("{title}: {year}-{month}-{day} is no day of the calendar")]
    NoSuchDay {
        /// The appointment, or "the stamp".
        title: String,
        /// Year.
        year: u16,
        /// Month.
        month: u8,
        /// Day.
        day: u8,
    },
    /// Not a time of day.
    #[error("the stamp has no such time as {hour}:{minute}:{second}")]
    NoSuchTime {
        /// Hour.
        hour: u8,
        /// Minute.
        minute: u8,
        /// Second.
        second: u8,
    },
    /// An appointment without a name of its own.
    #[error("{title}: two days have the same lasting name `{uid}`, or none")]
    NoName {
        /// The appointment.
        title: String,
        /// Its name.
        uid: String,
    },
}

/// Longest line in octets, its end not counted (RFC 5545, section 3.1).
const LONGEST: usize = 75;

/// The lasting name of one look at one board of one trial. Different trials, boards or looks never share one: what is neither letter nor
/// figure is written as its octets.
///
/// ```
/// assert_eq!(paper::calendar::uid("tide calendar", "07", "6-months"), "groundproof/tide_20calendar/07/6_2Dmonths");
/// ```
pub fn uid(trial: &str, board: &str, look: &str) -> String {
    let mut name = String::from("groundproof");
    for part in [trial, board, look] {
        name.push('/');
        for octet in part.bytes() {
            if octet.is_ascii_alphanumeric() {
                name.push(char::from(octet));
            } else {
                // A text in memory takes everything that is written to it.
                let _ = write!(name, "_{octet:02X}");
            }
        }
    }
    name
}

/// The calendar file.
///
/// # Errors
/// A day or time that is none, or two appointments with the same lasting name.
///
/// ```
/// use paper::calendar::{Appointment, Stamp, calendar, uid};
/// let look = Appointment {
///     uid: uid("tide calendar", "07", "1-week"),
///     day: (2026, 12, 2),
///     title: "Look at board 07".into(),
///     text: "One week after the last coat.".into(),
/// };
/// let file = calendar("Tide calendar", &[look], Stamp { day: (2026, 11, 25), time: (9, 30, 0) })?;
/// assert!(file.contains("\r\nDTSTART;VALUE=DATE:20261202\r\n"));
/// # Ok::<(), paper::calendar::CalendarError>(())
/// ```
pub fn calendar(name: &str, appointments: &[Appointment], stamp: Stamp) -> Result<String, CalendarError> {
    let stamp = written_stamp(stamp)?;
    let mut file = String::new();
    line(&mut file, "BEGIN:VCALENDAR");
    line(&mut file, "VERSION:2.0");
    line(&mut file, "PRODID:-//groundproof//looks at boards//EN");
    line(&mut file, "CALSCALE:GREGORIAN");
    line(&mut file, "METHOD:PUBLISH");
    // RFC 7986 names a calendar; readers that don't know it pass over it.
    line(&mut file, &format!("NAME:{}", escaped(name)));
    let mut names = std::collections::BTreeSet::new();
    for appointment in appointments {
        if appointment.uid.trim().is_empty() || !names.insert(&appointment.uid) {
            return Err(CalendarError::NoName { title: appointment.title.clone(), uid: appointment.uid.clone() });
        }
        line(&mut file, "BEGIN:VEVENT");
        line(&mut file, &format!("UID:{}", escaped(&appointment.uid)));
        line(&mut file, &format!("DTSTAMP:{stamp}"));
        // Without an end it lasts the whole day (section 3.6.1).
        line(&mut file, &format!("DTSTART;VALUE=DATE:{}", written_day(&appointment.title, appointment.day)?));
        line(&mut file, &format!("SUMMARY:{}", escaped(&appointment.title)));
        if !appointment.text.is_empty() {
            line(&mut file, &format!("DESCRIPTION:{}", escaped(&appointment.text)));
        }
        // Looking at a board leaves the day free.
        line(&mut file, "TRANSP:TRANSPARENT");
        line(&mut file, "END:VEVENT");
    }
    line(&mut file, "END:VCALENDAR");
    Ok(file)
}

/// Whether there is such a day, in the years 1 to 9999.
pub(crate) fn is_day((year, month, day): (u16, u8, u8)) -> bool {
    let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    let last = match month {
        2 => 28 + u8::from(leap),
        4 | 6 | 9 | 11 => 30,
        1..=12 => 31,
        _ => 0,
    };
    (1..=9999).contains(&year) && (1..=last).contains(&day)
}

fn written_day(title: &str, (year, month, day): (u16, u8, u8)) -> Result<String, CalendarError> {
    if !is_day((year, month, day)) {
        return Err(CalendarError::NoSuchDay { title: title.to_owned(), year, month, day });
    }
    Ok(format!("{year:04}{month:02}{day:02}"))
}

fn written_stamp(stamp: Stamp) -> Result<String, CalendarError> {
    let (hour, minute, second) = stamp.time;
    if hour > 23 || minute > 59 || second > 59 {
        return Err(CalendarError::NoSuchTime { hour, minute, second });
    }
    Ok(format!("{}T{hour:02}{minute:02}{second:02}Z", written_day("the stamp", stamp.day)?))
}

/// Text as section 3.3.11 wants it. Other control characters have no place in a calendar and become spaces.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut letters = text.chars().peekable();
    while let Some(letter) = letters.next() {
        match letter {
            '\\' | ';' | ',' => out.extend(['\\', letter]),
            '\r' => {
                // A pair counts as one end of line.
                letters.next_if_eq(&'\n');
                out.push_str("\\n");
            }
            '\n' => out.push_str("\\n"),
            _ if letter.is_control() => out.push(' '),
            _ => out.push(letter),
        }
    }
    out
}

/// Adds a line, folded so that none is longer than 75 octets and no character is torn apart.
fn line(file: &mut String, text: &str) {
    let mut octets = 0;
    for letter in text.chars() {
        if octets + letter.len_utf8() > LONGEST {
            file.push_str("\r\n ");
            octets = 1;
        }
        file.push(letter);
        octets += letter.len_utf8();
    }
    file.push_str("\r\n");
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const STAMP: Stamp = Stamp { day: (2026, 11, 25), time: (9, 30, 0) };

    fn look(title: &str, text: &str) -> Appointment {
        Appointment { uid: uid("tide", "07", "1-day"), day: (2026, 11, 26), title: title.into(), text: text.into() }
    }

    #[test]
    fn a_line_of_76_octets_is_folded_once() {
        // RFC 5545, section 3.1: at most 75 octets without the break, and the next line begins with a space.
        let mut file = String::new();
        line(&mut file, &"x".repeat(76));
        assert_eq!(file, format!("{}\r\n x\r\n", "x".repeat(75)));
        file.clear();
        line(&mut file, &"x".repeat(75));
        assert_eq!(file.matches("\r\n").count(), 1);
    }

    #[test]
    fn a_folded_line_tears_no_character() {
        let mut file = String::new();
        line(&mut file, &format!("{}é", "x".repeat(74)));
        assert_eq!(file, format!("{}\r\n é\r\n", "x".repeat(74)));
    }

    #[test]
    fn text_is_escaped_as_the_standard_shows() {
        // Written after the example of section 3.3.11: "Project XYZ Final Review\nConference Room - 3B\nCome Prepared."
        assert_eq!(escaped("Board 07; look, then \\ write\nTwice\r\nThrice\u{7}"), "Board 07\\; look\\, then \\\\ write\\nTwice\\nThrice ");
    }

    #[test]
    fn what_no_calendar_can_hold_is_refused() {
        let mut wrong = look("Look", "");
        wrong.day = (2026, 2, 29);
        assert!(matches!(calendar("tide", &[wrong], STAMP), Err(CalendarError::NoSuchDay { day: 29, .. })));
        let twice = [look("Look", ""), look("Look again", "")];
        assert!(calendar("tide", &twice, STAMP).unwrap_err().to_string().contains("Look again"));
        assert!(calendar("tide", &[], Stamp { time: (24, 0, 0), ..STAMP }).is_err());
        assert!(calendar("tide", &[], STAMP).is_ok());
    }

    #[test]
    fn lasting_names_stay_apart() {
        assert_ne!(uid("a/b", "c", "d"), uid("a", "b/c", "d"));
        assert_ne!(uid("a_2F", "c", "d"), uid("a/", "c", "d"));
    }

    proptest! {
        #[test]
        fn no_line_is_too_long_and_unfolding_brings_the_text_back(title in ".{0,200}", text in "(?s).{0,300}") {
            let file = calendar(&title, &[look(&title, &text)], STAMP).unwrap();
            prop_assert!(file.ends_with("\r\n"));
            for row in file.split_terminator("\r\n") {
                prop_assert!(row.len() <= LONGEST && !row.contains(['\r', '\n']), "{row}");
            }
            let unfolded = file.replace("\r\n ", "");
            let title_line = format!("\r\nSUMMARY:{}\r\n", escaped(&title));
            prop_assert!(unfolded.contains(&title_line));
        }
    }
}
