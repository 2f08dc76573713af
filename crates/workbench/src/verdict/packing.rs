//! Two things about a pot that no amount tells: whether curd was strained until no grain was left, and whether powder lies in lumps.

use std::collections::BTreeMap;

use ground::Mix;
use materials::{Choice, Question, QuestionId, Reading, Span};
use measure::Input;

use crate::Workbench;

const CURD: &str = "curd:grains";
const LUMPS: &str = "pot:lumps";

impl Workbench {
    /// A reading as a pot: the painter's own values in place of printed ones, and what was answered about grains and lumps.
    pub(super) fn stirred_pot(&self, reading: &Reading, choices: &BTreeMap<String, String>, own: &[Input]) -> Mix {
        let answer = |name: &str, yes: &str, no: &str| {
            let given = choices.get(name)?;
            if given == yes { Some(true) } else { (given == no).then_some(false) }
        };
        Mix::of(self.jars, &self.units, reading).with_own(own).as_stirred(answer(CURD, "strained", "left"), answer(LUMPS, "some", "none"))
    }
}

/// The question about grains of curd, where there is curd.
pub(super) fn about_curd(mix: &Mix) -> Option<Question> {
    let choices = [("strained", "strained, no grain left", 0.6), ("left", "some grains are left", 0.4)];
    mix.has_curd().then(|| question(CURD, "Was the dissolved curd strained until no grain was left?", &choices))
}

/// The question about lumps; it can be asked of any pot, so it waits until it is opened.
pub(super) fn about_lumps() -> Question {
    question(LUMPS, "Are there lumps of powder in the pot?", &[("none", "no, it is smooth", 0.9), ("some", "yes, small lumps", 0.1)])
}

fn question(id: &str, ask: &str, choices: &[(&str, &str, f64)]) -> Question {
    Question {
        id: QuestionId(id.to_owned()),
        ask: ask.to_owned(),
        assumed: choices.first().map_or_else(String::new, |(id, _, _)| (*id).to_owned()),
        choices: choices
            .iter()
            .map(|(id, label, weight)| Choice { id: (*id).to_owned(), label: (*label).to_owned(), weight: *weight })
            .collect(),
        span: Span { from: 0, to: 0 },
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use crate::{VerdictRequest, Workbench};

    fn card(told: &str, choices: &[(&str, &str)]) -> show::Card {
        let choices: BTreeMap<_, _> = choices.iter().map(|(a, b)| ((*a).to_owned(), (*b).to_owned())).collect();
        Workbench::open().unwrap().verdict(&VerdictRequest { told: told.into(), choices, ..Default::default() }).unwrap()
    }

    #[test]
    fn curd_is_asked_about_its_grains() {
        let told = "130 g drained curd, 10 g borax, 250 g natural chalk, 60 g water";
        let open = card(told, &[]);
        assert!(open.questions.iter().any(|question| question.id == "curd:grains" && question.matters));
        let strained = card(told, &[("curd:grains", "strained")]);
        let width = |card: &show::Card| card.bar.map(|bar| bar.high - bar.low).unwrap();
        assert!(width(&strained) < width(&open));
        let glue = card("250 g chalk, 14 g hide glue, 200 ml water", &[]);
        assert!(glue.questions.iter().all(|question| question.id != "curd:grains"));
    }

    #[test]
    fn lumps_make_a_ground_leaner() {
        let told = "250 g chalk, 14 g hide glue, 200 ml water";
        let place = |choices: &[(&str, &str)]| card(told, choices).bar.unwrap().value;
        // A pot that packs 0.9 times as tightly stands 1 / 0.9 as far along the rule.
        assert!((place(&[("pot:lumps", "some")]) * 0.9 / place(&[]) - 1.0).abs() < 1e-9);
        assert!((place(&[("pot:lumps", "none")]) - place(&[])).abs() < 1e-12);
        assert_eq!(card(told, &[]).lumps.unwrap().choices.len(), 2);
    }
}
