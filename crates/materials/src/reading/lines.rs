//! Amounts and materials put together to the lines of a recipe.

use std::collections::HashSet;

use measure::{Dimension, Units};

use super::amounts::plain;
use super::cover::{Label, Mark};
use super::items::{Item, What};
use super::lexicon::Lexicon;
use super::measured::{Customs, Measurer};
use super::model::{Amount, Line, NotGiven, Pick, Range, Span, Strength, Wishes};
use super::nodes::{AmountNode, NameNode, Node, Of, Region, Sort, Told};
use super::questions::{Asker, Candidate, slug};
use super::relations::Given;
use super::signals::Signal;
use super::strengths::{self, Strengths};
use super::tokens::{Mark as Sign, Token};
use crate::catalogue::{Catalogue, Family, Kind, MaterialId};

/// Everything that the lines are made from.
pub(super) struct Recipe<'a> {
    pub jars: &'a Catalogue,
    pub units: &'a Units,
    pub lexicon: &'a Lexicon,
    pub text: &'a str,
    pub tokens: &'a [Token],
    pub items: &'a [Item],
    pub nodes: &'a [Node],
    pub given: Vec<Given>,
    pub pairs: Vec<(usize, usize)>,
    pub strengths: Strengths,
    pub customs: &'a Customs,
}

/// The lines and what became of the items.
pub(super) struct Built {
    pub lines: Vec<Line>,
    pub marks: Vec<Mark>,
}

/// A line before it is written: node of the material, its amount and items.
struct Draft {
    name: usize,
    amount: Option<AmountNode>,
    first: usize,
    end: usize,
    /// Items of the amount.
    amount_items: Option<(usize, usize)>,
    /// Water that goes with "glue 1:10".
    implied: Option<MaterialId>,
    /// Further amounts of the same thing: the volume beside the weight.
    more: Vec<(usize, usize)>,
    notes: Vec<String>,
}

/// Builds the lines.
pub(super) fn build<'a>(told: &Recipe<'a>, wishes: &'a Wishes) -> (Built, Vec<super::model::Question>) {
    let mut asker = Asker::new(wishes);
    let mut drafts = drafts(told);
    let leftovers = leftovers(told, &mut drafts);
    mentions(told, &mut drafts);
    drafts.sort_by_key(|draft| (told.nodes.get(draft.name).map_or(0, |node| node.first), draft.implied.is_some()));
    let mut marks = leftovers;
    let mut lines: Vec<Line> = Vec::with_capacity(drafts.len());
    for draft in &drafts {
        let line = write(told, draft, &mut asker, lines.len(), &mut marks);
        lines.push(line);
    }
    lean(told, &drafts, &mut lines);
    (Built { lines, marks }, asker.close())
}

fn drafts(told: &Recipe<'_>) -> Vec<Draft> {
    let mut drafts = Vec::new();
    let span = |name: usize, first: usize, end: usize| {
        told.nodes.get(name).map_or((first, end), |node| (node.first.min(first), node.end.max(end)))
    };
    for given in &told.given {
        let (first, end) = told.nodes.get(given.name).map_or((0, 0), |node| (node.first, node.end));
        drafts.push(Draft {
            name: given.name,
            amount: Some(given.amount.clone()),
            first,
            end,
            amount_items: Some((given.first, given.end)),
            implied: None,
            more: Vec::new(),
            notes: Vec::new(),
        });
    }
    let mut last: Option<usize> = None;
    for (name, amount) in &told.pairs {
        let Some(node) = told.nodes.get(*amount) else { continue };
        let (first, end) = span(*name, node.first, node.end);
        // "1 jar egg (4 eggs filled it)": the same stuff measured again in brackets.
        let before = last.replace(*name);
        if let (true, Some(draft)) = (before.is_some_and(|before| again(told, before, *name, first)), drafts.last_mut()) {
            let draft: &mut Draft = draft;
            draft.more.push((node.first, node.end));
            draft.end = end;
            continue;
        }
        drafts.push(Draft {
            name: *name,
            amount: node.amount().cloned(),
            first,
            end,
            amount_items: Some((node.first, node.end)),
            implied: None,
            more: Vec::new(),
            notes: Vec::new(),
        });
    }
    for (name, stuff, water, from, to) in &told.strengths.with_water {
        let (first, end) = span(*name, *from, *to);
        let note = format!("{stuff}:{water} is taken as {stuff} of the stuff to {water} of water by weight");
        let own = Draft {
            name: *name,
            amount: Some(strengths::parts(*stuff)),
            first,
            end,
            amount_items: Some((*from, *to)),
            implied: None,
            more: Vec::new(),
            notes: vec![note.clone()],
        };
        drafts.push(own);
        drafts.push(Draft {
            name: *name,
            amount: Some(strengths::parts(*water)),
            first,
            end,
            amount_items: Some((*from, *to)),
            implied: Some(MaterialId::new("water")),
            more: Vec::new(),
            notes: vec![note],
        });
    }
    drafts
}

