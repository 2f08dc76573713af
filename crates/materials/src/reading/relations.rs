//! Amounts that concern several materials or lean on another: ratios, equal parts, "each", "twice as much", corrections.

use super::amounts::plain;
use super::items::{Item, What};
use super::model::{PartBasis, Range};
use super::nodes::{AmountNode, Node, Of, Sort, Told};
use super::signals::Signal;
use super::tokens::Mark;

/// An amount given to a material before the ordinary pairing.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Given {
    /// Node of the material.
    pub name: usize,
    /// Its amount.
    pub amount: AmountNode,
    /// Items of the amount.
    pub first: usize,
    pub end: usize,
}

/// Longest list of materials that one amount may concern.
const LIST: usize = 12;

/// Finds such amounts; what they use is marked [`Sort::Gone`] or listed in the result.
pub(super) fn find(nodes: &mut [Node], items: &[Item]) -> Vec<Given> {
    correct(nodes, items);
    point(nodes, items);
    let mut given = Vec::new();
    for at in 0..nodes.len() {
        let Some(amount) = nodes.get(at).and_then(Node::amount).cloned() else { continue };
        let names = match &amount.told {
            Told::Ratio(values) => ratio(nodes, items, at, values),
            _ if amount.each => each(nodes, items, at),
            _ => None,
        };
        if let (None, Told::Ratio(values)) = (&names, &amount.told)
            && let Some(water) = across(nodes, items, at, values)
        {
            given.push(water);
            if let Some(node) = nodes.get_mut(at) {
                node.sort = Sort::Gone;
            }
            continue;
        }
        let Some(names) = names else { continue };
        let (first, end) = nodes.get(at).map_or((0, 0), |node| (node.first, node.end));
        let basis = basis_near(items, first, end);
        // Glue and water are mixed by weight, as everybody who writes 1:10 of them means.
        let is_water = |at: &&usize| {
            nodes.get(**at).and_then(Node::name).and_then(|name| name.meanings.first()).is_some_and(|(id, _)| id.as_str() == "water")
        };
        let by_custom = if names.len() == 2
            && names.iter().any(|at| is_water(&at))
            && !items.iter().any(|item| item.has(Signal::ByVolume) && !item.muted)
        {
            Some(PartBasis::Weight)
        } else {
            None
        };
        for (place, name) in names.iter().enumerate() {
            let amount = match &amount.told {
                Told::Ratio(values) => plain(Range::one(values.get(place).copied().unwrap_or(0.0)), Told::Part(basis.or(by_custom))),
                _ => AmountNode { each: false, ..amount.clone() },
            };
            given.push(Given { name: *name, amount, first, end });
        }
        if let Some(node) = nodes.get_mut(at) {
            node.sort = Sort::Gone;
        }
    }
    equal_parts(nodes, items, &mut given);
    given
}

/// "by weight" or "by volume" within a few words.
fn basis_near(items: &[Item], first: usize, end: usize) -> Option<PartBasis> {
    let near = items.get(first.saturating_sub(4)..(end + 8).min(items.len())).unwrap_or(&[]);
    near.iter().find_map(|item| match (item.has(Signal::ByWeight), item.has(Signal::ByVolume)) {
        (true, _) => Some(PartBasis::Weight),
        (_, true) => Some(PartBasis::Volume),
        _ => None,
    })
}

fn between<'a>(items: &'a [Item], left: &Node, right: &Node) -> &'a [Item] {
    items.get(left.end..right.first).unwrap_or(&[])
}

/// Whether these items may stand between the members of a list.
fn lists(gap: &[Item]) -> bool {
    gap.len() <= 5
        && gap.iter().all(|item| match &item.what {
            What::Mark(mark) => matches!(mark, Mark::Comma | Mark::Plus | Mark::Slash | Mark::Colon | Mark::Dash | Mark::And),
            _ => item.state.is_some() || item.signals.any(&[Signal::And, Signal::To, Signal::Of, Signal::Adjective, Signal::Solution]),
        })
}

