//! What the book of causes holds, and what a painter puts against it.

use std::collections::BTreeMap;
use std::sync::Arc;

macro_rules! key {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(Arc<str>);

        impl $name {
            /// From its short name; whether the book holds it is another matter.
            pub fn new(name: &str) -> Self {
                Self(Arc::from(name))
            }
            /// The short name.
            pub fn as_str(&self) -> &str {
                &self.0
            }
        }
    };
}

key!(
    /// Short name of a cause, such as `C01`.
    CauseId
);
key!(
    /// Short name of a question to the painter, such as `looks`.
    TapKey
);
key!(
    /// Short name of something that recipe or support tell without asking, such as `solid-wood`.
    FactKey
);

/// One way in which a board fails.
#[derive(Debug, Clone, PartialEq)]
pub struct Cause {
    /// Short name.
    pub id: CauseId,
    /// The painter's words for it.
    pub name: String,
    /// What is usually seen.
    pub sight: String,
    /// What to try first.
    pub mend: String,
}

/// One question with its answers.
#[derive(Debug, Clone, PartialEq)]
pub struct Tap {
    /// Short name.
    pub key: TapKey,
    /// The question.
    pub ask: String,
    /// All answers that can be tapped.
    pub answers: Vec<String>,
}

/// Something that the recipe or the support tells.
#[derive(Debug, Clone, PartialEq)]
pub struct Fact {
    /// Short name.
    pub key: FactKey,
    /// In plain words.
    pub plain: String,
}

impl Fact {
    /// Whether this is one of the words for how much binder there is. A ground has exactly one of them, so their shares are weighed
    /// together.
    pub fn is_binder_word(&self) -> bool {
        is_binder_word(&self.key)
    }
}

/// Start of the short name of facts that say how much binder there is.
const BINDER_WORD: &str = "word-";

pub(super) fn is_binder_word(key: &FactKey) -> bool {
    key.as_str().starts_with(BINDER_WORD)
}

/// Where a factor comes from: what the painter tapped, or what recipe and support say.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Origin {
    /// This answer to this tap.
    Tap(TapKey, String),
    /// This fact.
    Fact(FactKey),
}

/// How much more (above 1) or less (below 1) likely something is when this cause is at work, against an average cause.
#[derive(Debug, Clone, PartialEq)]
pub struct Factor {
    /// The cause.
    pub cause: CauseId,
    /// What was seen or known.
    pub origin: Origin,
    /// 0 and above; 0 means that the cause can't be.
    pub factor: f64,
    /// Why, in plain words.
    pub reason: String,
    /// Where the factor comes from.
    pub source: String,
}

/// The test that parts two causes which the taps part badly.
#[derive(Debug, Clone, PartialEq)]
pub struct PairTest {
    /// One cause.
    pub one: CauseId,
    /// The other.
    pub other: CauseId,
    /// What to do and how to read it.
    pub text: String,
    /// Where it comes from.
    pub source: String,
}

/// What is known about a failed board. Anything may be missing.
///
/// ```
/// use trials::causes::Evidence;
/// let seen = Evidence::default().tap("rubs", "yes").fact("solid-wood", 1.0);
/// assert_eq!((seen.taps.len(), seen.facts.len()), (1, 1));
/// ```
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Evidence {
    /// The answer to each tap that was not skipped.
    pub taps: BTreeMap<TapKey, String>,
    /// Facts, each with the chance 0..1 that it holds: the share of draws in which a word came out, or 1 where it is certain.
    pub facts: BTreeMap<FactKey, f64>,
}

impl Evidence {
    /// Adds or replaces the answer to a tap.
    #[must_use]
    pub fn tap(mut self, key: &str, answer: &str) -> Self {
        self.taps.insert(TapKey::new(key), answer.to_owned());
        self
    }
    /// Adds or replaces a fact with the chance 0..1 that it holds.
    #[must_use]
    pub fn fact(mut self, key: &str, share: f64) -> Self {
        self.facts.insert(FactKey::new(key), share);
        self
    }
}

/// Causes, taps, facts and how they bear on each other.
#[derive(Debug, Clone)]
pub struct CauseBook {
    pub(super) causes: Vec<Cause>,
    pub(super) taps: Vec<Tap>,
    pub(super) facts: Vec<Fact>,
    pub(super) factors: Vec<Factor>,
    pub(super) tests: Vec<PairTest>,
}

impl CauseBook {
    /// All causes, in the order of the file.
    pub fn causes(&self) -> &[Cause] {
        &self.causes
    }
    /// All taps, in the order in which they are usually asked.
    pub fn taps(&self) -> &[Tap] {
        &self.taps
    }
    /// All facts.
    pub fn facts(&self) -> &[Fact] {
        &self.facts
    }
    /// All factors; what is not listed counts 1.
    pub fn factors(&self) -> &[Factor] {
        &self.factors
    }
    /// All tests for pairs of causes.
    pub fn tests(&self) -> &[PairTest] {
        &self.tests
    }
    /// A cause by its short name.
    pub fn cause(&self, id: &CauseId) -> Option<&Cause> {
        self.causes.iter().find(|cause| cause.id == *id)
    }
    /// A tap by its short name.
    pub fn tap(&self, key: &TapKey) -> Option<&Tap> {
        self.taps.iter().find(|tap| tap.key == *key)
    }
    /// A fact by its short name.
    pub fn fact(&self, key: &FactKey) -> Option<&Fact> {
        self.facts.iter().find(|fact| fact.key == *key)
    }
    /// The test that parts these two, whichever comes first.
    pub fn test(&self, a: &CauseId, b: &CauseId) -> Option<&PairTest> {
        self.tests.iter().find(|test| (test.one == *a && test.other == *b) || (test.one == *b && test.other == *a))
    }
}
