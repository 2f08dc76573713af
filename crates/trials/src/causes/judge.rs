//! Weighing the evidence.

use super::model::{Cause, CauseBook, Evidence, Factor, Origin, PairTest, Tap, is_binder_word};

/// A first cause is named only if it stands above the second by more than this. Model choice.
const CLEAR: f64 = 3.0;
/// Under so many answered taps no cause is named. Model choice.
const LEAST_TAPS: usize = 3;
/// Products of decimal factors miss exact ratios by rounding; so far apart counts as equal.
const ROUNDING: f64 = 1e-9;

/// Evidence that the book can't read.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum EvidenceError {
    /// There is no such tap.
    #[error("there is no question `{tap}`; the questions are {possible}")]
    UnknownTap {
        /// What was given.
        tap: String,
        /// What can be given.
        possible: String,
    },
    /// The tap has no such answer.
    #[error("`{answer}` does not answer the question `{tap}`; its answers are {possible}")]
    UnknownAnswer {
        /// The tap.
        tap: String,
        /// What was given.
        answer: String,
        /// What can be given.
        possible: String,
    },
    /// There is no such fact.
    #[error("there is no fact `{fact}`; the facts are {possible}")]
    UnknownFact {
        /// What was given.
        fact: String,
        /// What can be given.
        possible: String,
    },
    /// The chance of a fact lies outside 0 to 1.
    #[error("the chance of the fact `{fact}` must lie between 0 and 1, not {share}")]
    Share {
        /// The fact.
        fact: String,
        /// What was given.
        share: f64,
    },
    /// The words for how much binder there is exclude each other.
    #[error("the chances of the words for how much binder there is add to {sum}; together they are at most 1")]
    BinderWords {
        /// Their sum.
        sum: f64,
    },
}

/// One thing that moved a cause.
#[derive(Debug, Clone, PartialEq)]
pub struct Moved<'b> {
    /// The line of the book: what was seen or known, why it matters, and its source.
    pub row: &'b Factor,
    /// What the cause was multiplied by: the factor of the line, drawn towards 1 where the fact is in doubt. The three words for how
    /// much binder there is count as one line, that of the word which moved most.
    pub by: f64,
}

/// How well a cause fits what was seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fit {
    /// No cause fits better.
    Best,
    /// Fits within a factor three of the best.
    Too,
    /// Fits worse than that.
    Badly,
}

impl Fit {
    /// In the painter's words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Best => "fits best",
            Self::Too => "fits too",
            Self::Badly => "fits badly",
        }
    }
}

/// One cause under suspicion.
#[derive(Debug, Clone, PartialEq)]
pub struct Suspect<'b> {
    /// The cause.
    pub cause: &'b Cause,
    /// Its share of all causes, 0..1. For putting in order only: it is far too sure to be shown.
    pub share: f64,
    /// How it fits.
    pub fit: Fit,
    /// What made it more likely.
    pub speaks_for: Vec<Moved<'b>>,
    /// What made it less likely.
    pub speaks_against: Vec<Moved<'b>>,
}

/// What can be said.
#[derive(Debug, Clone, PartialEq)]
pub enum Verdict<'b> {
    /// One cause stands more than three times above the next.
    Told(&'b Cause),
    /// These fit within a factor three, best first.
    CannotTell(Vec<&'b Cause>),
    /// Too few taps to name anything; this one would part the leaders best.
    AskMore(&'b Tap),
}

/// What to do to know more.
#[derive(Debug, Clone, PartialEq)]
pub enum NextStep<'b> {
    /// The book has a test that parts the first two.
    Test(&'b PairTest),
    /// No test, but this tap would part them.
    Ask(&'b Tap),
    /// Neither: two boards, one with each mend.
    TwoBoards(String),
}

/// The causes in order, and what follows.
#[derive(Debug, Clone, PartialEq)]
pub struct Judgement<'b> {
    /// All causes, likeliest first; equal ones in the order of the book.
    pub suspects: Vec<Suspect<'b>>,
    /// What can be said.
    pub verdict: Verdict<'b>,
    /// How to part the first two. With a told cause: the test that would confirm it, if the book has one. `None` while more taps are asked.
    pub next: Option<NextStep<'b>>,
}

impl<'b> Judgement<'b> {
    /// Causes within a factor three of the first, likeliest first.
    pub fn leaders(&self) -> impl Iterator<Item = &Suspect<'b>> {
        self.suspects.iter().filter(|suspect| suspect.fit != Fit::Badly)
    }
    /// What to try first under each leader. Two causes at once are common, so a mend that costs little under all of them comes first.
    pub fn mends(&self) -> impl Iterator<Item = &'b str> {
        self.leaders().map(|suspect| suspect.cause.mend.as_str())
    }
}

