//! Keys, codes and cookies.

use axum::http::{HeaderMap, header};

/// The system gave no random bytes.
#[derive(Debug, thiserror::Error)]
#[error("this system gives no random numbers, so no safe key can be made: {0}")]
pub struct DoorError(String);

/// Signs of a code that is typed: 32 without I, L, O and U, which read like others or like words.
const LETTERS: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";

fn fill<const N: usize>() -> Result<[u8; N], DoorError> {
    let mut bytes = [0u8; N];
    getrandom::fill(&mut bytes).map_err(|e| DoorError(e.to_string()))?;
    Ok(bytes)
}

/// 128 random bits as text.
pub(crate) fn random() -> Result<String, DoorError> {
    Ok(format!("{:032x}", u128::from_be_bytes(fill()?)))
}

/// 256 random bits as text: the key of a phone.
pub(crate) fn long_key() -> Result<String, DoorError> {
    Ok(random()? + &random()?)
}

/// 40 random bits as 8 signs, for typing.
pub(super) fn short_code() -> Result<String, DoorError> {
    // 256 is eight times 32, so each sign is as likely as any other.
    Ok(fill::<8>()?.iter().map(|byte| LETTERS.get(usize::from(byte % 32)).map_or('0', |sign| char::from(*sign))).collect())
}

/// A code as somebody typed it: small letters, blanks and hyphens are taken; I and L are read as 1, O as 0.
pub(super) fn typed(text: &str) -> String {
    let plain = text.chars().filter(|c| !c.is_whitespace() && *c != '-').map(|c| match c.to_ascii_uppercase() {
        'I' | 'L' => '1',
        'O' => '0',
        other => other,
    });
    plain.take(64).collect()
}

/// A code in two groups, as it is read aloud.
pub(crate) fn spelled_out(code: &str) -> String {
    code.split_at_checked(4).map_or_else(|| code.to_owned(), |(front, back)| format!("{front} {back}"))
}

/// Compares without telling by time where two texts part.
pub(crate) fn same(a: &str, b: &str) -> bool {
    a.len() == b.len() && a.bytes().zip(b.bytes()).fold(0, |differs, (x, y)| differs | (x ^ y)) == 0
}

/// Values of all cookies of this name.
pub(crate) fn cookies<'a>(headers: &'a HeaderMap, wanted: &'a str) -> impl Iterator<Item = &'a str> {
    headers
        .get_all(header::COOKIE)
        .iter()
        .filter_map(|value| value.to_str().ok())
        .flat_map(|line| line.split(';'))
        .filter_map(|pair| pair.trim().split_once('='))
        .filter(move |(name, _)| *name == wanted)
        .map(|(_, value)| value)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_are_long_and_never_twice_the_same() {
        let (a, b) = (random().unwrap(), random().unwrap());
        assert_eq!(a.len(), 32);
        assert_ne!(a, b);
        assert!(same(&a, &a) && !same(&a, &b) && !same(&a, ""));
        assert_eq!(long_key().unwrap().len(), 64);
        assert_ne!(long_key().unwrap(), long_key().unwrap());
    }

    #[test]
    fn a_code_has_eight_signs_and_none_that_reads_like_another() {
        let many: String = (0..400).map(|_| short_code().unwrap()).collect();
        assert_eq!(many.len(), 3_200);
        assert!(!many.contains(['I', 'L', 'O', 'U']), "{many}");
        // A sign that is as likely as the others is missing among 3,200 in one run of 10^43: (31/32)^3200.
        for sign in LETTERS {
            assert!(many.contains(char::from(*sign)), "{}", char::from(*sign));
        }
    }

    #[test]
    fn a_code_is_taken_as_people_type_it() {
        assert_eq!(typed(" k7m2-0q1z "), "K7M20Q1Z");
        assert_eq!(typed("abcd EFGH"), "ABCDEFGH");
        assert_eq!(typed("oOiIlL"), "001111");
        assert_eq!(typed(&"x".repeat(5_000)).len(), 64);
        assert_eq!(spelled_out("ABCDEFGH"), "ABCD EFGH");
    }
}
