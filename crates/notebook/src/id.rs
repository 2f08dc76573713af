//! Ids that a person can read from the back of a board, and ids that nobody needs to read.

use sha2::{Digest, Sha256};

use crate::Moment;

/// Letters of a board id: 32 signs without I, L, O and U, which read like others or like words.
const LETTERS: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";

/// Signs that carry the number; one check letter follows.
const SIGNS: usize = 6;

/// Durable id of a board, such as `GP-7K3M-Q2X`: 30 bits and a check letter.
///
/// The check is a weighted sum in the field of 32 elements with weights that are powers of a primitive element, so any one wrong
/// sign and any two exchanged signs are found.
///
/// ```
/// use notebook::{board_id, read_board_id};
/// let id = board_id(123_456_789);
/// assert_eq!(read_board_id(&id.to_lowercase().replace('-', " ")), Ok(id));
/// ```
pub fn board_id(number: u32) -> String {
    let mut signs = [0u8; SIGNS];
    let mut left = number;
    for sign in signs.iter_mut().rev() {
        *sign = u8::try_from(left % 32).unwrap_or(0);
        left /= 32;
    }
    let letters: String = signs.iter().chain(std::iter::once(&check(&signs))).map(|sign| letter(*sign)).collect();
    let (front, back) = letters.split_at(4);
    format!("GP-{front}-{back}")
}

/// What is wrong with an id that somebody typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum IdError {
    /// Too few or too many signs, or signs that ids do not have.
    #[error("a board's id looks like GP-7K3M-Q2X: GP, then seven letters or figures")]
    Shape,
    /// The check letter does not fit.
    #[error("one sign of this id was misread: the last letter does not fit the others. Look at the board again")]
    Check,
}

/// Reads an id as typed: small letters, blanks and missing hyphens are taken; I and L are read as 1, O as 0.
///
/// # Errors
/// Not the shape of an id; the check letter does not fit.
pub fn read_board_id(text: &str) -> Result<String, IdError> {
    let plain: String = text.chars().filter(char::is_ascii_alphanumeric).map(|c| c.to_ascii_uppercase()).collect();
    let rest = plain.strip_prefix("GP").filter(|rest| rest.len() == SIGNS + 1).ok_or(IdError::Shape)?;
    let mut signs = [0u8; SIGNS + 1];
    for (sign, c) in signs.iter_mut().zip(rest.bytes()) {
        let c = match c {
            b'I' | b'L' => b'1',
            b'O' => b'0',
            other => other,
        };
        *sign = LETTERS.iter().position(|known| *known == c).and_then(|at| u8::try_from(at).ok()).ok_or(IdError::Shape)?;
    }
    let (data, last) = signs.split_at(SIGNS);
    if last.first() != Some(&check(data)) {
        return Err(IdError::Check);
    }
    let number = data.iter().fold(0u32, |number, sign| number * 32 + u32::from(*sign));
    Ok(board_id(number))
}

fn letter(sign: u8) -> char {
    LETTERS.get(usize::from(sign)).map_or('0', |c| char::from(*c))
}

fn check(signs: &[u8]) -> u8 {
    let mut weight = 1;
    signs.iter().fold(0, |sum, sign| {
        weight = times(weight, 2);
        sum ^ times(weight, *sign)
    })
}

/// Product in the field of 32 elements, modulo x^5 + x^2 + 1, whose root is primitive.
fn times(mut a: u8, mut b: u8) -> u8 {
    let mut product = 0;
    while b > 0 {
        if b & 1 == 1 {
            product ^= a;
        }
        a <<= 1;
        if a & 0b10_0000 != 0 {
            a ^= 0b10_0101;
        }
        b >>= 1;
    }
    product
}

/// Who writes, when, and 128 bits of chance from the edge: all that a new entry needs from outside.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stamp {
    /// When.
    pub at: Moment,
    /// Which device.
    pub device: String,
    /// Chance, fresh for each request; a form that is sent twice brings the same.
    pub chance: u128,
}

impl Stamp {
    fn digest(&self, purpose: &str, index: u32) -> [u8; 32] {
        let mut hash = Sha256::new();
        hash.update(self.chance.to_be_bytes());
        hash.update(purpose.as_bytes());
        hash.update(index.to_be_bytes());
        hash.finalize().into()
    }

    /// Id of the `index`-th entry of this request.
    pub fn entry(&self, index: u32) -> String {
        hex(self.digest("entry", index).get(..16).unwrap_or_default())
    }

    /// Id of a new thing, such as `recipe-3f0a12bc77d1`.
    pub fn subject(&self, kind: &str, index: u32) -> String {
        format!("{kind}-{}", hex(self.digest(kind, index).get(..6).unwrap_or_default()))
    }

    /// Number behind the `index`-th board id.
    pub fn board(&self, index: u32) -> u32 {
        self.digest("board", index).iter().take(4).fold(0, |number, byte| number << 8 | u32::from(*byte)) >> 2
    }

    /// A seed for drawing an order.
    pub fn seed(&self) -> u64 {
        // 48 bits, so that the seed is exact in any program that reads numbers as doubles.
        self.digest("order", 0).iter().take(6).fold(0, |number, byte| number << 8 | u64::from(*byte))
    }
}

fn hex(bytes: &[u8]) -> String {
    use std::fmt::Write as _;
    bytes.iter().fold(String::new(), |mut text, byte| {
        // Writing to a text can't fail.
        let _ = write!(text, "{byte:02x}");
        text
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn swapped(id: &str, a: usize, b: usize) -> String {
        let mut signs: Vec<char> = id.chars().filter(|c| *c != '-').collect();
        signs.swap(a, b);
        signs.into_iter().collect()
    }

    #[test]
    fn the_field_has_31_powers_of_its_root() {
        let mut power = 1;
        let seen: std::collections::BTreeSet<u8> = (0..31)
            .map(|_| {
                power = times(power, 2);
                power
            })
            .collect();
        assert_eq!(seen.len(), 31);
    }

    #[test]
    fn any_wrong_sign_and_any_exchange_is_found() {
        for number in [0, 1, 31, 123_456_789, (1 << 30) - 1, 777_777_777] {
            let id = board_id(number);
            let signs: Vec<char> = id.chars().filter(|c| *c != '-').collect();
            for at in 2..signs.len() {
                for other in LETTERS.iter().map(|c| char::from(*c)).filter(|c| *c != signs[at]) {
                    let mut wrong = signs.clone();
                    wrong[at] = other;
                    assert_eq!(read_board_id(&wrong.iter().collect::<String>()), Err(IdError::Check), "{id} {at} {other}");
                }
                for with in at + 1..signs.len() {
                    if signs[at] != signs[with] {
                        assert_eq!(read_board_id(&swapped(&id, at, with)), Err(IdError::Check), "{id} {at} {with}");
                    }
                }
            }
        }
    }

    #[test]
    fn what_reads_alike_is_taken_alike() {
        let id = board_id(1);
        assert_eq!(read_board_id(&id.replace('0', "O").replace('1', "l")), Ok(id));
        assert_eq!(read_board_id("GP-7K3M"), Err(IdError::Shape));
        assert_eq!(read_board_id(""), Err(IdError::Shape));
    }
}
