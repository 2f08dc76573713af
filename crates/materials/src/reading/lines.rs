//! Amounts and materials put together to the lines of a recipe.

use std::collections::HashMap;

use super::cover::{Label, Mark};
use super::drafts::{self, Draft};
use super::items::{Item, What};
use super::leaning;
use super::leftovers;
use super::measured::Measurer;
use super::model::{Amount, Line, NotGiven, Pick, Question, QuestionId, Span, Strength, Wishes};
use super::nodes::{NameNode, Node, Told};
use super::poured;
use super::questions::{Asker, Candidate, slug};
use super::recipe::Recipe;
use super::shares;
use super::signals::Signal;
use super::strengths::{self, StrengthTold};
use super::swaps;
use super::tokens::Mark as Sign;
use crate::catalogue::{Family, Kind, MaterialId};

/// The lines and what became of the items.
pub(super) struct Built {
    pub lines: Vec<Line>,
    pub marks: Vec<Mark>,
}

/// Builds the lines.
pub(super) fn build(told: &Recipe<'_>, wishes: &Wishes) -> (Built, Vec<Question>) {
    let mut asker = Asker::new(wishes);
    let (drafts, mut marks) = drafts::make(told);
    let mut picked = Picked::new();
    let strengths: HashMap<usize, &StrengthTold> = told.strengths.told.iter().rev().map(|strength| (strength.name, strength)).collect();
    let mut lines: Vec<Line> = Vec::with_capacity(drafts.len());
    for draft in &drafts {
        let strength = strengths.get(&draft.name).copied().filter(|_| draft.implied.is_none());
        let line = write(told, draft, strength, &mut asker, &mut picked, lines.len(), &mut marks);
        lines.push(line);
    }
    leaning::lean(told, &drafts, &mut lines);
    swaps::settle(told, &drafts, &mut lines);
    poured::settle(told, &mut lines);
    shares::settle(told, &drafts, &mut lines, &mut asker, &mut marks);
    (Built { lines, marks }, asker.close())
}

fn write(
    told: &Recipe<'_>,
    draft: &Draft,
    strength: Option<&StrengthTold>,
    asker: &mut Asker<'_>,
    picked: &mut Picked,
    line: usize,
    marks: &mut Vec<Mark>,
) -> Line {
    let empty =
        NameNode { meanings: Vec::new(), name: 0, mended: false, negated: false, states: Vec::new(), liquid: false, said_dry: false };
    let node = told.nodes.get(draft.name);
    let name = node.and_then(Node::name).unwrap_or(&empty);
    let (name_first, name_end) = node.map_or((draft.first, draft.end), |node| (node.first, node.end));
    let mut guessed = draft.notes.clone();
    let dry = draft.implied.is_none() && leftovers::is_glue_by_weight(told, draft);
    if dry {
        guessed.push("the weight is taken as dry glue, since it is told for a measure of liquid".to_owned());
    }
    let material = match &draft.implied {
        None if dry => Pick::sure(MaterialId::new("hide-glue")),
        Some(id) => Pick::sure(id.clone()),
        None => {
            let (pick, notes) = pick_material(told, name, told.span(name_first, name_end), asker, picked);
            guessed.extend(notes);
            pick
        }
    };
    let strong = strength.is_some() || name.liquid;
    if draft.implied.is_none() && !strong && is_fish_glue(told, name, (name_first, name_end)) {
        guessed.push("fish glue is often sold liquid; taken as dry".to_owned());
    }
    let known = material.first().and_then(|id| told.jars.material(id));
    let amount = match &draft.amount {
        Some(amount) => {
            let items = draft.amount_items.unwrap_or((draft.first, draft.end));
            let mut measurer = Measurer { units: told.units, lexicon: told.lexicon, customs: told.customs, asker };
            let (amount, notes) = measurer.amount(amount, known, told.span(items.0, items.1));
            guessed.extend(notes);
            amount
        }
        None => Amount::NotGiven(why_missing(told, draft)),
    };
    let liquid = draft.implied.is_none() && (name.liquid || known.is_some_and(|material| strengths::is_liquid(&material.id)));
    let dissolved = known.is_some_and(|material| material.kind == Kind::Binder && matches!(material.family, Family::Glue | Family::Casein));
    let questions_of = |amount: &Amount| -> Vec<QuestionId> {
        match amount {
            Amount::Mass { unit, .. } | Amount::Volume { unit, .. } => unit.question.clone().into_iter().collect(),
            Amount::Parts { basis, .. } => basis.question.clone().into_iter().collect(),
            _ => Vec::new(),
        }
    };
    let absurd = amount == Amount::NotGiven(NotGiven::Absurd);
    for (first, end) in draft.amount_items.into_iter().chain(draft.more.iter().copied()) {
        let label = if absurd {
            Label::Struck("this can't be an amount; say a number above nothing".to_owned(), true)
        } else {
            Label::Amount(line)
        };
        marks.push(Mark { first, end, label, questions: questions_of(&amount) });
    }
    if draft.implied.is_none() {
        marks.push(Mark {
            first: name_first,
            end: name_end,
            label: Label::Material(line),
            questions: material.question.clone().into_iter().collect(),
        });
        marks.extend(name.states.iter().map(|at| Mark { first: *at, end: at + 1, label: Label::State(line), questions: Vec::new() }));
        if let Some(strength) = strength {
            marks.push(Mark { first: strength.first, end: strength.end, label: Label::State(line), questions: Vec::new() });
        }
    }
    if let (Some(word), true) = (unit_of(draft), node.is_some())
        && told
            .items
            .get(draft.amount_items.map_or(0, |(first, _)| first)..draft.amount_items.map_or(0, |(_, end)| end))
            .unwrap_or(&[])
            .iter()
            .any(|item| item.mended)
    {
        let (first, end) = draft.amount_items.unwrap_or_default();
        guessed.push(format!("read `{}` as {}", told.span(first, end).of(told.text), told.lexicon.unit(word).unwrap_or_default()));
    }
    Line {
        span: told.span(draft.first, draft.end),
        material,
        amount,
        strength: strength.map(|strength| strength.strength.clone()).or(if liquid && dissolved { Some(Strength::Unknown) } else { None }),
        said_dry: name.said_dry && draft.implied.is_none() && known.is_some_and(|material| material.family == Family::Casein),
        guessed,
    }
}

