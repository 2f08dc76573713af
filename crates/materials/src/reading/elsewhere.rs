//! Words about another batch, a friend's recipe or a plan, and the name that stands over a recipe: none of them an ingredient.

use super::cover::{Label, Mark};
use super::items::{Item, What};
use super::nodes::{Node, Sort};
use super::signals::Signal;
use super::tokens::{Mark as Sign, Token};

const OTHER_BATCH: &str = "of another batch, so not counted";
/// How many items may stand between "last time" and its amount.
const NEAR: usize = 6;

/// Takes out what is told of another batch, unless nothing else is told; gives the marks of its amounts.
pub(super) fn set_aside(nodes: &mut [Node], items: &[Item]) -> Vec<Mark> {
    let stretches: Vec<(usize, usize)> = (0..items.len()).filter_map(|at| stretch(items, at)).collect();
    let inside = |node: &Node| stretches.iter().any(|(first, end)| (*first..*end).contains(&node.first));
    let rest = |wanted: fn(&Node) -> bool| nodes.iter().any(|node| wanted(node) && !inside(node));
    if stretches.is_empty() || !rest(|node| node.amount().is_some()) || !rest(|node| node.name().is_some()) {
        return Vec::new();
    }
    let mut marks = Vec::new();
    for node in nodes.iter_mut().filter(|node| inside(node)) {
        match &mut node.sort {
            Sort::Amount(_) => {
                let label = Label::Struck(OTHER_BATCH.to_owned(), false);
                marks.push(Mark { first: node.first, end: node.end, label, questions: Vec::new() });
                node.sort = Sort::Gone;
            }
            Sort::Name(name) => name.negated = true,
            Sort::Gone => {}
        }
    }
    marks
}

/// The items from "last time" to the end of its clause, if an amount stands near.
fn stretch(items: &[Item], at: usize) -> Option<(usize, usize)> {
    let signal = items.get(at).filter(|item| item.has(Signal::Elsewhere) && !item.muted)?;
    // "last time, I used 90 g"
    let start = at + 1 + usize::from(items.get(at + 1).is_some_and(|item| item.is(Sign::Comma)));
    let mut end = clause_end(items, start);
    // "should I add 20 g" asks of these 20 g, "should I add to 30 g" does not.
    let near = if signal.signals.value > 0.0 { 1 } else { NEAR };
    let counts = items.get(start..end)?.iter().take(near).any(|item| matches!(item.what, What::Number(_)));
    // "Last time I used 90 g glue, 600 g chalk": a sentence of its own goes on with its list.
    let opens = at.checked_sub(1).and_then(|before| items.get(before)).is_none_or(|item| item.ends_sentence() || item.what == What::Talk);
    let lists = |end: usize| {
        items.get(end).is_some_and(|item| item.is(Sign::Comma))
            && items.get(end + 1).is_some_and(|item| matches!(item.what, What::Number(_)))
    };
    while opens && lists(end) {
        end = clause_end(items, end + 1);
    }
    counts.then_some((at, end))
}

fn clause_end(items: &[Item], start: usize) -> usize {
    start + items.iter().skip(start).take_while(|item| !item.ends_clause()).count()
}

/// "my gesso is ...", "gesso: ...": the name of the whole over its ingredients, not the jar from the shop.
pub(super) fn titles(nodes: &mut [Node], items: &[Item], tokens: &[Token], text: &str) {
    for at in 0..nodes.len() {
        let end = nodes.get(at).map_or(0, |node| node.end);
        if is_title(nodes, items, at)
            && opens(items, end, tokens, text)
            && let Some(Sort::Name(name)) = nodes.get_mut(at).map(|node| &mut node.sort)
        {
            name.negated = true;
        }
    }
}

const VERBS: [&str; 6] = ["is", "ist", "est", "è", "es", "contains"];

/// Whether a colon, "=" or "is" stands here.
fn opens(items: &[Item], at: usize, tokens: &[Token], text: &str) -> bool {
    let Some(item) = items.get(at) else { return false };
    let word = tokens.get(item.first).and_then(|token| text.get(token.from..token.to)).unwrap_or("").to_lowercase();
    item.is(Sign::Colon) || item.is(Sign::Equals) || VERBS.contains(&word.as_str())
}

/// Whether a word that may be a bought ground begins a sentence, and the next amount has a name of its own.
fn is_title(nodes: &[Node], items: &[Item], at: usize) -> bool {
    let bought = |node: &&Node| {
        node.name().is_some_and(|name| name.meanings.len() > 1 && name.meanings.iter().any(|(id, _)| id.as_str() == "acrylic-ground"))
    };
    let Some(node) = nodes.get(at).filter(bought) else { return false };
    let before = items.get(..node.first).unwrap_or(&[]).iter().rev().find(|item| !item.has(Signal::Adjective) && item.what != What::Talk);
    let fresh = before.is_none_or(Item::ends_clause);
    let own = |left: &Node, right: &Node| {
        let gap = items.get(left.end..right.first).unwrap_or(&[]);
        gap.iter().all(|item| item.has(Signal::Of) || item.has(Signal::Adjective) || item.state.is_some())
    };
    let named = match (nodes.get(at + 1), nodes.get(at + 2)) {
        (Some(amount), Some(name)) if amount.amount().is_some() => name.name().is_some() && own(amount, name),
        (Some(name), _) => name.name().is_some(),
        _ => false,
    };
    fresh && named
}
