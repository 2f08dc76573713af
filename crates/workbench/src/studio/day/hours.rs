//! From when to when hands are free.

use making::{Clock, Minutes};

use super::super::{StudioError, short};

/// The hours of a day as typed: `9:00`, `9`, `18.30`. Empty fields mean the usual day.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct TypedHours {
    /// When hands are free.
    pub from: String,
    /// When everything must be done.
    pub to: String,
}

/// The hours of a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Hours {
    pub(crate) begins: Clock,
    pub(crate) ends: Clock,
}

/// When nothing is said: nine to six (common practice, no source).
const USUAL: Hours = Hours { begins: Clock::new(9 * 60), ends: Clock::new(18 * 60) };

/// A day under way may last into the night, never longer than this.
pub(super) const WHOLE_DAY: Minutes = Minutes::new(24 * 60);

impl TypedHours {
    /// The hours; the usual ones where nothing is typed.
    pub(crate) fn read(&self) -> Result<Hours, StudioError> {
        let begins = clock(&self.from, "from when hands are free", "9:00")?.unwrap_or(USUAL.begins);
        let ends = clock(&self.to, "when everything must be done", "18:00")?.unwrap_or(USUAL.ends);
        Ok(Hours { begins, ends })
    }
}

fn clock(text: &str, what: &str, example: &str) -> Result<Option<Clock>, StudioError> {
    let plain = text.trim();
    if plain.is_empty() {
        return Ok(None);
    }
    let wrong = || StudioError::Typed(format!("{what}: \u{201c}{}\u{201d} is no time of the day; write it like {example}", short(plain)));
    let (hours, minutes) = plain.split_once([':', '.', 'h']).unwrap_or((plain, "0"));
    let hours: i32 = hours.trim().parse().map_err(|_| wrong())?;
    let minutes: i32 = if minutes.trim().is_empty() { 0 } else { minutes.trim().parse().map_err(|_| wrong())? };
    if !(0..=24).contains(&hours) || !(0..60).contains(&minutes) || hours * 60 + minutes > WHOLE_DAY.count() {
        return Err(wrong());
    }
    Ok(Some(Clock::new(hours * 60 + minutes)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(from: &str, to: &str) -> Result<(i32, i32), StudioError> {
        TypedHours { from: from.into(), to: to.into() }.read().map(|hours| (hours.begins.count(), hours.ends.count()))
    }

    #[test]
    fn hours_are_read_as_people_write_them() {
        assert_eq!(read("", ""), Ok((540, 1080)));
        assert_eq!(read("8", "24:00"), Ok((480, 1440)));
        assert_eq!(read(" 8.30 ", "17h15"), Ok((510, 1035)));
    }

    #[test]
    fn what_is_no_time_is_refused_with_one_that_would_be() {
        for typed in ["noon", "25:00", "9:60", "-1", "24:01", "9:0x", "99999999999"] {
            let Err(StudioError::Typed(why)) = read(typed, "") else { unreachable!("{typed} was taken") };
            assert!(why.contains("9:00"), "{why}");
        }
    }
}
