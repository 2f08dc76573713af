//! Which amount goes with which material: the cheapest way to pair neighbours over the whole text, in one pass.

use super::items::{Item, What};
use super::nodes::{Node, Told};
use super::numbers::Weak;
use super::signals::Signal;
use super::tokens::Mark;

/// What it costs to leave a material without an amount.
const LONE_NAME: f64 = 3.5;
/// What it costs to leave an amount without a material.
const LONE_AMOUNT: f64 = 6.0;
/// The same where a word of something else stands behind it.
const LONE_ELSEWHERE: f64 = 2.0;
/// The same for a number without a unit, which may well be talk.
const LONE_NUMBER: f64 = 0.6;
/// Beyond this nothing is worth pairing.
const TOO_FAR: f64 = 11.0;

/// Pairs of (material, amount) by node. `active` lists the nodes that take part, in order.
pub(super) fn pair(nodes: &[Node], items: &[Item], active: &[usize]) -> Vec<(usize, usize)> {
    // best[k]: least cost of the first k nodes; taken[k]: whether nodes k-2 and k-1 are a pair in it.
    let mut best: Vec<f64> = vec![0.0];
    let mut taken: Vec<bool> = vec![false];
    let at = |best: &[f64], k: usize| best.get(k).copied().unwrap_or(0.0);
    for (k, index) in active.iter().enumerate() {
        let Some(node) = nodes.get(*index) else { continue };
        let alone = at(&best, k) + lone(node, items);
        let before = k.checked_sub(1).and_then(|b| active.get(b)).and_then(|b| nodes.get(*b));
        let joined = before.and_then(|left| cost(left, node, items)).map(|cost| at(&best, k - 1) + cost);
        let pairs = joined.is_some_and(|joined| joined < alone);
        best.push(if pairs { joined.unwrap_or(alone) } else { alone });
        taken.push(pairs);
    }
    let mut pairs = Vec::new();
    let mut k = active.len();
    while k > 0 {
        if taken.get(k).copied().unwrap_or(false) {
            if let (Some(left), Some(right)) = (active.get(k - 2), active.get(k - 1)) {
                let left_is_name = nodes.get(*left).is_some_and(|node| node.name().is_some());
                pairs.push(if left_is_name { (*left, *right) } else { (*right, *left) });
            }
            k -= 2;
        } else {
            k -= 1;
        }
    }
    pairs.reverse();
    pairs
}

fn lone(node: &Node, items: &[Item]) -> f64 {
    match node.amount().map(|amount| &amount.told) {
        None => LONE_NAME,
        Some(Told::Bare | Told::Eye) => LONE_NUMBER,
        Some(Told::Percent | Told::Relative { .. } | Told::PerLiquid(_)) => {
            if of_stranger(items, node.end) {
                LONE_ELSEWHERE
            } else {
                4.0
            }
        }
        // "2 T. white acrylic paint": something unknown stands where its material should.
        Some(_)
            if items.get(node.end).is_some_and(|item| matches!(item.what, What::Talk | What::Unknown))
                && !node
                    .first
                    .checked_sub(1)
                    .and_then(|before| items.get(before))
                    .is_some_and(|item| matches!(item.what, What::Name(_))) =>
        {
            LONE_ELSEWHERE
        }
        Some(_) => LONE_AMOUNT,
    }
}

/// Whether an amount has a noun of its own that is no known material: "1 kg of sand".
pub(super) fn of_stranger(items: &[Item], end: usize) -> bool {
    let last_of = end.checked_sub(1).and_then(|last| items.get(last)).is_some_and(|item| item.signals.any(&OF_ENDS));
    let behind = items.get(end..).unwrap_or(&[]);
    let passes = |item: &&Item| matches!(item.what, What::Steer) && item.signals.any(&[Signal::Of, Signal::Adjective]);
    let skipped = behind.iter().take_while(passes).count();
    let of = last_of || behind.iter().take(skipped).any(|item| item.has(Signal::Of));
    of && behind.get(skipped).is_some_and(|item| matches!(item.what, What::Talk | What::Unknown) && !item.muted)
}

/// Phrases that mostly end in "of".
const OF_ENDS: [Signal; 3] = [Signal::SameVolume, Signal::SameAmount, Signal::SameWeight];

