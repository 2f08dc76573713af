//! A text as far as it is taken apart: what the lines are made from.

use std::collections::HashSet;

use measure::{Dimension, Units};

use super::items::Item;
use super::lexicon::Lexicon;
use super::measured::Customs;
use super::model::Span;
use super::nodes::{AmountNode, NameNode, Node, Of, Sort, Told};
use super::relations::Given;
use super::signals::Signal;
use super::strengths::Strengths;
use super::tokens::Token;
use crate::catalogue::{Catalogue, Kind, MaterialId};

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

impl Recipe<'_> {
    /// The likeliest material of a node.
    pub(super) fn top(&self, name: usize) -> Option<&MaterialId> {
        self.nodes.get(name).and_then(Node::name).and_then(|name| name.meanings.first()).map(|(id, _)| id)
    }

    /// Whether a node is most likely this material.
    pub(super) fn is(&self, name: usize, id: &str) -> bool {
        self.top(name).is_some_and(|top| top.as_str() == id)
    }

    /// The likeliest dimension and size of an amount's unit.
    fn unit(&self, amount: &AmountNode) -> Option<(Dimension, Option<f64>)> {
        let Told::Unit(word) = amount.told else { return None };
        let (id, _) = self.units.by_word(self.lexicon.unit(word)?).first()?;
        let unit = self.units.get(*id);
        Some((unit.dimension, unit.value))
    }

    /// A jar, a bag: a measure of unknown size.
    pub(super) fn sizeless(&self, amount: &AmountNode) -> bool {
        self.unit(amount).is_some_and(|(_, size)| size.is_none())
    }

    /// Whether it is weighed.
    pub(super) fn is_mass(&self, amount: &AmountNode) -> bool {
        self.unit(amount).is_some_and(|(dimension, _)| dimension == Dimension::Mass)
    }

    /// Whether it is a volume of a millilitre or more of the unit: what one pours.
    pub(super) fn pours(&self, amount: &AmountNode) -> bool {
        self.unit(amount).is_some_and(|(dimension, size)| dimension == Dimension::Volume && size.is_some_and(|size| size >= 1.0))
    }

    /// Items from one to another; empty if there are none.
    pub(super) fn between(&self, from: usize, to: usize) -> &[Item] {
        self.items.get(from..to).unwrap_or(&[])
    }

    /// Whether the item steers in this way.
    pub(super) fn has(&self, item: Option<usize>, signal: Signal) -> bool {
        item.and_then(|at| self.items.get(at)).is_some_and(|item| item.has(signal))
    }

    /// Bytes from one item to another.
    pub(super) fn span(&self, first: usize, end: usize) -> Span {
        let token = |at: usize| self.tokens.get(at);
        let from = self.items.get(first).and_then(|item| token(item.first)).map_or(0, |token| token.from);
        let last = end.checked_sub(1).and_then(|last| self.items.get(last)).and_then(|item| item.end.checked_sub(1)).and_then(token);
        Span { from, to: last.map_or(from, |token| token.to).max(from) }
    }
}

/// Nodes that may be paired: not gone, not refused, not given an amount already.
pub(super) fn active(nodes: &[Node], jars: &Catalogue, given: &[Given], strengths: &Strengths) -> Vec<usize> {
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
        Some(Sort::Name(name)) => !name.negated && !is_tool(name, jars) && !taken.contains(at) && !pointed.contains(at),
        Some(Sort::Amount(_)) => true,
        _ => false,
    };
    (0..nodes.len()).filter(counts).collect()
}

/// Boards, hot plates, mould: named in recipes, but never weighed out.
fn is_tool(name: &NameNode, jars: &Catalogue) -> bool {
    name.meanings
        .first()
        .and_then(|(id, _)| jars.material(id))
        .is_some_and(|material| material.kind == Kind::Support || matches!(material.id.as_str(), "hot-plate" | "mould" | "wood-dust"))
}