/// Whether these items may stand between a list and its amount.
fn leads(gap: &[Item]) -> bool {
    gap.len() <= 6
        && gap.iter().all(|item| match &item.what {
            What::Mark(mark) => {
                matches!(mark, Mark::Comma | Mark::Colon | Mark::Dash | Mark::Equals | Mark::Open | Mark::Close | Mark::Tab | Mark::Pipe)
            }
            What::Talk => true,
            What::Break(_) | What::Unknown | What::Number(_) | What::Code => false,
            _ => !item.has(Signal::Neg) || item.has(Signal::Each),
        })
}

fn is_name(node: &Node) -> bool {
    node.name().is_some_and(|name| !name.negated)
}

/// Names in a list right before a node, in the order told.
fn before(nodes: &[Node], items: &[Item], at: usize) -> Vec<usize> {
    let mut found = Vec::new();
    let mut right = at;
    while let Some((left, node)) = right.checked_sub(1).and_then(|left| nodes.get(left).map(|node| (left, node))) {
        let Some(next) = nodes.get(right) else { break };
        let gap = between(items, node, next);
        let joins = if found.is_empty() { leads(gap) } else { lists(gap) };
        if !is_name(node) || !joins || found.len() >= LIST {
            break;
        }
        found.push(left);
        right = left;
    }
    found.reverse();
    found
}

/// Names in a list right behind a node.
fn behind(nodes: &[Node], items: &[Item], at: usize) -> Vec<usize> {
    let mut found = Vec::new();
    let mut left = at;
    while let (Some(node), Some(next)) = (nodes.get(left), nodes.get(left + 1)) {
        let gap = between(items, node, next);
        let joins = if found.is_empty() { leads(gap) } else { lists(gap) };
        if !is_name(next) || !joins || found.len() >= LIST {
            break;
        }
        found.push(left + 1);
        left += 1;
    }
    found
}

/// The materials of `1:1:1`, if as many stand beside it as it has numbers.
fn ratio(nodes: &[Node], items: &[Item], at: usize, values: &[f64]) -> Option<Vec<usize>> {
    let count = values.len();
    let mut ahead = before(nodes, items, at);
    let mut after = behind(nodes, items, at);
    if ahead.len() >= count {
        ahead.drain(..ahead.len() - count);
        return Some(ahead);
    }
    if after.len() >= count {
        after.truncate(count);
        return Some(after);
    }
    None
}

/// "30 g glue 1:15 water": the second stuff is so many times the first, by the measure of the first.
fn across(nodes: &[Node], items: &[Item], at: usize, values: &[f64]) -> Option<Given> {
    let [one, other] = values else { return None };
    let (node, left, right) = (nodes.get(at)?, nodes.get(at.checked_sub(1)?)?, nodes.get(at + 1)?);
    let close = |gap: &[Item]| gap.iter().all(|item| item.signals.any(&[Signal::Of, Signal::To, Signal::In, Signal::Adjective]));
    let measured = at.checked_sub(2).and_then(|before| nodes.get(before)).is_some_and(|before| {
        before.amount().is_some_and(|amount| matches!(amount.told, Told::Unit(_) | Told::Part(_))) && close(between(items, before, left))
    });
    let beside = is_name(left) && is_name(right) && close(between(items, left, node)) && close(between(items, node, right));
    let factor = other / one;
    let told = Told::Relative { factor, of: Of::Node(at - 1) };
    (measured && beside && factor.is_finite() && factor > 0.0).then(|| Given {
        name: at + 1,
        amount: plain(Range::one(1.0), told),
        first: node.first,
        end: node.end,
    })
}

