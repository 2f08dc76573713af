//! What stands around a material's name: refused, "or", states that choose between its meanings.

use super::items::{Item, What};
use super::lexicon::Lexicon;
use super::nodes::{NameNode, Node, Sort};
use super::signals::Signal;
use super::tokens::Mark;
use crate::catalogue::MaterialId;

/// Marks refused materials, joins "this or that", and lets states choose.
pub(super) fn settle(nodes: &mut Vec<Node>, items: &[Item], lexicon: &Lexicon) {
    refuse(nodes, items);
    either_or(nodes, items);
    for node in nodes.iter_mut() {
        let (first, end) = (node.first, node.end);
        if let Sort::Name(name) = &mut node.sort {
            states(name, first, end, items, lexicon);
        }
    }
}

/// "no borax", "instead of talc", "honey left out": the material, and an amount that stands with the refusal, count no more.
fn refuse(nodes: &mut [Node], items: &[Item]) {
    let mut chain = false;
    for at in 0..nodes.len() {
        let Some(node) = nodes.get(at) else { break };
        let is_name = node.name().is_some();
        let before = before(items, node.first);
        let after = items.get(node.end..).unwrap_or(&[]);
        let joined = chain
            && at > 0
            && gap(items, nodes.get(at - 1), node).iter().all(|item| item.signals.any(&[Signal::Or, Signal::Neg, Signal::Adjective]));
        let refused = refused_before(before, is_name) || joined || (is_name && refused_after(after));
        let Some(node) = nodes.get_mut(at) else { break };
        match &mut node.sort {
            Sort::Name(name) if refused => name.negated = true,
            Sort::Amount(_) if refused => node.sort = Sort::Gone,
            _ => {}
        }
        chain = refused;
    }
    // The amount of a refused material goes with it: "honey 5 g left out".
    for at in 1..nodes.len() {
        let refused = |node: Option<&Node>| node.and_then(Node::name).is_some_and(|name| name.negated);
        let near = gap(items, nodes.get(at - 1), nodes.get(at).unwrap_or(&EMPTY))
            .iter()
            .all(|item| item.has(Signal::Of) || item.has(Signal::Adjective));
        let (left, right) = (refused(nodes.get(at - 1)), refused(nodes.get(at)));
        if near && left != right {
            let other = if left { at } else { at - 1 };
            if let Some(node) = nodes.get_mut(other).filter(|node| node.amount().is_some()) {
                node.sort = Sort::Gone;
            }
        }
    }
}

const EMPTY: Node = Node { sort: Sort::Gone, first: 0, end: 0 };

fn before(items: &[Item], at: usize) -> &[Item] {
    items.get(at.saturating_sub(4)..at).unwrap_or(&[])
}

fn gap<'a>(items: &'a [Item], left: Option<&Node>, right: &Node) -> &'a [Item] {
    left.and_then(|left| items.get(left.end..right.first)).unwrap_or(&[])
}

fn refused_before(before: &[Item], is_name: bool) -> bool {
    for (steps, item) in before.iter().rev().enumerate() {
        if item.has(Signal::Neg) && !item.has(Signal::Approx) {
            // "no 250 g" corrects an amount, "not 250 g" refuses it.
            return is_name || steps == 0 && !item.has(Signal::Correct);
        }
        let carries = is_name && item.signals.any(&[Signal::Of, Signal::In, Signal::Adjective, Signal::Used])
            || matches!(item.what, What::Talk)
            || item.state.is_some();
        if !carries || matches!(item.what, What::Name(_) | What::Number(_) | What::Mark(_)) {
            return false;
        }
    }
    false
}

fn refused_after(after: &[Item]) -> bool {
    for item in after.iter().take(3) {
        if item.has(Signal::NegAfter) {
            return true;
        }
        if !matches!(item.what, What::Talk) {
            return false;
        }
    }
    false
}

/// "hide glue or gelatine": one material with two meanings. "Hautleim (hide glue)": the same stuff named twice.
fn either_or(nodes: &mut Vec<Node>, items: &[Item]) {
    let mut kept: Vec<Node> = Vec::with_capacity(nodes.len());
    for node in nodes.drain(..) {
        let meanings = kept.last().and_then(|left| joined(left, &node, gap(items, Some(left), &node)));
        match (meanings, kept.last_mut()) {
            (Some(meanings), Some(left)) => {
                left.end = node.end;
                if let Sort::Name(name) = &mut left.sort {
                    name.meanings = meanings;
                }
            }
            _ => kept.push(node),
        }
    }
    *nodes = kept;
}

