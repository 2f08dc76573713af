//! A board failed: causes in order, with what speaks for and against them, and the one test that would tell.

use std::collections::{BTreeMap, BTreeSet};

use ground::Word;
use materials::{BinderKind, Kind};
use measure::{Input, Micrometres};
use show::{CauseView, CausesReport, CausesView, MovedView, TapView, WarningReport, plain};
use trials::causes::{Evidence, EvidenceError, FactKey, Judgement, NextStep, Origin, TapKey, Verdict};

use crate::verdict::{COATS, Standing, TextError, VerdictRequest, Worked, caution, has_plaster};
use crate::{VERSION, Workbench};

/// Wet coats above and below these thicknesses count as thick and thin (judgement, no source), micrometres.
const THICK: f64 = 200.0;
const THIN: f64 = 100.0;

/// What is known of a board that failed. Everything may be missing.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct FailedRequest {
    /// The recipe as told, if there is one.
    pub told: String,
    /// Answers to the recipe's questions.
    pub choices: BTreeMap<String, String>,
    /// Dry thickness in all, micrometres.
    pub dry_um: Option<f64>,
    /// In how many coats.
    pub coats: Option<u32>,
    /// Short name of the support.
    pub support: Option<String>,
    /// Answers tapped: tap to answer.
    pub taps: BTreeMap<String, String>,
    /// Facts known besides, by short name.
    pub facts: BTreeSet<String>,
    /// Values that the painter measured, in place of printed ones.
    pub own: Vec<Input>,
}