/// "1 pint water (imp.)": whose measure, in brackets behind the material.
fn region_behind(told: &Recipe<'_>, end: usize) -> Option<Region> {
    let at = |at: usize| told.items.get(at);
    let close = |at: usize| told.items.get(at).is_some_and(|item| item.is(Sign::Close));
    let brackets = at(end)?.is(Sign::Open) && (close(end + 2) || close(end + 3));
    Region::named(at(end + 1)?).filter(|_| brackets)
}

/// Whether a material is told again in brackets behind itself.
fn again(told: &Recipe<'_>, before: usize, name: usize, first: usize) -> bool {
    let opens = |node: &Node| {
        let gap = told.items.get(node.end..first).unwrap_or(&[]);
        gap.len() <= 3 && gap.last().is_some_and(|item| item.is(Sign::Open))
    };
    top(told, before) == top(told, name) && told.nodes.get(before).is_some_and(opens)
}

fn top<'a>(told: &'a Recipe<'_>, name: usize) -> Option<&'a MaterialId> {
    told.nodes.get(name).and_then(Node::name).and_then(|name| name.meanings.first()).map(|(id, _)| id)
}

/// A jar, a bag: a measure of unknown size.
fn sizeless(told: &Recipe<'_>, amount: &AmountNode) -> bool {
    let Told::Unit(word) = amount.told else { return false };
    let first = told.lexicon.unit(word).and_then(|text| told.units.by_word(text).first());
    first.is_some_and(|(id, _)| told.units.get(*id).value.is_none())
}

fn is_mass(told: &Recipe<'_>, amount: &AmountNode) -> bool {
    dimension(told, amount) == Some(Dimension::Mass)
}

fn dimension(told: &Recipe<'_>, amount: &AmountNode) -> Option<Dimension> {
    let Told::Unit(word) = amount.told else { return None };
    let text = told.lexicon.unit(word)?;
    told.units.by_word(text).first().map(|(id, _)| told.units.get(*id).dimension)
}

/// Amounts that no material took: the weight in brackets behind a volume, water that goes without saying, things unknown.
fn leftovers(told: &Recipe<'_>, drafts: &mut Vec<Draft>) -> Vec<Mark> {
    let mut marks = Vec::new();
    let mut taken: HashSet<usize> = told.pairs.iter().map(|(_, amount)| *amount).collect();
    taken.extend(told.given.iter().map(|given| given.name));
    let mut owner: Vec<Option<usize>> = vec![None; told.nodes.len()];
    for (at, draft) in drafts.iter().enumerate().filter(|(_, draft)| draft.implied.is_none()) {
        if let Some(slot) = owner.get_mut(draft.name) {
            *slot = slot.or(Some(at));
        }
    }
    for (name, amount) in &told.pairs {
        let at = owner.get(*name).copied().flatten();
        if let Some(slot) = owner.get_mut(*amount) {
            *slot = at;
        }
    }
    per_litre(told, drafts);
    for at in 0..told.nodes.len() {
        let Some(node) = told.nodes.get(at) else { break };
        let Some(amount) = node.amount().filter(|_| !taken.contains(&at)) else { continue };
        if let Some(line) = attached(told, at, &owner) {
            if let Some(draft) = drafts.get_mut(line) {
                if sizeless(told, amount) {
                    continue;
                }
                let bags = amount.each && draft.amount.as_ref().is_some_and(|first| sizeless(told, first));
                if let (true, Some(first)) = (bags, draft.amount.clone()) {
                    draft.more.extend(draft.amount_items.replace((node.first, node.end)));
                    draft.amount = Some(AmountNode { number: amount.number.times(first.number.middle()), each: false, ..amount.clone() });
                    draft.end = draft.end.max(node.end);
                    continue;
                }
                let weighed = is_mass(told, amount) && draft.amount.as_ref().is_some_and(|other| !is_mass(told, other));
                if weighed || amount.used || draft.amount.is_none() {
                    if let Some(items) = draft.amount_items.replace((node.first, node.end)) {
                        draft.more.push(items);
                    }
                    if weighed {
                        draft.notes.push("the weighed figure is used, not the measure beside it".to_owned());
                    }
                    draft.amount = Some(amount.clone());
                } else {
                    draft.more.push((node.first, node.end));
                }
                draft.first = draft.first.min(node.first);
                draft.end = draft.end.max(node.end);
                if let Some(slot) = owner.get_mut(at) {
                    *slot = Some(line);
                }
                continue;
            }
        }
        if let Some(name) = water_for(told, at, amount, drafts) {
            let note = "an amount of liquid without a name, taken as water".to_owned();
            drafts.push(Draft {
                name,
                amount: Some(amount.clone()),
                first: node.first,
                end: node.end,
                amount_items: Some((node.first, node.end)),
                implied: Some(MaterialId::new("water")),
                more: Vec::new(),
                notes: vec![note],
            });
            continue;
        }
        let vessel = amount.words && sizeless(told, amount);
        let counts = matches!(amount.told, Told::Unit(_) | Told::Part(_) | Told::Absurd | Told::Percent) && !amount.bought && !vessel;
        let beside = |at: Option<usize>| at.and_then(|at| told.items.get(at)).is_some_and(|item| item.what == What::Unknown && !item.muted);
        let unread = amount.told == Told::Bare && !amount.words && (beside(Some(node.end)) || beside(node.first.checked_sub(1)));
        if counts || unread {
            marks.push(Mark {
                first: node.first,
                end: node.end,
                label: Label::Struck("no material is told for this amount; say what it is of".to_owned()),
                questions: Vec::new(),
            });
        }
    }
    marks
}