/// Words for glue that the shop sells dry as well as liquid.
const FISH: [&str; 5] = ["fish", "fisch", "poisson", "pesce", "pescado"];

fn is_fish_glue(told: &Recipe<'_>, name: &NameNode, (first, end): (usize, usize)) -> bool {
    let glue = name.meanings.first().is_some_and(|(id, _)| id.as_str() == "hide-glue");
    let fish = |(first, end): (usize, usize)| {
        let words = told.span(first, end).of(told.text).to_lowercase();
        FISH.iter().any(|fish| words.starts_with(fish) || words.ends_with(fish))
    };
    glue && (fish((first, end)) || name.states.iter().any(|at| fish((*at, at + 1))))
}

fn unit_of(draft: &Draft) -> Option<u32> {
    match draft.amount.as_ref()?.told {
        Told::Unit(word) => Some(word),
        _ => None,
    }
}

/// Names picked before, with the sentence about the guess: a long text names the same stuff again and again.
type Picked = HashMap<u32, (Pick<MaterialId>, Option<String>)>;

fn pick_material(
    told: &Recipe<'_>,
    name: &NameNode,
    span: Span,
    asker: &mut Asker<'_>,
    picked: &mut Picked,
) -> (Pick<MaterialId>, Vec<String>) {
    let text = told.lexicon.name(name.name).map_or("", |name| name.text.as_str());
    let mut guessed = Vec::new();
    if name.mended {
        guessed.push(format!("read `{}` as {text}", span.of(told.text)));
    }
    let whole = told.lexicon.name(name.name).is_some_and(|known| known.meanings == name.meanings);
    if let Some((pick, guess)) = picked.get(&name.name).filter(|_| whole) {
        guessed.extend(guess.clone());
        return (pick.clone(), guessed);
    }
    let label = |id: &MaterialId| told.jars.material(id).map_or_else(|| id.as_str().to_owned(), |material| material.name.clone());
    let candidate =
        |(id, weight): &(MaterialId, f64)| Candidate { value: id.clone(), weight: *weight, id: id.as_str().to_owned(), label: label(id) };
    let candidates: Vec<_> = name.meanings.iter().map(candidate).collect();
    let one = text.strip_suffix('s').filter(|one| one.len() > 2 && !one.ends_with('s')).unwrap_or(text);
    // Choices that a state has narrowed are another question than the bare word.
    let narrowed = name.meanings.iter().take(if whole { 0 } else { 3 }).map(|(id, _)| id.as_str());
    let asked = std::iter::once(slug(one).as_str()).chain(narrowed).collect::<Vec<_>>().join("-");
    let pick = asker.pick(&format!("material:{asked}"), &format!("Which {one} is it?"), candidates, span);
    let guess = pick.first().filter(|_| pick.candidates.len() > 1).map(|first| format!("{text} taken as {}", label(first)));
    guessed.extend(guess.clone());
    if whole {
        picked.insert(name.name, (pick.clone(), guess));
    }
    (pick, guessed)
}

/// By eye, if the words around say so.
fn why_missing(told: &Recipe<'_>, draft: &Draft) -> NotGiven {
    let stops = |item: &&Item| !item.ends_sentence() && !matches!(item.what, What::Name(_)) && !item.is(Sign::Comma);
    let behind = told.items.get(draft.end..).unwrap_or(&[]).iter().take_while(stops).take(6);
    let before = told.items.get(..draft.first).unwrap_or(&[]).iter().rev().take_while(stops).take(4);
    if behind.chain(before).any(|item| item.has(Signal::ByEye) || item.has(Signal::Some)) { NotGiven::ByEye } else { NotGiven::Missing }
}
