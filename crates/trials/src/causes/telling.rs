//! Which tap would tell most.

use super::judge::{EvidenceError, Fit, fit};
use super::model::{CauseBook, CauseId, Evidence, Origin, Tap};

impl CauseBook {
    /// The taps that were not answered, the most telling first.
    ///
    /// Telling means: how far the answer is expected to narrow down the causes that lead now (all causes, if one leads alone). A
    /// factor says how an answer compares with an average cause, not how often it comes; so for each cause the factors of a tap's
    /// answers, divided by their sum, stand in for the chances of the answers. Each answer is weighed by its chance under the mixture
    /// of the leaders, and what is measured is the expected fall of the entropy of their shares. Model choice.
    ///
    /// # Errors
    /// Evidence that the book doesn't know; the message lists what is possible.
    pub fn next_taps(&self, evidence: &Evidence) -> Result<Vec<&Tap>, EvidenceError> {
        let ranked = self.weigh(evidence)?;
        let first = ranked.first().map_or(0.0, |weighed| weighed.weight);
        let mut leaders: Vec<_> = ranked.iter().map(|weighed| (&weighed.cause.id, weighed.weight)).collect();
        let leading = leaders.iter().filter(|(_, weight)| fit(first, *weight) != Fit::Badly).count();
        if leading > 1 {
            leaders.truncate(leading);
        }
        Ok(self.by_telling(evidence, &leaders).into_iter().map(|(tap, _)| tap).collect())
    }

    /// The most telling tap that was not answered; `None` if all were.
    ///
    /// # Errors
    /// Evidence that the book doesn't know; the message lists what is possible.
    ///
    /// ```
    /// use trials::causes::{CauseBook, Evidence};
    /// let book = CauseBook::builtin()?;
    /// let first = book.next_tap(&Evidence::default())?;
    /// assert!(first.is_some());
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn next_tap(&self, evidence: &Evidence) -> Result<Option<&Tap>, EvidenceError> {
        Ok(self.next_taps(evidence)?.into_iter().next())
    }

    /// Unanswered taps with the expected fall of entropy (natural units) among weighted causes, largest first.
    pub(super) fn by_telling(&self, evidence: &Evidence, causes: &[(&CauseId, f64)]) -> Vec<(&Tap, f64)> {
        let open = self.taps.iter().filter(|tap| !evidence.taps.contains_key(&tap.key));
        let mut gains: Vec<_> = open.map(|tap| (tap, self.expected_gain(tap, causes))).collect();
        gains.sort_by(|a, b| b.1.total_cmp(&a.1));
        gains
    }

    fn expected_gain(&self, tap: &Tap, causes: &[(&CauseId, f64)]) -> f64 {
        let total: f64 = causes.iter().map(|(_, weight)| weight).sum();
        let chances: Vec<(f64, Vec<f64>)> = causes.iter().map(|(cause, weight)| (weight / total, self.chances(tap, cause))).collect();
        let mut gain = 0.0;
        for number in 0..tap.answers.len() {
            let joint = || chances.iter().filter_map(move |(share, of_answers)| of_answers.get(number).map(|chance| (share, chance)));
            let mixed: f64 = joint().map(|(share, chance)| share * chance).sum();
            gain += joint().filter(|(share, _)| **share > 0.0).map(|(share, chance)| share * chance * (chance / mixed).ln()).sum::<f64>();
        }
        gain
    }

    /// Stand-in chances of the answers under one cause, in the order of the tap's answers; they add to one.
    fn chances(&self, tap: &Tap, cause: &CauseId) -> Vec<f64> {
        let factor = |answer: &String| {
            let listed = self
                .factors
                .iter()
                .find(|row| row.cause == *cause && matches!(&row.origin, Origin::Tap(key, known) if *key == tap.key && known == answer));
            listed.map_or(1.0, |row| row.factor)
        };
        let factors: Vec<f64> = tap.answers.iter().map(factor).collect();
        let sum: f64 = factors.iter().sum();
        factors.into_iter().map(|factor| factor / sum).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Invented: what wetted the boards on the lighthouse gallery?
    fn gallery() -> CauseBook {
        let names = "cause_id,name,sight,mend\nA,rain,drops,a roof\nB,spray,salt,a wall\n";
        let taps = "tap,ask,answers\nsmell,What was the smell?,none|some\nsky,What was above?,clouds|stars\n";
        let facts = "fact,plain\nindoors,kept indoors\n";
        let causes = "kind,cause_id,other_id,tap,answer,factor,reason,source\n\
            lr,A,,sky,clouds,3,rain needs clouds,invented\nlr,B,,sky,clouds,0.3,spray does not,invented\n";
        CauseBook::parse(names, taps, facts, causes).unwrap()
    }

    #[test]
    fn the_tap_that_parts_the_causes_comes_first() {
        // By hand: chances of clouds 3/4 and 0.3/1.3 = 0.2308, mixed 0.4904. Gain = half of (0.75 ln 1.5294 + 0.25 ln 0.4906) and half
        // of (0.2308 ln 0.4706 + 0.7692 ln 1.5094) = (0.1406 + 0.1428) / 2 = 0.1417. Nothing is known of the smell: 0.
        let book = gallery();
        let (a, b) = (CauseId::new("A"), CauseId::new("B"));
        let gains = book.by_telling(&Evidence::default(), &[(&a, 2.0), (&b, 2.0)]);
        let found: Vec<_> = gains.iter().map(|(tap, gain)| (tap.key.as_str(), *gain)).collect();
        assert_eq!((found[0].0, found[1].0), ("sky", "smell"));
        assert!((found[0].1 - 0.1417).abs() < 5e-4 && found[1].1.abs() < 1e-12, "{found:?}");
        let first = book.next_tap(&Evidence::default()).unwrap().unwrap();
        assert_eq!(first.key.as_str(), "sky");
    }

    #[test]
    fn heat_parts_a_fast_drying_from_a_thick_coat() {
        // The table: heat 10 and no heat 0.1 for C04, nothing for C03; where it broke is 3 in the coat for both.
        let book = CauseBook::builtin().unwrap();
        let (thick, fast) = (CauseId::new("C03"), CauseId::new("C04"));
        let lone = Evidence::default().tap("when", "while drying").tap("looks", "network of cracks").tap("boards", "some, no control");
        let open = lone.tap("where", "patches").tap("rubs", "no").tap("pot", "smooth");
        let gains = book.by_telling(&open, &[(&thick, 1.0), (&fast, 1.0)]);
        assert_eq!(gains.iter().map(|(tap, _)| tap.key.as_str()).collect::<Vec<_>>(), ["heat", "broke"]);
    }

    #[test]
    fn without_a_test_or_a_telling_tap_two_boards_are_laid() {
        use crate::causes::{NextStep, Verdict};
        let book = gallery();
        // Both taps answered; stars move neither cause, so both fit alike. Three taps are not to be had, so the rule goes on.
        let judgement = book.judge(&Evidence::default().tap("sky", "stars").tap("smell", "none")).unwrap();
        assert!(matches!(&judgement.verdict, Verdict::CannotTell(causes) if causes.len() == 2));
        let Some(NextStep::TwoBoards(text)) = judgement.next else { panic!("{:?}", judgement.next) };
        assert!(text.contains("a roof") && text.contains("a wall"), "{text}");
    }
}