/// The line that an amount without a material of its own belongs to: "1 cup chalk (180 g)", "5 kg bag, used 750 g".
fn attached(told: &Recipe<'_>, at: usize, owner: &[Option<usize>]) -> Option<usize> {
    let node = told.nodes.get(at)?;
    let amount = node.amount()?;
    let line = |index: Option<usize>| index.and_then(|index| owner.get(index).copied().flatten().map(|line| (index, line)));
    if let Some((before, line)) = line(at.checked_sub(1)) {
        let gap = told.items.get(told.nodes.get(before)?.end..node.first)?;
        let opens = gap.iter().all(|item| {
            matches!(item.what, What::Mark(Sign::Open | Sign::Equals | Sign::Dash | Sign::Close | Sign::Arrow) | What::Talk)
                || item.has(Signal::Approx)
                || item.has(Signal::Adjective)
        }) && gap.iter().any(|item| matches!(item.what, What::Mark(Sign::Open | Sign::Equals)));
        let each = amount.each && gap.iter().all(|item| item.is(Sign::Comma) || item.is(Sign::Open) || item.what == What::Talk);
        let used = (amount.used || each) && !gap.iter().any(|item| matches!(item.what, What::Break(_)));
        if opens || used {
            return Some(line);
        }
    }
    let (next, line) = line(Some(at + 1))?;
    let gap = told.items.get(node.end..told.nodes.get(next)?.first)?;
    let opens = matches!(gap, [open] if open.is(Sign::Open) || open.is(Sign::Equals))
        || gap.iter().all(|item| item.is(Sign::Open) || item.has(Signal::Approx)) && !gap.is_empty();
    (opens && told.nodes.get(next)?.amount().is_some()).then_some(line)
}

/// "40 g gelatine / 600 ml / 500 g chalk": a lone liquid measure in a sentence with a dry binder is its water.
fn water_for(told: &Recipe<'_>, at: usize, amount: &AmountNode, drafts: &[Draft]) -> Option<usize> {
    let node = told.nodes.get(at)?;
    let liquid = dimension(told, amount) == Some(Dimension::Volume)
        && told
            .lexicon
            .unit(match amount.told {
                Told::Unit(word) => word,
                _ => return None,
            })
            .and_then(|text| told.units.by_word(text).first())
            .is_some_and(|(id, _)| told.units.get(*id).value.is_some_and(|value| value >= 1.0));
    let bare = amount.told == Told::Bare
        && told.items.get(node.first.checked_sub(1)?).is_some_and(|item| item.is(Sign::Slash))
        && amount.number.low >= 10.0;
    if !liquid && !bare {
        return None;
    }
    let mut binder = None;
    for back in (at.saturating_sub(3)..at).rev() {
        let other = told.nodes.get(back)?;
        let gap = told.items.get(other.end..node.first)?;
        if gap.iter().any(Item::ends_sentence) {
            break;
        }
        if other.name().is_some() {
            let dry = drafts.iter().any(|draft| draft.name == back && is_glue_by_weight(told, draft))
                || top(told, back).is_some_and(|id| {
                    matches!(
                        id.as_str(),
                        "hide-glue"
                            | "rabbit-skin-glue"
                            | "gelatine"
                            | "casein-powder"
                            | "parchment-clippings"
                            | "skim-milk-powder"
                            | "borax"
                    )
                });
            if dry && drafts.iter().any(|draft| draft.name == back && draft.amount.is_some()) {
                binder = Some(back);
            }
            if top(told, back).is_some_and(|id| id.as_str() == "water") {
                return None;
            }
        }
    }
    // Nothing may follow that could be its name.
    let unnamed = told
        .items
        .get(node.end)
        .is_none_or(|item| item.ends_clause() || matches!(item.what, What::Mark(_)) || item.signals.any(&[Signal::And]));
    binder.filter(|_| unnamed)
}