/// The materials that an "each" concerns.
fn each(nodes: &[Node], items: &[Item], at: usize) -> Option<Vec<usize>> {
    let after = behind(nodes, items, at);
    let ahead = before(nodes, items, at);
    if after.len() > 1 && ahead.len() < 2 {
        return Some(after);
    }
    if ahead.len() > 1 { Some(ahead) } else { None }
}

/// "equal parts of chalk, gypsum and kaolin".
fn equal_parts(nodes: &[Node], items: &[Item], given: &mut Vec<Given>) {
    let mut node_after = 0;
    for (at, item) in items.iter().enumerate() {
        while nodes.get(node_after).is_some_and(|node| node.first < at) {
            node_after += 1;
        }
        if !item.has(Signal::EqualParts) || item.muted {
            continue;
        }
        let here = Node { sort: Sort::Gone, first: at, end: at + 1 };
        let mut names = Vec::new();
        let mut last = here.clone();
        for (index, node) in nodes.iter().enumerate().skip(node_after).take(LIST) {
            let gap = between(items, &last, node);
            // "equal volumes of 10 % glue size and chalk": the strength stands between.
            if node.is_percent() && nodes.get(index + 1).is_some_and(is_name) && lists(gap) {
                last = node.clone();
                continue;
            }
            if !is_name(node) || !(if names.is_empty() { leads(gap) } else { lists(gap) }) {
                break;
            }
            names.push(index);
            last = node.clone();
        }
        if names.len() < 2 {
            names.clear();
            let mut first = here;
            for (index, node) in nodes.iter().enumerate().take(node_after).rev().take(LIST) {
                let gap = between(items, node, &first);
                if !is_name(node) || !(if names.is_empty() { leads(gap) } else { lists(gap) }) {
                    break;
                }
                names.push(index);
                first = node.clone();
            }
        }
        let basis = basis_near(items, at, at + 1);
        // "half and half, 500 g each": the measured figure says it all.
        let measured = |name: &usize| given.iter().any(|other| other.name == *name);
        if names.len() > 1 && !names.iter().any(measured) {
            given.extend(names.iter().map(|name| Given {
                name: *name,
                amount: plain(Range::one(1.0), Told::Part(basis)),
                first: at,
                end: at + 1,
            }));
        }
    }
}

/// "200 g, no sorry, 250 g": the amount before counts no more. "honey?? no": the ingredient before counts no more.
fn correct(nodes: &mut [Node], items: &[Item]) {
    for at in 1..nodes.len() {
        let (Some(left), Some(right)) = (nodes.get(at - 1), nodes.get(at)) else { break };
        let gap = between(items, left, right);
        let Some(place) = gap.iter().position(|item| item.has(Signal::Correct)) else { continue };
        let refuses_next = right.name().is_some_and(|name| name.negated);
        let parted = gap.iter().any(|item| matches!(item.what, What::Break(_) | What::Mark(Mark::Stop | Mark::Semicolon)));
        if refuses_next || gap.len() > 8 || parted {
            continue;
        }
        let (right_end, left_amount) = (
            right.end,
            left.amount()
                .map(|_| at - 1)
                .or_else(|| at.checked_sub(2).filter(|before| nodes.get(*before).is_some_and(|node| node.amount().is_some()))),
        );
        let named_next = nodes.get(at + 1).is_some_and(|next| {
            next.name().is_some()
                && items.get(right_end..next.first).unwrap_or(&[]).iter().all(|item| item.has(Signal::Of) || item.has(Signal::Adjective))
        });
        let doubted =
            gap.iter().take(place).any(|item| item.is(Mark::Question)) || gap.get(place).is_some_and(|item| !item.has(Signal::Neg));
        let pair_of = |index: usize| nodes.get(index).and_then(Node::name).map(|name| name.name);
        let drop: &[usize] = match (&left.sort, &right.sort) {
            (Sort::Amount(a), Sort::Amount(b)) if plausible(a, b) => &[1],
            (Sort::Name(a), Sort::Amount(_))
                if at >= 2 && nodes.get(at - 2).is_some_and(|n| n.amount().is_some()) && pair_of(at + 1) == Some(a.name) =>
            {
                &[1, 2]
            }
            (Sort::Name(_), Sort::Name(_)) if doubted && at >= 2 && nodes.get(at - 2).is_some_and(|n| n.amount().is_some()) => &[1, 2],
            _ => &[],
        };
        // "glue 20 g?? no 25 g, chalk": the new amount takes the place of the old one.
        let moves = right.amount().is_some() && !named_next && doubted && (drop == [1] || drop.is_empty() && left.name().is_some());
        if let (true, Some(place)) = (moves, left_amount) {
            let new = nodes.get_mut(at).map(|node| std::mem::replace(&mut node.sort, Sort::Gone));
            if let (Some(new), Some(node)) = (new, nodes.get_mut(place)) {
                node.sort = new;
            }
            continue;
        }
        for steps in drop {
            if let Some(node) = at.checked_sub(*steps).and_then(|index| nodes.get_mut(index)) {
                node.sort = Sort::Gone;
            }
        }
    }
}