/// The cost of pairing two neighbours; nothing if they can't be a pair.
fn cost(left: &Node, right: &Node, items: &[Item]) -> Option<f64> {
    let (amount, amount_first) = match (left.amount(), right.amount()) {
        (Some(amount), None) => (amount, true),
        (None, Some(amount)) => (amount, false),
        _ => return None,
    };
    if matches!(amount.told, Told::Ratio(_)) {
        return None;
    }
    let gap = items.get(left.end..right.first)?;
    let stranger = of_stranger(items, if amount_first { left.end } else { right.end });
    if stranger && gap.iter().any(|item| item.ends_clause() && !item.is(Mark::Open)) {
        return None;
    }
    let mut total = if amount_first { 0.0 } else { 0.15 };
    let mut bare_ok = true;
    let mut talked = false;
    for (place, item) in gap.iter().enumerate() {
        if item.muted {
            continue;
        }
        // "gesso as usual (20 g glue ...": what stands in brackets behind talk belongs to the brackets.
        if item.is(Mark::Open) && talked && !amount_first {
            total += 1.5;
        }
        talked |=
            !matches!(item.what, What::Mark(_)) && !item.signals.any(&[Signal::Adjective, Signal::Of, Signal::In]) && item.state.is_none()
                || item.has(Signal::As);
        let (cost, plain) = step(item, amount_first, place == 0, items, left, right);
        total += cost;
        bare_ok &= plain;
        if total > TOO_FAR {
            return None;
        }
    }
    if amount.bought && !amount.used {
        total += 0.2;
    }
    if amount.told == Told::Bare {
        let next = items.get(right.end);
        let goes_on =
            !amount_first && next.is_some_and(|item| matches!(item.what, What::Talk | What::Unknown) && !item.has(Signal::Approx));
        let pronoun = amount.words && !amount_first && (amount.number.low - 1.0).abs() < 1e-9;
        if !bare_ok || goes_on || pronoun {
            return None;
        }
        // "glue 300 water 280 chalk": right in front of another name the number more likely belongs there.
        let crowded = !amount_first && next.is_some_and(|item| matches!(item.what, What::Name(_)));
        total += if amount_first {
            0.6
        } else if crowded {
            1.3
        } else {
            0.3
        };
    }
    Some(total)
}

/// What one item between the two costs, and whether a bare number may stand across it.
fn step(item: &Item, amount_first: bool, first: bool, items: &[Item], left: &Node, right: &Node) -> (f64, bool) {
    let by_order = |amount: f64, name: f64| if amount_first { amount } else { name };
    match &item.what {
        What::Mark(mark) => match mark {
            Mark::Comma => (by_order(4.5, 2.2), !amount_first),
            Mark::Colon => (by_order(2.0, 0.05), !amount_first),
            Mark::Dash => (by_order(1.5, 0.1), !amount_first),
            Mark::Equals => (by_order(1.0, 0.05), !amount_first),
            Mark::Tab | Mark::Pipe => (0.2, true),
            Mark::Open => (by_order(3.0, 0.2), !amount_first),
            Mark::Close => (by_order(0.5, 0.1), true),
            Mark::Stop if first && amount_first && item.tight && short_unit(items, left) => (0.4, true),
            Mark::Stop | Mark::Semicolon | Mark::Exclaim | Mark::Question => (by_order(10.0, 6.5), false),
            Mark::Slash | Mark::Plus => (4.0, false),
            Mark::Dots => (1.0, true),
            Mark::Hash => (8.0, false),
            _ => (1.0, false),
        },
        What::Break(true) => (TOO_FAR + 1.0, false),
        What::Break(false) => (if lonely(items, left) && lonely(items, right) { 2.5 } else { 10.5 }, true),
        What::Talk => (0.6, false),
        What::Unknown => (by_order(3.0, 1.2), false),
        What::Number(number) => (if number.weak == Weak::Article { 0.1 } else { 1.0 }, number.weak == Weak::Article),
        What::Code | What::Unit(_) => (0.8, false),
        What::Name(_) => (2.0, false),
        What::Steer => {
            if item.has(Signal::Of) || item.has(Signal::Adjective) || item.state.is_some() {
                (0.05, true)
            } else if item.signals.any(&[Signal::Neg, Signal::Or]) {
                (3.0, false)
            } else if item.signals.any(&[Signal::And, Signal::Per]) {
                (by_order(3.0, 4.0), false)
            } else if item.signals.any(&[
                Signal::Approx,
                Signal::Solution,
                Signal::Used,
                Signal::Each,
                Signal::Container,
                Signal::Level,
                Signal::Us,
                Signal::Uk,
                Signal::Metric,
                Signal::ByWeight,
                Signal::ByVolume,
                Signal::Big,
                Signal::Small,
            ]) {
                (0.05, true)
            } else if item.has(Signal::To) {
                (by_order(2.5, 3.0), false)
            } else if item.has(Signal::In) {
                (by_order(3.0, 4.5), false)
            } else {
                (0.6, false)
            }
        }
    }
}

/// Whether an amount ends in a short word for its unit, so that a full stop behind it need not end the sentence.
fn short_unit(items: &[Item], amount: &Node) -> bool {
    let last = amount.end.checked_sub(1).and_then(|last| items.get(last));
    last.is_some_and(|item| matches!(item.what, What::Unit(_)) && item.short)
}

/// Whether a node has its line to itself.
fn lonely(items: &[Item], node: &Node) -> bool {
    let quiet = |item: &&Item| {
        matches!(item.what, What::Mark(Mark::Dash | Mark::Colon | Mark::Comma | Mark::Stop))
            || item.has(Signal::Adjective)
            || item.has(Signal::Of)
    };
    let before = items.get(..node.first).unwrap_or(&[]).iter().rev().take(6).find(|item| !quiet(item));
    let after = items.get(node.end..).unwrap_or(&[]).iter().take(6).find(|item| !quiet(item));
    let ends = |item: Option<&Item>| item.is_none_or(|item| matches!(item.what, What::Break(_)));
    ends(before) && ends(after)
}