/// "60 g/l glue": the litre is water, unless water is told.
fn per_litre(told: &Recipe<'_>, drafts: &mut Vec<Draft>) {
    let has_water = drafts.iter().any(|draft| draft.implied.is_none() && top(told, draft.name).is_some_and(|id| id.as_str() == "water"));
    let per = drafts
        .iter()
        .find_map(|draft| draft.amount.as_ref().and_then(|amount| amount.per).map(|unit| (unit, draft.name, draft.amount_items)));
    let Some((unit, name, Some((first, end)))) = per else { return };
    if !has_water {
        let note = "an amount per measure of liquid: taken for one measure of water".to_owned();
        drafts.push(Draft {
            name,
            amount: Some(plain(Range::one(1.0), Told::Unit(unit))),
            first,
            end,
            amount_items: Some((first, end)),
            implied: Some(MaterialId::new("water")),
            more: Vec::new(),
            notes: vec![note],
        });
    }
}

/// Materials named without an amount: an ingredient, unless it has a line already.
fn mentions(told: &Recipe<'_>, drafts: &mut Vec<Draft>) {
    let with_line: HashSet<usize> = drafts.iter().filter(|draft| draft.implied.is_none()).map(|draft| draft.name).collect();
    let mut known: HashSet<MaterialId> = HashSet::new();
    let mut families: Vec<Family> = Vec::new();
    for draft in drafts.iter() {
        if let Some(id) = &draft.implied {
            known.insert(id.clone());
            continue;
        }
        for (id, _) in told.nodes.get(draft.name).and_then(Node::name).map(|name| name.meanings.as_slice()).unwrap_or_default() {
            known.insert(id.clone());
        }
        if let Some(family) = top(told, draft.name)
            .and_then(|id| told.jars.material(id))
            .map(|material| material.family)
            .filter(|family| *family != Family::None)
        {
            families.push(family);
        }
    }
    for (at, node) in told.nodes.iter().enumerate() {
        let Some(name) = node.name().filter(|name| !name.negated && !with_line.contains(&at)) else { continue };
        let Some(material) = name.meanings.first().and_then(|(id, _)| told.jars.material(id)) else { continue };
        let strong = told.strengths.told.iter().any(|strength| strength.name == at);
        let made =
            matches!(material.kind, Kind::Binder | Kind::Milk) && families.contains(&material.family) && material.family != Family::None;
        let seen = name.meanings.iter().any(|(id, _)| known.contains(id)) || made;
        let idle = matches!(material.kind, Kind::Support | Kind::Hazard)
            || told.lexicon.name(name.name).is_some_and(|name| name.text.chars().count() < 3);
        if (seen && !strong) || idle {
            continue;
        }
        known.extend(name.meanings.iter().map(|(id, _)| id.clone()));
        drafts.push(Draft {
            name: at,
            amount: None,
            first: node.first,
            end: node.end,
            amount_items: None,
            implied: None,
            more: Vec::new(),
            notes: Vec::new(),
        });
    }
}

