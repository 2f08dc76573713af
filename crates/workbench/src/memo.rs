//! Sentences that were worked out already. A page of a trial asks for the same few pots each time it is shown, and each sentence takes
//! two thousand draws; the same request always gets the same sentence, so nothing changes by remembering it.

use std::collections::HashMap;
use std::sync::{Mutex, PoisonError};

use crate::VerdictRequest;

/// Sentences that are remembered; more than a studio's trials ask for in a sitting.
const MOST: usize = 500;

/// Sentences by request.
#[derive(Debug, Default)]
pub(crate) struct Memo(Mutex<HashMap<String, String>>);

impl Memo {
    /// The sentence for a request; worked out if it was not asked for before.
    pub(crate) fn sentence(&self, request: &VerdictRequest, work: impl FnOnce() -> String) -> String {
        // All that a verdict depends on, each number to its last digit; short, whatever was told.
        let key = notebook::name_of(format!("{request:?}").as_bytes());
        let known = self.0.lock().unwrap_or_else(PoisonError::into_inner).get(&key).cloned();
        if let Some(known) = known {
            return known;
        }
        // Not under the lock: others need not wait for a long sum.
        let sentence = work();
        let mut known = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if known.len() >= MOST {
            known.clear();
        }
        known.insert(key, sentence.clone());
        sentence
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_very_same_request_is_remembered() {
        let memo = Memo::default();
        let told = |text: &str| VerdictRequest { told: text.into(), ..VerdictRequest::default() };
        assert_eq!(memo.sentence(&told("chalk"), || "first".into()), "first");
        assert_eq!(memo.sentence(&told("chalk"), || "second".into()), "first");
        assert_eq!(memo.sentence(&told("chalk "), || "third".into()), "third");
        let wet = VerdictRequest { wet_um: Some(100.0), ..told("chalk") };
        assert_eq!(memo.sentence(&wet, || "fourth".into()), "fourth");
        for number in 0..MOST {
            memo.sentence(&told(&number.to_string()), String::new);
        }
        assert_eq!(memo.sentence(&told("chalk"), || "fifth".into()), "fifth", "it does not grow for ever");
    }
}
