//! What was worked out already. A page of a trial asks for the same few pots each time it is shown, and each sentence or drying time
//! takes hundreds of draws; the same request always gets the same answer, so nothing changes by remembering it.

use std::collections::HashMap;
use std::fmt::Debug;
use std::sync::{Mutex, PoisonError};

/// Answers that are remembered; more than a studio's trials ask for in a sitting.
const MOST: usize = 500;

/// Answers by request.
#[derive(Debug)]
pub(crate) struct Memo<T> {
    known: Mutex<HashMap<String, T>>,
    most: usize,
}

impl<T> Default for Memo<T> {
    fn default() -> Self {
        Self::of(MOST)
    }
}

impl<T> Memo<T> {
    /// One that remembers so many answers, for large ones.
    pub(crate) fn of(most: usize) -> Self {
        Self { known: Mutex::default(), most }
    }
}

impl<T: Clone> Memo<T> {
    /// The answer to a request; worked out if it was not asked for before.
    pub(crate) fn answer(&self, request: &impl Debug, work: impl FnOnce() -> T) -> T {
        // All that the answer depends on, each number to its last digit; short, whatever was told.
        let key = notebook::name_of(format!("{request:?}").as_bytes());
        let known = self.known.lock().unwrap_or_else(PoisonError::into_inner).get(&key).cloned();
        if let Some(known) = known {
            return known;
        }
        // Not under the lock: others need not wait for a long sum.
        let answer = work();
        let mut known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        if known.len() >= self.most {
            known.clear();
        }
        known.insert(key, answer.clone());
        answer
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::VerdictRequest;

    #[test]
    fn only_the_very_same_request_is_remembered() {
        let memo = Memo::<String>::default();
        let told = |text: &str| VerdictRequest { told: text.into(), ..VerdictRequest::default() };
        assert_eq!(memo.answer(&told("chalk"), || "first".into()), "first");
        assert_eq!(memo.answer(&told("chalk"), || "second".into()), "first");
        assert_eq!(memo.answer(&told("chalk "), || "third".into()), "third");
        let wet = VerdictRequest { wet_um: Some(100.0), ..told("chalk") };
        assert_eq!(memo.answer(&wet, || "fourth".into()), "fourth");
        for number in 0..MOST {
            memo.answer(&told(&number.to_string()), String::new);
        }
        assert_eq!(memo.answer(&told("chalk"), || "fifth".into()), "fifth", "it does not grow for ever");
    }
}