fn write(told: &Recipe<'_>, draft: &Draft, asker: &mut Asker<'_>, line: usize, marks: &mut Vec<Mark>) -> Line {
    let empty =
        NameNode { meanings: Vec::new(), name: 0, mended: false, negated: false, states: Vec::new(), liquid: false, said_dry: false };
    let node = told.nodes.get(draft.name);
    let name = node.and_then(Node::name).unwrap_or(&empty);
    let (name_first, name_end) = node.map_or((draft.first, draft.end), |node| (node.first, node.end));
    let mut guessed = draft.notes.clone();
    let dry = draft.implied.is_none() && is_glue_by_weight(told, draft);
    if dry {
        guessed.push("the weight is taken as dry glue, since it is told for a measure of liquid".to_owned());
    }
    let material = match &draft.implied {
        None if dry => Pick::sure(MaterialId::new("hide-glue")),
        Some(id) => Pick::sure(id.clone()),
        None => pick_material(told, name, span(told, name_first, name_end), asker, &mut guessed),
    };
    let known = material.first().and_then(|id| told.jars.material(id));
    let amount = match &draft.amount {
        Some(amount) => {
            let items = draft.amount_items.unwrap_or((draft.first, draft.end));
            let mut measurer = Measurer { units: told.units, lexicon: told.lexicon, customs: told.customs, asker };
            let (amount, notes) = measurer.amount(amount, known, span(told, items.0, items.1));
            guessed.extend(notes);
            amount
        }
        None => Amount::NotGiven(why_missing(told, draft)),
    };
    let strength = told.strengths.told.iter().find(|strength| strength.name == draft.name && draft.implied.is_none());
    let liquid = draft.implied.is_none() && (name.liquid || known.is_some_and(|material| strengths::is_liquid(&material.id)));
    let dissolved = known.is_some_and(|material| material.kind == Kind::Binder && matches!(material.family, Family::Glue | Family::Casein));
    let questions_of = |amount: &Amount| -> Vec<super::model::QuestionId> {
        match amount {
            Amount::Mass { unit, .. } | Amount::Volume { unit, .. } => unit.question.clone().into_iter().collect(),
            Amount::Parts { basis, .. } => basis.question.clone().into_iter().collect(),
            _ => Vec::new(),
        }
    };
    let absurd = amount == Amount::NotGiven(NotGiven::Absurd);
    for (first, end) in draft.amount_items.into_iter().chain(draft.more.iter().copied()) {
        let label =
            if absurd { Label::Struck("this can't be an amount; say a number above nothing".to_owned()) } else { Label::Amount(line) };
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
    if let (Some(word), true) = (unit_of(draft), node.is_some()) {
        if told
            .items
            .get(draft.amount_items.map_or(0, |(first, _)| first)..draft.amount_items.map_or(0, |(_, end)| end))
            .unwrap_or(&[])
            .iter()
            .any(|item| item.mended)
        {
            let (first, end) = draft.amount_items.unwrap_or_default();
            guessed.push(format!("read `{}` as {}", span(told, first, end).of(told.text), told.lexicon.unit(word).unwrap_or_default()));
        }
    }
    Line {
        span: span(told, draft.first, draft.end),
        material,
        amount,
        strength: strength.map(|strength| strength.strength.clone()).or(if liquid && dissolved { Some(Strength::Unknown) } else { None }),
        said_dry: name.said_dry && draft.implied.is_none() && known.is_some_and(|material| material.family == Family::Casein),
        guessed,
    }
}

/// "Size, 2 oz to the quart": the glue that goes into the size.
fn is_glue_by_weight(told: &Recipe<'_>, draft: &Draft) -> bool {
    let weighed = draft.amount.as_ref().is_some_and(|amount| is_mass(told, amount));
    let per = draft.amount_items.and_then(|(_, end)| told.items.get(end)).is_some_and(|item| item.has(Signal::Per));
    weighed && per && top(told, draft.name).is_some_and(|id| id.as_str() == "glue-size")
}

fn unit_of(draft: &Draft) -> Option<u32> {
    match draft.amount.as_ref()?.told {
        Told::Unit(word) => Some(word),
        _ => None,
    }
}

/// Bytes from one item to another.
pub(super) fn span(told: &Recipe<'_>, first: usize, end: usize) -> Span {
    let from = told.items.get(first).and_then(|item| told.tokens.get(item.first)).map_or(0, |token| token.from);
    let last = end
        .checked_sub(1)
        .and_then(|last| told.items.get(last))
        .and_then(|item| item.end.checked_sub(1))
        .and_then(|at| told.tokens.get(at));
    Span { from, to: last.map_or(from, |token| token.to).max(from) }
}

fn pick_material(told: &Recipe<'_>, name: &NameNode, span: Span, asker: &mut Asker<'_>, guessed: &mut Vec<String>) -> Pick<MaterialId> {
    let text = told.lexicon.name(name.name).map_or("", |name| name.text.as_str());
    if name.mended {
        guessed.push(format!("read `{}` as {text}", span.of(told.text)));
    }
    let label = |id: &MaterialId| told.jars.material(id).map_or_else(|| id.as_str().to_owned(), |material| material.name.clone());
    let candidates: Vec<_> = name
        .meanings
        .iter()
        .map(|(id, weight)| Candidate { value: id.clone(), weight: *weight, id: id.as_str().to_owned(), label: label(id) })
        .collect();
    let several = candidates.len() > 1;
    let whole = told.lexicon.name(name.name).is_some_and(|known| known.meanings.len() == name.meanings.len());
    let word = slug(text.strip_suffix('s').filter(|one| one.len() > 3 && !one.ends_with('s')).unwrap_or(text));
    // Choices that a state has narrowed are another question than the bare word.
    let id = if whole {
        format!("material:{word}")
    } else {
        format!("material:{word}-{}", name.meanings.iter().take(3).map(|(id, _)| id.as_str()).collect::<Vec<_>>().join("-"))
    };
    let pick = asker.pick(&id, &format!("Which {text} is it?"), candidates, span);
    if let (true, Some(first)) = (several && pick.candidates.len() > 1, pick.first()) {
        guessed.push(format!("{text} taken as {}", label(first)));
    }
    pick
}

/// By eye, if the words around say so.
fn why_missing(told: &Recipe<'_>, draft: &Draft) -> NotGiven {
    let stops = |item: &&Item| !item.ends_sentence() && !matches!(item.what, What::Name(_)) && !item.is(Sign::Comma);
    let behind = told.items.get(draft.end..).unwrap_or(&[]).iter().take_while(stops).take(6);
    let before = told.items.get(..draft.first).unwrap_or(&[]).iter().rev().take_while(stops).take(4);
    if behind.chain(before).any(|item| item.has(Signal::ByEye)) { NotGiven::ByEye } else { NotGiven::Missing }
}

/// Works out amounts that lean on another line.
fn lean(told: &Recipe<'_>, drafts: &[Draft], lines: &mut [Line]) {
    for at in 0..lines.len() {
        let Some(Told::Relative { factor, of }) = drafts.get(at).and_then(|draft| draft.amount.as_ref()).map(|amount| amount.told.clone())
        else {
            continue;
        };
        let other = match of {
            Of::Previous => at.checked_sub(1),
            Of::Node(node) => {
                let ids = told.nodes.get(node).and_then(Node::name).map(|name| name.meanings.as_slice()).unwrap_or_default();
                let same =
                    |draft: &Draft| draft.implied.is_none() && top(told, draft.name).is_some_and(|top| ids.iter().any(|(id, _)| id == top));
                drafts.iter().enumerate().position(|(index, draft)| index != at && same(draft))
            }
        };
        let scaled = other.and_then(|other| lines.get(other)).map(|line| match &line.amount {
            Amount::Mass { number, unit } => Amount::Mass { number: number.times(factor), unit: unit.clone() },
            Amount::Volume { number, unit, fill } => Amount::Volume { number: number.times(factor), unit: unit.clone(), fill: *fill },
            Amount::Parts { number, basis } => Amount::Parts { number: number.times(factor), basis: basis.clone() },
            Amount::PercentOfWhole { number } => Amount::PercentOfWhole { number: number.times(factor) },
            _ => Amount::NotGiven(NotGiven::ByEye),
        });
        if let Some(line) = lines.get_mut(at) {
            if let Some(amount) = scaled {
                line.amount = amount;
                line.guessed.push("worked out from another ingredient".to_owned());
            }
        }
    }
}

/// Nodes that may be paired: not gone, not refused, not given an amount already.
pub(super) fn active(nodes: &[Node], given: &[Given], strengths: &Strengths) -> Vec<usize> {
    let mut taken: HashSet<usize> = given.iter().map(|given| given.name).collect();
    taken.extend(strengths.with_water.iter().map(|(name, ..)| *name));
    let pointed: HashSet<usize> = nodes
        .iter()
        .filter_map(|node| match node.amount().map(|amount| &amount.told) {
            Some(Told::Relative { of: Of::Node(target), .. }) => Some(*target),
            _ => None,
        })
        .collect();
    let counts = |at: &usize| match nodes.get(*at).map(|node| &node.sort) {
        Some(Sort::Name(name)) => !name.negated && !taken.contains(at) && !pointed.contains(at),
        Some(Sort::Amount(_)) => true,
        _ => false,
    };
    (0..nodes.len()).filter(counts).collect()
}
