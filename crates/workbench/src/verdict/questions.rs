//! Questions a careful reader would ask, with what each answer would change.

use ground::{Coat, Drawn, film_with_ranges};
use measure::Draws;
use show::{ChoiceView, QuestionView, number};

use super::{Standing, VerdictRequest, Worked, packing, said};
use crate::Workbench;

/// A difference on the rule smaller than this is not worth a word.
const SMALL: f64 = 0.005;

impl Workbench {
    /// Questions in the order of what they would change, most first; and the one about lumps, which is open to any pot that makes a
    /// film. Once that is answered it stands among the others.
    pub(super) fn questions(&self, request: &VerdictRequest, worked: &Worked) -> (Vec<QuestionView>, Option<QuestionView>) {
        let curd = packing::about_curd(&worked.mix);
        let mut asked: Vec<(f64, QuestionView)> =
            worked.reading.questions.iter().chain(curd.as_ref()).map(|question| self.question(request, worked, question)).collect();
        let lumps = worked.ranges.is_ok().then(|| self.question(request, worked, &packing::about_lumps()));
        let (answered, open): (Vec<_>, Vec<_>) = lumps.into_iter().partition(|(_, view)| view.answered);
        asked.extend(answered);
        asked.sort_by(|a, b| b.0.total_cmp(&a.0));
        (asked.into_iter().map(|(_, view)| view).collect(), open.into_iter().map(|(_, view)| view).next())
    }

    fn question(&self, request: &VerdictRequest, worked: &Worked, question: &materials::Question) -> (f64, QuestionView) {
        let places: Vec<Place> = question.choices.iter().map(|choice| self.place_if(request, &question.id.0, &choice.id)).collect();
        let known: Vec<f64> = places.iter().filter_map(|place| place.lambda).collect();
        let most = known.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let least = known.iter().copied().fold(f64::INFINITY, f64::min);
        let width = if known.len() > 1 { most - least } else { 0.0 };
        let changes = width > SMALL || places.windows(2).any(|pair| matches!(pair, [a, b] if a.word != b.word));
        let answered = request.choices.get(&question.id.0).is_some_and(|given| question.choices.iter().any(|choice| choice.id == *given));
        let on_rule = matches!(worked.standing, Standing::Word(_));
        let choices = question
            .choices
            .iter()
            .zip(places)
            .map(|(choice, place)| ChoiceView {
                id: choice.id.clone(),
                label: choice.label.clone(),
                effect: match place.lambda {
                    Some(lambda) if changes && on_rule => format!("{} on the rule: {}", number(lambda, 2), place.word),
                    _ => String::new(),
                },
                place: place.lambda,
            })
            .collect();
        let view = QuestionView {
            id: question.id.0.clone(),
            ask: question.ask.clone(),
            assumed: question.assumed.clone(),
            answered,
            matters: changes || !on_rule,
            choices,
        };
        (width, view)
    }

    /// Where the ground would stand if this were the answer.
    fn place_if(&self, request: &VerdictRequest, question: &str, choice: &str) -> Place {
        let mut choices = request.choices.clone();
        choices.insert(question.to_owned(), choice.to_owned());
        let wishes: materials::Wishes =
            choices.iter().map(|(question, choice)| (materials::QuestionId(question.clone()), choice.clone())).collect();
        let reading = materials::read(self.jars, &self.units, &request.told, &wishes);
        let mix = self.stirred_pot(&reading, &choices, &request.own);
        let ranges = film_with_ranges(&mix, Coat::USUAL, &Drawn::of(&mix, FEW));
        let word = match self.standing(&request.told, &reading, &mix, ranges.as_ref()) {
            Standing::Word(words) => said(&words),
            Standing::NoWord(_) | Standing::NoFilm(_) => "no word".into(),
        };
        Place { lambda: ranges.ok().map(|ranges| ranges.best.lambda()), word }
    }
}

/// Where an answer would put the ground.
struct Place {
    lambda: Option<f64>,
    word: String,
}

/// Enough draws for a word beside an answer.
const FEW: Draws = Draws { seed: Draws::USUAL.seed, count: 300 };