/// A cause with its product of factors.
pub(super) struct Weighed<'b> {
    pub(super) cause: &'b Cause,
    pub(super) weight: f64,
    moved: Vec<Moved<'b>>,
}

impl CauseBook {
    /// Puts the causes in order and says what can be said.
    ///
    /// All causes start equal. Each is multiplied by the factor of every answered tap and every fact; what is not listed leaves it as
    /// it is. A fact that holds with chance s and has factor f counts s f + (1 - s). The first cause is named only if it stands *more* than
    /// three times above the second, and only from three taps on. Rule and sizes are a model choice; no collection of boards with known
    /// causes stands behind them.
    ///
    /// # Errors
    /// Evidence that the book doesn't know; the message lists what is possible.
    ///
    /// ```
    /// use trials::causes::{CauseBook, Evidence, Verdict};
    /// let book = CauseBook::builtin()?;
    /// let judgement = book.judge(&Evidence::default().tap("rubs", "yes"))?;
    /// assert!(matches!(judgement.verdict, Verdict::AskMore(_))); // one tap is too few
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn judge(&self, evidence: &Evidence) -> Result<Judgement<'_>, EvidenceError> {
        let ranked = self.weigh(evidence)?;
        let total: f64 = ranked.iter().map(|weighed| weighed.weight).sum();
        let first = ranked.first().map_or(0.0, |weighed| weighed.weight);
        let suspects: Vec<_> = ranked
            .into_iter()
            .map(|weighed| {
                let (speaks_for, speaks_against) = weighed.moved.into_iter().partition(|moved| moved.by > 1.0);
                let fit = fit(first, weighed.weight);
                Suspect { cause: weighed.cause, share: weighed.weight / total, fit, speaks_for, speaks_against }
            })
            .collect();
        let (verdict, next) = self.verdict(evidence, &suspects)?;
        Ok(Judgement { suspects, verdict, next })
    }

    fn verdict<'b>(&'b self, evidence: &Evidence, suspects: &[Suspect<'b>]) -> Result<(Verdict<'b>, Option<NextStep<'b>>), EvidenceError> {
        if evidence.taps.len() < LEAST_TAPS
            && let Some(tap) = self.next_tap(evidence)?
        {
            return Ok((Verdict::AskMore(tap), None));
        }
        let leaders: Vec<_> = suspects.iter().filter(|suspect| suspect.fit != Fit::Badly).map(|suspect| suspect.cause).collect();
        Ok(match leaders.as_slice() {
            [only] => {
                let second = suspects.get(1).map(|suspect| suspect.cause);
                let test = second.and_then(|second| self.test(&only.id, &second.id));
                (Verdict::Told(only), test.map(NextStep::Test))
            }
            [one, other, ..] => {
                let step = self.step(evidence, one, other);
                (Verdict::CannotTell(leaders), Some(step))
            }
            [] => (Verdict::CannotTell(leaders), None),
        })
    }

    fn step<'b>(&'b self, evidence: &Evidence, one: &'b Cause, other: &'b Cause) -> NextStep<'b> {
        if let Some(test) = self.test(&one.id, &other.id) {
            return NextStep::Test(test);
        }
        let even = [(&one.id, 1.0), (&other.id, 1.0)];
        if let Some((tap, gain)) = self.by_telling(evidence, &even).into_iter().next()
            && gain > ROUNDING
        {
            return NextStep::Ask(tap);
        }
        // Mends are sentences of their own; here they stand inside one.
        let mend = |cause: &'b Cause| cause.mend.trim_end_matches('.');
        NextStep::TwoBoards(format!(
            "Lay two small boards on the same day. On the first, mend only \u{201c}{}\u{201d}: {}. On the second, mend only \
             \u{201c}{}\u{201d}: {}. The board that stays sound shows which one it was; if both stay sound, it was something else that day.",
            one.name,
            mend(one),
            other.name,
            mend(other)
        ))
    }

    /// Every cause with its product, largest first.
    pub(super) fn weigh(&self, evidence: &Evidence) -> Result<Vec<Weighed<'_>>, EvidenceError> {
        self.check(evidence)?;
        let mut ranked: Vec<_> = self.causes.iter().map(|cause| self.weigh_one(cause, evidence)).collect();
        // Products that differ by rounding alone count as equal, and a stable sort leaves those in the order of the book.
        let rung = |weighed: &Weighed<'_>| (weighed.weight.ln() / ROUNDING).round();
        ranked.sort_by(|a, b| rung(b).total_cmp(&rung(a)));
        Ok(ranked)
    }

    fn weigh_one<'b>(&'b self, cause: &'b Cause, evidence: &Evidence) -> Weighed<'b> {
        let mut moved = Vec::new();
        let mut words: Vec<Moved<'b>> = Vec::new();
        for row in self.factors.iter().filter(|row| row.cause == cause.id) {
            match &row.origin {
                Origin::Tap(key, answer) => {
                    if evidence.taps.get(key) == Some(answer) {
                        moved.push(Moved { row, by: row.factor });
                    }
                }
                Origin::Fact(key) => {
                    let share = evidence.facts.get(key).copied().unwrap_or(0.0);
                    let by = share * row.factor + (1.0 - share);
                    if is_binder_word(key) {
                        words.push(Moved { row, by });
                    } else {
                        moved.push(Moved { row, by });
                    }
                }
            }
        }
        // Exactly one of the words holds, so their expected factor is a sum, not a product: 1 + sum of s (f - 1).
        let together = 1.0 + words.iter().map(|word| word.by - 1.0).sum::<f64>();
        if let Some(word) = words.into_iter().max_by(|a, b| (a.by - 1.0).abs().total_cmp(&(b.by - 1.0).abs())) {
            moved.push(Moved { row: word.row, by: together });
        }
        moved.retain(|moved| (moved.by - 1.0).abs() > ROUNDING);
        Weighed { cause, weight: moved.iter().map(|moved| moved.by).product(), moved }
    }

    fn check(&self, evidence: &Evidence) -> Result<(), EvidenceError> {
        let listed = |words: Vec<&str>| words.join(", ");
        for (key, answer) in &evidence.taps {
            let Some(tap) = self.tap(key) else {
                let possible = listed(self.taps.iter().map(|tap| tap.key.as_str()).collect());
                return Err(EvidenceError::UnknownTap { tap: key.as_str().to_owned(), possible });
            };
            if !tap.answers.contains(answer) {
                let possible = tap.answers.iter().map(|answer| format!("`{answer}`")).collect::<Vec<_>>().join(", ");
                return Err(EvidenceError::UnknownAnswer { tap: key.as_str().to_owned(), answer: answer.clone(), possible });
            }
        }
        let mut words = 0.0;
        for (key, share) in &evidence.facts {
            if self.fact(key).is_none() {
                let possible = listed(self.facts.iter().map(|fact| fact.key.as_str()).collect());
                return Err(EvidenceError::UnknownFact { fact: key.as_str().to_owned(), possible });
            }
            if !(0.0..=1.0).contains(share) {
                return Err(EvidenceError::Share { fact: key.as_str().to_owned(), share: *share });
            }
            words += if is_binder_word(key) { *share } else { 0.0 };
        }
        if words > 1.0 + ROUNDING {
            return Err(EvidenceError::BinderWords { sum: words });
        }
        Ok(())
    }
}

/// A ratio of exactly three still counts as "fits too".
pub(super) fn fit(first: f64, weight: f64) -> Fit {
    let slack = 1.0 + ROUNDING;
    if weight * slack >= first {
        Fit::Best
    } else if weight * CLEAR * slack >= first {
        Fit::Too
    } else {
        Fit::Badly
    }
}