/// Something in the request that can't be.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum TapError {
    /// An answer, tap or fact that does not exist; the message lists what does.
    #[error(transparent)]
    Evidence(#[from] EvidenceError),
    /// A support that is not in the list.
    #[error("there is no support `{0}`; choose one of {1}")]
    Support(String, String),
    /// A thickness that no ground has.
    #[error("a dry ground of {0} um is outside 1 to 20000 um; a postcard is about 250 um thick")]
    Thickness(String),
    /// The recipe can't be read.
    #[error(transparent)]
    Text(#[from] TextError),
}

impl Workbench {
    /// Causes of a failure.
    ///
    /// # Errors
    /// Names that don't exist, a thickness that can't be, or text too long.
    pub fn failed(&self, request: &FailedRequest) -> Result<CausesView, TapError> {
        let worked = if request.told.trim().is_empty() {
            None
        } else {
            Some(self.work(&VerdictRequest {
                told: request.told.clone(),
                choices: request.choices.clone(),
                own: request.own.clone(),
                ..VerdictRequest::default()
            })?)
        };
        let mut warnings = Vec::new();
        let evidence = self.evidence(request, worked.as_ref(), &mut warnings)?;
        let judgement = self.causes.judge(&evidence)?;
        let next_tap = self.causes.next_tap(&evidence)?;
        let facts = evidence.facts.keys().filter_map(|key| self.causes.fact(key)).map(|fact| fact.plain.clone()).collect();
        let cautions =
            worked.as_ref().map_or_else(Vec::new, |worked| self.mind(worked).iter().filter(|c| c.of_this_recipe).map(caution).collect());
        let taps = self
            .causes
            .taps()
            .iter()
            .map(|tap| TapView {
                key: tap.key.as_str().to_owned(),
                ask: tap.ask.clone(),
                answers: tap.answers.clone(),
                given: evidence.taps.get(&tap.key).cloned(),
                next: next_tap.is_some_and(|next| next.key == tap.key),
            })
            .collect();
        let report = CausesReport {
            is: "groundproof why 1",
            version: VERSION,
            warnings,
            verdict: match judgement.verdict {
                Verdict::Told(_) => "told",
                Verdict::CannotTell(_) => "cannot tell",
                Verdict::AskMore(_) => "ask more",
            },
            leaders: match &judgement.verdict {
                Verdict::AskMore(_) => Vec::new(),
                _ => judgement.leaders().map(|suspect| suspect.cause.id.as_str().to_owned()).collect(),
            },
            test: next_words(&judgement),
            next_tap: next_tap.map(|tap| tap.key.as_str().to_owned()),
            causes: self.suspects(&judgement),
            cautions,
        };
        let (sentence, more) = sentence(&judgement);
        Ok(CausesView {
            sentence,
            more,
            next: next_sentence(&judgement, next_tap.map(|tap| tap.ask.as_str())),
            mend: mend(&judgement),
            taps,
            facts,
            report,
        })
    }

    /// All causes in the book: name, typical sight, first mend.
    pub fn book_of_causes(&self) -> Vec<[String; 3]> {
        self.causes.causes().iter().map(|cause| [cause.name.clone(), cause.sight.clone(), cause.mend.clone()]).collect()
    }

    /// Supports that can be named: short name and words.
    pub fn supports(&self) -> Vec<(String, String)> {
        self.shelf.supports().iter().map(|support| (support.id.clone(), support.name.clone())).collect()
    }

    /// Facts that only the painter can know, for tick boxes: short name and words.
    pub fn asked_facts(&self) -> Vec<(String, String)> {
        ["sized", "unsized", "not-sanded", "later-coats-stronger", "pot-past-time", "gas-or-blender"]
            .into_iter()
            .filter_map(|key| self.causes.fact(&FactKey::new(key)))
            .map(|fact| (fact.key.as_str().to_owned(), fact.plain.clone()))
            .collect()
    }

    fn evidence(&self, request: &FailedRequest, worked: Option<&Worked>, warnings: &mut Vec<WarningReport>) -> Result<Evidence, TapError> {
        let mut evidence = Evidence::default();
        for (tap, answer) in request.taps.iter().filter(|(_, answer)| !answer.is_empty()) {
            evidence.taps.insert(TapKey::new(tap), answer.clone());
        }
        if let Some(id) = request.support.as_deref().filter(|id| !id.is_empty()) {
            let Some(support) = self.shelf.support(id) else {
                let possible = self.shelf.supports().iter().map(|s| s.id.as_str()).collect::<Vec<_>>().join(", ");
                return Err(TapError::Support(id.to_owned(), possible));
            };
            for fact in &support.facts {
                evidence.facts.insert(FactKey::new(fact), 1.0);
            }
        }
        if let Some(worked) = worked {
            self.recipe_facts(worked, &mut evidence);
        }
        thickness_facts(request, worked, &mut evidence, warnings)?;
        for fact in &request.facts {
            evidence.facts.insert(FactKey::new(fact), 1.0);
        }
        Ok(evidence)
    }

    /// What the pot says without asking.
    fn recipe_facts(&self, worked: &Worked, evidence: &mut Evidence) {
        let mut fact = |key: &str, share: f64| {
            if share > 0.0 {
                evidence.facts.insert(FactKey::new(key), share);
            }
        };
        let materials: Vec<_> =
            worked.reading.lines.iter().filter_map(|line| line.material.first()).filter_map(|id| self.jars.material(id)).collect();
        if materials.is_empty() {
            return;
        }
        if let Standing::Word(words) = &worked.standing {
            for (key, word) in [("word-rich", Word::Rich), ("word-usual", Word::Usual), ("word-lean", Word::Lean)] {
                fact(key, words.share_of(word));
            }
        }
        let has = |list: &[&str]| materials.iter().any(|m| list.contains(&m.id.as_str()));
        let casein = materials.iter().any(|m| matches!(m.family, materials::Family::Casein | materials::Family::LimeCasein));
        let plaster = has_plaster(worked);
        // A recipe without a binder may have left out the casein: silence is no evidence.
        let binder_named = materials.iter().any(|m| matches!(m.kind, Kind::Binder | Kind::Milk | Kind::Oil | Kind::Primer));
        if binder_named && !casein {
            fact("no-casein", 1.0);
            fact("no-milk-casein", 1.0);
        }
        fact(if plaster { "plaster-in-pot" } else { "no-plaster" }, 1.0);
        if has(&["whole-milk", "part-skim-milk"]) {
            fact("fatty-milk", 1.0);
        }
        let soft =
            matches!(worked.mix.binder_kind(self.jars), Some(BinderKind::SodaCasein | BinderKind::BoraxCasein | BinderKind::AmmoniaCasein));
        let calcium = has(&["gypsum", "plaster-of-paris", "anhydrite"]);
        if soft && calcium {
            fact("soft-casein-on-calcium", 1.0);
        }
        let sodium =
            has(&["baking-soda", "washing-soda", "soda-ash", "borax", "borax-pentahydrate", "borax-anhydrous", "sodium-hydroxide"]);
        if sodium && (calcium || !self.bases_in_excess(worked).is_empty()) {
            fact("salt-excess", 1.0);
        } else if binder_named && !materials.iter().any(|m| matches!(m.kind, Kind::Alkali | Kind::Additive)) {
            fact("no-soluble-salt", 1.0);
        }
        let chalk = has(&["natural-chalk", "precipitated-chalk", "marble-dust"]);
        if chalk && (has(&["baking-soda"]) || worked.mix.curdled) {
            fact("gas-or-blender", 1.0);
        }
    }

    fn suspects(&self, judgement: &Judgement<'_>) -> Vec<CauseView> {
        let moved = |moved: &trials::causes::Moved<'_>| {
            let ask = match &moved.row.origin {
                Origin::Tap(tap, _) => self.causes.tap(tap).map_or_else(String::new, |tap| tap.ask.clone()),
                Origin::Fact(_) => String::new(),
            };
            let (tap, answer) = match &moved.row.origin {
                Origin::Tap(tap, answer) => (tap.as_str().to_owned(), answer.clone()),
                Origin::Fact(fact) => ("fact".to_owned(), self.causes.fact(fact).map_or_else(String::new, |fact| fact.plain.clone())),
            };
            MovedView { tap, ask, answer, factor: moved.by, reason: moved.row.reason.clone(), source: moved.row.source.clone() }
        };
        judgement
            .suspects
            .iter()
            .filter(|suspect| suspect.share > 0.0)
            .map(|suspect| CauseView {
                id: suspect.cause.id.as_str().to_owned(),
                name: suspect.cause.name.clone(),
                share: suspect.share,
                fit: if matches!(judgement.verdict, Verdict::AskMore(_)) { "not judged yet" } else { suspect.fit.words() },
                sight: suspect.cause.sight.clone(),
                mend: suspect.cause.mend.clone(),
                moved: suspect.speaks_for.iter().chain(&suspect.speaks_against).map(moved).collect(),
            })
            .collect()
    }
}

