//! Phones that were let into a studio, and their keys.

use notebook::{Deed, Device, Moment, Notebook, Stamp, Wanted};

use super::{Studio, StudioError, named};
use crate::Workbench;

/// Days that a phone's key lasts (model choice: a trial of boards is laid within a month, and a phone that was lost is shut out after one).
pub const KEY_LASTS_DAYS: i64 = 30;

/// Longest name of a phone, characters.
const MOST_LETTERS: usize = 40;

/// A phone that was let in and whose key was not taken away.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Phone {
    /// Subject of its record.
    pub subject: String,
    /// Entry that let it in.
    pub entry: u64,
    /// What it is called.
    pub name: String,
    /// SHA-256 of its key.
    pub key_hash: String,
    /// When it was let in.
    pub since: Moment,
    /// When its key runs out.
    pub until: Moment,
}

impl Phone {
    /// Whether its key is good at this moment.
    pub fn is_good(&self, now: Moment) -> bool {
        now.seconds < self.until.seconds
    }
}

/// What is kept of a key: its SHA-256, in hexadecimal. A key of 256 random bits needs no salt and no slow sum: nobody can try them all.
///
/// ```
/// // FIPS 180-2, appendix B.1
/// assert_eq!(workbench::key_hash("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
/// ```
pub fn key_hash(key: &str) -> String {
    notebook::name_of(key.as_bytes())
}

impl Workbench {
    /// A phone's name as typed: one line of at most 40 letters, and not the desk's own.
    ///
    /// # Errors
    /// No name, too long a one, or `desk`.
    pub fn phone_name(&self, typed: &str) -> Result<String, StudioError> {
        let name = named(typed, "the phone's name", "kitchen phone")?;
        if name.chars().count() > MOST_LETTERS || name.chars().any(misleads) {
            return Err(StudioError::Typed(format!(
                "a phone's name has at most {MOST_LETTERS} letters; say something like \u{201c}kitchen phone\u{201d}"
            )));
        }
        if name.eq_ignore_ascii_case("desk") {
            return Err(StudioError::Typed(
                "\u{201c}desk\u{201d} is what this notebook calls the computer; say something like \u{201c}kitchen phone\u{201d}".into(),
            ));
        }
        Ok(name)
    }

    /// Lets a phone in for [`KEY_LASTS_DAYS`]. Only the hash of its key is written. A second phone of the same name gets a number behind it.
    ///
    /// # Errors
    /// The name can't be taken; the notebook refuses, or the disk.
    pub fn let_in(&self, studio: &Studio, name: &str, key_hash: &str, stamp: &Stamp) -> Result<(), StudioError> {
        let name = self.phone_name(name)?;
        let until = Moment { seconds: stamp.at.seconds + KEY_LASTS_DAYS * 86_400, ..stamp.at };
        studio
            .write(stamp, |state| {
                let taken = |name: &str| state.devices.values().any(|kept| kept.record.name == name);
                let names = std::iter::once(name.clone()).chain((2u32..).map(|count| format!("{name} {count}")));
                let name = names.into_iter().find(|name| !taken(name)).unwrap_or_default();
                let device = Device { name, key_hash: key_hash.to_owned(), until };
                Ok(vec![Wanted::new(stamp.subject("phone", 0), Deed::Device(device))])
            })
            .map(drop)
    }

    /// Takes a phone's key away.
    ///
    /// # Errors
    /// There is no such phone (any more).
    pub fn take_key(&self, studio: &Studio, subject: &str, stamp: &Stamp) -> Result<(), StudioError> {
        studio
            .write(stamp, |state| {
                let kept = state.devices.get(subject).ok_or(StudioError::Missing("phone"))?;
                Ok(vec![Wanted::strike(kept.n, "its key was taken away")])
            })
            .map(drop)
    }
}

impl Studio {
    /// Phones that were let in, the newest first; those whose key ran out are among them.
    pub fn phones(&self) -> Vec<Phone> {
        phones(&self.state())
    }
}

/// Signs that are not seen, or that turn the writing round: what the desk is asked must be what it reads.
fn misleads(sign: char) -> bool {
    sign.is_control()
        || matches!(sign, '\u{ad}' | '\u{61c}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{2069}' | '\u{feff}')
}

fn phones(state: &Notebook) -> Vec<Phone> {
    let mut phones: Vec<Phone> = state
        .devices
        .values()
        .map(|kept| Phone {
            subject: kept.subject.clone(),
            entry: kept.n,
            name: kept.record.name.clone(),
            key_hash: kept.record.key_hash.clone(),
            since: kept.first,
            until: kept.record.until,
        })
        .collect();
    phones.sort_by_key(|phone| std::cmp::Reverse(phone.entry));
    phones
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stamp(chance: u128) -> Stamp {
        Stamp { at: Moment { seconds: 1_800_000_000, offset_minutes: 0 }, device: "desk".into(), chance }
    }

    #[test]
    fn a_key_is_good_for_thirty_days_and_can_be_taken_away() {
        let bench = Workbench::open().unwrap();
        let studio = Studio::in_memory(false).unwrap();
        bench.let_in(&studio, "  kitchen   phone ", &key_hash("abc"), &stamp(1)).unwrap();
        bench.let_in(&studio, "kitchen phone", &key_hash("abd"), &stamp(2)).unwrap();
        let phones = studio.phones();
        assert_eq!(phones.iter().map(|phone| phone.name.as_str()).collect::<Vec<_>>(), ["kitchen phone 2", "kitchen phone"]);
        // 30 days of 86,400 s are 2,592,000 s.
        let last = Moment { seconds: 1_800_000_000 + 2_591_999, offset_minutes: 0 };
        let over = Moment { seconds: 1_800_000_000 + 2_592_000, offset_minutes: 0 };
        assert!(phones[0].is_good(last) && !phones[0].is_good(over));
        bench.take_key(&studio, &phones[1].subject, &stamp(3)).unwrap();
        assert_eq!(studio.phones().len(), 1);
        assert!(matches!(bench.take_key(&studio, &phones[1].subject, &stamp(4)), Err(StudioError::Missing("phone"))));
    }

    #[test]
    fn the_key_itself_is_nowhere_in_the_log() {
        let bench = Workbench::open().unwrap();
        let studio = Studio::in_memory(false).unwrap();
        let key = "5f".repeat(32);
        bench.let_in(&studio, "kitchen phone", &key_hash(&key), &stamp(1)).unwrap();
        assert!(!format!("{:?}", studio.state().entries()).contains(&key));
    }

    #[test]
    fn names_that_would_mislead_are_refused() {
        let bench = Workbench::open().unwrap();
        for name in ["", "   ", "desk", " Desk ", &"x".repeat(41), "a\u{7}b", "ma\u{202e}enohp", "de\u{200b}sk"] {
            assert!(bench.phone_name(name).is_err(), "{name}");
        }
        assert_eq!(bench.phone_name("Küchentelefon"), Ok("Küchentelefon".to_owned()));
    }
}