/// The meanings of two names that stand for one ingredient; nothing if they are two.
fn joined(left: &Node, right: &Node, between: &[Item]) -> Option<Vec<(MaterialId, f64)>> {
    let (a, b) = (left.name()?, right.name()?);
    if a.negated || b.negated {
        return None;
    }
    let or =
        between.iter().all(|item| item.has(Signal::Or) || item.has(Signal::Adjective)) && between.iter().any(|item| item.has(Signal::Or));
    let aside = matches!(between, [mark] if mark.is(Mark::Open) || mark.is(Mark::Slash));
    let holds =
        |name: &NameNode, other: &NameNode| other.meanings.first().is_some_and(|(top, _)| name.meanings.iter().any(|(id, _)| id == top));
    if aside && (holds(a, b) || holds(b, a)) {
        // The narrower word counts.
        return Some(if b.meanings.len() < a.meanings.len() { b.meanings.clone() } else { a.meanings.clone() });
    }
    if !or {
        return None;
    }
    let first = a.meanings.first()?;
    let other = b.meanings.iter().find(|(id, _)| *id != first.0).map(|(id, weight)| (id.clone(), weight * SECOND_NAMED));
    Some(std::iter::once(first.clone()).chain(other).collect())
}

/// How likely the second of "this or that" is, beside the first.
const SECOND_NAMED: f64 = 0.7;

/// Looks at the words around a name: "slaked", "pressed", "dry weight".
fn states(name: &mut NameNode, first: usize, end: usize, items: &[Item], lexicon: &Lexicon) {
    let dry_word = |item: &Item| item.state.and_then(|state| lexicon.state(state)).is_some_and(|state| state.powder);
    let mut found: Vec<usize> = Vec::new();
    // Before it, up to the last number or mark.
    for at in (first.saturating_sub(4)..first).rev() {
        let Some(item) = items.get(at) else { break };
        let passes = item.state.is_some() || item.signals.any(&[Signal::Adjective, Signal::Solution, Signal::Of]);
        if !passes || matches!(item.what, What::Name(_) | What::Number(_)) {
            break;
        }
        if item.has(Signal::Solution) {
            name.liquid = true;
        }
        if item.state.is_some() && !item.has(Signal::Neg) {
            found.push(at);
        }
    }
    // Behind it, up to the next material or the end of the sentence; over its amount and one comma or bracket.
    let mut numbers = 0;
    for at in end..(end + 9).min(items.len()) {
        let Some(item) = items.get(at) else { break };
        match &item.what {
            // A word that nobody knows has its own states.
            What::Name(_)
            | What::Unknown
            | What::Break(_)
            | What::Mark(Mark::Stop | Mark::Semicolon | Mark::Tab | Mark::Pipe | Mark::Plus | Mark::Slash) => break,
            What::Number(_) => {
                numbers += 1;
                if numbers > 1 {
                    break;
                }
            }
            _ => {}
        }
        if item.signals.any(&[Signal::In, Signal::And, Signal::Per]) && item.state.is_none() {
            break;
        }
        if item.has(Signal::DryWeight) || (at == end && dry_word(item) && item.has(Signal::Adjective)) {
            name.said_dry = true;
        }
        if item.has(Signal::Solution) && at == end {
            name.liquid = true;
        }
        let refused = at > 0 && items.get(at - 1).is_some_and(|before| before.has(Signal::Neg));
        // "pressed it to 150 g" tells of a step, not of this stuff.
        let step = items.get(at + 1).is_some_and(|next| next.has(Signal::Pronoun));
        if item.state.is_some() && !refused && !step {
            found.push(at);
        }
    }
    for at in found {
        let Some(state) = items.get(at).and_then(|item| item.state).and_then(|state| lexicon.state(state)) else { continue };
        if choose(name, &state.materials) {
            name.states.push(at);
        }
    }
}

/// Stuff that a state turns into the other of its pair.
const KIN: [[&str; 2]; 2] = [["curd-drained", "curd-pressed"], ["plaster-of-paris", "gypsum"]];

/// Keeps the meanings that a state points to, if it points to some and not to all.
fn choose(name: &mut NameNode, wanted: &[MaterialId]) -> bool {
    let top = name.meanings.first().map(|(id, _)| id.as_str().to_owned()).unwrap_or_default();
    if let Some(other) = KIN
        .iter()
        .find(|kin| kin.contains(&top.as_str()))
        .and_then(|kin| wanted.iter().find(|id| kin.contains(&id.as_str()) && id.as_str() != top))
    {
        // "plaster of Paris, slaked" is gypsum by now, "fresh curd, well pressed" is pressed curd.
        name.meanings = vec![(other.clone(), 1.0)];
        return true;
    }
    let kept: Vec<(MaterialId, f64)> = name.meanings.iter().filter(|(id, _)| wanted.contains(id)).cloned().collect();
    if kept.is_empty() || name.meanings.len() < 2 {
        return false;
    }
    // The state names one stuff: where it fits several meanings, the one that it names first.
    let best = wanted.iter().find_map(|id| kept.iter().find(|(kept, _)| kept == id));
    name.meanings = best.cloned().into_iter().collect();
    true
}
