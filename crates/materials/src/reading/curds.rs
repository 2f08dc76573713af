//! Milk that stands for its curd: "the curd of 2 l milk", or milk in a recipe that tells to drain or strain it.

use super::items::{Item, What};
use super::model::Line;
use super::nodes::Node;
use super::recipe::Recipe;
use super::signals::Signal;
use crate::catalogue::{Catalogue, Family, Kind, Material, MaterialId};

/// How many items may stand between "curd of" and its milk, the amount among them.
const NEAR: usize = 8;

/// The lines of milk whose curd is meant.
pub(super) fn drained(told: &Recipe<'_>, lines: &[Line]) -> Vec<usize> {
    let material = |line: &Line| line.material.first().and_then(|id| told.jars.material(id));
    let milk: Vec<usize> = lines
        .iter()
        .enumerate()
        .filter(|(_, line)| material(line).is_some_and(|stuff| stuff.kind == Kind::Milk))
        .map(|(at, _)| at)
        .collect();
    if milk.is_empty() {
        return milk;
    }
    if curdles(told) {
        return milk;
    }
    let names: Vec<usize> = curd_of(told);
    let holds = |line: &usize| {
        let Some(span) = lines.get(*line).map(|line| line.span) else { return false };
        names.iter().filter_map(|name| told.nodes.get(*name)).any(|node| {
            let name = told.span(node.first, node.end);
            span.from <= name.from && name.to <= span.to
        })
    };
    milk.into_iter().filter(holds).collect()
}

/// The nodes of milk that stand behind "curd of", "casein from".
fn curd_of(told: &Recipe<'_>) -> Vec<usize> {
    let stuff = |node: &Node| top(told, node);
    let is_curd = |node: &&Node| stuff(node).is_some_and(|stuff| is_curd(told.jars, &stuff.id));
    let mut found = Vec::new();
    for curd in told.nodes.iter().filter(is_curd) {
        let next = told.nodes.iter().enumerate().find(|(_, node)| node.first >= curd.end && node.name().is_some());
        let Some((at, milk)) = next.filter(|(_, node)| stuff(node).is_some_and(|stuff| stuff.kind == Kind::Milk)) else { continue };
        let gap = told.between(curd.end, milk.first);
        let one = gap.iter().any(|item| item.ends_clause() || item.signals.any(&[Signal::And, Signal::Or, Signal::Neg]));
        let leads = gap
            .first()
            .is_some_and(|item| item.signals.any(&[Signal::Of, Signal::Between, Signal::GradeBefore]) || item.what == What::Talk);
        if leads && !one && gap.len() <= NEAR {
            found.push(at);
        }
    }
    found
}

/// Whether the text tells to curdle, drain or strain, and not some other stuff: "strain the glue".
fn curdles(told: &Recipe<'_>) -> bool {
    let other = |at: usize| {
        let next = told.nodes.iter().find(|node| node.first > at && node.name().is_some());
        next.filter(|node| told.between(at, node.first).iter().all(|item| !item.ends_clause()))
            .and_then(|node| top(told, node))
            .is_some_and(|stuff| stuff.kind != Kind::Milk && !matches!(stuff.family, Family::Casein) && stuff.kind != Kind::Acid)
    };
    let refused = |at: usize| at.checked_sub(1).and_then(|before| told.items.get(before)).is_some_and(|item| item.has(Signal::Neg));
    let tells = |(at, item): (usize, &Item)| item.has(Signal::Curdle) && !item.muted && !other(at) && !refused(at);
    told.items.iter().enumerate().any(tells)
}

fn top<'a>(told: &Recipe<'a>, node: &Node) -> Option<&'a Material> {
    node.name().and_then(|name| name.meanings.first()).and_then(|(id, _)| told.jars.material(id))
}

/// Whether a material is curd or casein in any form.
pub(super) fn is_curd(jars: &Catalogue, id: &MaterialId) -> bool {
    jars.material(id).is_some_and(|stuff| stuff.kind == Kind::Binder && stuff.family == Family::Casein)
}