/// Whether one amount may correct the other: not a per cent by grams.
fn plausible(a: &AmountNode, b: &AmountNode) -> bool {
    (a.told == Told::Percent) == (b.told == Told::Percent)
}

/// Points relative amounts at what they lean on: "as casein", "than glue", "of the glue".
fn point(nodes: &mut [Node], items: &[Item]) {
    for at in 0..nodes.len() {
        let Some(node) = nodes.get(at) else { break };
        let Some(amount) = node.amount() else { continue };
        let share = amount.told == Told::Percent && of_another(nodes, items, at);
        let Told::Relative { factor, .. } =
            (if share { Told::Relative { factor: amount.number.middle() / 100.0, of: Of::Previous } } else { amount.told.clone() })
        else {
            continue;
        };
        // The name right behind "as", "times the" or "of the" is what it leans on; the name before or between is what it measures.
        let mut target = None;
        for (index, other) in nodes.iter().enumerate().skip(at + 1).take(2) {
            let gap = items.get(node.end..other.first).unwrap_or(&[]);
            if gap.iter().any(Item::ends_sentence) || other.name().is_none() {
                break;
            }
            let near = nodes.get(index - 1).map_or(gap, |left| between(items, left, other));
            let leans = near.iter().any(|item| item.has(Signal::As) || item.has(Signal::WeightOf))
                || share
                || items.get(node.first..node.end).unwrap_or(&[]).iter().any(|item| item.has(Signal::Times) || ends_with_as(item));
            if leans {
                target = Some(index);
                break;
            }
        }
        let of = target.map_or(Of::Previous, Of::Node);
        if let Some(Sort::Amount(amount)) = nodes.get_mut(at).map(|node| &mut node.sort) {
            amount.told = Told::Relative { factor, of };
        }
    }
}

fn ends_with_as(item: &Item) -> bool {
    item.has(Signal::SameWeight) && item.end > item.first + 2
}

/// "alum 1 % of the glue": a per cent of another material, not of the pot.
fn of_another(nodes: &[Node], items: &[Item], at: usize) -> bool {
    let (Some(node), Some(left), Some(right)) = (nodes.get(at), at.checked_sub(1).and_then(|left| nodes.get(left)), nodes.get(at + 1))
    else {
        return false;
    };
    let (ahead, after) = (between(items, left, node), between(items, node, right));
    let named = is_name(left)
        && is_name(right)
        && ahead.iter().all(|item| {
            matches!(item.what, What::Talk | What::Mark(Mark::Colon | Mark::Dash | Mark::Equals)) || item.has(Signal::Adjective)
        });
    let of =
        after.first().is_some_and(|item| item.has(Signal::Of)) && after.iter().all(|item| matches!(item.what, What::Steer | What::Talk));
    named && of
}