/// Thick or thin coats, from the dry thickness, the coats and (better) the recipe.
fn thickness_facts(
    request: &FailedRequest,
    worked: Option<&Worked>,
    evidence: &mut Evidence,
    warnings: &mut Vec<WarningReport>,
) -> Result<(), TapError> {
    if request.coats.is_some_and(|coats| !COATS.contains(&coats)) {
        return Err(TapError::Text(TextError::Coats));
    }
    let coats = request.coats.or(worked.filter(|worked| worked.coats > 1).map(|worked| worked.coats));
    if coats == Some(1) {
        evidence.facts.insert(FactKey::new("one-coat-only"), 1.0);
    }
    let Some(dry) = request.dry_um else { return Ok(()) };
    if !(1.0..=20_000.0).contains(&dry) {
        return Err(TapError::Thickness(plain(dry)));
    }
    let mut say = |text: &str| warnings.push(WarningReport { id: "thickness".into(), text: text.into(), at: "dry".into() });
    let film = worked.filter(|worked| worked.water_known).and_then(|worked| worked.ranges.as_ref().ok()).map(|ranges| ranges.best);
    let Some(coats) = coats else {
        say("The thickness says little without the number of coats: say in how many coats it was laid.");
        return Ok(());
    };
    let each = dry / f64::from(coats.max(1));
    // Dry is never thicker than wet: a dry coat over the limit was over it when wet, whatever the recipe.
    let wet = film.map(|film| film.wet(Micrometres::new(each)).value());
    if wet.unwrap_or(each) > THICK {
        evidence.facts.insert(FactKey::new("wet-coat-thick"), 1.0);
    } else if wet.is_some_and(|wet| wet < THIN) {
        evidence.facts.insert(FactKey::new("wet-coats-thin"), 1.0);
    } else if wet.is_none() {
        say("Without the recipe and its water, how thick the wet coats were can't be worked out.");
    }
    Ok(())
}

/// So many causes are named in a sentence; more would be no answer.
const SHOWN: usize = 3;

fn sentence(judgement: &Judgement<'_>) -> (String, String) {
    match &judgement.verdict {
        Verdict::Told(cause) => (
            format!("What fits best: {}.", cause.name),
            format!("Typical sight: {}. Nothing here is a finding: that needs boards beside a control.", trimmed(&cause.sight)),
        ),
        Verdict::CannotTell(leaders) => {
            let names: Vec<&str> = leaders.iter().take(SHOWN).map(|cause| cause.name.as_str()).collect();
            let rest = leaders.len().saturating_sub(SHOWN);
            let said = match names.as_slice() {
                all if rest > 0 => format!("{}, or one of {rest} more", all.join(", ")),
                [all @ .., last] if !all.is_empty() => format!("{} or {last}", all.join(", ")),
                all => all.join(""),
            };
            let more = if rest > 0 {
                "Many causes still fit nearly alike; another tap parts more than any test."
            } else {
                "These fit nearly alike, and two causes at work together are common. One test would part them."
            };
            (format!("It can't be told: {said}."), more.into())
        }
        Verdict::AskMore(_) => {
            ("Too little is known to name anything yet.".into(), "Three taps at least; every tap may be skipped.".into())
        }
    }
}

fn next_sentence(judgement: &Judgement<'_>, next_tap: Option<&str>) -> String {
    match &judgement.verdict {
        Verdict::AskMore(tap) => format!("Tap this next: {}", tap.ask),
        // A test parts two causes; while many fit, the next tap tells more.
        Verdict::CannotTell(leaders) if leaders.len() > SHOWN && next_tap.is_some() => {
            format!("This tap would tell most: {}", next_tap.unwrap_or(""))
        }
        _ => next_words(judgement).unwrap_or_else(|| next_tap.map_or_else(String::new, |ask| format!("This tap would tell most: {ask}"))),
    }
}

fn next_words(judgement: &Judgement<'_>) -> Option<String> {
    match &judgement.next {
        Some(NextStep::Test(test)) => Some(test.text.clone()),
        Some(NextStep::TwoBoards(text)) => Some(text.clone()),
        Some(NextStep::Ask(tap)) => Some(format!("This tap would tell most: {}", tap.ask)),
        None => None,
    }
}

fn mend(judgement: &Judgement<'_>) -> String {
    if matches!(judgement.verdict, Verdict::AskMore(_)) {
        return String::new();
    }
    let mut mends: Vec<String> = judgement.mends().take(SHOWN).map(|mend| trimmed(mend).to_owned()).collect();
    mends.dedup();
    match mends.as_slice() {
        [one] => format!("Try first: {one}."),
        many => format!("Mends to try, one at a time: {}.", many.join("; ")),
    }
}

fn trimmed(text: &str) -> &str {
    text.trim_end_matches('.')
}
