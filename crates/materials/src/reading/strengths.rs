//! Strengths: "10 % glue solution", "7% size", "1:10", fat of milk.

use std::collections::HashSet;

use super::amounts::plain;
use super::items::{Item, What};
use super::model::{Range, Strength};
use super::nodes::{AmountNode, Node, Sort, Told};
use super::signals::Signal;
use super::tokens::Mark;
use crate::catalogue::{Catalogue, Kind, MaterialId};

/// A strength of the material of a node, with the items that tell it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct StrengthTold {
    pub name: usize,
    pub strength: Strength,
    pub first: usize,
    pub end: usize,
}

/// What the strengths of a text come to.
#[derive(Debug, Default)]
pub(super) struct Strengths {
    pub told: Vec<StrengthTold>,
    /// "glue 1:10": parts of the stuff and of water (node of the stuff, two numbers, items).
    pub with_water: Vec<(usize, f64, f64, usize, usize)>,
}

/// Nobody thins one part of a binder with more water than this.
const MOST_WATER: f64 = 1e4;

/// Reads per cents and ratios that belong to one material; those that do not stay amounts.
pub(super) fn find(nodes: &mut [Node], items: &[Item], jars: &Catalogue, taken: &HashSet<usize>) -> Strengths {
    let mut found = Strengths::default();
    let shares_of_whole = (0..nodes.len())
        .filter(|at| nodes.get(*at).is_some_and(Node::is_percent))
        .filter(|at| neighbour(nodes, items, *at).is_some_and(|name| !is_strong(nodes, name, jars)))
        .count();
    for at in 0..nodes.len() {
        let Some(amount) = nodes.get(at).and_then(Node::amount).cloned() else { continue };
        let (first, end) = nodes.get(at).map_or((0, 0), |node| (node.first, node.end));
        let Some(name) = neighbour(nodes, items, at) else { continue };
        let used = match &amount.told {
            Told::Percent => percent(nodes, items, at, name, &amount, jars, shares_of_whole > 0).map(|percent| {
                if let Percent::Strength(strength) = percent {
                    found.told.push(StrengthTold { name, strength, first, end });
                }
            }),
            Told::Ratio(values) => match values.as_slice() {
                [stuff, water] if soluble(nodes, name, jars) && *stuff > 0.0 && (0.0..=MOST_WATER).contains(&(water / stuff)) => {
                    let is_liquid = liquid(nodes, name) || other_amount(nodes, items, at, name, taken);
                    if is_liquid {
                        found.told.push(StrengthTold { name, strength: Strength::OneToWater(Range::one(water / stuff)), first, end });
                    } else {
                        found.with_water.push((name, *stuff, *water, first, end));
                    }
                    Some(())
                }
                _ => None,
            },
            _ => None,
        };
        if let (Some(()), Some(node)) = (used, nodes.get_mut(at)) {
            node.sort = Sort::Gone;
        }
    }
    // "2 to 3" or "1/2" that turned out to be no ratio is a plain number.
    for node in nodes.iter_mut() {
        if let Sort::Amount(amount) = &mut node.sort
            && matches!(amount.told, Told::Ratio(_))
            && !amount.ratio
        {
            amount.told = Told::Bare;
        }
    }
    found
}

