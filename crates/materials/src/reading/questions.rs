//! What a careful reader would ask, once for each word.

use super::model::{Choice, Pick, Question, QuestionId, Span, Wishes};

/// Most choices that a painter is offered.
const CHOICES: usize = 3;

/// Collects the questions of a reading and applies answers already given.
pub(super) struct Asker<'a> {
    wishes: &'a Wishes,
    questions: Vec<Question>,
}

/// One candidate with its short name and its label.
pub(super) struct Candidate<T> {
    pub value: T,
    pub weight: f64,
    pub id: String,
    pub label: String,
}

impl<'a> Asker<'a> {
    pub(super) fn new(wishes: &'a Wishes) -> Self {
        Self { wishes, questions: Vec::new() }
    }

    /// The pick among candidates (likeliest first). More than one: a question, asked once for all its uses.
    pub(super) fn pick<T: Clone>(&mut self, id: &str, ask: &str, mut candidates: Vec<Candidate<T>>, span: Span) -> Pick<T> {
        candidates.truncate(CHOICES);
        if candidates.len() < 2 {
            return Pick { candidates: candidates.into_iter().map(|c| (c.value, 1.0)).collect(), question: None };
        }
        let id = QuestionId(id.to_owned());
        let answer = self.wishes.get(&id).filter(|answer| candidates.iter().any(|c| c.id == **answer));
        let assumed = answer.cloned().or_else(|| candidates.first().map(|c| c.id.clone())).unwrap_or_default();
        match self.questions.iter_mut().find(|question| question.id == id) {
            Some(known) => {
                if span < known.span {
                    known.span = span;
                }
            }
            None => self.questions.push(Question {
                id: id.clone(),
                ask: ask.to_owned(),
                assumed,
                choices: candidates.iter().map(|c| Choice { id: c.id.clone(), label: c.label.clone(), weight: c.weight }).collect(),
                span,
            }),
        }
        let kept: Vec<(T, f64)> = match answer {
            Some(answer) => candidates.into_iter().filter(|c| c.id == *answer).map(|c| (c.value, 1.0)).collect(),
            None => candidates.into_iter().map(|c| (c.value, c.weight)).collect(),
        };
        Pick { candidates: kept, question: Some(id) }
    }

    /// All questions, in the order of the words that raised them.
    pub(super) fn close(mut self) -> Vec<Question> {
        self.questions.sort_by(|a, b| (a.span, &a.id).cmp(&(b.span, &b.id)));
        self.questions
    }
}

/// A word as part of a question's name.
pub(super) fn slug(text: &str) -> String {
    let folded = super::fold::fold(text);
    folded.split(|c: char| !c.is_alphanumeric()).filter(|part| !part.is_empty()).collect::<Vec<_>>().join("-")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cups() -> Vec<Candidate<u8>> {
        [(1, "us"), (2, "metric")].map(|(value, id)| Candidate { value, weight: 0.5, id: id.into(), label: id.into() }).into()
    }

    #[test]
    fn an_answer_picks_and_the_question_stays() {
        let wishes = Wishes::from([(QuestionId("unit:cup".into()), "metric".into())]);
        let mut asker = Asker::new(&wishes);
        let pick = asker.pick("unit:cup", "Which cup?", cups(), Span { from: 0, to: 3 });
        assert_eq!(pick.candidates, [(2, 1.0)]);
        let questions = asker.close();
        assert_eq!((questions.len(), questions[0].assumed.as_str()), (1, "metric"));
    }

    #[test]
    fn an_unknown_answer_is_ignored() {
        let wishes = Wishes::from([(QuestionId("unit:cup".into()), "martian".into())]);
        let mut asker = Asker::new(&wishes);
        assert_eq!(asker.pick("unit:cup", "Which cup?", cups(), Span { from: 0, to: 3 }).candidates.len(), 2);
        assert_eq!(asker.close()[0].assumed, "us");
    }
}
