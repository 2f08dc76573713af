//! A seal over each entry, so that a check sees when the disk changed what was written.

use notebook::NewChange;
use sha2::{Digest, Sha256};

/// SHA-256 over number and entry. Each text goes in with its length before it, so that no two entries share their bytes.
pub(crate) fn seal(n: u64, entry: &NewChange) -> [u8; 32] {
    let NewChange { id, at, device, kind, version, subject, expects, strikes, body } = entry;
    let mut hash = Sha256::new();
    hash.update(n.to_le_bytes());
    hash.update(at.seconds.to_le_bytes());
    hash.update(at.offset_minutes.to_le_bytes());
    hash.update(version.to_le_bytes());
    for number in [expects, strikes] {
        hash.update([u8::from(number.is_some())]);
        hash.update(number.unwrap_or(0).to_le_bytes());
    }
    for text in [id, device, kind, subject, body] {
        hash.update((text.len() as u64).to_le_bytes());
        hash.update(text.as_bytes());
    }
    hash.finalize().into()
}

#[cfg(test)]
mod tests {
    use super::*;
    use notebook::Moment;

    fn entry() -> NewChange {
        NewChange {
            id: "a".into(),
            at: Moment { seconds: 1, offset_minutes: 2 },
            device: "b".into(),
            kind: "c".into(),
            version: 3,
            subject: "d".into(),
            expects: None,
            strikes: None,
            body: "e".into(),
        }
    }

    #[test]
    fn the_seal_is_that_of_bytes_written_out_by_hand() {
        // Number, seconds, minutes, version, two numbers that are not there, then five texts of one letter: little end first.
        let mut bytes = b"\x07\0\0\0\0\0\0\0\x01\0\0\0\0\0\0\0\x02\0\0\0\x03\0".to_vec();
        bytes.extend([0; 18]);
        for letter in b"abcde" {
            bytes.extend([1, 0, 0, 0, 0, 0, 0, 0, *letter]);
        }
        // Changing this changes the format.
        assert_eq!(seal(7, &entry()).to_vec(), Sha256::digest(bytes).to_vec());
    }

    #[test]
    fn anything_else_has_another_seal() {
        let first = seal(1, &entry());
        let others = [
            seal(2, &entry()),
            seal(1, &NewChange { at: Moment::default(), ..entry() }),
            seal(1, &NewChange { expects: Some(0), ..entry() }),
            seal(1, &NewChange { strikes: Some(0), ..entry() }),
            seal(1, &NewChange { id: "ab".into(), device: String::new(), ..entry() }),
            seal(1, &NewChange { version: 4, ..entry() }),
        ];
        assert!(others.iter().all(|other| *other != first));
        assert_ne!(others[2], others[3]);
    }
}