/// The material that a per cent or a ratio stands with: right behind it, or right before it.
fn neighbour(nodes: &[Node], items: &[Item], at: usize) -> Option<usize> {
    let node = nodes.get(at)?;
    let close = |gap: &[Item]| {
        gap.len() <= 4
            && gap.iter().all(|item| {
                item.state.is_some()
                    || item.signals.any(&[
                        Signal::Of,
                        Signal::In,
                        Signal::To,
                        Signal::Solution,
                        Signal::Adjective,
                        Signal::Approx,
                        Signal::ByWeight,
                        Signal::ByVolume,
                    ])
                    || matches!(
                        item.what,
                        What::Mark(
                            Mark::Open | Mark::Close | Mark::Colon | Mark::Dash | Mark::Equals | Mark::Tab | Mark::Pipe | Mark::Degree
                        )
                    )
                    || matches!(item.what, What::Talk) && item.end == item.first + 1
            })
    };
    let is_name = |index: usize| nodes.get(index).and_then(Node::name).is_some_and(|name| !name.negated);
    let ahead = at
        .checked_sub(1)
        .filter(|left| is_name(*left))
        .filter(|left| nodes.get(*left).is_some_and(|other| close(items.get(other.end..node.first).unwrap_or(&[]))));
    let behind = Some(at + 1).filter(|right| is_name(*right)).filter(|right| {
        nodes.get(*right).is_some_and(|other| {
            close(items.get(node.end..other.first).unwrap_or(&[]))
                && !items.get(node.end..other.first).unwrap_or(&[]).iter().any(|item| item.is(Mark::Close))
        })
    });
    match (ahead, behind) {
        (Some(left), Some(right)) => {
            let gap = |a: usize, b: usize| items.get(a..b).unwrap_or(&[]).len();
            let before = nodes.get(left).map_or(usize::MAX, |other| gap(other.end, node.first));
            let after = nodes.get(right).map_or(usize::MAX, |other| gap(node.end, other.first));
            // "chalk 60% casein 10%" against "60% chalk 10% casein": the sentence's first word decides.
            let starts_with_number = first_of_line(items, node.first).is_some_and(|item| matches!(item.what, What::Number(_)));
            Some(if before < after || (before == after && !starts_with_number) { left } else { right })
        }
        (left, right) => left.or(right),
    }
}

fn first_of_line(items: &[Item], at: usize) -> Option<&Item> {
    let start = items
        .get(..at)?
        .iter()
        .rev()
        .take(40)
        .position(|item| matches!(item.what, What::Break(_)))
        .map_or(at.saturating_sub(40), |back| at - back);
    items.get(start)
}

fn kind_of(nodes: &[Node], name: usize, jars: &Catalogue) -> Option<(Kind, MaterialId)> {
    let id = nodes.get(name)?.name()?.meanings.first()?.0.clone();
    jars.material(&id).map(|material| (material.kind, id))
}

/// Stuff that is melted or dissolved in water by the painter, or sold so.
fn soluble(nodes: &[Node], name: usize, jars: &Catalogue) -> bool {
    kind_of(nodes, name, jars)
        .is_some_and(|(kind, id)| kind == Kind::Binder && !matches!(id.as_str(), "egg" | "egg-yolk" | "egg-white" | "quark" | "pva-glue"))
}

fn is_strong(nodes: &[Node], name: usize, jars: &Catalogue) -> bool {
    soluble(nodes, name, jars) || kind_of(nodes, name, jars).is_some_and(|(kind, _)| matches!(kind, Kind::Acid | Kind::Alkali | Kind::Milk))
}

fn liquid(nodes: &[Node], name: usize) -> bool {
    nodes.get(name).and_then(Node::name).is_some_and(|name| name.liquid || name.meanings.first().is_some_and(|(id, _)| is_liquid(id)))
}

/// Materials that are solutions by their very name.
pub(super) fn is_liquid(id: &MaterialId) -> bool {
    matches!(id.as_str(), "glue-size" | "casein-solution" | "lime-casein-binder")
}

/// Whether another amount stands beside the material of a strength.
fn other_amount(nodes: &[Node], items: &[Item], at: usize, name: usize, taken: &HashSet<usize>) -> bool {
    if taken.contains(&name) {
        return true;
    }
    let measured = |index: usize| {
        index != at
            && nodes
                .get(index)
                .and_then(Node::amount)
                .is_some_and(|amount| matches!(amount.told, Told::Unit(_) | Told::Part(_) | Told::Bare))
    };
    let near = |a: usize, b: usize| items.get(a..b).unwrap_or(&[]);
    let (Some(node), Some(own)) = (nodes.get(name), nodes.get(at)) else { return false };
    let (from, to) = (node.first.min(own.first), node.end.max(own.end));
    let ahead = name.min(at).checked_sub(1).filter(|left| measured(*left)).and_then(|left| nodes.get(left)).is_some_and(|left| {
        near(left.end, from)
            .iter()
            .all(|item| item.has(Signal::Of) || item.has(Signal::Adjective) || item.state.is_some() || item.has(Signal::Approx))
    });
    let behind = Some(name.max(at) + 1)
        .filter(|right| measured(*right))
        .and_then(|right| nodes.get(right).map(|node| (right, node)))
        .is_some_and(|(right, other)| {
            let gap = near(to, other.first);
            let close = gap.len() <= 3
                && gap.iter().all(|item| {
                    matches!(item.what, What::Mark(Mark::Comma | Mark::Colon | Mark::Dash | Mark::Open | Mark::Equals))
                        || item.has(Signal::Adjective)
                        || item.has(Signal::Solution)
                        || matches!(item.what, What::Talk)
                });
            // "7% size 320 ml" but not "7% size, 320 ml water".
            let next = nodes.get(right + 1).filter(|next| next.name().is_some()).map(|next| near(other.end, next.first));
            let taken_by_next = gap.iter().any(|item| item.is(Mark::Comma))
                && next.is_some_and(|gap| gap.iter().all(|item| item.has(Signal::Of) || item.has(Signal::Adjective)));
            close && !taken_by_next
        });
    ahead || behind
}

