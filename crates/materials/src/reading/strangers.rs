//! Stuff that only sounds like a known one: "zinc sulphate" is no zinc white, "water glass" no water.

use super::items::{Item, What};
use super::nodes::{NameNode, Node};
use super::signals::{Signal, Signals};
use super::tokens::{Mark, Token};

/// Turns the words of such stuff to unknown ones, so that its amount is struck with them.
pub(super) fn estrange(items: &mut [Item], tokens: &[Token], text: &str) {
    for at in 0..items.len() {
        let Some(item) = items.get(at) else { break };
        let (first, end) = if item.what == What::Steer && item.has(Signal::Salt) {
            (salt_of(items, at), of_salt(items, at))
        } else if is_water_glass(items, at, tokens, text) {
            (at, at + 2)
        } else {
            continue;
        };
        for item in items.get_mut(first..end).unwrap_or_default() {
            item.what = What::Unknown;
            item.signals = Signals::NONE;
            item.state = None;
        }
    }
}

fn is_name(items: &[Item], at: usize) -> bool {
    items.get(at).is_some_and(|item| matches!(item.what, What::Name(_)))
}

/// "zinc sulphate", "zinc-sulphate": where the name begins.
fn salt_of(items: &[Item], at: usize) -> usize {
    let dash = at.checked_sub(1).filter(|before| items.get(*before).is_some_and(|item| item.is(Mark::Dash) && item.tight));
    let before = dash.unwrap_or(at).checked_sub(1);
    before.filter(|before| is_name(items, *before)).unwrap_or(at)
}

/// "sulphate of zinc": where the name ends.
fn of_salt(items: &[Item], at: usize) -> usize {
    let of = items.get(at + 1).is_some_and(|item| item.has(Signal::Of) && !matches!(item.what, What::Name(_)));
    if of && is_name(items, at + 2) { at + 3 } else { at + 1 }
}

/// "water glass", but not "a water glass of chalk".
fn is_water_glass(items: &[Item], at: usize, tokens: &[Token], text: &str) -> bool {
    let word = |at: usize| {
        let (item, last) = (items.get(at)?, items.get(at)?.end.checked_sub(1)?);
        text.get(tokens.get(item.first)?.from..tokens.get(last)?.to)
    };
    let says = |at: usize, wanted: &str| word(at).is_some_and(|word| word.eq_ignore_ascii_case(wanted));
    let measure = items.get(at + 2).is_some_and(|item| item.has(Signal::Of) || matches!(item.what, What::Name(_)));
    is_name(items, at) && says(at, "water") && says(at + 1, "glass") && !measure
}

const MILKS: [&str; 3] = ["skim-milk", "whole-milk", "part-skim-milk"];
const CURDS: [&str; 3] = ["curd-drained", "curd-pressed", "quark"];

/// "skim milk curd": the last of the two nouns says what it is.
pub(super) fn heads(nodes: &mut Vec<Node>) {
    let top = |name: &NameNode, ids: &[&str]| name.meanings.first().is_some_and(|(id, _)| ids.contains(&id.as_str()));
    for at in (1..nodes.len()).rev() {
        let (Some(milk), Some(curd)) = (nodes.get(at - 1), nodes.get(at)) else { continue };
        let beside = milk.end == curd.first;
        let both = milk.name().zip(curd.name()).is_some_and(|(milk, curd)| top(milk, &MILKS) && top(curd, &CURDS));
        if beside && both {
            let first = milk.first;
            if let Some(curd) = nodes.get_mut(at) {
                curd.first = first;
            }
            nodes.remove(at - 1);
        }
    }
}
