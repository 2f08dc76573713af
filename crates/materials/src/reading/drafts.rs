//! Lines before they are written: which material got which amount.

use std::collections::HashSet;

use super::bases;
use super::cover::Mark;
use super::leftovers;
use super::mixtures;
use super::nodes::{AmountNode, Node, Region, Told};
use super::recipe::Recipe;
use super::strengths;
use super::tokens::Mark as Sign;
use super::totals;
use crate::catalogue::{Family, Kind, MaterialId};

/// A line before it is written: node of the material, its amount and items.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Draft {
    pub name: usize,
    pub amount: Option<AmountNode>,
    pub first: usize,
    pub end: usize,
    /// Items of the amount.
    pub amount_items: Option<(usize, usize)>,
    /// Water that goes with "glue 1:10".
    pub implied: Option<MaterialId>,
    /// Further amounts of the same thing: the volume beside the weight.
    pub more: Vec<(usize, usize)>,
    pub notes: Vec<String>,
}

impl Draft {
    /// A material (node) with its amount and the items of the amount.
    pub(super) fn new(name: usize, amount: AmountNode, items: (usize, usize), span: (usize, usize)) -> Self {
        Self {
            name,
            amount: Some(amount),
            first: span.0,
            end: span.1,
            amount_items: Some(items),
            implied: None,
            more: Vec::new(),
            notes: Vec::new(),
        }
    }

    /// Water that nobody named; `name` is the node of the stuff that it goes with.
    pub(super) fn water(name: usize, amount: AmountNode, items: (usize, usize), note: &str) -> Self {
        Self { implied: Some(MaterialId::new("water")), notes: vec![note.to_owned()], ..Self::new(name, amount, items, items) }
    }
}

/// All lines of a recipe in the order told, and the marks of amounts that belong to none.
pub(super) fn make(told: &Recipe<'_>) -> (Vec<Draft>, Vec<Mark>) {
    let mut drafts = paired(told);
    let mut marks = leftovers::settle(told, &mut drafts);
    mentions(told, &mut drafts);
    drafts.sort_by_key(|draft| (told.nodes.get(draft.name).map_or(0, |node| node.first), draft.implied.is_some()));
    totals::settle(told, &mut drafts, &mut marks);
    mixtures::settle(told, &mut drafts, &mut marks);
    bases::settle(told, &mut drafts, &mut marks);
    (drafts, marks)
}

fn paired(told: &Recipe<'_>) -> Vec<Draft> {
    let mut drafts: Vec<Draft> = Vec::with_capacity(told.pairs.len() + told.given.len());
    let span = |name: usize, first: usize, end: usize| {
        told.nodes.get(name).map_or((first, end), |node| (node.first.min(first), node.end.max(end)))
    };
    for given in &told.given {
        let own = told.nodes.get(given.name).map_or((0, 0), |node| (node.first, node.end));
        drafts.push(Draft::new(given.name, given.amount.clone(), (given.first, given.end), own));
    }
    let mut last: Option<usize> = None;
    for (name, amount) in &told.pairs {
        let Some((node, amount)) = told.nodes.get(*amount).and_then(|node| Some((node, node.amount()?))) else { continue };
        let (first, end) = span(*name, node.first, node.end);
        // "1 jar egg (4 eggs filled it)": the same stuff measured again in brackets.
        let before = last.replace(*name);
        if let (true, Some(draft)) = (before.is_some_and(|before| again(told, before, *name, first)), drafts.last_mut()) {
            draft.more.push((node.first, node.end));
            draft.end = end;
            continue;
        }
        let amount = AmountNode { region: amount.region.or_else(|| region_behind(told, end)), ..amount.clone() };
        drafts.push(Draft::new(*name, amount, (node.first, node.end), (first, end)));
    }
    for (name, stuff, water, from, to) in &told.strengths.with_water {
        let note = format!("{stuff}:{water} is taken as {stuff} of the stuff to {water} of water by weight");
        let own = Draft::new(*name, strengths::parts(*stuff), (*from, *to), span(*name, *from, *to));
        drafts.push(Draft { notes: vec![note.clone()], ..own });
        drafts.push(Draft::water(*name, strengths::parts(*water), (*from, *to), &note));
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
    told.top(before) == told.top(name) && told.nodes.get(before).is_some_and(opens)
}

/// Materials named without an amount: an ingredient, unless it has a line already.
fn mentions(told: &Recipe<'_>, drafts: &mut Vec<Draft>) {
    // "a little water" says no more than "water".
    drafts.retain(|draft| draft.amount.as_ref().is_none_or(|amount| amount.told != Told::Eye));
    let mut solid = false;
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
        let Some(material) = told.top(draft.name).and_then(|id| told.jars.material(id)) else { continue };
        solid |= matches!(material.kind, Kind::Filler | Kind::Binder);
        if material.family != Family::None && !families.contains(&material.family) {
            families.push(material.family);
        }
    }
    let strengths: HashSet<usize> = told.strengths.told.iter().map(|strength| strength.name).collect();
    for (at, node) in told.nodes.iter().enumerate() {
        let Some(name) = node.name().filter(|name| !name.negated && !with_line.contains(&at)) else { continue };
        let Some(material) = name.meanings.first().and_then(|(id, _)| told.jars.material(id)) else { continue };
        let strong = strengths.contains(&at);
        let made =
            matches!(material.kind, Kind::Binder | Kind::Milk) && families.contains(&material.family) && material.family != Family::None;
        let seen = name.meanings.iter().any(|(id, _)| known.contains(id)) || made;
        let idle = matches!(material.kind, Kind::Support | Kind::Hazard)
            || told.lexicon.name(name.name).is_some_and(|name| name.text.chars().count() < 3);
        // "gesso" over a list of chalk and glue is the name of the whole, no ingredient.
        let whole = material.kind == Kind::Primer && solid;
        if (seen && !strong) || idle || whole {
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