/// What a per cent beside a material turned out to be.
enum Percent {
    /// A strength.
    Strength(Strength),
    /// Used up otherwise: the fat of milk.
    Fat,
}

/// What a per cent tells of its material; nothing if it is an amount.
fn percent(
    nodes: &mut [Node],
    items: &[Item],
    at: usize,
    name: usize,
    amount: &AmountNode,
    jars: &Catalogue,
    list: bool,
) -> Option<Percent> {
    if amount.number.high > 100.0 || amount.number.low <= 0.0 {
        return None;
    }
    let (kind, _) = kind_of(nodes, name, jars)?;
    let behind = nodes.get(at).is_some_and(|node| node.first >= nodes.get(name).map_or(0, |name| name.end));
    match kind {
        Kind::Milk => {
            fat(nodes, name, amount.number.middle());
            Some(Percent::Fat)
        }
        Kind::Alkali if (other_amount(nodes, items, at, name, &HashSet::new()) || !list) && ammonia(nodes, name, amount.number) => {
            Some(Percent::Strength(Strength::Percent(amount.number)))
        }
        Kind::Acid | Kind::Alkali if other_amount(nodes, items, at, name, &HashSet::new()) || matches!(kind, Kind::Acid) => {
            Some(Percent::Strength(Strength::Percent(amount.number)))
        }
        _ if soluble(nodes, name, jars) => {
            let solution = nodes.get(name).and_then(Node::name).is_some_and(|name| name.liquid) || liquid(nodes, name);
            let other = other_amount(nodes, items, at, name, &HashSet::new());
            let weighed = items
                .get(nodes.get(at)?.first..(nodes.get(at)?.end + 3).min(items.len()))
                .unwrap_or(&[])
                .iter()
                .any(|item| item.has(Signal::ByWeight));
            (solution || other || (!list && !behind && !weighed)).then_some(Percent::Strength(Strength::Percent(amount.number)))
        }
        _ => None,
    }
}

/// "25% ammonia": which of the two that are sold; whether the per cent told them apart.
fn ammonia(nodes: &mut [Node], name: usize, percent: Range) -> bool {
    let id = match (percent.low, percent.high) {
        (low, high) if low >= 20.0 && high <= 40.0 => "ammonia-25",
        (low, high) if low >= 3.0 && high <= 10.0 => "ammonia-5",
        _ => return false,
    };
    let Some(Sort::Name(name)) = nodes.get_mut(name).map(|node| &mut node.sort) else { return false };
    let either = name.meanings.len() > 1 && name.meanings.iter().any(|(other, _)| other.as_str() == id);
    if either {
        name.meanings = vec![(MaterialId::new(id), 1.0)];
    }
    either
}

/// "2% milk": which milk it is.
fn fat(nodes: &mut [Node], name: usize, percent: f64) {
    let id = match percent {
        p if p < 0.75 => "skim-milk",
        p if p < 2.8 => "part-skim-milk",
        p if p < 10.0 => "whole-milk",
        _ => return,
    };
    if let Some(Sort::Name(name)) = nodes.get_mut(name).map(|node| &mut node.sort)
        && name.meanings.len() > 1
    {
        name.meanings = vec![(MaterialId::new(id), 1.0)];
    }
}

/// The parts of a "glue 1:10".
pub(super) fn parts(value: f64) -> AmountNode {
    plain(Range::one(value), Told::Part(Some(super::model::PartBasis::Weight)))
}
